// The device's half of the exchange as a pure state machine: event in, new state and effects out. No clock, no chance,
// no store, no network: effects ask for those and their outcome comes back as an event.
//
//   idle ─wake→ scan ─▶ offer ─▶ push ─▶ pull ─▶ scan ─▶ idle (when the last scan found nothing left to send)
//
// - scan reads local entries that were not looked at yet. An entry is pending until the server is known to hold it.
// - offer asks which of many pending entries the server lacks (after a restart, or when the epoch rose).
// - push hands over the pending ones in batches; pull fetches what is after the cursor; the cursor moves only after the
//   page is on the device's disk.
// - An answer of another epoch means that the server was restored from a backup: forget what it was known to hold, scan
//   from the start and offer everything; pull from the beginning.
// Every effect that will be answered carries a number; an answer with another number is late or doubled and is ignored.
// What must survive a restart is in `saved`; it is never ahead of the local store, so a crash costs a repetition only.
import type { Hash, InstantText, LedgerId, StoredEntry } from "../ledger/entry.ts";
import type { Epoch } from "./cursor.ts";
import {
  type Answer,
  type Call,
  type CallFailure,
  type Ending,
  type OfferAnswer,
  endings,
} from "./message.ts";
import type { PullAnswer, PushAnswer } from "./message.ts";

export type PendingEntry = {
  readonly id: Hash;
  /** Length of its texts, as it counts towards a batch. */
  readonly bytes: number;
  readonly position: number;
  /** The server has said that it lacks it. */
  readonly wanted: boolean;
};

export type DeviceLimits = {
  readonly entriesPerPush: number;
  readonly bytesPerPush: number;
  readonly idsPerOffer: number;
  readonly entriesPerPull: number;
  readonly entriesPerScan: number;
  /** Up to so many pending entries are pushed without asking first: they are smaller than a round trip is long. */
  readonly pushUnasked: number;
  readonly firstWait_ms: number;
  readonly longestWait_ms: number;
  /** More restarts than this within one exchange mean that the server contradicts itself. */
  readonly restartsPerExchange: number;
};

export const deviceLimits: DeviceLimits = {
  entriesPerPush: 200,
  bytesPerPush: 3_500_000,
  idsPerOffer: 5_000,
  entriesPerPull: 500,
  entriesPerScan: 2_000,
  pushUnasked: 20,
  firstWait_ms: 2_000,
  longestWait_ms: 300_000,
  restartsPerExchange: 3,
};

type Phase =
  | { readonly kind: "idle" }
  /** `server`: its time when the pull before this scan ended; null for the first scan of an exchange. */
  | { readonly kind: "scan"; readonly server: InstantText | null }
  | { readonly kind: "offer"; readonly ids: readonly Hash[] }
  | { readonly kind: "push"; readonly ids: readonly Hash[] }
  | { readonly kind: "pull" }
  | { readonly kind: "keep"; readonly page: PullAnswer };

export type DeviceState = {
  readonly limits: DeviceLimits;
  /** Only this ledger is pulled; null for all of the operator's. */
  readonly ledger: LedgerId | null;
  readonly epoch: Epoch | null;
  readonly cursor: string | null;
  readonly seen: string | null;
  /** Local position up to which entries were looked at. */
  readonly scanned: number;
  /** In local order. */
  readonly pending: readonly PendingEntry[];
  /** Pulled, and not yet met by the scan. */
  readonly pulled: ReadonlySet<Hash>;
  /** Entries that the server did not keep, or that this device could not read, with why. They make *not known*. */
  readonly setAside: Readonly<Record<Hash, string>>;
  readonly phase: Phase;
  /** Number of the effect that is waited for. */
  readonly request: number;
  readonly batch: number;
  readonly restarts: number;
  /** Woken while busy: begin again when done. */
  readonly again: boolean;
  readonly failures: number;
  readonly waitUntil_ms: number | null;
  readonly last: { readonly ending: Ending; readonly at_ms: number } | null;
  readonly lastDone: { readonly device_ms: number; readonly server: InstantText } | null;
};

export type Saved = Pick<DeviceState, "epoch" | "cursor" | "seen" | "setAside" | "lastDone"> & {
  /** Every local entry at or below this position is known to be at the server. */
  readonly through: number;
};

