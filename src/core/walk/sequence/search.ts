// The cheapest lawful path, with proof: dynamic programming over the sets of nodes already visited (Bellman, Held and Karp
// 1962), from which every set is left out whose cost so far plus the bound of its rest reaches the cost of an order at hand.
//
// Sets of one size at a time, so that each is looked at once, with its least cost. From which end the search is easier
// depends on the precedence, by a factor of ten and more, and shows only on the way: it grows from both ends, always
// where fewer sets are left, until one side comes through. The work is limited by a count of bounds, never by a clock: the
// same question has the same answer everywhere. Where the limit is reached, the least sum of cost and bound over what a
// side has not looked at is a proven bound.
import { costOfOrder, descend } from "./descent.ts";
import type { Path } from "./descent.ts";
import { PathBound } from "./path-bound.ts";
import type { PathProblem } from "./path-problem.ts";
import { NodeSets } from "./node-sets.ts";

export type Found = Path & { readonly bound: number; readonly proven: boolean };

const rootRounds = 300;
/** Steps by which the prices are moved towards each set before it is followed. */
const setRounds = 8;
/** How many sets go on at each size once the limit is reached, to find a better order without proof. */
const beam = 300;

/** The best order known, shared by both sides. */
class Incumbent {
  readonly #problem: PathProblem;
  #path: Path;

  constructor(problem: PathProblem) {
    this.#problem = problem;
    this.#path = descend(problem);
  }

  get path(): Path {
    return this.#path;
  }

  /** What is at least this cannot lead to anything better. */
  get enough(): number {
    const { cost } = this.#path;
    return this.#problem.whole ? cost - 1 + 1e-6 : cost - 1e-9 * Math.max(1, Math.abs(cost));
  }

