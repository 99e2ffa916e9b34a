// The wind triangle and what follows from it beside printed examples (wind.json has their sources and status).
//
// A printed answer comes from a slide rule or a table and is good to its unit; the exact one beside it was computed
// apart, to the digits given.

import { magneticFromTrue } from "../src/core/air/magnetic-field.ts";
import type * as Wind from "../src/core/air/wind.ts";
import { convert, type Degrees, inUnit, type MetresPerSecond } from "../src/core/quantity/units.ts";
import { measureTable, type Pair, type Table, type Tolerance } from "./table.ts";
import data from "./wind.json" with { type: "json" };

const knots = (kt: number): MetresPerSecond => convert(inUnit(kt, "kt"), "kt", "ms");
const toKnots = (ms: MetresPerSecond): number => convert(ms, "ms", "kt");
const degrees = (deg: number): Degrees => inUnit(deg, "deg");

const digits = (digit: number, unit: string): Tolerance => ({
  within: digit * 0.500001,
  unit,
  because: "half of the last digit given",
});
const printedUnit = (within: number, unit: string, because: string): Tolerance => ({ within, unit, because });
const slideRule = "read off a slide rule, whole units";

/** Pairs for the names that a source gives. */
function given(
  prefix: string,
  published: Readonly<Record<string, number>>,
  computed: Readonly<Record<string, number>>,
): Record<string, Pair> {
  const pairs: Record<string, Pair> = {};
  for (const [name, value] of Object.entries(published))
    pairs[`${prefix} ${name}`] = [computed[name] as number, value];
  return pairs;
}

function solved<Solution extends { readonly kind: string }>(
  solution: Solution,
): Extract<Solution, { kind: "solved" }> {
  if (solution.kind !== "solved") throw new Error(`a published track came out as ${solution.kind}`);
  return solution as Extract<Solution, { kind: "solved" }>;
}

export function windTables(core: typeof Wind): Table[] {
  return [...triangleTables(core), ...radiusTables(core), ...componentTables(core)];
}

function triangleTables({ windTriangle, trackMadeGood, windFromTrack }: typeof Wind): Table[] {
  return [
    measureTable(
      "heading and ground speed for a track",
      data.triangle.rows,
      {
        "printed groundspeed_kt": printedUnit(0.6, "kt", slideRule),
        "printed heading_deg": printedUnit(0.6, "deg", slideRule),
        "printed magneticHeading_deg": printedUnit(0.6, "deg", slideRule),
        "exact groundspeed_kt": printedUnit(
          0.006,
          "kt",
          "half of the last digit; 88.3348 stands there as 88.34",
        ),
        "exact heading_deg": digits(0.01, "deg"),
        "exact correction_deg": digits(0.01, "deg"),
      },
      (row) => {
        const wind = { from: degrees(row.windFrom_deg), speed: knots(row.wind_kt) };
        const { heading, groundSpeed, drift } = solved(
          windTriangle(degrees(row.track_deg), knots(row.tas_kt), wind),
        );
        const computed = {
          heading_deg: heading,
          groundspeed_kt: toKnots(groundSpeed),
          correction_deg: 0 - drift,
          magneticHeading_deg: magneticFromTrue(heading, degrees(row.variation_deg ?? 0)),
        };
        return { ...given("printed", row.printed, computed), ...given("exact", row.exact, computed) };
      },
    ),
    measureTable(
      "track and ground speed for a heading",
      data.headingToTrack.rows,
      {
        "printed track_deg": printedUnit(0.6, "deg", slideRule),
        "printed groundspeed_kt": printedUnit(0.6, "kt", slideRule),
        "exact track_deg": digits(0.01, "deg"),
        "exact groundspeed_kt": digits(0.01, "kt"),
      },
      (row) => {
        const wind = { from: degrees(row.windFrom_deg), speed: knots(row.wind_kt) };
        const made = trackMadeGood(degrees(row.heading_deg), knots(row.tas_kt), wind);
        if (made === null) throw new Error("a published heading came out as standing still");
        const computed = { track_deg: made.track, groundspeed_kt: toKnots(made.groundSpeed) };
        return { ...given("printed", row.printed, computed), ...given("exact", row.exact, computed) };
      },
    ),
    measureTable(
      "wind from heading and track",
      data.findWind.rows,
      {
        "printed from_deg": printedUnit(1, "deg", slideRule),
        "printed speed_kt": printedUnit(1, "kt", slideRule),
        "exact from_deg": printedUnit(0.06, "deg", "given to 0.1 in one row"),
        "exact speed_kt": printedUnit(0.06, "kt", "given to 0.1 in one row"),
      },
      (row) => {
        const track = degrees(row.track_deg);
        const found = windFromTrack(
          degrees(row.heading_deg),
          knots(row.tas_kt),
          track,
          knots(row.groundspeed_kt),
        );
        const computed = { from_deg: found.from, speed_kt: toKnots(found.speed) };
        return { ...given("printed", row.printed, computed), ...given("exact", row.exact, computed) };
      },
    ),
  ];
}

