// For tests: findings of a few words, and bands for the first damage limit of a sheet.
import type { FindingFacts, Judgement, Outcome } from "../facts/craft.ts";
import type { Damage } from "../sheet/finding-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";

type Told = {
  readonly damage?: string | null;
  readonly value?: number | null;
  readonly unit?: string;
  readonly judged?: readonly (readonly [role: string, outcome: Outcome, more?: Partial<Judgement>])[];
};

export const raised_ms = Date.UTC(2026, 1, 4, 8);

/** Judgements come an hour apart after the finding, beside each other. */
export function findingWith(told: Told, more: Partial<FindingFacts> = {}): FindingFacts {
  const { damage = null, value = null, unit = "mm", judged = [] } = told;
  return {
    finding: "finding-0001",
    raised: {
      entry: "e0",
      by: "p-one",
      at_ms: raised_ms,
      kind: "dent",
      stop: "tail",
      item: null,
      walk: null,
      measure: value === null ? null : { value, unit, typed: `${value} ${unit}` },
      words: "",
      damage,
      photos: [],
      seenOn: null,
    },
    judgements: judged.map(([role, outcome, rest], index) => ({
      entry: `j${index}`,
      by: "p-one",
      at_ms: raised_ms + (index + 1) * 3_600_000,
      outcome,
      role,
      words: "",
      deferral: null,
      again: null,
      seen: [],
      ...rest,
    })),
    deferralSteps: [],
    seenAgain: [],
    measured: [],
    steps: [],
    references: [],
    closed: [],
    reopened: [],
    ...more,
  };
}

type Band = Damage["bands"][number];

/** A dent on the tail boom with these bands; the last has no end. */
export function sheetWith(sheet: Sheet, bands: readonly Band[]): Sheet {
  return { ...sheet, damage: [{ ...sheet.damage[0]!, bands }] };
}

/** Accepted by a pilot to 0.3 mm, watched by an engineer to 0.8 mm, beyond on the ground. */
export const threeBands = (sheet: Sheet): Sheet =>
  sheetWith(sheet, [
    { upTo: 0.3, closed: true, outcome: "accept", by: "pilot" },
    { upTo: 0.8, closed: true, outcome: "watch", by: "engineer", measureAgain_h: 25, measureAgain_days: 30 },
    { outcome: "ground", by: "pilot" },
  ]);
