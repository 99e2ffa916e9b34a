// What may be wrong and how far: damage limits, the operator's list of deferrals, events after which a machine stays.

import * as z from "zod";
import { applicabilitySchema } from "./applicability-schema.ts";
import { count, id, ownSource, ref, refs, text } from "./parts.ts";
import type { Infer } from "./parts.ts";

export const appliers = ["pilot", "technicalCrew", "engineer"] as const;
export const outcomes = ["accept", "watch", "defer", "ground"] as const;
export const damageKinds = [
  "dent",
  "nick",
  "scratch",
  "crack",
  "debond",
  "wear",
  "corrosion",
  "leak",
  "chip",
  "looseness",
  "play",
  "chafe",
] as const;
/** What is measured; its unit stands last, and `upTo` of the bands is in it. `any` for "whatever its size". */
export const measures = [
  "depth_mm",
  "length_mm",
  "diameter_mm",
  "area_cm2",
  "play_mm",
  "rate_dropsmin",
  "count",
  "any",
] as const;

export const damageSchema = z.strictObject({
  id,
  part: text,
  zone: text.describe("Which stretch of the part"),
  stops: refs("a stop where it is seen").min(1),
  ata: z.string().regex(/^\d{2}(\d{2})?$/),
  kind: z.enum(damageKinds),
  measure: z.enum(measures),
  bands: z
    .array(
      z.strictObject({
        upTo: z
          .number()
          .gt(0)
          .exactOptional()
          .describe("In the unit of the measure; left out in the last band"),
        closed: z.boolean().exactOptional().describe("`upTo` itself still belongs to this band"),
        outcome: z.enum(outcomes),
        by: z.enum(appliers).describe("Who may apply this band, at the least"),
        measureAgain_days: z
          .int()
          .min(1)
          .max(400)
          .exactOptional()
          .describe("A watched finding is measured again within so many days"),
        measureAgain_h: z
          .number()
          .positive()
          .max(1000)
          .exactOptional()
          .describe("… and within so many flight hours, whichever comes first"),
        note: text.exactOptional(),
      }),
    )
    .min(1)
    .max(10)
    .describe("From small to large; the outcome never gets milder"),
  applies: applicabilitySchema.exactOptional(),
  ...ownSource,
});

/** A quantity that a deferral or a rule narrows; the unit stands last. */
export const limitedQuantities = [
  "mass_kg",
  "hoistLoad_kg",
  "wind_kt",
  "gust_kt",
  "ceiling_ft",
  "visibility_m",
  "altitude_ft",
  "speed_kt",
  "fuel_kg",
  "flightHours_h",
  "occupants",
  "temperature_C",
] as const;

export const deferralSchema = z.strictObject({
  id,
  number: z.string().min(1).max(30).describe("As the operator's list numbers it"),
  name: text,
  ata: z.string().regex(/^\d{2}(\d{2})?$/),
  equipment: ref("equipment").exactOptional().describe("Only where this is installed"),
  installed: count,
  required: count,
  category: z.enum(["A", "B", "C", "D"]),
  interval_days: z.int().min(1).max(400).exactOptional().describe("Category A only, which needs an interval"),
  interval_flightDays: z.int().min(1).max(400).exactOptional().describe("Category A: days with a flight"),
  interval_flights: z.int().min(1).max(1000).exactOptional().describe("Category A"),
  interval_cycles: z.int().min(1).max(10_000).exactOptional().describe("Category A: landings"),
  interval_h: z.number().positive().max(1000).exactOptional().describe("Category A: flight hours"),
  conditions: text.exactOptional().describe("Provided that …"),
  operational: text.exactOptional().describe("(O) what the crew does"),
  maintenance: text.exactOptional().describe("(M) what the engineer does first"),
  takesAway: refs("an operation that cannot be flown").exactOptional(),
  limits: z
    .array(
      z.strictObject({
        quantity: z.enum(limitedQuantities),
        value: z.number(),
        stricter: z.enum(["lower", "higher"]).describe("`lower`: at most this value; `higher`: at least"),
      }),
    )
    .max(10)
    .exactOptional(),
  notWith: refs("a deferral that must not be open at the same time").exactOptional(),
  ...ownSource,
});

export const eventSchema = z.strictObject({
  id,
  name: text,
  ata: z.string().regex(/^\d{2}(\d{2})?$/),
  effect: z
    .enum(["grounds", "asks"])
    .describe("`grounds`: until cleared; `asks`: somebody must look and say"),
  clearedBy: z.enum(appliers),
  voidsWalk: z.boolean(),
  check: text.describe("What is looked at before it is cleared"),
  ...ownSource,
});

export type Damage = Infer<typeof damageSchema>;
export type Deferral = Infer<typeof deferralSchema>;
export type SheetEvent = Infer<typeof eventSchema>;
