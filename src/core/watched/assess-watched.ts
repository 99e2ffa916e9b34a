// Assesses watched findings: they are measured again in time, and their growth tells when they would pass their limit.
// That they are watched, and looked at on every launch walk, is said elsewhere (finding/assess.ts, walk/plan.ts).
//
// Measuring again is due so many days or flight hours after the later of the last measure and the judgement, by the
// sheet's band or as the judgement states, whichever is sooner. Once overdue nobody knows its size: not known. Growth
// forbids where its line is at the limit already: the expected value, since the interval of three measures is too wide to
// forbid by; its early end is told (decisions/0101).
import { airframeHours } from "../level/airframe-hours.ts";
import { dateAt, dateLater, endOfDate } from "../facts/calendar.ts";
import type { CraftState, FindingFacts, Judgement } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import { above } from "../quantity/compare.ts";
import type { Sheet } from "../sheet/schema.ts";
import { againOf, bandOf, soonerAgain } from "../finding/bands.ts";
import { measureIt, type Parts, reasonOf } from "../finding/finding-reason.ts";
import { isClosed, judgementBy } from "../finding/judgement.ts";
import { type Growth, growthOf } from "./growth.ts";

/** When a watched finding is to be measured again; null parts where nothing is stated. */
export type MeasureDue = {
  readonly lastDay: string | null;
  readonly lapses_ms: number | null;
  /** Flight hours left; 0 once due. */
  readonly left_h: number | null;
  /** Hours are stated and the airframe's are not known. */
  readonly hoursUnknown: boolean;
};

export function measureDue(
  sheet: Sheet,
  state: CraftState,
  finding: FindingFacts,
  judgement: Judgement,
  { now_ms, settings: { zone } }: Pick<Situation, "now_ms" | "settings">,
): MeasureDue {
  const found = bandOf(sheet, finding);
  const again = soonerAgain(judgement.again, found.kind === "band" ? againOf(found.band) : null);
  const clock = airframeHours(sheet, state);
  const last = finding.measured.toSorted((a, b) => a.at_ms - b.at_ms).at(-1);
  const looked_ms = Math.max(judgement.at_ms, last?.at_ms ?? -Infinity);
  const lookedAt_h = (last?.at_ms === looked_ms ? last.hours_h : null) ?? clock(looked_ms);
  const nowAt_h = clock(now_ms);
  const { days = null, flight_h = null } = again ?? {};
  const lastDay = days === null ? null : dateLater(dateAt(looked_ms, zone), { days });
  const known = lookedAt_h !== null && nowAt_h !== null;
  return {
    lastDay,
    lapses_ms: lastDay === null ? null : endOfDate(lastDay, zone),
    left_h: flight_h === null || !known ? null : hoursTo(flight_h, nowAt_h - lookedAt_h),
    hoursUnknown: flight_h !== null && !known,
  };
}

/** Hours left of so many, after so many flown; 0 on the limit and beyond. */
function hoursTo(of_h: number, flown_h: number): number {
  return above(of_h, flown_h) ? of_h - flown_h : 0;
}

/** Reasons from every open finding that stands under the judgement "watch". */
export function assessWatched(sheet: Sheet, state: CraftState, situation: Situation): Reason[] {
  return Object.values(state.findings).flatMap((finding) => {
    const judgement = isClosed(sheet, finding) ? null : judgementBy(sheet, finding);
    return judgement?.outcome === "watch" ? watchReasons(sheet, state, situation, finding, judgement) : [];
  });
}

function watchReasons(
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  finding: FindingFacts,
  judgement: Judgement,
): Reason[] {
  const say = (parts: Parts): Reason => reasonOf(finding, { remedy: measureIt, ...parts });
  const due = measureDue(sheet, state, finding, judgement, situation);
  const { lastDay, lapses_ms, left_h } = due;
  const facts = { lastDay, left_h };
  const reasons: Reason[] = [];
  if (lapses_ms !== null)
    reasons.push(say({ code: "finding.measureDue", effect: "unknown", from_ms: lapses_ms, facts }));
  if (due.hoursUnknown || left_h === 0)
    reasons.push(say({ code: "finding.measureDue", effect: "unknown", facts }));
  else if (left_h !== null) reasons.push(hoursLeft(say, "finding.measureLeft", left_h, {}));
  const growth = growthOf(sheet, state, finding);
  return growth === null ? reasons : [...reasons, ...growthReasons(growth, sheet, state, situation, say)];
}

function hoursLeft(
  say: (parts: Parts) => Reason,
  code: "finding.measureLeft" | "finding.grows",
  value: number,
  facts: Reason["facts"],
): Reason {
  const limit = { quantity: "flightHours_h", value, stricter: "lower" } as const;
  return say({ code, effect: "limits", limit, facts: { ...facts, left_h: value } });
}

/** What is told of growth: its limit, its rate, and how far it is. Only where it grows towards a limit. */
function growthReasons(
  growth: Growth,
  sheet: Sheet,
  state: CraftState,
  { now_ms }: Situation,
  say: (parts: Parts) => Reason,
): Reason[] {
  const { expected, earliest, limit, unit, by, last, rate } = growth;
  if (limit === null || expected === null || !(rate.value > 0)) return [];
  const facts = { limit, unit, by, value: last.value, rate: rate.value, expected, earliest };
  if (by === "days") {
    // Whole milliseconds, the earlier ones.
    const passes_ms = Math.floor(last.at_ms + expected * 24 * hour_ms);
    return [
      say({ code: "finding.grows", effect: "advises", until_ms: passes_ms, facts }),
      say({ code: "finding.mayBePast", effect: "unknown", from_ms: passes_ms, facts }),
    ];
  }
  const now_h = airframeHours(sheet, state)(now_ms);
  const left_h = now_h === null || last.hours_h === null ? null : hoursTo(expected, now_h - last.hours_h);
  return left_h === null || left_h === 0
    ? [say({ code: "finding.mayBePast", effect: "unknown", facts })]
    : [hoursLeft(say, "finding.grows", left_h, facts)];
}
