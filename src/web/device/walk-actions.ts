// A walk as a person makes it: begun, marked stop by stop, interrupted, gone on with, finished, or typed in from paper.
import type {
  ClosureState,
  Conditions,
  InterruptionCause,
  VoidCause,
  WalkFacts,
  WalkKind,
} from "../../core/facts/craft.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { fasterThanHands } from "../../core/walk/pace.ts";
import type { OwnTap } from "../../core/walk/pace.ts";
import { paperCode } from "../../core/walk/paper-code.ts";
import { planOf, planToHash, planWalk } from "../../core/walk/plan.ts";
import type { WalkPlan } from "../../core/walk/plan.ts";
import { finishHindrances, walkProgress } from "../../core/walk/progress.ts";
import { reopenedOnResume, standingInterruption } from "../../core/walk/resume.ts";
import { webVerifier } from "../../crypto/web.ts";
import { canonicalText } from "../../ledger/canonical.ts";
import { closureBody, emptyDraft, paperPages, takenBackBody } from "../../ledger/craft/recorder.ts";
import type { DraftMark, StopDraft } from "../../ledger/craft/recorder.ts";
import { hashText } from "../../ledger/crypto.ts";
import { randomHex } from "./device-core.ts";
import type { DeviceCore } from "./device-core.ts";
import type { CraftView, OwnPace, PaperHead, PaperWalk } from "./model.ts";
import type { StopDrafts } from "./stop-drafts.ts";

/** A walk cannot be finished: what is blank and what stands open, by id. Screens say it by name. */
export class NotFinished extends Error {
  override readonly name = "NotFinished";
  readonly blank: readonly string[];
  readonly open: readonly string[];
  constructor(blank: readonly string[], open: readonly string[]) {
    super(`the walk has ${blank.length} items unmarked and ${open.length} closures open`);
    this.blank = blank;
    this.open = open;
  }
}

export class WalkActions {
  readonly #core: DeviceCore;
  readonly #drafts: StopDrafts;
  /** Single marks at the stop at hand with their times: for this person's own pace, never kept and never sent. */
  readonly #taps: OwnTap[] = [];

  constructor(core: DeviceCore, drafts: StopDrafts) {
    this.#core = core;
    this.#drafts = drafts;
  }

  #walkOf(ledger: string, walk: string): { facts: WalkFacts; plan: WalkPlan; view: CraftView; sheet: Sheet } {
    const view = this.#core.view(ledger);
    const facts = own(this.#core.book.fold(ledger).folded.state.walks, walk);
    if (facts === undefined || view.sheet === null)
      throw new Error(`no walk ${walk} with its sheet on this device`);
    const state = this.#core.book.fold(ledger).folded.state;
    return {
      facts,
      plan: planOf(view.sheet, state, facts),
      view,
      sheet: view.sheet,
    };
  }

