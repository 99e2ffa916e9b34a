// One leg over the ground: its wind triangle, its time, and its fuel at a flow.
//
// In: distance in nautical miles, track and wind in degrees and knots, true airspeed, flow in kg/h. Out: ground speed,
// time, fuel; or that the wind makes the track impossible. Source: the wind triangle (core/air/wind); fuel = flow × time.
// Refuses (Refusal, with the key under `path`) what is no number or outside its domain.
// Check values: published/fuel.test.ts, and the triangles of published/wind.json again through here.
import { type ImpossibleTrack, windTriangle } from "../air/wind.ts";
import { atKey, describe, refuse } from "../quantity/refusal.ts";
import { convert, inUnit } from "../quantity/units.ts";

export type FuelLeg = {
  readonly distance_nm: number;
  readonly track_deg: number;
  readonly windFrom_deg: number;
  readonly wind_kt: number;
  readonly tas_kt: number;
  readonly flow_kgh: number;
};

export type FlownLeg = {
  readonly is: "flown";
  readonly heading_deg: number;
  readonly groundspeed_kt: number;
  readonly time_min: number;
  readonly fuel_kg: number;
};

export function flyLeg(leg: FuelLeg, path: string): FlownLeg | ({ is: "impossible" } & ImpossibleTrack) {
  const { distance_nm, flow_kgh } = leg;
  requireAtLeast0(distance_nm, atKey(path, "distance_nm"), "nm");
  requireAtLeast0(flow_kgh, atKey(path, "flow_kgh"), "kg/h");
  const triangle = windTriangle(inUnit(leg.track_deg, "deg"), convert(inUnit(leg.tas_kt, "kt"), "kt", "ms"), {
    from: inUnit(leg.windFrom_deg, "deg"),
    speed: convert(inUnit(leg.wind_kt, "kt"), "kt", "ms"),
  });
  if (triangle.kind === "impossible") return { is: "impossible", ...triangle };
  const groundspeed_kt = convert(triangle.groundSpeed, "ms", "kt");
  const hours = distance_nm / groundspeed_kt;
  return {
    is: "flown",
    heading_deg: triangle.heading,
    groundspeed_kt,
    time_min: hours * 60,
    fuel_kg: hours * flow_kgh,
  };
}

export function requireAtLeast0(value: number, path: string, unit: string): void {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY))
    refuse(path, "outsideDomain", describe(value), `a number of at least 0 ${unit}`);
}
