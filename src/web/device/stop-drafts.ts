// The drafts of the stop at hand: every tap is durable at once, and the page is sealed from the draft as it is on the disk.
import type { InterruptionCause } from "../../core/facts/craft.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { standingInterruption, walkedAway } from "../../core/walk/resume.ts";
import { isEmptyDraft, pageBody, tapped } from "../../ledger/craft/recorder.ts";
import type { StopDraft, Tap } from "../../ledger/craft/recorder.ts";
import type { DeviceCore } from "./device-core.ts";

export class StopDrafts {
  readonly #core: DeviceCore;

  constructor(core: DeviceCore) {
    this.#core = core;
  }

  async keepDraft(ledger: string, draft: StopDraft): Promise<void> {
    const name = this.#core.draftName(ledger);
    await this.#core.store.putDraft(name, JSON.stringify(draft));
    this.#core.drafts.set(name, draft);
  }

  /**
   * Changes the draft of the stop that the person stands at; shown once it is on the disk. Needs no lock: the store
   * changes the draft in one step, and a page is sealed only from the draft as it is.
   */
  tap(ledger: string, tap: Tap): Promise<void> {
    return this.#core.afterThose(async () => {
      const name = this.#core.draftName(ledger);
      const { state } = this.#core.view(ledger);
      const touched_ms = this.#core.now_ms();
      const text = await this.#core.store.changeDraft(name, (held) =>
        JSON.stringify({ ...tapped(JSON.parse(held) as StopDraft, tap, state), touched_ms }),
      );
      if (text === null) throw new Error(`nobody stands at a stop of ${ledger}`);
      this.#core.drafts.set(name, JSON.parse(text) as StopDraft);
      this.#core.show(false);
      this.#core.windows.postMessage("tapped");
    });
  }

  /**
   * A walk that its walker left without a word stands still, from the last touch on: who comes back does not know any more
   * where they were. Looked for whenever time has passed.
   */
  leaveBehind(): void {
    for (const [name, draft] of this.#core.drafts) {
      const ledger = this.#core.book.ledgers.find((each) => this.#core.draftName(each) === name);
      const left = walkedAway(draft.touched_ms ?? draft.arrived_ms, this.#core.now_ms());
      if (ledger === undefined || left === null) continue;
      void this.#core.record(async () => {
        const held = this.#core.draftOf(ledger);
        if (held === null || walkedAway(held.touched_ms ?? held.arrived_ms, this.#core.now_ms()) === null)
          return;
        await this.stop(ledger, held.walk, "walkAway", "", left.at_ms);
      });
    }
  }

  /** Somebody else was called away and the walk stands still here as well: what was tapped so far becomes a page. */
  async freezeDrafts(): Promise<void> {
    if (this.#core.session === null) return;
    for (const [name, { walk }] of this.#core.drafts) {
      const ledger = this.#core.book.ledgers.find((each) => this.#core.draftName(each) === name);
      if (ledger === undefined) continue;
      const facts = own(this.#core.book.fold(ledger).folded.state.walks, walk);
      if (facts !== undefined && standingInterruption(facts) !== null)
        await this.sealDraft(ledger, "interrupted");
    }
  }

  /** Seals what was tapped at the stop into a page. Only inside a turn, with the drafts as they are on the disk. */
  async sealDraft(ledger: string, sealedBy: "left" | "interrupted"): Promise<void> {
    const name = this.#core.draftName(ledger);
    for (;;) {
      await this.#core.catchUp();
      const text = await this.#core.store.draft(name);
      if (text === null) break;
      const draft = JSON.parse(text) as StopDraft;
      const state = this.#core.book.fold(ledger).folded.state;
      const facts = own(state.walks, draft.walk);
      const page =
        facts === undefined || isEmptyDraft(draft)
          ? []
          : [
              await this.#core.seal(
                ledger,
                "walk.page",
                pageBody(draft, state, facts, this.#core.now_ms(), sealedBy),
              ),
            ];
      // Null: another window tapped in between, and the page is made again with that tap in it.
      if ((await this.#core.store.sealDraft(name, text, page)) !== null) break;
    }
    this.#core.drafts.delete(name);
    await this.#core.catchUp();
  }

  async stop(
    ledger: string,
    walk: string,
    cause: InterruptionCause,
    words: string,
    at_ms: number,
  ): Promise<void> {
    const stop = this.#core.draftOf(ledger)?.stop ?? null;
    await this.sealDraft(ledger, "interrupted");
    await this.#core.write(ledger, "walk.interrupted", { walk, cause, stop, words, at: msToInstant(at_ms) });
  }
}
