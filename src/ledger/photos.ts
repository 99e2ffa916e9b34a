// Photos as the record speaks of them. Their bytes lie beside it, by their hash (decisions/0102); here is which bodies name
// which, and which of them a person erased by right, so that whoever keeps bytes knows what to remove and to refuse.
import type { Trust } from "./acceptance.ts";
import type { Hash } from "./entry.ts";
import { kindsOf } from "./fold.ts";
import { judgeLedger } from "./judgement.ts";
import type { Opened } from "./open.ts";
import { orderEntries } from "./order.ts";

/** The hashes of the photos that a body names under `photos`; empty where it names none or has another shape. */
export function photosIn(body: unknown): readonly Hash[] {
  const { photos } = (body ?? {}) as { readonly photos?: unknown };
  if (!Array.isArray(photos)) return [];
  return photos.flatMap((photo: unknown) => {
    const { hash } = (photo ?? {}) as { readonly hash?: unknown };
    return typeof hash === "string" && /^[0-9a-f]{64}$/u.test(hash) ? [hash] : [];
  });
}

/** Each photo that a body still names, once, in the order of the entries. */
export function photosNamed(entries: Iterable<Pick<Opened, "body">>): readonly Hash[] {
  return [...new Set([...entries].flatMap(({ body }) => photosIn(body)))];
}

/** The photos that this entry names and no other does: what nobody can find any more once it says nothing. */
export function photosOnlyOf(id: Hash, entries: readonly Pick<Opened, "id" | "body">[]): readonly Hash[] {
  const others = new Set(photosNamed(entries.filter((entry) => entry.id !== id)));
  return photosNamed(entries.filter((entry) => entry.id === id)).filter((hash) => !others.has(hash));
}

/** The photos that entries of these erase by right. Judged by structure and trust alone, whatever a ledger's own types. */
export function photosErased(entries: Iterable<Opened>, trust: Trust): ReadonlySet<Hash> {
  const byLedger = Map.groupBy(entries, ({ envelope }) => envelope.ledger);
  const erased = new Set<Hash>();
  for (const held of byLedger.values()) {
    if (!held.some(({ envelope }) => envelope.type === "photo.erased")) continue;
    const { ordered, waiting } = orderEntries(held);
    const kinds = kindsOf<object>({ initial: {}, types: [] });
    for (const hash of judgeLedger(kinds, trust, ordered, waiting).erasedPhotos) erased.add(hash);
  }
  return erased;
}
