// What does not add up about the readings and uplifts of a gauge, and whom it must be asked of.
//
// A question names what it rests on (entries) and, where it has one, the hour. It changes no number by itself; where an
// answer is needed before a number can be known, the trend says so (gauge-trend.ts). A question that somebody with the
// authority has settled, naming those entries, is not asked again.
import type { CraftState } from "../facts/craft.ts";
import { above } from "../quantity/compare.ts";
import type { Fluid, Gauge } from "../sheet/gauge-blocks.ts";
import type { GaugeSeries, SeriesPoint, SeriesUplift } from "./gauge-series.ts";
import type { GaugeTrend } from "./gauge-trend.ts";

export const levelQuestionCodes = [
  /** A fluid rose and nobody wrote an uplift. */
  "rose",
  /** Less is used than before: was something filled and not written? */
  "usesLess",
  /** A level between two marks rises lastingly: something runs in. */
  "runsIn",
  /** One gauge loses what another gains. */
  "passesOver",
  /** The level rose by another amount than was filled. */
  "upliftDisagrees",
  /** More was filled for the hours flown than the sheet's greatest consumption: abnormal, for maintenance to say. */
  "upliftHigh",
  "aboveCapacity",
  "gradeNotListed",
  "gradesMixed",
  "gradeNotKnown",
  /** Nobody said which of several gauges it went into. */
  "upliftNotPlaced",
  /** The sheet does not say by how much the gauge reads more for it. */
  "riseNotKnown",
  "upliftInFuture",
  "readingInFuture",
  /** A reading and an uplift at one instant: which came first? */
  "sameInstant",
  /** The hour meter lower than last time. */
  "hoursBack",
] as const;
export type LevelQuestionCode = (typeof levelQuestionCodes)[number];

export type LevelQuestion = {
  readonly code: LevelQuestionCode;
  readonly gauge: string;
  readonly hours_h: number | null;
  readonly evidence: readonly string[];
  readonly facts: Readonly<Record<string, string | number | null>>;
};

type Asked = Omit<LevelQuestion, "gauge">;

/** How many standard deviations of a difference of two readings are more than scatter. */
const beyond_sd = 4;

/** The questions about one gauge, those settled left out. */
export function levelQuestions(
  series: GaugeSeries,
  trend: GaugeTrend | null,
  fluid: Fluid | undefined,
  settled: CraftState["levelsSettled"],
): readonly LevelQuestion[] {
  const { gauge } = series;
  const asked: Asked[] = [
    ...aboutReadings(series),
    ...series.uplifts.flatMap((uplift) => aboutUplift(uplift, series, fluid)),
    ...aboutGrades(series, fluid),
    ...aboutUse(series),
    ...(trend === null ? [] : [...aboutTrend(gauge, trend), ...aboutRises(series, trend)]),
  ];
  const answered = settled.filter((word) => word.gauge === gauge.id && word.settles === "questions");
  return asked
    .filter(({ evidence }) => !answered.some(({ entries }) => evidence.every((id) => entries.includes(id))))
    .map((question) => ({ ...question, gauge: gauge.id }));
}

function aboutReadings({ points }: GaugeSeries): Asked[] {
  const about = (why: SeriesPoint["whyNot"][number], code: LevelQuestionCode): Asked[] =>
    points
      .filter(({ whyNot }) => whyNot.includes(why) && !whyNot.includes("withdrawn"))
      .map(({ reading, hours_h }) => ({
        code,
        hours_h,
        evidence: [reading.entry],
        facts: { typed: reading.typed, unit: reading.unit, at_ms: reading.at_ms },
      }));
  return [
    ...about("hoursBack", "hoursBack"),
    ...about("inFuture", "readingInFuture"),
    ...about("upliftAtSameInstant", "sameInstant"),
  ];
}

