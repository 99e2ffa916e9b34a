// The short form of the study: that it measures what it says, and that the method in use keeps to what its run lengths
// promise. `npm run study:levels` is the long one.
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { watchRate } from "../../src/core/level/watch.ts";
import type { Sheet } from "../../src/core/sheet/schema.ts";
import { oilHistory } from "./history.ts";
import { delayOf, demoPlan, measure, unseenSeeds } from "./measure.ts";
import { methods, watchOver } from "./methods.ts";
import { tableText } from "./table-text.ts";

const plan = demoPlan(
  JSON.parse(readFileSync(new URL("../../demo/sheet/quill.json", import.meta.url), "utf8")) as Sheet,
);

describe("the study of alarms", () => {
  test("finds of 20 histories no more false alarms than the method's run length allows, and every leak", () => {
    const [cusum, ...others] = measure(plan, { histories: 20, leaks: [0.02, 0.1], firstSeed: 5_000 });
    // Once in 2,573 readings by Siegmund, and some 0.9 readings an hour: 0.35; thrice that in 8,800 hours is chance.
    expect(cusum!.falsePer1000).toBeLessThan(1);
    for (const { missed } of cusum!.delays) expect(missed).toBe(0);
    expect(cusum!.delays[1]!.median_h!).toBeLessThan(cusum!.delays[0]!.median_h!);
    expect(others).toHaveLength(methods.length - 1);
  });

  test("tells the same of a seed every time, and nothing of a leak that is none", () => {
    expect(oilHistory(7, 0.05)).toEqual(oilHistory(7, 0.05));
    expect(oilHistory(7, 0.05).points).not.toEqual(oilHistory(8, 0.05).points);
    expect(() => delayOf(oilHistory(7, 0), methods[0]!, plan)).toThrow("nothing leaks");
  });

  test("judges each reading by what was known then", () => {
    const { points } = oilHistory(11, 0.05);
    const whole = watchOver(points, plan);
    const alarms = new Set(methods[0]!.alarms(points, whole, plan));
    for (let count = 120; count < points.length; count += 17) {
      const known = points.slice(0, count);
      const alarm = watchRate(known, plan, 0.95)!.alarm;
      expect(alarms.has(known.at(-1)!.hours_h), `after ${count} readings`).toBe(alarm?.kind === "faster");
    }
  });

  test("lists every unseen seed by every method, the misses too", () => {
    const unseen = unseenSeeds(plan).slice(0, 3);
    const text = tableText({
      plan,
      histories: 1,
      powers: measure(plan, { histories: 1, leaks: [0.05], firstSeed: 1 }),
      demo: [],
      unseen: [...unseen, { ...unseen[0]!, what: "a missed one", delays_h: methods.map(() => null) }],
    });
    expect(text).toContain("seed 777002");
    expect(text.match(/missed \(\d+\)/gu)).toHaveLength(methods.length);
    expect(text).not.toMatch(/undefined|NaN/u);
  });
});
