import { describe, expect, test } from "vitest";
import { assessLight } from "./assess-light.ts";
import { euNight, lightAt } from "./night.ts";
import { trackSun } from "./sun.ts";
import { day_ms } from "./sun-altitude.ts";

const sun = trackSun();
const position = { lat_deg: 70.2, lon_deg: 12.5 };
const night = { ...euNight, rule: "eu.night", edition: "2012" };

describe("daylight", () => {
  test("bars the day's operations in each night until the horizon, from dusk to dawn exactly", () => {
    const now_ms = Date.UTC(2026, 1, 4, 12);
    const question = {
      now_ms,
      horizon_ms: now_ms + 3 * day_ms,
      place: "skarvoy",
      position,
      night,
      dayOperations: ["dayVfr"],
    };
    const reasons = assessLight(sun, question);
    expect(reasons).toHaveLength(3);
    for (const { code, effect, operations, from_ms, until_ms, source } of reasons) {
      expect([code, effect, operations]).toEqual(["light.night", "blocks", ["dayVfr"]]);
      expect(source).toMatchObject({ kind: "rule", cite: "Reg. (EU) 965/2012 Annex I" });
      for (const [at_ms, light] of [
        [(from_ms as number) - 1, "day"],
        [from_ms as number, "night"],
        [(until_ms as number) - 1, "night"],
        [until_ms as number, "day"],
      ] as const) {
        expect(lightAt(sun, position, euNight, at_ms)).toBe(light);
      }
    }
  });

  test("gives no reason in the midnight sun, one long one in the dark, and none where no operation needs day", () => {
    const ask = (month: number, dayOperations: readonly string[], lat_deg = 70.2): number[] => {
      const now_ms = Date.UTC(2026, month, 21, 12);
      const at = { ...position, lat_deg };
      const horizon_ms = now_ms + 2 * day_ms;
      return assessLight(sun, { now_ms, horizon_ms, place: "x", position: at, night, dayOperations }).map(
        ({ from_ms, until_ms }) => ((until_ms as number) - (from_ms as number)) / day_ms,
      );
    };
    expect(ask(5, ["dayVfr"])).toEqual([]);
    expect(ask(11, ["dayVfr"], 80)).toEqual([2]);
    expect(ask(11, [], 80)).toEqual([]);
  });
});
