// Three different nights, each by its own rule; there is no night as such.
//
//   eu         end of evening to beginning of morning civil twilight (Reg. (EU) 965/2012 Annex I, definition of night;
//              Part-FCL FCL.010), unless the authority sets another period between sunset and sunrise
//   us         end of evening to beginning of morning civil twilight as the Air Almanac publishes it (14 CFR 1.1)
//   usRecency  one hour after sunset to one hour before sunrise (14 CFR 61.57(b)), the night that counts for recency
//
// An authority's own period is `betweenSunsetAndSunrise` with its minutes (the United Kingdom: 30 and 30). All are half
// open: the instant at which a night ends is day. Where the sun does not set there is no sunset, and no such night; where
// it does not rise, the night runs from the last sunset to the next sunrise. The civil twilight of the Air Almanac is the
// sun's centre at −6° at sea level, like the EU's, so that `eu` and `us` fall together to the rounding of the printed
// minute; they stay apart here since each follows its own law. No terrain: it is dark earlier in a valley.

import type { Position } from "../air/position.ts";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import { civilTwilight_deg, horizon_deg, inOneTurn, type Passage, passagesBetween } from "./solar-day.ts";
import { requireSunInstant, type Sun, sunAltitude } from "./sun-altitude.ts";

export type NightRule =
  | { readonly kind: "civilTwilight"; readonly cite: string }
  | {
      readonly kind: "betweenSunsetAndSunrise";
      readonly afterSunset_min: number;
      readonly beforeSunrise_min: number;
      readonly cite: string;
    };

export const euNight: NightRule = { kind: "civilTwilight", cite: "Reg. (EU) 965/2012 Annex I" };
export const usNight: NightRule = { kind: "civilTwilight", cite: "14 CFR 1.1" };
export const usRecencyNight: NightRule = {
  kind: "betweenSunsetAndSunrise",
  afterSunset_min: 60,
  beforeSunrise_min: 60,
  cite: "14 CFR 61.57(b)",
};

export type Light = "day" | "night";
export type LightSpan = { readonly from_ms: number; readonly until_ms: number; readonly light: Light };

/** Day and night over [from, until), as touching spans. */
export function lightSpans(
  sun: Sun,
  place: Position,
  rule: NightRule,
  from_ms: number,
  until_ms: number,
): readonly LightSpan[] {
  requireSunInstant(from_ms, "from");
  requireSunInstant(until_ms, "until");
  const changes = nightChanges(sun, place, rule, from_ms, until_ms);
  const spans: LightSpan[] = [];
  let begin_ms = from_ms;
  let light = lightAt(sun, place, rule, from_ms);
  for (const change of changes) {
    if (change.light === light || change.at_ms <= from_ms || change.at_ms >= until_ms) continue;
    spans.push({ from_ms: begin_ms, until_ms: change.at_ms, light });
    [begin_ms, light] = [change.at_ms, change.light];
  }
  if (begin_ms < until_ms) spans.push({ from_ms: begin_ms, until_ms, light });
  return spans;
}

/** Day or night at an instant. */
export function lightAt(sun: Sun, place: Position, rule: NightRule, at_ms: number): Light {
  if (rule.kind === "civilTwilight") {
    return sunAltitude(sun, inOneTurn(place), at_ms) >= civilTwilight_deg ? "day" : "night";
  }
  // Night when the sun was down for the whole time since it set long enough ago, and stays down long enough.
  const [after_ms, before_ms] = margins(rule);
  const isDown = sunAltitude(sun, inOneTurn(place), at_ms - after_ms) < horizon_deg;
  const passages = passagesBetween(sun, place, horizon_deg, at_ms - after_ms, at_ms + before_ms);
  return isDown && passages.length === 0 ? "night" : "day";
}

/** The first instant after `at_ms`, within `within_ms`, at which day and night change; null when they do not. */
export function nextLightChange(
  sun: Sun,
  place: Position,
  rule: NightRule,
  at_ms: number,
  within_ms: number,
): number | null {
  const [first, second] = lightSpans(sun, place, rule, at_ms, at_ms + within_ms + 1);
  return second === undefined ? null : (first as LightSpan).until_ms;
}

type Change = { readonly at_ms: number; readonly light: Light };

function margins(rule: NightRule & { kind: "betweenSunsetAndSunrise" }): [number, number] {
  return [rule.afterSunset_min * minute_ms, rule.beforeSunrise_min * minute_ms];
}

function nightChanges(
  sun: Sun,
  place: Position,
  rule: NightRule,
  from_ms: number,
  until_ms: number,
): readonly Change[] {
  if (rule.kind === "civilTwilight") {
    return passagesBetween(sun, place, civilTwilight_deg, from_ms, until_ms).map(({ at_ms, isAbove }) => ({
      at_ms,
      light: isAbove ? "day" : "night",
    }));
  }
  const [after_ms, before_ms] = margins(rule);
  // Far enough to either side to see, for every sunset and sunrise whose night could begin or end here, its other end.
  const reach_ms = after_ms + before_ms + hour_ms;
  const passages = passagesBetween(sun, place, horizon_deg, from_ms - reach_ms, until_ms + reach_ms);
  return passages.flatMap((passage, index) => nightEnd(passage, passages, index, after_ms, before_ms));
}

/** A sunset begins a night after its margin, a sunrise ends one before its own; a night shorter than both does not begin. */
function nightEnd(
  passage: Passage,
  passages: readonly Passage[],
  index: number,
  after_ms: number,
  before_ms: number,
): Change[] {
  const other = passages[passage.isAbove ? index - 1 : index + 1];
  const down_ms = other === undefined ? Infinity : Math.abs(passage.at_ms - other.at_ms);
  if (down_ms <= after_ms + before_ms) return [];
  return passage.isAbove
    ? [{ at_ms: passage.at_ms - before_ms, light: "day" }]
    : [{ at_ms: passage.at_ms + after_ms, light: "night" }];
}