  offer(order: readonly number[]): void {
    const cost = costOfOrder(this.#problem, order);
    if (cost < this.#path.cost) this.#path = { order, cost };
  }
}

type Count = { bounds: number; readonly limit: number };

/** The search from one end. */
class Side {
  readonly #problem: PathProblem;
  readonly #incumbent: Incumbent;
  readonly #isBack: boolean;
  readonly #bounds: PathBound;
  readonly #left: Uint8Array;
  readonly #levels: NodeSets[] = [];
  #bound = -Infinity;
  #unfollowed = Infinity;
  /** Sets still to follow, the most promising first; empty once nothing better can come. */
  #frontier: readonly number[] = [];

  constructor(problem: PathProblem, incumbent: Incumbent, isBack: boolean) {
    this.#problem = problem;
    this.#incumbent = incumbent;
    this.#isBack = isBack;
    this.#bounds = new PathBound(problem);
    this.#left = new Uint8Array(problem.nodes);
  }

  /** The bound of the whole. */
  begin(): void {
    const { nodes } = this.#problem;
    this.#left.fill(1, 1, nodes - 1);
    for (let round = 0; round < 4; round += 1) {
      const tuned = this.#bounds.tune(0, this.#left, this.#incumbent.path.cost, rootRounds);
      this.#bound = Math.max(this.#bound, tuned);
      if (this.#bound >= this.#incumbent.enough) return;
      if (this.#bounds.takeOut(this.#left, this.#incumbent.enough) === 0) break;
    }
    const root = new NodeSets(nodes);
    root.cost[root.add(0, 0, 0, this.#bound)] = 0;
    root.sum[0] = this.#bound;
    this.#levels.push(root);
    this.#frontier = [0];
  }

  get isDone(): boolean {
    return this.#frontier.length === 0;
  }

  get width(): number {
    return this.#frontier.length;
  }

  /** No lawful order costs less. */
  get bound(): number {
    if (this.isDone) return Math.max(this.#bound, Math.min(this.#incumbent.path.cost, this.#unfollowed));
    const least = this.#levels.at(-1)!.sum[this.#frontier[0]!]!;
    return Math.max(this.#bound, Math.min(least, this.#unfollowed, this.#incumbent.path.cost));
  }

  /** Follows every set of one size, or as many as the limit lets; the rest is remembered as not followed. */
  advance(count: Count): void {
    const level = this.#levels.at(-1)!;
    const next = new NodeSets(this.#problem.nodes);
    const follows = this.#frontier;
    for (let place = 0; place < follows.length; place += 1) {
      if (count.bounds >= count.limit && place >= beam) {
        this.#unfollowed = Math.min(this.#unfollowed, level.sum[follows[place]!]!);
        break;
      }
      this.#follow(level, follows[place]!, next, count);
    }
    this.#levels.push(next);
    if (this.#levels.length === this.#problem.nodes - 1) this.#close(next);
    else this.#frontier = next.promising(this.#incumbent.enough);
  }

  #follow(level: NodeSets, at: number, next: NodeSets, count: Count): void {
    const { nodes } = this.#problem;
    const left = this.#left;
    const bounds = this.#bounds;
    const { enough } = this.#incumbent;
    const last = level.last[at]!;
    const cost = level.cost[at]!;
    level.fillLeft(at, left);
    if (last !== 0 && this.#levels.length < nodes - 3) {
      const tuned = cost + bounds.tune(last, left, enough - cost, setRounds);
      count.bounds += setRounds;
      if (tuned >= enough) return;
      level.sum[at] = Math.max(level.sum[at]!, tuned);
    }
    for (let node = 1; node < nodes - 1; node += 1) {
      const arc = bounds.cost[last * nodes + node]!;
      if (left[node] === 0 || arc === Infinity || !this.#isFree(node)) continue;
      const total = cost + arc;
      let place = next.find(level, at, node);
      if (place === -1) {
        count.bounds += 1;
        left[node] = 0;
        place = next.addAfter(level, at, node, bounds.of(node, left, enough - total));
        left[node] = 1;
      }
      if (total >= next.cost[place]!) continue;
      // A bound that was cut short for a dearer way is too small for a cheaper one, and stays a bound.
      next.cost[place] = total;
      next.parent[place] = at;
      next.sum[place] = Math.max(level.sum[at]!, total + next.rest[place]!);
    }
  }

  /** Nothing that must come before the node is still to come. */
  #isFree(node: number): boolean {
    const { nodes, before } = this.#problem;
    for (let other = 1; other < nodes - 1; other += 1)
      if (this.#left[other] === 1 && before[other * nodes + node] === 1) return false;
    return true;
  }

  #close(level: NodeSets): void {
    const { nodes } = this.#problem;
    this.#frontier = [];
    let best = -1;
    let least = Infinity;
    for (let at = 0; at < level.size; at += 1) {
      const total = level.cost[at]! + this.#bounds.cost[level.last[at]! * nodes + nodes - 1]!;
      if (total < least) [least, best] = [total, at];
    }
    if (best === -1) return;
    const order: number[] = [];
    for (let size = this.#levels.length - 1; size > 0; size -= 1) {
      order.push(this.#levels[size]!.last[best]!);
      best = this.#levels[size]!.parent[best]!;
    }
    this.#incumbent.offer(this.#isBack ? order : order.toReversed());
  }
}

/** `limit`: how many bounds may be counted; Infinity for a proof whatever it takes. */
export function searchPath(problem: PathProblem, limit: number): Found {
  const incumbent = new Incumbent(problem);
  const sides = [
    new Side(problem, incumbent, false),
    new Side(turnedRound(problem), incumbent, true),
  ] as const;
  const count = { bounds: 0, limit };
  for (const side of sides) {
    side.begin();
    if (side.isDone) break;
  }
  while (sides.every((side) => !side.isDone)) {
    const [ahead, behind] = sides;
    (ahead.width <= behind.width ? ahead : behind).advance(count);
  }
  const bound = Math.max(...sides.map((side) => side.bound));
  const proven = bound >= incumbent.enough;
  const { path } = incumbent;
  const rounded = problem.whole ? Math.ceil(bound - 1e-6) : bound;
  return { ...path, bound: proven ? path.cost : Math.min(rounded, path.cost), proven };
}

/** The same question from its end to its beginning. */
function turnedRound({ nodes, cost, before, ...same }: PathProblem): PathProblem {
  const other = (node: number): number => (node === 0 ? nodes - 1 : node === nodes - 1 ? 0 : node);
  const turnedCost = new Float64Array(cost.length);
  const turnedBefore = new Uint8Array(before.length);
  for (let tail = 0; tail < nodes; tail += 1) {
    for (let head = 0; head < nodes; head += 1) {
      const to = other(head) * nodes + other(tail);
      turnedCost[to] = cost[tail * nodes + head]!;
      turnedBefore[to] = before[tail * nodes + head]!;
    }
  }
  return { nodes, cost: turnedCost, before: turnedBefore, ...same };
}
