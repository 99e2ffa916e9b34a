// One form for every question of order: a path from a first node through all others to a last one, with precedence.
//
// Node 0 is where it begins, the last node where it ends; where the question leaves an end open, a place that costs nothing
// stands for it, and a closed round ends in a second copy of its first node. `before` is closed transitively; arcs that
// no lawful order can use cost Infinity. Nodes that can be told apart by nothing are put in the order of their numbers,
// which loses no cost.

export type PathProblem = {
  /** First and last included. */
  readonly nodes: number;
  /** `cost[tail * nodes + head]`. */
  readonly cost: Float64Array;
  /** 1 where tail must come before head; inner nodes only. */
  readonly before: Uint8Array;
  /** True where every cost is a whole number, so that a bound may be rounded up. */
  readonly whole: boolean;
  /** The caller's number of each inner node 1 … nodes − 2; -1 for a stand-in. */
  readonly origin: readonly number[];
};

type Ends = { readonly start: number | null; readonly end: number | null; readonly closed: boolean };

/** `before`: closed transitively, n × n. A start or end that is given is taken out of the inner nodes. */
export function pathProblem(
  given: readonly (readonly number[])[],
  before: Uint8Array,
  { start, end, closed }: Ends,
): PathProblem {
  const n = given.length;
  const first = start ?? -1;
  // In a closed round the given end is an inner node that alone may be last.
  const last = closed ? -1 : (end ?? -1);
  const inner = given.map((_, index) => index).filter((index) => index !== first && index !== last);
  const nodes = inner.length + 2;
  const origin = [first, ...inner, last];
  const isBefore = new Uint8Array(nodes * nodes);
  const cost = new Float64Array(nodes * nodes).fill(Infinity);
  const between = (tail: number, head: number): number => given[tail]?.[head] ?? 0;
  for (let tail = 0; tail < nodes - 1; tail += 1) {
    for (let head = 1; head < nodes; head += 1) {
      if (tail === head) continue;
      const [from, to] = [origin[tail]!, origin[head]!];
      const into = head === nodes - 1 && closed ? first : to;
      cost[tail * nodes + head] = from === -1 || into === -1 ? 0 : between(from, into);
      if (head === nodes - 1 && closed && end !== null && from !== end) cost[tail * nodes + head] = Infinity;
      if (tail === 0 || head === nodes - 1) continue;
      isBefore[tail * nodes + head] = before[from * n + to]!;
    }
  }
  if (inner.length > 0) cost[nodes - 1] = Infinity;
  orderTwins(nodes, cost, isBefore);
  removeUnlawful(nodes, cost, isBefore);
  const whole = given.every((row, tail) =>
    row.every((value, head) => tail === head || Number.isInteger(value)),
  );
  return { nodes, cost, before: isBefore, whole, origin };
}

/** Puts inner nodes that cost the same from and to everywhere, and have the same precedence, in the order of their numbers. */
function orderTwins(nodes: number, cost: Float64Array, before: Uint8Array): void {
  const alike = (a: number, b: number): boolean => {
    if (
      cost[a * nodes + b] !== cost[b * nodes + a] ||
      before[a * nodes + b] === 1 ||
      before[b * nodes + a] === 1
    )
      return false;
    for (let other = 0; other < nodes; other += 1) {
      if (other === a || other === b) continue;
      if (
        cost[a * nodes + other] !== cost[b * nodes + other] ||
        cost[other * nodes + a] !== cost[other * nodes + b] ||
        before[a * nodes + other] !== before[b * nodes + other] ||
        before[other * nodes + a] !== before[other * nodes + b]
      )
        return false;
    }
    return true;
  };
  const twins: [number, number][] = [];
  for (let a = 1; a < nodes - 1; a += 1)
    for (let b = a + 1; b < nodes - 1; b += 1) if (alike(a, b)) twins.push([a, b]);
  // Being alike carries over from one pair to the next, so the pairs together are in one order already.
  for (const [a, b] of twins) before[a * nodes + b] = 1;
}

function removeUnlawful(nodes: number, cost: Float64Array, before: Uint8Array): void {
  for (let tail = 0; tail < nodes; tail += 1) {
    for (let head = 0; head < nodes; head += 1) {
      const at = tail * nodes + head;
      if (before[head * nodes + tail] === 1) cost[at] = Infinity;
      for (let middle = 1; middle < nodes - 1; middle += 1) {
        const leaves = tail === 0 || before[tail * nodes + middle] === 1;
        const enters = head === nodes - 1 || before[middle * nodes + head] === 1;
        // Something must stand between the two; at an end every inner node does that has a reason to.
        if (leaves && enters && !(tail === 0 && head === nodes - 1)) cost[at] = Infinity;
      }
    }
  }
}
