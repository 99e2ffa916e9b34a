import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CraftState, ReadingFact, UpliftFact } from "../facts/craft.ts";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import type { Sheet } from "../sheet/schema.ts";
import { airframeHours } from "./airframe-hours.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";
import { readingVerdict } from "./reading-verdict.ts";
import { gasPressureAt } from "../power/gas-pressure.ts";
import { referenceTemperature } from "./at-temperature.ts";
import { craftLevels, type GaugeLevels, likelyHours } from "./craft-levels.ts";
import { gaugeSeries, riseOf, seriesFrame } from "./gauge-series.ts";
import { neverFalling } from "./never-falling.ts";
import {
  at_h,
  craftWith,
  dayOne_ms,
  evenScatter,
  fallingFrom,
  flight,
  reading,
  uplift,
} from "./tell-levels.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;
const gaugeOf = (id: string) => quill.gauges.find((gauge) => gauge.id === id)!;

function levelsOf(state: CraftState, now_h = 2000, gauge = "engineOilLeft"): GaugeLevels {
  return craftLevels(quill, state, at_h(now_h)).gauges.find((one) => one.gauge.id === gauge)!;
}
const seriesOf = (state: CraftState, gauge = "engineOilLeft") =>
  gaugeSeries(gaugeOf(gauge), seriesFrame(quill, state, at_h(2000)));
const whyNot = (state: CraftState, gauge?: string) =>
  seriesOf(state, gauge).points.map((point) => point.whyNot);
const codes = (levels: GaugeLevels) => levels.questions.map(({ code }) => code);

/** A steady oil level over 100 hours: the normal rate is learnt, the window is full. */
const steady = fallingFrom(1000, 100, 5.9, 0.015);

describe("a reading is comparable", () => {
  test("only under the sheet's conditions, and says which of them it misses", () => {
    const conditions = { minutesAfterShutdown: 20, hot: true, level: true };
    const under = (change: ReadingFact["conditions"]) =>
      whyNot(craftWith({ readings: [reading(1000, 5, { conditions: { ...conditions, ...change } })] }));
    expect(under({})).toEqual([[]]);
    expect(under({ minutesAfterShutdown: 9 })).toEqual([["tooSoon"]]);
    expect(under({ minutesAfterShutdown: 31 })).toEqual([["tooLate"]]);
    expect(under({ hot: false })).toEqual([["otherState"]]);
    expect(under({ level: false })).toEqual([["notLevel"]]);
    const without = (conditionsLeft: ReadingFact["conditions"]) =>
      whyNot(craftWith({ readings: [reading(1000, 5, { conditions: conditionsLeft })] }));
    expect(without({})).toEqual([["shutdownNotKnown", "stateNotKnown", "levelNotKnown"]]);
  });

  test("by the minutes since the last landing that the record holds, where nobody gave them", () => {
    const conditions = { hot: true, level: true };
    const landed_ms = at_h(1000) + hour_ms;
    const after = (minutes: number) =>
      whyNot(
        craftWith({
          readings: [reading(1001, 5, { conditions, at_ms: landed_ms + minutes * minute_ms })],
          flights: [flight(at_h(1000), 1)],
        }),
      );
    expect(after(15)).toEqual([[]]);
    expect(after(5)).toEqual([["tooSoon"]]);
    expect(after(600)).toEqual([["tooLate"]]);
    expect(after(-30)).toEqual([["shutdownNotKnown"]]);
  });

  test("only in the gauge's unit, inside what it can read, with a temperature where it needs one", () => {
    const bottle = (change: Partial<ReadingFact>) =>
      whyNot(
        craftWith({ readings: [reading(1000, 240, { gauge: "floatBottle", unit: "bar", ...change })] }),
        "floatBottle",
      );
    expect(bottle({ conditions: { bottle_C: 15 } })).toEqual([[]]);
    expect(bottle({ conditions: {} })).toEqual([["temperatureMissing"]]);
    expect(bottle({ conditions: { oat_C: 15 } })).toEqual([["temperatureMissing"]]);
    expect(bottle({ unit: "psi" })).toEqual([["otherUnit"]]);
    expect(bottle({ value: 3480 })).toEqual([["implausible"]]);
    expect(bottle({ value: -1 })).toEqual([["implausible"]]);
    expect(bottle({ conditions: { bottle_C: -273.15 } })).toEqual([["temperatureImplausible"]]);
    const fire = { gauge: "fireBottleLeft", unit: "bar" } as const;
    const fireBottle = (conditions: ReadingFact["conditions"]) =>
      whyNot(craftWith({ readings: [reading(1000, 30, { ...fire, conditions })] }), "fireBottleLeft");
    expect(fireBottle({ bottle_C: -41 })).toEqual([["outsideBand"]]);
    // The air around it is not the bottle.
    expect(fireBottle({ oat_C: 15 })).toEqual([["temperatureMissing"]]);
    const gauge = gaugeOf("fireBottleLeft");
    const byAir: Gauge = { ...gauge, band: { ...gauge.band!, temperature: "air" } };
    const said = (conditions: ReadingFact["conditions"]) =>
      readingVerdict(byAir, { value: 30, unit: "bar", conditions }).is;
    expect([said({ oat_C: 20 }), said({ oat_C: -20 }), said({ bottle_C: 20 })]).toEqual([
      "below",
      "inside",
      "notKnown",
    ]);
  });

  test("neither in the future, nor at the instant of an uplift, nor without hours, nor with hours that go back", () => {
    const future = reading(2001, 5);
    expect(whyNot(craftWith({ readings: [future] }))).toEqual([["inFuture"]]);
    const at_ms = at_h(1000);
    const both = craftWith({ readings: [reading(1000, 5)], uplifts: [uplift(1000, 1, { at_ms })] });
    expect(whyNot(both)).toEqual([["upliftAtSameInstant"]]);
    expect(whyNot(craftWith({ readings: [reading(1000, 5, { hours_h: null })] }))).toEqual([
      ["hoursNotKnown"],
    ]);
    const back = craftWith({
      readings: [reading(1000, 5), reading(1001, 5, { hours_h: 990 }), reading(1002, 5)],
    });
    expect(whyNot(back)).toEqual([[], ["hoursBack"], []]);
    const ahead = craftWith({
      readings: [reading(1000, 5, { hours_h: 10_000 }), reading(1001, 5), reading(1002, 5)],
    });
    expect(whyNot(ahead)).toEqual([["hoursBack"], [], []]);
  });
});

