// Assesses what an operation needs to have installed: missing equipment blocks it, equipment not recorded is unknown.
import type { CraftState } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import { own } from "../facts/own.ts";
import type { Sheet } from "../sheet/schema.ts";
import { craftConfigOf } from "../walk/craft-config.ts";

export function assessNeeds(sheet: Sheet, state: CraftState): Reason[] {
  const { installed } = craftConfigOf(state);
  return sheet.operations.flatMap(({ id, needs }, index) =>
    needs.equipment.flatMap((equipment) => {
      const fitted = own(installed, equipment);
      if (fitted === true) return [];
      const missing = fitted === false;
      return [
        {
          code: missing ? "needs.notInstalled" : "needs.notRecorded",
          effect: missing ? "blocks" : "unknown",
          operations: [id],
          from_ms: null,
          until_ms: null,
          source: { kind: "sheet", path: `operations[${index}].needs.equipment`, cite: null },
          evidence: (own(state.equipment, equipment) ?? []).map(({ entry }) => entry),
          remedy: {
            code: missing ? "needs.install" : "needs.record",
            clearance: missing ? "someone" : "minute",
          },
          facts: { equipment },
        } satisfies Reason,
      ];
    }),
  );
}
