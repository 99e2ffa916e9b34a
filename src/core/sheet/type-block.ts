// The type and its variants, and the outline from which the aircraft is drawn (plan view).

import * as z from "zod";
import {
  count,
  height_m,
  id,
  length_m,
  mass_kg,
  planPoint,
  planPolygon,
  ref,
  text,
  x_m,
  y_m,
} from "./parts.ts";
import type { Infer } from "./parts.ts";

export const variantSchema = z.strictObject({
  id: z
    .string()
    .regex(/^[A-Za-z0-9][A-Za-z0-9.-]{0,15}$/)
    .describe("Variant id, for example 2H"),
  name: text,
  maxTakeoffMass_kg: mass_kg,
  minMass_kg: mass_kg,
  referenceEmpty: z
    .strictObject({ mass_kg, x_m, y_m })
    .describe(
      "A usual empty machine without catalogue equipment, for planning only; a craft's own weighing prevails",
    ),
});

export const typeSchema = z.strictObject({
  name: z.string().min(1).max(60),
  datum: text.describe("Where x = 0 and y = 0 lie; x is aft positive, y right positive"),
  variants: z.array(variantSchema).min(1).max(20),
  engines: z.int().min(1).max(4),
  gear: z.enum(["skids", "wheels", "floats"]),
  overallLength_m: length_m.describe("D value: largest dimension with rotors turning"),
  mainRotorDiameter_m: length_m,
  crewMin: count.describe("Pilots that the type needs at least"),
});

const rotor = z.strictObject({
  x_m,
  y_m,
  radius_m: z.number().min(0.2).max(15).describe("Metres"),
  height_m,
  blades: z.int().min(2).max(12),
});

export const outlineSchema = z.strictObject({
  fuselage_m: planPolygon,
  tailBoom_m: planPolygon,
  fin_m: planPolygon,
  stabiliser_m: planPolygon.exactOptional(),
  gear_m: z
    .array(z.array(planPoint).min(2).max(100))
    .max(20)
    .describe("Lines of the landing gear: skid tubes, cross tubes, wheels"),
  lines_m: z
    .array(z.array(planPoint).min(2).max(100))
    .max(60)
    .exactOptional()
    .describe("Further lines: window frames, cowling joints"),
  doors: z
    .array(z.strictObject({ closure: ref("a closure"), from_m: planPoint, to_m: planPoint }))
    .max(60)
    .describe("Where a door or cowling shows in the outline: from hinge to latch"),
  mainRotor: rotor,
  tailRotor: rotor.exactOptional(),
  tailRotorSide: z.enum(["left", "right", "within", "none"]),
});

export const zoneSchema = z.strictObject({ id, name: text });

export type Variant = Infer<typeof variantSchema>;
export type TypeBlock = Infer<typeof typeSchema>;
export type Outline = Infer<typeof outlineSchema>;
export type Zone = Infer<typeof zoneSchema>;
