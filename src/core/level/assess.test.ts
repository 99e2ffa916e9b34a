import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CraftState, ReadingFact } from "../facts/craft.ts";
import { effects, type Reason } from "../facts/reason.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Sheet } from "../sheet/schema.ts";
import { assessLevels } from "./assess.ts";
import { craftLevels } from "./craft-levels.ts";
import { at_h, craftWith, fallingFrom, flight, reading, situationAt, uplift } from "./tell-levels.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;

const reasonsOf = (state: CraftState, now_h: number, sheet = quill): readonly Reason[] =>
  assessLevels(sheet, state, situationAt(at_h(now_h)));
/** Reasons about the left engine's oil alone, or that name it among others. */
const oilReasons = (state: CraftState, now_h: number, sheet = quill): readonly Reason[] =>
  reasonsOf(state, now_h, sheet).filter(
    ({ facts }) =>
      facts["gauge"] === "engineOilLeft" || String(facts["gauges"]).split(" ").includes("engineOilLeft"),
  );
const codes = (reasons: readonly Reason[]) => reasons.map(({ code }) => code);

const steady = fallingFrom(1000, 100, 5.9, 0.015);

/** The sheet without walks that read the gauges: what then holds of a reading is its age alone. */
const unwalked: Sheet = {
  ...quill,
  items: quill.items.filter(({ reads }) => reads === undefined),
};

describe("a gauge that an operation needs", () => {
  test("is not known until it was read", () => {
    const [missing] = oilReasons(craftWith({}), 1000);
    expect(missing).toMatchObject({ code: "level.missing", effect: "unknown" });
    expect(missing!.operations).toContain("dayVfr");
  });

  test("is not known any more once the day of its reading is over, where no walk reads it anew", () => {
    const state = craftWith({ readings: steady });
    const stale = oilReasons(state, 1101, unwalked).find(({ code }) => code === "level.stale");
    // Read at 1,099 h after the fourth of February, 06:00 UTC: the day at the base ends 44 minutes to midnight later.
    expect(stale).toMatchObject({ effect: "unknown", facts: { count: 1 } });
    expect(stale!.from_ms! > at_h(1099)).toBe(true);
    expect(new Date(stale!.from_ms!).toISOString()).toMatch(/T23:00:00/);
    const later = oilReasons(state, 1101 + 48, unwalked).find(({ code }) => code === "level.stale");
    expect(later!.from_ms).toBeNull();
    expect(codes(oilReasons(state, 1101 + 48))).not.toContain("level.stale");
  });

  test("holds for the hours that the sheet gives it, whoever walks", () => {
    const longer: Sheet = {
      ...quill,
      gauges: quill.gauges.map((gauge) =>
        gauge.id === "engineOilLeft" ? { ...gauge, counts_h: 30 } : gauge,
      ),
    };
    const stale = oilReasons(craftWith({ readings: steady }), 1101, longer).find(
      ({ code }) => code === "level.stale",
    );
    expect(stale!.from_ms).toBe(at_h(1099) + 30 * hour_ms);
  });

  test("is not known from a reading in the future alone", () => {
    const state = craftWith({ readings: [reading(1200, 5)] });
    expect(codes(oilReasons(state, 1100))).toEqual(["level.missing", "level.asked", "level.comparableDue"]);
  });
});

