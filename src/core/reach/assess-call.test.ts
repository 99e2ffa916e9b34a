import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CraftState } from "../facts/craft.ts";
import type { LoadingFact } from "../facts/load.ts";
import type { Reason } from "../facts/reason.ts";
import { geodesicBetween } from "../air/geodesic.ts";
import { readChart } from "../chart/read-chart.ts";
import { chartOf } from "../chart/chart.ts";
import { flyLeg } from "../fuel/fuel-leg.ts";
import { planFuel } from "../fuel/fuel-plan.ts";
import { Refusal } from "../quantity/refusal.ts";
import {
  air,
  arbitraryCall,
  callTo,
  craftOf,
  hospital,
  knownOf,
  loading,
  now_ms,
  placeAt,
  plainStop,
  quill,
  weighing,
} from "./arbitrary-call.ts";
import { assessCall } from "./assess-call.ts";
import type { Call, CallAnswer, CallKnown, Margin } from "./call.ts";

const known = knownOf(craftOf());
const scene = placeAt(70.5, 11.6, 400);
const marginsOf = ({ margins }: CallAnswer, kind: Margin["kind"]) =>
  margins.filter((one) => one.kind === kind);
const least = (answer: CallAnswer, kind: Margin["kind"]): Margin => {
  const [first] = marginsOf(answer, kind);
  if (first === undefined) throw new Error(`no margin of ${kind}`);
  return first;
};
const minute_ms = 60_000;

describe("a call of which everything is known", () => {
  const answer = assessCall(known, callTo(scene));

  test("is acceptable, with its legs in order and its end told", () => {
    expect(answer).toMatchObject({ verdict: "ready", isAcceptable: true, assumed: [] });
    expect(answer.legs.map(({ from, to }) => [from, to])).toEqual([
      ["base", "scene"],
      ["scene", "Teistøy hospital"],
      ["Teistøy hospital", "base"],
    ]);
    const minutes = answer.legs.reduce((sum, { time_min }) => sum + (time_min ?? Number.NaN), 0) + 15 + 20;
    expect((answer.ends_ms! - now_ms) / minute_ms).toBeCloseTo(minutes, 6);
  });

  test("has the legs, flows and fuel that the single parts give", () => {
    const chart = chartOf(quill.charts["fuelFlow"]!);
    let fuel_kg = 420 - 6;
    const legs = answer.legs.map((leg, index) => {
      if (index === 1) fuel_kg -= (118 * 15) / 60;
      if (index === 2) fuel_kg -= 6;
      const dry_kg = leg.takeoffMass_kg! - leg.fuelAtStart_kg!;
      const reading = readChart(chart, { tas_kt: 132, mass_kg: dry_kg + fuel_kg });
      if (reading.is !== "read") throw new Error("outside the chart");
      const flown = flyLeg(
        {
          distance_nm: leg.distance_nm,
          track_deg: leg.track_deg!,
          windFrom_deg: 240,
          wind_kt: 16,
          tas_kt: 132,
          flow_kgh: reading.value,
        },
        "leg",
      );
      if (flown.is !== "flown") throw new Error("impossible");
      expect(leg.fuelAtStart_kg).toBeCloseTo(fuel_kg, 9);
      expect(leg.groundspeed_kt).toBeCloseTo(flown.groundspeed_kt, 9);
      expect(leg.fuel_kg).toBeCloseTo(flown.fuel_kg, 9);
      fuel_kg -= flown.fuel_kg;
      return flown;
    });
    const plan = planFuel({
      trip_kg: legs.reduce((sum, leg) => sum + leg.fuel_kg, 0),
      running: [{ time_min: 60, flow_kgh: 6 + (118 * 15) / 60 + 6 }],
      contingency_pct: 10,
      alternate_kg: 0,
      reserve: { minutes: 30 },
      reserveFlow_kgh: quill.fuelFlow.reserve_kgh,
      extra_kg: 0,
    });
    expect(answer.fuel!.required_kg).toBeCloseTo(plan.required_kg, 9);
    expect(answer.fuel!.atLastLanding_kg).toBeCloseTo(fuel_kg, 9);
    expect(least(answer, "fuel").room).toBeCloseTo(420 - plan.required_kg, 9);
  });

  test("has distances of the geodesics, and tracks between the azimuths at both ends", () => {
    const line = geodesicBetween(scene, hospital);
    expect(answer.legs[1]!.distance_nm * 1852).toBeCloseTo(line.distance, 6);
    expect(Math.abs(answer.legs[1]!.track_deg!)).toBeCloseTo(
      Math.abs((line.azimuth1! + line.azimuth2!) / 2),
      9,
    );
  });

  test("draws each burn inside its limits, from take-off to landing", () => {
    for (const { balance, takeoffMass_kg, landingMass_kg } of answer.legs) {
      expect(balance!.start.mass_kg).toBeCloseTo(takeoffMass_kg!, 9);
      expect(balance!.end.mass_kg).toBeCloseTo(landingMass_kg!, 9);
      expect(Object.values(balance!.inside)).toEqual([true, true, true, true]);
    }
  });

  test("judges hover out of ground effect at every stop by the larger of its two masses", () => {
    const found = marginsOf(answer, "hoverOutOfGroundEffect");
    expect(found.map(({ stop }) => Number(stop)).toSorted((a, b) => a - b)).toEqual([-1, 0, 1, 2]);
    const atScene = found.find(({ stop }) => stop === 0)!;
    expect(atScene.is).toBeCloseTo(
      Math.max(answer.legs[0]!.landingMass_kg!, answer.legs[1]!.takeoffMass_kg!),
      9,
    );
    const power = answer.stops[1]!.power.find(({ use }) => use === "hoverOutOfGroundEffect")!;
    expect(atScene.limit).toBe(power.most_kg);
  });
});

