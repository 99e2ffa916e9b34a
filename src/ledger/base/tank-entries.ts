// The fuel that a base stores: its tanks as the operator describes them, deliveries, samples and dips, filters, what is shut
// and opened, what was drawn for others. Whether fuel may be taken from one is judged by the core, never here. A bad sample
// is always taken in, whoever saw it; opening what was shut takes a role that may.
import { z } from "zod";
import { fuelUnits, samplesSeen, type TankFacts } from "../../core/facts/base-tank.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import type { BaseState } from "../../core/facts/sky.ts";
import { beside, hash, instant, replaces, sheetId, typed, words } from "../craft/shapes.ts";
import type { EntryType } from "../entry-type.ts";
import { baseEntry } from "./base-entry.ts";

/** The newest of each kind that the folded state keeps; all stay in the ledger. */
const kept = 1_000;
const office = ["administrator", "airworthiness"] as const;
const atTheTank = ["pilot", "crewMember", "engineer", "airworthiness", "administrator"] as const;

const grade = z.string().min(1).max(40);
const volume_L = z.number().min(0).max(1_000_000);
const amountShape = {
  amount: z.number().positive().max(1_000_000),
  unit: z.enum(fuelUnits),
  typed,
  density_kgL: z.number().min(0.6).max(1),
  fuel_C: z.number().min(-60).max(60).nullable(),
};

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

/** An entry about a tank that stands beside the others of its kind; it names what it takes the place of. */
function tankEntry(
  type: string,
  kind: keyof TankFacts,
  roles: readonly string[],
  shape: z.ZodRawShape,
): EntryType<BaseState> {
  const body = z.strictObject({ tank: sheetId, ...shape, at: instant, replaces });
  return baseEntry(type, roles, body, (state, given, { id, by }) => {
    const { at, replaces: replaced, ...said } = given as { at: string; replaces: readonly string[] };
    const fact = { entry: id, by, at_ms: instantToMs(at), ...said };
    const before: readonly Said[] = state.tanks[kind];
    const after = beside(before, replaced, fact).slice(-kept);
    return { ...state, tanks: { ...state.tanks, [kind]: after } };
  });
}

const described = tankEntry("tank.described", "described", office, {
  name: z.string().min(1).max(60),
  grade,
  capacity_L: volume_L.positive(),
  low_L: volume_L,
  dipWithin_L: volume_L,
  sampleEvery_h: z
    .number()
    .positive()
    .max(24 * 31),
  settle_h: z
    .number()
    .min(0)
    .max(24 * 7),
  filterEvery_days: z.number().positive().max(3_660).nullable(),
  inUse: z.boolean(),
  cite: z.string().min(1).max(300),
});

const delivered = tankEntry("tank.delivered", "delivered", atTheTank, {
  ...amountShape,
  docket: z.string().min(1).max(60),
  batch: z.string().min(1).max(60),
  grade,
});

const checked = tankEntry("tank.checked", "checked", atTheTank, {
  sample: z.enum(samplesSeen),
  waterFound: z.boolean(),
  stock_L: volume_L.nullable(),
  typed,
});

const filterChanged = tankEntry("tank.filterChanged", "filters", atTheTank, { words });
const shut = tankEntry("tank.shut", "shut", atTheTank, { words: words.min(1) });
const drawn = tankEntry("tank.drawn", "drawn", atTheTank, { ...amountShape, words: words.min(1) });

/** Opened again by somebody who may: what it names as shut ends, and deliveries of another grade until then are answered for. */
const opened = baseEntry(
  "tank.opened",
  ["engineer", ...office],
  z.strictObject({
    tank: sheetId,
    words: words.min(1),
    ends: z.array(hash).max(256),
    at: instant,
  }),
  (state, { at, ...body }, { id, by }) => {
    const fact = { entry: id, by, at_ms: instantToMs(at), ...body };
    return { ...state, tanks: { ...state.tanks, opened: [...state.tanks.opened, fact].slice(-kept) } };
  },
);

export const tankEntries = [described, delivered, checked, filterChanged, shut, opened, drawn] as const;
