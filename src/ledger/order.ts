// The order in which a ledger is folded: topological by `after` and `prev`, ties by `at`, then by id.
//
// Everyone who holds the same entries gets the same order, whatever the order of arrival. An entry that arrives late only
// inserts itself: no entry that was already in order changes its place relative to another, because nothing held so far
// can name the newcomer as a parent without having been aside. An entry whose parent is missing waits aside, and so does
// whatever hangs on it. Parents by hash cannot form a circle; one that was made up waits aside like a missing parent.
// That no parent in `after` is an ancestor of another is the writer's duty; a spare one changes nothing here.
import type { Hash } from "./entry.ts";
import { mostParents } from "./envelope.ts";
import type { Opened } from "./open.ts";

export type Ordered = { readonly ordered: readonly Opened[]; readonly waiting: readonly Opened[] };

export function parentsOf({ envelope }: Pick<Opened, "envelope">): readonly Hash[] {
  const { after, prev } = envelope;
  return prev === null || after.includes(prev) ? after : [...after, prev];
}

/** Negative when `a` goes first among entries that are both free to go. */
export function compareFree(a: Opened, b: Opened): number {
  if (a.envelope.at !== b.envelope.at) return a.envelope.at < b.envelope.at ? -1 : 1;
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0;
}

/** A binary heap of the entries that are free to go. */
class FreeEntries {
  readonly #heap: Opened[] = [];

  push(entry: Opened): void {
    const heap = this.#heap;
    let at = heap.push(entry) - 1;
    while (at > 0) {
      const above = (at - 1) >> 1;
      if (compareFree(heap[above]!, entry) <= 0) break;
      heap[at] = heap[above]!;
      at = above;
    }
    heap[at] = entry;
  }

  pop(): Opened | undefined {
    const heap = this.#heap;
    const [first] = heap;
    const last = heap.pop();
    if (first === undefined || last === undefined || heap.length === 0) return first;
    let at = 0;
    for (;;) {
      let below = 2 * at + 1;
      if (below >= heap.length) break;
      if (below + 1 < heap.length && compareFree(heap[below + 1]!, heap[below]!) < 0) below += 1;
      if (compareFree(last, heap[below]!) <= 0) break;
      heap[at] = heap[below]!;
      at = below;
    }
    heap[at] = last;
    return first;
  }
}

/**
 * Orders the entries of one ledger; each id is taken once, with its body where any copy has one. Of a ledger whose `past`
 * is known, those that come after it.
 */
export function orderEntries(
  entries: Iterable<Opened>,
  past: { readonly ids: ReadonlySet<Hash> } | null = null,
): Ordered {
  const byId = new Map<Hash, Opened>();
  for (const entry of entries) {
    if (past?.ids.has(entry.id) === true) continue;
    if (byId.get(entry.id)?.erased ?? true) byId.set(entry.id, entry);
  }
  const children = new Map<Hash, Opened[]>();
  const missing = new Map<Hash, number>();
  const free = new FreeEntries();
  for (const entry of byId.values()) {
    const parents = parentsOf(entry).filter((parent) => past?.ids.has(parent) !== true);
    missing.set(entry.id, parents.length);
    if (parents.length === 0) free.push(entry);
    for (const parent of parents) {
      const listed = children.get(parent);
      if (listed === undefined) children.set(parent, [entry]);
      else listed.push(entry);
    }
  }
  const ordered: Opened[] = [];
  for (let next = free.pop(); next !== undefined; next = free.pop()) {
    ordered.push(next);
    missing.delete(next.id);
    for (const child of children.get(next.id) ?? []) {
      const left = missing.get(child.id)! - 1;
      missing.set(child.id, left);
      if (left === 0) free.push(child);
    }
  }
  const waiting = [...missing.keys()].map((id) => byId.get(id)!).sort(compareFree);
  return { ordered, waiting };
}

/**
 * The latest entries: those that no other in order names as a parent; sorted. When more than 32 stand side by side the
 * last 32 in order are named; the others stay concurrent to what is written next, which is the pessimistic side.
 */
export function headsOf(ordered: readonly Opened[], past: readonly Hash[] = []): readonly Hash[] {
  return headsInOrder(ordered, past).slice(-mostParents).sort();
}

/** All of them, in the order of the fold. `past`: those of the past, in their order. */
export function headsInOrder(ordered: readonly Opened[], past: readonly Hash[] = []): readonly Hash[] {
  const named = new Set(ordered.flatMap((entry) => parentsOf(entry)));
  return [...past, ...ordered.map(({ id }) => id)].filter((id) => !named.has(id));
}
