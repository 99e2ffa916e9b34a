import { describe, expect, test } from "vitest";
import type { WeatherSettings } from "../../core/facts/sky.ts";
import { limitsAsTyped, readLimits } from "./limits-form.ts";

const stands: WeatherSettings = {
  entry: "a",
  by: "p",
  at_ms: 0,
  ruleSet: "eu",
  reportAge_min: 75,
  stationDistance_km: 30.5,
  ground_ft: 330,
  needs: [
    {
      operation: "dayVfr",
      light: "day",
      day: { ceiling_ft: 500, visibility_m: 1500 },
      night: null,
      cite: "m",
    },
  ],
  moisture: { below_C: -1.5, cite: "m" },
  forbidden: { phenomena: ["TS", "GR"], cite: "m" },
  ncd: { countsAs: "NSC", cite: "m" },
  planning: { cite: "m" },
  pad: { heading_deg: 240, tailwind_kt: 10, cite: "m" },
  cooling: { atMost_C: 8, cite: "m" },
};
const operations = ["dayVfr", "ifr"];

describe("the form of the weather limits", () => {
  test("gives back what stands, in both languages, when nothing is changed", () => {
    const { entry: _entry, by: _by, at_ms: _at, ...limits } = stands;
    for (const language of ["en", "de"] as const) {
      const typed = limitsAsTyped(stands, operations, language);
      expect(readLimits(typed, operations, language)).toEqual({ limits, wrong: new Set() });
    }
  });

  test("an empty form says everything that is missing, and states nothing", () => {
    const { limits, wrong } = readLimits(limitsAsTyped(null, operations, "en"), operations, "en");
    expect(limits).toBeNull();
    expect([...wrong].toSorted()).toEqual([
      "distance",
      "ground",
      "listedCite",
      "ncd",
      "planning",
      "reportAge",
      "ruleSet",
    ]);
  });

  test.each([
    ["reportAge", "0", "reportAge"],
    ["reportAge", "an hour", "reportAge"],
    ["dayVfr/dayVisibility", "", "dayVfr/dayVisibility"],
    ["dayVfr/cite", " ", "dayVfr/cite"],
    ["ifr/dayCeiling", "500", "ifr/dayVisibility"],
    ["listed", "TS FOG", "listed"],
    ["ncdCite", "", "ncdCite"],
    ["heading", "", "heading"],
    ["heading", "400", "heading"],
    ["padCite", "", "padCite"],
    ["cooling", "-3", "cooling"],
  ])("%s as %j is refused at %s", (field, text, at) => {
    const typed = { ...limitsAsTyped(stands, operations, "en"), [field]: text };
    const { limits, wrong } = readLimits(typed, operations, "en");
    expect(limits).toBeNull();
    expect([...wrong]).toContain(at);
  });

  test("a kind of flying that nobody says anything of has no need, and so is not known", () => {
    const { limits } = readLimits(limitsAsTyped(stands, operations, "en"), operations, "en");
    expect(limits?.needs.map(({ operation }) => operation)).toEqual(["dayVfr"]);
  });
});
