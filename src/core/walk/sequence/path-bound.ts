// How much at least the rest of a path costs: from where one stands through every node that is left to the last.
//
// Every such path is an arborescence in which each node is left once. The cheapest arborescence is therefore a lower
// bound, and stays one when each node's departures are charged a price and the price of one departure each is given
// back; prices that make the cheapest arborescence look like a path give the best bound (Held and Karp 1970, for
// directed paths; subgradient steps; from memory). The prices stay valid for any rest of the same problem.
import { Arborescence } from "./arborescence.ts";
import type { PathProblem } from "./path-problem.ts";

export class PathBound {
  /** Arcs that a better order than the one at hand cannot use are taken out of it. */
  readonly cost: Float64Array;
  readonly #problem: PathProblem;
  readonly #price: Float64Array;
  readonly #tree: Arborescence;
  readonly #rest: Int16Array;
  readonly #departures: Int16Array;
  #count = 0;

  constructor(problem: PathProblem) {
    this.#problem = problem;
    this.cost = Float64Array.from(problem.cost);
    this.#price = new Float64Array(problem.nodes);
    this.#tree = new Arborescence(problem.nodes);
    this.#rest = new Int16Array(problem.nodes);
    this.#departures = new Int16Array(problem.nodes);
  }

  /** `left[node]` is 1 for each inner node still to come. */
  #load(last: number, left: Uint8Array): number {
    const { nodes, before } = this.#problem;
    const rest = this.#rest;
    const price = this.#price;
    const tree = this.#tree;
    const { size } = tree;
    let count = 0;
    rest[count++] = last;
    let credit = price[last]!;
    for (let node = 1; node < nodes - 1; node += 1) {
      if (left[node] === 0) continue;
      rest[count++] = node;
      credit += price[node]!;
    }
    rest[count++] = nodes - 1;
    for (let a = 0; a < count; a += 1) {
      const tail = rest[a]!;
      for (let b = 0; b < count; b += 1) {
        const head = rest[b]!;
        tree.cost[a * size + b] =
          b === 0 || tail === nodes - 1 ? Infinity : this.cost[tail * nodes + head]! + price[tail]!;
      }
    }
    // From where one stands only what waits for nothing else can be next; the end only when nothing is left.
    for (let b = 1; b < count - 1; b += 1) {
      const head = rest[b]!;
      for (let a = 1; a < count - 1; a += 1) {
        if (before[rest[a]! * nodes + head] === 1) {
          tree.cost[b] = Infinity;
          break;
        }
      }
    }
    if (count > 2) tree.cost[count - 1] = Infinity;
    this.#count = count;
    return credit;
  }

  /** A lower bound of the rest, or as soon as it is known to be at least `enough`, some number that is. */
  of(last: number, left: Uint8Array, enough: number): number {
    const credit = this.#load(last, left);
    return this.#tree.run(this.#count, enough + credit) - credit;
  }

  /** Moves the prices so that the bound of this rest grows towards `target`; returns the best bound seen. */
  tune(last: number, left: Uint8Array, target: number, rounds: number): number {
    const price = this.#price;
    const departures = this.#departures;
    let best = -Infinity;
    let kept = Float64Array.from(price);
    let stride = 1;
    let idle = 0;
    for (let round = 0; round < rounds; round += 1) {
      const credit = this.#load(last, left);
      const total = this.#tree.run(this.#count);
      if (total === Infinity) return Infinity;
      const bound = total - credit;
      if (bound > best) {
        best = bound;
        kept = Float64Array.from(price);
        idle = 0;
      } else if ((idle += 1) >= 8) {
        stride /= 2;
        idle = 0;
        price.set(kept);
        if (stride < 1e-3) break;
        continue;
      }
      if (best >= target) break;
      this.#tree.expand();
      departures.fill(0, 0, this.#count);
      for (let head = 1; head < this.#count; head += 1) {
        const tail = this.#tree.tail[head]!;
        departures[tail] = departures[tail]! + 1;
      }
      let square = 0;
      for (let node = 0; node < this.#count - 1; node += 1) square += (departures[node]! - 1) ** 2;
      // Every node is left once: the cheapest arborescence is a path, and no bound can be better.
      if (square === 0) break;
      const step = (stride * Math.max(target - bound, 1e-9 * Math.max(1, Math.abs(target)))) / square;
      for (let node = 0; node < this.#count - 1; node += 1) {
        const index = this.#rest[node]!;
        price[index] = price[index]! + step * (departures[node]! - 1);
      }
    }
    price.set(kept);
    return best;
  }

  /** Takes out every arc that would lift the bound of the whole to `enough`. Returns how many. */
  takeOut(left: Uint8Array, enough: number): number {
    const { nodes } = this.#problem;
    const credit = this.#load(0, left);
    const bound = this.#tree.run(this.#count) - credit;
    if (!Number.isFinite(bound)) return 0;
    let taken = 0;
    for (let a = 0; a < this.#count - 1; a += 1) {
      for (let b = 1; b < this.#count; b += 1) {
        const [tail, head] = [this.#rest[a]!, this.#rest[b]!];
        const at = tail * nodes + head;
        if (a === b || this.cost[at] === Infinity) continue;
        if (bound + this.cost[at]! + this.#price[tail]! - this.#tree.dualOf(a, b) < enough) continue;
        this.cost[at] = Infinity;
        taken += 1;
      }
    }
    return taken;
  }
}
