// Fuel and mass along a call, for one load and one quantity of fuel at the start: the arithmetic that everything else here
// stands on, small enough to be done again and again by a solver.
//
// Engines are started at the start of a call that is not airborne, and again after every stop with engines stopped; on the
// ground they burn the sheet's ground flow, in a hover its hover flow, in flight the flow at the mass of the leg's start
// with everybody at the most. NaN from the first leg on whose flow or time is not known.
import { flowBetween_kgh, type FlowModel } from "../fuel/flow-model.ts";
import type { FuelFlow } from "../sheet/flight-blocks.ts";
import type { Call } from "./call.ts";
import type { Route } from "./call-route.ts";
import type { SiteAir } from "./site-limits.ts";

/** What does not depend on the fuel: per leg, the mass without fuel with everybody at the most. */
export type TrackQuestion = {
  readonly call: Call;
  readonly route: Route;
  readonly dry_kg: readonly number[];
  readonly flow: FlowModel;
  readonly fuelFlow: FuelFlow;
  /** The air at each stop, the start first. */
  readonly airs: readonly (SiteAir | null)[];
};

export type Track = {
  /** Per leg. */
  readonly from_kg: Float64Array;
  readonly to_kg: Float64Array;
  readonly flow_kgh: Float64Array;
  /** Per leg: what was burnt on the ground (starts and running) since the leg before, and in a hover. */
  readonly ground_kg: Float64Array;
  readonly hover_kg: Float64Array;
};

export function trackCall(
  { call, route, dry_kg, flow, fuelFlow, airs }: TrackQuestion,
  start_kg: number,
): Track {
  const count = call.stops.length;
  const track: Track = {
    from_kg: new Float64Array(count),
    to_kg: new Float64Array(count),
    flow_kgh: new Float64Array(count),
    ground_kg: new Float64Array(count),
    hover_kg: new Float64Array(count),
  };
  let fuel = start_kg;
  for (let i = 0; i < count; i += 1) {
    const before = call.stops[i - 1];
    let ground = 0;
    let hover = 0;
    if (before === undefined) ground = call.isAirborne ? 0 : fuelFlow.start_kg;
    else if (before.engines === "stopped") ground = fuelFlow.start_kg;
    else if (before.engines === "running") ground = (fuelFlow.ground_kgh * before.stay_min) / 60;
    else hover = (fuelFlow.hover_kgh * before.stay_min) / 60;
    fuel = fuel - ground - hover + (before?.uplift_kg ?? 0);
    const leg = route.legs[i]!;
    const rate =
      leg.hours === 0
        ? 0
        : flowBetween_kgh(flow, call.tas_kt, dry_kg[i]! + fuel, airs[i] ?? null, airs[i + 1] ?? null);
    track.from_kg[i] = fuel;
    track.flow_kgh[i] = rate;
    track.ground_kg[i] = ground;
    track.hover_kg[i] = hover;
    fuel -= rate * leg.hours;
    track.to_kg[i] = fuel;
  }
  return track;
}