function radiusTables({ radiusOfAction, turningPoint, equalTimePoint }: typeof Wind): Table[] {
  return [
    measureTable(
      "radius of action",
      data.radius.rows as [number, number, number, number, number][],
      {
        radius_nm: printedUnit(0.51, "nm", "printed to the mile"),
        turn_min: printedUnit(0.06, "min", "printed to 0.1 min"),
        "radius_nm by the wind": printedUnit(0.51, "nm", "printed to the mile"),
      },
      ([endurance, out, back, radius, turn]) => {
        const hours = convert(inUnit(endurance, "h"), "h", "s");
        const point = turningPoint(hours, knots(out), knots(back));
        // The same speeds from an airspeed and a wind along the track.
        const wind = { from: degrees(out < back ? 0 : 180), speed: knots(Math.abs(back - out) / 2) };
        const action = solved(radiusOfAction(hours, knots((out + back) / 2), degrees(0), wind));
        return {
          radius_nm: [convert(point.radius, "m", "nm"), radius],
          turn_min: [convert(point.turnAfter, "s", "min"), turn],
          "radius_nm by the wind": [convert(action.radius, "m", "nm"), radius],
        };
      },
    ),
    measureTable(
      "equal-time point",
      data.equalTime.rows as [number, number, number, number, number | null][],
      {
        point_nm: printedUnit(0.51, "nm", "printed to the mile"),
        point_min: printedUnit(0.51, "min", "printed to the minute"),
      },
      ([distance, on, back, point, minutes]) => {
        const to = equalTimePoint(convert(inUnit(distance, "nm"), "nm", "m"), knots(on), knots(back));
        const pairs: Record<string, Pair> = { point_nm: [convert(to, "m", "nm"), point] };
        if (minutes !== null) pairs["point_min"] = [to / knots(on) / 60, minutes];
        return pairs;
      },
    ),
  ];
}

function componentTables({ windComponents }: typeof Wind): Table[] {
  const components = (row: readonly number[]): Record<string, Pair> => {
    const [direction, from, speed, head, cross] = row as [number, number, number, number, number];
    const found = windComponents(degrees(direction), { from: degrees(from), speed: knots(speed) });
    return { head_kt: [toKnots(found.head), head], cross_kt: [toKnots(found.cross), cross] };
  };
  return [
    measureTable(
      "wind components",
      data.components.rows,
      { head_kt: digits(0.01, "kt"), cross_kt: digits(0.01, "kt") },
      components,
    ),
    measureTable(
      "wind components as printed",
      data.componentsPrinted.rows,
      {
        head_kt: printedUnit(0.6, "kt", "read off a chart"),
        cross_kt: printedUnit(0.6, "kt", "read off a chart"),
      },
      components,
    ),
    measureTable(
      "component factors",
      data.factors.rows,
      { crossFactor: digits(0.001, ""), headFactor: digits(0.001, "") },
      (row) => {
        const [angle, cross, head] = row as [number, number, number];
        const found = windComponents(degrees(0), { from: degrees(angle), speed: inUnit(1, "ms") });
        return { crossFactor: [found.cross, cross], headFactor: [found.head, head] };
      },
    ),
  ];
}
