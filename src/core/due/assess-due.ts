// Assesses what runs out: the maintenance programme, components by serial number, obligations by date and counter.
//
// Without a signed opening balance nothing is known. What is due now, or would be with the next minute flown, blocks;
// inside the programme's tolerance it advises; what counts by a counter that is not known, or was never recorded, is
// not known. Hours, landings, starts and hoist cycles left are told as limits when they could be used up in a day.
// Source: AMC M.A.301(a) 1(b): nothing overdue or becoming due during the flight. Limits of the sheet's programme.
import { above } from "../quantity/compare.ts";
import { endOfDate } from "../facts/calendar.ts";
import type { CraftState } from "../facts/craft.ts";
import { counterNames, positionKey } from "../facts/due.ts";
import type { ComponentFitted, ComponentRemoved, CounterName, Counters } from "../facts/due.ts";
import { lookAlikes } from "../facts/look-alikes.ts";
import { own } from "../facts/own.ts";
import type { ReasonCode } from "../facts/reason-codes.ts";
import type { Reason, Source } from "../facts/reason.ts";
import { keptByRecord } from "../facts/kept.ts";
import type { OperatorSettings, Situation } from "../facts/situation.ts";
import type { Component, Programme } from "../sheet/due-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { countersNow } from "./counters.ts";
import type { CountersNow } from "./counters.ts";
import { plannedPoint, pointAfter, withTolerance } from "./next-due.ts";
import type { DuePoint } from "./next-due.ts";

/** What could be used up in a day of flying: the fewer left, the more it is a limit of that day. */
export const aDaysUse: Counters = { flightHours_h: 24, landings: 100, starts: 40, hoistCycles: 50 };

/** One thing that runs out: from where it is planned, until where it may run, and what it takes away then. */
export type DueItem = {
  readonly key: string;
  readonly facts: Reason["facts"];
  readonly takesAway: Reason["operations"];
  readonly source: Source;
  readonly evidence: readonly string[];
} & (
  | { readonly known: true; readonly planned: DuePoint; readonly limit: DuePoint }
  | {
      readonly known: false;
      readonly code: "due.neverRecorded" | "due.removed" | "due.dateMissing" | "due.twice";
    }
);

const rule = { edition: "Reg. (EU) 1321/2014", cite: "AMC M.A.301(a) 1(b)" } as const;
const ruled: Source = { kind: "rule", rule: "M.A.301(a)", ...rule };
const byEngineer = { code: "due.do", clearance: "someone" } as const;

function isInstalled(state: CraftState, equipment: string | undefined): boolean {
  return (
    equipment === undefined || (own(state.equipment, equipment) ?? []).some(({ installed }) => installed)
  );
}

function taskItem(state: CraftState, task: Programme, index: number): DueItem {
  const history = own(state.due.done, task.id) ?? [];
  const item = {
    key: `programme#${task.id}`,
    facts: { task: task.id },
    takesAway: task.takesAway,
    source: { kind: "sheet", path: `programme[${index}]`, cite: task.source?.page ?? rule.cite },
    evidence: history.map(({ entry }) => entry),
  } as const;
  const planned = plannedPoint(history, task.interval);
  if (planned === null) return { ...item, known: false, code: "due.neverRecorded" };
  return { ...item, known: true, planned, limit: withTolerance(planned, task.tolerance) };
}

const isFitted = (fact: ComponentFitted | ComponentRemoved): fact is ComponentFitted => "serial" in fact;

/** What of a part ends: its life, the time since overhaul, the date that it bears itself. */
type PartEnd = "life" | "overhaul" | "marked";

/** The points of one serial number in the craft's own counters. */
function pointsOf(
  part: ComponentFitted,
  { life, overhaul }: Component,
): { readonly ends: PartEnd; readonly point: DuePoint }[] {
  const countedBack = (used: Counters): Counters =>
    Object.fromEntries(counterNames.map((name) => [name, part.craftCounters[name] - used[name]])) as Counters;
  const [ofLife, ofOverhaul] = [
    { counters: countedBack(part.sinceNew), on: part.newOn },
    { counters: countedBack(part.sinceOverhaul), on: part.overhauledOn ?? part.newOn },
  ];
  return [
    ...(life === undefined ? [] : [{ ends: "life", point: pointAfter(ofLife, life) } as const]),
    ...(overhaul === undefined
      ? []
      : [{ ends: "overhaul", point: pointAfter(ofOverhaul, overhaul) } as const]),
    ...(part.expiresOn === null
      ? []
      : [{ ends: "marked", point: { counters: {}, lastDay: part.expiresOn } } as const]),
  ];
}

