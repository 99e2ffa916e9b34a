// The fold: from the entries of one ledger to the state that they say, the same bytes on every device.
//
// In: opened entries in any order of arrival, the trust that the operator's ledger gives, what was folded before (if
// anything). Out: state, what stands aside and why, the status of every entry, the heads. An entry that does not count
// is a no-op. Folding on from an earlier result equals folding from zero (property tests): a checkpoint is kept every
// 512 entries, and a late entry folds again from the checkpoint before it. Nothing here reads a clock.
import { instantToMs } from "../core/facts/instant.ts";
import { canonicalText } from "./canonical.ts";
import { forkedIds, keyFault } from "./acceptance.ts";
import type { AsideCode, Receipt, Trust } from "./acceptance.ts";
import { hashText } from "./crypto.ts";
import type { Digest } from "./crypto.ts";
import type { Hash } from "./entry.ts";
import { isRefusal } from "./entry-type.ts";
import type { EntryMeta, EntryType } from "./entry-type.ts";
import type { Opened } from "./open.ts";
import { headsOf, orderEntries } from "./order.ts";
import { forksDecided, isSystemType, receiptsIn, systemFault } from "./system-entries.ts";

/** Raised whenever the same entries may fold to another state; it is part of every state hash. */
export const foldVersion = 1;
export const checkpointEvery = 512;