describe("what binds", () => {
  test("is what is not met, then what is not known, then the smallest share", () => {
    const far = assessCall(known, callTo(placeAt(71.2, 15.4, 400), { fuel_kg: 300 }));
    expect(far).toMatchObject({ verdict: "notReady", isAcceptable: false });
    expect(far.margins[0]).toMatchObject({ kind: "fuel", met: false });
    const isOrdered = (one: Margin, next: Margin): boolean => {
      const rank = ({ met }: Margin) => (met === false ? 0 : met === null ? 1 : 2);
      return (
        rank(one) < rank(next) || (rank(one) === rank(next) && (one.share ?? 0) <= (next.share ?? Infinity))
      );
    };
    for (const [index, next] of far.margins.slice(1).entries())
      if (next.share !== null) expect(isOrdered(far.margins[index]!, next)).toBe(true);
  });

  test("in a high hot place is the hover, by the mass that the chart gives there", () => {
    const hot = { ...air, temperature: { value_C: 28, elevation_ft: 36 } };
    const high = assessCall(known, callTo(placeAt(70.5, 11.6, 5_500), { air: hot }));
    expect(high.margins[0]).toMatchObject({
      kind: "hoverOutOfGroundEffect",
      met: false,
      stop: 0,
      unit: "kg",
    });
  });

  test("of a place above the charts is not known, and never better", () => {
    const top = assessCall(known, callTo(placeAt(70.5, 11.6, 14_000)));
    expect(top.isAcceptable).not.toBe(true);
    expect(least(top, "hoverOutOfGroundEffect")).toMatchObject({ met: null, what: "chart" });
  });

  test.each<[string, Partial<Call>, string]>([
    ["no wind known", { air: { ...air, wind: null } }, "wind"],
    ["no QNH", { air: { ...air, qnh_hPa: null } }, "chart"],
    ["no temperature", { air: { ...air, temperature: null } }, "chart"],
    ["a wind stronger than the airspeed", { air: { ...air, wind: { from_deg: 0, speed_kt: 140 } } }, "track"],
    ["a speed outside the flow chart", { tas_kt: 145 }, "fuelFlow"],
  ])("with %s is not known", (_name, more, what) => {
    const answer = assessCall(known, callTo(scene, more));
    expect(answer.isAcceptable).toBeNull();
    expect(answer.margins.filter(({ met }) => met === null).map((one) => one.what)).toContain(what);
    expect(answer.margins.every(({ room }) => room === null || Number.isFinite(room))).toBe(true);
  });

  test("a place without elevation is not known in power", () => {
    const answer = assessCall(known, callTo({ ...scene, elevation_ft: null }));
    expect(answer.verdict).toBe("notKnown");
    expect(answer.margins[0]).toMatchObject({ kind: "hoverOutOfGroundEffect", met: null, stop: 0 });
  });
});

