import { describe, expect, test } from "vitest";
import type { CraftState } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import type { OperatorSettings } from "../facts/situation.ts";
import type { SheetChart } from "../sheet/chart-blocks.ts";
import {
  air,
  callTo,
  craftOf,
  home,
  hospital,
  knownOf,
  loading,
  now_ms,
  placeAt,
  quill,
} from "./arbitrary-call.ts";
import { assessCall } from "./assess-call.ts";
import { type Call, type CallAnswer, type CallKnown, type CallPlace, marginKinds } from "./call.ts";
import {
  bearingPlaces,
  callAt,
  emptyFrame,
  gridPlaces,
  type Ground,
  groundOf,
  placeIn,
  reachAlong,
  reachOf,
  withoutSceneSky,
} from "./reach.ts";

const box = { south_deg: 69.3, north_deg: 71.1, west_deg: 9.5, east_deg: 15.5 };
const hospitals: readonly CallPlace[] = knownOf(craftOf())
  .sites.filter(({ kind }) => kind === "hospital")
  .map(({ id, name, lat_deg, lon_deg, elevation_ft }) => ({
    name,
    lat_deg,
    lon_deg,
    elevation_ft,
    site: id,
  }));
const size = 9;
const ground = groundOf(home, hospitals, gridPlaces(box, size, size));
const verdicts = ["ready", "withinLimits", "notKnown", "notReady"] as const;
const rank = ({ met }: CallAnswer["margins"][number]) => (met === false ? 0 : met === null ? 1 : 2);

/** The plain way: every hospital by its own whole assessment, the nearest first. */
function plainly(
  known: CallKnown,
  over: Ground,
  template: Call,
  cell: number,
): { answer: CallAnswer; hospital: number } {
  const scene = placeIn(over.places, cell, template.stops[0]!.place.elevation_ft);
  let best: { answer: CallAnswer; hospital: number } | null = null;
  for (let k = 0; k < over.hospitals.length; k += 1) {
    const at = over.order[cell * over.hospitals.length + k]!;
    const answer = assessCall(known, callAt(template, scene, over.hospitals[at]!));
    if (answer.isAcceptable === true) return { answer, hospital: at };
    const [was, is] = [best?.answer, answer].map((one) => verdicts.indexOf(one?.verdict ?? "notReady"));
    const isBetter =
      best === null ||
      is! < was! ||
      (is === was && (answer.margins[0]!.share ?? -Infinity) > (best.answer.margins[0]!.share ?? -Infinity));
    if (isBetter) best = { answer, hospital: at };
  }
  return best!;
}

function expectSame(known: CallKnown, template: Call, over = ground): ReadonlySet<string> {
  const frame = emptyFrame(over.count);
  reachOf(known, over, template).fill(frame);
  const seen = new Set<string>();
  const whole = withoutSceneSky(known);
  for (let cell = 0; cell < over.count; cell += 1) {
    const { answer, hospital: at } = plainly(whole, over, template, cell);
    const [binding] = answer.margins;
    const where = `cell ${cell}`;
    expect(verdicts[frame.verdict[cell]!], where).toBe(answer.verdict);
    expect(frame.hospital[cell], where).toBe(at);
    seen.add(answer.verdict);
    if (binding!.share === null || !Number.isFinite(binding!.share)) continue;
    seen.add(binding!.kind);
    expect(frame.room[cell]! / Math.max(1, Math.abs(binding!.room!)), where).toBeCloseTo(
      binding!.room! / Math.max(1, Math.abs(binding!.room!)),
      9,
    );
    // Of margins that bind alike to the last bits either may be named.
    const alike = answer.margins
      .filter((one) => rank(one) === rank(binding!) && Math.abs((one.share ?? 9) - binding!.share!) < 1e-12)
      .map(({ kind }) => kind);
    expect(alike, where).toContain(marginKinds[frame.binding[cell]!]);
  }
  return seen;
}

/** Invented: the flow of the Quill at 3,000 kg and cold, less of it the higher and the colder it gets. */
function thirstierBelow(): SheetChart {
  return {
    ...quill.charts["fuelFlow"]!,
    kind: "grid",
    between: "straight",
    axes: [
      { input: "pressureAltitude_ft", at: [-1_000, 10_000] },
      { input: "temperature_C", at: [-40, 40] },
    ],
    values: [
      [230, 260],
      [170, 200],
    ],
    output: "flow_kgh",
    monotone: { pressureAltitude_ft: "falling", temperature_C: "rising" },
  } as unknown as SheetChart;
}

const reason = (more: Partial<Reason>): Reason => ({
  code: "crew.shiftEnds",
  effect: "blocks",
  operations: "all",
  from_ms: null,
  until_ms: null,
  source: { kind: "law", law: "test" },
  evidence: [],
  remedy: { code: "crew.relieve", clearance: "time" },
  facts: {},
  ...more,
});
const minute_ms = 60_000;

