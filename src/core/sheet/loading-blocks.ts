// What loads and limits the mass: standard masses, seats, stretchers, compartments, lists of kit, tanks, envelopes, the
// hoist.
//
// Right is positive, aft is positive. A point on a limit is inside. Polygons are closed: the last point repeats the
// first.

import * as z from "zod";
import { applicabilitySchema } from "./applicability-schema.ts";
import {
  count,
  density_kgL,
  id,
  length_m,
  mass_kg,
  ownSource,
  planPolygon,
  ref,
  refs,
  text,
  volume_L,
  x_m,
  y_m,
} from "./parts.ts";
import type { Infer } from "./parts.ts";

export const massesSchema = z
  .strictObject({
    pilot_kg: mass_kg,
    technicalCrew_kg: mass_kg,
    medic_kg: mass_kg,
    passenger_kg: mass_kg,
    patient_kg: mass_kg,
    heavyPatient_kg: mass_kg,
    tolerance_kg: mass_kg.describe(
      "How far a stated mass may be from the true one before it must be weighed",
    ),
  })
  .describe("Masses to propose before anybody has stated the true ones");

export const seatRoles = ["pilot", "crew", "medic", "passenger"] as const;
export const seatSchema = z.strictObject({
  id,
  name: text,
  role: z.enum(seatRoles),
  x_m,
  y_m,
  maxMass_kg: mass_kg,
  applies: applicabilitySchema.exactOptional(),
  ...ownSource,
});

export const stretcherSchema = z.strictObject({
  id,
  name: text,
  equipment: ref("equipment"),
  x_m: x_m.describe("Centre of a patient lying on it"),
  y_m,
  maxMass_kg: mass_kg,
  takesSeats: refs("a seat that cannot be used while it is in").exactOptional(),
  ...ownSource,
});

export const compartmentSchema = z.strictObject({
  id,
  name: text,
  x_m,
  y_m,
  maxMass_kg: mass_kg,
  ...ownSource,
});

export const kitListSchema = z
  .strictObject({
    id,
    name: text,
    kit: z
      .array(z.strictObject({ kit: id, name: text, mass_kg: mass_kg.gt(0), at: ref("a compartment") }))
      .min(1)
      .max(200)
      .describe("Each thing once, weighed, with its place"),
    ...ownSource,
  })
  .describe("What the cabin is loaded with for a kind of task");

export const tankSchema = z.strictObject({
  id,
  name: text,
  fluid: ref("a fluid"),
  gauge: ref("a gauge").exactOptional(),
  equipment: ref("equipment").exactOptional().describe("Only where this is installed"),
  capacity_L: volume_L,
  usable_kg: mass_kg,
  unusable_kg: mass_kg,
  density_kgL,
  burnOrder: z.int().min(1).max(20).describe("1 burns first; tanks with the same number burn together"),
  centre_kg_m_m: z
    .array(z.tuple([mass_kg, x_m, y_m]))
    .min(2)
    .max(100)
    .describe("[fuel_kg, x_m, y_m] of the whole quantity, from 0 to usable, straight between the points"),
  ...ownSource,
});

const flights = ["normal", "hoist"] as const;
const common = {
  id,
  flight: z.enum(flights),
  variants: z.array(z.string()).min(1).max(20).exactOptional().describe("Every variant if left out"),
  ...ownSource,
};
const arms = (axis: "x" | "y") =>
  z
    .array(z.tuple([axis === "x" ? x_m : y_m, mass_kg]))
    .min(4)
    .max(200)
    .describe(`Closed polygon of [${axis}_m, mass_kg]`);

export const envelopeSchema = z.discriminatedUnion("axis", [
  z.strictObject({ axis: z.literal("longitudinal"), ...common, points_m_kg: arms("x") }),
  z.strictObject({ axis: z.literal("lateral"), ...common, points_m_kg: arms("y") }),
  z.strictObject({
    axis: z.literal("coupled"),
    ...common,
    above_kg: mass_kg.describe("Holds at masses from here"),
    upTo_kg: mass_kg.describe("… up to and with here"),
    points_m_m: planPolygon.describe("Closed polygon of [x_m, y_m] that the centre of gravity stays in"),
  }),
]);

export const hoistSchema = z.strictObject({
  equipment: ref("equipment"),
  x_m: x_m.describe("Of the load on the hook"),
  y_m,
  maxLoad_kg: mass_kg,
  maxPersons: count,
  cable_m: length_m.describe("Usable length"),
  attachment_kg: mass_kg.describe("Hook, rings and harness that count against the load"),
});

export type Masses = Infer<typeof massesSchema>;
export type Seat = Infer<typeof seatSchema>;
export type Stretcher = Infer<typeof stretcherSchema>;
export type Compartment = Infer<typeof compartmentSchema>;
export type KitList = Infer<typeof kitListSchema>;
export type Tank = Infer<typeof tankSchema>;
export type Envelope = Infer<typeof envelopeSchema>;
export type Hoist = Infer<typeof hoistSchema>;
