// The fold: from the entries of one ledger to the state that they say, the same bytes on every device.
//
// In: opened entries in any order of arrival, the trust that the operator's ledger gives, what was folded before (if
// anything). Out: state, what stands aside and why, the status of every entry, the heads. An entry that does not count
// is a no-op. Folding on from an earlier result equals folding from zero (property tests): a checkpoint is kept every
// 512 entries, and a late entry folds again from the checkpoint before it. Nothing here reads a clock.
//
// The operator's ledger carries the trust itself. It is found in layers: first only the root is believed, which gives
// the server's keys; then these are, which gives everybody's. Certificates and revocations are written by the root and
// the server alone, so a third layer would change nothing.
import { canonicalText } from "./canonical.ts";
import type { AsideCode, Receipt, Trust } from "./acceptance.ts";
import { hashText } from "./crypto.ts";
import type { Digest } from "./crypto.ts";
import type { Hash } from "./entry.ts";
import { isRefusal } from "./entry-type.ts";
import type { EntryMeta, EntryType } from "./entry-type.ts";
import { byType, judgeLedger } from "./judgement.ts";
import type { Judgement, Kinds, Outcome, Typed } from "./judgement.ts";
import type { Opened } from "./open.ts";
import { headsOf, orderEntries } from "./order.ts";
import type { Ordered } from "./order.ts";
import { newestInPast } from "./past.ts";
import type { Past } from "./past.ts";
import { isSystemType } from "./system-entries.ts";

/** Raised whenever the same entries may fold to another state; it is part of every state hash. */
export const foldVersion = 7;
const entriesPerCheckpoint = 512;

/** How a ledger that carries the trust gives it. */
export type TrustSource<State extends object> = {
  /** Types that carry it. */
  readonly types: readonly string[];
  /** The root, when the caller does not know it: null unless the ledger names exactly one. */
  readonly rootIn: (ordered: readonly Opened[]) => string | null;
  readonly trustIn: (state: State) => Trust;
};

export type LedgerDefinition<State extends object> = {
  readonly initial: State;
  readonly types: readonly EntryType<State>[];
  readonly trustSource?: TrustSource<State>;
  /** After how many entries a checkpoint is kept: 512 unless said otherwise. */
  readonly checkpointEvery?: number;
};

export type Aside = {
  readonly id: Hash;
  readonly type: string;
  readonly code: AsideCode;
  /** What the schema or the reducer refused, in one line; empty where the code says it all. */
  readonly detail: string;
  readonly by: string;
  readonly at_ms: number;
};

/**
 * `noted`: shown, and nothing follows from it. Not critical and unknown here, settled, or the side of a decided fork
 * that does not count.
 */
export type EntryStatus = "accepted" | "pending" | "noted" | AsideCode;

export type Step<State> = {
  readonly state: State;
  readonly aside: readonly Aside[];
  readonly noted: readonly Hash[];
};

/** A step that contains the first `entries` in order. */
export type Checkpoint<State> = Step<State> & { readonly entries: number };

export type Folded<State extends object> = Step<State> & {
  /** What it went on from: null where all entries are held. What follows up to `receipts` tells only what came after. */
  readonly past: Past<State> | null;
  readonly ordered: readonly Opened[];
  readonly waiting: readonly Opened[];
  readonly heads: readonly Hash[];
  readonly statuses: ReadonlyMap<Hash, EntryStatus>;
  readonly receipts: ReadonlyMap<Hash, Receipt>;
  /** Entries that were erased by right: their bodies are to be removed where they are still held. */
  readonly erased: ReadonlySet<Hash>;
  /** Photos that were erased by right: their bytes are to be removed where they are still held. */
  readonly erasedPhotos: ReadonlySet<Hash>;
  /** The latest instant known from entries that count: of each its receipt, or its own claim where it has none. */
  readonly newest_ms: number | null;
  /** The latest instant that the server vouches for, by what a receipt says or by when that was written. */
  readonly vouched_ms: number | null;
  /** As it was given by the caller. */
  readonly trust: Trust;
  /** What was believed in the end: of a ledger that carries the trust, what it says itself. */
  readonly believed: Trust;
  /** Of each ordered entry, its id and all that its judgement depends on. */
  readonly admissions: readonly string[];
  /** In order; any of them may be left out. */
  readonly checkpoints: readonly Checkpoint<State>[];
  /** How many entries this fold ran through the reducers; the rest was taken from a checkpoint. */
  readonly ran: number;
};

