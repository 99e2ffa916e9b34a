import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import type { Effect, Reason } from "../facts/reason.ts";
import { assessWeather, observationLapses } from "./assess-weather.ts";
import type { OwnObservation } from "./own-observation.ts";
import { everyGroupCounts } from "./planning-rule.ts";
import { readReport } from "./read-report.ts";
import type { HeldReport, Station } from "./usable-reports.ts";
import type { WeatherLimits, WeatherQuestion } from "./weather-question.ts";

const now_ms = Date.UTC(2026, 1, 4, 12);
const setting = { kind: "setting", name: "test" } as const;
const station: Station = { station: "ENXX", elevation_ft: 100, distance_km: 5 };

function held(...texts: string[]): HeldReport[] {
  return texts.map((text, index) => ({ entry: `e${index}`, report: readReport(text, now_ms) }));
}

const limits: WeatherLimits = {
  reportAge_min: 60,
  stationDistance_km: 30,
  planning: everyGroupCounts,
  wind: [],
  heading_deg: null,
  tailwind: null,
  icing: { isProtected: false, moistureBelow_C: 4, source: setting },
  forbidden: { phenomena: ["TS", "FC", "GR", "VA"], source: setting },
};

function question(more: Partial<WeatherQuestion>): WeatherQuestion {
  return {
    now_ms,
    horizon_ms: now_ms + 30 * minute_ms,
    place: "skarvoy",
    ground_ft: 100,
    stations: [station],
    held: [],
    observations: [],
    lowest_C: null,
    needs: [
      {
        operation: "dayVfr",
        ceiling_ft: 500,
        visibility_m: 5000,
        from_ms: null,
        until_ms: null,
        source: setting,
      },
    ],
    limits,
    ...more,
  };
}

function metar(groups: string, time = "041150Z"): string {
  return `METAR ENXX ${time} ${groups}`;
}

function codes(reasons: readonly Reason[], effect?: Effect): string[] {
  return reasons.filter((reason) => effect === undefined || reason.effect === effect).map(({ code }) => code);
}

/** The codes of what forbids, for one METAR. */
function forbids(groups: string, more: Partial<WeatherQuestion> = {}): string[] {
  const reasons = assessWeather(question({ held: held(metar(groups)), ...more }));
  return reasons.filter(({ effect }) => effect === "blocks" || effect === "unknown").map(({ code }) => code);
}

const fine = "24010KT 9999 FEW030 10/05 Q1013";

