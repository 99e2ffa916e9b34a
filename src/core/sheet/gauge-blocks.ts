// Things with a number, and what is in them: gauges and fluids.
//
// A gauge is the one place where the unit stands beside the number (`unit`) and not in its key, since each has its own.

import * as z from "zod";
import { applicabilitySchema } from "./applicability-schema.ts";
import { density_kgL, id, ownSource, ref, temperature_C, text, time_min, volume_L } from "./parts.ts";
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
  points: z
    .array(z.strictObject({ temperature_C, low: z.number(), high: z.number() }))
    .min(2)
    .max(60),
});

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
export type Fluid = Infer<typeof fluidSchema>;
