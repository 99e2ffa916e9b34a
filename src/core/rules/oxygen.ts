// Oxygen above 10,000 ft: how long a flight may be there without any, by the rule set. Pressure altitudes.
//
// CAT.OP.MPA.285 (memory): above 10,000 ft an oxygen plan. SPA.HEMS.110(d) (text): by day a HEMS flight may go without up to
// 16,000 ft, for at most 30 minutes above 10,000 ft in a mission. Nothing else is let off: no source for more was seen, and
// the US figures were not seen at all, so that above 10,000 ft oxygen is asked for there from the first minute.
import { above } from "../quantity/compare.ts";
import type { RuleSetId } from "./cited.ts";

/** Above this an oxygen plan is needed. */
export const oxygenFrom_ft = 10_000;
const excursionTo_ft = 16_000;
const excursion_min = 30;

export type OxygenQuestion = {
  readonly ruleSet: RuleSetId;
  /** Flown under the operator's approval for HEMS. */
  readonly isHems: boolean;
  readonly light: "day" | "night";
  /** The highest of the flight. */
  readonly highest_ft: number;
};

/** Minutes above 10,000 ft that need no oxygen. */
export function minutesWithout({ ruleSet, isHems, light, highest_ft }: OxygenQuestion): number {
  const isExcursion = ruleSet === "eu" && isHems && light === "day" && !above(highest_ft, excursionTo_ft);
  return isExcursion ? excursion_min : 0;
}