describe("the weather at a place", () => {
  test("that is good, fresh and whole gives no reason against", () => {
    expect(forbids(fine)).toEqual([]);
  });

  test("with no report, or an old one, is not known, and says since when", () => {
    const none = assessWeather(question({}));
    expect(new Set(none.map(({ effect }) => effect))).toEqual(new Set(["unknown"]));
    expect(codes(none)).toContain("weather.notObserved");
    const old = assessWeather(question({ held: held(metar(fine, "041059Z")) }));
    expect(old.find(({ code }) => code === "weather.notObserved")).toMatchObject({
      effect: "unknown",
      facts: { issued_ms: Date.UTC(2026, 1, 4, 10, 59), limit_min: 60 },
      evidence: ["e0"],
    });
    expect(
      forbids(fine, { now_ms: Date.UTC(2026, 1, 4, 12, 49), horizon_ms: Date.UTC(2026, 1, 4, 12, 50) }),
    ).toEqual([]);
    expect(
      forbids(fine, { now_ms: Date.UTC(2026, 1, 4, 12, 50), horizon_ms: Date.UTC(2026, 1, 4, 12, 51) }),
    ).toContain("weather.notObserved");
  });

  test("says beforehand from when on nobody will have observed it", () => {
    const lapses_ms = Date.UTC(2026, 1, 4, 12, 50);
    const asked = { held: held(metar(fine)) };
    expect(observationLapses(question(asked)).from_ms).toBe(lapses_ms);
    expect(observationLapses(question({ ...asked, now_ms: lapses_ms })).from_ms).toBeNull();
    expect(observationLapses(question({})).from_ms).toBeNull();
  });

  test("becomes unknown at the minute at which the report lapses, and no earlier", () => {
    const reasons = assessWeather(question({ held: held(metar(fine)), horizon_ms: now_ms + 2 * hour_ms }));
    const ceiling = reasons.find(({ code }) => code === "weather.ceilingNotKnown");
    expect(ceiling).toMatchObject({ from_ms: Date.UTC(2026, 1, 4, 12, 50), until_ms: now_ms + 2 * hour_ms });
  });

  test("of a report that cannot be used is not known, and the report says why it was set aside", () => {
    for (const [text, why] of [
      ["METAR ENYY 041150Z 24010KT CAVOK 10/05 Q1013", "otherStation"],
      ["METAR ENXX 041299Z 24010KT CAVOK 10/05 Q1013", "undated"],
      ["METAR ENXX 041220Z 24010KT CAVOK 10/05 Q1013", "fromFuture"],
      ["METAR ENXX 041150Z NIL", "nil"],
    ] as const) {
      const reasons = assessWeather(question({ held: held(text) }));
      expect(reasons.find(({ code }) => code === "weather.setAside")?.facts["why"]).toBe(why);
      expect(codes(reasons, "unknown")).toContain("weather.notObserved");
    }
    const far = assessWeather(
      question({ held: held(metar(fine)), stations: [{ ...station, distance_km: 31 }] }),
    );
    expect(far.find(({ code }) => code === "weather.setAside")?.facts["why"]).toBe("distant");
  });

  test("takes the later of two reports whichever came in last, and a correction before what it corrects", () => {
    const bad = metar("24010KT 0300 FG VV001 10/10 Q1013", "041120Z");
    for (const texts of [
      [bad, metar(fine)],
      [metar(fine), bad],
    ]) {
      const reasons = assessWeather(question({ held: held(...texts) }));
      expect(codes(reasons, "blocks")).toEqual([]);
      expect(reasons.find(({ code }) => code === "weather.setAside")?.facts["why"]).toBe("older");
    }
    const corrected = held(metar(fine), "METAR COR ENXX 041150Z 24010KT 0300 FG VV001 10/10 Q1013");
    expect(codes(assessWeather(question({ held: corrected })), "blocks")).toContain(
      "weather.visibilityBelow",
    );
    const cleared = held(
      metar("24010KT 0300 FG VV001 10/10 Q1013"),
      "METAR COR ENXX 041150Z 24010KT 9999 FEW030 10/05 Q1013",
    );
    expect(codes(assessWeather(question({ held: cleared })), "blocks")).toEqual([]);
    // Two of one issue without a correction: both count.
    const two = held(metar(fine), metar("24010KT 0300 FG VV001 10/10 Q1013"));
    expect(codes(assessWeather(question({ held: two })), "blocks")).toContain("weather.visibilityBelow");
  });
});

