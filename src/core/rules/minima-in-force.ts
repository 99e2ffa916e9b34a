// The weather minima that hold for an operation of a craft: the rule set's table by crew, light and class, with what the
// operator put in its place or beside it, as boxes. In: the operator's settings, the operation, the light, how many pilots
// are on duty. Out: boxes of a least ceiling and a least visibility, of which the weather has to meet one.
//
// A table of steps may ask less visibility under a lower ceiling (that of 2012 does from 500 ft, where the airspace's own
// minimum begins). A box from a floor up therefore asks for the most that any step from there up asks, so that a higher
// ceiling never makes worse and nothing that a table forbids is allowed. Only dispatch is asked: no reduction for short
// periods is in here. Where nobody is on duty the table of one pilot is asked, which is never the easier.
// Sources: eu-minima.ts, us-minima.ts, and the citation of the operator's own tables. Null where the rule set binds the
// operation by nobody's word: the operator's figures for it stand alone.
import { atLeast } from "../quantity/compare.ts";
import type { OperationId } from "../facts/reason.ts";
import type { MinimaLight, MinimaUse, OperatorSettings, OwnMinima } from "../facts/situation.ts";
import type { Citation } from "./cited.ts";
import type { MinimaStep } from "./minima-table.ts";
import { tablesOf } from "./minima.ts";
import type { MinimaTable, OperatorMinima } from "./minima.ts";

export type MinimaBox = {
  readonly ceiling_ft: number;
  readonly visibility_m: number;
  /** By which the box asks what it asks; null for the figures that it was laid over. */
  readonly citation: Citation | null;
};

export type MinimaAsked = {
  readonly operation: OperationId;
  readonly light: MinimaLight;
  /** On duty; null where nobody is. */
  readonly pilots: number | null;
};

/** The boxes of a table, from the highest floor down; none of them is another's easier or harder twin. */
export function boxesOf({ steps, citation }: MinimaTable): readonly MinimaBox[] {
  let visibility_m = 0;
  const boxes = steps.map((step: MinimaStep): MinimaBox => {
    visibility_m = Math.max(visibility_m, step.visibility_m);
    return { ceiling_ft: step.ceilingFrom_ft, visibility_m, citation };
  });
  return easiest(boxes);
}

/** Without boxes that ask at least as much as another one. */
function easiest(boxes: readonly MinimaBox[]): readonly MinimaBox[] {
  return boxes.filter((box, index) =>
    boxes.every((other, at) => {
      const asksMore =
        atLeast(box.ceiling_ft, other.ceiling_ft) && atLeast(box.visibility_m, other.visibility_m);
      const isSame = box.ceiling_ft === other.ceiling_ft && box.visibility_m === other.visibility_m;
      return at === index || !asksMore || (isSame && index < at);
    }),
  );
}

/** Both: every box of the one laid over every box of the other. */
export function bothHold(one: readonly MinimaBox[], other: readonly MinimaBox[]): readonly MinimaBox[] {
  return easiest(
    one.flatMap((a) =>
      other.map((b) => {
        const bAsksMore = b.ceiling_ft > a.ceiling_ft || b.visibility_m > a.visibility_m;
        return {
          ceiling_ft: Math.max(a.ceiling_ft, b.ceiling_ft),
          visibility_m: Math.max(a.visibility_m, b.visibility_m),
          citation: bAsksMore ? b.citation : a.citation,
        };
      }),
    ),
  );
}

function isFor(own: OwnMinima, { operation, light }: MinimaAsked, pilots: number): boolean {
  return (
    own.light === light &&
    (own.operations === "all" || own.operations.includes(operation)) &&
    (own.pilots === null || (own.pilots === 1 ? pilots === 1 : pilots >= own.pilots))
  );
}

function operatorTables(settings: OperatorSettings, asked: MinimaAsked, pilots: number): OperatorMinima[] {
  return (settings.minima ?? []).flatMap(({ cite, edition, tables }) =>
    tables.flatMap(({ kind, steps, ...own }): OperatorMinima[] => {
      const [first, ...rest] = steps;
      if (first === undefined || !isFor({ kind, steps, ...own }, asked, pilots)) return [];
      return kind === "instead"
        ? [{ kind, steps: [first, ...rest], cite, edition }]
        : steps.map((step) => ({ kind, step, cite, edition }));
    }),
  );
}

function tablesBy(
  use: MinimaUse,
  { light }: MinimaAsked,
  pilots: number,
  own: readonly OperatorMinima[],
): readonly MinimaTable[] {
  // The ceiling only decides whether the airspace's minimum is asked for, and that is always told here.
  const question = { phase: "dispatch", light, ceiling_ft: 0, visibility_m: 0 } as const;
  if (use.ruleSet === "eu") {
    const { performanceClass, airspaceVisibility_m } = use;
    return tablesOf({ ...question, ruleSet: "eu", pilots, performanceClass, airspaceVisibility_m }, own);
  }
  const { mountainous, local, aided } = use;
  return tablesOf({ ...question, ruleSet: "us", mountainous, local, nvis: aided, htaws: aided }, own);
}

/** The boxes of which one has to be met; null where no table of minima binds the operation. */
export function minimaInForce(settings: OperatorSettings, asked: MinimaAsked): readonly MinimaBox[] | null {
  const pilots = Math.max(1, asked.pilots ?? 1);
  const own = operatorTables(settings, asked, pilots);
  const uses = (settings.minimaUses ?? []).filter(({ operation }) => operation === asked.operation);
  const tables =
    uses.length > 0
      ? uses.flatMap((use) => tablesBy(use, asked, pilots, own))
      : own.map((one): MinimaTable => ({
          steps: one.kind === "instead" ? one.steps : [one.step],
          citation: { cite: one.cite, edition: one.edition, status: "operator" },
        }));
  const [first, ...others] = tables.map(boxesOf);
  return first === undefined ? null : others.reduce<readonly MinimaBox[]>(bothHold, first);
}
