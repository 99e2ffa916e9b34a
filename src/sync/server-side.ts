// The server's half of the exchange: message in, answer out, over a log that is passed in. What may be accepted is
// judged by a function that is passed in too. Receipts stand in the log beside what they are for and are pulled.
//
// Before anything else each message's `seen` and `cursor` are held against the sessions of the log. Where they disagree it
// was restored from a backup: the epoch rises, is written down before the answer leaves, and every device that hears of
// it offers all its entries again. Thus what the backup had lost comes back from the devices that still have it.
import type { Hash, LedgerId, StoredEntry } from "../ledger/entry.ts";
import { type Cursor, type Epoch, type Session, cursorFrom, cursorText, sessionOf } from "./cursor.ts";
import type { Answer, Call, Verdict } from "./message.ts";

/** The part of a store that the exchange needs. */
export type ServerLog = {
  append(entries: readonly StoredEntry[]): Promise<{ readonly added: readonly Hash[] }>;
  since(
    position: number,
    limit: number,
    ledger?: LedgerId,
  ): Promise<{
    readonly rows: readonly { readonly position: number; readonly entry: StoredEntry }[];
    readonly next: number;
    readonly more: boolean;
  }>;
  head(): Promise<{ readonly position: number; readonly id: Hash } | null>;
  lacking(ids: readonly Hash[]): Promise<readonly Hash[]>;
  readNote(name: string): Promise<string | null>;
  writeNote(name: string, text: string | null): Promise<void>;
};

/**
 * Judges entries that the log does not hold yet, in the order given: one verdict each, what to keep (in the order in
 * which it shall stand), and the receipts to be kept with it. Must not write.
 */
export type Judge = (entries: readonly StoredEntry[]) => Promise<{
  readonly verdicts: readonly Verdict[];
  readonly kept: readonly StoredEntry[];
  readonly receipts: readonly StoredEntry[];
}>;

export type ServerPorts = {
  readonly log: ServerLog;
  readonly judge: Judge;
  /** Eight hex digits, anew at each call. */
  readonly chance: () => string;
  /** Server time as an instant's text. */
  readonly now: () => string;
  /**
   * Called when the log turns out to have been restored from a backup, before the epoch rises and before anything else
   * is written: the server must not go on with a chain whose continuation it has forgotten.
   */
  readonly onRestored: () => Promise<void>;
};

type Standing = { readonly epoch: Epoch; readonly sessions: readonly Session[] };

const standingNote = "sync.server";

export class ServerSide {
  readonly #ports: ServerPorts;
  #standing: Standing;
  /** Writes go one after another: each receipt continues the chain of the one before it. */
  #writes: Promise<unknown> = Promise.resolve();

  private constructor(ports: ServerPorts, standing: Standing) {
    this.#ports = ports;
    this.#standing = standing;
  }

  /**
   * Begins a session. Only one may be running on a log. `restored`: it is known already, from somewhere else than a
   * device's mark, that the log was restored from a backup.
   */
  static async start(ports: ServerPorts, { restored = false } = {}): Promise<ServerSide> {
    const text = await ports.log.readNote(standingNote);
    const before: Standing = text === null ? { epoch: 1, sessions: [] } : (JSON.parse(text) as Standing);
    const from = (await ports.log.head())?.position ?? 0;
    // A session in which nothing was written leaves no trace in any mark.
    const sessions = before.sessions.filter((session) => session.from < from);
    const standing = { epoch: before.epoch, sessions: [...sessions, { name: ports.chance(), from }] };
    await ports.log.writeNote(standingNote, JSON.stringify(standing));
    const server = new ServerSide(ports, standing);
    if (restored) await server.#raise(standing.epoch);
    return server;
  }

  get epoch(): Epoch {
    return this.#standing.epoch;
  }

  async answer(call: Call): Promise<Answer> {
    const cursor = call.kind === "pull" ? call.cursor : null;
    for (const text of [call.seen, cursor]) if (text !== null) await this.#compare(text);
    if (call.kind === "push") return this.inTurn(() => this.#push(call.entries));
    if (call.kind === "pull") return this.#pull(call);
    const wanted = await this.#ports.log.lacking(call.ids);
    return { kind: "offer", epoch: this.epoch, wanted, mark: await this.#mark() };
  }

  /** Runs work that writes after all such work before it, so that it sees what that has written. */
  inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#writes.then(work);
    this.#writes = turn.catch(() => {});
    return turn;
  }

  async #push(entries: readonly StoredEntry[]): Promise<Answer> {
    const { log, judge } = this.#ports;
    const once = [...new Map(entries.map((entry) => [entry.id, entry])).values()];
    const unknown = new Set(await log.lacking(once.map((entry) => entry.id)));
    const { verdicts, kept, receipts } = await judge(once.filter((entry) => unknown.has(entry.id)));
    await log.append([...kept, ...receipts]);
    const held = once
      .filter((entry) => !unknown.has(entry.id))
      .map(({ id }): Verdict => ({ id, verdict: "held", code: null }));
    return {
      kind: "push",
      epoch: this.epoch,
      verdicts: [...verdicts, ...held],
      mark: await this.#mark(),
    };
  }

  async #pull(call: Call & { kind: "pull" }): Promise<Answer> {
    const cursor = call.cursor === null ? null : cursorFrom(call.cursor);
    const goesOn = cursor !== null && cursor.epoch === this.epoch;
    const from = goesOn ? cursor.position : 0;
    const page = await this.#ports.log.since(from, call.limit, call.ledger ?? undefined);
    return {
      kind: "pull",
      epoch: this.epoch,
      entries: page.rows.map((row) => row.entry),
      cursor: this.#cursorAt(page.next),
      more: page.more,
      restarted: call.cursor !== null && !goesOn,
      serverTime: this.#ports.now(),
    };
  }

  /** What was said until now holds as long as the log agrees with this. */
  async #mark(): Promise<string> {
    return this.#cursorAt((await this.#ports.log.head())?.position ?? 0);
  }

  #cursorAt(position: number): string {
    return cursorText(this.epoch, position, this.#standing.sessions);
  }

  /** Raises the epoch when the log contradicts what a device was told. */
  async #compare(text: string): Promise<void> {
    const told = cursorFrom(text);
    if (told === null || !this.#isContradictedBy(told)) return;
    await this.inTurn(async () => {
      if (!this.#isContradictedBy(told)) return; // A call before this one has raised it.
      await this.#raise(told.epoch);
    });
  }

  async #raise(toldEpoch: Epoch): Promise<void> {
    await this.#ports.onRestored();
    const raised = { ...this.#standing, epoch: Math.max(this.epoch, toldEpoch) + 1 };
    await this.#ports.log.writeNote(standingNote, JSON.stringify(raised));
    this.#standing = raised;
  }

  #isContradictedBy(told: Cursor): boolean {
    if (told.epoch < this.epoch) return false;
    return told.epoch !== this.epoch || told.session !== sessionOf(told.position, this.#standing.sessions);
  }
}
