import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Refusal } from "../quantity/refusal.ts";
import { correctedLevels } from "./corrected-levels.ts";
import { forecastToMark } from "./forecast.ts";
import { fitLevels, rateOf } from "./rate.ts";
import { predictAt } from "./regression.ts";
import { trendOf } from "./trend.ts";
import { usualWatch, watchRate } from "./watch.ts";

/** Readings in tenths of an hour and hundredths of a litre: as people write them, and exact in every sum. */
const readings = fc
  .array(fc.tuple(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 200, max: 600 })), {
    minLength: 4,
    maxLength: 40,
  })
  .map((steps) => {
    let tenths = 10_000;
    return steps.map(([step, level]) => {
      tenths += step;
      return { hours_h: tenths / 10, level: level / 64 };
    });
  });
const ask = (
  list: Parameters<typeof trendOf>[0]["readings"],
  added: Parameters<typeof trendOf>[0]["added"] = [],
) => trendOf({ readings: list, added, mark: 1, confidence: 0.9 });

/** Scatter without chance: a fixed sequence that is even, without memory, and never twice the same. */
const scatter = (index: number): number => (((index * 7919 + 13) % 101) / 101 - 0.5) * 0.2;
const steady = (count: number, perHour: number, from_h = 1000, level = 5) =>
  Array.from({ length: count }, (_, index) => ({
    hours_h: from_h + index,
    level: level - perHour * index + scatter(index + from_h),
  }));

describe("a trend", () => {
  test("is the same whether an uplift and the same rise are there or not", () => {
    fc.assert(
      fc.property(readings, fc.nat(), fc.integer({ min: 1, max: 300 }), (list, where, amount) => {
        const at = 1 + (where % (list.length - 1));
        const between_h = (list[at - 1]!.hours_h + list[at]!.hours_h) / 2;
        const uplift = { hours_h: between_h, amount: amount / 64 };
        const raised = list.map((reading, index) =>
          index < at ? reading : { ...reading, level: reading.level + uplift.amount },
        );
        const plain = ask(list);
        const filled = ask(raised, [uplift]);
        expect(filled.rate).toEqual(plain.rate);
        expect(filled.alarm).toEqual(plain.alarm);
      }),
      { numRuns: 200 },
    );
  });

  test("is the same for readings of equal hour in any order", () => {
    fc.assert(
      fc.property(readings, fc.array(fc.nat(), { minLength: 40, maxLength: 40 }), (list, keys) => {
        const pairs = list.map(({ hours_h, level }) => ({ hours_h: Math.floor(hours_h / 5) * 5, level }));
        fc.pre(new Set(pairs.map(({ hours_h }) => hours_h)).size > 1);
        const shuffled = pairs
          .map((reading, index) => ({ reading, key: keys[index]! }))
          .toSorted((a, b) => a.reading.hours_h - b.reading.hours_h || a.key - b.key)
          .map(({ reading }) => reading);
        expect(ask(shuffled)).toEqual(ask(pairs));
      }),
      { numRuns: 200 },
    );
  });

  test("never expects more hours after one more reading that lies below its line", () => {
    fc.assert(
      fc.property(
        readings,
        fc.integer({ min: 0, max: 40 }),
        fc.double({ min: 0.01, max: 3, noNaN: true }),
        (list, later, below) => {
          const before = ask(list);
          const last_h = list.at(-1)!.hours_h;
          const fit = fitLevels(list);
          const level = predictAt(fit, last_h + later, 0.9).value - below;
          fc.pre(level >= 0);
          const after = ask([...list, { hours_h: last_h + later, level }]);
          const hours = ({ forecast }: typeof after) => forecast.expected_h ?? Number.POSITIVE_INFINITY;
          expect(hours(after)).toBeLessThanOrEqual(hours(before) * (1 + 1e-9));
        },
      ),
      { numRuns: 300 },
    );
  });

  test("is never pessimistic above what it expects, and a lower mark is reached later", () => {
    fc.assert(
      fc.property(readings, fc.double({ min: 0, max: 4, noNaN: true }), (list, mark) => {
        const at = (where: number) => trendOf({ readings: list, added: [], mark: where, confidence: 0.9 });
        const { expected_h, pessimistic_h } = at(mark).forecast;
        if (expected_h !== null) expect(pessimistic_h!).toBeLessThanOrEqual(expected_h + 1e-9);
        const lower = at(mark / 2).forecast;
        if (lower.expected_h !== null) expect(lower.expected_h).toBeGreaterThanOrEqual(expected_h! - 1e-9);
        if (lower.pessimistic_h !== null)
          expect(lower.pessimistic_h).toBeGreaterThanOrEqual(pessimistic_h! - 1e-9);
      }),
      { numRuns: 300 },
    );
  });

  test("reaches the mark where the lower end of the interval does, by the definition of the interval", () => {
    fc.assert(
      fc.property(readings, fc.double({ min: 0, max: 3, noNaN: true }), (list, mark) => {
        const fit = fitLevels(list);
        const from_h = list.at(-1)!.hours_h;
        const { pessimistic_h } = forecastToMark(fit, { from_h, mark, confidence: 0.9 });
        const low = (after_h: number) => predictAt(fit, from_h + after_h, 0.9).low;
        if (pessimistic_h === null) {
          expect(low(1e7)).toBeGreaterThan(mark);
        } else if (pessimistic_h === 0) {
          expect(low(0)).toBeLessThanOrEqual(mark);
        } else {
          const slack = 1e-6 * Math.max(1, Math.abs(fit.intercept));
          expect(Math.abs(low(pessimistic_h) - mark)).toBeLessThan(slack);
        }
      }),
      { numRuns: 300 },
    );
  });

  test("of a level that does not fall never reaches the mark, and below the mark is there already", () => {
    const flat = [1, 2, 3, 4].map((hours_h) => ({ hours_h, level: 5 }));
    expect(ask(flat)).toMatchObject({
      rate: { perHour: 0 },
      forecast: { expected_h: null, pessimistic_h: null },
    });
    const low = [1, 2, 3, 4].map((hours_h) => ({ hours_h, level: 0.9 - hours_h / 100 }));
    expect(ask(low).forecast).toEqual({ expected_h: 0, pessimistic_h: 0 });
  });

  test("takes a single reading at the hour of an uplift on the side where it fits", () => {
    const read = (level: number) => [
      { hours_h: 100, level: 5 },
      { hours_h: 105, level: 4.75 },
      { hours_h: 110, level },
      { hours_h: 120, level: 5 },
    ];
    const added = [{ hours_h: 110, amount: 1 }];
    for (const level of [4.5, 5.5]) expect(ask(read(level), added).rate.perHour).toBeCloseTo(0.05, 12);
    const everyTime = [100, 110, 120, 130].map((hours_h) => ({ hours_h, level: 5 }));
    const filled = [110, 120, 130].map((hours_h) => ({ hours_h, amount: 0.5 }));
    expect(ask(everyTime, filled).rate.perHour).toBeCloseTo(0.05, 12);
  });

  test("counts from the level after an uplift at the last reading's hour", () => {
    const list = [100, 110, 120].map((hours_h, index) => ({ hours_h, level: 5 - index / 2 }));
    const { forecast } = ask(list, [{ hours_h: 120, amount: 1 }]);
    expect(forecast.expected_h).toBeCloseTo(80, 9);
  });
});

