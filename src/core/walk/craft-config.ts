// What the record says of the craft's variant and equipment, in the form that applicability is judged by.
// Two people who recorded an installation apart and differ make it not known, which keeps every item it decides.
import type { Conditions as SaidConditions, CraftState } from "../facts/craft.ts";
import type { Conditions, CraftConfig } from "../sheet/applicability.ts";
import { conditions } from "../sheet/applicability-schema.ts";

export function craftConfigOf(state: CraftState): CraftConfig {
  const installed: Record<string, boolean> = {};
  for (const [equipment, facts] of Object.entries(state.equipment)) {
    const [first, ...others] = facts.map((fact) => fact.installed);
    if (first !== undefined && others.every((other) => other === first)) installed[equipment] = first;
  }
  return { variant: state.opened?.variant ?? null, installed };
}

/** Conditions as said at the beginning of a walk; what was not said, or not as yes or no, is left out. */
export function conditionsOf(said: SaidConditions): Conditions {
  return Object.fromEntries(
    conditions.flatMap((name) => {
      const value = said[name];
      return typeof value === "boolean" ? [[name, value]] : [];
    }),
  );
}

/** Hash of the sheet that holds for the craft at an instant: the one whose time began last; null when none has begun. */
export function sheetInForce(state: CraftState, at_ms: number): string | null {
  let holding: CraftState["sheets"][number] | null = null;
  for (const sheet of state.sheets) {
    if (sheet.holdsFrom_ms <= at_ms && (holding === null || sheet.holdsFrom_ms >= holding.holdsFrom_ms))
      holding = sheet;
  }
  return holding?.sheet ?? null;
}
