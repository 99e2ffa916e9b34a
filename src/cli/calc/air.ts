// `preen calc air`: pressure and density altitude, and the air there, in the standard atmosphere (core/air/atmosphere).

import { airAt, pressureAltitudeOf } from "../../core/air/atmosphere.ts";
import { quantityKeys } from "../../core/quantity/read-quantity.ts";
import { convert, type Dimension, type Metres } from "../../core/quantity/units.ts";
import { givenKey, type JsonSchema, number, object, optional, quantity, type Read } from "./fields.ts";
import { CalcIssue, type Topic } from "./topic.ts";

/** The stated domain of the topic, geopotential: up to the tropopause, 11,000 m or 36,089 ft and a fraction. */
const lowestFt = -5000;
const highestFt = 36_089.24;
const height = { min: lowestFt, max: highestFt };

const input = object({
  pressureAltitude: optional(quantity("length", "ft", height, "geopotential; instead of elevation and qnh")),
  elevation: optional(quantity("length", "ft", height, "above mean sea level; together with qnh")),
  qnh: optional(quantity("pressure", "hPa", { min: 800, max: 1100 })),
  oat: optional(quantity("temperature", "C", { min: -100, max: 100 }, "standard if left out")),
  dewpoint: optional(quantity("temperature", "C", { min: -100, max: 100 }, "dry air if left out")),
});

const output = object({
  pressureAltitude_ft: number(),
  densityAltitude_ft: number(),
  pressure_hPa: number(),
  temperature_K: number(),
  density_kgm3: number(),
  sigma: number({}, "density over standard density at sea level"),
  delta: number({}, "pressure over standard pressure at sea level"),
  theta: number({}, "temperature over standard temperature at sea level"),
  soundSpeed_ms: number(),
  isaDeviation_C: number(),
});

const topic: Topic = {
  topic: "air",
  summary: "pressure and density altitude and the air there, in the standard atmosphere",
  inputSchema: {
    ...input.schema,
    oneOf: [needs("pressureAltitude"), { allOf: [needs("elevation"), needs("qnh")] }],
  },
  outputSchema: output.schema,
  compute(element) {
    const given = input.read(element, "");
    const key = (name: string, dimension: Dimension, unit: "ft" | "hPa" | "C"): string =>
      givenKey(element, name, dimension, unit);
    const heightName = given.pressureAltitude === undefined ? "elevation" : "pressureAltitude";
    const paths = {
      height: key(heightName, "length", "ft"),
      temperature: key("oat", "temperature", "C"),
      dewPoint: key("dewpoint", "temperature", "C"),
    };
    const altitude = pressureAltitudeGiven(given, {
      elevation: key("elevation", "length", "ft"),
      qnh: key("qnh", "pressure", "hPa"),
    });
    const air = airAt(
      altitude,
      given.oat === undefined ? null : convert(given.oat, "C", "K"),
      given.dewpoint === undefined ? null : convert(given.dewpoint, "C", "K"),
      paths,
    );
    return {
      // What was given comes back as it was given.
      pressureAltitude_ft: given.pressureAltitude ?? convert(altitude, "m", "ft"),
      densityAltitude_ft: convert(air.densityAltitude, "m", "ft"),
      pressure_hPa: convert(air.pressure, "Pa", "hPa"),
      temperature_K: air.temperature,
      density_kgm3: air.densityKgPerM3,
      sigma: air.sigma,
      delta: air.delta,
      theta: air.theta,
      soundSpeed_ms: air.soundSpeed,
      isaDeviation_C: air.isaDeviationK,
    };
  },
};

export default topic;

function needs(name: "pressureAltitude" | "elevation" | "qnh"): JsonSchema {
  const keys = quantityKeys(name, name === "qnh" ? "pressure" : "length");
  return { anyOf: keys.map((key) => ({ required: [key] })) };
}

function pressureAltitudeGiven(given: Read<typeof input>, paths: { elevation: string; qnh: string }): Metres {
  const { pressureAltitude, elevation, qnh } = given;
  if (pressureAltitude !== undefined) {
    if (elevation !== undefined) throw new CalcIssue(paths.elevation, bothWays);
    if (qnh !== undefined) throw new CalcIssue(paths.qnh, bothWays);
    return convert(pressureAltitude, "ft", "m");
  }
  if (elevation === undefined && qnh === undefined) {
    throw new CalcIssue(
      "pressureAltitude_ft",
      "expected a pressure altitude, or an elevation and a qnh, found neither",
    );
  }
  if (elevation === undefined)
    throw new CalcIssue(paths.elevation, "expected an elevation with the qnh, found nothing");
  if (qnh === undefined) throw new CalcIssue(paths.qnh, "expected a qnh with the elevation, found nothing");
  const altitude = pressureAltitudeOf(convert(elevation, "ft", "m"), convert(qnh, "hPa", "Pa"), paths);
  const altitudeFt = convert(altitude, "m", "ft");
  if (altitudeFt < lowestFt * (1 + 1e-12) || altitudeFt > highestFt * (1 + 1e-12)) {
    throw new CalcIssue(
      paths.elevation,
      `expected a pressure altitude of ${lowestFt} … ${highestFt} ft, found ${altitudeFt} ft from this elevation and qnh`,
    );
  }
  return altitude;
}

const bothWays = "expected a pressure altitude, or an elevation and a qnh, found both";