describe("a reading that was taken back as mistyped", () => {
  const withdrawn = {
    entry: "d".repeat(64),
    by: "p-one",
    at_ms: at_h(1099.5),
    words: "read the wrong glass",
  };
  const last = reading(1099.2, 2.5);
  const state = craftWith({ readings: [...steady, { ...last, withdrawn }] });

  test("is no level any more, and nothing is known until it is read again", () => {
    expect(codes(oilReasons(craftWith({ readings: [...steady, last] }), 1099.6))).toContain("level.below");
    const [first, ...others] = oilReasons(state, 1099.6).filter(({ effect }) => effect !== "advises");
    expect(first).toMatchObject({ code: "level.withdrawn", effect: "unknown", operations: "all" });
    expect(others).toEqual([]);
    const again = craftWith({ readings: [...steady, { ...last, withdrawn }, reading(1099.7, 5.1)] });
    expect(codes(oilReasons(again, 1099.8))).not.toContain("level.withdrawn");
  });

  test("changes no trend, neither by its value nor by its hours", () => {
    const ahead = reading(1400, 4.4, { at_ms: at_h(1050.5), withdrawn });
    const trendOf = (readings: readonly ReadingFact[]) =>
      craftLevels(quill, craftWith({ readings }), at_h(1100)).gauges.find(
        ({ gauge }) => gauge.id === "engineOilLeft",
      )!.trend;
    const pointsOf = (readings: readonly ReadingFact[]) =>
      trendOf(readings)?.points.map(({ hours_h, level }) => [hours_h, level]);
    expect(pointsOf([...steady, ahead])).toEqual(pointsOf(steady));
    expect(trendOf([...steady, ahead])?.line).toEqual(trendOf(steady)?.line);
  });

  test("never improves: what blocks or asks without it is at most asked, and nothing becomes ready by it", () => {
    const good = craftWith({ readings: steady });
    const newest = steady.at(-1)!;
    const taken = craftWith({ readings: [...steady.slice(0, -1), { ...newest, withdrawn }] });
    const isReady = (one: CraftState) =>
      oilReasons(one, 1099.6).every(({ effect }) => effect === "advises" || effect === "limits");
    expect(isReady(good)).toBe(true);
    expect(isReady(taken)).toBe(false);
  });
});

describe("a trend", () => {
  test("of a steady level gives no reason", () => {
    expect(oilReasons(craftWith({ readings: steady }), 1100)).toEqual([]);
  });

  test("says to add now when a busy day may pass the mark, and not once it is filled", () => {
    const low = fallingFrom(1000, 100, 5.69, 0.015);
    const [add] = oilReasons(craftWith({ readings: low }), 1100);
    expect(add).toMatchObject({ code: "level.addNow", effect: "advises", remedy: { code: "level.add" } });
    expect(add!.facts["pessimistic_h"]).toBeLessThan(4);
    const filled = craftWith({ readings: low, uplifts: [uplift(1099, 1)] });
    expect(codes(oilReasons(filled, 1100))).toEqual([]);
  });

  test("asks for a reading when it was flown long enough to have passed the mark", () => {
    const low = fallingFrom(1000, 100, 5.72, 0.015);
    const flights = Array.from({ length: 6 }, (_, index) => flight(at_h(1101 + 2 * index), 1.5));
    const before = craftWith({ readings: low });
    expect(codes(oilReasons(before, 1120))).not.toContain("level.mayBeBelow");
    const reasons = oilReasons(craftWith({ readings: low, flights }), 1120);
    const may = reasons.find(({ code }) => code === "level.mayBeBelow");
    expect(may).toMatchObject({ effect: "unknown", facts: { flown_h: 9 } });
  });

  test("tells of a faster consumption, and blocks when it is surely above the sheet's greatest", () => {
    const filled = (list: readonly ReadingFact[], by: number) =>
      list.map((one) => ({ ...one, value: one.value + by }));
    const leaking = (perHour: number) =>
      craftWith({
        readings: [...steady, ...filled(fallingFrom(1100, 8, 4.4, perHour), 1)],
        uplifts: [uplift(1099, 1)],
      });
    expect(codes(oilReasons(leaking(0.11), 1108))).toContain("level.faster");
    expect(codes(oilReasons(leaking(0.11), 1108))).not.toContain("level.consumptionHigh");
    const high = oilReasons(leaking(0.25), 1108).find(({ code }) => code === "level.consumptionHigh");
    expect(high).toMatchObject({ effect: "blocks", operations: "all" });
    const unsure = oilReasons(leaking(0.16), 1108).find(({ code }) => code === "level.consumptionHigh");
    expect(unsure).toMatchObject({ effect: "unknown" });
  });

  test("asks for a comparable reading when none came for too long", () => {
    const meter = reading(1111, 1111, { gauge: "airframeHours", unit: "h" });
    const due = oilReasons(craftWith({ readings: [...steady, meter] }), 1112);
    expect(codes(due)).toContain("level.comparableDue");
    const wrong = reading(1110, 4.4, { conditions: { minutesAfterShutdown: 90, hot: false, level: true } });
    expect(codes(oilReasons(craftWith({ readings: [...steady, wrong, meter] }), 1112))).toContain(
      "level.comparableDue",
    );
    const right = reading(1110, 4.4);
    expect(codes(oilReasons(craftWith({ readings: [...steady, right, meter] }), 1112))).not.toContain(
      "level.comparableDue",
    );
  });

  test("makes it not known when grades were mixed that must not be", () => {
    const olive = uplift(1099, 0.2, { grade: "olive" });
    const [asked] = oilReasons(craftWith({ readings: steady, uplifts: [olive] }), 1100);
    expect(asked).toMatchObject({
      code: "level.asked",
      effect: "unknown",
      facts: { question: "gradeNotListed" },
    });
  });
});

