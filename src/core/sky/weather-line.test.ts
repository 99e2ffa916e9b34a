import fc from "fast-check";
import { describe, expect, test } from "vitest";
import data from "../../../published/weather-reports.json" with { type: "json" };
import { hour_ms } from "../facts/instant.ts";
import { everyGroupCounts, type PlanningRule } from "./planning-rule.ts";
import { readReport } from "./read-report.ts";
import { weatherLine, type WeatherSpan } from "./weather-line.ts";
import { tafWindow, worstOver, type WorstWeather } from "./taf-window.ts";

/** An invented rule that leaves out what passes and what is only possible. */
const lenient: PlanningRule = {
  id: "lenient",
  edition: "test",
  cite: "invented for this test",
  becoming: "both",
  passing: {
    TEMPO: "persistent",
    PROB30: "never",
    PROB40: "always",
    PROB30_TEMPO: "never",
    PROB40_TEMPO: "never",
  },
  arrival: { before_min: 60, after_min: 60 },
};

const near_ms = Date.UTC(2026, 1, 4, 11);
const at = (dayHour: string): number =>
  Date.UTC(2026, 1, Number(dayHour.slice(0, 2)), Number(dayHour.slice(2, 4)), Number(dayHour.slice(4) || 0));

function taf(groups: string, rule = everyGroupCounts): readonly WeatherSpan[] {
  return weatherLine(readReport(`TAF ENXX 041100Z 0412/0512 ${groups}`, near_ms), rule, 0);
}

function metar(groups: string, stands_ms = hour_ms): readonly WeatherSpan[] {
  return weatherLine(readReport(`METAR ENXX 041150Z ${groups}`, near_ms), everyGroupCounts, stands_ms);
}

function ceilingIn(line: readonly WeatherSpan[], from: string, to = from): readonly unknown[] {
  const { value, by, unknownBy } = worstOver(line, at(from), at(to)).ceiling;
  return [value === null ? null : (value.ceiling_ft ?? value.bound), by?.text ?? null, unknownBy];
}