function aboutUplift(filled: SeriesUplift, series: GaugeSeries, fluid: Fluid | undefined): Asked[] {
  const { uplift, rise, hours_h } = filled;
  const say = (code: LevelQuestionCode, facts: Asked["facts"] = {}): Asked => ({
    code,
    hours_h,
    evidence: [uplift.entry],
    facts: { typed: uplift.typed, unit: uplift.unit, at_ms: uplift.at_ms, grade: uplift.grade, ...facts },
  });
  if (filled.inFuture) return [say("upliftInFuture")];
  const asked: Asked[] = [];
  if (uplift.gauge === null && rise === null) asked.push(say("upliftNotPlaced"));
  else if (rise === null) asked.push(say("riseNotKnown"));
  const last = series.points.findLast(({ reading }) => reading.at_ms < uplift.at_ms);
  const { capacity, trend } = series.gauge;
  const slack = beyond_sd * (trend?.scatter ?? 0);
  // What was filled between that reading and this uplift counts too.
  const before = last?.value == null ? 0 : last.value + filledBetween(series, last, uplift.at_ms);
  if (capacity !== undefined && rise !== null && before + rise > capacity + slack) {
    asked.push(say("aboveCapacity", { capacity, before }));
  }
  if (fluid !== undefined && uplift.grade === null) asked.push(say("gradeNotKnown"));
  if (fluid !== undefined && uplift.grade !== null && !fluid.grades.includes(uplift.grade))
    asked.push(say("gradeNotListed"));
  return asked;
}

/** Fewer flight hours say nothing of a rate: a reading error divided by a short flight (common practice: about 10 h). */
const least_h = 10;

/**
 * What was filled over the hours from one uplift to the last, where each brings the fluid to where the one before had
 * brought it; levels read before both correct that. AMC M.A.301(a) 2: the instructions say when an uplift is abnormal.
 */
function aboutUse(series: GaugeSeries): Asked[] {
  const most = series.gauge.consumptionMax_perHour;
  const counted = series.uplifts.flatMap(({ uplift, rise, hours_h, inFuture }) =>
    rise === null || hours_h === null || inFuture || uplift.at_ms < (series.from_ms ?? -Infinity)
      ? []
      : [{ uplift, rise, hours_h }],
  );
  const last = counted.at(-1);
  if (most === undefined || last === undefined) return [];
  // The latest that is far enough back: the newest rate that means something.
  const first = counted.findLast(({ hours_h }) => last.hours_h - hours_h >= least_h);
  if (first === undefined) return [];
  const since = counted.slice(counted.indexOf(first) + 1);
  const filled = since.reduce((sum, { rise }) => sum + rise, 0);
  const left = (at: (typeof counted)[number]): number | null => {
    const before = series.points.findLast(
      ({ reading, whyNot }) => reading.at_ms < at.uplift.at_ms && whyNot.length === 0,
    );
    return before?.value == null || before.hours_h !== at.hours_h ? null : before.value + at.rise;
  };
  const [was, is] = [left(first), left(last)];
  const used = filled + (was === null || is === null ? 0 : was - is);
  const flown_h = last.hours_h - first.hours_h;
  if (!above(used / flown_h, most)) return [];
  return [
    {
      code: "upliftHigh",
      hours_h: last.hours_h,
      evidence: [first, ...since].map(({ uplift }) => uplift.entry),
      facts: { perHour: used / flown_h, most, flown_h, unit: series.gauge.unit, at_ms: last.uplift.at_ms },
    },
  ];
}

function filledBetween({ uplifts }: GaugeSeries, { reading }: SeriesPoint, until_ms: number): number {
  return uplifts
    .filter(({ uplift }) => uplift.at_ms > reading.at_ms && uplift.at_ms < until_ms)
    .reduce((sum, { rise }) => sum + (rise ?? 0), 0);
}

