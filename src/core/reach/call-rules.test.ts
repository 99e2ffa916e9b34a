// The worksheet, the obstacle of the route and oxygen of a call, and deferrals that lapse in it. Sources: 14 CFR 135.617,
// 135.615; CAT.OP.MPA.285 (memory), SPA.HEMS.110(d); ORO.MLR.105(e)(3).
import { describe, expect, test } from "vitest";
import type { CraftState } from "../facts/craft.ts";
import type { FlightRules } from "../facts/flight-rules.ts";
import { minute_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { OperatorSettings } from "../facts/situation.ts";
import { air, callTo, craftOf, knownOf, now_ms, placeAt, quill, situation } from "./arbitrary-call.ts";
import { assessCall } from "./assess-call.ts";
import type { Call, CallKnown, CallPlace, Margin } from "./call.ts";

const scene = placeAt(70.5, 11.6, 400);
const said = { entry: "r", by: "p-office", at_ms: now_ms } as const;
const factor = (id: string, group: "flight" | "human" | "weather") => ({ id, group, words: id, most: 5 });
const rules: FlightRules = {
  ...said,
  meter: null,
  worksheet: {
    factors: [factor("terrain", "flight"), factor("fatigue", "human"), factor("cloud", "weather")],
    releaseAbove: 6,
    cite: "A 9",
  },
  overWater: null,
  lapseInFlight: "pointedOut",
};
const signed = {
  entry: "w",
  by: "p-one",
  at_ms: now_ms - minute_ms,
  scores: { terrain: 2, fatigue: 1, cloud: 3 },
  refusedElsewhere: false,
  mitigation: "",
  released: null,
} as const;
const written = { highestObstacle_ft: 900, cruise_ft: null } as const;

type More = {
  readonly state?: Partial<CraftState>;
  readonly settings?: Partial<OperatorSettings>;
  readonly known?: Partial<CallKnown>;
  readonly call?: Partial<Call>;
  readonly to?: CallPlace;
};
function marginsOf(kind: Margin["kind"], { state, settings, known, call, to = scene }: More) {
  const all: CallKnown = {
    ...knownOf({ ...craftOf(), ...state }),
    situation: { ...situation, settings: { ...situation.settings, ...settings } },
    ...known,
  };
  return assessCall(all, callTo(to, call)).margins.filter((one) => one.kind === kind);
}
const us = { ruleSet: "us", flightRules: [rules] } as const satisfies Partial<OperatorSettings>;

describe("the worksheet of risk", () => {
  const lacks = (more: More) => marginsOf("worksheet", more).map(({ met, what }) => [what, met]);

  test("that nobody signed since the last landing bars a call, under the US rules only", () => {
    expect(lacks({ settings: us })).toEqual([["signature", false]]);
    expect(lacks({ settings: us, state: { worksheets: [signed] } })).toEqual([]);
    expect(lacks({ settings: { ...us, ruleSet: "eu" } })).toEqual([]);
    expect(
      lacks({ settings: us, state: { worksheets: [{ ...signed, at_ms: now_ms + minute_ms }] } }),
    ).toEqual([["signature", false]]);
  });

  test("that is not whole leaves it open; above the operator's level it needs the management's release", () => {
    const with_ = (worksheet: object) =>
      lacks({ settings: us, state: { worksheets: [{ ...signed, ...worksheet }] } });
    expect(with_({ refusedElsewhere: null })).toEqual([["refusal", null]]);
    expect(with_({ scores: { terrain: 2, fatigue: 1 } })).toEqual([["factor", null]]);
    expect(with_({ scores: { terrain: 2, fatigue: 2, cloud: 3 } })).toEqual([["release", false]]);
  });

  test("of an operator that set no factors is not known", () => {
    expect(lacks({ settings: { ruleSet: "us" } })).toEqual([["rules", null]]);
  });
});

describe("the highest obstacle of the route", () => {
  const obstacle = (more: More) => marginsOf("obstacle", more)[0];

  test("is asked for under the US rules before a flight by sight, and by no other", () => {
    expect(obstacle({ settings: us })).toMatchObject({ met: null, what: "notWritten" });
    expect(obstacle({ settings: us, call: { heights: written } })).toMatchObject({ met: true, limit: 1_200 });
    expect(obstacle({})).toBeUndefined();
    expect(obstacle({ settings: us, call: { flightRules: "ifr" } })).toBeUndefined();
    expect(obstacle({ settings: us, call: { isAirborne: true } })).toBeUndefined();
  });

  test("is cleared by 300 ft by day and 500 ft by night, exactly so being met", () => {
    const at = (cruise_ft: number, light: "day" | "night" = "day") =>
      obstacle({
        settings: us,
        known: { lightAt: () => light },
        call: { heights: { ...written, cruise_ft } },
      });
    expect(at(1_200)).toMatchObject({ met: true, room: 0 });
    expect(at(1_199)).toMatchObject({ met: false, room: -1, unit: "ft" });
    expect(at(1_300, "night")).toMatchObject({ met: false, room: -100 });
    expect(at(1_400, "night")).toMatchObject({ met: true, room: 0 });
  });
});

describe("oxygen", () => {
  const standard = { ...air, qnh_hPa: 1013.25 };
  const hems = {
    minimaUses: [
      { ruleSet: "eu", operation: "dayVfr", cite: "A 8", performanceClass: 2, airspaceVisibility_m: 1_500 },
    ],
  } as const satisfies Partial<OperatorSettings>;
  const at = (cruise_ft: number, more: More = {}) =>
    marginsOf("oxygen", {
      ...more,
      call: { air: standard, heights: { highestObstacle_ft: null, cruise_ft }, ...more.call },
    })[0];

  test("is no matter up to 10,000 ft, and of a place whose height is not known it is open", () => {
    expect(at(10_000)).toBeUndefined();
    expect(at(10_100)).toMatchObject({ met: false, unit: "min" });
    expect(at(10_000, { to: { ...scene, elevation_ft: null } })).toMatchObject({ met: null, what: "height" });
  });

  test("may be wanting for 30 minutes by day under the approval for HEMS, up to 16,000 ft", () => {
    const near = placeAt(70.22, 12.5, 400);
    const whole = assessCall(knownOf(craftOf()), callTo(scene, { air: standard }));
    const flown_min = whole.legs.reduce((sum, { time_min }) => sum + time_min!, 0);
    expect(at(12_000, { settings: hems })).toMatchObject({ met: false, limit: 30 });
    expect(at(12_000, { settings: hems })!.is).toBeCloseTo(flown_min, 9);
    const short = { settings: hems, to: near, call: { stops: callTo(near).stops.slice(0, 1) } };
    expect(at(12_000, short)).toMatchObject({ met: true, limit: 30 });
    expect(at(16_100, short)).toMatchObject({ met: false, limit: 0 });
    expect(at(12_000, { ...short, settings: {} })).toMatchObject({ met: false, limit: 0 });
    expect(at(12_000, { ...short, known: { lightAt: () => "night" } })).toMatchObject({
      met: false,
      limit: 0,
    });
  });

  const bottled = {
    ...quill,
    equipment: quill.equipment.map((one) =>
      one.id === "medicalOxygen" ? { ...one, breathing: { person_min: 600, gauge: "oxygenPressure" } } : one,
    ),
  };
  const reads = (value: number) => ({
    oxygenPressure: [
      {
        entry: "o",
        by: "p-one",
        at_ms: now_ms - minute_ms,
        gauge: "oxygenPressure",
        value,
        unit: "bar",
        typed: String(value),
        walk: null,
        conditions: { oat_C: 20, bottle_C: 20 },
        hours_h: null,
      },
    ],
  });

  test("that is carried is shared by everybody aboard, and counts only with its gauge read inside its limits", () => {
    const carrying = (readings: CraftState["readings"]) =>
      at(12_000, { known: { sheet: bottled }, state: { readings } });
    // Three of the crew and the patient.
    expect(carrying(reads(150))).toMatchObject({ limit: 150 });
    expect(carrying(reads(150))!.met).toBe(true);
    expect(carrying({})).toMatchObject({ met: null });
    expect(carrying(reads(60))).toMatchObject({ met: null });
  });
});

describe("a deferral and a call", () => {
  const reason = (more: Partial<Reason>): Reason => ({
    code: "finding.deferralLapsed",
    effect: "blocks",
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "law", law: "test" },
    evidence: [],
    remedy: { code: "finding.toEngineer", clearance: "someone" },
    facts: {},
    ...more,
  });
  const plain = assessCall(knownOf(craftOf()), callTo(scene));
  const [lastOff_ms, ends_ms] = [plain.stops.at(-2)!.leave_ms!, plain.ends_ms!];
  const withLapse = (from_ms: number, lapseInFlight: "forbidden" | "pointedOut" = "pointedOut") => {
    const known: CallKnown = {
      ...knownOf(craftOf(), { reasons: [reason({ from_ms })] }),
      situation: {
        ...situation,
        settings: { ...situation.settings, flightRules: [{ ...rules, worksheet: null, lapseInFlight }] },
      },
    };
    const { isAcceptable, reasons } = assessCall(known, callTo(scene));
    return [isAcceptable, reasons.map(({ code }) => code)];
  };

  test("that lapses before the last take-off forbids it, on whatever leg", () => {
    expect(withLapse(now_ms + minute_ms)).toEqual([false, ["finding.deferralLapsed"]]);
    expect(withLapse(lastOff_ms)).toEqual([false, ["finding.deferralLapsed"]]);
  });

  test("that lapses between the last take-off and the last landing is pointed out, or forbidden as the operator says", () => {
    const between_ms = (lastOff_ms + ends_ms) / 2;
    expect(withLapse(between_ms)).toEqual([true, ["finding.lapsesInFlight"]]);
    expect(withLapse(between_ms, "forbidden")).toEqual([false, ["finding.deferralLapsed"]]);
    expect(withLapse(ends_ms + minute_ms)).toEqual([true, []]);
  });

  test("that is counted by flights or cycles has to have as many left as the call takes", () => {
    const met = (quantity: "flights" | "cycles", value: number) =>
      marginsOf(quantity, {
        known: {
          reasons: [
            reason({
              code: "finding.deferralLimits",
              effect: "limits",
              limit: { quantity, value, stricter: "lower" },
            }),
          ],
        },
      }).map((one) => one.met);
    expect([met("flights", 3), met("flights", 2)]).toEqual([[true], [false]]);
    expect([met("cycles", 3), met("cycles", 2)]).toEqual([[true], [false]]);
  });
});
