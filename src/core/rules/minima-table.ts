// Weather minima as steps over the ceiling. In: a ceiling and a visibility. Out: the step they fall into, what is short.
//
// Steps are half open: a step holds from its own floor to the floor of the next higher one, so that 499.5 ft lies in the
// step of 400 ft and no ceiling falls between two steps. Compared unrounded; on a limit is met (law 6).
import { atLeast } from "../quantity/compare.ts";

export type MinimaStep = {
  readonly ceilingFrom_ft: number;
  readonly visibility_m: number;
  /** What the en-route phase allows for short periods, on conditions that a person judges. Never counts at dispatch. */
  readonly shortPeriods?: { readonly ceiling_ft?: number; readonly visibility_m?: number };
};

export const phases = ["dispatch", "enroute"] as const;
export type Phase = (typeof phases)[number];

export type MinimaRow = {
  readonly ceilingFrom_ft: number;
  /** Null in the uppermost step. */
  readonly ceilingBelow_ft: number | null;
  readonly visibility_m: number;
  /** True where it is met only by the reduction for short periods en route. */
  readonly shortPeriods: boolean;
};

export type Short = "ceiling" | "visibility";

export type StepJudgement = { readonly short: readonly Short[]; readonly row: MinimaRow };

/** Judges against steps in falling order of their floors. Under the lowest floor the lowest step is what was wanted. */
export function judgeSteps(
  steps: readonly [MinimaStep, ...MinimaStep[]],
  { ceiling_ft, visibility_m, phase }: { ceiling_ft: number; visibility_m: number; phase: Phase },
): StepJudgement {
  const found = steps.findIndex(({ ceilingFrom_ft }) => atLeast(ceiling_ft, ceilingFrom_ft));
  const index = found === -1 ? steps.length - 1 : found;
  const step = steps[index] ?? steps[0];
  const reduced = phase === "enroute" ? (step.shortPeriods ?? {}) : {};
  const meets = (value: number, limit: number | undefined): boolean =>
    limit !== undefined && atLeast(value, limit);
  const meetsCeiling = found !== -1;
  const meetsVisibility = atLeast(visibility_m, step.visibility_m);
  const short: Short[] = [];
  if (!meetsCeiling && !meets(ceiling_ft, reduced.ceiling_ft)) short.push("ceiling");
  if (!meetsVisibility && !meets(visibility_m, reduced.visibility_m)) short.push("visibility");
  return {
    short,
    row: {
      ceilingFrom_ft: step.ceilingFrom_ft,
      ceilingBelow_ft: steps[index - 1]?.ceilingFrom_ft ?? null,
      visibility_m: step.visibility_m,
      shortPeriods: short.length === 0 && !(meetsCeiling && meetsVisibility),
    },
  };
}
