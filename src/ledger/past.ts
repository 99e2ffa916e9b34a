// The past of a ledger: what a fold must know of the entries that it goes on from, without holding any of them.
//
// It is the first part of the ledger in the fold's order, with the state that this part folds to. Whoever goes on from it
// folds only what comes after; `needsWhole` says when that is not enough, because an entry belongs between those of the
// past, or speaks about one of them. Then the entries themselves have to be read, and everything is judged anew.
import { canonicalText } from "./canonical.ts";
import type { Trust } from "./acceptance.ts";
import type { Hash, InstantText } from "./entry.ts";
import type { EntryStatus, Folded, Step } from "./fold.ts";
import type { Opened } from "./open.ts";
import { parentsOf } from "./order.ts";
import { isSystemType } from "./system-entries.ts";
import type { AsideSettledBody, EraseBody, ForkDecidedBody, ReceiptBody } from "./system-entries.ts";

/** Where a key's chain ends. */
export type ChainEnd = { readonly id: Hash; readonly seq: number };

export type Past<State extends object> = Step<State> & {
  readonly ids: ReadonlySet<Hash>;
  readonly heads: readonly Hash[];
  /** By key: the entry of the highest `seq`. */
  readonly chains: ReadonlyMap<string, ChainEnd>;
  /** Entries that nobody has receipted yet and that count, with when they claim to be from. */
  readonly pending: ReadonlyMap<Hash, number>;
  /** Entries held without their body. */
  readonly bare: ReadonlySet<Hash>;
  readonly erased: ReadonlySet<Hash>;
  readonly erasedPhotos: ReadonlySet<Hash>;
  /** Entries that somebody in the past spoke about and that are not in it. */
  readonly named: ReadonlySet<Hash>;
  /** The latest `at` of all. */
  readonly latest: InstantText;
  /** The latest instant at which an entry that counts was received; null without one. */
  readonly received_ms: number | null;
  /** The latest instant that the server vouches for; see Folded. */
  readonly vouched_ms: number | null;
  /** What is believed of the keys that wrote it (`trustOf`). */
  readonly trust: string;
};

/** What is believed of these keys: where it stays the same, so does every judgement of what they wrote. */
export function trustOf(trust: Trust, keys: Iterable<string>): string {
  const of = [...keys]
    .sort()
    .map((key) => [key, trust.certificates[key] ?? null, trust.revocations[key] ?? null]);
  return canonicalText([trust.root, of]);
}

/** The latest instant that the past gives, by what receipts say of it now. */
export function newestInPast(
  { pending, received_ms }: Pick<Past<object>, "pending" | "received_ms">,
  receipts: ReadonlyMap<Hash, { readonly receivedAt_ms: number }>,
): number | null {
  let newest = received_ms;
  for (const [id, claimed_ms] of pending) {
    const at_ms = receipts.get(id)?.receivedAt_ms ?? claimed_ms;
    if (newest === null || at_ms > newest) newest = at_ms;
  }
  return newest;
}

/** What became of an entry of the past; undefined for another. */
export function statusInPast(
  { past, receipts }: Pick<Folded<object>, "past" | "receipts">,
  id: Hash,
): EntryStatus | undefined {
  if (past?.ids.has(id) !== true) return undefined;
  const aside = past.aside.find((each) => each.id === id);
  if (aside !== undefined) return aside.code;
  if (past.noted.includes(id)) return "noted";
  return past.pending.has(id) && !receipts.has(id) ? "pending" : "accepted";
}

/** Ids that a system entry speaks about. */
export function namedBy({ envelope: { type }, body }: Opened): readonly Hash[] {
  if (!isSystemType(type) || typeof body !== "object" || body === null) return [];
  const { counts, entry, entries } = body as Partial<
    ForkDecidedBody & EraseBody & (AsideSettledBody | ReceiptBody)
  >;
  const listed = Array.isArray(entries)
    ? entries.map((each) => (typeof each === "string" ? each : each?.id))
    : [];
  return [counts, entry, ...listed].filter((id) => typeof id === "string");
}

/** Whether what the past was judged by is no longer believed. */
export function isOtherwiseTrusted(past: Past<object>, trust: Trust): boolean {
  return trustOf(trust, past.chains.keys()) !== past.trust;
}

/**
 * Whether entries cannot be folded onto a past without what it stands for. `after`: entries that already stand after it.
 * The trust must be that of the past. Cautious: it may say so of what would have done no harm.
 */
export function needsWhole(
  past: Past<object>,
  after: ReadonlyMap<Hash, Opened>,
  fresh: readonly Opened[],
  trust: Trust,
): boolean {
  const coming = new Map(fresh.map((opened) => [opened.id, opened]));
  const isRevoked = [...past.chains.keys()].some((key) => trust.revocations[key] !== undefined);
  const following = new Map<Hash, boolean>();
  /** Whether it comes after the whole past by what it names, however the clocks stood. */
  const follows = (opened: Opened): boolean => {
    const known = following.get(opened.id);
    if (known !== undefined) return known;
    // Until it is found out: what hangs on itself follows nothing.
    following.set(opened.id, false);
    const parents = parentsOf(opened);
    const all =
      past.heads.every((head) => parents.includes(head)) ||
      parents.some((parent) => {
        const other = coming.get(parent) ?? after.get(parent);
        return other !== undefined && follows(other);
      });
    following.set(opened.id, all);
    return all;
  };
  return fresh.some((opened) => {
    const { id, envelope } = opened;
    if (past.ids.has(id)) return past.bare.has(id) && !opened.erased;
    const { key, seq, prev, at, type } = envelope;
    if (at <= past.latest && !follows(opened)) return true;
    if (past.named.has(id)) return true;
    const end = past.chains.get(key);
    if (end !== undefined && seq <= end.seq) return true;
    if (prev !== null && past.ids.has(prev) && prev !== end?.id) return true;
    return namedBy(opened).some((named) => {
      if (!past.ids.has(named)) return false;
      if (type !== "receipt" || isRevoked || !past.pending.has(named)) return true;
      const verdict = (opened.body as ReceiptBody).entries.find((line) => line.id === named)?.verdict;
      return verdict !== "accepted";
    });
  });
}
