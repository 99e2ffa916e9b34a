// Things with a number, and what is in them: gauges and fluids.
//
// A gauge is the one place where the unit stands beside the number (`unit`) and not in its key, since each has its own.

import * as z from "zod";
import { applicabilitySchema } from "./applicability-schema.ts";
import { density_kgL, id, ownSource, ref, temperature_C, text, time_h, time_min, volume_L } from "./parts.ts";
import type { Infer } from "./parts.ts";

export const gaugeKinds = [
  "sightGlass",
  "dipstick",
  "pressure",
  "voltage",
  "quantity",
  "temperature",
  "counter",
  "thickness",
] as const;
export const gaugeUnits = ["L", "kg", "bar", "V", "C", "mm", "pct", "h", "count"] as const;

/** `closed`: the value itself still counts as inside. */
const limit = z.strictObject({ value: z.number(), closed: z.boolean() });

const readingConditions = z
  .strictObject({
    afterShutdownMin_min: time_min
      .exactOptional()
      .describe("Not comparable earlier than this after shutdown"),
    afterShutdownMax_min: time_min.exactOptional().describe("Not comparable later than this after shutdown"),
    state: z.enum(["hot", "cold", "any"]).describe("Of the fluid, when it is read"),
    temperatureNeeded: z.boolean().describe("The outside temperature must be recorded with the reading"),
    levelGround: z.boolean().describe("Only comparable on level ground"),
  })
  .describe("What makes a reading comparable with the one before");

/** Low and high limit against temperature, straight between the points, no value outside them. */
const band = z.strictObject({
  temperature: z
    .enum(["bottle", "air"])
    .describe("Which temperature the manual's table is against; the air's is never taken for the bottle's"),
  points: z
    .array(z.strictObject({ temperature_C, low: z.number(), high: z.number() }))
    .min(2)
    .max(60),
});

const above0 = z.number().gt(0);
const hours = (least: number, most: number, meaning: string) =>
  z.number().min(least).max(most).describe(meaning);

/** How a gauge is followed from reading to reading; chosen from what the gauge is, before any history of it is seen. */
const trendPlan = z
  .strictObject({
    scatter: above0.describe("Standard deviation of one comparable reading, in the gauge's unit"),
    baseline_h: hours(
      10,
      1000,
      "Flight hours from the first comparable reading from which the normal rate is learnt",
    ),
    window_h: hours(10, 1000, "The rate and the forecast rest on the readings of so many flight hours"),
    readEvery_h: hours(1, 1000, "After so many flight hours a comparable reading is asked for again"),
    confidence: z.number().gt(0.5).lt(1).describe("Of intervals and of the pessimistic forecast"),
    smoothing: above0
      .max(1)
      .describe("What the newest reading counts in the level carried forward (exponential smoothing)"),
    slack_sd: z.number().min(0).max(5).describe("Allowance of the CUSUM, in standard deviations"),
    decision_sd: above0.max(50).describe("The CUSUM signals above this, in standard deviations"),
    busyDay_h: hours(0.5, 24, "Flight hours of a busy day: by them it is judged whether to add now"),
  })
  .describe("How its consumption, its forecast and a change of it are judged; without it they are not");

export const gaugeSchema = z.strictObject({
  id,
  name: text,
  kind: z.enum(gaugeKinds),
  unit: z.enum(gaugeUnits),
  fluid: ref("a fluid").exactOptional(),
  low: limit.exactOptional(),
  high: limit.exactOptional(),
  band: band.exactOptional().describe("Limits that depend on the temperature, instead of low and high"),
  gas: z
    .strictObject({ reference_C: temperature_C })
    .exactOptional()
    .describe(
      "Pure gas: the limits hold at this temperature, readings are brought to it by absolute temperature",
    ),
  plausible: z
    .strictObject({ low: z.number(), high: z.number() })
    .describe("Outside this a reading is refused as mistyped"),
  step: z.number().gt(0).describe("One press of the stepper"),
  capacity: z.number().gt(0).exactOptional().describe("What it reads when full"),
  conditions: readingConditions,
  worse: z.enum(["lower", "higher", "both"]),
  ifOutside: z.enum(["note", "ask", "stop"]),
  counts_h: time_h
    .exactOptional()
    .describe("A reading counts so long; until the end of the day on which it was taken if left out"),
  counter: z
    .enum(["flightHours_h", "landings", "starts", "hoistCycles"])
    .exactOptional()
    .describe(
      "Which of the craft's counters a counter shows; flight hours for the first in hours, if left out",
    ),
  perLitre: z
    .number()
    .gt(0)
    .exactOptional()
    .describe("By how much it reads more per litre filled, where it is not read in litres"),
  trend: trendPlan.exactOptional(),
  accuracy: z
    .strictObject({
      within: above0.describe("Of any reading, each way, in the gauge's unit"),
      share_pct: z
        .number()
        .min(0)
        .max(20)
        .exactOptional()
        .describe("Of the reading; the greater of both counts"),
    })
    .exactOptional()
    .describe(
      "How exact it reads. Of fuel: what before, filled in and after may differ by; not known without it",
    ),
  consumptionMax_perHour: z
    .number()
    .gt(0)
    .exactOptional()
    .describe("In its unit per flight hour; more is abnormal"),
  applies: applicabilitySchema.exactOptional(),
  ...ownSource,
});

export const fluidSchema = z.strictObject({
  id,
  name: text,
  grades: z.array(z.string().min(1).max(80)).min(1).max(20),
  density_kgL: density_kgL.exactOptional(),
  capacity_L: volume_L.exactOptional(),
  mixable: z.boolean().describe("The listed grades may be mixed"),
  topUpBy: z.enum(["pilot", "technicalCrew", "engineer"]).describe("Who may add it, at the least"),
  ...ownSource,
});

export type Gauge = Infer<typeof gaugeSchema>;
export type GaugeLimit = Infer<typeof limit>;
export type TrendPlan = NonNullable<Gauge["trend"]>;
export type Fluid = Infer<typeof fluidSchema>;