export type DeviceEvent =
  /** Start of the app, back in sight, a timer, a new entry; `force`: a person asked, or the token is new. */
  | { readonly kind: "wake"; readonly now_ms: number; readonly force: boolean }
  | {
      readonly kind: "scanned";
      readonly request: number;
      readonly rows: readonly { readonly position: number; readonly id: Hash; readonly bytes: number }[];
      readonly more: boolean;
      readonly now_ms: number;
    }
  | { readonly kind: "answered"; readonly request: number; readonly answer: Answer; readonly now_ms: number }
  | {
      readonly kind: "kept";
      readonly request: number;
      /** Ids that were new on this device. */
      readonly added: readonly Hash[];
      /** Ids that did not hash or verify here and were not kept, with why. */
      readonly unreadable: Readonly<Record<Hash, string>>;
    }
  | {
      readonly kind: "failed";
      readonly request: number;
      readonly reason: CallFailure;
      readonly retryAfter_ms: number | null;
      readonly now_ms: number;
      /** From 0 to 1: spreads the devices that lost one server. */
      readonly chance: number;
    }
  | { readonly kind: "stop"; readonly now_ms: number };

/** A call before its entries are read from the store: a push names them by id. */
export type CallPlan =
  | Exclude<Call, { readonly kind: "push" }>
  | { readonly kind: "push"; readonly seen: string | null; readonly ids: readonly Hash[] };

/** Carried out in the order given; when one fails, the rest is dropped and `failed` reported. */
export type Effect =
  | { readonly kind: "scan"; readonly request: number; readonly after: number; readonly limit: number }
  | { readonly kind: "call"; readonly request: number; readonly plan: CallPlan }
  | { readonly kind: "keep"; readonly request: number; readonly entries: readonly StoredEntry[] }
  | { readonly kind: "save"; readonly saved: Saved }
  | { readonly kind: "wakeAt"; readonly at_ms: number };

export type Step = { readonly state: DeviceState; readonly effects: readonly Effect[] };

export function startDevice(
  saved: Saved | null,
  limits: DeviceLimits = deviceLimits,
  ledger: LedgerId | null = null,
): DeviceState {
  return {
    limits,
    ledger,
    epoch: saved?.epoch ?? null,
    cursor: saved?.cursor ?? null,
    seen: saved?.seen ?? null,
    scanned: saved?.through ?? 0,
    pending: [],
    pulled: new Set(),
    setAside: saved?.setAside ?? {},
    phase: { kind: "idle" },
    request: 0,
    batch: limits.entriesPerPush,
    restarts: 0,
    again: false,
    failures: 0,
    waitUntil_ms: null,
    last: null,
    lastDone: saved?.lastDone ?? null,
  };
}

export function savedOf(state: DeviceState): Saved {
  const { epoch, cursor, seen, setAside, lastDone } = state;
  const through = state.pending.reduce(
    (lowest, { position }) => Math.min(lowest, position - 1),
    state.scanned,
  );
  return { epoch, cursor, seen, setAside, lastDone, through };
}

export function stepDevice(state: DeviceState, event: DeviceEvent): Step {
  if (event.kind === "wake") return wake(state, event.now_ms, event.force);
  if (event.kind === "stop") return end({ ...state, request: state.request + 1 }, "stopped", event.now_ms);
  const { phase } = state;
  if (phase.kind === "idle" || event.request !== state.request) return { state, effects: [] };
  if (event.kind === "scanned" && phase.kind === "scan") return scanned(state, phase.server, event);
  if (event.kind === "kept" && phase.kind === "keep") return kept(state, phase.page, event);
  if (event.kind === "answered") return answered(state, event);
  if (event.kind === "failed") return failed(state, event);
  return { state, effects: [] };
}

function wake(state: DeviceState, now_ms: number, force: boolean): Step {
  if (state.phase.kind !== "idle") return { state: { ...state, again: true }, effects: [] };
  if (!force) {
    if (state.last !== null && endings[state.last.ending] === "person") return { state, effects: [] };
    const { waitUntil_ms } = state;
    if (waitUntil_ms !== null && now_ms < waitUntil_ms)
      return { state, effects: [{ kind: "wakeAt", at_ms: waitUntil_ms }] };
  }
  return scan({ ...state, again: false, restarts: 0, waitUntil_ms: null }, null);
}

