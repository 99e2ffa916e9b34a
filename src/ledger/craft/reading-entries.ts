// Readings and uplifts. What was typed is kept beside what was used; what was mistyped is taken back by an entry of its own
// and kept: it is then no reading, and the gauge is to be read again.
import { z } from "zod";
import type { CraftState, ReadingFact, UpliftFact } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { isRefusal, refuse } from "../entry-type.ts";
import type { EntryMeta, Refusal } from "../entry-type.ts";
import { craftEntry, hash, instant, madeId, sheetId, typed, words } from "./shapes.ts";

const unit = z.string().min(1).max(16);

export const readingShape = z.strictObject({
  gauge: sheetId,
  value: z.number(),
  unit,
  typed,
  conditions: z.strictObject({
    minutesAfterShutdown: z.number().min(0).optional(),
    oat_C: z.number().optional(),
    bottle_C: z.number().optional(),
    hot: z.boolean().optional(),
    level: z.boolean().optional(),
  }),
  hours_h: z.number().min(0).nullable(),
});
export type ReadingShape = z.infer<typeof readingShape>;

type Said = Pick<ReadingFact, "entry" | "by" | "at_ms">;

function factOf({ conditions, ...reading }: ReadingShape, said: Said, walk: string | null): ReadingFact {
  const known = Object.fromEntries(Object.entries(conditions).filter(([, value]) => value !== undefined));
  return { ...said, ...reading, conditions: known, walk };
}

function beside(held: CraftState["readings"], facts: readonly ReadingFact[]): CraftState["readings"] {
  const readings = { ...held };
  for (const [gauge, taken] of Map.groupBy(facts, (fact) => fact.gauge)) {
    readings[gauge] = [...(own(readings, gauge) ?? []), ...taken];
  }
  return readings;
}

/** The readings by gauge after these were taken by one entry. */
export function readingsTaken(
  held: CraftState["readings"],
  taken: readonly ReadingShape[],
  said: Said,
  walk: string | null,
): CraftState["readings"] {
  return beside(
    held,
    taken.map((reading) => factOf(reading, said, walk)),
  );
}

const single = z.strictObject({ ...readingShape.shape, at: instant });

const readingTaken = craftEntry("reading.taken", single, (state, { at, ...reading }, { id, by }) => ({
  ...state,
  readings: readingsTaken(state.readings, [reading], { entry: id, by, at_ms: instantToMs(at) }, null),
}));

const label = z.string().min(1).max(80).nullable();

const uplift = z.strictObject({
  uplift: madeId,
  fluid: sheetId,
  gauge: sheetId.nullable(),
  amount: z.number().positive(),
  unit,
  typed,
  grade: label,
  batch: label,
  hours_h: z.number().min(0).nullable(),
  at: instant,
});

type Uplift = z.infer<typeof uplift>;

/** The state with these uplifts beside those held; a refusal where one of them is held already. */
function withUplifts(
  state: CraftState,
  added: readonly Uplift[],
  { id, by }: EntryMeta,
): CraftState | Refusal {
  const known = new Set([...state.uplifts, ...state.upliftsTwice].map((held) => held.uplift));
  const facts: UpliftFact[] = [];
  for (const { at, ...body } of added) {
    if (known.has(body.uplift)) {
      return refuse("upliftAlreadyHeld", "uplift", body.uplift, "an id that no uplift has yet");
    }
    known.add(body.uplift);
    facts.push({ entry: id, by, at_ms: instantToMs(at), ...body });
  }
  return { ...state, uplifts: [...state.uplifts, ...facts] };
}

const upliftAdded = craftEntry("uplift.added", uplift, (state, body, meta) =>
  withUplifts(state, [body], meta),
);

/** As many as a year of one machine has; an entry must stay below a megabyte. */
const mostRows = 3_000;

/** Readings and uplifts from elsewhere, all in one entry: so that an import is there whole or not at all. */
const imported = z.strictObject({
  import: madeId,
  /** Where they came from, in the importer's words: a file, a logbook. */
  from: words,
  readings: z.array(single).max(mostRows),
  uplifts: z.array(uplift).max(mostRows),
});

const readingsImported = craftEntry("readings.imported", imported, (state, body, meta) => {
  const filled = withUplifts(state, body.uplifts, meta);
  if (isRefusal(filled)) return filled;
  const facts = body.readings.map(({ at, ...reading }) =>
    factOf(reading, { entry: meta.id, by: meta.by, at_ms: instantToMs(at) }, null),
  );
  return { ...filled, readings: beside(filled.readings, facts) };
});

const settled = z.strictObject({
  gauge: sheetId,
  settles: z.enum(["questions", "trend"]),
  /** What the writer had on the screen: the entries that the questions rest on. */
  entries: z.array(hash).max(256),
  words,
  at: instant,
});

/** Answering a question or starting a trend anew takes a warning away, so it takes the authority to. */
const levelSettled = craftEntry(
  "level.settled",
  settled,
  (state, { at, ...body }, { id, by }) => ({
    ...state,
    levelsSettled: [...state.levelsSettled, { entry: id, by, at_ms: instantToMs(at), ...body }],
  }),
  ["engineer", "airworthiness"],
);

const withdrawn = z.strictObject({
  gauge: sheetId,
  /** The entry that the reading came with. */
  reading: hash,
  words,
  at: instant,
});

const readingWithdrawn = craftEntry("reading.withdrawn", withdrawn, (state, { at, ...body }, { id, by }) => {
  const held = own(state.readings, body.gauge) ?? [];
  const isMeant = ({ entry }: ReadingFact) => entry === body.reading;
  if (!held.some(isMeant)) {
    return refuse(
      "readingNotHeld",
      "reading",
      body.reading,
      "an entry that a reading of this gauge came with",
    );
  }
  const said = { entry: id, by, at_ms: instantToMs(at), words: body.words };
  const readings = held.map((one) =>
    isMeant(one) && one.withdrawn === undefined ? { ...one, withdrawn: said } : one,
  );
  return { ...state, readings: { ...state.readings, [body.gauge]: readings } };
});

export const readingEntries = [
  readingTaken,
  upliftAdded,
  readingsImported,
  levelSettled,
  readingWithdrawn,
] as const;
