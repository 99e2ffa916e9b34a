// The last day of a deferral. In: the instant at which the defect was recorded, the operator's zone, the category.
// Out: dates in that zone and the instant at which the deferral lapses.
//
// B 3, C 10, D 120 consecutive calendar days, the day of recording excluded; A as many days as the operator's list
// says. A calendar day runs from midnight to midnight in the zone that the operator selected, so it may last 23 or 25 h.
// Source: FAA Policy Letter 25 Rev 24, pp. 5 and 7; EASA CS-MMEL, CS MMEL.105 (figures of the EU text from memory).
// Checked against the printed example of that letter and the computed dates in published/deferral.test.ts.
// Refuses (RangeError): category A without days, or days that are not a whole number of 1 or more.
import { dateAt, dateLater, endOfDate } from "../facts/calendar.ts";
import type { ZoneId } from "../facts/calendar.ts";
import type { DeferralCategory } from "../rules/deferral-rules.ts";

const intervalDays: Readonly<Record<Exclude<DeferralCategory, "A">, number>> = { B: 3, C: 10, D: 120 };

export const deferralCite = "FAA Policy Letter 25 Rev 24, p. 7; CS MMEL.105";

export type DeferralDeadline = {
  /** First counted day and last day, YYYY-MM-DD in the zone. */
  readonly firstDay: string;
  readonly lastDay: string;
  /** The deferral no longer holds from this instant on. */
  readonly expires_ms: number;
};

export function deferralDeadline(
  recorded_ms: number,
  zone: ZoneId,
  category: DeferralCategory,
  days?: number,
): DeferralDeadline {
  const interval = category === "A" ? days : intervalDays[category];
  if (interval === undefined || !Number.isInteger(interval) || interval < 1) {
    throw new RangeError(
      `a deferral of category ${category} needs a whole number of days, found ${String(days)}`,
    );
  }
  const recorded = dateAt(recorded_ms, zone);
  const lastDay = dateLater(recorded, { days: interval });
  return {
    firstDay: dateLater(recorded, { days: 1 }),
    lastDay,
    expires_ms: endOfDate(lastDay, zone),
  };
}
