// Recent experience: until which day what was flown still suffices. In: what was done on which days; out: the last day.
//
// A window of 90 days counts the 90 days before the flight: what was done on 1 January still counts on 1 April. Windows
// in months go to the day of the same number. The day is that of the operator's zone.
// FCL.060(b) (text): 3 take-offs, approaches and landings in 90 days; by night 1, or an instrument rating.
// SPA.NVIS.130(e) (memory): 3 NVIS flights in 90 days. SPA.HEMS.130(d) (memory): 30 min by instruments in 6 months.
// 14 CFR 61.57(b) (text): 3 by night in 90 days. 14 CFR 61.57(f) (memory): 6 goggles operations within the two calendar
// months before the month of the flight. Hoist cycles, by day and by night: as the operator sets them, no rule has figures. Checked in published/crew.test.ts.
import { dateLater, endOfMonth } from "../facts/calendar.ts";
import type { CrewRules, RecencyKind } from "../facts/crew.ts";
import type { RuleSetId } from "../rules/cited.ts";

export type Done = { readonly on: string; readonly amount: number };
export type Window =
  | { readonly days: number }
  | { readonly months: number }
  /** So many calendar months before the month of the flight: what was done counts until the end of the last of them. */
  | { readonly monthsBefore: number };
export type RecencyRule = { readonly need: number; readonly window: Window; readonly cite: string };

/** The last day on which at least `need` lies in the window before it; null when there never was that much. */
export function recencyLastDay(done: readonly Done[], { need, window }: RecencyRule): string | null {
  let sum = 0;
  for (const { on, amount } of done.toSorted((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : 0))) {
    sum += amount;
    if (sum < need) continue;
    return "monthsBefore" in window
      ? endOfMonth(dateLater(`${on.slice(0, 7)}-01`, { months: window.monthsBefore }))
      : dateLater(on, window);
  }
  return null;
}

type BuiltIn = "landings" | Exclude<RecencyKind, "hoist" | "nightHoist">;
type Rules = Readonly<Record<BuiltIn, RecencyRule>>;

const instrument = { need: 30, window: { months: 6 }, cite: "SPA.HEMS.130(d)" } as const;
const goggles = { need: 3, window: { days: 90 }, cite: "SPA.NVIS.130(e)" } as const;

const rules: Readonly<Record<RuleSetId, Rules>> = {
  eu: {
    landings: { need: 3, window: { days: 90 }, cite: "FCL.060(b)(1)" },
    night: { need: 1, window: { days: 90 }, cite: "FCL.060(b)(2)" },
    nvis: goggles,
    instrument,
  },
  us: {
    landings: { need: 3, window: { days: 90 }, cite: "14 CFR 61.57(a)" },
    night: { need: 3, window: { days: 90 }, cite: "14 CFR 61.57(b)" },
    nvis: { need: 6, window: { monthsBefore: 2 }, cite: "14 CFR 61.57(f)" },
    instrument,
  },
};

export function recencyRulesOf(ruleSet: RuleSetId): Rules {
  return rules[ruleSet];
}

/** The rule of one kind: the rule set's, or for the hoist the operator's own; null where the operator has set none. */
export function recencyRule(
  kind: "landings" | RecencyKind,
  { ruleSet, hoist }: CrewRules,
): RecencyRule | null {
  if (kind !== "hoist" && kind !== "nightHoist") return rules[ruleSet][kind];
  if (hoist === null) return null;
  const { need, days } = kind === "hoist" ? hoist.day : hoist.night;
  return { need, window: { days }, cite: hoist.cite };
}
