// The plan of a walk: the items that apply today, stop by stop, in the operator's published order, and why each item
// is there or is not. Computed from the sheet, the craft and the conditions that were said; nothing unknown shortens it,
// and what the record shows against what was said counts.
//
// A launch walk is one circuit of what has to be looked at before departure: the sheet's launch items, always all of
// them, and what the record adds: every closure touched since somebody last looked at it on a walk, every finding that is
// watched, and what was filled, installed or worked on since the last walk. A closure that one of the sheet's launch items
// looks at is looked at there and adds nothing (decisions/0070). What is added from stops that the launch order does not
// name stands where the order of the full walk would come by.
import type { CraftState, Conditions as SaidConditions, WalkFacts, WalkKind } from "../facts/craft.ts";
import { evaluateApplicability, itemsFor, termsOf } from "../sheet/applicability.ts";
import type { PlanRow } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { Closure, Item, Stop } from "../sheet/walk-blocks.ts";
import { countingJudgement, isClosed } from "../finding/judgement.ts";
import { conditionsOf, craftConfigOf } from "./craft-config.ts";
import { recordedConditions, touchedSinceLook, weatherSaid, workSince } from "./since-last-look.ts";

/** Why an item is in the plan. Several may hold. */
export type Because =
  | { readonly kind: "sheet" }
  | { readonly kind: "closure"; readonly closure: string; readonly at_ms: number; readonly by: string }
  | { readonly kind: "finding"; readonly finding: string }
  | { readonly kind: "uplift"; readonly fluid: string; readonly at_ms: number }
  | { readonly kind: "equipment"; readonly equipment: string; readonly at_ms: number }
  | { readonly kind: "worked"; readonly release: string; readonly at_ms: number };

export type WalkRow = PlanRow & { readonly because: readonly Because[] };
export type PlannedStop = { readonly stop: Stop; readonly rows: readonly WalkRow[] };

export type WalkPlan = {
  readonly kind: WalkKind;
  /** Stops with at least one item to walk, in order; their rows all apply. */
  readonly stops: readonly PlannedStop[];
  /** Every row that applies, in walking order. */
  readonly rows: readonly WalkRow[];
  /** Rows that do not apply, each with its state and why. */
  readonly left: readonly PlanRow[];
  /** Closures that this craft has. */
  readonly closures: readonly Closure[];
};

const bySheet: Because = { kind: "sheet" };

/** The plan of a walk that nobody has begun yet. */
export function planWalk(sheet: Sheet, state: CraftState, kind: WalkKind, said: SaidConditions): WalkPlan {
  return planOn(sheet, state, kind, said, null);
}

/** The plan of a walk that was begun, by the sheet, the craft and the weather as they are known now. */
export function planOf(sheet: Sheet, state: CraftState, facts: WalkFacts): WalkPlan {
  return planOn(sheet, state, facts.kind, weatherSaid(facts), facts);
}

function planOn(
  sheet: Sheet,
  state: CraftState,
  kind: WalkKind,
  said: SaidConditions,
  facts: WalkFacts | null,
): WalkPlan {
  const craft = craftConfigOf(state);
  const conditions = { ...conditionsOf(said), ...recordedConditions(state, facts) };
  const all = itemsFor(sheet, craft, conditions, kind);
  const work = workSince(state, facts);
  const rows = new Map<string, WalkRow>();
  const add = (row: PlanRow, because: readonly Because[]): void => {
    if (because.length === 0) return;
    const held = rows.get(row.item.id);
    rows.set(
      row.item.id,
      held === undefined ? { ...row, because } : { ...held, because: [...held.because, ...because] },
    );
  };
  const worked = (row: PlanRow): readonly Because[] =>
    work.releases
      .filter((release) => release.worked.includes(row.item.stop))
      .map(({ entry, at_ms }): Because => ({ kind: "worked", release: entry, at_ms }));
  for (const row of all) if (row.state === "applies") add(row, [bySheet, ...worked(row)]);
  if (kind === "launch") {
    const looks = new Set([...rows.values()].flatMap(({ item }) => item.closes ?? []));
    for (const row of rows.values())
      add(row, beyond(row.item, row.item.closes ?? [], { sheet, state, work, walk: null }));
    // The full walk has an item for everything that can be touched, filled or worked on.
    for (const row of itemsFor(sheet, craft, conditions, "full")) {
      if (row.state !== "applies" || rows.has(row.item.id)) continue;
      const closes = (row.item.closes ?? []).filter((closure) => !looks.has(closure));
      add(row, [...beyond(row.item, closes, { sheet, state, work, walk: facts }), ...worked(row)]);
    }
    for (const row of watched(sheet, state)) add(row, row.because);
  }
  const stops = inCircuit(sheet, kind, [...rows.values()]);
  return {
    kind,
    stops,
    rows: stops.flatMap((stop) => stop.rows),
    left: all.filter((row) => row.state !== "applies"),
    closures: sheet.closures.filter(
      ({ applies }) => evaluateApplicability(applies, craft, conditions).value !== false,
    ),
  };
}

type Told = {
  readonly sheet: Sheet;
  readonly state: CraftState;
  readonly work: ReturnType<typeof workSince>;
  /** The walk whose own pages count as touches, so that what was added to it stays. */
  readonly walk: WalkFacts | null;
};

/** What the record says of an item beyond the sheet; `closes`: the closures that it is asked for. */
function beyond(item: Item, closes: readonly string[], record: Told): readonly Because[] {
  const { sheet, state, work, walk } = record;
  const touched = closes.flatMap((closure): readonly Because[] => {
    const touch = touchedSinceLook(sheet, state, closure, walk);
    return touch === null ? [] : [{ kind: "closure", closure, at_ms: touch.at_ms, by: touch.by }];
  });
  return [...touched, ...filled(item, closes, sheet, work), ...fitted(item, work)];
}