describe("the ceiling", () => {
  test("is counted above the ground to be cleared, not above the aerodrome", () => {
    const low = (ground_ft: number): string[] => forbids("24010KT 9999 BKN010 10/05 Q1013", { ground_ft });
    expect(low(100)).toEqual([]);
    // 1,000 ft above a station at 100 ft leaves 500 ft above ground at 600 ft, and less above higher ground.
    expect(low(600)).toEqual([]);
    expect(low(601)).toEqual(["weather.ceilingBelow"]);
    expect(
      forbids("24010KT 9999 BKN010 10/05 Q1013", { stations: [{ ...station, elevation_ft: null }] }),
    ).toEqual(["weather.ceilingNotKnown"]);
  });

  test("that is only known to be at least so high does not reach further", () => {
    expect(forbids("24010KT CAVOK 10/05 Q1013", { ground_ft: 4600 })).toEqual([]);
    expect(forbids("24010KT CAVOK 10/05 Q1013", { ground_ft: 4601 })).toEqual(["weather.ceilingNotKnown"]);
  });

  test("that is not known is not good, and a low layer beside it still forbids", () => {
    expect(forbids("AUTO 24010KT 9999 NCD 10/05 Q1013")).toEqual(["weather.ceilingNotKnown"]);
    expect(forbids("AUTO 24010KT 9999 BKN003 //////CB 10/05 Q1013")).toEqual(["weather.ceilingBelow"]);
    expect(forbids("24010KT 9999 XYZZY FEW030 10/05 Q1013")).toContain("weather.ceilingNotKnown");
  });

  test("says what was found, what was needed, and which group says it", () => {
    const reasons = assessWeather(
      question({ held: held(metar(`${fine} TEMPO TL1245 BKN003`)), horizon_ms: now_ms + 50 * minute_ms }),
    );
    expect(reasons.find(({ code }) => code === "weather.ceilingBelow")).toMatchObject({
      effect: "blocks",
      operations: ["dayVfr"],
      from_ms: now_ms,
      until_ms: Date.UTC(2026, 1, 4, 12, 45),
      evidence: ["e0"],
      facts: { place: "skarvoy", ceiling_ft: 300, needed_ft: 500, station: "ENXX", by: "TEMPO TL1245" },
    });
  });
});

describe("ice and listed weather", () => {
  test("freezing rain, drizzle and fog forbid an unprotected machine whatever the visibility", () => {
    for (const code of ["FZRA", "-FZDZ", "FZFG", "FZUP", "+FZRASN"]) {
      expect(forbids(`24010KT 9999 ${code} FEW030 10/05 Q1013`)).toContain("weather.freezing");
      const isProtected = { ...limits, icing: { ...limits.icing, isProtected: true, moistureBelow_C: null } };
      expect(forbids(`24010KT 9999 ${code} FEW030 10/05 Q1013`, { limits: isProtected })).not.toContain(
        "weather.freezing",
      );
    }
  });

  test("visible moisture forbids at or below the sheet's figure, and is not known without a temperature", () => {
    expect(forbids("24010KT 9999 -RA FEW030 05/03 Q1013")).toEqual([]);
    expect(forbids("24010KT 9999 -RA FEW030 04/03 Q1013")).toEqual(["weather.moisture"]);
    expect(forbids("24010KT 9999 -RA FEW030 ///// Q1013")).toEqual(["weather.moistureNotKnown"]);
    expect(forbids("24010KT 9999 FEW030 M04/M10 Q1013")).toEqual([]);
    expect(forbids("24010KT 9999 VV010 02/01 Q1013")).toEqual(["weather.moisture"]);
  });

  test("what the operator lists forbids, also in the vicinity", () => {
    for (const code of ["TSRA", "VCTS", "TS", "+FC", "VA", "SHGR"]) {
      expect(forbids(`24010KT 9999 ${code} FEW030 15/05 Q1013`)).toContain("weather.listed");
    }
    expect(forbids("24010KT 9999 SHRA FEW030 15/05 Q1013")).toEqual([]);
  });

  test("that a station cannot sense is not known", () => {
    expect(forbids("AUTO 24010KT 9999 FEW030 15/05 Q1013 RMK AO2 TSNO")).toEqual(["weather.notSensed"]);
    expect(forbids("AUTO 24010KT 9999 FEW030 02/M05 Q1013 RMK AO2 FZRANO")).toEqual(["weather.notSensed"]);
    expect(forbids("AUTO 24010KT 9999 FEW030 15/05 Q1013 RMK AO2 FZRANO")).toEqual([]);
    expect(forbids("AUTO 24010KT 9999 // FEW030 15/05 Q1013")).toContain("weather.notKnown");
  });

  test("what was freezing a while ago and what towers above are said, and do not forbid", () => {
    const reasons = assessWeather(
      question({ held: held(metar("24010KT 9999 FEW030CB 06/05 Q1013 REFZDZ")) }),
    );
    expect(codes(reasons)).toEqual(["weather.cumulonimbus", "weather.recentFreezing"]);
    expect(codes(reasons, "advises")).toHaveLength(2);
  });
});

