// Whether a reading can be compared with the ones before it: whether it was taken under the sheet's conditions.
//
// A condition that the sheet asks for and nobody recorded is not met. Minutes after shutdown are those that the person
// gave, else those since the last landing that the record holds; while a flight is under way they are none.
// What is not comparable is kept, shown with its reasons, and left out of every trend; its limits are judged all the same.
import type { FlightFact, ReadingFact } from "../facts/craft.ts";
import { minute_ms } from "../facts/instant.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";
import { countUntil } from "./airframe-hours.ts";
import { atReference } from "./at-temperature.ts";

export const whyNotCodes = [
  "tooSoon",
  "tooLate",
  "shutdownNotKnown",
  "otherState",
  "stateNotKnown",
  "notLevel",
  "levelNotKnown",
  "temperatureMissing",
  "temperatureImplausible",
  "outsideBand",
  "otherUnit",
  "implausible",
  "hoursNotKnown",
  "hoursBack",
  "upliftAtSameInstant",
  "inFuture",
  "withdrawn",
] as const;
export type WhyNot = (typeof whyNotCodes)[number];

/** Temperatures that an aircraft on the ground can have. */
const plausible_C = { low: -80, high: 80 } as const;

/** Minutes since shutdown at an instant, from the flights logged; null before the first and while one is under way. */
export function shutdownClock(flights: readonly FlightFact[]): (at_ms: number) => number | null {
  const sorted = flights.toSorted((a, b) => a.off_ms - b.off_ms);
  const begun = sorted.map(({ off_ms }) => off_ms);
  return (at_ms) => {
    const last = sorted[countUntil(begun, at_ms) - 1];
    return last === undefined || last.on_ms > at_ms ? null : (at_ms - last.on_ms) / minute_ms;
  };
}

/** What keeps a reading from being compared; empty when nothing does. `minutes`: since shutdown, as far as known. */
export function whyNotComparable(
  gauge: Gauge,
  reading: Pick<ReadingFact, "value" | "unit" | "conditions">,
  minutes: number | null,
): readonly WhyNot[] {
  const { value, unit, conditions } = reading;
  if (unit !== gauge.unit) return ["otherUnit"];
  if (!(value >= gauge.plausible.low && value <= gauge.plausible.high)) return ["implausible"];
  return [
    ...afterShutdown(gauge, minutes),
    ...(gauge.conditions.state === "any" ? [] : stateOf(gauge.conditions.state, conditions.hot)),
    ...(gauge.conditions.levelGround ? levelOf(conditions.level) : []),
    ...temperatureOf(gauge, value, conditions),
  ];
}

function afterShutdown({ conditions }: Gauge, minutes: number | null): WhyNot[] {
  const { afterShutdownMin_min: soonest, afterShutdownMax_min: latest } = conditions;
  if (soonest === undefined && latest === undefined) return [];
  if (minutes === null) return ["shutdownNotKnown"];
  if (soonest !== undefined && minutes < soonest) return ["tooSoon"];
  return latest !== undefined && minutes > latest ? ["tooLate"] : [];
}

function stateOf(wanted: "hot" | "cold", hot: boolean | undefined): WhyNot[] {
  if (hot === undefined) return ["stateNotKnown"];
  return hot === (wanted === "hot") ? [] : ["otherState"];
}

function levelOf(level: boolean | undefined): WhyNot[] {
  if (level === undefined) return ["levelNotKnown"];
  return level ? [] : ["notLevel"];
}

function temperatureOf(gauge: Gauge, value: number, conditions: ReadingFact["conditions"]): WhyNot[] {
  const { bottle_C, oat_C } = conditions;
  const given = [bottle_C, oat_C].filter((temperature) => temperature !== undefined);
  if (given.some((at_C) => !(at_C >= plausible_C.low && at_C <= plausible_C.high)))
    return ["temperatureImplausible"];
  if (gauge.conditions.temperatureNeeded && given.length === 0) return ["temperatureMissing"];
  const { why } = atReference(gauge, value, conditions);
  return why === null ? [] : [why];
}