describe("the record", () => {
  const lapses = (from_ms: number | null, effect: Reason["effect"] = "blocks"): Reason => ({
    code: "finding.deferralLapsed",
    effect,
    operations: ["dayVfr"],
    from_ms,
    until_ms: null,
    source: { kind: "law", law: "test" },
    evidence: [],
    remedy: { code: "finding.toEngineer", clearance: "someone" },
    facts: {},
  });
  const ends = (from_ms: number): Reason => ({ ...lapses(from_ms), code: "crew.dutyTooLong" });
  const withReasons = (...reasons: readonly Reason[]) => knownOf(craftOf(), { reasons });

  test("a duty that ends before the last landing is not met by the minutes that are missing", () => {
    const plain = assessCall(known, callTo(scene));
    const ends_ms = plain.ends_ms!;
    const early = assessCall(withReasons(ends(ends_ms - 5 * minute_ms)), callTo(scene));
    expect(early.margins[0]).toMatchObject({ kind: "record", met: false, what: "crew.dutyTooLong" });
    expect(early.margins[0]!.room).toBeCloseTo(-5, 9);
    const late = assessCall(withReasons(ends(ends_ms + 5 * minute_ms)), callTo(scene));
    expect(late.isAcceptable).toBe(true);
    expect(least(late, "record")).toMatchObject({ met: true, unit: "min" });
    expect(least(late, "record").room).toBeCloseTo(5, 9);
    const exactly = assessCall(withReasons(ends(ends_ms)), callTo(scene));
    expect(exactly.isAcceptable).toBe(false);
  });

  test("another operation's reason, and a reason of the load, do not touch it", () => {
    const other = { ...lapses(null), operations: ["hoist"] };
    const ofLoad = { ...lapses(null), code: "load.massOutside" as const };
    expect(assessCall(withReasons(other, ofLoad), callTo(scene)).isAcceptable).toBe(true);
  });

  test("hours, landings and starts that are left are held against what the call takes", () => {
    const left = (quantity: string, value: number): Reason => ({
      ...lapses(null, "limits"),
      code: "due.left",
      limit: { quantity, value, stricter: "lower" },
    });
    const answer = assessCall(
      withReasons(left("flightHours_h", 0.5), left("landings", 3), left("starts", 2)),
      callTo(scene),
    );
    const flown = answer.legs.reduce((sum, { time_min }) => sum + time_min! / 60, 0);
    expect(least(answer, "flightHours_h")).toMatchObject({ met: false, limit: 0.5 });
    expect(least(answer, "flightHours_h").room).toBeCloseTo(0.5 - flown, 9);
    expect(least(answer, "landings")).toMatchObject({ met: true, room: 0 });
    expect(least(answer, "starts")).toMatchObject({ met: true, room: 0 });
    expect(assessCall(withReasons(left("landings", 2)), callTo(scene)).isAcceptable).toBe(false);
  });

  test("without a weighing nothing is known, without a loading the crew is assumed and said to be", () => {
    const state = craftOf();
    const bare: CraftState = { ...state, load: { ...state.load, weighings: [] } };
    expect(assessCall(knownOf(bare), callTo(scene)).isAcceptable).toBeNull();
    const unsaid: CraftState = { ...state, load: { ...state.load, loadings: [] } };
    expect(assessCall(knownOf(unsaid), callTo(scene))).toMatchObject({
      isAcceptable: null,
      assumed: ["crew"],
    });
  });

  test("of loadings said apart the worse counts, whatever comes first", () => {
    const state = craftOf();
    const heavy = loading(420, {
      entry: "other",
      kit: [{ kit: "winch", name: "winch", mass_kg: 88, at: "rearBay" }],
    });
    for (const loadings of [
      [loading(420), heavy],
      [heavy, loading(420)],
    ]) {
      const answer = assessCall(knownOf({ ...state, load: { ...state.load, loadings } }), callTo(scene));
      const alone = assessCall(
        knownOf({ ...state, load: { ...state.load, loadings: [heavy] } }),
        callTo(scene),
      );
      expect(answer.margins[0]).toEqual(alone.margins[0]);
      expect(answer.evidence).toContain("other");
    }
    const twice = {
      ...state.load,
      weighings: [...state.load.weighings, { ...weighing("2H", ["stretcher"], "w2"), mass_kg: 2_700 }],
    };
    expect(assessCall(knownOf({ ...state, load: twice }), callTo(scene)).evidence).toContain("w2");
  });
});