function metaOf({ id, envelope, at_ms }: Opened, owned: WeakSet<object>): EntryMeta {
  const { ledger, type, key, by, at, seq, basis } = envelope;
  return { id, ledger, type, key, by, at, at_ms, seq, basis, owned };
}

export function asideOf({ id, envelope, at_ms }: Opened, code: AsideCode, detail = ""): Aside {
  return { id, type: envelope.type, code, detail, by: envelope.by, at_ms };
}

export type Result<State> =
  | { readonly state: State }
  | { readonly code: AsideCode | "noted"; readonly detail: string };

/** Runs one admitted entry through its reducer. `owned`: what may be changed in place (entry-type.ts). */
export function foldOne<State extends object>(
  types: Typed<State>,
  state: State,
  opened: Opened,
  owned: WeakSet<object> = new WeakSet(),
): Result<State> {
  const { envelope, body, erased } = opened;
  if (isSystemType(envelope.type)) return { state };
  const versions = types.get(envelope.type);
  if (versions === undefined) return { code: envelope.critical ? "unknownType" : "noted", detail: "" };
  const kind = versions.get(envelope.tv);
  if (kind === undefined) return { code: "newerVersion", detail: `version ${envelope.tv}` };
  if (erased) return { code: "erased", detail: "" };
  try {
    const result = kind.fold(state, body, metaOf(opened, owned));
    if (!isRefusal(result)) return { state: result };
    const { code, path, found, wanted } = result.refused;
    return {
      code: code === "schema" ? "schema" : "senseless",
      detail: `${code}: ${path}: found ${found}, wanted ${wanted}`,
    };
  } catch (error) {
    // A mistake of ours in one reducer must not make a whole craft unreadable; the doubt that it leaves is loud enough.
    return { code: "senseless", detail: error instanceof Error ? error.message : "the reducer failed" };
  }
}

/** First place at which two lists of admissions differ. */
function firstDifference(a: readonly string[], b: readonly string[]): number {
  const shorter = Math.min(a.length, b.length);
  for (let at = 0; at < shorter; at += 1) if (a[at] !== b[at]) return at;
  return shorter;
}

/** All that an entry's part in the fold depends on besides the entries before it. */
export function admissionText(
  opened: Opened,
  outcome: Outcome,
  judgement: Pick<Judgement, "settle">,
): string {
  const settled = judgement.settle(opened, "senseless") === "noted";
  return `${opened.id} ${outcome ?? ""}${settled ? " settled" : ""}${opened.erased ? " without body" : ""}`;
}

/** The latest of a list of instants; null without one. */
export function latestOf(instants_ms: Iterable<number | null | undefined>): number | null {
  let latest: number | null = null;
  for (const at_ms of instants_ms) {
    if (at_ms != null && (latest === null || at_ms > latest)) latest = at_ms;
  }
  return latest;
}

/** The latest instant that receipts vouch for; `entries`: those among which they are. */
export function vouchedBy(receipts: Iterable<Receipt>, entries: ReadonlyMap<Hash, Opened>): number | null {
  let latest: number | null = null;
  for (const { receivedAt_ms, entry } of receipts) {
    const vouched_ms = Math.max(receivedAt_ms, entries.get(entry)?.at_ms ?? receivedAt_ms);
    if (latest === null || vouched_ms > latest) latest = vouched_ms;
  }
  return latest;
}