describe("the map equals the plain assessment, place by place", () => {
  const scene = placeAt(70.2, 12.5, 400);

  test("over near and far, with fuel and mass binding", () => {
    const seen = expectSame(knownOf(craftOf()), callTo(scene));
    expect([...seen]).toEqual(expect.arrayContaining(["ready", "notReady", "fuel"]));
  });

  test("high and hot, where hover binds", () => {
    const hot = { ...air, temperature: { value_C: 22, elevation_ft: 36 } };
    const seen = expectSame(knownOf(craftOf()), callTo(placeAt(70.2, 12.5, 4_900), { air: hot }, 120));
    expect([...seen]).toEqual(expect.arrayContaining(["hoverOutOfGroundEffect", "notReady"]));
  });

  test("in a gale, from anywhere, and stronger than the airspeed", () => {
    for (const wind of [
      { from_deg: 310, speed_kt: 55 },
      { from_deg: null, speed_kt: 30 },
      { from_deg: 45, speed_kt: 140 },
      null,
    ])
      expectSame(knownOf(craftOf()), callTo(scene, { air: { ...air, wind } }));
  });

  test("where nothing is known of the air, the elevation or the load", () => {
    expectSame(knownOf(craftOf()), callTo(scene, { air: { ...air, qnh_hPa: null } }));
    expectSame(knownOf(craftOf()), callTo({ ...scene, elevation_ft: null }));
    expectSame(knownOf(craftOf()), callTo(placeAt(70.2, 12.5, 14_000)));
    const state = craftOf();
    const unsaid: CraftState = { ...state, load: { ...state.load, loadings: [] } };
    expectSame(knownOf(unsaid), callTo(scene));
    const nowhere = loading(420, { persons: [{ seat: "noSuchSeat", person: null, mass_kg: 90 }] });
    const unread: CraftState = { ...state, load: { ...state.load, loadings: [loading(420), nowhere] } };
    expect([...expectSame(knownOf(unread), callTo(scene))]).not.toContain("ready");
  });

  test("with a flow that goes by the height and the temperature", () => {
    const fuelFlow = thirstierBelow();
    const known = { ...knownOf(craftOf()), sheet: { ...quill, charts: { ...quill.charts, fuelFlow } } };
    const seen = expectSame(known, callTo(placeAt(70.2, 12.5, 2_500)));
    expect([...seen]).toEqual(expect.arrayContaining(["ready", "notReady", "fuel"]));
  });

  test("by instruments, with an alternate, with the word that none is required, and with neither", () => {
    const alternate = { ...placeAt(70.6, 12.5, 40), name: "alternate" };
    const seen = expectSame(knownOf(craftOf()), callTo(scene, { flightRules: "ifr", alternate }));
    expect([...seen]).toEqual(expect.arrayContaining(["ready", "notReady", "fuel"]));
    expectSame(knownOf(craftOf()), callTo(scene, { flightRules: "ifr", isAlternateNotRequired: true }));
    expect([...expectSame(knownOf(craftOf()), callTo(scene, { flightRules: "ifr" }))]).not.toContain("ready");
    const nowhere = { ...alternate, elevation_ft: null };
    expectSame(knownOf(craftOf()), callTo(scene, { flightRules: "ifr", alternate: nowhere }));
  });

  test("with loadings said apart, and hours, duty and deferrals that end", () => {
    const state = craftOf();
    const heavy = loading(420, {
      entry: "other",
      kit: [{ kit: "winch", name: "winch", mass_kg: 88, at: "rearBay" }],
    });
    const apart: CraftState = { ...state, load: { ...state.load, loadings: [loading(420), heavy] } };
    const reasons = [
      reason({ from_ms: now_ms + 75 * minute_ms }),
      reason({ from_ms: now_ms + 80 * minute_ms, effect: "unknown" }),
      reason({ until_ms: now_ms - minute_ms }),
      reason({
        code: "due.left",
        effect: "limits",
        limit: { quantity: "flightHours_h", value: 0.9, stricter: "lower" },
      }),
    ];
    const seen = expectSame(knownOf(apart, { reasons }), callTo(scene));
    expect([...seen]).toEqual(expect.arrayContaining(["record", "withinLimits"]));
  });

  test("with notices at hospitals and over areas, and a sky over base and hospitals", () => {
    const notice = {
      entry: "n",
      by: "someone",
      at_ms: now_ms,
      kind: "closed" as const,
      from_ms: now_ms,
      until_ms: null,
      words: "",
      lifted: false,
    };
    const known = knownOf(craftOf(), {
      notices: [
        { ...notice, notice: "one", about: { site: hospital.site! } },
        { ...notice, notice: "two", about: { lat_deg: 70.5, lon_deg: 13, radius_nm: 20 } },
        { ...notice, notice: "three", about: { site: "hospitalFjord" }, from_ms: now_ms + 40 * minute_ms },
      ],
      skyAt: ({ name }) =>
        name === "base" ? [reason({ code: "light.night", from_ms: now_ms + 85 * minute_ms })] : [],
    });
    const seen = expectSame(known, callTo(scene));
    expect([...seen]).toEqual(expect.arrayContaining(["light"]));
  });

  test("with a reserve that depends on the light, and a hoist", () => {
    const known = knownOf(craftOf(), {
      policy: { contingency_pct: 5, hems: null, landmarks: true, extra_kg: 10, refuelRunning: false },
      lightAt: ({ lon_deg }, at_ms) =>
        at_ms < now_ms + (60 - 4 * (lon_deg - 12.5)) * minute_ms ? "day" : "night",
    });
    expectSame(known, callTo(scene));
    const call = callTo(scene, { operation: "hoist", fuel_kg: 300 });
    const [first, ...rest] = call.stops;
    const hoisting: Call = { ...call, stops: [{ ...first!, engines: "hover", hook_kg: 120 }, ...rest] };
    const seen = expectSame(knownOf(craftOf(300, { variant: "2", hoist: true })), hoisting);
    expect(seen.size).toBeGreaterThan(1);
  });
});

