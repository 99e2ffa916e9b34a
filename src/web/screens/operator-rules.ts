// What stands of the operator's rules when one of them is set anew: a form states its own part and keeps the rest. Of sets
// that were made apart the strictest of each part is kept, so that no form loosens what it does not show.
import type { CrewRules, RecencyKind } from "../../core/facts/crew.ts";
import type { FlightRules } from "../../core/facts/flight-rules.ts";

type KeptFlying = Pick<FlightRules, "meter" | "worksheet" | "overWater" | "lapseInFlight">;

const smallest = <One>(all: readonly One[], of: (one: One) => number): One | null =>
  all.toSorted((a, b) => of(a) - of(b))[0] ?? null;

export function standingFlying(all: readonly FlightRules[]): KeptFlying {
  const each = <Key extends "meter" | "worksheet" | "overWater">(key: Key) =>
    all.flatMap((one) => one[key] ?? []) as NonNullable<FlightRules[Key]>[];
  return {
    meter: smallest(each("meter"), ({ tolerance_h }) => tolerance_h),
    worksheet: smallest(each("worksheet"), ({ releaseAbove }) => releaseAbove),
    overWater: smallest(each("overWater"), ({ seaStateAtMost }) => seaStateAtMost),
    lapseInFlight: all.some(({ lapseInFlight }) => lapseInFlight === "forbidden")
      ? "forbidden"
      : "pointedOut",
  };
}

/** Crew rules as an entry takes them: those that stand with a part put in their place; null where none or several stand. */
export function crewRulesWith(all: readonly CrewRules[], part: Partial<CrewRules>) {
  const [rules, ...others] = all;
  if (rules === undefined || others.length > 0) return null;
  const { entry, by: _by, at_ms: _at, ...body } = { ...rules, ...part };
  return { ...body, replaces: [entry] };
}

export const recencyNames = [
  "landings",
  "night",
  "nvis",
  "instrument",
  "hoist",
  "nightHoist",
] as const satisfies readonly ("landings" | RecencyKind)[];
