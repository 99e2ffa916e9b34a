// A good lawful order, soon: nearest first, then the exchange of neighbouring pieces and the turning round of pieces until
// neither helps, then small disturbances and the same again. Chance is a fixed sequence, so the answer is always the same.
//
// Method: or-exchange and 2-exchange with precedence, iterated local search; common practice.
import type { PathProblem } from "./path-problem.ts";

/** Disturbances for each inner node: a small question has few orders, a large one many. */
const disturbancesEach = 8;

/** The inner nodes in order, and what the whole path costs. */
export type Path = { readonly order: readonly number[]; readonly cost: number };

export function costOfOrder({ nodes, cost }: PathProblem, order: readonly number[]): number {
  let total = 0;
  let last = 0;
  for (const node of order) {
    total += cost[last * nodes + node]!;
    last = node;
  }
  return total + cost[last * nodes + nodes - 1]!;
}

export function descend(problem: PathProblem): Path {
  const inner = problem.nodes - 2;
  let best = improve(problem, nearestFirst(problem));
  if (inner < 3) return best;
  let held = best;
  const chance = fixedChance();
  for (let round = 0; round < disturbancesEach * inner; round += 1) {
    const tried = improve(problem, disturbed(problem, held.order, chance));
    if (tried.cost <= held.cost) held = tried;
    if (held.cost < best.cost) best = held;
  }
  return best;
}

/** Whole numbers below a bound, by a linear congruence of 31 bits. */
function fixedChance(): (below: number) => number {
  let state = 20_011;
  return (below) => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) & 0x7fff_ffff;
    return (state >>> 8) % below;
  };
}

function nearestFirst({ nodes, cost, before }: PathProblem): number[] {
  const left = new Set(Array.from({ length: nodes - 2 }, (_, index) => index + 1));
  const order: number[] = [];
  let last = 0;
  while (left.size > 0) {
    let next = -1;
    let least = Infinity;
    for (const node of left) {
      let free = true;
      for (const other of left) if (before[other * nodes + node] === 1) free = false;
      // A place that can only be last costs nothing in its turn and must wait for it.
      const price = Math.min(cost[last * nodes + node]!, Number.MAX_VALUE);
      if (free && price < least) [least, next] = [price, node];
    }
    left.delete(next);
    order.push(next);
    last = next;
  }
  return order;
}

/** No node of the first piece must come before one of the second. */
function mayCross(
  { nodes, before }: PathProblem,
  order: readonly number[],
  from: number,
  middle: number,
  to: number,
): boolean {
  for (let a = from; a < middle; a += 1)
    for (let b = middle; b <= to; b += 1) if (before[order[a]! * nodes + order[b]!] === 1) return false;
  return true;
}

function mayTurn(
  { nodes, before }: PathProblem,
  order: readonly number[],
  from: number,
  to: number,
): boolean {
  for (let a = from; a < to; a += 1)
    for (let b = a + 1; b <= to; b += 1) if (before[order[a]! * nodes + order[b]!] === 1) return false;
  return true;
}

function improve(problem: PathProblem, given: number[]): Path {
  let order = given;
  let cost = costOfOrder(problem, order);
  for (let grown = true; grown;) {
    grown = false;
    const exchanged = exchange(problem, order, cost) ?? turn(problem, order, cost);
    if (exchanged !== null) {
      order = exchanged;
      cost = costOfOrder(problem, order);
      grown = true;
    }
  }
  return { order, cost };
}

/** Less by more than rounding makes. */
function isBetter(after: number, before: number): boolean {
  return after < before - 1e-9 * Math.max(1, Math.abs(before)) || (before === Infinity && after < Infinity);
}

/** The first exchange of two neighbouring pieces that costs less. */
function exchange(problem: PathProblem, order: readonly number[], held: number): number[] | null {
  const { nodes, cost } = problem;
  const count = order.length;
  const at = (index: number): number => (index < 0 ? 0 : index >= count ? nodes - 1 : order[index]!);
  const arc = (from: number, to: number): number => cost[at(from) * nodes + at(to)]!;
  for (let from = 0; from < count - 1; from += 1) {
    for (let middle = from + 1; middle < count; middle += 1) {
      for (let to = middle; to < count; to += 1) {
        const removed = arc(from - 1, from) + arc(middle - 1, middle) + arc(to, to + 1);
        const added = arc(from - 1, middle) + arc(to, from) + arc(middle - 1, to + 1);
        if (!(added < removed) || !mayCross(problem, order, from, middle, to)) continue;
        const next = [
          ...order.slice(0, from),
          ...order.slice(middle, to + 1),
          ...order.slice(from, middle),
          ...order.slice(to + 1),
        ];
        if (isBetter(costOfOrder(problem, next), held)) return next;
      }
    }
  }
  return null;
}

/** The first piece that costs less when it is walked the other way. */
function turn(problem: PathProblem, order: readonly number[], held: number): number[] | null {
  const { nodes, cost } = problem;
  const count = order.length;
  const at = (index: number): number => (index < 0 ? 0 : index >= count ? nodes - 1 : order[index]!);
  for (let from = 0; from < count - 1; from += 1) {
    let forward = 0;
    let back = 0;
    for (let to = from + 1; to < count; to += 1) {
      const [a, b] = [order[to - 1]!, order[to]!];
      if (problem.before[a * nodes + b] === 1) break;
      forward += cost[a * nodes + b]!;
      back += cost[b * nodes + a]!;
      const removed = cost[at(from - 1) * nodes + at(from)]! + cost[at(to) * nodes + at(to + 1)]!;
      const added = cost[at(from - 1) * nodes + at(to)]! + cost[at(from) * nodes + at(to + 1)]!;
      if (!(added + back < removed + forward) || !mayTurn(problem, order, from, to)) continue;
      const next = [
        ...order.slice(0, from),
        ...order.slice(from, to + 1).toReversed(),
        ...order.slice(to + 1),
      ];
      if (isBetter(costOfOrder(problem, next), held)) return next;
    }
  }
  return null;
}

/** Two lawful exchanges of pieces, whatever they cost. */
function disturbed(
  problem: PathProblem,
  order: readonly number[],
  chance: (below: number) => number,
): number[] {
  let next = [...order];
  for (let done = 0, tries = 0; done < 2 && tries < 60; tries += 1) {
    const count = next.length;
    const from = chance(count - 1);
    const middle = from + 1 + chance(Math.min(6, count - from - 1));
    const to = middle + chance(Math.min(6, count - middle));
    if (!mayCross(problem, next, from, middle, to)) continue;
    next = [
      ...next.slice(0, from),
      ...next.slice(middle, to + 1),
      ...next.slice(from, middle),
      ...next.slice(to + 1),
    ];
    done += 1;
  }
  return next;
}
