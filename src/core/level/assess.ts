// Assesses the gauges of a craft: what was last read against its limits, how old that is, and what the trend says.
//
//   withdrawn                the latest reading was taken back as mistyped: as if never read, until it is read again
//   below, above, notKnown   the latest reading against the sheet's limits; outside it notes, asks or stops as the sheet says
//   missing                  never read, and an operation needs it: unknown
//   stale                    an operation needs it and its time is over: the hours that the sheet gives, or the end of the
//                            operator's day on which it was read; unknown, from that instant on. Not told of a gauge that
//                            every full walk reads, for operations that need one: there no valid walk is without it
//   mayBeBelow               flown since it was read, and by the pessimistic forecast it may be past its mark: unknown
//   consumptionHigh          more than the sheet's greatest consumption: as the sheet says for outside where the whole
//                            interval is above it, unknown where the rate itself is
//   addNow                   today's likely hours may bring it to its mark: advises
//   faster, slower           the watch has an alarm: advises, an engineer looks
//   comparableDue            no comparable reading for so many flight hours: advises
//   asked                    something does not add up; a grade that must not be mixed and an uplift above the greatest
//                            consumption make it unknown, the rest advises
import type { CraftState, ReadingFact } from "../facts/craft.ts";
import { endOfDayAt } from "../facts/calendar.ts";
import { hour_ms } from "../facts/instant.ts";
import { own } from "../facts/own.ts";
import type { Effect, OperationId, Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import { above, below } from "../quantity/compare.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { craftLevels, type CraftLevels, type GaugeLevels, latestPoint, likelyHours } from "./craft-levels.ts";
import type { LevelQuestion, LevelQuestionCode } from "./level-questions.ts";
import { readingVerdict } from "./reading-verdict.ts";

const effectOutside: Readonly<Record<Gauge["ifOutside"], Effect>> = {
  note: "advises",
  ask: "unknown",
  stop: "blocks",
};

/** The readings that count now: those of the latest instant at which the gauge was read (two people may have read it apart). */
export function latestReadings(
  state: CraftState,
  gauge: string,
  until_ms = Number.POSITIVE_INFINITY,
): readonly ReadingFact[] {
  const held = (own(state.readings, gauge) ?? []).filter(({ at_ms }) => at_ms <= until_ms);
  const latest_ms = Math.max(...held.map(({ at_ms }) => at_ms));
  return held.filter(({ at_ms }) => at_ms === latest_ms);
}

/** Reasons from the gauges that this craft has. */
export function assessLevels(sheet: Sheet, state: CraftState, situation: Situation): Reason[] {
  const levels = craftLevels(sheet, state, situation.now_ms);
  const judged = levels.gauges.map((one) => ({ one, needing: operationsNeeding(sheet, one.gauge.id) }));
  return [
    ...judged.flatMap(({ one, needing }) => aboutReading(one, needing, state, situation.now_ms)),
    ...judged.flatMap(({ one, needing }) => aboutLevelNow(one, needing, levels)),
    ...judged.flatMap(({ one }) => aboutTrend(one, state, situation)),
    ...judged.flatMap(({ one }) => one.questions.map((question) => aboutQuestion(one, question))),
    ...aboutAge(
      judged.filter(({ one, needing }) => !isReadByWalk(sheet, one.gauge, needing)),
      state,
      situation,
    ),
    ...aboutComparable(levels),
  ];
}

function operationsNeeding(sheet: Sheet, gauge: string): readonly OperationId[] {
  return sheet.operations.filter(({ needs }) => needs.gauges.includes(gauge)).map(({ id }) => id);
}

type Shared = Pick<Reason, "from_ms" | "until_ms" | "source">;

function shared({ gauge, index }: Pick<GaugeLevels, "gauge" | "index">, key = ""): Shared {
  const path = `gauges[${index}]${key === "" ? "" : `.${key}`}`;
  return {
    from_ms: null,
    until_ms: null,
    source: { kind: "sheet", path, cite: gauge.source?.page ?? null },
  };
}

/** What lies in the future does not take the place of what was read, but it is judged too. */
function aboutReading(
  one: GaugeLevels,
  needing: readonly OperationId[],
  state: CraftState,
  now_ms: number,
): Reason[] {
  const latest = latestReadings(state, one.gauge.id, now_ms);
  const future = (own(state.readings, one.gauge.id) ?? []).filter(({ at_ms }) => at_ms > now_ms);
  const outside = [...latest, ...future].flatMap((reading) => readingReason(one, needing, reading));
  if (latest.length > 0 || needing.length === 0) return outside;
  return [
    ...outside,
    {
      ...shared(one),
      code: "level.missing",
      effect: "unknown",
      operations: needing,
      evidence: [],
      remedy: { code: "level.read", clearance: "minute" },
      facts: { gauge: one.gauge.id },
    },
  ];
}

function readingReason(one: GaugeLevels, needing: readonly OperationId[], reading: ReadingFact): Reason[] {
  const { gauge } = one;
  const evidence = [reading.entry];
  const facts = { gauge: gauge.id, value: reading.value, unit: reading.unit, typed: reading.typed };
  const verdict = readingVerdict(gauge, reading);
  if (reading.withdrawn !== undefined) {
    // Where it stood against its limits nobody knows now; a level that was outside may still be.
    const isNeeded = needing.length > 0 || verdict.is !== "inside";
    return [
      {
        ...shared(one),
        evidence: [...evidence, reading.withdrawn.entry],
        code: "level.withdrawn",
        effect: isNeeded ? "unknown" : "advises",
        operations: verdict.is === "inside" && needing.length > 0 ? needing : "all",
        remedy: { code: "level.read", clearance: "minute" },
        facts: { gauge: gauge.id, typed: reading.typed, unit: reading.unit },
      },
    ];
  }
  if (verdict.is === "inside") return [];
  if (verdict.is === "notKnown") {
    return [
      {
        ...shared(one),
        evidence,
        code: "level.notKnown",
        effect: "unknown",
        operations: needing.length > 0 ? needing : "all",
        remedy: { code: "level.readAgain", clearance: "minute" },
        facts: { ...facts, why: verdict.why },
      },
    ];
  }
  return [
    {
      ...shared(one),
      evidence,
      code: verdict.is === "below" ? "level.below" : "level.above",
      effect: effectOutside[gauge.ifOutside],
      operations: "all",
      remedy:
        gauge.ifOutside === "stop"
          ? { code: "level.toEngineer", clearance: "someone" }
          : { code: "level.fillOrAsk", clearance: "ten" },
      facts: { ...facts, compared: verdict.compared, limit: verdict.limit },
    },
  ];
}

/** Flown since it was read: it may have passed its mark meanwhile. */
function aboutLevelNow(
  one: GaugeLevels,
  needing: readonly OperationId[],
  { hours_h }: CraftLevels,
): Reason[] {
  const latest = latestPoint(one.series);
  const { left, gauge } = one;
  if (left?.pessimistic_h !== 0 || latest === null || latest.hours_h === null || hours_h === null) return [];
  const flown_h = hours_h - latest.hours_h;
  if (!above(flown_h, 0) || flown_h < 1e-6) return [];
  return [
    {
      ...shared(one, left.by === "trend" ? "trend" : "consumptionMax_perHour"),
      code: "level.mayBeBelow",
      effect: "unknown",
      operations: needing.length > 0 ? needing : "all",
      evidence: [latest.reading.entry],
      remedy: { code: "level.read", clearance: "minute" },
      facts: {
        gauge: gauge.id,
        flown_h,
        typed: latest.reading.typed,
        unit: gauge.unit,
        by: left.by,
        mark: left.mark,
      },
    },
  ];
}

function aboutTrend(one: GaugeLevels, state: CraftState, situation: Situation): Reason[] {
  return [...aboutConsumption(one), ...aboutAlarm(one), ...aboutAdding(one, state, situation)];
}

function evidenceOf({ trend }: GaugeLevels, from_h: number): readonly string[] {
  return (trend?.points ?? [])
    .filter(({ hours_h }) => hours_h >= from_h)
    .map(({ point }) => point.reading.entry)
    .slice(-50);
}

function aboutConsumption(one: GaugeLevels): Reason[] {
  const { gauge, trend } = one;
  const most = gauge.consumptionMax_perHour;
  if (most === undefined || trend?.line == null) return [];
  const { rate, from_h } = trend.line;
  if (!above(rate.perHour, most)) return [];
  const surely = above(rate.low, most);
  return [
    {
      ...shared(one, "consumptionMax_perHour"),
      code: "level.consumptionHigh",
      effect: surely || gauge.ifOutside === "note" ? effectOutside[gauge.ifOutside] : "unknown",
      operations: "all",
      evidence: evidenceOf(one, from_h),
      remedy: { code: "level.toEngineer", clearance: "someone" },
      facts: { gauge: gauge.id, unit: gauge.unit, ...rate, most, from_h },
    },
  ];
}

function aboutAlarm(one: GaugeLevels): Reason[] {
  const { gauge, trend } = one;
  const alarm = trend?.watch?.alarm;
  // A fluid that falls more slowly is asked about, not told.
  if (alarm == null || alarm.kind === "slower") return [];
  return [
    {
      ...shared(one, "trend"),
      code: "level.faster",
      effect: "advises",
      operations: "all",
      evidence: evidenceOf(one, alarm.since_h),
      remedy: { code: "level.tellEngineer", clearance: "someone" },
      facts: {
        gauge: gauge.id,
        unit: gauge.unit,
        since_h: alarm.since_h,
        normal: trend!.watch!.normal.perHour,
        perHour: alarm.rate?.perHour ?? null,
        chanceEvery_h: alarm.chanceEvery_h,
        readings: alarm.readings,
        used: gauge.fluid !== undefined,
      },
    },
  ];
}

function aboutAdding(one: GaugeLevels, state: CraftState, { now_ms, settings }: Situation): Reason[] {
  const { gauge, left, trend } = one;
  const plan = gauge.trend;
  if (plan === undefined || left?.pessimistic_h == null) return [];
  const today_h = likelyHours(state.flights, plan.busyDay_h, now_ms, settings.zone);
  if (!below(left.pessimistic_h, today_h)) return [];
  const fills = gauge.fluid !== undefined && left.mark === "low";
  const latest = latestPoint(one.series);
  return [
    {
      ...shared(one, "trend"),
      code: fills ? "level.addNow" : "level.nearsMark",
      effect: "advises",
      operations: "all",
      evidence: trend?.line == null ? [latest!.reading.entry] : evidenceOf(one, trend.line.from_h),
      remedy: fills
        ? { code: "level.add", clearance: "ten" }
        : { code: "level.tellEngineer", clearance: "someone" },
      facts: {
        gauge: gauge.id,
        expected_h: left.expected_h,
        pessimistic_h: left.pessimistic_h,
        today_h,
        by: left.by,
        unit: gauge.unit,
      },
    },
  ];
}

const forbidding: ReadonlySet<LevelQuestionCode> = new Set(["gradeNotListed", "gradesMixed", "upliftHigh"]);

function aboutQuestion(one: GaugeLevels, { code, evidence, hours_h, facts }: LevelQuestion): Reason {
  const forbids = forbidding.has(code);
  return {
    ...shared(one),
    code: "level.asked",
    effect: forbids ? "unknown" : "advises",
    operations: "all",
    evidence,
    remedy: forbids
      ? { code: "level.toEngineer", clearance: "someone" }
      : { code: "level.answer", clearance: "minute" },
    facts: { ...facts, gauge: one.gauge.id, question: code, hours_h },
  };
}

type Judged = { readonly one: GaugeLevels; readonly needing: readonly OperationId[] };

/** Whether no full walk is valid without a reading of the gauge, and each of the operations needs one. */
function isReadByWalk(sheet: Sheet, gauge: Gauge, needing: readonly OperationId[]): boolean {
  if (gauge.counts_h !== undefined) return false;
  const asGauge = JSON.stringify(gauge.applies ?? null);
  return (
    sheet.operations.every(({ id, needs }) => !needing.includes(id) || needs.walks.includes("full")) &&
    sheet.items.some(
      ({ reads, walks, applies }) =>
        reads === gauge.id &&
        walks.includes("full") &&
        (applies === undefined || JSON.stringify(applies) === asGauge),
    )
  );
}

/** Readings whose time is over or will be, together where they end at one instant for the same operations. */
function aboutAge(
  judged: readonly Judged[],
  state: CraftState,
  { now_ms, horizon_ms, settings }: Situation,
): Reason[] {
  const ending = judged.flatMap(({ one, needing }) => {
    const [latest] = latestReadings(state, one.gauge.id, now_ms);
    if (latest === undefined || needing.length === 0) return [];
    const { counts_h } = one.gauge;
    const ends_ms =
      counts_h === undefined ? endOfDayAt(latest.at_ms, settings.zone) : latest.at_ms + counts_h * hour_ms;
    return ends_ms >= horizon_ms
      ? []
      : [{ one, needing, latest, from_ms: ends_ms <= now_ms ? null : ends_ms }];
  });
  const groups = Map.groupBy(ending, ({ needing, from_ms }) => `${from_ms} ${needing.join(" ")}`);
  return [...groups.values()].map((group): Reason => {
    const [{ one, needing, from_ms }] = group as [(typeof group)[number]];
    return {
      ...shared(one),
      from_ms,
      code: "level.stale",
      effect: "unknown",
      operations: needing,
      evidence: group.map(({ latest }) => latest.entry),
      remedy: { code: "level.read", clearance: "minute" },
      facts: {
        gauges: group.map((each) => each.one.gauge.id).join(" "),
        count: group.length,
        oldest_ms: Math.min(...group.map(({ latest }) => latest.at_ms)),
      },
    };
  });
}

/** Gauges that are followed and have had no comparable reading for too many flight hours, in one reason. */
function aboutComparable({ gauges, hours_h }: CraftLevels): Reason[] {
  const due = gauges.flatMap((one) => {
    const { trend, series } = one;
    if (trend === null || series.points.length === 0 || hours_h === null) return [];
    const last_h = trend.points.at(-1)?.hours_h ?? null;
    if (last_h !== null && hours_h - last_h <= trend.plan.readEvery_h) return [];
    return [{ one, last_h, evidence: series.points.at(-1)!.reading.entry }];
  });
  const [first] = due;
  if (first === undefined) return [];
  return [
    {
      ...shared(first.one, "trend.readEvery_h"),
      code: "level.comparableDue",
      effect: "advises",
      operations: "all",
      evidence: [...new Set(due.map(({ evidence }) => evidence))],
      remedy: { code: "level.readComparable", clearance: "time" },
      facts: { gauges: due.map(({ one }) => one.gauge.id).join(" "), count: due.length },
    },
  ];
}
