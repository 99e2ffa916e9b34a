// Minima of helicopter emergency medical service under the EU rules, and the airspace minima that they point to.
//
// Source: Reg. (EU) 965/2012 Annex V, SPA.HEMS.120, table of 2012, in force in the EU until 24 May 2024. The cells that
// replaced it (Reg. (EU) 2023/1020) are not here: they were not seen. So the table says which edition it is, and that
// the operator has to confirm or replace it. Performance class 3 from SPA.HEMS.120(b), from memory.
// SERA.5001 and SERA.5010: Reg. (EU) 923/2012. Checked in published/minima.test.ts.
import type { Citation } from "./cited.ts";
import type { MinimaStep } from "./minima-table.ts";

export const euHemsCitation: Citation = {
  cite: "Reg. (EU) 965/2012, SPA.HEMS.120(a), Table 1",
  edition: "table of 2012, in force until 24 May 2024; to be confirmed by the operator",
  status: "text",
  toBeConfirmed: true,
};

export const euClass3Citation: Citation = {
  cite: "Reg. (EU) 965/2012, SPA.HEMS.120(b)",
  edition: "wording of 2012; to be confirmed by the operator",
  status: "memory+secondary",
  toBeConfirmed: true,
};

type Steps = readonly [MinimaStep, ...MinimaStep[]];

/** By day; `airspaceVisibility_m` holds from 500 ft up. Two pilots or more share a column. */
export function euDaySteps(twoPilots: boolean, airspaceVisibility_m: number): Steps {
  return [
    { ceilingFrom_ft: 500, visibility_m: airspaceVisibility_m },
    twoPilots
      ? { ceilingFrom_ft: 400, visibility_m: 1000, shortPeriods: { visibility_m: 800 } }
      : { ceilingFrom_ft: 400, visibility_m: 2000 },
    { ceilingFrom_ft: 300, visibility_m: twoPilots ? 2000 : 3000 },
  ];
}

/** From this ceiling on the day's visibility is that of the airspace. */
export const euAirspaceFrom_ft = 500;

export function euNightSteps(twoPilots: boolean): Steps {
  return [
    {
      ceilingFrom_ft: 1200,
      visibility_m: twoPilots ? 2500 : 3000,
      shortPeriods: { ceiling_ft: 1000 },
    },
  ];
}

export const euClass3Steps: Steps = [
  { ceilingFrom_ft: 600, visibility_m: 1500, shortPeriods: { visibility_m: 800 } },
];

/** At most this speed at that visibility: GM1 SPA.HEMS.120, rows as printed (they are rounded: 100 kt is 1543 m in 30 s). */
export const advisorySpeeds = [
  { visibility_m: 800, speed_kt: 50 },
  { visibility_m: 1500, speed_kt: 100 },
  { visibility_m: 2000, speed_kt: 120 },
] as const;

/** The advisory speed for a visibility: the row at or under it; null under 800 m, where there is none. */
export function advisorySpeed(visibility_m: number): number | null {
  const row = advisorySpeeds.findLast((step) => visibility_m >= step.visibility_m);
  return row?.speed_kt ?? null;
}

/** Metres flown in 30 s at a speed in knots: the rule behind the advisory rows (1 kt = 1852/3600 m/s exactly). */
export function flownIn30s(speed_kt: number): number {
  return (speed_kt * 1852 * 30) / 3600;
}

/** SERA.5001, Table S5-1, visibilities. `low`: at or below 3000 ft above sea level or 1000 ft above terrain, the higher. */
export const airspaceMinima = {
  citation: {
    cite: "Reg. (EU) 923/2012, SERA.5001, Table S5-1",
    edition: "2012",
    status: "text",
  } satisfies Citation,
  fromLevel100_m: 8000,
  belowLevel100_m: 5000,
  low_m: 5000,
  /** Classes F and G in the low band, where the national authority so prescribes. */
  lowUncontrolled: { atMost140kt_m: 1500, helicopter_m: 800 },
} as const;

export const specialVfrMinima = {
  citation: { cite: "Reg. (EU) 923/2012, SERA.5010", edition: "2012", status: "text" } satisfies Citation,
  steps: [{ ceilingFrom_ft: 600, visibility_m: 800 }] satisfies Steps,
  otherThanHelicopter_m: 1500,
  speed_kt: 140,
} as const;