describe("an alarm", () => {
  test("says since when a level falls faster, slower, or rose by itself", () => {
    const before = steady(40, 0.03);
    const level = before.at(-1)!.level - scatter(1039);
    const then = (perHour: number, more = 0) => steady(25, perHour, 1040, level - perHour + more);
    expect(ask([...before, ...then(0.03)]).alarm).toBeNull();
    const faster = ask([...before, ...then(0.1)]).alarm;
    expect(faster?.reason).toBe("faster");
    expect(Math.abs(faster!.since_h - 1040)).toBeLessThanOrEqual(6);
    expect(ask([...before, ...then(-0.04)]).alarm?.reason).toBe("slower");
    expect(ask([...before, ...then(0.03, 1)]).alarm).toEqual({ since_h: 1040, reason: "rose" });
  });

  test("comes from no single wild reading", () => {
    const list = steady(60, 0.03);
    for (let at = 34; at < 60; at += 1) {
      const wild = list.map((reading, index) => (index === at ? { ...reading, level: 1 } : reading));
      expect(ask(wild).alarm, `with the reading ${at} far too low`).toBeNull();
    }
  });

  test("goes again when the cause is gone", () => {
    const before = steady(40, 0.03);
    const leaking = steady(30, 0.12, 1040, 3.8);
    const mended = steady(90, 0.03, 1070, 3.8 - 30 * 0.12);
    const watch = (list: typeof before) =>
      watchRate(list, { ...usualWatch, baseline_h: 39, scatter: 0.06 }, 0.95)?.alarm ?? null;
    expect(watch([...before, ...leaking])?.kind).toBe("faster");
    const [, ...rest] = [...mended.keys()].map((count) =>
      watch([...before, ...leaking, ...mended.slice(0, count)]),
    );
    const over = rest.findIndex((alarm) => alarm?.kind !== "faster");
    expect(over).toBeGreaterThan(3);
    expect(over).toBeLessThan(60);
  });

  test("is never weaker for a newest reading that is lower", () => {
    fc.assert(
      fc.property(
        readings.filter((list) => list.length > 12),
        fc.double({ min: 0, max: 2, noNaN: true }),
        (list, lower) => {
          const plan = { ...usualWatch, decision_sd: 3, baseline_h: 20, scatter: 0.5 };
          const newest = list.at(-1)!;
          const sum = (level: number): number => {
            const watch = watchRate([...list.slice(0, -1), { ...newest, level }], plan, 0.9);
            return watch?.alarm?.kind === "faster" ? watch.alarm.sum : 0;
          };
          expect(sum(newest.level - lower)).toBeGreaterThanOrEqual(sum(newest.level));
        },
      ),
      { numRuns: 300 },
    );
  });

  test("tells what it rests on: the rate since, and how often scatter alone would do this", () => {
    const list = [...steady(40, 0.03), ...steady(25, 0.12, 1040, 3.8)];
    const watch = watchRate(list, { ...usualWatch, baseline_h: 39, scatter: 0.06 }, 0.95)!;
    expect(watch.normal).toMatchObject({ from_h: 1000, until_h: 1039, readings: 40 });
    expect(watch.normal.perHour).toBeCloseTo(0.03, 2);
    const { rate, chanceEvery_h, readings: count, since_h } = watch.alarm!;
    expect(rate!.low).toBeGreaterThan(watch.normal.perHour);
    expect(count).toBe(list.filter(({ hours_h }) => hours_h >= since_h).length);
    expect(chanceEvery_h).toBeGreaterThan(1000);
  });

  test("is not judged before the normal rate is known", () => {
    const plan = { ...usualWatch, baseline_h: 100, scatter: 0.06 };
    expect(watchRate(steady(40, 0.2), plan, 0.95)).toBeNull();
    expect(watchRate([], plan, 0.95)).toBeNull();
  });

  test.each([
    ["no baseline", { baseline_h: 0 }],
    ["a scatter of 0", { scatter: 0 }],
    ["no weight for the newest reading", { smoothing: 0 }],
    ["a negative allowance", { slack_sd: -1 }],
  ])("refuses %s", (_, wrong) => {
    const plan = { ...usualWatch, baseline_h: 20, scatter: 0.1, ...wrong };
    expect(() => watchRate(steady(40, 0.2), plan, 0.95)).toThrow(Refusal);
  });
});

