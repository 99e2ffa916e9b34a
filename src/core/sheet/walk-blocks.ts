// What is walked: equipment, stops, items, closures, the order of stops, how long a walk holds, the time model.
//
// A closure is "closed" when it is as it must be for flight: a door latched, a cap on, a cover off, ground power
// unplugged. `opens` takes it out of that state, `closes` brings it back.

import * as z from "zod";
import { applicabilitySchema } from "./applicability-schema.ts";
import {
  height_m,
  id,
  length_m,
  mass_kg,
  ownSource,
  ref,
  refs,
  text,
  time_h,
  time_s,
  x_m,
  y_m,
} from "./parts.ts";
import type { Infer } from "./parts.ts";

export const walkKinds = ["full", "launch", "parking"] as const;
export type WalkKind = (typeof walkKinds)[number];

export const accesses = ["floor", "step", "ladder", "top"] as const;
export const actions = ["look", "feel", "move", "turn", "read", "close", "test"] as const;
export const expectations = [
  "free",
  "fixed",
  "drivesOneWay",
  "inBand",
  "clean",
  "dry",
  "present",
  "removed",
  "closed",
  "open",
  "works",
  "whole",
  "inDate",
  "off",
  "on",
] as const;
export const closureKinds = [
  "door",
  "cowling",
  "cap",
  "cover",
  "plug",
  "tieDown",
  "ladder",
  "wheels",
  "groundPower",
  "pin",
] as const;

/** `normal`: what it must be for flight. */
export const closureStates = ["closed", "removed", "stowed", "unplugged"] as const;

export const equipmentSchema = z.strictObject({
  id,
  name: text,
  mass_kg,
  x_m,
  y_m,
  excludes: refs("equipment that cannot be installed together with this").exactOptional(),
  requires: refs("equipment that must be installed with this").exactOptional(),
  variants: z
    .array(z.string())
    .min(1)
    .max(20)
    .exactOptional()
    .describe("Variants that can carry it; every one if left out"),
  provision: text.exactOptional().describe("What stays on the aircraft when it is not installed"),
  breathing: z
    .strictObject({
      person_min: z
        .number()
        .gt(0)
        .max(100_000)
        .describe("Minutes for one person at the least that its gauge allows; for several the share of each"),
      gauge: ref("the gauge that says what is in it"),
    })
    .exactOptional()
    .describe("Oxygen that people aboard may breathe above 10,000 ft"),
  ...ownSource,
});

export const stopSchema = z.strictObject({
  id,
  name: text,
  x_m,
  y_m,
  height_m: height_m.describe("Height of the eyes' work above the ground, metres"),
  access: z.enum(accesses),
  zone: ref("a zone"),
  independentInspection: z
    .boolean()
    .exactOptional()
    .describe("Work done here, as on controls, is inspected by a second person before release counts"),
  ...ownSource,
});

export const itemSchema = z.strictObject({
  id,
  stop: ref("a stop"),
  ata: z
    .string()
    .regex(/^\d{2}(\d{2})?$/)
    .describe("ATA chapter (two digits) or JASC code (four)"),
  action: z.enum(actions),
  text: text.describe("What to do and what is right, in one short sentence"),
  expect: z.enum(expectations),
  detail: text.exactOptional().describe("More, for who wants it"),
  applies: applicabilitySchema.exactOptional(),
  opens: refs("a closure that this item takes out of its flight state").exactOptional(),
  closes: refs("a closure that this item brings into its flight state").exactOptional(),
  reads: ref("a gauge").exactOptional(),
  walks: z.array(z.enum(walkKinds)).min(1).max(3),
  mirrored: ref("the same item on the other side").exactOptional(),
  sweep: z.boolean().describe("May be marked good together with the rest of its stop"),
  provision: ref("the item that takes its place when the equipment is not installed").exactOptional(),
  after: refs("an item that must come before this one in the same walk").exactOptional(),
  marksNeeded: z
    .int()
    .min(1)
    .max(2)
    .exactOptional()
    .describe("How many persons must mark it; one if left out"),
  ...ownSource,
});

export const closureSchema = z.strictObject({
  id,
  name: text,
  kind: z.enum(closureKinds),
  stop: ref("the stop where it is reached"),
  normal: z.enum(closureStates).describe("What it must be for flight"),
  fromOutside: z.boolean().describe("Its state can be seen from outside without opening anything"),
  parked: z
    .enum(["closed", "open"])
    .describe("What a parked machine has: `open` for covers, plugs, tie-downs that are fitted"),
  applies: applicabilitySchema.exactOptional(),
  ...ownSource,
});

const stopOrder = z.array(ref("a stop")).min(1).max(500);
export const orderSchema = z
  .strictObject({ full: stopOrder, launch: stopOrder, parking: stopOrder })
  .describe("The published order of stops of each walk; within a stop the order of the items");

export const voidings = [
  "maintenance",
  "frostAfterFreezing",
  "storm",
  "event",
  "flight",
  "uplift",
  "configurationChange",
  "custodyChange",
] as const;
export type Voiding = (typeof voidings)[number];

const validity = z.strictObject({
  calendarDay: z.boolean().describe("Lapses at the end of the calendar day"),
  hours_h: time_h.exactOptional().describe("Lapses so many hours after it was closed"),
  voidedBy: z.array(z.enum(voidings)).max(20),
});
export const walkValiditySchema = z.strictObject({
  full: validity,
  launch: validity,
  parking: validity,
});

export const sequenceSchema = z
  .strictObject({
    walkingSpeed_ms: z.number().min(0.1).max(3).describe("Metres per second on the ground"),
    clearance_m: length_m.describe("Distance kept from the outline when walking round it"),
    step_s: time_s,
    ladder_s: time_s,
    top_s: time_s,
    action_s: z.strictObject(
      Object.fromEntries(actions.map((action) => [action, time_s])) as Record<
        (typeof actions)[number],
        typeof time_s
      >,
    ),
  })
  .describe("The time model by which an order of stops is measured: up and down again for step, ladder, top");

export type Equipment = Infer<typeof equipmentSchema>;
export type Stop = Infer<typeof stopSchema>;
export type Item = Infer<typeof itemSchema>;
export type Closure = Infer<typeof closureSchema>;
export type Order = Infer<typeof orderSchema>;
export type Validity = Infer<typeof validity>;
export type WalkValidity = Infer<typeof walkValiditySchema>;
export type SequenceModel = Infer<typeof sequenceSchema>;
export type Action = Item["action"];
export type Expectation = Item["expect"];
