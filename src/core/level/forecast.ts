// When a falling level reaches its mark: expected, where the line does; pessimistic, where the lower end of the interval
// for a further reading does.
//
// Source: the line and its prediction interval ŷ − t s √(1 + 1/n + (x − x̄)²/Sxx) (regression.ts). The lower end is a
// concave function of the hour, so that above the mark it crosses it once at most; the crossing is found by Newton's
// method from an hour after it, where the tangents of a concave function lead down to it without overshooting.
// Valid for the line of regression.ts; refuses an hour or a mark that is not finite, and a confidence outside (0, 1).
// Not a promise: it says what happens if the use goes on as in the readings.

import { describe, refuse } from "../quantity/refusal.ts";
import { onLimit } from "../quantity/compare.ts";
import { type LineFit, predictAt } from "./regression.ts";
import { studentInterval } from "./student-t.ts";

export type Forecast = {
  /** Hours from the given hour; 0 at or below the mark already; null where the mark is never reached. */
  readonly expected_h: number | null;
  readonly pessimistic_h: number | null;
};

export type ForecastQuestion = {
  /** Counted from this hour. */
  readonly from_h: number;
  /** In the levels of the fit: with the uplifts taken off. */
  readonly mark: number;
  readonly confidence: number;
  /** Standard deviation of one reading; the fit's residuals if left out. */
  readonly scatter?: number;
};

/** Hours until the mark. */
export function forecastToMark(fit: LineFit, question: ForecastQuestion): Forecast {
  const { from_h, mark, confidence, scatter = fit.residualSd } = question;
  for (const [path, value] of Object.entries({ from_h, mark })) {
    if (!Number.isFinite(value)) refuse(path, "notFinite", describe(value), "a finite number");
  }
  const { xScale, xMean, xSpread } = fit.moments;
  const middle_h = (xMean[0] + xMean[1]) * xScale;
  const spread = xSpread * xScale * xScale;
  // Everything from the middle of the readings, where line and interval are simplest.
  const height = predictAt(fit, middle_h, confidence).value - mark;
  const line = { height, slope: settled(fit, spread) };
  const reach = studentInterval(confidence, fit.degreesOfFreedom) * scatter;
  const from = from_h - middle_h;
  return {
    expected_h: whenLineIsDown(line, from),
    pessimistic_h:
      reach === 0 ? whenLineIsDown(line, from) : whenLowerEndIsDown(line, reach, fit.count, spread, from),
  };
}

/** A slope that over the readings' own span comes to nothing beside the levels is rounding, and no slope. */
function settled(fit: LineFit, spread: number): number {
  const change = Math.abs(fit.slope) * Math.sqrt(spread);
  const { yScale } = fit.moments;
  return change <= onLimit * yScale ? 0 : fit.slope;
}

type FromMiddle = { readonly height: number; readonly slope: number };

function whenLineIsDown({ height, slope }: FromMiddle, from: number): number | null {
  const now = height + slope * from;
  if (now <= 0) return 0;
  return slope < 0 ? now / -slope : null;
}

function whenLowerEndIsDown(
  { height, slope }: FromMiddle,
  reach: number,
  count: number,
  spread: number,
  from: number,
): number | null {
  const least = 1 + 1 / count;
  const lower = (at: number): number => height + slope * at - reach * Math.sqrt(least + (at * at) / spread);
  if (lower(from) <= 0) return 0;
  const farSlope = slope - reach / Math.sqrt(spread);
  if (farSlope >= 0) return null;
  // Below this straight line for every hour after the middle: where it is down, the lower end is too.
  let at = Math.max(from, -height / farSlope);
  for (let step = 0; step < 100; step += 1) {
    const root = Math.sqrt(least + (at * at) / spread);
    const next = at - lower(at) / (slope - (reach * at) / (spread * root));
    if (!(next < at) || next <= from) break;
    at = next;
  }
  return Math.max(0, at - from);
}