function componentItems(state: CraftState, component: Component, index: number): DueItem[] {
  return component.positions.flatMap((_name, position): DueItem[] => {
    const key = positionKey(component.id, position);
    const held = own(state.due.components, key) ?? [];
    const item = {
      key: `component#${key}`,
      facts: { component: component.id, position },
      takesAway: component.takesAway,
      source: { kind: "sheet", path: `components[${index}]`, cite: component.source?.page ?? rule.cite },
      evidence: held.map(({ entry }) => entry),
    } as const;
    if (held.length === 0) return [{ ...item, known: false, code: "due.neverRecorded" }];
    const several: DueItem[] =
      held.length > 1 ? [{ ...item, key: `${item.key}#twice`, known: false, code: "due.twice" }] : [];
    return [
      ...several,
      ...held.flatMap((fact): DueItem[] => {
        if (!isFitted(fact)) return [{ ...item, known: false, code: "due.removed" }];
        const facts = { ...item.facts, serial: fact.serial };
        if (component.dated && fact.expiresOn === null)
          return [{ ...item, facts, known: false, code: "due.dateMissing" }];
        return pointsOf(fact, component).map(({ ends, point }, which) => ({
          ...item,
          key: `${item.key}#${fact.serial}#${which}`,
          facts: { ...facts, ends },
          known: true,
          planned: point,
          limit: point,
        }));
      }),
    ];
  });
}

function obligationItems(state: CraftState): DueItem[] {
  return Object.entries(state.due.obligations).flatMap(([id, held]) =>
    held
      .filter(({ settled }) => !settled)
      .map((fact): DueItem => {
        const point = { counters: fact.dueAt, lastDay: fact.lastDay };
        const item = {
          key: `obligation#${id}#${fact.entry}`,
          facts: { obligation: id, words: fact.words, kind: fact.kind },
          takesAway: fact.takesAway,
          source: ruled,
          evidence: [fact.entry],
        };
        const isBound = fact.lastDay !== null || Object.keys(fact.dueAt).length > 0;
        return isBound
          ? { ...item, known: true, planned: point, limit: point }
          : { ...item, known: false, code: "due.dateMissing" };
      }),
  );
}

function everyDueItem(sheet: Sheet, state: CraftState): readonly DueItem[] {
  return [
    ...sheet.programme.flatMap((task, index) =>
      isInstalled(state, task.equipment) ? [taskItem(state, task, index)] : [],
    ),
    ...sheet.components.flatMap((component, index) =>
      isInstalled(state, component.equipment) ? componentItems(state, component, index) : [],
    ),
    ...obligationItems(state),
  ];
}

const keptItems = keptByRecord<Sheet, null, readonly DueItem[]>(everyDueItem, () => "");

/** Everything that runs out on this craft, in the order of sheet and record. */
export function dueItems(sheet: Sheet, state: CraftState): readonly DueItem[] {
  return keptItems(sheet, state, null);
}

/** How much is left on each counter that binds: negative when it is past, null where the counter is not known. */
export function leftOf(
  point: DuePoint,
  now: CountersNow,
): readonly { readonly name: CounterName; readonly left: number | null }[] {
  return counterNames.flatMap((name) => {
    const at = point.counters[name];
    if (at === undefined) return [];
    const counted = now[name];
    return [{ name, left: counted === null ? null : at - counted }];
  });
}

function reasonFrom(item: DueItem, parts: Pick<Reason, "code" | "effect"> & Partial<Reason>): Reason {
  return {
    operations: item.takesAway,
    from_ms: null,
    until_ms: null,
    source: item.source,
    evidence: item.evidence,
    remedy: byEngineer,
    ...parts,
    facts: { ...item.facts, ...parts.facts },
  };
}

function knownReasons(
  item: DueItem & { known: true },
  now: CountersNow,
  { zone }: Pick<OperatorSettings, "zone">,
): Reason[] {
  const reasons: Reason[] = [];
  const limits = leftOf(item.limit, now);
  for (const { name, left } of limits) {
    if (left === null) {
      reasons.push(
        reasonFrom(item, {
          code: "due.counterNotKnown",
          effect: "unknown",
          remedy: { code: "due.record", clearance: "minute" },
          facts: { counter: name },
        }),
      );
    } else if (!above(left, 0)) {
      reasons.push(reasonFrom(item, { code: "due.over", effect: "blocks", facts: { counter: name, left } }));
    } else if (!above(left, aDaysUse[name])) {
      const limit = { quantity: name, value: left, stricter: "lower" } as const;
      const facts = { counter: name, left };
      reasons.push(reasonFrom(item, { code: "due.left", effect: "limits", limit, facts }));
    }
  }
  // Without a tolerance the planned point is the limit itself.
  const planned = item.planned === item.limit ? [] : leftOf(item.planned, now);
  for (const [at, { name, left }] of planned.entries()) {
    if (left === null || above(left, 0) || !above(limits[at]?.left ?? 0, 0)) continue;
    reasons.push(reasonFrom(item, { code: "due.inTolerance", effect: "advises", facts: { counter: name } }));
  }
  const { lastDay: last } = item.limit;
  if (last !== null && item.facts["kind"] === "mapData") {
    const parts = { code: "due.mapDataOld", effect: "advises", facts: { lastDay: last } } as const;
    reasons.push(reasonFrom(item, { ...parts, from_ms: endOfDate(last, zone) }));
  } else if (last !== null) {
    const over_ms = endOfDate(last, zone);
    reasons.push(
      reasonFrom(item, {
        code: "due.dateOver",
        effect: "blocks",
        from_ms: over_ms,
        facts: { lastDay: last },
      }),
    );
    const plannedLast = item.planned.lastDay;
    if (plannedLast !== null && plannedLast < last)
      reasons.push(
        reasonFrom(item, {
          code: "due.inTolerance",
          effect: "advises",
          from_ms: endOfDate(plannedLast, zone),
          until_ms: over_ms,
          facts: { counter: "date", lastDay: last },
        }),
      );
  }
  return reasons;
}