/**
 * What was filled is read again, and every cap that can be reached at the stop where it is read is looked at: filling opens
 * one, whether somebody tapped it or not.
 */
function filled(
  item: Item,
  closes: readonly string[],
  sheet: Sheet,
  { uplifts, fuelled }: Told["work"],
): readonly Because[] {
  // Fuel goes into whichever tank there is: each tank's gauge is read again.
  const tanked = fuelled.flatMap(({ at_ms }) =>
    sheet.tanks.map(({ fluid, gauge = null }) => ({ fluid, gauge, at_ms })),
  );
  return [...uplifts, ...tanked].flatMap(({ fluid, gauge, at_ms }): readonly Because[] => {
    const gauges = sheet.gauges.filter(
      ({ id, fluid: of }) => id === gauge || (gauge === null && of === fluid),
    );
    const reads = gauges.some(({ id }) => id === item.reads);
    const stops = new Set(
      sheet.items.filter((other) => gauges.some(({ id }) => id === other.reads)).map(({ stop }) => stop),
    );
    const capped =
      stops.has(item.stop) &&
      closes.some((closure) =>
        sheet.closures.some(({ id, kind }) => id === closure && (kind === "cap" || kind === "cowling")),
      );
    return reads || capped ? [{ kind: "uplift", fluid, at_ms }] : [];
  });
}

/** What was put in or taken out: the items whose applicability speaks of it. */
function fitted(item: Item, { equipment }: Told["work"]): readonly Because[] {
  if (item.applies === undefined) return [];
  const named = termsOf(item.applies).filter(({ kind }) => kind === "installed");
  return equipment
    .filter(({ id }) => named.some(({ name }) => name === id))
    .map(({ id, at_ms }): Because => ({ kind: "equipment", equipment: id, at_ms }));
}

/** Findings that are watched, each as an item of its own at its stop; one whose stop the sheet lacks stands at the first. */
function watched(sheet: Sheet, state: CraftState): readonly WalkRow[] {
  return Object.values(state.findings)
    .filter((finding) => !isClosed(sheet, finding) && countingJudgement(finding)?.outcome === "watch")
    .toSorted((a, b) => (a.finding < b.finding ? -1 : 1))
    .map(({ finding, raised }): WalkRow => {
      const on = sheet.items.find(({ id }) => id === raised.item);
      const stop = sheet.stops.some(({ id }) => id === raised.stop) ? raised.stop : sheet.order.launch[0]!;
      const words = raised.words === "" ? raised.kind : raised.words;
      const item: Item = {
        id: finding,
        stop,
        ata: on?.ata ?? "05",
        action: "look",
        text: { en: words, de: words },
        expect: "whole",
        walks: ["launch"],
        sweep: false,
      };
      return {
        item,
        index: -1,
        state: "applies",
        certain: true,
        why: [],
        provision: null,
        insteadOf: [],
        because: [{ kind: "finding", finding }],
      };
    });
}

/** Rows by stop: the published order of the walk, and every other stop after the one that the full walk passes before it. */
function inCircuit(sheet: Sheet, kind: WalkKind, rows: readonly WalkRow[]): readonly PlannedStop[] {
  const order = [...sheet.order[kind]];
  const place = (stop: string): number => sheet.order.full.indexOf(stop);
  const missing = [...new Set(rows.map(({ item }) => item.stop))]
    .filter((stop) => !order.includes(stop))
    .toSorted((a, b) => place(a) - place(b));
  for (const stop of missing) {
    const before = order
      .filter((other) => place(other) !== -1 && place(other) < place(stop))
      .toSorted((a, b) => place(b) - place(a))[0];
    order.splice(before === undefined ? 0 : order.indexOf(before) + 1, 0, stop);
  }
  return order.flatMap((id): readonly PlannedStop[] => {
    const stop = sheet.stops.find((candidate) => candidate.id === id);
    const here = rows
      .filter(({ item }) => item.stop === id)
      // What the sheet does not list, a finding, comes last at its stop.
      .toSorted((a, b) => (a.index === -1 ? Infinity : a.index) - (b.index === -1 ? Infinity : b.index));
    return stop === undefined || here.length === 0 ? [] : [{ stop, rows: here }];
  });
}

/**
 * What the plan's hash is taken over: the kind, the conditions as said, and each item in order with whether it applies
 * and why. The hash goes on paper and into the entry that begins the walk; the hash function itself is the caller's.
 */
export function planToHash(plan: WalkPlan, said: SaidConditions): unknown {
  const brief = ({ item, state, provision }: PlanRow) => [item.id, item.stop, state, provision];
  return { kind: plan.kind, conditions: said, rows: plan.rows.map(brief), left: plan.left.map(brief) };
}

/** Marks and visits of a walk that its plan does not hold: kept, shown, and counting for nothing. */
export function outsidePlan(
  plan: WalkPlan,
  facts: WalkFacts,
): { readonly items: readonly string[]; readonly stops: readonly string[] } {
  const items = new Set(plan.rows.map(({ item }) => item.id));
  const stops = new Set(plan.stops.map(({ stop }) => stop.id));
  return {
    items: Object.keys(facts.marks).filter((item) => !items.has(item)),
    stops: [...new Set(facts.visits.map(({ stop }) => stop))].filter((stop) => !stops.has(stop)),
  };
}