  readonly beginWalk = (ledger: string, kind: WalkKind, conditions: Conditions): Promise<string> => {
    return this.#core.record(async () => {
      const { sheet, sheetHash, state } = this.#core.view(ledger);
      if (sheet === null || sheetHash === null)
        throw new Error("a walk needs its sheet, which is not on this device");
      const walk = `walk-${randomHex(12)}`;
      const plan = planWalk(sheet, state, kind, conditions);
      const hash = hashText(webVerifier.sha256, canonicalText(planToHash(plan, conditions)));
      const begunAt = msToInstant(this.#core.now_ms());
      await this.#core.write(ledger, "walk.begun", {
        walk,
        kind,
        sheet: sheetHash,
        plan: hash,
        conditions,
        begunAt,
        paper: false,
      });
      return walk;
    });
  };

  readonly arriveAt = async (ledger: string, walk: string, stop: string): Promise<void> => {
    await this.#core.record(async () => {
      const held = this.#core.draftOf(ledger);
      if (held !== null && held.walk === walk && held.stop === stop) return;
      await this.#drafts.sealDraft(ledger, "left");
      // A launch walk is one circuit: its pace is that of the whole.
      if (own(this.#core.view(ledger).state.walks, walk)?.kind !== "launch" || held?.walk !== walk)
        this.#taps.length = 0;
      await this.#drafts.keepDraft(ledger, emptyDraft(walk, stop, this.#core.now_ms()));
    });
  };

  readonly markItem = (ledger: string, item: string, mark: DraftMark | null): Promise<void> => {
    if (mark !== null) this.#taps.push({ item, at_ms: this.#core.options.clock_ms() });
    return this.#drafts.tap(ledger, {
      marks: { [item]: mark },
      closuresBy: (id) => this.#closuresBy(ledger, id),
    });
  };

  /** Marks several items of the stop good at once: those that the sheet lets go together. */
  readonly sweep = (ledger: string, items: readonly string[]): Promise<void> => {
    const good = { mark: "good", why: null, finding: null } as const;
    return this.#drafts.tap(ledger, { marks: Object.fromEntries(items.map((item) => [item, good])) });
  };

  readonly pace = (ledger: string): OwnPace | null => {
    const { sheet } = this.#core.view(ledger);
    return sheet === null ? null : fasterThanHands(sheet, this.#taps);
  };

  readonly takeBack = async (ledger: string, walk: string, items: readonly string[]): Promise<void> => {
    await this.#core.record(async () => {
      const { facts, sheet } = this.#walkOf(ledger, walk);
      const me = this.#core.mySession().person.id;
      const closes = (id: string): readonly string[] =>
        sheet.items.find((item) => item.id === id)?.closes ?? [];
      const pages = new Map<string, string[]>();
      for (const item of items) {
        const mine = (own(facts.marks, item) ?? []).filter(({ by }) => by === me);
        for (const { entry } of mine) pages.set(entry, [...(pages.get(entry) ?? []), item]);
      }
      for (const [page, marked] of pages) {
        const { state } = this.#core.book.fold(ledger).folded;
        const body = takenBackBody(state, facts, page, marked, closes, this.#core.now_ms());
        await this.#core.write(ledger, "walk.takenBack", body);
      }
    });
  };

  readonly weatherChanged = async (ledger: string, walk: string, conditions: Conditions): Promise<void> => {
    await this.#core.record(() =>
      this.#core.write(ledger, "walk.weather", { walk, conditions, at: msToInstant(this.#core.now_ms()) }),
    );
  };

  readonly voidWalk = async (
    ledger: string,
    walk: string,
    cause: VoidCause,
    words: string,
  ): Promise<void> => {
    await this.#core.record(async () => {
      if (this.#core.draftOf(ledger)?.walk === walk) await this.#drafts.sealDraft(ledger, "left");
      await this.#core.write(ledger, "walk.voided", {
        walk,
        cause,
        words,
        at: msToInstant(this.#core.now_ms()),
      });
    });
  };

  /** What stands on paper: another machine's, another sheet's or another plan has another code. */
  readonly paperHead = (ledger: string, kind: WalkKind, conditions: Conditions): PaperHead | null => {
    const { sheet, sheetHash, state } = this.#core.view(ledger);
    if (sheet === null || sheetHash === null) return null;
    const told = planToHash(planWalk(sheet, state, kind, conditions), conditions);
    const hash = (of: unknown): string => hashText(webVerifier.sha256, canonicalText(of));
    return { plan: hash(told), code: paperCode(hash({ ledger, sheet: sheetHash, plan: told })) };
  };

  readonly typeWalk = async (
    ledger: string,
    { begun_ms, ended_ms, stops, kind, conditions }: PaperWalk,
  ): Promise<void> => {
    await this.#core.record(() => {
      const { sheet, sheetHash, state } = this.#core.view(ledger);
      if (sheet === null || sheetHash === null)
        throw new Error("a walk needs its sheet, which is not on this device");
      const plan = planWalk(sheet, state, kind, conditions);
      const items = plan.rows.map(({ item }) => item);
      return this.#core.write(ledger, "walk.typed", {
        walk: `walk-${randomHex(12)}`,
        kind,
        sheet: sheetHash,
        plan: hashText(webVerifier.sha256, canonicalText(planToHash(plan, conditions))),
        conditions,
        begunAt: msToInstant(begun_ms),
        endedAt: msToInstant(ended_ms),
        pages: paperPages(stops, items, state),
      });
    });
  };

  /** An item that opens or closes something says so by its mark. */
  #closuresBy(ledger: string, item: string): StopDraft["closures"] {
    const listed = this.#core.view(ledger).sheet?.items.find(({ id }) => id === item);
    return Object.fromEntries([
      ...(listed?.opens ?? []).map((closure) => [closure, "open"] as const),
      ...(listed?.closes ?? []).map((closure) => [closure, "closed"] as const),
    ]);
  }

  /** At a stop it goes into the page, elsewhere it is an entry of its own. */
  readonly setClosure = async (ledger: string, closure: string, to: ClosureState): Promise<void> => {
    if (this.#core.draftOf(ledger) !== null) {
      await this.#drafts.tap(ledger, { closures: { [closure]: to } });
      return;
    }
    await this.#core.record(() => {
      const body = closureBody(this.#core.view(ledger).state, closure, to);
      return this.#core.write(ledger, "closure.set", { ...body, at: msToInstant(this.#core.now_ms()) });
    });
  };

  readonly leaveStop = (ledger: string): Promise<void> => {
    return this.#core.record(() => this.#drafts.sealDraft(ledger, "left"));
  };

  readonly interrupt = async (
    ledger: string,
    walk: string,
    cause: InterruptionCause,
    words: string,
  ): Promise<void> => {
    await this.#core.record(() => this.#drafts.stop(ledger, walk, cause, words, this.#core.now_ms()));
  };

  readonly resume = async (ledger: string, walk: string): Promise<void> => {
    await this.#core.record(async () => {
      // Somebody else may have been called away: what this person tapped meanwhile is kept before anything is asked again.
      await this.#drafts.sealDraft(ledger, "interrupted");
      const { facts, plan, view } = this.#walkOf(ledger, walk);
      const interruption = standingInterruption(facts);
      if (interruption === null) return;
      const reopened = reopenedOnResume(plan, facts, view.state, interruption);
      const at = msToInstant(this.#core.now_ms());
      await this.#core.write(ledger, "walk.resumed", {
        walk,
        interruption: interruption.entry,
        reopened,
        at,
      });
      const [first] = plan.rows.filter(({ item }) => reopened.includes(item.id));
      const stop = first?.item.stop ?? interruption.stop;
      if (stop !== null) await this.#drafts.keepDraft(ledger, emptyDraft(walk, stop, this.#core.now_ms()));
    });
  };

  readonly finishWalk = async (ledger: string, walk: string): Promise<void> => {
    await this.#core.record(async () => {
      await this.#drafts.sealDraft(ledger, "left");
      const { facts, plan, sheet } = this.#walkOf(ledger, walk);
      const progress = walkProgress(sheet, plan, facts, this.#core.book.fold(ledger).folded.state);
      const { blank, open } = finishHindrances(plan, progress);
      if (blank.length > 0 || open.length > 0) {
        this.#core.show();
        throw new NotFinished(
          blank.map(({ row }) => row.item.id),
          open,
        );
      }
      await this.#core.write(ledger, "walk.finished", { walk, at: msToInstant(this.#core.now_ms()) });
    });
  };
}
