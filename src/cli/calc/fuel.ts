// `preen calc fuel`: what a flight needs at its start, by components (core/fuel).

import { flyLeg, type FlownLeg } from "../../core/fuel/fuel-leg.ts";
import { planFuel } from "../../core/fuel/fuel-plan.ts";
import { atIndex, atKey } from "../../core/quantity/refusal.ts";
import { alternateNeeded, usParts } from "../../core/rules/alternate-needed.ts";
import { ruleSetIds } from "../../core/rules/cited.ts";
import { flightRules, fuelReserve } from "../../core/rules/fuel-reserve.ts";
import { trackDirection, windDirection } from "./directions.ts";
import { flag, list, number, object, optional, quantity, type Read, text, word } from "./fields.ts";
import { CalcIssue, type Topic } from "./topic.ts";
import { impossibleTrack, windKey } from "./wind.ts";

const flow_kgh = number({ min: 0 }, "kilograms per hour");

const height = (description: string) => quantity("length", "ft", { min: 0 }, description);
const visibility = (description: string) => quantity("length", "m", { min: 0 }, description);

const leg = object({
  distance: quantity("length", "nm", { min: 0 }),
  track: trackDirection(),
  windFrom: windDirection(),
  wind: quantity("speed", "kt", { min: 0 }),
  tas: quantity("speed", "kt", { above: 0 }),
  flow_kgh,
});

const input = object({
  ruleset: word(ruleSetIds),
  flightRules: word(flightRules),
  light: word(["day", "night"]),
  landmarks: flag("flown by visual landmarks"),
  legs: list(leg, { min: 1, max: 1000 }),
  running: list(
    object({ time: quantity("time", "min", { min: 0 }), flow_kgh }),
    { max: 1000 },
    "on the ground",
  ),
  contingency_pct: number({ min: 0, max: 100 }, "of the trip"),
  reserveFlow_kgh: number({ min: 0 }, "at which the final reserve counts"),
  alternate: optional(leg),
  extra: quantity("mass", "kg", { min: 0 }),
  destination: optional(
    object({
      part: word(usParts),
      ceiling: optional(
        height("least of the forecast about the arrival, above the airport; left out: not known"),
      ),
      visibility: optional(visibility("least of the forecast about the arrival; left out: not known")),
      lowest: height("lowest minimum of the approach, above the airport"),
      lowestVisibility: visibility("of that approach"),
      circling: optional(height("lowest circling minimum, above the airport; left out without one")),
    }),
  ),
});

const flown = object({
  heading_deg: number({ min: 0, max: 360 }),
  groundspeed_kt: number(),
  time_min: number(),
  fuel_kg: number(),
});

const output = object({
  running_kg: number(),
  trip_kg: number(),
  contingency_kg: number(),
  alternate_kg: number(),
  finalReserve_kg: number(),
  extra_kg: number(),
  required_kg: number({}, "all of them"),
  time_min: number({}, "of the legs, without running on the ground and without the alternate"),
  legs: list(flown),
  cite: text(undefined, "of the final reserve"),
  alternateAsked: optional(
    object({
      needed: flag("for an IFR flight of a helicopter under the US rules"),
      ceilingFrom_ft: number(),
      visibilityFrom_m: number(),
      before_min: number({}, "the forecast counts from so long before the arrival …"),
      after_min: number({}, "… until so long after it"),
      cite: text(),
    }),
  ),
});

function fly(from: Read<typeof leg>, path: string, element: unknown): FlownLeg {
  const { distance, track, windFrom, wind, tas, flow_kgh: flow } = from;
  const flownLeg = flyLeg(
    {
      distance_nm: distance,
      track_deg: track,
      windFrom_deg: windFrom,
      wind_kt: wind,
      tas_kt: tas,
      flow_kgh: flow,
    },
    path,
  );
  if (flownLeg.is === "impossible")
    throw new CalcIssue(atKey(path, windKey(element)), impossibleTrack(flownLeg, tas));
  return flownLeg;
}

function asked(given: NonNullable<Read<typeof input>["destination"]>) {
  const { needed, ceilingFrom_ft, visibilityFrom_m, window_min, citation } = alternateNeeded({
    part: given.part,
    ceiling_ft: given.ceiling ?? null,
    visibility_m: given.visibility ?? null,
    lowest_ft: given.lowest,
    lowest_m: given.lowestVisibility,
    circling_ft: given.circling ?? null,
  });
  const { before: before_min, after: after_min } = window_min;
  return { needed, ceilingFrom_ft, visibilityFrom_m, before_min, after_min, cite: citation.cite };
}

const topic: Topic = {
  topic: "fuel",
  summary: "fuel that a flight needs at its start, by components and rule set",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { ruleset, legs, running, alternate, extra, contingency_pct, reserveFlow_kgh, ...more } =
      input.read(element, "");
    const { destination, ...rules } = more;
    const given = element as { readonly legs: readonly unknown[]; readonly alternate?: unknown };
    const flownLegs = legs.map((each, index) => fly(each, atIndex("legs", index), given.legs[index]));
    const toAlternate = alternate === undefined ? null : fly(alternate, "alternate", given.alternate);
    const reserve = fuelReserve({ ...rules, ruleSet: ruleset, hems: null });
    const plan = planFuel({
      trip_kg: flownLegs.reduce((sum, { fuel_kg }) => sum + fuel_kg, 0),
      running: running.map(({ time, flow_kgh: flow }) => ({ time_min: time, flow_kgh: flow })),
      contingency_pct,
      alternate_kg: toAlternate?.fuel_kg ?? 0,
      reserve,
      reserveFlow_kgh,
      extra_kg: extra,
    });
    return {
      ...plan,
      time_min: flownLegs.reduce((sum, { time_min }) => sum + time_min, 0),
      legs: flownLegs.map(({ heading_deg, groundspeed_kt, time_min, fuel_kg }) => ({
        heading_deg,
        groundspeed_kt,
        time_min,
        fuel_kg,
      })),
      cite: reserve.citation.cite,
      ...(destination === undefined ? {} : { alternateAsked: asked(destination) }),
    };
  },
};

export default topic;