function scan(state: DeviceState, server: InstantText | null): Step {
  const request = state.request + 1;
  return {
    state: { ...state, request, phase: { kind: "scan", server } },
    effects: [{ kind: "scan", request, after: state.scanned, limit: state.limits.entriesPerScan }],
  };
}

function scanned(
  state: DeviceState,
  server: InstantText | null,
  { rows, more, now_ms }: DeviceEvent & { kind: "scanned" },
): Step {
  const pulled = new Set(state.pulled);
  const found: PendingEntry[] = [];
  for (const row of rows) {
    if (!pulled.delete(row.id) && !Object.hasOwn(state.setAside, row.id))
      found.push({ ...row, wanted: false });
  }
  const next: DeviceState = {
    ...state,
    pulled,
    pending: [...state.pending, ...found],
    scanned: rows.at(-1)?.position ?? state.scanned,
  };
  if (more) return scan(next, server);
  if (server !== null && next.pending.length === 0) return finish(next, server, now_ms);
  return sendOrPull(next);
}

/** Asks about, pushes, or pulls: whatever is next. */
function sendOrPull(state: DeviceState): Step {
  const { limits, pending, seen } = state;
  const unasked = pending.filter((entry) => !entry.wanted);
  if (unasked.length > limits.pushUnasked) {
    const ids = unasked.slice(0, limits.idsPerOffer).map((entry) => entry.id);
    return call(state, { kind: "offer", ids }, { kind: "offer", seen, ids });
  }
  if (pending.length > 0) {
    const ids = batchOf(state);
    return call(state, { kind: "push", ids }, { kind: "push", seen, ids });
  }
  return call(
    state,
    { kind: "pull" },
    {
      kind: "pull",
      seen,
      cursor: state.cursor,
      ledger: state.ledger,
      limit: limits.entriesPerPull,
    },
  );
}

/** The oldest pending entries that fit into one push; one at least, or nothing would ever go. */
function batchOf({ pending, batch, limits }: DeviceState): readonly Hash[] {
  const ids: Hash[] = [];
  let bytes = 0;
  for (const entry of pending) {
    bytes += entry.bytes;
    if (ids.length > 0 && (ids.length >= batch || bytes > limits.bytesPerPush)) break;
    ids.push(entry.id);
  }
  return ids;
}

function call(state: DeviceState, phase: Phase, plan: CallPlan): Step {
  const request = state.request + 1;
  return { state: { ...state, request, phase }, effects: [{ kind: "call", request, plan }] };
}

function answered(state: DeviceState, event: DeviceEvent & { kind: "answered" }): Step {
  const { answer } = event;
  const { phase } = state;
  if (answer.kind !== phase.kind) return badAnswer(state, event);
  if (state.epoch !== null && answer.epoch !== state.epoch) return restart(state, event);
  const known = { ...state, epoch: answer.epoch };
  if (phase.kind === "offer" && answer.kind === "offer") return offered(known, phase.ids, answer);
  if (phase.kind === "push" && answer.kind === "push") return pushed(known, phase.ids, answer, event);
  if (answer.kind === "pull") return pulledPage(known, answer, event);
  return badAnswer(state, event);
}

function offered(state: DeviceState, ids: readonly Hash[], answer: OfferAnswer): Step {
  const asked = new Set(ids);
  const wanted = new Set(answer.wanted);
  const pending = state.pending
    .filter((entry) => !asked.has(entry.id) || wanted.has(entry.id))
    .map((entry) => (asked.has(entry.id) ? { ...entry, wanted: true } : entry));
  return saving(sendOrPull({ ...state, seen: answer.mark, pending }));
}

function pushed(
  state: DeviceState,
  ids: readonly Hash[],
  answer: PushAnswer,
  event: DeviceEvent & { kind: "answered" },
): Step {
  const verdicts = new Map(answer.verdicts.map((verdict) => [verdict.id, verdict]));
  if (!ids.every((id) => verdicts.has(id))) return badAnswer(state, event);
  const notKept: Record<Hash, string> = {};
  for (const id of ids) {
    const { verdict, code } = verdicts.get(id)!;
    if (verdict === "notKept") notKept[id] = code ?? "notKept";
  }
  const sent = new Set(ids);
  return saving(
    sendOrPull({
      ...state,
      seen: answer.mark,
      pending: state.pending.filter((entry) => !sent.has(entry.id)),
      setAside: { ...state.setAside, ...notKept },
    }),
  );
}