describe("law 2: bad news never helps", () => {
  const worst = (reasons: readonly Reason[]): number =>
    Math.max(-1, ...reasons.map(({ effect }) => effects.indexOf(effect)));
  const tail = fc.array(fc.double({ min: -0.5, max: 0.5, noNaN: true }), { minLength: 1, maxLength: 25 });
  const readingsFrom = (scatter: readonly number[]) =>
    scatter.map((more, index) => reading(1100 + index, 4.5 - 0.015 * index + more));

  test("a lower newest reading makes no effect milder, and takes no warning of a lower level away", () => {
    fc.assert(
      fc.property(tail, fc.double({ min: 0, max: 1.2, noNaN: true }), (scatter, lower) => {
        const list = readingsFrom(scatter);
        const newest = list.at(-1)!;
        const before = oilReasons(craftWith({ readings: [...steady, ...list] }), 1130);
        const lowered = [...list.slice(0, -1), { ...newest, value: newest.value - lower }];
        const after = oilReasons(craftWith({ readings: [...steady, ...lowered] }), 1130);
        expect(worst(after)).toBeGreaterThanOrEqual(worst(before));
        const kept = ["level.below", "level.faster", "level.consumptionHigh", "level.mayBeBelow"];
        // That the level rose by itself is no news any more when it did not.
        const rose = before.some(({ facts }) => facts["question"] === "rose");
        for (const code of rose ? kept.slice(0, 1) : [...kept, "level.addNow"]) {
          if (codes(before).includes(code as never)) expect(codes(after)).toContain(code);
        }
      }),
      { numRuns: 200 },
    );
  });

  test("one more reading that is worse than the forecast makes no effect milder and forecasts no later", () => {
    fc.assert(
      fc.property(tail, fc.double({ min: 0.3, max: 1.5, noNaN: true }), (scatter, below) => {
        const list = readingsFrom(scatter.map((more) => more / 4));
        const before = oilReasons(craftWith({ readings: [...steady, ...list] }), 1130);
        const last = list.at(-1)!;
        const worse = reading(last.hours_h! + 1, Math.max(0, 4.5 - 0.015 * list.length - below));
        const after = oilReasons(craftWith({ readings: [...steady, ...list, worse] }), 1130);
        expect(worst(after)).toBeGreaterThanOrEqual(worst(before));
        for (const code of ["level.faster", "level.addNow", "level.below"])
          if (codes(before).includes(code as never)) expect(codes(after)).toContain(code);
      }),
      { numRuns: 200 },
    );
  });
});