describe("places", () => {
  const noticed = (
    kind: "closed" | "restricted" | "caution",
    from_ms: number,
    until_ms: number | null = null,
  ) => [
    {
      entry: "n",
      by: "someone",
      at_ms: now_ms,
      notice: "notice-1",
      about: { site: hospital.site! },
      kind,
      from_ms,
      until_ms,
      words: "",
      lifted: false,
    },
  ];

  test("a closed pad is not met, a restricted one not known, caution only told", () => {
    const at = (kind: "closed" | "restricted" | "caution") =>
      assessCall(knownOf(craftOf(), { notices: noticed(kind, now_ms) }), callTo(scene)).isAcceptable;
    expect([at("closed"), at("restricted"), at("caution")]).toEqual([false, null, true]);
  });

  test("a notice before or after the visit does not forbid it, and the coming one gives its minutes", () => {
    const past = knownOf(craftOf(), { notices: noticed("closed", now_ms - 7_200_000, now_ms + minute_ms) });
    expect(assessCall(past, callTo(scene)).isAcceptable).toBe(true);
    const later = knownOf(craftOf(), { notices: noticed("closed", now_ms + 120 * minute_ms) });
    const answer = assessCall(later, callTo(scene));
    const [notice] = marginsOf(answer, "notice");
    expect(notice).toMatchObject({ met: true, unit: "min" });
    expect(notice!.room).toBeCloseTo(120 - (answer.stops[2]!.leave_ms! - now_ms) / minute_ms, 6);
  });

  test("an area round a place is about every place in it", () => {
    const [notice] = noticed("closed", now_ms);
    const area = { ...notice!, about: { lat_deg: 70.5, lon_deg: 11.6, radius_nm: 3 } };
    expect(assessCall(knownOf(craftOf(), { notices: [area] }), callTo(scene)).isAcceptable).toBe(false);
    expect(
      assessCall(knownOf(craftOf(), { notices: [area] }), callTo(placeAt(70.6, 11.6, 400))).isAcceptable,
    ).toBe(true);
  });

  test("exchanged and far-off coordinates are asked about", () => {
    const swapped = assessCall(known, callTo(placeAt(11.6, 70.5, 400)));
    expect(swapped.questions).toContainEqual(
      expect.objectContaining({ ask: "swapped", stop: 0, perhaps: { lat_deg: 70.5, lon_deg: 11.6 } }),
    );
    expect(assessCall(known, callTo(placeAt(-70.5, 11.6, 400))).questions[0]).toMatchObject({
      ask: "otherSign",
    });
    expect(assessCall(known, callTo(placeAt(40, 100, 400))).questions[0]).toMatchObject({ ask: "farOff" });
    expect(assessCall(known, callTo(placeAt(70.0, 12.2, 400))).questions.map(({ ask }) => ask)).toEqual([
      "atSea",
    ]);
    expect(assessCall(known, callTo(placeAt(70.215, 12.47, 400))).questions).toEqual([]);
  });
});

