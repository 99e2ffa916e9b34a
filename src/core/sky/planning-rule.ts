// How a change group of a forecast or trend counts when an arrival is planned. The rule is the operator's or the rule
// set's; it is passed in with its citation, and nothing here chooses one.
//
// What no rule can take away: a group counts only towards the worse, except that a completed BECMG or FM replaces what
// stood before; improvements of TEMPO and PROB groups never count; a group that was not read counts as not known; and the
// weather itself that any group names (ice, thunderstorms) counts always, since a rule of planning speaks of minima. The
// rules of the rule sets: core/rules/forecast-planning.ts.

import type { Change } from "./report.ts";

export type PassingChange = Exclude<Change, "base" | "BECMG" | "FM" | "NOSIG">;

export type PlanningRule = {
  readonly id: string;
  readonly edition: string;
  readonly cite: string;
  /**
   * While a BECMG is under way: `both` what was and what will be (worse from its start, better from its end),
   * `fromStart` only what will be, `fromEnd` only what was.
   */
  readonly becoming: "both" | "fromStart" | "fromEnd";
  /** `persistent`: only where its weather is lasting, not showers or thunderstorms that pass. */
  readonly passing: Readonly<Record<PassingChange, "always" | "persistent" | "never">>;
  /** The window of an arrival, before and after the time that is reckoned with. */
  readonly arrival: { readonly before_min: number; readonly after_min: number };
};

/** The strictest: every group counts. */
export const everyGroupCounts: PlanningRule = {
  id: "everyGroupCounts",
  edition: "1",
  cite: "the program's own law: unknown is never ready, bad news never helps",
  becoming: "both",
  passing: {
    TEMPO: "always",
    PROB30: "always",
    PROB40: "always",
    PROB30_TEMPO: "always",
    PROB40_TEMPO: "always",
  },
  arrival: { before_min: 60, after_min: 60 },
};

/** True where all of it passes: showers, thunderstorms, squalls, funnel clouds; fog or steady rain beside them lasts. */
export function isPassingWeather(codes: readonly string[]): boolean {
  return codes.length > 0 && codes.every((code) => /TS|SH|SQ|FC/u.test(code));
}
