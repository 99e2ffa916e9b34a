// Calls and the map of what can be reached: one call in all its margins, a frame of 200 × 200 places with four hospitals,
// and the change of base, on one processor core; weather of scenes and terrain are not in it, as the map says.
//
// Precomputed for a base (the change of base): the geodesics of all legs, five for each place. For a frame: loads, exact
// balance sets, limits of power at base, hospitals and scene. In a frame, for each place and hospital that has to be tried:
// wind, times, flows by the chart at the true mass, fuel by components, every mass against mass and power, every burn
// against the exact sets of fuel that are in balance. The peer is the plain assessment of the same places, over a part of
// them, and counted up. Both are held to each other before they are timed.
import { air, callTo, craftOf, home, knownOf, placeAt } from "../src/core/reach/arbitrary-call.ts";
import { assessCall } from "../src/core/reach/assess-call.ts";
import type { Call, CallPlace } from "../src/core/reach/call.ts";
import {
  callAt,
  emptyFrame,
  gridPlaces,
  groundOf,
  placeIn,
  reachOf,
  withoutSceneSky,
} from "../src/core/reach/reach.ts";
import { remediesFor } from "../src/core/reach/call-remedies.ts";
import type { Bench, Row } from "./rows.ts";

const box = { south_deg: 69.3, north_deg: 71.1, west_deg: 9.7, east_deg: 15.3 };
const scene = placeAt(70.2, 12.5, 1_200);
const verdicts = ["ready", "withinLimits", "notKnown", "notReady"] as const;

const bench: Bench = async (size) => {
  const side = size === "tiny" ? 6 : 200;
  const known = withoutSceneSky(knownOf(craftOf()));
  const hospitals: CallPlace[] = known.sites
    .filter(({ kind }) => kind === "hospital")
    .map(({ id, name, lat_deg, lon_deg, elevation_ft }) => ({
      name,
      lat_deg,
      lon_deg,
      elevation_ft,
      site: id,
    }));
  return [...calls(size === "tiny" ? 3 : 400), ...frames(known, hospitals, side)];
};

export default bench;

/** Milliseconds of each run, the fastest of a few turns: whatever else runs can only make it slower. */
function fastest(turns: number, run: (turn: number) => void): number {
  let best = Number.POSITIVE_INFINITY;
  for (let turn = 0; turn < turns; turn += 1) {
    const began = performance.now();
    run(turn);
    best = Math.min(best, performance.now() - began);
  }
  return best;
}

function calls(count: number): Row[] {
  const known = knownOf(craftOf());
  const asked = (more: (i: number) => Call): number => {
    const all = Array.from({ length: count }, (_, i) => more(i));
    if (all.some((call) => assessCall(known, call).margins.length === 0))
      throw new Error("a call without a margin");
    return (
      fastest(5, () => {
        for (const call of all) assessCall(known, call);
      }) / count
    );
  };
  const windy = (i: number) => ({ ...air, wind: { from_deg: (i * 7) % 360, speed_kt: 10 + (i % 20) } });
  const other = asked((i) =>
    callTo(placeAt(70.3 + i * 1e-4, 11.9, 400), { fuel_kg: 380 + (i % 40), air: windy(i) }),
  );
  const patients = fastest(5, (turn) => {
    for (let i = 0; i < count / 20; i += 1) assessCall(known, callTo(scene, {}, 60 + turn * 7 + i * 0.5));
  });
  const short = callTo(placeAt(70.6, 13.3, 400), { fuel_kg: 240 });
  const solved = fastest(5, () => {
    if (remediesFor(known, short).length === 0) throw new Error("nothing was solved");
  });
  return [
    {
      name: "one call, another place, fuel and wind",
      value: other,
      unit: "ms",
      budget: 0.2,
      better: "lower",
    },
    {
      name: "one call, another patient",
      value: patients / Math.ceil(count / 20),
      unit: "ms",
      better: "lower",
    },
    { name: "what would make a call acceptable", value: solved, unit: "ms", better: "lower" },
  ];
}

function frames(known: ReturnType<typeof knownOf>, hospitals: readonly CallPlace[], side: number): Row[] {
  const places = gridPlaces(box, side, side);
  const began = performance.now();
  const ground = groundOf(home, hospitals, places);
  const base_ms = performance.now() - began;
  const frame = emptyFrame(ground.count);
  const template = (turn: number): Call =>
    callTo(
      scene,
      { fuel_kg: 380 + turn, air: { ...air, wind: { from_deg: 200 + turn, speed_kt: 18 } } },
      80 + turn,
    );
  reachOf(known, ground, template(0)).fill(frame);
  const step = Math.max(1, Math.floor(ground.count / 800));
  const sample = Array.from({ length: Math.ceil(ground.count / step) }, (_, i) => i * step);
  const plainly = (): void => {
    for (const cell of sample) {
      const at = placeIn(places, cell, scene.elevation_ft);
      const answer = assessCall(known, callAt(template(0), at, hospitals[frame.hospital[cell]!]!));
      if (answer.verdict !== verdicts[frame.verdict[cell]!]) throw new Error(`cell ${cell} differs`);
    }
  };
  plainly();
  const plain_ms = (fastest(3, plainly) * ground.count) / sample.length;
  const frame_ms = fastest(15, (turn) => reachOf(known, ground, template(turn)).fill(frame));
  const fill = reachOf(known, ground, template(3));
  const fill_ms = fastest(15, () => fill.fill(frame));
  return [
    {
      name: `a frame of ${side} × ${side}, fuel, patient and wind changed`,
      value: frame_ms,
      unit: "ms",
      budget: 16,
      better: "lower",
      peer: { name: "the plain assessment, one hospital each", value: plain_ms },
    },
    { name: "of it, filling the places", value: fill_ms, unit: "ms", better: "lower" },
    { name: "a change of base", value: base_ms, unit: "ms", budget: 1000, better: "lower" },
  ];
}
