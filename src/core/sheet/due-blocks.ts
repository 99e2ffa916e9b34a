// What runs out: the maintenance programme and the serialised components.

import * as z from "zod";
import { count, id, ownSource, ref, refs, text, time_h } from "./parts.ts";
import type { Infer } from "./parts.ts";

const counter = z.int().min(1).max(1_000_000);
/** Whichever comes first. Months are calendar months, days calendar days. */
const interval = z
  .strictObject({
    flightHours_h: time_h.exactOptional(),
    landings: counter.exactOptional(),
    starts: counter.exactOptional(),
    hoistCycles: counter.exactOptional(),
    calendar_months: z.int().min(1).max(360).exactOptional(),
    calendar_days: z.int().min(1).max(4000).exactOptional(),
  })
  .describe("Whichever comes first");

export const programmeSchema = z.strictObject({
  id,
  name: text,
  ata: z.string().regex(/^\d{2}(\d{2})?$/),
  interval,
  tolerance: interval
    .exactOptional()
    .describe("Only what the approved programme gives; the next due counts from the planned point"),
  equipment: ref("equipment").exactOptional().describe("Only where this is installed"),
  takesAway: z
    .union([z.literal("all"), refs("an operation")])
    .describe("What cannot be flown once it is overdue"),
  by: z.enum(["technicalCrew", "engineer"]),
  ...ownSource,
});

export const componentSchema = z.strictObject({
  id,
  name: text,
  ata: z.string().regex(/^\d{2}(\d{2})?$/),
  positions: z.array(text).min(1).max(20).describe("Where one is fitted; one serial number each"),
  life: interval.exactOptional().describe("Retired after"),
  overhaul: interval.exactOptional().describe("Overhauled or tested every"),
  dated: z.boolean().describe("The part bears an expiry date of its own"),
  equipment: ref("equipment").exactOptional(),
  spares: count.exactOptional().describe("How many the base keeps"),
  takesAway: z.union([z.literal("all"), refs("an operation")]),
  ...ownSource,
});

export type Interval = Infer<typeof interval>;
export type Programme = Infer<typeof programmeSchema>;
export type Component = Infer<typeof componentSchema>;
