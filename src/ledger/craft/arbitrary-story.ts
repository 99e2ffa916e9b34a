// For tests: tells a craft's record by bodies alone, without keys and hashes, through the real entry types.
import { emptyCraft } from "../../core/facts/craft.ts";
import type { CraftState } from "../../core/facts/craft.ts";
import { minute_ms, msToInstant } from "../../core/facts/instant.ts";
import type { Situation } from "../../core/facts/situation.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { assessLoad } from "../../core/load/assess.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { assessCraft } from "../../core/standing/assess.ts";
import { planOf } from "../../core/walk/plan.ts";
import { isRefusal } from "../entry-type.ts";
import { freshBalance } from "./fresh-balance.ts";
import { wholeCrew } from "../../core/crew/whole-crew.ts";
import { freshLoading, freshWeighing } from "./fresh-load.ts";
import { craftLedger } from "./craft-ledger.ts";
import { emptyDraft, pageBody } from "./recorder.ts";
import type { DraftMark } from "./recorder.ts";

export const dawn_ms = Date.UTC(2026, 1, 4, 6);

type PageManner = {
  readonly by?: string;
  readonly values?: Readonly<Record<string, number>>;
  readonly replaceNothing?: boolean;
  readonly sealedBy?: "left" | "interrupted";
};

export class Story {
  state: CraftState = emptyCraft;
  now_ms = dawn_ms;
  readonly sheet: Sheet;
  #count = 0;

  constructor(sheet: Sheet, equipment: Readonly<Record<string, boolean>> = {}) {
    this.sheet = sheet;
    const opening = { name: "Test", variant: sheet.type.variants[0]!.id, sheet: "a".repeat(64), equipment };
    this.tell("craft.opened", { ...opening, openedAt: msToInstant(this.now_ms) });
    this.tell("balance.signed", freshBalance(sheet, this.now_ms), "p-office");
    const { variant } = opening;
    this.tell("craft.weighed", freshWeighing(sheet, variant, equipment, this.now_ms, "W-1"), "p-office");
    this.tell("loading.said", freshLoading(sheet, this.now_ms, { fuel_kg: 100, fuelAtEnd_kg: 20 }));
    this.tell("shift.declared", {
      from: this.at,
      until: msToInstant(this.now_ms + 96 * 60 * minute_ms),
      people: [
        {
          person: "p-one",
          roles: ["pilot", "technicalCrew", "hoistOperator", "medic"],
          lastDutyEnd: this.at,
        },
      ],
      replaces: [],
    });
    this.tell("custody.taken", {
      custody: "crew",
      people: ["p-one"],
      words: "",
      expectedEnd: null,
      at: msToInstant(this.now_ms),
      replaces: [],
    });
  }

  /** Folds one entry; answers with its id, or throws with the refusal. */
  tell(type: string, body: unknown, by = "p-one"): string {
    const kind = craftLedger.types.find((candidate) => candidate.type === type);
    if (kind === undefined) throw new Error(`no entry type ${type}`);
    this.#count += 1;
    const id = this.#count.toString(16).padStart(64, "0");
    const at = msToInstant(this.now_ms);
    const meta = {
      id,
      ledger: "craft:test",
      type,
      key: "k",
      by,
      at,
      at_ms: this.now_ms,
      seq: this.#count,
      basis: {},
    };
    const folded = kind.fold(this.state, body, meta);
    if (isRefusal(folded)) throw new Error(JSON.stringify(folded.refused));
    this.state = folded;
    return id;
  }

  get at(): string {
    return msToInstant(this.now_ms);
  }

  pass(minutes: number): void {
    this.now_ms += minutes * minute_ms;
  }

  begin(
    walk: string,
    kind: "full" | "launch" | "parking" = "full",
    conditions: Readonly<Record<string, boolean | null>> = {},
  ): void {
    const sheet = "a".repeat(64);
    this.tell("walk.begun", {
      walk,
      kind,
      sheet,
      plan: "b".repeat(64),
      conditions,
      begunAt: this.at,
      paper: false,
    });
  }

