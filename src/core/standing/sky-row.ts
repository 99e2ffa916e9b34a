// The sky's row of the standing line, and who judges it. The judge is passed in: reading reports, the sun and the
// geodesics behind it are half of the program's weight, and an app that has to open quickly loads them beside the rest.
// Until it has, nothing of the sky is known.
import type { CraftState } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import type { BaseSky } from "../facts/sky.ts";
import type { Sheet } from "../sheet/schema.ts";

/** Judges the sky over a craft at its base; null where the base is not known. */
export type SkyJudge = (
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  base: BaseSky | null,
) => readonly Reason[];

export type SkyKnown = { readonly base: BaseSky | null; readonly judge: SkyJudge | null };

/** The two rows of a standing line. */
export type StandingRow = "machine" | "sky";

export function rowOf({ code }: Reason): StandingRow {
  return code.startsWith("weather.") || code.startsWith("light.") ? "sky" : "machine";
}

export function skyReasons(
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  { base, judge }: SkyKnown,
): readonly Reason[] {
  if (judge !== null) return judge(sheet, state, situation, base);
  return [
    {
      code: "light.notKnown",
      effect: "unknown",
      operations: "all",
      from_ms: null,
      until_ms: null,
      source: { kind: "law", law: "unknownIsNeverReady" },
      evidence: [],
      remedy: { code: "weather.loadAgain", clearance: "minute" },
      facts: {},
    },
  ];
}