describe("a report that contradicts itself", () => {
  test.each([
    ["24010KT CAVOK FG 10/10 Q1013", "cavokWithWeather"],
    ["24010KT CAVOK BKN010 10/05 Q1013", "cavokWithCloud"],
    ["24010KT CAVOK 3000 10/05 Q1013", "cavokWithVisibility"],
    ["24010KT 9999 FG FEW030 10/10 Q1013", "fogWithVisibility"],
    ["24010KT 9999 BR FEW030 10/10 Q1013", "mistWithVisibility"],
    ["24010KT 9999 SKC OVC030 10/05 Q1013", "clearWithCloud"],
    ["24010KT 9999 RA SKC 10/05 Q1013", "clearWithPrecipitation"],
    ["24010KT 9999 FEW030 05/10 Q1013", "dewpointAboveTemperature"],
  ])("%s is not known", (groups, what) => {
    const reasons = assessWeather(question({ held: held(metar(groups)) }));
    expect(reasons.find(({ code }) => code === "weather.contradicts")).toMatchObject({
      effect: "unknown",
      facts: { what },
    });
  });

  test("what goes together is no contradiction", () => {
    for (const groups of [
      fine,
      "24010KT 0800 FG VV002 10/10 Q1013",
      "24010KT 10SM -RA CLR 10/05 A2992",
      "24010KT 9999 BCFG SKC 10/10 Q1013",
    ]) {
      expect(forbids(groups)).not.toContain("weather.contradicts");
    }
  });
});

describe("the wind", () => {
  const limit = {
    id: "rotorStart",
    from_deg: 0,
    to_deg: 360,
    wind_kt: 35,
    gust_kt: 45,
    operations: "all",
    source: setting,
  } as const;
  const windy = (group: string, more: Partial<WeatherLimits> = {}): string[] =>
    forbids(`${group} 9999 FEW030 10/05 Q1013`, { limits: { ...limits, wind: [limit], ...more } });

  test("is held against mean and gust, and on a limit is inside", () => {
    expect(windy("24035KT")).toEqual([]);
    expect(windy("24036KT")).toEqual(["weather.windAbove"]);
    expect(windy("24020G45KT")).toEqual([]);
    expect(windy("24020G46KT")).toEqual(["weather.windAbove"]);
    // 18 m/s is 34.99 kt, 19 m/s is 36.9 kt.
    expect(windy("24018MPS")).toEqual([]);
    expect(windy("24019MPS")).toEqual(["weather.windAbove"]);
  });

  test("above a figure breaks a limit that the figure reaches, and is not known against a higher one", () => {
    expect(windy("240P49MPS")).toEqual(["weather.windAbove"]);
    expect(windy("240P30KT")).toEqual(["weather.windNotKnown"]);
    expect(windy("24020GP45KT")).toEqual(["weather.windAbove"]);
    expect(windy("/////KT")).toEqual(["weather.windNotKnown"]);
    expect(windy("99910KT")).toEqual(["weather.windNotKnown"]);
  });

  test("counts in a sector over the nose, from anywhere when its direction varies or the heading is not known", () => {
    const behind = { ...limit, from_deg: 120, to_deg: 240, wind_kt: 10, gust_kt: null };
    const sector = (group: string, heading_deg: number | null): string[] =>
      windy(group, { wind: [behind], heading_deg });
    expect(sector("18015KT", 180)).toEqual([]);
    expect(sector("18015KT", 0)).toEqual(["weather.windAbove"]);
    expect(sector("30015KT", 180)).toEqual(["weather.windAbove"]);
    expect(sector("29915KT", 180)).toEqual([]);
    expect(sector("VRB15KT", 180)).toEqual(["weather.windAbove"]);
    expect(sector("18015KT", null)).toEqual(["weather.windAbove"]);
    expect(sector("27015KT 240V300", 180)).toEqual(["weather.windAbove"]);
    expect(sector("27015KT 240V299", 180)).toEqual([]);
  });

  test("from behind is the component of the strongest, at its worst direction", () => {
    const tail = (group: string): string[] =>
      windy(group, { wind: [], tailwind: { limit_kt: 10, heading_deg: 360, source: setting } });
    expect(tail("18010KT")).toEqual([]);
    expect(tail("18011KT")).toEqual(["weather.tailwindAbove"]);
    expect(tail("36040KT")).toEqual([]);
    expect(tail("09040KT")).toEqual([]);
    // 14 kt from 45° off the tail has 9.9 kt from behind, 15 kt has 10.6 kt.
    expect(tail("22514KT")).toEqual([]);
    expect(tail("22515KT")).toEqual(["weather.tailwindAbove"]);
    expect(tail("27015KT 200V300")).toEqual(["weather.tailwindAbove"]);
    expect(tail("24008G30KT")).toEqual(["weather.tailwindAbove"]);
    expect(tail("VRB11KT")).toEqual(["weather.tailwindAbove"]);
  });
});