test("a call that makes no sense is refused with every path", () => {
  const bad = callTo(scene, {
    fuel_kg: -1,
    tas_kt: Number.NaN,
    stops: [{ ...plainStop, place: scene, role: "scene", stay_min: -3 }],
  });
  expect(() => assessCall(known, bad)).toThrow(Refusal);
  try {
    assessCall(known, bad);
  } catch (error) {
    expect((error as Refusal).issues.map(({ path }) => path)).toEqual([
      "fuel_kg",
      "tas_kt",
      "stops[0].stay_min",
    ]);
  }
  expect(() => assessCall(known, callTo(scene, { operation: "nothing" }))).toThrow("operation");
});

test("the way to the alternate is flown with the load that is judged, not with the first that was said", () => {
  const heavy = loading(420, {
    entry: "other",
    kit: [{ kit: "winch", name: "winch", mass_kg: 180, at: "cabinFloor" }],
  });
  const withLoads = (...loadings: readonly LoadingFact[]) => {
    const state = craftOf();
    const alternate = { ...placeAt(70.5, 12.5, 40), name: "alternate" };
    const loaded = knownOf({ ...state, load: { ...state.load, loadings } });
    return assessCall(loaded, callTo(scene, { alternate })).fuel?.alternate_kg ?? Number.NaN;
  };
  const [light_kg, heavy_kg] = [withLoads(loading(420)), withLoads(heavy)];
  expect(heavy_kg).toBeGreaterThan(light_kg + 0.3);
  expect(withLoads(loading(420), heavy)).toBeCloseTo(heavy_kg, 9);
  expect(withLoads(heavy, loading(420))).toBeCloseTo(heavy_kg, 9);
});

test("by instruments a call says its alternate, or that none is required; neither is not known", () => {
  const ask = (more: object) => assessCall(known, callTo(scene, { flightRules: "ifr", ...more }));
  const unsaid = ask({});
  expect(unsaid).toMatchObject({ verdict: "notKnown", isAcceptable: null });
  expect(least(unsaid, "fuel")).toMatchObject({ met: null, what: "alternate" });
  const none = ask({ isAlternateNotRequired: true });
  expect(none.verdict).toBe("ready");
  const alternate = { ...placeAt(70.4, 12.5, 40), name: "alternate" };
  const there = ask({ alternate });
  expect(there.verdict).toBe("ready");
  expect(there.fuel!.alternate_kg).toBeGreaterThan(15);
  expect(there.fuel!.required_kg - none.fuel!.required_kg).toBeCloseTo(there.fuel!.alternate_kg, 9);
  // In flight it was said before.
  expect(least(ask({ isAirborne: true }), "fuel").met).toBe(true);
});

test("a loading that cannot be reckoned is not passed over for another that can", () => {
  const state = craftOf();
  const elsewhere = loading(420, {
    entry: "other",
    persons: [{ seat: "noSuchSeat", person: null, mass_kg: 90 }],
  });
  const answer = (...loadings: readonly LoadingFact[]) =>
    assessCall(knownOf({ ...state, load: { ...state.load, loadings } }), callTo(scene));
  expect(answer(loading(420)).verdict).toBe("ready");
  expect(answer(elsewhere)).toMatchObject({ verdict: "notKnown", isAcceptable: null });
  expect(answer(loading(420), elsewhere)).toMatchObject({ verdict: "notKnown", isAcceptable: null });
});

