// For tests: one person with every paper and all recency for years, under figures that never bind.
import { paperKinds } from "../facts/crew.ts";
import type { CrewKnown } from "../facts/crew.ts";

const said = { entry: "c".repeat(64), by: "p-office", at_ms: 0 };

export const wholeCrew: CrewKnown = {
  papers: paperKinds.map((paper) => ({
    ...said,
    person: "p-one",
    paper,
    issuedOn: "2026-01-15",
    lastDay: paper === "medical" ? null : "2040-12-31",
  })),
  born: [{ ...said, person: "p-one", bornOn: "1995-01-01" }],
  experience: [
    {
      ...said,
      person: "p-one",
      on: "2026-02-01",
      landings: 9,
      nightLandings: 9,
      nvisFlights: 9,
      instrument_min: 90,
      hoistCycles: 9,
      nightHoistCycles: 9,
      flight_h: 0,
    },
  ],
  rests: [],
  commands: [],
  rules: [
    {
      ...said,
      ruleSet: "eu",
      duty: { duty_h: 1000, rest_h: 0, cite: "for tests" },
      hoist: {
        day: { need: 1, days: 700 },
        night: { need: 1, days: 700 },
        cite: "for tests",
      },
      usDuty: "267",
      singlePilotNight: { allowed: true, cite: "for tests" },
      stricter: [],
      asks: [],
    },
  ],
};
