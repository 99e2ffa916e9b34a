// The final reserve of fuel that a rule set demands, in minutes at a stated flow, and its contingency.
//
// EU: CAT.OP.MPA.191(c), Reg. (EU) 2021/1296: by day VFR with visual landmarks 20 min, VFR otherwise 30 min, both at
// best-range speed; IFR 30 min at holding speed 1,500 ft above. Contingency: AMC1 CAT.OP.MPA.191(b)&(c), 5 % of the trip
// VFR over ground that is not hostile, 10 % otherwise. SPA.HEMS.150, where an operator uses it: 30 min at cruise in the
// local area, 20 min with suitable landing sites all along, instead of the above. All from memory, the figure of 20 min
// seen in two national rules as text.
// US: 14 CFR 91.151(b) and 135.209(b), VFR 20 min at cruise; 91.167(a)(3) and 135.223(a)(3), IFR 30 min (text). No
// percentage is demanded there.
// Checked in published/fuel.test.ts.
import type { Citation, RuleSetId } from "./cited.ts";

export const flightRules = ["vfr", "ifr"] as const;
export type FlightRules = (typeof flightRules)[number];

/** Which alternative of SPA.HEMS.150 the operator's approved manual uses; null for none. */
export const hemsFuel = ["local", "continuousSites"] as const;
export type HemsFuel = (typeof hemsFuel)[number];

/** At which flow the minutes count: the sheet's own of the final reserve, or that of the cruise. */
export type ReserveFlow = "reserve" | "cruise";

export type FuelReserveQuestion = {
  readonly ruleSet: RuleSetId;
  readonly flightRules: FlightRules;
  readonly light: "day" | "night";
  /** Flown by visual landmarks. */
  readonly landmarks: boolean;
  readonly hems: HemsFuel | null;
};

export type FuelReserve = {
  readonly minutes: number;
  readonly at: ReserveFlow;
  readonly citation: Citation;
};

const eu = (cite: string): Citation => ({
  cite,
  edition: "Reg. (EU) 2021/1296, in force 30 October 2022",
  status: "memory",
  toBeConfirmed: true,
});
const us = (cite: string): Citation => ({ cite, edition: "as stored 2025", status: "text" });

export function fuelReserve(question: FuelReserveQuestion): FuelReserve {
  const { ruleSet, light, landmarks, hems } = question;
  const isIfr = question.flightRules === "ifr";
  if (ruleSet === "us") {
    return isIfr
      ? { minutes: 30, at: "cruise", citation: us("14 CFR 91.167(a)(3), 135.223(a)(3)") }
      : { minutes: 20, at: "cruise", citation: us("14 CFR 91.151(b), 135.209(b)") };
  }
  if (hems !== null && !isIfr) {
    const minutes = hems === "local" ? 30 : 20;
    return { minutes, at: "cruise", citation: eu("SPA.HEMS.150") };
  }
  const minutes = !isIfr && light === "day" && landmarks ? 20 : 30;
  return { minutes, at: "reserve", citation: eu("CAT.OP.MPA.191(c)") };
}

/** The least contingency, in percent of the trip. */
export function leastContingency_pct(
  question: Pick<FuelReserveQuestion, "ruleSet" | "flightRules" | "hems"> & { readonly hostile: boolean },
): number {
  if (question.ruleSet === "us") return 0;
  if (question.hems !== null && question.flightRules === "vfr") return 0;
  return question.flightRules === "ifr" || question.hostile ? 10 : 5;
}