function pulledPage(state: DeviceState, page: PullAnswer, event: DeviceEvent & { kind: "answered" }): Step {
  // A page that promises more and does not move the cursor would be asked for for ever.
  if (page.more && page.cursor === state.cursor) return badAnswer(state, event);
  const request = state.request + 1;
  return {
    state: { ...state, request, phase: { kind: "keep", page } },
    effects: [{ kind: "keep", request, entries: page.entries }],
  };
}

function kept(state: DeviceState, page: PullAnswer, event: DeviceEvent & { kind: "kept" }): Step {
  const next: DeviceState = {
    ...state,
    cursor: page.cursor,
    pulled: new Set([...state.pulled, ...event.added]),
    setAside: { ...state.setAside, ...event.unreadable },
  };
  return saving(page.more ? sendOrPull(next) : scan(next, page.serverTime));
}

/** The server was restored from a backup: whatever it was known to hold is asked about again. */
function restart(state: DeviceState, event: DeviceEvent & { kind: "answered" }): Step {
  if (state.restarts >= state.limits.restartsPerExchange) return badAnswer(state, event);
  const next: DeviceState = {
    ...state,
    epoch: event.answer.epoch,
    cursor: null,
    seen: null,
    scanned: 0,
    pending: [],
    pulled: new Set(),
    restarts: state.restarts + 1,
  };
  return saving(scan(next, null));
}

function finish(state: DeviceState, server: InstantText, now_ms: number): Step {
  const settled: DeviceState = {
    ...state,
    failures: 0,
    batch: state.limits.entriesPerPush,
    lastDone: { device_ms: now_ms, server },
  };
  const ended = end(settled, "done", now_ms);
  return saving(state.again ? wake(ended.state, now_ms, true) : ended);
}

function end(state: DeviceState, ending: Ending, at_ms: number): Step {
  return { state: { ...state, phase: { kind: "idle" }, last: { ending, at_ms } }, effects: [] };
}

function badAnswer(state: DeviceState, { now_ms }: DeviceEvent & { kind: "answered" }): Step {
  return waitAfter(state, "badAnswer", now_ms, null, 1);
}

function failed(state: DeviceState, event: DeviceEvent & { kind: "failed" }): Step {
  const { reason, now_ms, retryAfter_ms, chance } = event;
  if (reason === "tooLarge") return tooLarge(state, event);
  if (endings[reason] !== "waits") return end({ ...state, waitUntil_ms: null }, reason, now_ms);
  return waitAfter(state, reason, now_ms, retryAfter_ms, chance);
}

/** Halves the batch; a single entry that is too large alone is set aside, or nothing behind it would ever go. */
function tooLarge(state: DeviceState, event: DeviceEvent & { kind: "failed" }): Step {
  if (state.phase.kind !== "push") return waitAfter(state, "badAnswer", event.now_ms, null, event.chance);
  const [first, ...others] = state.phase.ids;
  if (others.length > 0) return sendOrPull({ ...state, batch: Math.ceil(state.phase.ids.length / 2) });
  return saving(
    sendOrPull({
      ...state,
      pending: state.pending.filter((entry) => entry.id !== first),
      setAside: { ...state.setAside, [first!]: "tooLarge" },
    }),
  );
}

function waitAfter(
  state: DeviceState,
  reason: Ending,
  now_ms: number,
  retryAfter_ms: number | null,
  chance: number,
): Step {
  const { firstWait_ms, longestWait_ms } = state.limits;
  const grown_ms = Math.min(longestWait_ms, firstWait_ms * 2 ** Math.min(state.failures, 20));
  const wait_ms = Math.max(retryAfter_ms ?? 0, grown_ms * (0.5 + chance / 2));
  const waitUntil_ms = now_ms + Math.ceil(wait_ms);
  const ended = end({ ...state, failures: state.failures + 1, waitUntil_ms, again: false }, reason, now_ms);
  return { ...ended, effects: [{ kind: "wakeAt", at_ms: waitUntil_ms }] };
}

/** What is to be done next, once what was learnt is on the disk. */
function saving({ state, effects }: Step): Step {
  return { state, effects: [{ kind: "save", saved: savedOf(state) }, ...effects] };
}