/** The latest instant that the entries which count give. */
export function newestOf(
  entries: readonly Opened[],
  { statuses, receipts }: Pick<Folded<object>, "statuses" | "receipts">,
): number | null {
  let newest: number | null = null;
  for (const { id, at_ms: claimed_ms } of entries) {
    if (!counts(statuses.get(id))) continue;
    const at_ms = receipts.get(id)?.receivedAt_ms ?? claimed_ms;
    if (newest === null || at_ms > newest) newest = at_ms;
  }
  return newest;
}

export function counts(status: EntryStatus | undefined): boolean {
  return status === "accepted" || status === "pending";
}

export function checkpointEvery<State extends object>(definition: LedgerDefinition<State>): number {
  return definition.checkpointEvery ?? entriesPerCheckpoint;
}

export function kindsOf<State extends object>(definition: LedgerDefinition<State>): Kinds<State> {
  return { typed: byType(definition.types), trustTypes: new Set(definition.trustSource?.types) };
}

/** What an earlier fold of the same definition leaves for the next: a snapshot holds no more (snapshot.ts). */
export type Before<State extends object> = Pick<Folded<State>, "admissions" | "checkpoints">;

/**
 * Folds a ledger. `entries` are all that are held; `before` may be any earlier result of the same definition, whatever
 * it was folded from. Of a ledger that carries the trust, `trust` gives the root where the caller knows it.
 */
export function foldLedger<State extends object>(
  definition: LedgerDefinition<State>,
  entries: Iterable<Opened>,
  trust: Trust,
  before: Before<State> | null = null,
): Folded<State> {
  return foldWhole(definition, entries, trust, before, null).folded;
}

/** A fold with what it was judged by: enough to go on from it without judging all of it again. */
export type Whole<State extends object> = {
  readonly folded: Folded<State>;
  /** Of each ordered entry. */
  readonly outcomes: readonly Outcome[];
  readonly judgement: Judgement;
};

export function foldWhole<State extends object>(
  definition: LedgerDefinition<State>,
  entries: Iterable<Opened>,
  trust: Trust,
  before: Before<State> | null,
  past: Past<State> | null,
): Whole<State> {
  const order = orderEntries(entries, past);
  const believed = believedIn(definition, order, trust);
  const { folded, ...rest } = foldOrdered(definition, order, believed, before, past);
  return { ...rest, folded: { ...folded, trust } };
}

function believedIn<State extends object>(
  definition: LedgerDefinition<State>,
  order: Ordered,
  trust: Trust,
): Trust {
  const { trustSource } = definition;
  if (trustSource === undefined) return trust;
  const root = trust.root ?? trustSource.rootIn(order.ordered);
  let believed: Trust = { root, certificates: {}, revocations: {} };
  for (let layer = 0; layer < 2; layer += 1) {
    const { folded } = foldOrdered(definition, order, believed, null, null);
    believed = { ...trustSource.trustIn(folded.state), root };
  }
  return believed;
}

