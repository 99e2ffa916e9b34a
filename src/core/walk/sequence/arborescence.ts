// The cheapest arborescence of a dense graph: every node is entered once, and all can be reached from the root.
//
// Method: Chu and Liu (1965), Edmonds (1967), grown backwards along a path and contracted in place as by Tarjan (1977);
// from memory. O(n²) for n nodes. A missing arc costs Infinity. Also gives the arcs, and the dual value of every set of
// nodes that was entered as one, from which follows by how much the total would rise if another arc were demanded.

/** Working space for graphs of up to `size` nodes, so that thousands of small ones need no new memory. */
export class Arborescence {
  readonly size: number;
  /** `cost[tail * size + head]`, to be filled before each run; it is used up. */
  readonly cost: Float64Array;
  /** After a run: the tail of the arc that enters each node; -1 for the root. */
  readonly tail: Int16Array;
  /** The most sets that a run can make: nodes and contracted cycles. */
  readonly #sets: number;
  readonly #arc: Int32Array;
  readonly #alive: Int16Array;
  readonly #settled: Uint8Array;
  readonly #onPath: Uint8Array;
  readonly #path: Int16Array;
  readonly #setOf: Int16Array;
  readonly #parent: Int16Array;
  readonly #chosen: Int32Array;
  readonly #dual: Float64Array;
  readonly #entered: Uint8Array;
  #count = 0;

  constructor(size: number) {
    this.size = size;
    this.#sets = 2 * size;
    this.cost = new Float64Array(size * size);
    this.tail = new Int16Array(size);
    this.#arc = new Int32Array(size * size);
    this.#alive = new Int16Array(size);
    this.#settled = new Uint8Array(size);
    this.#onPath = new Uint8Array(size);
    this.#path = new Int16Array(size);
    this.#setOf = new Int16Array(size);
    this.#parent = new Int16Array(this.#sets);
    this.#chosen = new Int32Array(this.#sets);
    this.#dual = new Float64Array(this.#sets);
    this.#entered = new Uint8Array(this.#sets);
  }

  /**
   * The least total over nodes 0 … nodes − 1 with node 0 as root; Infinity when some node cannot be reached. Stops early
   * with a total that is at least `enough` once it must be.
   */
  run(nodes: number, enough = Infinity): number {
    const { size, cost } = this;
    const arc = this.#arc;
    const alive = this.#alive;
    const settled = this.#settled;
    const onPath = this.#onPath;
    const path = this.#path;
    const setOf = this.#setOf;
    this.#count = nodes;
    let living = nodes;
    for (let node = 0; node < nodes; node += 1) {
      alive[node] = node;
      settled[node] = node === 0 ? 1 : 0;
      onPath[node] = 0;
      setOf[node] = node;
      this.#parent[node] = -1;
      for (let head = 0; head < nodes; head += 1) arc[node * size + head] = node * size + head;
    }
    let total = 0;
    for (let start = 1; start < nodes; start += 1) {
      if (settled[start] === 1 || !isAlive(alive, living, start)) continue;
      let length = 0;
      path[length++] = start;
      onPath[start] = 1;
      for (;;) {
        const head = path[length - 1]!;
        let best = -1;
        let least = Infinity;
        for (let at = 0; at < living; at += 1) {
          const tail = alive[at]!;
          if (tail === head) continue;
          const value = cost[tail * size + head]!;
          if (value < least) {
            least = value;
            best = tail;
          }
        }
        if (best === -1) return Infinity;
        total += least;
        if (total >= enough) return total;
        const set = setOf[head]!;
        this.#chosen[set] = arc[best * size + head]!;
        this.#dual[set] = least;
        if (settled[best] === 1) break;
        if (onPath[best] === 0) {
          path[length++] = best;
          onPath[best] = 1;
          // The arcs into `head` must be told by how much they exceed the chosen one when a cycle closes later.
          this.#lower(head, least, living);
          continue;
        }
        this.#lower(head, least, living);
        // The path from `best` to `head` is a cycle: its nodes go on as one, under the name of `best`.
        const set2 = this.#count;
        this.#count += 1;
        this.#parent[set2] = -1;
        for (let at = length - 1; ; at -= 1) {
          const member = path[at]!;
          this.#parent[setOf[member]!] = set2;
          if (member === best) {
            length = at + 1;
            break;
          }
          onPath[member] = 0;
          living = this.#absorb(best, member, living);
        }
        setOf[best] = set2;
      }
      for (let at = 0; at < length; at += 1) {
        settled[path[at]!] = 1;
        onPath[path[at]!] = 0;
      }
    }
    return total;
  }

  #lower(head: number, by: number, living: number): void {
    const { size, cost } = this;
    for (let at = 0; at < living; at += 1) {
      const index = this.#alive[at]! * size + head;
      cost[index] = cost[index]! - by;
    }
  }

  /** Takes `member` into `name`: arcs in and out are those of whichever is cheaper. */
  #absorb(name: number, member: number, living: number): number {
    const { size, cost } = this;
    const arc = this.#arc;
    const alive = this.#alive;
    let left = 0;
    for (let at = 0; at < living; at += 1) {
      const other = alive[at]!;
      if (other === member) continue;
      alive[left++] = other;
      if (other === name) continue;
      const into = other * size + name;
      const intoMember = other * size + member;
      if (cost[intoMember]! < cost[into]!) {
        cost[into] = cost[intoMember]!;
        arc[into] = arc[intoMember]!;
      }
      const out = name * size + other;
      const outOfMember = member * size + other;
      if (cost[outOfMember]! < cost[out]!) {
        cost[out] = cost[outOfMember]!;
        arc[out] = arc[outOfMember]!;
      }
    }
    return left;
  }

  /** Fills `tail` from the last whole run: the arcs of the cheapest arborescence. */
  expand(): void {
    const { size, tail } = this;
    const parent = this.#parent;
    const entered = this.#entered;
    entered.fill(0, 0, this.#count);
    tail[0] = -1;
    // A set made later holds the earlier ones: the arc that enters the whole decides which part is entered by it.
    for (let set = this.#count - 1; set > 0; set -= 1) {
      if (entered[set] === 1) continue;
      const chosen = this.#chosen[set]!;
      const head = chosen % size;
      tail[head] = Math.floor(chosen / size);
      for (let part = head; part !== -1 && entered[part] === 0; part = parent[part]!) entered[part] = 1;
    }
  }

  /** How much dual value an arc does not carry: the total rises by at least its own cost less this, if it is demanded. */
  dualOf(tailNode: number, head: number): number {
    const parent = this.#parent;
    let sum = 0;
    for (let set = head; set !== -1; set = parent[set]!) {
      if (this.#holds(set, tailNode)) break;
      sum += this.#dual[set]!;
    }
    return sum;
  }

  #holds(set: number, node: number): boolean {
    for (let at = node; at !== -1; at = this.#parent[at]!) if (at === set) return true;
    return false;
  }
}

function isAlive(alive: Int16Array, living: number, node: number): boolean {
  for (let at = 0; at < living; at += 1) if (alive[at] === node) return true;
  return false;
}
