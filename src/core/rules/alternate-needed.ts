// Whether the US rules ask for an alternate on an IFR flight of a helicopter, by the forecast about the time of arrival.
//
// 14 CFR 91.169, as quoted in the FAA Instrument Procedures Handbook, chapter 7 [text]: none where, from the estimated time
// of arrival until one hour after it, the ceiling is at least 1,000 ft above the airport or 400 ft above the lowest applicable
// approach minimum, whichever is higher, and the visibility at least 2 statute miles. 14 CFR 135.223(b) [text]: none where,
// from one hour before until one hour after, the ceiling is at least 1,500 ft above the lowest circling minimum descent
// altitude, or without circling 1,500 ft above the lowest minimum or 2,000 ft above the airport, whichever is higher, and the
// visibility at least 3 statute miles or 2 more than the lowest minimum, whichever is greater. Heights in feet above the
// airport, visibilities in metres. A value that nobody knows asks for the alternate; on a limit none is needed. Checked in published/fuel.test.ts.
import { describe, refuse } from "../quantity/refusal.ts";
import { atLeast } from "../quantity/compare.ts";
import type { Citation } from "./cited.ts";
import { statuteMile_m } from "./us-minima.ts";

export const usParts = ["91", "135"] as const;
export type UsPart = (typeof usParts)[number];

export type AlternateQuestion = {
  readonly part: UsPart;
  /** The least of the forecast in the part's window; null: not known. Infinity: no ceiling. */
  readonly ceiling_ft: number | null;
  readonly visibility_m: number | null;
  /** Of the lowest approach that may be flown: its height above the airport, and its visibility. */
  readonly lowest_ft: number;
  readonly lowest_m: number;
  /** The lowest circling minimum above the airport; null where no circling is published. Part 135 alone asks. */
  readonly circling_ft: number | null;
};

export type AlternateAnswer = {
  readonly needed: boolean;
  readonly ceilingFrom_ft: number;
  readonly visibilityFrom_m: number;
  /** The window about the time of arrival, in minutes before and after it. */
  readonly window_min: { readonly before: number; readonly after: number };
  readonly citation: Citation;
};

export function alternateNeeded(question: AlternateQuestion): AlternateAnswer {
  const { part, ceiling_ft, visibility_m, lowest_ft, lowest_m, circling_ft } = question;
  for (const [path, value] of Object.entries({ ceiling_ft, visibility_m, lowest_ft, lowest_m, circling_ft }))
    if (value !== null && !(value >= 0))
      refuse(path, "outsideDomain", describe(value), "a number of at least 0");
  const from =
    part === "91"
      ? { ceilingFrom_ft: Math.max(1_000, lowest_ft + 400), visibilityFrom_m: 2 * statuteMile_m }
      : {
          ceilingFrom_ft: circling_ft === null ? Math.max(lowest_ft + 1_500, 2_000) : circling_ft + 1_500,
          visibilityFrom_m: Math.max(3 * statuteMile_m, lowest_m + 2 * statuteMile_m),
        };
  const isEnough =
    ceiling_ft !== null &&
    visibility_m !== null &&
    atLeast(ceiling_ft, from.ceilingFrom_ft) &&
    atLeast(visibility_m, from.visibilityFrom_m);
  return {
    needed: !isEnough,
    ...from,
    window_min: { before: part === "91" ? 0 : 60, after: 60 },
    citation: {
      cite: part === "91" ? "14 CFR 91.169" : "14 CFR 135.223(b)",
      edition: "as stored 2025",
      status: "text",
    },
  };
}
