// What a flight needs and takes: fuel flow, speeds, operations with their reference calls, wind limits.

import * as z from "zod";
import { walkKinds } from "./walk-blocks.ts";
import { applicabilitySchema } from "./applicability-schema.ts";
import { powerUses } from "./chart-blocks.ts";
import {
  count,
  distance_nm,
  elevation_ft,
  flow_kgh,
  id,
  mass_kg,
  ownSource,
  refs,
  relative_deg,
  speed_kt,
  temperature_C,
  text,
  time_min,
} from "./parts.ts";
import type { Infer } from "./parts.ts";

export const fuelFlowSchema = z.strictObject({
  ground_kgh: flow_kgh.describe("Both engines running on the ground"),
  hover_kgh: flow_kgh.describe("Hover out of ground effect at maximum mass"),
  cruise: z
    .array(z.strictObject({ tas_kt: speed_kt, flow_kgh }))
    .min(1)
    .max(40)
    .describe("Level flight, rising true airspeed; straight between, nothing outside"),
  reserve_kgh: flow_kgh.describe("The flow at which the final reserve is counted"),
  start_kg: mass_kg.describe("One start and the run-up"),
});

export const speedsSchema = z.strictObject({
  cruise_kt: speed_kt,
  bestRange_kt: speed_kt,
  bestEndurance_kt: speed_kt,
  neverExceed_kt: speed_kt,
  doorOpen_kt: speed_kt.describe("With the cabin sliding door open"),
});

export const crewRoles = ["pilot", "technicalCrew", "hoistOperator", "medic"] as const;

export const operationSchema = z.strictObject({
  id,
  name: text,
  needs: z.strictObject({
    equipment: refs("equipment that must be installed and serviceable"),
    walks: z.array(z.enum(walkKinds)).max(3).describe("Walks that must be valid"),
    gauges: refs("a gauge whose last reading must be known and inside its limits"),
    pilots: count.describe("At least"),
    crew: z.array(z.enum(crewRoles)).max(10).describe("Beside the pilots"),
    masses: z.enum(["normal", "hoist"]).describe("Which envelopes hold"),
    power: z
      .array(z.enum(powerUses))
      .max(powerUses.length)
      .describe("What its charts of power must give at a site; with any of them it needs full power"),
  }),
  referenceCall: z
    .strictObject({
      siteElevation_ft: elevation_ft.describe("The highest site"),
      temperature_C,
      toScene_nm: distance_nm,
      toHospital_nm: distance_nm,
      toBase_nm: distance_nm,
      toAlternate_nm: distance_nm
        .exactOptional()
        .describe("From the base to the alternate, by instruments; 0 where none is required"),
      onScene_min: time_min,
      patient_kg: mass_kg,
      hoistLoad_kg: mass_kg.exactOptional(),
      fuelAtStart_kg: mass_kg,
    })
    .exactOptional()
    .describe(
      "The call by which mass and power are judged when no call is at hand; without it they are not known",
    ),
  ...ownSource,
});

export const windLimitSchema = z.strictObject({
  id,
  name: text,
  phase: z.enum(["start", "shutdown", "hover", "hoist", "floats", "doorOpen", "parked"]),
  from_deg: relative_deg.describe("Sector clockwise from here …"),
  to_deg: relative_deg.describe("… to here; 0 and 360 for any direction"),
  wind_kt: speed_kt.describe("Mean wind at most"),
  gust_kt: speed_kt.exactOptional().describe("Gust at most; as the mean if left out"),
  operations: refs("a kind of flying that it binds; all of them if left out").exactOptional(),
  applies: applicabilitySchema.exactOptional(),
  ...ownSource,
});

export const iceSchema = z.strictObject({
  protectedBy: applicabilitySchema
    .exactOptional()
    .describe("When the craft is approved for flight in ice; never, if left out"),
  moistureBelow_C: temperature_C.describe(
    "Without protection, moisture that can be seen forbids at or below this temperature",
  ),
});

export type FuelFlow = Infer<typeof fuelFlowSchema>;
export type Speeds = Infer<typeof speedsSchema>;
export type Operation = Infer<typeof operationSchema>;
export type ReferenceCall = NonNullable<Operation["referenceCall"]>;
export type WindLimit = Infer<typeof windLimitSchema>;
