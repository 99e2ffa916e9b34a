// Carries out what the device's state machine asks for: over a store, a connection, a clock and chance that are passed
// in. Events go one after another; a failing effect becomes an event, so nothing is thrown at the caller.
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import {
  type DeviceEvent,
  type DeviceLimits,
  type DeviceState,
  type Effect,
  type Saved,
  deviceLimits,
  startDevice,
  stepDevice,
} from "./device.ts";
import type { Answer, Call, CallFailure } from "./message.ts";

/** The part of a device's store that the exchange needs. */
export type DeviceLog = {
  append(entries: readonly StoredEntry[]): Promise<{ readonly added: readonly Hash[] }>;
  since(
    position: number,
    limit: number,
  ): Promise<{
    readonly rows: readonly { readonly position: number; readonly entry: StoredEntry }[];
    readonly more: boolean;
  }>;
  get(id: Hash): Promise<StoredEntry | null>;
  readNote(name: string): Promise<string | null>;
  writeNote(name: string, text: string | null): Promise<void>;
};

export type ExchangerPorts = {
  readonly log: DeviceLog;
  /** Sends one call and answers; fails with a CallError. Must settle: it bears the time-out. */
  readonly call: (call: Call) => Promise<Answer>;
  /** Splits pulled entries into those that hash and verify and those that do not, with why. */
  readonly screen: (entries: readonly StoredEntry[]) => Promise<Screened>;
  readonly now_ms: () => number;
  /** From 0 to 1. */
  readonly chance: () => number;
  /** Asks to be woken (not forced) at an instant; a later request replaces an earlier one. */
  readonly wakeAt: (at_ms: number) => void;
  readonly onChange?: (state: DeviceState) => void;
};

export type Screened = {
  readonly readable: readonly StoredEntry[];
  readonly unreadable: Readonly<Record<Hash, string>>;
};

/** Why a call did not bring an answer. */
export class CallError extends Error {
  readonly reason: CallFailure;
  readonly retryAfter_ms: number | null;

  constructor(reason: CallFailure, retryAfter_ms: number | null = null, cause?: unknown) {
    super(`exchange with the server: ${reason}`, { cause });
    this.name = "CallError";
    this.reason = reason;
    this.retryAfter_ms = retryAfter_ms;
  }
}

const savedNote = "sync.device";

export class Exchanger {
  readonly #ports: ExchangerPorts;
  #state: DeviceState;
  #turn: Promise<void> = Promise.resolve();

  private constructor(ports: ExchangerPorts, state: DeviceState) {
    this.#ports = ports;
    this.#state = state;
  }

  static async start(
    ports: ExchangerPorts,
    limits: DeviceLimits = deviceLimits,
    ledger: LedgerId | null = null,
  ): Promise<Exchanger> {
    const text = await ports.log.readNote(savedNote);
    const saved = text === null ? null : (JSON.parse(text) as Saved);
    return new Exchanger(ports, startDevice(saved, limits, ledger));
  }

  get state(): DeviceState {
    return this.#state;
  }

  /** To be called at start, when back in sight, by a timer and after every entry; `force` by a person's button. */
  wake(force = false): Promise<void> {
    return this.#take({ kind: "wake", now_ms: this.#ports.now_ms(), force });
  }

  stop(): Promise<void> {
    return this.#take({ kind: "stop", now_ms: this.#ports.now_ms() });
  }

  /** Steps at once; the effects are carried out after those before them. Resolves when nothing is left to carry out. */
  #take(event: DeviceEvent): Promise<void> {
    const { state, effects } = stepDevice(this.#state, event);
    this.#state = state;
    this.#ports.onChange?.(state);
    const turn = this.#turn.then(() => this.#carryOut(effects, state.request));
    this.#turn = turn;
    return turn;
  }

  async #carryOut(effects: readonly Effect[], request: number): Promise<void> {
    let outcome: DeviceEvent | null = null;
    try {
      for (const effect of effects) outcome = (await this.#perform(effect)) ?? outcome;
    } catch (error) {
      const known = error instanceof CallError;
      outcome = {
        kind: "failed",
        request,
        reason: known ? error.reason : "storeFailed",
        retryAfter_ms: known ? error.retryAfter_ms : null,
        now_ms: this.#ports.now_ms(),
        chance: this.#ports.chance(),
      };
    }
    if (outcome !== null) await this.#follow(outcome);
  }

  /** An outcome is carried out within the turn of the event that it came from. */
  async #follow(event: DeviceEvent): Promise<void> {
    const { state, effects } = stepDevice(this.#state, event);
    this.#state = state;
    this.#ports.onChange?.(state);
    await this.#carryOut(effects, state.request);
  }

  async #perform(effect: Effect): Promise<DeviceEvent | null> {
    const { log, now_ms } = this.#ports;
    switch (effect.kind) {
      case "save":
        await log.writeNote(savedNote, JSON.stringify(effect.saved));
        return null;
      case "wakeAt":
        this.#ports.wakeAt(effect.at_ms);
        return null;
      case "scan": {
        const page = await log.since(effect.after, effect.limit);
        const rows = page.rows.map(({ position, entry }) => ({
          position,
          id: entry.id,
          bytes: bytesOf(entry),
        }));
        return { kind: "scanned", request: effect.request, rows, more: page.more, now_ms: now_ms() };
      }
      case "keep": {
        const { readable, unreadable } = await this.#ports.screen(effect.entries);
        const { added } = await log.append(readable);
        return { kind: "kept", request: effect.request, added, unreadable };
      }
      case "call": {
        const answer = await this.#ports.call(await this.#callOf(effect.plan));
        return { kind: "answered", request: effect.request, answer, now_ms: now_ms() };
      }
      default:
        return effect satisfies never;
    }
  }

  async #callOf(plan: (Effect & { kind: "call" })["plan"]): Promise<Call> {
    if (plan.kind !== "push") return plan;
    const entries: StoredEntry[] = [];
    for (const id of plan.ids) {
      const entry = await this.#ports.log.get(id);
      if (entry === null) throw new Error(`entry ${id} was scanned and is gone`);
      entries.push(entry);
    }
    return { kind: "push", seen: plan.seen, entries };
  }
}

/** Length as it counts towards a request: texts in UTF-8 take at most three bytes per code unit, hex and names one. */
function bytesOf(entry: StoredEntry): number {
  const texts = entry.envelope.length + (entry.body?.length ?? 0);
  return texts * 3 + 400;
}