describe("a forecast over a window", () => {
  const line = taf(
    "24010KT 9999 SCT020 BECMG 0414/0416 BKN008 TEMPO 0418/0420 0800 FG BKN002 FM042200 25015KT 9999 BKN040 PROB30 TEMPO 0502/0504 BKN001",
  );

  test("names the group that makes the worst, at each time", () => {
    expect(ceilingIn(line, "0413")).toEqual(["none", "", null]);
    expect(ceilingIn(line, "0415")).toEqual([800, "BECMG 0414/0416", null]);
    expect(ceilingIn(line, "0417")).toEqual([800, "BECMG 0414/0416", null]);
    expect(ceilingIn(line, "0419")).toEqual([200, "TEMPO 0418/0420", null]);
    expect(ceilingIn(line, "0421")).toEqual([800, "BECMG 0414/0416", null]);
    expect(ceilingIn(line, "0423")).toEqual([4000, "FM042200", null]);
    expect(ceilingIn(line, "0503")).toEqual([100, "PROB30 TEMPO 0502/0504", null]);
  });

  test("is asked for a report, a window and a rule at once", () => {
    const report = readReport(
      "TAF ENXX 041100Z 0412/0512 24010KT 9999 BKN030 TEMPO 0413/0415 BKN007",
      near_ms,
    );
    const worst = tafWindow(report, at("0414"), at("0416"), everyGroupCounts);
    expect(worst.ceiling).toMatchObject({
      value: { ceiling_ft: 700 },
      by: { change: "TEMPO" },
      unknownBy: null,
    });
  });

  test("takes the worst of all that the window touches, its ends included", () => {
    expect(ceilingIn(line, "0412", "0511")).toEqual([100, "PROB30 TEMPO 0502/0504", null]);
    expect(ceilingIn(line, "0417", "0418")[0]).toBe(200);
    expect(ceilingIn(line, "0420", "0421")[0]).toBe(200);
    expect(ceilingIn(line, "042001", "0421")[0]).toBe(800);
  });

  test("is not known outside the validity, and what is known inside still stands", () => {
    expect(ceilingIn(line, "0411", "0413")).toEqual(["none", "", "notCovered"]);
    expect(ceilingIn(line, "0511", "0512")[2]).toBe("notCovered");
    expect(ceilingIn(line, "0510", "0513")).toEqual([4000, "FM042200", "notCovered"]);
    expect(ceilingIn([], "0412")).toEqual([null, null, "notCovered"]);
  });

  test("a change under way holds both what was and what will be, and the better only from its end", () => {
    const better = taf("24010KT 2000 BR BKN003 BECMG 0414/0416 9999 NSW BKN030");
    expect(ceilingIn(better, "0415")[0]).toBe(300);
    expect(ceilingIn(better, "041559")[0]).toBe(300);
    expect(ceilingIn(better, "0417")[0]).toBe(3000);
    const weather = (from: string): string[] =>
      worstOver(better, at(from), at(from)).weather.codes.map(({ code }) => code);
    expect(weather("0415")).toEqual(["BR"]);
    expect(weather("0417")).toEqual([]);
  });

  test("a change keeps what it does not mention, and an FM does not", () => {
    const changed = taf("24010KT 4000 BR BKN020 BECMG 0413/0414 VRB02KT FM041800 25005KT 9999");
    const worst = worstOver(changed, at("0415"), at("0415"));
    expect(worst.visibility.value?.value_m).toBe(4000);
    expect(worst.weather.codes.map(({ code }) => code)).toEqual(["BR"]);
    const later = worstOver(changed, at("0419"), at("0419"));
    expect(later.weather).toEqual({ codes: [], unknownBy: null });
    expect(later.ceiling).toMatchObject({ value: null, unknownBy: { text: "FM041800" } });
  });

  test("counts the passing groups as the rule that is passed in says", () => {
    const groups =
      "24010KT 9999 BKN030 TEMPO 0413/0416 2000 SHRA BKN008 TEMPO 0416/0419 1500 BR BKN004 PROB30 0420/0422 BKN001";
    expect(ceilingIn(taf(groups), "0414")[0]).toBe(800);
    expect(ceilingIn(taf(groups, lenient), "0414")[0]).toBe(3000);
    expect(ceilingIn(taf(groups, lenient), "0417")[0]).toBe(400);
    expect(ceilingIn(taf(groups, lenient), "0421")[0]).toBe(3000);
    for (const becoming of ["fromStart", "fromEnd"] as const) {
      const under = taf("24010KT 9999 BKN030 BECMG 0414/0416 BKN008", { ...everyGroupCounts, becoming });
      expect(ceilingIn(under, "0415")[0]).toBe(becoming === "fromStart" ? 800 : 3000);
      expect(ceilingIn(under, "0416")[0]).toBe(800);
    }
  });

  test("a group of no known time counts at any time", () => {
    const undated = taf("24010KT 9999 BKN030 TEMPO 0461/0499 0300 FG VV001 FM1500 25010KT 9999 BKN005");
    for (const time of ["0412", "0423", "0511"]) expect(ceilingIn(undated, time)[0]).toBe(100);
  });

  test("a word that may have been a change leaves nothing sure, and known bad news stands", () => {
    const stray = taf("24010KT 9999 BKN030 TEMP0 0413/0416 0300 FG BKN001 BECMG 0418/0420 BKN004", lenient);
    for (const time of ["0413", "0417", "0502"]) {
      const worst = worstOver(stray, at(time), at(time));
      for (const quantity of ["ceiling", "visibility", "wind", "gust", "weather"] as const) {
        expect(worst[quantity].unknownBy).not.toBeNull();
      }
    }
    expect(worstOver(stray, at("0502"), at("0502")).ceiling.value?.ceiling_ft).toBe(400);
  });

  test("a damaged group counts even where the rule leaves its kind out", () => {
    const damaged = taf("24010KT 9999 BKN030 PROB30 0420/0422 1/9SM FG", lenient);
    const worst = worstOver(damaged, at("0421"), at("0421"));
    expect(worst.visibility.unknownBy).toEqual({ change: "PROB30", text: "PROB30 0420/0422" });
    expect(worst.wind.unknownBy).toBeNull();
  });

  test("wind: the strongest mean and the strongest of mean and gust are looked for apart", () => {
    const windy = taf("24020G40KT 9999 SKC TEMPO 0413/0416 27030KT BECMG 0418/0420 240P49MPS");
    const worst = worstOver(windy, at("0413"), at("0414"));
    expect(worst.wind.value).toEqual({ speed_kt: 30, isAbove: false });
    expect(worst.gust.value).toEqual({ speed_kt: 40, isAbove: false });
    const above = worstOver(windy, at("0421"), at("0421"));
    expect(above.wind.value?.isAbove).toBe(true);
    expect(above.wind.value?.speed_kt).toBeCloseTo(95.25, 2);
  });

  test("NIL, CNL and a forecast of unknown validity or issue say nothing", () => {
    for (const text of [
      "TAF ENXX 041100Z NIL",
      "TAF ENXX 041100Z 0412/0512 CNL",
      "TAF ENXX 041100Z 0412/0412 24010KT CAVOK",
      "METAR ENXX 041161Z 24010KT CAVOK",
      "METAR ENXX 041150Z NIL",
    ]) {
      expect(weatherLine(readReport(text, near_ms), everyGroupCounts, hour_ms)).toEqual([]);
    }
  });
});