describe("levels refuse, by name", () => {
  const list = [
    { hours_h: 100, level: 5 },
    { hours_h: 110, level: 4.5 },
    { hours_h: 120, level: 5 },
  ];
  test.each([
    ["an hour meter lower than last time", [...list, { hours_h: 119, level: 5 }], [], "readings[3].hours_h"],
    ["a negative level", [...list, { hours_h: 121, level: -1 }], [], "readings[3].level"],
    ["an uplift of nothing", list, [{ hours_h: 110, amount: 0 }], "added[0].amount"],
    ["an uplift in the future", list, [{ hours_h: 121, amount: 1 }], "added[0].hours_h"],
    [
      "an uplift between two readings of the same hour",
      [...list, { hours_h: 120, level: 4 }],
      [{ hours_h: 120, amount: 1 }],
      "added[0].hours_h",
    ],
  ])("%s", (_, given, added, path) => {
    expect(() => correctedLevels(given, added)).toThrow(Refusal);
    expect(() => correctedLevels(given, added)).toThrow(path);
  });

  test("all at once", () => {
    const wrong = () =>
      correctedLevels([...list, { hours_h: 1, level: -1 }], [{ hours_h: 500, amount: Number.NaN }]);
    try {
      wrong();
      expect.unreachable();
    } catch (error) {
      expect((error as Refusal).issues.map(({ path }) => path)).toEqual([
        "readings[3].hours_h",
        "readings[3].level",
        "added[0].amount",
        "added[0].hours_h",
      ]);
    }
  });

  test("zero hours between all readings, fewer than three, a mark that is no number", () => {
    expect(() => ask(list.map((reading) => ({ ...reading, hours_h: 100 })))).toThrow(Refusal);
    expect(() => ask(list.slice(0, 2))).toThrow(Refusal);
    expect(() => trendOf({ readings: list, added: [], mark: Number.NaN, confidence: 0.9 })).toThrow(Refusal);
  });
});

describe("a rate", () => {
  test("with a known scatter is as wide as that scatter makes it", () => {
    const fit = fitLevels(steady(20, 0.05));
    const own = rateOf(fit, 0.9);
    const known = rateOf(fit, 0.9, 2 * fit.residualSd);
    expect((known.high - known.low) / (own.high - own.low)).toBeCloseTo(2, 9);
    expect(known.perHour).toBe(own.perHour);
  });
});