  /** One page: marks at a stop, with the closures and readings that they imply; `replaceNothing` marks without having seen. */
  page(
    walk: string,
    stop: string,
    marks: Readonly<Record<string, DraftMark>>,
    { by = "p-one", values = {}, replaceNothing = false, sealedBy = "left" }: PageManner = {},
  ): string {
    const closures: Record<string, "open" | "closed"> = {};
    const readings: Record<string, (typeof draft)["readings"][string]> = {};
    const draft = emptyDraft(walk, stop, this.now_ms);
    for (const [id, { mark }] of Object.entries(marks)) {
      const item = this.sheet.items.find((candidate) => candidate.id === id);
      if (item === undefined || mark !== "good") continue;
      for (const closure of item.opens ?? []) closures[closure] = "open";
      for (const closure of item.closes ?? []) closures[closure] = "closed";
      const gauge = this.sheet.gauges.find((candidate) => candidate.id === item.reads);
      if (gauge === undefined) continue;
      const value =
        values[gauge.id] ??
        ((gauge.low?.value ?? gauge.plausible.low) + (gauge.high?.value ?? gauge.plausible.high)) / 2;
      readings[gauge.id] = {
        value,
        unit: gauge.unit,
        typed: String(value),
        conditions: { oat_C: 5, bottle_C: 5 },
        hours_h: null,
      };
    }
    const body = pageBody(
      { ...draft, marks, closures, readings },
      this.state,
      this.state.walks[walk]!,
      this.now_ms,
      sealedBy,
    );
    const unseen = {
      ...body,
      replaces: [],
      closures: body.closures.map((set) => ({ ...set, replaces: [] })),
    };
    return this.tell("walk.page", replaceNothing ? unseen : body, by);
  }

  /** Walks every stop with every item good, except those given. */
  walkAll(walk: string, except: Readonly<Record<string, DraftMark | null>> = {}): void {
    const facts = this.state.walks[walk]!;
    for (const { stop, rows } of planOf(this.sheet, this.state, facts).stops) {
      const marks: Record<string, DraftMark> = {};
      for (const { item } of rows) {
        const given = item.id in except ? except[item.id] : good;
        if (given != null) marks[item.id] = given;
      }
      this.pass(1);
      if (Object.keys(marks).length > 0) this.page(walk, stop.id, marks);
    }
  }

  /** Takes the custody over from whoever has it. */
  hand(custody: "crew" | "maintenance" | "outOfService", words = "", by = "p-one"): string {
    const replaces = this.state.custody.map(({ entry }) => entry);
    const people = custody === "crew" ? [by] : [];
    return this.tell(
      "custody.taken",
      { custody, people, words, expectedEnd: null, at: this.at, replaces },
      by,
    );
  }

  /** Releases work by an engineer. */
  release(more: Readonly<Record<string, unknown>> = {}, by = "p-engineer"): string {
    const usual = {
      licence: "66-1",
      dataRevision: "revision 1",
      limitations: "",
      takesAway: [],
      lifts: [],
      worked: [],
      closures: [],
    };
    return this.tell("release.signed", { ...usual, words: "", at: this.at, ...more }, by);
  }

  finish(walk: string): void {
    this.pass(1);
    this.tell("walk.finished", { walk, at: this.at });
  }

  situation(more: Partial<Situation> = {}): Situation {
    return {
      now_ms: this.now_ms,
      horizon_ms: this.now_ms + 72 * 60 * minute_ms,
      settings: { zone: "Europe/Oslo", exchangeLimit_min: 240, ruleSet: "eu", crew: wholeCrew },
      record: { newest_ms: this.now_ms, aside: [], exchanged_ms: this.now_ms, unsent: 0 },
      ...more,
    };
  }
}

export const good: DraftMark = { mark: "good", why: null, finding: null };

/** Every reason that follows from the record alone, the parts that an app loads later included; the sky is apart. */
export function assessRecorded(sheet: Sheet | null, state: CraftState, situation: Situation): Reason[] {
  const load = sheet === null ? [] : assessLoad(sheet, state, situation);
  return [...assessCraft(sheet, state, situation), ...load];
}
