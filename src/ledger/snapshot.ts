// A snapshot: what spares the next start of the program most of a ledger. It may be thrown away at any time; a fold that goes
// on from it equals the fold from zero (property test).
//
// It holds the past of a ledger (past.ts) as text: the state after all but the latest entries, which entries those are, and
// what is believed of their keys. A damaged one, one of another fold version, or one that was taken when other keys were
// believed, is no snapshot. That the store still holds what it stands for is looked at by who reads both (kept-fold.ts).
import type { Trust } from "./acceptance.ts";
import { hashText } from "./crypto.ts";
import type { Digest } from "./crypto.ts";
import type { Hash, LedgerId } from "./entry.ts";
import { counts, foldVersion, kindsOf, latestOf, runFrom, startOf, stateHash, vouchedBy } from "./fold.ts";
import type { LedgerDefinition, Step, Whole } from "./fold.ts";
import { LedgerFold } from "./ledger-fold.ts";
import type { Opened } from "./open.ts";
import { headsInOrder } from "./order.ts";
import { packedText, unpack } from "./pack.ts";
import { mostParents } from "./envelope.ts";
import { isOtherwiseTrusted, namedBy, needsWhole, trustOf } from "./past.ts";
import type { ChainEnd, Past } from "./past.ts";

/** So many of the latest entries are left out unless said otherwise, because somebody may yet have written beside them. */
const usuallyLeftOut = 64;

type Written<State> = {
  readonly fold: number;
  readonly ledger: LedgerId;
  /** All ids, one after the other. */
  readonly ids: string;
  readonly heads: readonly Hash[];
  readonly chains: readonly (readonly [key: string, end: ChainEnd])[];
  /** A list as JSON: the place of an entry among the ids and when it claims to be from, one after the other. */
  readonly pending: string;
  readonly bare: readonly Hash[];
  readonly erased: readonly Hash[];
  readonly erasedPhotos: readonly Hash[];
  readonly named: readonly Hash[];
  readonly latest: string;
  readonly received_ms: number | null;
  readonly vouched_ms: number | null;
  readonly trust: string;
  readonly step: Step<State>;
};

const idDigits = 64;

/**
 * The snapshot of a fold that holds all its entries, and how many entries it stands for; null where there is none: too few
 * entries, or the latest of them speak about those before. Tried before it is given away: with what it leaves out it
 * gives the same state.
 */
export function snapshotText<State extends object>(
  definition: LedgerDefinition<State>,
  whole: Whole<State>,
  sha256: Digest,
  leftOut = usuallyLeftOut,
): { readonly text: string; readonly past: Past<State> } | null {
  const { ordered, waiting, past, trust } = whole.folded;
  if (past !== null) throw new RangeError("a snapshot is made from all entries, not from another snapshot");
  const wanted = stateHash(whole.folded, sha256);
  for (const entries of [ordered.length - leftOut, ordered.length]) {
    if (entries <= 0) continue;
    const text = writtenOf(definition, whole, entries, sha256);
    const read = text === null ? null : readSnapshot<State>(text, ordered[0]!.envelope.ledger, trust, sha256);
    if (text === null || read === null) continue;
    const on = foldOn(definition, [...ordered.slice(entries), ...waiting], trust, read);
    if (on !== null && stateHash(on.folded, sha256) === wanted) return { text, past: read };
  }
  return null;
}

/** The fold of entries onto a past; null where those of the past have to be read. */
export function foldOn<State extends object>(
  definition: LedgerDefinition<State>,
  entries: readonly Opened[],
  trust: Trust,
  past: Past<State>,
): LedgerFold<State> | null {
  if (isOtherwiseTrusted(past, trust) || needsWhole(past, new Map(), entries, trust)) return null;
  return new LedgerFold(definition, entries, trust, past);
}

function writtenOf<State extends object>(
  definition: LedgerDefinition<State>,
  { folded, outcomes, judgement }: Whole<State>,
  entries: number,
  sha256: Digest,
): string | null {
  const ordered = folded.ordered.slice(0, entries);
  const ids = new Set(ordered.map(({ id }) => id));
  const heads = headsInOrder(ordered);
  if (heads.length >= mostParents) return null;
  const start = folded.checkpoints.findLast((each) => each.entries <= entries) ?? startOf(definition, null);
  const { typed } = kindsOf(definition);
  const { state, aside, noted } = runFrom(definition, typed, start, ordered, outcomes, judgement);
  const chains = new Map<string, ChainEnd>();
  for (const { id, envelope } of ordered) {
    const { key, seq } = envelope;
    if (seq > (chains.get(key)?.seq ?? -1)) chains.set(key, { id, seq });
  }
  const counting = ordered.filter(({ id }) => counts(folded.statuses.get(id)));
  const receiptOf = (id: Hash): number | null => {
    const receipt = folded.receipts.get(id);
    return receipt === undefined || !ids.has(receipt.entry) ? null : receipt.receivedAt_ms;
  };
  const said = [...folded.receipts.values()].filter(({ entry }) => ids.has(entry));
  const named = [...judgement.named(), ...ordered.flatMap(namedBy)];
  const written: Written<State> = {
    fold: foldVersion,
    ledger: ordered[0]!.envelope.ledger,
    ids: [...ids].join(""),
    heads,
    chains: [...chains],
    pending: JSON.stringify(
      ordered.flatMap(({ id, at_ms }, place) =>
        counts(folded.statuses.get(id)) && receiptOf(id) === null ? [place, at_ms] : [],
      ),
    ),
    bare: ordered.flatMap(({ id, erased }) => (erased ? id : [])),
    erased: [...folded.erased].filter((id) => ids.has(id)),
    erasedPhotos: [...folded.erasedPhotos],
    named: [...new Set(named)].filter((id) => !ids.has(id)),
    latest: ordered.reduce((latest, { envelope: { at } }) => (at > latest ? at : latest), ""),
    received_ms: latestOf(counting.map(({ id }) => receiptOf(id))),
    vouched_ms: vouchedBy(said, new Map(ordered.map((opened) => [opened.id, opened]))),
    trust: trustOf(folded.trust, chains.keys()),
    step: { state, aside, noted },
  };
  const text = packedText(written);
  return `${hashText(sha256, text)} ${text}`;
}

/** What a fold may go on from; null when the text is no snapshot of this ledger, fold version and trust. */
export function readSnapshot<State extends object>(
  text: string,
  ledger: LedgerId,
  trust: Trust,
  sha256: Digest,
): Past<State> | null {
  const [hash, body] = [text.slice(0, 64), text.slice(65)];
  if (text[64] !== " " || hashText(sha256, body) !== hash) return null;
  const written = unpack(body) as Written<State>;
  if (written.fold !== foldVersion || written.ledger !== ledger) return null;
  const chains = new Map(written.chains);
  if (trustOf(trust, chains.keys()) !== written.trust) return null;
  const ids: Hash[] = [];
  for (let at = 0; at < written.ids.length; at += idDigits) ids.push(written.ids.slice(at, at + idDigits));
  const claims = JSON.parse(written.pending) as readonly number[];
  const pending = new Map<Hash, number>();
  for (let at = 0; at < claims.length; at += 2) pending.set(ids[claims[at]!]!, claims[at + 1]!);
  const { heads, latest, received_ms, vouched_ms, step } = written;
  return {
    ...step,
    ids: new Set(ids),
    heads,
    chains,
    pending,
    bare: new Set(written.bare),
    erased: new Set(written.erased),
    erasedPhotos: new Set(written.erasedPhotos),
    named: new Set(written.named),
    latest,
    received_ms,
    vouched_ms,
    trust: written.trust,
  };
}