describe("the commander's own observation", () => {
  const seen: OwnObservation = {
    entry: "own",
    by: "p-lind",
    place: "skarvoy",
    at_ms: now_ms - 5 * minute_ms,
    expires_ms: now_ms + 20 * minute_ms,
    ceiling_ft: 1200,
    visibility_m: 8000,
    weather: null,
    temperature_C: null,
    wind: null,
  };
  const low = metar("24010KT 2000 BKN002 10/05 Q1013");
  const ask = (more: Partial<WeatherQuestion>): Reason[] =>
    assessWeather(question({ held: held(low), ...more }));

  test("stands instead of what a station saw before it, until it expires and no longer", () => {
    const reasons = ask({ observations: [seen], horizon_ms: now_ms + 50 * minute_ms });
    const blocks = reasons.filter(({ effect }) => effect === "blocks");
    expect(blocks.map(({ code, from_ms, until_ms }) => [code, from_ms, until_ms])).toEqual([
      ["weather.ceilingBelow", seen.expires_ms, now_ms + 50 * minute_ms],
      ["weather.visibilityBelow", seen.expires_ms, now_ms + 50 * minute_ms],
    ]);
    expect(reasons.find(({ code }) => code === "weather.ownObservation")).toMatchObject({
      effect: "advises",
      evidence: ["own"],
      facts: { by: "p-lind", expires_ms: seen.expires_ms },
      until_ms: seen.expires_ms,
    });
  });

  test("does not stand before it was made, after its expiry, or for another place", () => {
    for (const observation of [
      { ...seen, expires_ms: now_ms },
      { ...seen, at_ms: now_ms + 1 },
      { ...seen, place: "elsewhere" },
    ]) {
      expect(codes(ask({ observations: [observation] }), "blocks")).toContain("weather.ceilingBelow");
    }
  });

  test("does not hide what a station reports later, a trend, or a forecast", () => {
    const later = metar("24010KT 2000 BKN002 10/05 Q1013", "041156Z");
    expect(codes(ask({ held: held(later), observations: [seen] }), "blocks")).toContain(
      "weather.ceilingBelow",
    );
    const trend = metar(`${fine} TEMPO BKN002`);
    expect(codes(ask({ held: held(trend), observations: [seen] }), "blocks")).toEqual([
      "weather.ceilingBelow",
    ]);
    const forecast = "TAF ENXX 041100Z 0411/0420 24010KT 9999 BKN002";
    expect(codes(ask({ held: held(metar(fine), forecast), observations: [seen] }), "blocks")).toEqual([
      "weather.ceilingBelow",
    ]);
  });

  test("says only what was looked at: without any report the rest is not known", () => {
    const reasons = ask({ held: [], observations: [seen], horizon_ms: now_ms + minute_ms });
    expect(codes(reasons, "unknown")).toEqual(["weather.moistureNotKnown", "weather.notKnown"]);
    const whole = { ...seen, weather: [], temperature_C: 8 };
    expect(
      codes(ask({ held: [], observations: [whole], horizon_ms: now_ms + minute_ms }), "unknown"),
    ).toEqual([]);
  });

  test("a newer one takes the place of an older, and does not give it back when it expires", () => {
    const newer = { ...seen, entry: "newer", at_ms: now_ms - minute_ms, expires_ms: now_ms, ceiling_ft: 900 };
    const reasons = ask({ observations: [seen, newer] });
    expect(codes(reasons)).not.toContain("weather.ownObservation");
    expect(codes(reasons, "blocks")).toContain("weather.ceilingBelow");
  });
});

