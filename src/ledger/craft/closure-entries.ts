// Closures set open or closed: on a walk's page, or by themselves (a cap opened for a sample between two walks).
import { z } from "zod";
import type { ClosureFact, CraftState } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { own } from "../../core/facts/own.ts";
import { beside, craftEntry, instant, replaces, sheetId } from "./shapes.ts";

export const closureSet = z.strictObject({ closure: sheetId, state: z.enum(["open", "closed"]), replaces });
export type ClosureSet = z.infer<typeof closureSet>;

type Said = Pick<ClosureFact, "entry" | "by" | "at_ms">;

/** The standing closure facts after these were set by one entry; a closure set twice in it keeps the last. */
export function closuresSet(
  standing: CraftState["closures"],
  set: readonly ClosureSet[],
  said: Said,
  walk: string | null,
): CraftState["closures"] {
  const closures = { ...standing };
  for (const { closure, state, replaces: replaced } of set) {
    closures[closure] = beside(own(closures, closure), [...replaced, said.entry], { ...said, state, walk });
  }
  return closures;
}

const single = z.strictObject({ ...closureSet.shape, at: instant });

const closureSetAlone = craftEntry("closure.set", single, (state, { at, ...set }, { id, by }) => ({
  ...state,
  closures: closuresSet(state.closures, [set], { entry: id, by, at_ms: instantToMs(at) }, null),
}));

export const closureEntries = [closureSetAlone] as const;