export type LedgerDefinition<State extends object> = {
  readonly initial: State;
  readonly types: readonly EntryType<State>[];
  /** A ledger that carries the trust itself (the operator's): what to believe after each entry. */
  readonly trustIn?: (state: State) => Trust;
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

/** `noted`: understood by nobody here and not critical, or the side of a decided fork that does not count; shown only. */
export type EntryStatus = "accepted" | "pending" | "noted" | AsideCode;

export type Step<State> = {
  readonly state: State;
  readonly aside: readonly Aside[];
  readonly noted: readonly Hash[];
};

export type Folded<State extends object> = Step<State> & {
  readonly ordered: readonly Opened[];
  readonly waiting: readonly Opened[];
  readonly heads: readonly Hash[];
  readonly statuses: ReadonlyMap<Hash, EntryStatus>;
  readonly receipts: ReadonlyMap<Hash, Receipt>;
  /** The latest instant known: each entry counts with its receipt, or with its own claim where it has none. */
  readonly newest_ms: number | null;
  readonly trust: Trust;
  /** Admission of each ordered entry: its id and the code that keeps it out, if any. */
  readonly admissions: readonly string[];
  readonly checkpoints: readonly Step<State>[];
  /** How many entries this fold ran through the reducers; the rest was taken from a checkpoint. */
  readonly ran: number;
};

export type Typed<State extends object> = ReadonlyMap<string, ReadonlyMap<number, EntryType<State>>>;

export function byType<State extends object>(types: readonly EntryType<State>[]): Typed<State> {
  const map = new Map<string, Map<number, EntryType<State>>>();
  for (const kind of types) {
    const versions = map.get(kind.type) ?? new Map<number, EntryType<State>>();
    map.set(kind.type, versions.set(kind.tv, kind));
  }
  return map;
}

function metaOf({ id, envelope }: Opened): EntryMeta {
  const { ledger, type, key, by, at, seq, basis } = envelope;
  return { id, ledger, type, key, by, at, at_ms: instantToMs(at), seq, basis };
}

/** What of the whole ledger one entry is judged against. */
type Judge = {
  readonly receipts: ReadonlyMap<Hash, Receipt>;
  readonly forked: ReadonlySet<Hash>;
  readonly decided: ReadonlySet<Hash>;
  /** Key and seq of the forks that were decided. */
  readonly settled: ReadonlySet<string>;
};

function judgeOf(trust: Trust, ordered: readonly Opened[], waiting: readonly Opened[]): Judge {
  const decided = forksDecided(trust, ordered);
  const settled = new Set<string>();
  for (const { id, envelope } of ordered) if (decided.has(id)) settled.add(`${envelope.key} ${envelope.seq}`);
  return {
    receipts: receiptsIn(trust, ordered),
    forked: forkedIds([...ordered, ...waiting]),
    decided,
    settled,
  };
}

/** What keeps the entry out before its body is looked at; null admits it. */
function admission(trust: Trust, judge: Judge, opened: Opened): AsideCode | "noted" | null {
  const { id, envelope } = opened;
  if (judge.forked.has(id) && !judge.decided.has(id)) {
    return judge.settled.has(`${envelope.key} ${envelope.seq}`) ? "noted" : "fork";
  }
  const receipt = judge.receipts.get(id);
  if (receipt?.verdict === "refused") return "refused";
  return (
    keyFault(trust, opened, receipt) ?? (isSystemType(envelope.type) ? systemFault(trust, opened) : null)
  );
}

export function asideOf({ id, envelope }: Opened, code: AsideCode, detail = ""): Aside {
  return { id, type: envelope.type, code, detail, by: envelope.by, at_ms: instantToMs(envelope.at) };
}

export type Result<State> =
  | { readonly state: State }
  | { readonly code: AsideCode | "noted"; readonly detail: string };

export function foldOne<State extends object>(
  types: Typed<State>,
  trust: Trust,
  state: State,
  opened: Opened,
): Result<State> {
  const { envelope, body, erased } = opened;
  if (isSystemType(envelope.type)) return { state };
  const versions = types.get(envelope.type);
  if (versions === undefined) return { code: envelope.critical ? "unknownType" : "noted", detail: "" };
  const kind = versions.get(envelope.tv);
  if (kind === undefined) return { code: "newerVersion", detail: `version ${envelope.tv}` };
  const { key } = envelope;
  const may =
    key === trust.root ||
    (trust.certificates[key] ?? []).some((held) => held.roles.some((role) => kind.roles.includes(role)));
  if (!may) return { code: "roleMissing", detail: kind.roles.join(", ") };
  if (erased) return { code: "erased", detail: "" };
  const result = kind.fold(state, body, metaOf(opened));
  if (!isRefusal(result)) return { state: result };
  const { code, path, found, wanted } = result.refused;
  return {
    code: code === "schema" ? "schema" : "senseless",
    detail: `${code}: ${path}: found ${found}, wanted ${wanted}`,
  };
}

/** First place at which two lists of admissions differ. */
function firstDifference(a: readonly string[], b: readonly string[]): number {
  const shorter = Math.min(a.length, b.length);
  for (let at = 0; at < shorter; at += 1) if (a[at] !== b[at]) return at;
  return shorter;
}

export function newestOf(entries: readonly Opened[], receipts: ReadonlyMap<Hash, Receipt>): number | null {
  let newest: number | null = null;
  for (const { id, envelope } of entries) {
    const at_ms = receipts.get(id)?.receivedAt_ms ?? instantToMs(envelope.at);
    if (newest === null || at_ms > newest) newest = at_ms;
  }
  return newest;
}

/**
 * Folds a ledger. `entries` are all that are held; `before` may be any earlier result of the same definition, whatever
 * it was folded from.
 */
export function foldLedger<State extends object>(
  definition: LedgerDefinition<State>,
  entries: Iterable<Opened>,
  trust: Trust,
  before: Folded<State> | null = null,
): Folded<State> {
  const { ordered, waiting } = orderEntries(entries);
  const { trustIn } = definition;
  const whole = trustIn === undefined ? trust : trustIn(foldThrough(definition, trust, ordered, null).state);
  const judge = judgeOf(whole, ordered, waiting);
  const admitted = ordered.map((opened) => (trustIn === undefined ? admission(trust, judge, opened) : null));
  const admissions = ordered.map(({ id }, at) => `${id} ${admitted[at] ?? ""}`);
  const start =
    before === null || trustIn !== undefined || before.trust !== trust
      ? 0
      : Math.floor(firstDifference(before.admissions, admissions) / checkpointEvery);
  const checkpoints = before === null ? [] : before.checkpoints.slice(0, start);
  const last = checkpoints.at(-1) ?? { state: definition.initial, aside: [], noted: [] };
  const from = checkpoints.length * checkpointEvery;
  const run = foldThrough(definition, trust, ordered, judge, { step: last, from, admitted });
  const aside = [...run.aside, ...waiting.map((opened) => asideOf(opened, "missingParent"))];
  return {
    state: run.state,
    aside,
    noted: run.noted,
    ordered,
    waiting,
    heads: headsOf(ordered),
    statuses: statusesOf(ordered, waiting, judge, run),
    receipts: judge.receipts,
    newest_ms: newestOf(ordered, judge.receipts),
    trust,
    admissions,
    checkpoints: [...checkpoints, ...run.checkpoints],
    ran: ordered.length - from,
  };
}

type Run<State> = Step<State> & {
  readonly checkpoints: readonly Step<State>[];
};

function foldThrough<State extends object>(
  { initial, types, trustIn }: LedgerDefinition<State>,
  trust: Trust,
  ordered: readonly Opened[],
  judge: Judge | null,
  begin: { step: Step<State>; from: number; admitted: readonly (AsideCode | "noted" | null)[] } = {
    step: { state: initial, aside: [], noted: [] },
    from: 0,
    admitted: [],
  },
): Run<State> {
  const typed = byType(types);
  const aside = [...begin.step.aside];
  const noted = [...begin.step.noted];
  const checkpoints: Step<State>[] = [];
  let { state } = begin.step;
  for (let at = begin.from; at < ordered.length; at += 1) {
    const opened = ordered[at]!;
    const believed = trustIn === undefined ? trust : trustIn(state);
    const known = judge ?? judgeOf(believed, [], []);
    const kept =
      trustIn === undefined ? begin.admitted[at] : admission(believedBy(believed, opened), known, opened);
    const result: Result<State> =
      kept === null || kept === undefined
        ? foldOne(typed, believedBy(believed, opened), state, opened)
        : { code: kept, detail: "" };
    if ("state" in result) ({ state } = result);
    else if (result.code === "noted") noted.push(opened.id);
    else aside.push(asideOf(opened, result.code, result.detail));
    if ((at + 1) % checkpointEvery === 0) checkpoints.push({ state, aside: [...aside], noted: [...noted] });
  }
  return { state, aside, noted, checkpoints };
}

/** The very first entry of an operator's ledger names its own key as the root: there is nothing earlier to believe. */
function believedBy(trust: Trust, { envelope }: Opened): Trust {
  return trust.root === null && envelope.type === "operator.opened"
    ? { ...trust, root: envelope.key }
    : trust;
}

function statusesOf(
  ordered: readonly Opened[],
  waiting: readonly Opened[],
  { receipts }: Judge,
  { aside, noted }: Pick<Run<unknown>, "aside" | "noted">,
): ReadonlyMap<Hash, EntryStatus> {
  const codes = new Map(aside.map(({ id, code }) => [id, code]));
  const shown = new Set(noted);
  const statuses = new Map<Hash, EntryStatus>();
  for (const { id } of ordered) {
    const counting = receipts.has(id) ? "accepted" : "pending";
    statuses.set(id, codes.get(id) ?? (shown.has(id) ? "noted" : counting));
  }
  for (const { id } of waiting) statuses.set(id, "missingParent");
  return statuses;
}

/** SHA-256 over the facts and the fold's version: equal for equal entries, on every device. */
export function stateHash(folded: Pick<Step<object>, "state" | "aside">, sha256: Digest): Hash {
  const aside = folded.aside.map(({ id, code }) => [id, code]);
  return hashText(sha256, canonicalText({ fold: foldVersion, state: folded.state, aside }));
}
