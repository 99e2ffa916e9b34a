// What each criterion of the EU and the US rule says of a forecast, asked of forecasts written for it. The criteria and
// how surely they were seen: forecast-planning.ts.
import { describe, expect, test } from "vitest";
import { readReport } from "../sky/read-report.ts";
import { tafWindow } from "../sky/taf-window.ts";
import { forecastPlanning, planningBy } from "./forecast-planning.ts";
import { ruleSetIds } from "./cited.ts";

const near_ms = Date.UTC(2026, 1, 4, 11);
const at = (hour: number, minute = 0): number => Date.UTC(2026, 1, 4, hour, minute);

function ceiling(groups: string, ruleSet: "eu" | "us", hour: number): number | null {
  const taf = readReport(`TAF ENXX 041100Z 0412/0512 24010KT 9999 BKN030 ${groups}`, near_ms);
  return tafWindow(taf, at(hour), at(hour), forecastPlanning[ruleSet].rule).ceiling.value?.ceiling_ft ?? null;
}

describe("planning by the EU criteria", () => {
  test.each([
    ["a BECMG that deteriorates counts from its start", "BECMG 0414/0416 BKN008", 14, 800],
    ["a BECMG that improves counts from its end only", "BECMG 0414/0416 BKN050", 15, 3000],
    ["a BECMG that improves counts after its end", "BECMG 0414/0416 BKN050", 17, 5000],
    ["a TEMPO of what lasts counts", "TEMPO 0414/0418 2000 BR BKN004", 15, 400],
    ["a TEMPO of what passes may be left out", "TEMPO 0414/0418 2000 SHRA BKN004", 15, 3000],
    ["a TEMPO of what passes and what lasts counts", "TEMPO 0414/0418 2000 SHRA BR BKN004", 15, 400],
    ["a TEMPO without a word on why counts", "TEMPO 0414/0418 BKN004", 15, 400],
    ["a TEMPO that improves never counts", "TEMPO 0414/0418 BKN060", 15, 3000],
    ["a PROB of what lasts counts", "PROB40 0414/0418 0300 FG BKN001", 15, 100],
    ["a PROB of what passes may be left out", "PROB40 0414/0418 TSRA BKN010CB", 15, 3000],
    ["a PROB with TEMPO may be left out", "PROB30 TEMPO 0414/0418 0300 FG BKN001", 15, 3000],
    ["an FM replaces what prevailed before it", "FM041500 24010KT 9999 BKN040", 17, 4000],
    ["at the time of an FM both count", "FM041500 24010KT 9999 BKN040", 15, 3000],
  ])("%s", (_, groups, hour, expected) => {
    expect(ceiling(groups, "eu", hour)).toBe(expected);
  });

  test("takes away no ice and no thunderstorm: a rule of planning speaks of minima", () => {
    const taf = readReport(
      "TAF ENXX 041100Z 0412/0512 24010KT 9999 BKN030 PROB30 TEMPO 0414/0418 2000 TSRA BKN004",
      near_ms,
    );
    const worst = tafWindow(taf, at(15), at(15), forecastPlanning.eu.rule);
    expect(worst.ceiling.value?.ceiling_ft).toBe(3000);
    expect(worst.visibility.value?.value_m).toBe(10_000);
    expect(worst.weather.codes.map(({ code }) => code)).toEqual(["TSRA"]);
  });
});

describe("planning by the US policy", () => {
  test.each([
    ["a TEMPO counts, whatever its weather", "TEMPO 0414/0418 2SM SHRA BKN004", 15, 400],
    ["a PROB counts", "PROB30 0414/0418 1/2SM TSRA BKN010CB", 15, 1000],
    ["a TEMPO that improves does not", "TEMPO 0414/0418 P6SM BKN060", 15, 3000],
  ])("%s", (_, groups, hour, expected) => {
    expect(ceiling(groups, "us", hour)).toBe(expected);
  });
});

test("the window of an arrival is an hour to either side by both", () => {
  for (const id of ruleSetIds)
    expect(forecastPlanning[id].rule.arrival).toEqual({ before_min: 60, after_min: 60 });
});

test("without the operator's word every group counts; with it the rule names both sources", () => {
  expect(planningBy("eu", null).passing.PROB30_TEMPO).toBe("always");
  const stated = planningBy("eu", { cite: "manual 8.1.4" });
  expect(stated.passing.PROB30_TEMPO).toBe("never");
  expect(stated.cite).toContain("manual 8.1.4");
  expect(stated.cite).toContain("NCO.OP.160");
});