function aboutGrades({ uplifts }: GaugeSeries, fluid: Fluid | undefined): Asked[] {
  if (fluid === undefined || fluid.mixable) return [];
  const graded = uplifts.filter(({ uplift }) => uplift.grade !== null);
  const first = graded[0]?.uplift.grade;
  return graded
    .filter(({ uplift }) => uplift.grade !== first)
    .slice(0, 1)
    .map(({ uplift, hours_h }) => ({
      code: "gradesMixed" as const,
      hours_h,
      evidence: [graded[0]!.uplift.entry, uplift.entry],
      facts: { grade: uplift.grade, first: first ?? null, at_ms: uplift.at_ms },
    }));
}

function aboutTrend(gauge: Gauge, { rise, watch, points, turn }: GaugeTrend): Asked[] {
  const since = (hour_h: number): string[] =>
    points.filter(({ hours_h }) => hours_h >= hour_h).map(({ point }) => point.reading.entry);
  if (rise !== null) {
    const evidence = points
      .filter(({ hours_h }) => hours_h === rise.hours_h)
      .map((at) => at.point.reading.entry);
    return [
      { code: "rose", hours_h: rise.hours_h, evidence, facts: { by: turn * rise.by, unit: gauge.unit } },
    ];
  }
  const alarm = watch?.alarm;
  if (gauge.fluid === undefined || alarm?.kind !== "slower") return [];
  const runsIn = gauge.worse === "both" && (alarm.rate?.perHour ?? 0) < 0;
  const facts = { since_h: alarm.since_h, perHour: alarm.rate?.perHour ?? null, unit: gauge.unit };
  return [
    {
      code: runsIn ? "runsIn" : "usesLess",
      hours_h: alarm.since_h,
      // By its first reading: later ones do not make it another question.
      evidence: since(alarm.since_h).slice(0, 1),
      facts,
    },
  ];
}

/** Where the readings just before and just after uplifts tell of another amount than was written. */
function aboutRises({ uplifts }: GaugeSeries, { points, plan, watch, turn }: GaugeTrend): Asked[] {
  const limit = beyond_sd * Math.SQRT2 * (watch?.scatter ?? plan.scatter);
  const recent = points.filter(({ hours_h }) => hours_h >= (points.at(-1)?.hours_h ?? 0) - plan.window_h);
  return recent.flatMap((after, index): Asked[] => {
    const before = recent[index - 1];
    if (before === undefined || after.point.added === before.point.added) return [];
    const used = (watch?.normal.perHour ?? 0) * (after.hours_h - before.hours_h);
    const missing = turn * (before.level - used - after.level);
    if (Math.abs(missing) <= limit) return [];
    const between = uplifts.filter(
      ({ uplift }) => uplift.at_ms > before.point.reading.at_ms && uplift.at_ms < after.point.reading.at_ms,
    );
    const filled = after.point.added - before.point.added;
    return [
      {
        code: "upliftDisagrees",
        hours_h: after.hours_h,
        evidence: [...between.map(({ uplift }) => uplift.entry), after.point.reading.entry],
        facts: { filled, seen: filled - missing, at_ms: after.point.reading.at_ms },
      },
    ];
  });
}

/** Pairs of gauges of which one loses what the other gains: a fall that is faster than normal beside a rise. */
export function passesOver(
  gauges: readonly {
    readonly gauge: Gauge;
    readonly trend: GaugeTrend | null;
    readonly questions: readonly LevelQuestion[];
  }[],
): readonly LevelQuestion[] {
  const gaining = gauges.flatMap(({ gauge, questions }) =>
    questions
      .filter(({ code }) => code === "rose" || code === "runsIn")
      .map((question) => ({ gauge, question })),
  );
  const losing = gauges.filter(
    ({ gauge, trend }) => gauge.fluid !== undefined && trend?.watch?.alarm?.kind === "faster",
  );
  return gaining.flatMap(({ gauge, question }) =>
    losing
      .filter(({ gauge: other }) => other.id !== gauge.id)
      .map(({ gauge: other, trend }) => ({
        ...question,
        code: "passesOver" as const,
        facts: { from: other.id, to: gauge.id, since_h: trend!.watch!.alarm!.since_h },
      })),
  );
}
