// Weighings, today's loading as one fact, and kit that was left behind or came back. Whether a load is inside its limits
// is judged by the core, never here. A loading names what it takes the place of: loadings, and what was said of kit since.
import { z } from "zod";
import { instantToMs } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { refuse } from "../entry-type.ts";
import { beside, craftEntry, instant, personId, replaces, sheetId, words } from "./shapes.ts";

const mass_kg = z.number().positive().max(10_000);
const arm_m = z.number().min(-50).max(50);

const craftWeighed = craftEntry(
  "craft.weighed",
  z.strictObject({
    mass_kg,
    x_m: arm_m,
    y_m: arm_m,
    included: z.array(sheetId).max(500),
    role: z.enum(["engineer", "airworthiness"]),
    report: z.string().min(1).max(120),
    at: instant,
    replaces,
  }),
  (state, { at, ...body }, { id, by }) => {
    const twice = body.included.find((equipment, index) => body.included.indexOf(equipment) !== index);
    if (twice !== undefined)
      return refuse("equipmentTwice", "included", twice, "each piece of equipment once");
    const weighing = { entry: id, by, at_ms: instantToMs(at), ...body };
    return { ...state, load: { ...state.load, weighings: [...state.load.weighings, weighing] } };
  },
  ["engineer", "airworthiness"],
);

export const loadingShape = z.strictObject({
  persons: z
    .array(
      z.strictObject({ seat: sheetId, person: personId.nullable(), mass_kg: z.number().positive().max(400) }),
    )
    .max(40),
  patients: z.array(z.strictObject({ stretcher: sheetId, most_kg: z.number().positive().max(400) })).max(4),
  kit: z
    .array(
      z.strictObject({
        kit: sheetId,
        name: z.string().min(1).max(80),
        mass_kg: z.number().positive().max(1_000),
        at: sheetId,
      }),
    )
    .max(200),
  kitList: sheetId.exactOptional(),
  fuel_kg: z.number().min(0).max(10_000),
  fuelAtEnd_kg: z.number().min(0).max(10_000),
});
export type LoadingShape = z.infer<typeof loadingShape>;

const loadingSaid = craftEntry(
  "loading.said",
  z.strictObject({ ...loadingShape.shape, at: instant, replaces }),
  (state, { at, replaces: replaced, ...body }, { id, by }) => {
    if (body.fuelAtEnd_kg > body.fuel_kg) {
      const wanted = `at most ${body.fuel_kg} kg, the fuel at the start`;
      return refuse("moreFuelAtEnd", "fuelAtEnd_kg", `${body.fuelAtEnd_kg} kg`, wanted);
    }
    const loading = { entry: id, by, at_ms: instantToMs(at), ...body };
    const kit = Object.fromEntries(
      Object.entries(state.load.kit).flatMap(([name, facts]) => {
        const left = facts.filter(({ entry }) => !replaced.includes(entry));
        return left.length === 0 ? [] : [[name, left] as const];
      }),
    );
    const loadings = beside(state.load.loadings, replaced, loading);
    return { ...state, load: { ...state.load, loadings, kit } };
  },
);

const kitMoved = craftEntry(
  "kit.moved",
  z.strictObject({ kit: sheetId, aboard: z.boolean(), words, at: instant, replaces }),
  (state, { at, replaces: replaced, ...body }, { id, by }) => ({
    ...state,
    load: {
      ...state.load,
      kit: {
        ...state.load.kit,
        [body.kit]: beside(own(state.load.kit, body.kit), replaced, {
          entry: id,
          by,
          at_ms: instantToMs(at),
          ...body,
        }),
      },
    },
  }),
);

export const loadEntries = [craftWeighed, loadingSaid, kitMoved] as const;