const allUnknown = (code: ReasonCode, evidence: readonly string[], facts: Reason["facts"] = {}): Reason => ({
  code,
  effect: "unknown",
  operations: "all",
  from_ms: null,
  until_ms: null,
  source: ruled,
  evidence,
  remedy: { code: "due.record", clearance: "someone" },
  facts,
});

/** Engineers' work recorded since the balance and not released since: M.A.801, 145.A.50. */
function releaseReasons(sheet: Sheet, { due, releases }: CraftState): Reason[] {
  const ofBalance = new Set(due.bases.map(({ entry }) => entry));
  const byEngineers = sheet.programme.filter(({ by }) => by === "engineer").map(({ id }) => id);
  const work = [
    ...byEngineers.flatMap((task) => own(due.done, task) ?? []),
    ...Object.values(due.components).flat(),
  ].filter(({ entry }) => !ofBalance.has(entry));
  const released_ms = Math.max(...releases.map(({ at_ms }) => at_ms));
  const open = work.filter(({ at_ms }) => !(released_ms >= at_ms));
  if (open.length === 0) return [];
  return [
    {
      ...allUnknown("due.noRelease", open.map(({ entry }) => entry).toSorted(), { count: open.length }),
      effect: "blocks",
      source: { kind: "rule", rule: "M.A.801", edition: rule.edition, cite: "M.A.801; 145.A.50" },
    },
  ];
}

function everyDueReason(
  sheet: Sheet,
  state: CraftState,
  settings: Pick<OperatorSettings, "zone">,
): readonly Reason[] {
  const items = dueItems(sheet, state);
  if (items.length === 0) return [];
  const now = countersNow(state);
  if (now === null) return [allUnknown("due.noBalance", [])];
  const overlaps = lookAlikes(state).flatMap(({ matter, one, other }): Reason[] =>
    matter === "flight"
      ? [
          {
            ...allUnknown("due.flightsOverlap", [one.entry, other.entry], { off_ms: other.off_ms }),
            remedy: { code: "lookAlike.decide", clearance: "minute" },
          },
        ]
      : [],
  );
  const reasons = items.flatMap((item) =>
    item.known
      ? knownReasons(item, now, settings)
      : [
          reasonFrom(item, {
            code: item.code,
            effect: item.code === "due.removed" ? "blocks" : "unknown",
            remedy: { code: "due.record", clearance: "someone" },
          }),
        ],
  );
  return [...overlaps, ...releaseReasons(sheet, state), ...notInSheet(sheet, state), ...reasons];
}

/** What was recorded of a task or a place that the sheet does not have: nothing counts by it, and somebody meant something. */
function notInSheet(sheet: Sheet, { due }: CraftState): Reason[] {
  const places = new Set(
    sheet.components.flatMap(({ id, positions }) =>
      positions.map((_name, position) => positionKey(id, position)),
    ),
  );
  const tasks = new Set(sheet.programme.map(({ id }) => id));
  const said = (what: string, entries: readonly { readonly entry: string }[]): Reason => ({
    ...allUnknown("due.notInSheet", entries.map(({ entry }) => entry).toSorted(), { what }),
    effect: "advises",
  });
  return [
    ...Object.entries(due.components).flatMap(([key, held]) => (places.has(key) ? [] : [said(key, held)])),
    ...Object.entries(due.done).flatMap(([task, held]) => (tasks.has(task) ? [] : [said(task, held)])),
  ];
}

const keptReasons = keptByRecord<Sheet, Pick<OperatorSettings, "zone">, readonly Reason[]>(
  everyDueReason,
  ({ zone }) => zone,
);

/** Reasons from everything that runs out. Those that begin beyond the horizon are left out: they change nothing before. */
export function assessDue(sheet: Sheet, state: CraftState, { settings, horizon_ms }: Situation): Reason[] {
  return keptReasons(sheet, state, settings).filter(
    ({ from_ms }) => from_ms === null || from_ms < horizon_ms,
  );
}