function foldOrdered<State extends object>(
  definition: LedgerDefinition<State>,
  { ordered, waiting }: Ordered,
  believed: Trust,
  before: Before<State> | null,
  past: Past<State> | null,
): Whole<State> {
  const kinds = kindsOf(definition);
  const judgement = judgeLedger(kinds, believed, ordered, waiting, past);
  const outcomes = ordered.map((opened) => judgement.admit(opened));
  const admissions = ordered.map((opened, at) => admissionText(opened, outcomes[at]!, judgement));
  const kept = before === null ? 0 : firstDifference(before.admissions, admissions);
  const checkpoints = (before?.checkpoints ?? []).filter(({ entries }) => entries <= kept);
  const start = checkpoints.at(-1) ?? startOf(definition, past);
  const run = runFrom(definition, kinds.typed, start, ordered, outcomes, judgement);
  const aside = [...run.aside];
  const noted = [...run.noted];
  for (const opened of waiting) {
    if (judgement.settle(opened, "missingParent") === "noted") noted.push(opened.id);
    else aside.push(asideOf(opened, "missingParent"));
  }
  const { receipts, erased, erasedPhotos } = judgement;
  const statuses = statusesOf([...ordered, ...waiting], receipts, { aside, noted });
  const newest = newestOf(ordered, { statuses, receipts });
  const ids = new Map(ordered.map((opened) => [opened.id, opened]));
  const folded = {
    past,
    state: run.state,
    aside,
    noted,
    ordered,
    waiting,
    heads: headsOf(ordered, past?.heads),
    statuses,
    receipts,
    erased: past === null ? erased : new Set([...past.erased, ...erased]),
    erasedPhotos: past === null ? erasedPhotos : new Set([...past.erasedPhotos, ...erasedPhotos]),
    newest_ms: past === null ? newest : latestOf([newest, newestInPast(past, receipts)]),
    vouched_ms: latestOf([past?.vouched_ms, vouchedBy(receipts.values(), ids)]),
    trust: believed,
    believed,
    admissions,
    checkpoints: [...checkpoints, ...run.checkpoints],
    ran: ordered.length - start.entries,
  };
  return { folded, outcomes, judgement };
}

/** Where a fold begins. */
export function startOf<State extends object>(
  definition: LedgerDefinition<State>,
  past: Past<State> | null,
): Checkpoint<State> {
  const { state, aside, noted } = past ?? { state: definition.initial, aside: [], noted: [] };
  return { entries: 0, state, aside, noted };
}

/** Runs the entries that a checkpoint does not contain. */
export function runFrom<State extends object>(
  definition: LedgerDefinition<State>,
  typed: Typed<State>,
  start: Checkpoint<State>,
  ordered: readonly Opened[],
  outcomes: readonly Outcome[],
  judgement: Pick<Judgement, "settle">,
): Step<State> & { readonly checkpoints: readonly Checkpoint<State>[] } {
  const aside = [...start.aside];
  const noted = [...start.noted];
  const checkpoints: Checkpoint<State>[] = [];
  const every = checkpointEvery(definition);
  let { state } = start;
  // What is made between two checkpoints is seen by nobody else until the next one.
  let owned = new WeakSet<object>();
  for (let at = start.entries; at < ordered.length; at += 1) {
    const opened = ordered[at]!;
    const kept = outcomes[at]!;
    const result: Result<State> =
      kept === null ? foldOne(typed, state, opened, owned) : { code: kept, detail: "" };
    if ("state" in result) ({ state } = result);
    else {
      const outcome = judgement.settle(opened, result.code);
      if (outcome === "noted" || outcome === null) noted.push(opened.id);
      else aside.push(asideOf(opened, outcome, result.detail));
    }
    if ((at + 1) % every !== 0) continue;
    checkpoints.push({ entries: at + 1, state, aside: [...aside], noted: [...noted] });
    owned = new WeakSet();
  }
  return { state, aside, noted, checkpoints };
}

function statusesOf(
  entries: readonly Opened[],
  receipts: ReadonlyMap<Hash, Receipt>,
  { aside, noted }: Pick<Step<unknown>, "aside" | "noted">,
): ReadonlyMap<Hash, EntryStatus> {
  const statuses = new Map<Hash, EntryStatus>();
  for (const { id } of entries) statuses.set(id, receipts.has(id) ? "accepted" : "pending");
  for (const { id, code } of aside) statuses.set(id, code);
  for (const id of noted) statuses.set(id, "noted");
  return statuses;
}

/** SHA-256 over the facts and the fold's version: equal for equal entries, on every device. */
export function stateHash(folded: Pick<Step<object>, "state" | "aside">, sha256: Digest): Hash {
  const aside = folded.aside.map(({ id, code }) => [id, code]);
  return hashText(sha256, canonicalText({ fold: foldVersion, state: folded.state, aside }));
}
