// Calls as they were answered, fuel checks in flight, and fuel filled in with its balance and sample.
//
// An answer is kept with its inputs as given, so that a new fact makes a new answer and the old one stays: the inputs as the
// core takes them, what it said in short, and what the pilot decided. Whether it was right is never judged here. Fuel filled
// in stands beside the uplift entries of levels; its balance is computed by the core from what is said here.
import { z } from "zod";
import { fuelUnits, samplesSeen } from "../../core/facts/base-tank.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { beside, craftEntry, instant, madeId, replaces, sheetId, typed, words } from "./shapes.ts";

const place = z.strictObject({
  name: z.string().min(1).max(80),
  lat_deg: z.number().min(-90).max(90),
  lon_deg: z.number().min(-180).max(180),
  elevation_ft: z.number().min(-2_000).max(30_000).nullable(),
  site: sheetId.nullable(),
});

const shortText = z.string().max(80);

/** The answer as it stood on the screen: every margin, the binding one first, and each stop, the start first. */
const keptAnswer = z.strictObject({
  margins: z
    .array(
      z.strictObject({
        kind: z.string().max(40),
        stop: z.number().int().nullable(),
        leg: z.number().int().nullable(),
        met: z.boolean().nullable(),
        room: z.number().nullable(),
        unit: z.string().max(10),
        what: shortText.nullable(),
      }),
    )
    .max(200),
  stops: z
    .array(
      z.strictObject({
        name: shortText,
        arrive: instant.nullable(),
        leave: instant.nullable(),
        fuel_kg: z.number().nullable(),
        mass_kg: z.number().nullable(),
      }),
    )
    .max(20),
});

const callKept = craftEntry(
  "call.kept",
  z.strictObject({
    call: madeId,
    operation: sheetId,
    /** As somebody typed or read it out, beside what was made of it. */
    typed,
    scene: place,
    hospital: place.nullable(),
    departAt: instant,
    /** The whole question, as the core takes it. */
    inputs: z.record(z.string(), z.unknown()),
    verdict: z.enum(["ready", "withinLimits", "notKnown", "notReady"]),
    /** The margin that bound, in its own unit. */
    binding: z
      .strictObject({ kind: z.string().max(40), room: z.number().nullable(), unit: z.string().max(10) })
      .nullable(),
    fuelRequired_kg: z.number().min(0).max(10_000).nullable(),
    answer: keptAnswer.exactOptional(),
    decision: z.enum(["accepted", "declined", "asked"]),
    words,
    at: instant,
    replaces,
  }),
  (state, { at, departAt, replaces: replaced, ...body }, { id, by }) => {
    const fact = { entry: id, by, at_ms: instantToMs(at), depart_ms: instantToMs(departAt), ...body };
    return { ...state, calls: beside(state.calls, replaced, fact).slice(-kept) };
  },
  ["pilot"],
);

/** The newest calls that the folded state keeps; all stay in the ledger. */
const kept = 200;

const fuelChecked = craftEntry(
  "fuel.checked",
  z.strictObject({
    call: madeId.nullable(),
    planned_kg: z.number().min(0).max(10_000).nullable(),
    actual_kg: z.number().min(0).max(10_000),
    typed,
    at: instant,
  }),
  (state, { at, ...body }, { id, by }) => ({
    ...state,
    fuelChecks: [...state.fuelChecks, { entry: id, by, at_ms: instantToMs(at), ...body }].slice(-kept),
  }),
  ["pilot", "crewMember"],
);

const fuelFilled = craftEntry(
  "fuel.filled",
  z.strictObject({
    before_kg: z.number().min(0).max(10_000),
    amount: z.number().positive().max(20_000),
    unit: z.enum(fuelUnits),
    typed,
    density_kgL: z.number().min(0.6).max(1),
    fuel_C: z.number().min(-60).max(60).nullable(),
    after_kg: z.number().min(0).max(10_000),
    grade: z.string().min(1).max(40),
    /** From which tank of the base; null for fuel from elsewhere. */
    baseTank: sheetId.nullable(),
    /** Null where none was taken: that is asked about. */
    sample: z.enum(samplesSeen).nullable(),
    at: instant,
    replaces,
  }),
  (state, { at, replaces: replaced, ...body }, { id, by }) => {
    const fact = { entry: id, by, at_ms: instantToMs(at), ...body };
    return { ...state, fuelFilled: beside(state.fuelFilled, replaced, fact).slice(-kept) };
  },
  ["pilot", "crewMember", "engineer"],
);

const fuelSampled = craftEntry(
  "fuel.sampled",
  z.strictObject({ sample: z.enum(samplesSeen), words, at: instant, replaces }),
  (state, { at, replaces: replaced, ...body }, { id, by }) => {
    const fact = { entry: id, by, at_ms: instantToMs(at), ...body };
    return { ...state, fuelSampled: beside(state.fuelSampled, replaced, fact).slice(-kept) };
  },
  ["pilot", "crewMember", "engineer"],
);

export const callEntries = [callKept, fuelChecked, fuelFilled, fuelSampled] as const;