describe("bad news never helps", () => {
  const order = ["ready", "withinLimits", "notKnown", "notReady"] as const;
  const rooms = (answer: CallAnswer): ReadonlyMap<string, number> =>
    new Map(
      answer.margins.flatMap(({ kind, stop, leg, room }) =>
        room === null ? [] : [[`${kind} ${stop} ${leg}`, room]],
      ),
    );
  const worsened: readonly [string, (call: Call, by: number) => Call, readonly Margin["kind"][]][] = [
    [
      "heavier patient",
      (call, by) => withPatient(call, by * 60),
      ["fuel", "mass", "hoverOutOfGroundEffect", "balance"],
    ],
    [
      "more required",
      (call, by) => ({
        ...call,
        stops: call.stops.map((stop) => ({ ...stop, stay_min: stop.stay_min + by * 10 })),
      }),
      ["fuel"],
    ],
    [
      "hotter",
      (call, by) => ({
        ...call,
        air: {
          ...call.air,
          temperature: { value_C: call.air.temperature!.value_C + by * 8, elevation_ft: 0 },
        },
      }),
      ["hoverOutOfGroundEffect"],
    ],
    [
      "lower pressure",
      (call, by) => ({ ...call, air: { ...call.air, qnh_hPa: 1005 - by * 20 } }),
      ["hoverOutOfGroundEffect"],
    ],
    [
      "higher",
      (call, by) => ({
        ...call,
        stops: call.stops.map((stop) => ({
          ...stop,
          place: { ...stop.place, elevation_ft: stop.place.elevation_ft! + by * 1_000 },
        })),
      }),
      ["hoverOutOfGroundEffect"],
    ],
  ];
  const withPatient = (call: Call, more_kg: number): Call => ({
    ...call,
    stops: call.stops.map((stop) => ({
      ...stop,
      boards: stop.boards.map((one) => ({ ...one, most_kg: one.most_kg + more_kg })),
    })),
  });

  test.each(worsened)("%s improves no verdict and none of its margins", (_name, worsen, kinds) => {
    const craft: CallKnown = knownOf(craftOf());
    fc.assert(
      fc.property(arbitraryCall, fc.double({ min: 0, max: 1, noNaN: true }), (call, by) => {
        const before = assessCall(craft, call);
        const after = assessCall(craft, worsen(call, by));
        if (before.verdict !== "notKnown")
          expect(order.indexOf(after.verdict)).toBeGreaterThanOrEqual(order.indexOf(before.verdict));
        const [was, is] = [rooms(before), rooms(after)];
        for (const [key, room] of is) {
          const held = was.get(key);
          if (held === undefined || !kinds.some((kind) => key.startsWith(`${kind} `))) continue;
          expect(room).toBeLessThanOrEqual(held + 1e-9 * Math.max(1, Math.abs(held)));
        }
      }),
      { numRuns: 60 },
    );
  });

  test("what stands against it from before the start is not met, and no number of minutes late", () => {
    const bar = (from_ms: number): Reason => ({
      code: "crew.shiftEnds",
      effect: "blocks",
      operations: "all",
      from_ms,
      until_ms: null,
      source: { kind: "law", law: "test" },
      evidence: [],
      remedy: { code: "crew.relieve", clearance: "time" },
      facts: {},
    });
    const roomOf = (from_ms: number) =>
      least(assessCall(knownOf(craftOf(), { reasons: [bar(from_ms)] }), callTo(scene)), "record");
    expect(roomOf(now_ms)).toMatchObject({ met: false, room: null });
    expect(roomOf(now_ms - 5 * minute_ms)).toMatchObject({ met: false, room: null });
    const late = roomOf(now_ms + 5 * minute_ms);
    expect(late.met).toBe(false);
    expect(late.room).toBeLessThan(0);
  });

  test("a later departure improves nothing that runs out", () => {
    const reasons: Reason[] = [90, 140, 200].map((minutes) => ({
      code: "crew.shiftEnds",
      effect: "blocks",
      operations: "all",
      from_ms: now_ms + minutes * minute_ms,
      until_ms: null,
      source: { kind: "law", law: "test" },
      evidence: [],
      remedy: { code: "crew.relieve", clearance: "time" },
      facts: {},
    }));
    const craft = knownOf(craftOf(), { reasons });
    fc.assert(
      fc.property(arbitraryCall, fc.double({ min: 0, max: 200, noNaN: true }), (call, minutes) => {
        const before = assessCall(craft, call);
        const after = assessCall(craft, { ...call, depart_ms: call.depart_ms + minutes * minute_ms });
        if (before.verdict !== "notKnown")
          expect(order.indexOf(after.verdict)).toBeGreaterThanOrEqual(order.indexOf(before.verdict));
      }),
      { numRuns: 60 },
    );
  });
});
