// Duty and rest. In the EU helicopter duty is national law (Reg. (EU) 965/2012 Art. 8; the common scheme is for
// aeroplanes), so the figures are the operator's; the US federal rules are built in.
//
// 14 CFR 135.267 (text): 10 h of rest in the 24 h before the planned completion, a regular duty period of at most 14 h,
// 8 h of flying in any 24 h with one pilot and 10 h with two, longer rest after exceeding; 500, 800, 1400 h.
// 14 CFR 135.271 (text): air ambulance assignments, 8 h of rest in any 24 h, at most 72 h, then 12 h of rest, or 16 h.
// Exactly 48 h is in neither sentence of (h): the longer rest is taken. Checked in published/crew.test.ts.
import { hour_ms } from "../facts/instant.ts";

export type DutyFigures = { readonly duty_h: number; readonly rest_h: number; readonly cite: string };

export const usDuty = { duty_h: 14, rest_h: 10, cite: "14 CFR 135.267" } as const satisfies DutyFigures;

/** A hospital assignment: 135.271(b)(e); the 8 h of rest in any 24 h of it are the operator's to plan. */
export const usAssignmentDuty = {
  duty_h: 72,
  rest_h: 10,
  cite: "14 CFR 135.271",
} as const satisfies DutyFigures;

/** Flight hours at most in 24 h, in a quarter, in two, in a calendar year: 135.267(a)(b). */
export const usFlightHours = {
  onePilotIn24h: 8,
  twoPilotsIn24h: 10,
  quarter: 500,
  twoQuarters: 800,
  year: 1400,
  quarterRestPeriods: 13,
} as const;

/** Rest after exceeding the hours of 135.267(b) by so many minutes: (f). Nothing was exceeded at 0. */
export function usRestAfterExceeding(over_min: number): number | null {
  if (!(over_min > 0)) return null;
  return over_min <= 30 ? 11 : over_min <= 60 ? 12 : 16;
}

export const usAssignment = { atMost_h: 72, restInAny24_h: 8, cite: "14 CFR 135.271" } as const;

/** Rest after an assignment of so many hours: 135.271(h). */
export function usRestAfterAssignment(assigned_h: number): number {
  return assigned_h < 48 ? 12 : 16;
}

/** Instants that decide a duty: when it must end at the latest, and whether the rest before it was enough. */
export function judgeDuty(
  { from_ms, lastDutyEnd_ms }: { readonly from_ms: number; readonly lastDutyEnd_ms: number },
  { duty_h, rest_h }: DutyFigures,
): { readonly latest_ms: number; readonly rested_h: number; readonly isRested: boolean } {
  const rested_h = (from_ms - lastDutyEnd_ms) / hour_ms;
  return { latest_ms: from_ms + duty_h * hour_ms, rested_h, isRested: rested_h >= rest_h };
}