describe("a series", () => {
  test("brings gas to its reference temperature, and a band's reading along the band", () => {
    const bottle = craftWith({
      readings: [-20, 0, 20, 35].map((bottle_C, index) =>
        reading(1000 + index, gasPressureAt(240, 20, bottle_C)!, {
          gauge: "floatBottle",
          unit: "bar",
          conditions: { bottle_C },
        }),
      ),
    });
    for (const { value } of seriesOf(bottle, "floatBottle").points) expect(value).toBeCloseTo(240, 9);
    const middle = { [-20]: 30.5, 0: 36.25, 20: 43, 30: 46.75 };
    const fire = craftWith({
      readings: Object.entries(middle).map(([bottle_C, value], index) =>
        reading(1000 + index, value, {
          gauge: "fireBottleLeft",
          unit: "bar",
          conditions: { bottle_C: Number(bottle_C) },
        }),
      ),
    });
    expect(referenceTemperature(gaugeOf("fireBottleLeft"))).toBe(20);
    for (const { value } of seriesOf(fire, "fireBottleLeft").points) expect(value).toBeCloseTo(43, 9);
  });

  test("counts what was filled in the gauge's own unit", () => {
    const [oil] = quill.fluids.filter(({ id }) => id === "gearboxOil");
    const rise = (gauge: string, amount: number, unit: string) =>
      riseOf(gaugeOf(gauge), oil, { amount, unit });
    expect(rise("engineOilLeft", 0.5, "L")).toBe(0.5);
    expect(rise("gearboxOil", 0.5, "L")).toBe(3);
    expect(rise("gearboxOil", 0.99, "kg")).toBeCloseTo(6, 12);
    expect(rise("gearboxOil", 1, "usgal")).toBeCloseTo(3.785411784 * 6, 12);
    expect(rise("gearboxOil", 4, "mm")).toBe(4);
    expect(rise("gearboxOil", 1, "qt")).toBeNull();
    expect(rise("batteryVoltage", 1, "L")).toBeNull();
  });

  test("starts anew after an uplift that cannot be counted, and where somebody says so", () => {
    const strange = uplift(1050, 1, { unit: "can" });
    const { trend, questions } = levelsOf(craftWith({ readings: steady, uplifts: [strange] }));
    expect(trend!.points[0]!.hours_h).toBe(1051);
    expect(questions.map(({ code }) => code)).toEqual(["riseNotKnown"]);
    const anew = {
      entry: "f".repeat(64),
      by: "p-two",
      at_ms: at_h(1060),
      gauge: "engineOilLeft",
      settles: "trend",
      entries: [],
      words: "engine changed",
    } as const;
    const settled = levelsOf(craftWith({ readings: steady, levelsSettled: [anew] }));
    expect(settled.trend!.points[0]!.hours_h).toBe(1061);
  });

  test("keeps the most of its hours that can be right", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(60), { maxLength: 9 }), (values) => {
        const kept = neverFalling(values);
        const left = values.filter((_, index) => kept[index]);
        expect(left).toEqual(left.toSorted((a, b) => a - b));
        let longest = 0;
        for (let mask = 0; mask < 2 ** values.length; mask += 1) {
          const some = values.filter((_, index) => (mask >> index) & 1);
          if (some.every((value, index) => index === 0 || value >= some[index - 1]!))
            longest = Math.max(longest, some.length);
        }
        expect(left.length).toBe(longest);
      }),
      { numRuns: 100 },
    );
  });
});

