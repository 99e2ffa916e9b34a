// Rounding for the eye, against the pilot: a shown number never makes an unmet limit look met.
//
// A quantity says which way is worse for the one who reads it: a mass or the fuel required is worse when higher, so it
// rounds up; fuel on board, a margin and a greatest permitted mass are worse when lower, so they round down. Where both
// or neither is worse (a pressure, a temperature) the nearest is shown.
// A number within a relative 4e−10 of a step is shown as that step, so that 3,000.0000001 kg is 3,000 and not 3,001.
// Two of those allowances stay below the 1e−9 within which a value counts as on its limit (compare.ts): value and limit
// can only look equal when they count as equal.
// Refuses numbers that are not finite, or too large for every step to be a number of its own.

import { onLimit } from "./compare.ts";
import { describe, refuse } from "./refusal.ts";

/** Which way is worse for the reader. */
export type Worse = "lower" | "higher" | "both";

/** The usual quantities of a readiness display and their worse directions. */
export const worseOf = {
  mass: "higher",
  greatestMass: "lower",
  leastMass: "higher",
  fuelOnBoard: "lower",
  fuelRequired: "higher",
  margin: "lower",
  range: "lower",
  endurance: "lower",
  timeLeft: "lower",
  timeNeeded: "higher",
  distanceToGo: "higher",
  wind: "higher",
  greatestWind: "lower",
  densityAltitude: "higher",
  ceiling: "lower",
  visibility: "lower",
  leastCeiling: "higher",
  leastVisibility: "higher",
  consumption: "higher",
  levelLeft: "lower",
  temperature: "both",
  pressure: "both",
  position: "both",
} as const satisfies Record<string, Worse>;

const onStepShare = 4e-10;

/**
 * The value to show, in steps of 10^−decimals (decimals may be negative: −1 is tens). Never −0.
 * For a margin, `differenceFrom` is the limit that it was taken from: what is on that limit by compare.ts then shows as
 * no margin, and not as a step less.
 */
export function roundForDisplay(value: number, decimals: number, worse: Worse, differenceFrom = 0): number {
  if (!Number.isFinite(value)) refuse("value", "notFinite", describe(value), "a finite number");
  if (!Number.isInteger(decimals) || Math.abs(decimals) > 9) {
    refuse("decimals", "outsideDomain", describe(decimals), "a whole number of −9 … 9");
  }
  const scale = 10 ** Math.abs(decimals);
  const inSteps = (amount: number): number => (decimals < 0 ? amount / scale : amount * scale);
  const steps = inSteps(value);
  if (Math.abs(steps) > Number.MAX_SAFE_INTEGER) {
    refuse("value", "outsideDomain", describe(value), `at most ${Number.MAX_SAFE_INTEGER} steps`);
  }
  const slack = Math.max(onStepShare * Math.abs(steps), onLimit * Math.abs(inSteps(differenceFrom)));
  const rounded = roundSteps(steps, worse, slack);
  return (decimals < 0 ? rounded * scale : rounded / scale) + 0;
}

function roundSteps(steps: number, worse: Worse, slack: number): number {
  const nearest = Math.round(steps);
  if (worse === "both" || Math.abs(steps - nearest) <= slack) return nearest;
  return worse === "lower" ? Math.floor(steps) : Math.ceil(steps);
}

const marks = {
  en: { decimal: ".", group: "," },
  de: { decimal: ",", group: "." },
} as const;

export type Language = keyof typeof marks;

/** The rounded value as text: grouped by thousands, with the language's decimal mark and a true minus sign. */
export function displayNumber(value: number, decimals: number, worse: Worse, language: Language): string {
  const rounded = roundForDisplay(value, decimals, worse);
  const [whole = "", fraction] = Math.abs(rounded).toFixed(Math.max(0, decimals)).split(".");
  const { decimal, group } = marks[language];
  const grouped = whole.replaceAll(/\B(?=(?:\d{3})+$)/g, group);
  const sign = rounded < 0 ? "\u2212" : "";
  return `${sign}${grouped}${fraction === undefined ? "" : `${decimal}${fraction}`}`;
}