describe("a forecast", () => {
  const forecast =
    "TAF ENXX 041100Z 0411/0423 24010KT 9999 FEW030 BECMG 0414/0416 BKN004 FM041800 24010KT 9999 FEW030 TEMPO 0420/0421 2000 BR";

  test("carries the weather on where the observation ends, with its own changes", () => {
    const reasons = assessWeather(
      question({
        held: held(metar(fine), forecast),
        horizon_ms: Date.UTC(2026, 1, 4, 23),
        lowest_C: 8,
      }),
    );
    const forbidding = reasons
      .filter(({ effect }) => effect !== "advises")
      .map(({ code, effect, from_ms, until_ms }) => [
        code,
        effect,
        new Date(from_ms ?? 0).getUTCHours(),
        new Date(until_ms ?? 0).getUTCHours(),
      ]);
    expect(forbidding).toEqual([
      ["weather.ceilingBelow", "blocks", 14, 18],
      ["weather.visibilityBelow", "blocks", 20, 21],
    ]);
  });

  test("of moisture near freezing needs a lowest temperature that somebody stated", () => {
    const ask = (lowest_C: number | null): string[] =>
      codes(
        assessWeather(
          question({
            held: held(metar(fine), forecast),
            now_ms,
            horizon_ms: Date.UTC(2026, 1, 4, 23),
            lowest_C,
          }),
        ),
      ).filter((code) => code.startsWith("weather.moisture"));
    expect(ask(null)).toEqual(["weather.moistureNotKnown"]);
    expect(ask(3)).toEqual(["weather.moisture"]);
    expect(ask(8)).toEqual([]);
  });

  test("does not make the present known that nobody observed", () => {
    const reasons = assessWeather(
      question({ held: held(forecast), horizon_ms: Date.UTC(2026, 1, 4, 13, 30) }),
    );
    expect(reasons.find(({ code }) => code === "weather.notObserved")).toMatchObject({
      from_ms: null,
      until_ms: null,
    });
  });

  test("ends with its validity, and a cancelled one takes the last one with it", () => {
    const after = assessWeather(
      question({ held: held(metar(fine), forecast), horizon_ms: Date.UTC(2026, 1, 5, 1), lowest_C: 8 }),
    );
    expect(after.find(({ code }) => code === "weather.ceilingNotKnown")?.from_ms).toBe(
      Date.UTC(2026, 1, 4, 23),
    );
    const cancelled = held(metar(fine), forecast, "TAF AMD ENXX 041130Z 0411/0423 CNL");
    const reasons = assessWeather(question({ held: cancelled, horizon_ms: Date.UTC(2026, 1, 4, 14) }));
    expect(
      reasons.filter(({ code }) => code === "weather.setAside").map(({ facts }) => facts["why"]),
    ).toEqual(["older", "cancelled"]);
    expect(codes(reasons, "unknown")).toContain("weather.ceilingNotKnown");
  });
});