describe("airframe hours", () => {
  test("are those of the meter and what was flown since, or before it what was flown until then", () => {
    const meter = { gauge: "airframeHours", unit: "h", hours_h: null } as const;
    const flights = [flight(at_h(1), 1), flight(at_h(3), 0.5), flight(at_h(6), 2)];
    const hours = airframeHours(quill, craftWith({ readings: [reading(5, 1200, meter)], flights }));
    expect([0, 2.5, 4, 5, 7, 9].map((at) => hours(at_h(at)))).toEqual([
      1198.5, 1199.5, 1200, 1200, 1200, 1202,
    ]);
  });

  test("are not known where nobody said any", () => {
    expect(airframeHours(quill, craftWith({ flights: [flight(at_h(1), 1)] }))(at_h(3))).toBeNull();
  });

  test("are borne out of any reading where the meter was never read", () => {
    const hours = airframeHours(
      quill,
      craftWith({ readings: [reading(10, 5)], flights: [flight(at_h(11), 1)] }),
    );
    expect(hours(at_h(13))).toBe(11);
  });
});

describe("the trend of a gauge", () => {
  const state = (readings: readonly ReadingFact[], uplifts: readonly UpliftFact[] = []) =>
    craftWith({ readings, uplifts });

  test("gives the consumption, the forecast from now, and no alarm of a steady gauge", () => {
    const { trend, left, questions } = levelsOf(state(steady), 1104);
    expect(trend!.line!.rate.perHour).toBeCloseTo(0.015, 2);
    expect(trend!.line).toMatchObject({ from_h: 1059, until_h: 1099, readings: 41 });
    expect(trend!.watch!.alarm).toBeNull();
    expect(questions).toEqual([]);
    // Read last at 1,099 h at about 4.4 L, and nothing flown since that the record knows of.
    expect(left!.expected_h).toBeGreaterThan(20);
    expect(left!.pessimistic_h!).toBeLessThan(left!.expected_h!);
    expect(left).toMatchObject({ by: "trend", mark: "low" });
  });

  test("is the same with an uplift and the same rise", () => {
    fc.assert(
      fc.property(fc.integer({ min: 1001, max: 1098 }), fc.integer({ min: 1, max: 8 }), (at, quarters) => {
        const amount = quarters / 4;
        const raised = steady.map((one) => (one.hours_h! > at ? { ...one, value: one.value + amount } : one));
        const low = steady.map((one) => ({ ...one, value: one.value - 2 }));
        const lowRaised = raised.map((one) => ({ ...one, value: one.value - 2 }));
        const before = levelsOf(state(low)).trend!;
        const after = levelsOf(state(lowRaised, [uplift(at, amount)])).trend!;
        expect(after.line!.rate.perHour).toBeCloseTo(before.line!.rate.perHour, 9);
        expect(after.line!.rate.high).toBeCloseTo(before.line!.rate.high, 9);
        expect(after.watch!.alarm).toEqual(before.watch!.alarm);
      }),
      { numRuns: 40 },
    );
  });

  test("is not changed by readings that are not comparable", () => {
    const wrong = fc.constantFrom<Partial<ReadingFact>>(
      { conditions: { minutesAfterShutdown: 5, hot: true, level: true } },
      { conditions: { minutesAfterShutdown: 20, hot: false, level: true } },
      { conditions: { minutesAfterShutdown: 20, hot: true, level: false } },
      { unit: "qt" },
      { conditions: {} },
    );
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(fc.integer({ min: 1000, max: 1099 }), fc.double({ min: 0, max: 7, noNaN: true }), wrong),
          {
            maxLength: 20,
          },
        ),
        (others) => {
          const more = others.map(([at, value, change]) => reading(at + 0.5, value, change));
          const { trend } = levelsOf(state(steady));
          const { trend: same } = levelsOf(state([...steady, ...more]));
          expect(same).toEqual({ ...trend, points: same!.points });
          expect(same!.points.map(({ level }) => level)).toEqual(trend!.points.map(({ level }) => level));
        },
      ),
      { numRuns: 60 },
    );
  });

  test("is the same for readings of equal hour, in whatever order they came", () => {
    fc.assert(
      fc.property(fc.array(fc.nat(), { minLength: 100, maxLength: 100 }), (keys) => {
        const paired = steady.map((one) => ({
          ...one,
          hours_h: Math.floor(one.hours_h! / 4) * 4,
          at_ms: at_h(Math.floor(one.hours_h! / 4) * 4),
        }));
        const shuffled = paired
          .map((one, index) => ({ one, key: keys[index]! }))
          .toSorted((a, b) => a.key - b.key)
          .map(({ one }) => one);
        const { trend } = levelsOf(state(paired));
        expect(levelsOf(state(shuffled)).trend).toEqual(trend);
      }),
      { numRuns: 30 },
    );
  });

  test("alarms when it falls faster, forecasts by the faster rate, and says how sure it is", () => {
    const faster = [
      ...steady,
      ...fallingFrom(1100, 30, 5.9 - 1.5 - 0.1, 0.1).map((one) => ({ ...one, value: one.value + 1 })),
    ];
    const { trend } = levelsOf(state(faster, [uplift(1099.5, 1)]));
    const alarm = trend!.watch!.alarm!;
    expect(alarm.kind).toBe("faster");
    expect(Math.abs(alarm.since_h - 1100)).toBeLessThanOrEqual(5);
    expect(trend!.line!.from_h).toBe(alarm.since_h);
    expect(trend!.line!.rate.perHour).toBeCloseTo(0.1, 1);
    expect(alarm.chanceEvery_h).toBeGreaterThan(500);
  });

  test("of what is better thin than thick runs towards its upper mark", () => {
    const gap = steady.map((one, index) =>
      reading(one.hours_h!, 1.5 + 0.012 * index + 0.05 * evenScatter(index), {
        gauge: "damperGap",
        unit: "mm",
        conditions: { hot: false },
      }),
    );
    const { trend, left } = levelsOf(state(gap), 1099, "damperGap");
    expect(trend!.line!.rate.perHour).toBeCloseTo(0.012, 2);
    expect(left!.mark).toBe("high");
    expect(left!.expected_h).toBeGreaterThan(20);
    expect(left!.expected_h).toBeLessThan(80);
  });

  test("of a two-sided gauge that rises runs towards its upper mark too", () => {
    const rising = steady.map((one, index) =>
      reading(one.hours_h!, 25 + 0.12 * index + 0.8 * evenScatter(index), {
        gauge: "gearboxOil",
        unit: "mm",
        conditions: { minutesAfterShutdown: 30, level: true },
      }),
    );
    const { left, trend } = levelsOf(state(rising), 1099, "gearboxOil");
    expect(trend!.line!.rate.perHour).toBeCloseTo(-0.12, 1);
    expect(left!.mark).toBe("high");
    expect(left!.expected_h!).toBeGreaterThan(20);
    expect(left!.pessimistic_h!).toBeLessThan(left!.expected_h!);
  });

  test("starts anew where something that nobody fills was renewed", () => {
    const pads = (from: number, count: number, thick: number) =>
      Array.from({ length: count }, (_, index) =>
        reading(from + index, thick - 0.03 * index, { gauge: "brakePads", unit: "mm", conditions: {} }),
      );
    const { trend, questions } = levelsOf(
      state([...pads(1000, 110, 8), ...pads(1110, 30, 8.5)]),
      1140,
      "brakePads",
    );
    expect(trend!.points[0]!.hours_h).toBe(1110);
    expect(trend!.line!.rate.perHour).toBeCloseTo(0.03, 9);
    expect(questions).toEqual([]);
  });

  test("is not known from too few readings; the greatest consumption of the sheet stands in", () => {
    const { trend, left } = levelsOf(state(steady.slice(0, 4)), 1003);
    expect(trend).toMatchObject({ line: null, forecast: null, watch: null });
    expect(left!.by).toBe("greatest");
    expect(left!.pessimistic_h).toBeCloseTo((steady[3]!.value - 4) / 0.15, 9);
    expect(levelsOf(craftWith({})).left).toBeNull();
  });

  test("with a lower newest reading never forecasts later, is never less alarmed", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -0.4, max: 0.4, noNaN: true }), { minLength: 6, maxLength: 30 }),
        fc.double({ min: 0, max: 0.9, noNaN: true }),
        (scatter, lower) => {
          const tail = scatter.map((more, index) => reading(1100 + index, 4.6 - 0.015 * index + more));
          const newest = tail.at(-1)!;
          const lowered = { ...newest, value: newest.value - lower };
          const [was, is] = [newest, lowered].map((one) =>
            levelsOf(state([...steady, ...tail.slice(0, -1), one])),
          );
          const hours = (left: number | null | undefined) => left ?? Number.POSITIVE_INFINITY;
          // A rise without an uplift makes a forecast unknown, and unknown is no later.
          if (was!.left!.by === "trend" && is!.left!.by === "trend") {
            expect(hours(is!.left!.expected_h)).toBeLessThanOrEqual(hours(was!.left!.expected_h) + 1e-9);
            expect(hours(is!.left!.pessimistic_h)).toBeLessThanOrEqual(
              hours(was!.left!.pessimistic_h) + 1e-9,
            );
          }
          const alarmed = ({ trend }: GaugeLevels) => trend!.watch!.alarm?.kind === "faster";
          if (alarmed(was!)) expect(alarmed(is!)).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("what does not add up is asked about:", () => {
  const ask = (readings: readonly ReadingFact[], uplifts: readonly UpliftFact[] = [], now_h = 2000) =>
    levelsOf(craftWith({ readings, uplifts }), now_h);

  test("a level that rose without an uplift; until it is written there is no forecast", () => {
    const filled = fallingFrom(1100, 4, 5.4, 0.015);
    const levels = ask([...steady, ...filled]);
    expect(codes(levels)).toEqual(["rose"]);
    expect(levels.questions[0]).toMatchObject({ hours_h: 1100, evidence: [filled[0]!.entry] });
    expect(levels.trend).toMatchObject({ line: null, forecast: null });
    expect(levels.left!.by).toBe("greatest");
    const written = ask([...steady, ...filled], [uplift(1099, 1)]);
    expect(written.questions).toEqual([]);
    expect(written.left!.by).toBe("trend");
  });

  test("an alarm that stood when it rose stands on", () => {
    const leaking = fallingFrom(1100, 25, 4.4, 0.1).map((one) => ({
      ...one,
      value: Math.max(0.1, one.value),
    }));
    const filled = fallingFrom(1125, 4, 5.4, 0.1);
    const { trend } = ask([...steady, ...leaking, ...filled]);
    expect(trend!.rise?.hours_h).toBe(1125);
    expect(trend!.watch!.alarm?.kind).toBe("faster");
  });

  test("another rise than was filled, and more than it holds", () => {
    const filled = fallingFrom(1100, 6, 5.4, 0.015);
    expect(codes(ask([...steady, ...filled], [uplift(1099, 0.3)]))).toContain("upliftDisagrees");
    expect(codes(ask(steady, [uplift(1000, 1)]))).toEqual(expect.arrayContaining(["aboveCapacity"]));
  });

  test("more filled over the hours than the sheet's greatest consumption, corrected by levels read before both", () => {
    const twice = (hours: number, amount: number, readings: readonly ReadingFact[] = []) =>
      codes(ask(readings, [uplift(1000, 1), uplift(1000 + hours, amount)]));
    // 0.15 L an hour is the most: exactly that is met.
    expect(twice(20, 3)).toEqual([]);
    expect(twice(20, 3.2)).toEqual(["upliftHigh"]);
    // Too few hours say nothing of a rate.
    expect(twice(9, 3)).toEqual([]);
    // Left fuller than the first time: less was used than was filled.
    const fuller = [reading(1000, 4), reading(1020, 4.4)];
    expect(twice(20, 3.2, fuller)).not.toContain("upliftHigh");
  });

  test("grades that are not the sheet's, mixed, or not said", () => {
    const grade = (name: string | null) => uplift(1099, 0.1, { grade: name });
    expect(codes(ask(steady, [grade(null)]))).toEqual(["gradeNotKnown"]);
    expect(codes(ask(steady, [grade("olive")]))).toEqual(["gradeNotListed"]);
    const mixed = ask(steady, [uplift(1050, 0.1), uplift(1099, 0.1, { grade: "olive" })]);
    expect(codes(mixed)).toEqual(["gradeNotListed", "gradesMixed"]);
  });

  test("uplifts in the future, of a gauge nobody named; readings in the future, at one instant, with the meter back", () => {
    expect(codes(ask(steady, [uplift(2100, 1)]))).toEqual(["upliftInFuture"]);
    expect(codes(ask(steady, [uplift(1050, 1, { gauge: null })]))).toEqual(["upliftNotPlaced"]);
    expect(codes(ask([...steady, reading(2100, 5)]))).toEqual(["readingInFuture"]);
    expect(codes(ask(steady, [uplift(1050, 0.2, { at_ms: at_h(1050) })]))).toContain("sameInstant");
    expect(codes(ask([...steady, reading(1100, 4.4, { hours_h: 110 })]))).toEqual(["hoursBack"]);
  });

  test("less consumption than before, and something that runs in", () => {
    const used = fallingFrom(1000, 70, 5.9, 0.02);
    const unused = fallingFrom(1070, 60, 4.5, -0.004);
    expect(codes(ask([...used, ...unused]))).toEqual(["usesLess"]);
    const gearbox = (from: number, count: number, level: number, perHour: number) =>
      Array.from({ length: count }, (_, index) =>
        reading(from + index, level + perHour * index + 0.9 * evenScatter(from + index), {
          gauge: "gearboxOil",
          unit: "mm",
          conditions: { minutesAfterShutdown: 30, level: true },
        }),
      );
    const rising = craftWith({ readings: [...gearbox(1000, 110, 25, 0), ...gearbox(1110, 40, 25, 0.3)] });
    expect(codes(levelsOf(rising, 2000, "gearboxOil"))).toEqual(["runsIn"]);
  });

  test("one system losing what another gains", () => {
    const leak = [...fallingFrom(1000, 70, 5.9, 0.005), ...fallingFrom(1070, 40, 5.5, 0.03)];
    const gain = Array.from({ length: 150 }, (_, index) =>
      reading(1000 + index, 25 + 0.3 * Math.max(0, index - 110) + 0.9 * evenScatter(index), {
        gauge: "gearboxOil",
        unit: "mm",
        conditions: { minutesAfterShutdown: 30, level: true },
      }),
    );
    const levels = levelsOf(craftWith({ readings: [...leak, ...gain] }), 2000, "gearboxOil");
    expect(codes(levels)).toEqual(["runsIn", "passesOver"]);
    expect(levels.questions[1]!.facts).toMatchObject({ from: "engineOilLeft", to: "gearboxOil" });
  });

  test("until somebody who may has settled it, naming what it rests on", () => {
    const strange = uplift(1099, 0.1, { grade: "olive" });
    const word = (entries: readonly string[]) =>
      levelsOf(
        craftWith({
          readings: steady,
          uplifts: [strange],
          levelsSettled: [
            {
              entry: "f".repeat(64),
              by: "p-two",
              at_ms: at_h(1101),
              gauge: "engineOilLeft",
              settles: "questions",
              entries,
              words: "drained and flushed",
            },
          ],
        }),
      );
    expect(codes(word([strange.entry]))).toEqual([]);
    expect(codes(word(["0".repeat(64)]))).toEqual(["gradeNotListed"]);
  });
});

test("levels that were computed before are those of now, also when something recorded lies in the future", () => {
  const filled = uplift(1110, 1);
  const state = craftWith({ readings: steady, uplifts: [filled], flights: [flight(at_h(1105), 1)] });
  for (const now_h of [1100, 1103, 1106, 1108, 1111, 1104]) {
    const { hours_h, gauges } = craftLevels(quill, state, at_h(now_h));
    const anew = craftLevels(quill, { ...state }, at_h(now_h));
    expect({ hours_h, gauges }).toEqual(anew);
  }
});

test("a busy day is the sheet's or what the record shows, less what was flown today", () => {
  const day = (back: number, hours: number) => flight(dayOne_ms - back * 24 * hour_ms, hours);
  const likely = (flights: CraftState["flights"]) =>
    likelyHours(flights, 4, dayOne_ms + 6 * hour_ms, "Europe/Oslo");
  expect(likely([])).toBe(4);
  expect(likely([day(1, 2), day(2, 6.5)])).toBe(6.5);
  expect(likely([day(1, 2), day(2, 6.5), day(0, 1.5)])).toBe(5);
  expect(likely([day(0, 5)])).toBe(0);
  expect(likely([day(100, 9)])).toBe(4);
});
