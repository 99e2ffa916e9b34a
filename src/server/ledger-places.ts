// Where a ledger stands: the heads that a new entry names, and the place of each key's chain. The server needs no more
// of a ledger to write into it; what entries mean is folded by who shows it. Grows by one entry in constant time,
// whatever order entries come in; held to ledger/order.ts, which gives the same heads from the whole.
import type { Hash } from "../ledger/entry.ts";
import { mostParents } from "../ledger/envelope.ts";
import { parentsOf } from "../ledger/order.ts";
import type { Opened } from "../ledger/open.ts";

type Place = { readonly id: Hash; readonly seq: number };

export class LedgerPlaces {
  /** Entries all of whose ancestors are here. */
  readonly #ordered = new Set<Hash>();
  readonly #heads = new Set<Hash>();
  /** By a parent that is missing: what waits for it. An entry waits under one missing parent at a time. */
  readonly #waiting = new Map<Hash, Opened[]>();
  readonly #newest = new Map<string, Place>();
  /** Ids by key and place in its chain; more than one is a fork. */
  readonly #places = new Map<string, Set<Hash>>();

  add(opened: Opened): void {
    const { id, envelope } = opened;
    const place = placeOf(opened);
    const ids = this.#places.get(place) ?? new Set();
    if (ids.has(id)) return;
    this.#places.set(place, ids.add(id));
    const newest = this.#newest.get(envelope.key);
    if (newest === undefined || newest.seq < envelope.seq)
      this.#newest.set(envelope.key, { id, seq: envelope.seq });
    const ready = [opened];
    for (let next = ready.pop(); next !== undefined; next = ready.pop()) ready.push(...this.#order(next));
  }

  /** Latest entries with all their ancestors, sorted; as many as an entry may name, the last added ones first. */
  heads(): readonly Hash[] {
    return [...this.#heads].slice(-mostParents).sort();
  }

  newestOf(key: string): Place | undefined {
    return this.#newest.get(key);
  }

  /** Whether its key wrote another entry in the same place. */
  isFork(opened: Opened): boolean {
    const ids = this.#places.get(placeOf(opened)) ?? new Set();
    return ids.size > (ids.has(opened.id) ? 1 : 0);
  }

  /** Orders an entry whose parents are here, or lets it wait; answers with those that waited for it. */
  #order(opened: Opened): readonly Opened[] {
    const parents = parentsOf(opened);
    const missing = parents.find((parent) => !this.#ordered.has(parent));
    if (missing !== undefined) {
      this.#waiting.set(missing, [...(this.#waiting.get(missing) ?? []), opened]);
      return [];
    }
    const { id } = opened;
    this.#ordered.add(id);
    for (const parent of parents) this.#heads.delete(parent);
    this.#heads.add(id);
    const freed = this.#waiting.get(id) ?? [];
    this.#waiting.delete(id);
    return freed;
  }
}

function placeOf({ envelope: { key, seq } }: Opened): string {
  return `${key} ${seq}`;
}