describe("bad news never helps", () => {
  const order: readonly Effect[] = ["advises", "limits", "unknown", "blocks"];

  function worstAt(reasons: readonly Reason[], at_ms: number): number {
    const active = reasons.filter(
      ({ from_ms, until_ms }) => (from_ms ?? -Infinity) <= at_ms && at_ms < (until_ms ?? Infinity),
    );
    return Math.max(0, ...active.map(({ effect }) => order.indexOf(effect)));
  }

  const aLayer = fc.tuple(fc.constantFrom("FEW", "SCT", "BKN", "OVC"), fc.integer({ min: 0, max: 60 }));
  const visibility = fc.constantFrom("0300", "1500", "4000", "5000", "7000", "9999", "////");
  const windGroup = fc.constantFrom("24010KT", "24030G50KT", "VRB03KT", "/////KT");
  const weather = fc.constantFrom("", "-RA", "FZDZ", "TSRA", "BR");
  const temperature = fc.constantFrom("10/05", "02/01", "/////");
  const aReport = fc.record({
    layer: aLayer,
    visibility,
    windGroup,
    weather,
    temperature,
    trend: fc.option(aLayer),
  });
  type Parts = typeof aReport extends fc.Arbitrary<infer T> ? T : never;

  function textOf({
    layer,
    visibility: vis,
    windGroup: wind,
    weather: wx,
    temperature: temp,
    trend,
  }: Parts): string {
    const cloud = ([cover, height]: [string, number]): string => cover + String(height).padStart(3, "0");
    return metar(
      [wind, vis, wx, cloud(layer), temp, "Q1013", trend === null ? "" : `TEMPO ${cloud(trend)}`]
        .filter((word) => word !== "")
        .join(" "),
    );
  }

  const instants = [now_ms, now_ms + 10 * minute_ms, now_ms + 29 * minute_ms];
  const windLimit = {
    id: "w",
    from_deg: 0,
    to_deg: 360,
    wind_kt: 25,
    gust_kt: null,
    operations: "all",
    source: setting,
  } as const;

  test("a lower layer or visibility, higher ground, a higher need, a report more or one that lapses earlier never helps", () => {
    fc.assert(
      fc.property(
        aReport,
        fc.nat({ max: 60 }),
        fc.nat({ max: 3000 }),
        aReport,
        (parts, lower, rise, other) => {
          const base = question({ held: held(textOf(parts)), limits: { ...limits, wind: [windLimit] } });
          const height = Math.min(parts.layer[1], lower);
          const worse: WeatherQuestion[] = [
            { ...base, held: held(textOf({ ...parts, layer: [parts.layer[0], height] })) },
            { ...base, ground_ft: base.ground_ft + rise },
            {
              ...base,
              needs: base.needs.map((need) => ({
                ...need,
                visibility_m: 5000 + rise,
                ceiling_ft: 500 + rise,
              })),
            },
            { ...base, held: [...base.held, { entry: "x", report: readReport(textOf(other), now_ms) }] },
            { ...base, held: held(textOf({ ...parts, visibility: "0300" })) },
          ];
          const before = assessWeather(base);
          for (const each of worse) {
            const after = assessWeather(each);
            for (const at_ms of instants) {
              expect(worstAt(after, at_ms)).toBeGreaterThanOrEqual(worstAt(before, at_ms));
            }
          }
          // A bad report that has lapsed is not known instead of not ready: both forbid.
          const shorter = { ...base.limits, reportAge_min: Math.max(1, 60 - lower) };
          const lapsed = assessWeather({ ...base, limits: shorter });
          const unknown = order.indexOf("unknown");
          for (const at_ms of instants) {
            if (worstAt(before, at_ms) < unknown) continue;
            expect(worstAt(lapsed, at_ms)).toBeGreaterThanOrEqual(unknown);
          }
        },
      ),
      { numRuns: 500, seed: 6 },
    );
  });

  test("reasons touch nothing outside now and the horizon, and every one of them rests on something", () => {
    fc.assert(
      fc.property(aReport, (parts) => {
        const asked = question({ held: held(textOf(parts)), limits: { ...limits, wind: [windLimit] } });
        for (const { code, effect, from_ms, until_ms, evidence } of assessWeather(asked)) {
          if (from_ms !== null && until_ms !== null) expect(from_ms).toBeLessThan(until_ms);
          if (effect === "blocks") expect(evidence, code).toEqual(["e0"]);
        }
      }),
      { numRuns: 300, seed: 7 },
    );
  });
});
