// The small shapes that every block of a sheet is made of: ids, two-language texts, sources, numbers with a unit.
//
// A number's unit stands last in its key (`mass_kg`, `arm_m`). The bounds here are only "units plausible": wide enough
// for any helicopter, narrow enough that millimetres under a key in metres, or pounds of a large type under a key in
// kilograms, are noticed. They are no limits of flight.
// Optional keys are left out, never null: JSON has no undefined.

import * as z from "zod";

/** Everything in a sheet is read, never changed. */
export type Fixed<T> = T extends object ? { readonly [Key in keyof T]: Fixed<T[Key]> } : T;

export type Infer<Schema extends z.ZodType> = Fixed<z.output<Schema>>;

/** A letter first, then letters, digits, dots, hyphens: `coverPitotLeft`, `33-01` is written `d33-01`. */
export const idPattern = /^[A-Za-z][A-Za-z0-9.-]{0,63}$/;
export const id = z
  .string()
  .regex(idPattern)
  .describe("An id, unique among its kind: a letter, then letters, digits, dots or hyphens");
export const ref = (kind: string) => z.string().regex(idPattern).describe(`The id of ${kind}`);
export const refs = (kind: string) => z.array(ref(kind)).max(200);

const line = z.string().max(400).regex(/\S/).describe("Not empty");
export const text = z
  .strictObject({ en: line, de: line })
  .meta({ id: "text", description: "The same in English and in German" });
export type Text = Infer<typeof text>;

export const source = z
  .strictObject({
    document: z.string().min(1).max(200).describe("The operator's document, as it is cited"),
    revision: z.string().min(1).max(60).describe("Its revision, issue or date"),
    page: z.string().min(1).max(60).exactOptional().describe("Page, section or table"),
  })
  .meta({ id: "source", description: "Where it was copied from" });
export type SheetSource = Infer<typeof source>;

const between = (low: number, high: number, meaning: string) =>
  z.number().min(low).max(high).describe(meaning);

/** Distances from the datum: x aft positive, y right positive. */
export const x_m = between(-5, 30, "Metres aft of the datum (aft positive)");
export const y_m = between(-15, 15, "Metres right of the centre line (right positive)");
export const height_m = between(0, 8, "Metres above the ground");
export const length_m = between(0, 500, "Metres");
export const mass_kg = between(0, 20000, "Kilograms");
export const volume_L = between(0, 10000, "Litres");
export const density_kgL = between(0.6, 1.3, "Kilograms per litre");
export const speed_kt = between(0, 250, "Knots");
export const flow_kgh = between(0, 3000, "Kilograms per hour");
export const time_s = between(0, 3600, "Seconds");
export const time_min = between(0, 1440, "Minutes");
export const time_h = between(0, 20000, "Hours");
export const temperature_C = between(-80, 80, "Degrees Celsius");
export const elevation_ft = between(-2000, 25000, "Feet above mean sea level");
export const distance_nm = between(0, 500, "Nautical miles");
/** Direction against the nose: 0 ahead, 90 from the right. */
export const relative_deg = between(0, 360, "Degrees clockwise from the nose");
export const count = z.int().min(0).max(1000).describe("A count");

/** A plan-view corner [x_m, y_m]. */
export const planPoint = z.tuple([x_m, y_m]).describe("[x_m, y_m]");
/** A closed polygon: the last point repeats the first, so that a lost point is noticed. */
export const planPolygon = z
  .array(planPoint)
  .min(4)
  .max(400)
  .describe("Closed polygon: the last point repeats the first");

/** What every element of a list may carry: its own source where it differs from its block's. */
export const ownSource = { source: source.exactOptional() };