describe("an observation over time", () => {
  test("stands as long as it is said to, and no longer", () => {
    const line = metar("24010KT 9999 BKN030 10/05 Q1013");
    expect(line.map(({ from_ms, until_ms }) => [from_ms, until_ms])).toEqual([[at("041150"), at("041250")]]);
    expect(metar("24010KT 9999 BKN030", 0)).toEqual([]);
  });

  test("a trend adds what is worse in its time, and takes nothing back that was seen", () => {
    const line = metar(
      "24010KT 3000 BR BKN009 05/05 Q1013 TEMPO FM1200 TL1230 0600 FG VV002 BECMG AT1220 9999 NSW SKC",
      2 * hour_ms,
    );
    const visibility = (time: string): number | undefined =>
      worstOver(line, at(time), at(time)).visibility.value?.value_m;
    expect(visibility("041155")).toBe(3000);
    expect(visibility("041210")).toBe(600);
    expect(visibility("041240")).toBe(3000);
    expect(visibility("041340")).toBe(3000);
  });
});

describe("over every published text", () => {
  const rows = data.rows.filter(({ text }) => !text.includes("NIL") && !text.includes("CNL"));

  function rank({ ceiling, visibility, wind, gust }: WorstWeather): number[] {
    return [
      ceiling.unknownBy === null ? (ceiling.value?.ceiling_ft ?? Infinity) : -1,
      visibility.unknownBy === null ? (visibility.value?.value_m ?? -1) : -1,
      wind.unknownBy === null ? -(wind.value?.speed_kt ?? Infinity) : -Infinity,
      gust.unknownBy === null ? -(gust.value?.speed_kt ?? Infinity) : -Infinity,
    ];
  }

  test("a wider window, and a stricter rule, are never better", () => {
    fc.assert(
      fc.property(fc.constantFrom(...rows), fc.nat(), fc.nat(), fc.nat(), ({ text, near }, a, b, c) => {
        const report = readReport(text, Date.parse(near));
        const [strict, loose] = [everyGroupCounts, lenient].map((rule) =>
          weatherLine(report, rule, 3 * hour_ms),
        );
        const from_ms = Date.parse(near) + (a % (20 * hour_ms));
        const to_ms = from_ms + (b % (4 * hour_ms));
        const narrow = rank(worstOver(strict as WeatherSpan[], from_ms, to_ms));
        const wide = rank(worstOver(strict as WeatherSpan[], from_ms - (c % hour_ms), to_ms + (c % hour_ms)));
        const lenientRank = rank(worstOver(loose as WeatherSpan[], from_ms, to_ms));
        narrow.forEach((value, index) => {
          expect(wide[index]).toBeLessThanOrEqual(value);
          expect(value).toBeLessThanOrEqual(lenientRank[index] as number);
        });
      }),
      { numRuns: 1500, seed: 5 },
    );
  });

  test("spans touch and cover a forecast's validity", () => {
    for (const { text, near } of rows) {
      const report = readReport(text, Date.parse(near));
      const line = weatherLine(report, everyGroupCounts, hour_ms);
      expect(line.length).toBeGreaterThan(0);
      line.forEach((span, index) => {
        expect(span.from_ms).toBeLessThan(span.until_ms);
        expect(span.parts.length).toBeGreaterThan(0);
        if (index > 0) expect(span.from_ms).toBe(line[index - 1]?.until_ms);
      });
      if (report.valid !== null) {
        expect([line[0]?.from_ms, line.at(-1)?.until_ms]).toEqual([report.valid.from_ms, report.valid.to_ms]);
      }
    }
  });
});
