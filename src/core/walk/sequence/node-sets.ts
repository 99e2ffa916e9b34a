// Sets of visited nodes of one size, each with the node it ends in: the least cost of reaching it, a bound of what is left,
// and from which smaller set it came. Up to 40 inner nodes, numbered from 1.

const half = 20;
const halfValue = 2 ** half;
const lastValue = 64;

export class NodeSets {
  readonly last: number[] = [];
  /** The least cost of a path through the set to its last node. */
  readonly cost: number[] = [];
  /** A lower bound of what is left. */
  readonly rest: number[] = [];
  /** A lower bound of the whole path through here. */
  readonly sum: number[] = [];
  readonly parent: number[] = [];
  readonly #nodes: number;
  readonly #low: number[] = [];
  readonly #high: number[] = [];
  readonly #places = new Map<number, number>();

  constructor(nodes: number) {
    this.#nodes = nodes;
  }

  get size(): number {
    return this.last.length;
  }

  add(low: number, high: number, last: number, rest: number): number {
    this.#low.push(low);
    this.#high.push(high);
    this.last.push(last);
    this.rest.push(rest);
    this.cost.push(Infinity);
    this.sum.push(Infinity);
    this.parent.push(-1);
    return this.last.length - 1;
  }

  /** Where the set of `from` at a place, with one node more and ending in it, stands here; -1 where it does not yet. */
  find(from: NodeSets, at: number, node: number): number {
    return this.#places.get(keyOf(from.#lowWith(at, node), from.#highWith(at, node), node)) ?? -1;
  }

  addAfter(from: NodeSets, at: number, node: number, rest: number): number {
    const [low, high] = [from.#lowWith(at, node), from.#highWith(at, node)];
    const place = this.add(low, high, node, rest);
    this.#places.set(keyOf(low, high, node), place);
    return place;
  }

  /** 1 for each inner node that the set does not hold. */
  fillLeft(at: number, left: Uint8Array): void {
    for (let node = 1; node < this.#nodes - 1; node += 1) {
      const isIn =
        node <= half
          ? (this.#low[at]! & (1 << (node - 1))) !== 0
          : (this.#high[at]! & (1 << (node - 1 - half))) !== 0;
      left[node] = isIn ? 0 : 1;
    }
  }

  /** Places of sets through which something better than `enough` may lead, the most promising first. */
  promising(enough: number): readonly number[] {
    return Array.from({ length: this.size }, (_, at) => at)
      .filter((at) => this.sum[at]! < enough)
      .toSorted((a, b) => this.sum[a]! - this.sum[b]! || a - b);
  }

  #lowWith(at: number, node: number): number {
    return node <= half ? this.#low[at]! | (1 << (node - 1)) : this.#low[at]!;
  }

  #highWith(at: number, node: number): number {
    return node <= half ? this.#high[at]! : this.#high[at]! | (1 << (node - 1 - half));
  }
}

/** A whole number below 2^46. */
function keyOf(low: number, high: number, last: number): number {
  return (high * halfValue + low) * lastValue + last;
}
