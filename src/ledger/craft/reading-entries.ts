// Readings and uplifts. What was typed is kept beside what was used; nothing is corrected here.
import { z } from "zod";
import type { CraftState, ReadingFact } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { refuse } from "../entry-type.ts";
import { craftEntry, instant, madeId, sheetId, typed } from "./shapes.ts";

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

/** The readings by gauge after these were taken by one entry. */
export function readingsTaken(
  held: CraftState["readings"],
  taken: readonly ReadingShape[],
  said: Said,
  walk: string | null,
): CraftState["readings"] {
  const readings = { ...held };
  for (const { conditions, ...reading } of taken) {
    const known = Object.fromEntries(Object.entries(conditions).filter(([, value]) => value !== undefined));
    readings[reading.gauge] = [
      ...(own(readings, reading.gauge) ?? []),
      { ...said, ...reading, conditions: known, walk },
    ];
  }
  return readings;
}

const single = z.strictObject({ ...readingShape.shape, at: instant });

const readingTaken = craftEntry("reading.taken", single, (state, { at, ...reading }, { id, by }) => ({
  ...state,
  readings: readingsTaken(state.readings, [reading], { entry: id, by, at_ms: instantToMs(at) }, null),
}));

const uplift = z.strictObject({
  uplift: madeId,
  fluid: sheetId,
  gauge: sheetId.nullable(),
  amount: z.number().positive(),
  unit,
  typed,
  at: instant,
});

const upliftAdded = craftEntry("uplift.added", uplift, (state, { at, ...body }, { id, by }) =>
  state.uplifts.some((held) => held.uplift === body.uplift)
    ? refuse("upliftAlreadyHeld", "uplift", body.uplift, "an id that no uplift has yet")
    : { ...state, uplifts: [...state.uplifts, { entry: id, by, at_ms: instantToMs(at), ...body }] },
);

export const readingEntries = [readingTaken, upliftAdded] as const;