describe("the map and the rules of a call", () => {
  const scene = placeAt(70.2, 12.5, 400);
  const under = (settings: Partial<OperatorSettings>, more: Partial<CallKnown> = {}): CallKnown => {
    const known = knownOf(craftOf(), more);
    const { situation } = known;
    return { ...known, situation: { ...situation, settings: { ...situation.settings, ...settings } } };
  };

  test("a deferral that may lapse in the air counts at the take-offs, and where it may not until the landing", () => {
    const reasons = [reason({ code: "finding.deferralLapsed", from_ms: now_ms + 75 * minute_ms })];
    expect([...expectSame(under({}, { reasons }), callTo(scene))]).toContain("record");
    const rules = { entry: "r", by: "p", at_ms: 0, meter: null, worksheet: null, overWater: null };
    const flightRules = [{ ...rules, lapseInFlight: "forbidden" as const }];
    expect([...expectSame(under({ flightRules }, { reasons }), callTo(scene))]).toContain("record");
  });

  test("flights that are left, and the US worksheet, count everywhere alike", () => {
    const limit = { quantity: "flights", value: 2, stricter: "lower" } as const;
    const reasons = [reason({ code: "finding.deferralLimits", effect: "limits", limit })];
    expect([...expectSame(under({}, { reasons }), callTo(scene))]).toContain("notReady");
    expect([...expectSame(under({ ruleSet: "us" }), callTo(scene))]).toContain("notKnown");
  });

  test("above 10,000 ft oxygen binds, by day and by night, with the 30 minutes of HEMS and without", () => {
    const uses = [
      { ruleSet: "eu", operation: "dayVfr", cite: "A", performanceClass: 2, airspaceVisibility_m: 1_500 },
    ] as const;
    const high = { heights: { highestObstacle_ft: null, cruise_ft: 11_000 } };
    expect([...expectSame(under({}), callTo(scene, high))]).toContain("oxygen");
    const seen = expectSame(under({ minimaUses: uses }), callTo(scene, high));
    expect([...seen]).toEqual(expect.arrayContaining(["oxygen", "ready"]));
    const dusk: Partial<CallKnown> = {
      lightAt: ({ lon_deg }, at_ms) =>
        at_ms < now_ms + (60 - 4 * (lon_deg - 12.5)) * minute_ms ? "day" : "night",
    };
    expectSame(under({ minimaUses: uses }, dusk), callTo(scene, high));
  });
});

describe("along bearings", () => {
  const [bearings, farthest_nm, steps] = [24, 120, 12];
  const over = groundOf(home, hospitals, bearingPlaces(home, bearings, farthest_nm, steps));

  test("the places are on their bearing, and the map's own answers hold there", () => {
    expectSame(knownOf(craftOf()), callTo(placeAt(70.2, 12.5, 400)), over);
  });

  test("less fuel reaches no farther on any", () => {
    const along = (fuel_kg: number) => {
      const frame = emptyFrame(over.count);
      reachOf(knownOf(craftOf()), over, callTo(placeAt(70.2, 12.5, 400), { fuel_kg })).fill(frame);
      return reachAlong(frame, bearings, farthest_nm, steps);
    };
    const [more, less] = [along(430), along(330)];
    expect(more.some(({ upTo_nm }) => upTo_nm > 0)).toBe(true);
    for (const [index, { upTo_nm }] of less.entries())
      expect(upTo_nm).toBeLessThanOrEqual(more[index]!.upTo_nm);
    expect(less.some(({ binding }) => binding === "fuel")).toBe(true);
  });
});

test("a call of another shape, and no hospital, are refused", () => {
  const known = knownOf(craftOf());
  const call = callTo(placeAt(70.2, 12.5, 400));
  expect(() => reachOf(known, ground, { ...call, stops: call.stops.slice(1) })).toThrow("stops");
  expect(() => reachOf(known, ground, { ...call, isAirborne: true })).toThrow("stops");
  expect(() => groundOf(home, [], gridPlaces(box, 2, 2))).toThrow("hospitals");
});
