import { describe, expect, test } from "vitest";
import { ceilingOf } from "./ceiling.ts";
import { readReport } from "./read-report.ts";
import { quantities, unreadGroups, type WeatherReport } from "./report.ts";
import { visibilityOf, worstVisibilityOf } from "./visibility.ts";

const near_ms = Date.UTC(2026, 1, 4, 12);

/** A METAR with the given groups behind its header. */
function metar(groups: string, head = "METAR ENXX 041150Z"): WeatherReport {
  return readReport(`${head} ${groups}`, near_ms);
}

function taf(groups: string): WeatherReport {
  return readReport(`TAF ENXX 041100Z 0412/0512 ${groups}`, near_ms);
}

const iso = (at_ms: number | null): string | null =>
  at_ms === null ? null : new Date(at_ms).toISOString().slice(0, 16);

describe("the header", () => {
  test("is read whichever way round it stands", () => {
    for (const text of [
      "METAR COR ENXX 041150Z AUTO 24010KT",
      "METAR ENXX 041150Z COR AUTO 24010KT",
      "ENXX 041150Z AUTO CCA 24010KT",
    ]) {
      const report = readReport(text, near_ms);
      expect(report).toMatchObject({ kind: "METAR", station: "ENXX", isAuto: true, status: "correction" });
      expect(unreadGroups(report)).toEqual([]);
    }
    expect(readReport("TAF AMD ENXX 041100Z 0412/0512 24010KT", near_ms).status).toBe("amendment");
  });

  test("a TAF without its word is known by its validity", () => {
    expect(readReport("ENXX 041100Z 0412/0512 24010KT CAVOK", near_ms).kind).toBe("TAF");
  });

  test("takes the month and the year from the instant nearby", () => {
    const issued = (text: string, near: string): string | null =>
      iso(readReport(`METAR ENXX ${text}`, Date.parse(near)).issued_ms);
    expect(issued("312350Z", "2026-01-01T00:10Z")).toBe("2025-12-31T23:50");
    expect(issued("010020Z", "2025-12-31T23:55Z")).toBe("2026-01-01T00:20");
    expect(issued("292350Z", "2024-03-01T00:00Z")).toBe("2024-02-29T23:50");
    // No 29 February in 2025: the nearest 29th is in January.
    expect(issued("291150Z", "2025-02-12T12:00Z")).toBe("2025-01-29T11:50");
    expect(issued("311200Z", "2026-03-01T00:00Z")).toBe("2026-01-31T12:00");
  });

  test("an impossible time of issue is no time", () => {
    for (const time of ["322500Z", "042461Z", "999999Z", "042560Z", "001200Z", "042400Z"]) {
      const report = readReport(`METAR ENXX ${time} 24010KT 9999 SCT020`, near_ms);
      expect(report.issued_ms).toBeNull();
      expect(unreadGroups(report)).toEqual([time]);
      // What it was about is known, so that nothing else is in doubt.
      expect(report.conditions.unsure).toEqual([]);
    }
  });

  test("what follows the sign that ends a report is not read into it", () => {
    const report = metar("24010KT 9999 SCT020 10/05 Q1013= METAR ENYY 041150Z 0100 FG");
    expect(unreadGroups(report)).toEqual(["METAR", "ENYY", "041150Z", "0100", "FG"]);
    expect(metar("24010KT 9999 SCT020 10/05 Q1013=").conditions.qnh_hPa).toBe(1013);
  });
});

describe("the wind", () => {
  const wind = (group: string): WeatherReport["conditions"]["wind"] => metar(group).conditions.wind;

  test("is in knots whatever its unit", () => {
    expect(wind("24010MPS")?.speed_kt).toBeCloseTo(19.438_444_9, 6);
    expect(wind("24036KMH")?.speed_kt).toBeCloseTo(19.438_444_9, 6);
    expect(wind("240P49MPS")).toMatchObject({ isSpeedAbove: true });
    expect(wind("14035GP50KT")).toMatchObject({ speed_kt: 35, gust_kt: 50, isGustAbove: true });
    expect(wind("100P50KT")).toMatchObject({ from_deg: 100, speed_kt: 50, isSpeedAbove: true });
    expect(wind("240105G120KT")).toMatchObject({ speed_kt: 105, gust_kt: 120 });
  });

  test("is variable, calm, missing or half missing as it says", () => {
    expect(wind("VRB02KT")).toMatchObject({ from_deg: null, isVariable: true, speed_kt: 2 });
    expect(wind("00000KT")).toMatchObject({ from_deg: 0, isVariable: false, speed_kt: 0 });
    expect(wind("36005KT")?.from_deg).toBe(360);
    expect(wind("/////KT")).toBeNull();
    expect(wind("///12KT")).toMatchObject({ from_deg: null, isVariable: false, speed_kt: 12 });
    expect(wind("240//KT")).toMatchObject({ from_deg: 240, speed_kt: null });
    expect(metar("24010KT 200V280").conditions.wind?.between_deg).toEqual([200, 280]);
  });

  test("that is impossible is not read, and nothing else is in doubt", () => {
    for (const group of ["99910KT", "37010KT", "00010KT", "240999KT", "24030G20KT", "240P999KT"]) {
      const report = metar(`${group} 9999 SCT020`);
      expect(report.conditions.wind).toBeNull();
      expect(unreadGroups(report)).toEqual([group]);
      expect(report.conditions.unsure).toEqual(["wind"]);
    }
    expect(unreadGroups(metar("24010KT 200V380"))).toEqual(["200V380"]);
  });

  test("given twice in two ways is not known", () => {
    const report = metar("24010KT 25010KT 9999 SCT020");
    expect(report.conditions.wind).toBeNull();
    expect(unreadGroups(report)).toEqual(["24010KT", "25010KT"]);
    expect(metar("24010KT 24010KT 9999").conditions.wind?.speed_kt).toBe(10);
  });
});

describe("the visibility", () => {
  const metres = (groups: string): number | undefined => visibilityOf(metar(groups).conditions)?.value_m;

  test("in statute miles is exact, with every reportable fraction", () => {
    for (const [group, miles] of [
      ["1/16SM", 1 / 16],
      ["1/8SM", 1 / 8],
      ["3/16SM", 3 / 16],
      ["5/16SM", 5 / 16],
      ["5/8SM", 5 / 8],
      ["1 1/8SM", 1.125],
      ["2 3/4SM", 2.75],
      ["10SM", 10],
      ["0SM", 0],
    ] as const) {
      expect(metres(`24010KT ${group} SCT020`)).toBe(miles * 1609.344);
    }
  });

  test("says whether it is more or less than its figure", () => {
    expect(visibilityOf(metar("9999").conditions)).toEqual({ value_m: 10_000, bound: "atLeast" });
    expect(visibilityOf(metar("9999NDV").conditions)).toEqual({ value_m: 10_000, bound: "atLeast" });
    expect(visibilityOf(metar("CAVOK").conditions)).toEqual({ value_m: 10_000, bound: "atLeast" });
    expect(visibilityOf(metar("0000").conditions)).toEqual({ value_m: 0, bound: "exact" });
    expect(visibilityOf(metar("P6SM").conditions)).toEqual({ value_m: 6 * 1609.344, bound: "atLeast" });
    expect(visibilityOf(metar("M1/4SM").conditions)).toEqual({ value_m: 402.336, bound: "below" });
  });

  test("that is missing, impossible or contradicted is not known", () => {
    for (const groups of ["////", "////SM", "1/3SM", "3/2SM", "11/2SM", "4000 2000", "SCT020"]) {
      expect(visibilityOf(metar(`24010KT ${groups}`).conditions)).toBeNull();
    }
    expect(unreadGroups(metar("24010KT 1 1/9SM SCT020"))).toEqual(["1 1/9SM"]);
  });

  test("in directions: the least stands beside the main one, and in for it where there is none", () => {
    const { conditions } = metar("24010KT 3000 1200NE 2000S");
    expect(visibilityOf(conditions)?.value_m).toBe(3000);
    expect(worstVisibilityOf(conditions)?.value_m).toBe(1200);
    expect(metres("24010KT 1200NE 6000S")).toBe(1200);
  });
});

describe("runway visual range", () => {
  const range = (group: string): unknown => metar(`24010KT 0400 ${group} FG`).conditions.runwayVisualRange[0];

  test("is read in every form", () => {
    expect(range("R07/1000")).toEqual({ runway: "07", value_m: 1000, bound: null, tendency: null });
    expect(range("R17L/P2000U")).toMatchObject({
      runway: "17L",
      value_m: 2000,
      bound: "above",
      tendency: "up",
    });
    expect(range("R04R/M0050D")).toMatchObject({ value_m: 50, bound: "below", tendency: "down" });
    expect(range("R15/0800N")).toMatchObject({ tendency: "none" });
    expect(range("R15/0600V1000U")).toMatchObject({ value_m: 600, bound: null, tendency: "up" });
    expect(range("R15/M0600V1000FT/D")).toMatchObject({
      value_m: 182.88,
      bound: "below",
      tendency: "down",
    });
    expect(range("R31/2700FT")).toMatchObject({ value_m: 822.96 });
    expect(range("R24L/P6000FT/N")).toMatchObject({
      value_m: 1828.8,
      bound: "above",
      tendency: "none",
    });
    expect(range("R07/////")).toEqual({ runway: "07", value_m: null, bound: null, tendency: null });
  });

  test("without a unit is in feet in a report that counts in statute miles, wherever it stands", () => {
    for (const groups of ["1/2SM FG R04/2200 OVC005", "R04/2200 1/2SM FG OVC005"]) {
      expect(metar(groups).conditions.runwayVisualRange[0]?.value_m).toBe(670.56);
    }
  });

  test("of a runway that cannot be is not read", () => {
    for (const group of ["R37/1000", "R00/1000", "R07/1000V0600"]) {
      const report = metar(`24010KT 0400 ${group}`);
      expect(report.conditions.runwayVisualRange).toEqual([]);
      expect(unreadGroups(report)).toEqual([group]);
    }
  });
});

describe("weather", () => {
  test("keeps every code, also recent weather and weather that could not be observed", () => {
    const { conditions } = metar("24010KT 2000 -FZRASN BLSN VCTS +FC FZFG // RESHSN RE// 10/05");
    expect(conditions.weather).toEqual(["-FZRASN", "BLSN", "VCTS", "+FC", "FZFG", "//"]);
    expect(conditions.recent).toEqual(["SHSN", "//"]);
  });

  test("of a form that does not exist is not read", () => {
    for (const code of ["FZSN", "RARA", "XXRA", "-FG", "RABR", "MIRA", "++RA", "NSW"]) {
      expect(unreadGroups(metar(`24010KT 2000 ${code} SCT010`))).toEqual([code]);
    }
  });
});

describe("the ceiling", () => {
  const ceiling = (groups: string): unknown => {
    const { bound, ceiling_ft } = ceilingOf(metar(`24010KT 9999 ${groups}`).conditions);
    return ceiling_ft === null ? bound : [bound, ceiling_ft];
  };

  test("is the lowest layer over half the sky, or the vertical visibility", () => {
    expect(ceiling("FEW003 SCT008 BKN012 OVC020")).toEqual(["exact", 1200]);
    expect(ceiling("OVC000")).toEqual(["exact", 0]);
    expect(ceiling("VV002")).toEqual(["exact", 200]);
    expect(ceiling("BKN190///")).toEqual(["exact", 19_000]);
    expect(ceiling("FEW001 VV004")).toEqual(["exact", 400]);
  });

  test("is only as good as the word for a clear sky says", () => {
    expect(ceiling("NSC")).toEqual(["atLeast", 5000]);
    expect(ceiling("CLR")).toEqual(["atLeast", 12_000]);
    expect(ceilingOf(metar("24010KT CAVOK").conditions)).toMatchObject({
      bound: "atLeast",
      ceiling_ft: 5000,
    });
    expect(ceiling("SKC")).toBe("none");
    expect(ceiling("FEW010 SCT020CB")).toBe("none");
    expect(ceiling("NCD")).toBe("unknown");
  });

  test("is not known where anything about the sky is missing or not read", () => {
    for (const groups of [
      "",
      "//////",
      "/////////",
      "//////CB",
      "BKN///",
      "FEW///",
      "///015",
      "VV///",
      "BKN010 //////CB",
      "SCT010 BKN0I5",
      "SCT010 XYZZY",
      "BKN1000",
      "NSC SKC",
    ]) {
      expect(ceiling(groups)).toBe("unknown");
    }
  });

  test("is held to the layers where a word for a clear sky stands beside them", () => {
    expect(ceiling("NSC BKN008")).toEqual(["exact", 800]);
    expect(ceilingOf(metar("24010KT CAVOK OVC002").conditions)).toMatchObject({ ceiling_ft: 200 });
  });
});

describe("temperatures and pressure", () => {
  const temperatures = (group: string): unknown[] => {
    const { temperature_C, dewpoint_C } = metar(`24010KT 9999 SCT020 ${group}`).conditions;
    return [temperature_C, dewpoint_C];
  };

  test("M00 is zero and not minus zero", () => {
    expect(temperatures("00/M00").every((value) => Object.is(value, 0))).toBe(true);
  });

  test("one may be missing without the other", () => {
    expect(temperatures("14///")).toEqual([14, null]);
    expect(temperatures("16/")).toEqual([16, null]);
    expect(temperatures("///M03")).toEqual([null, -3]);
    expect(temperatures("/////")).toEqual([null, null]);
  });

  test("that are impossible or badly written are not read", () => {
    for (const group of ["99/99", "17/6", "M99/M99", "7/06"]) {
      expect(temperatures(group)).toEqual([null, null]);
      expect(unreadGroups(metar(`24010KT ${group}`))).toEqual([group]);
    }
  });

  test("pressure is in hPa from either unit, and not known where two disagree", () => {
    const qnh = (group: string): number | null => metar(`24010KT ${group}`).conditions.qnh_hPa;
    expect(qnh("Q0998")).toBe(998);
    expect(qnh("A2992")).toBeCloseTo(1013.2076, 4);
    expect(qnh("Q1013 A2992")).toBe(1013);
    expect(qnh("Q1003 A2992")).toBeNull();
    expect(qnh("Q////")).toBeNull();
    for (const group of ["Q0099", "Q1999", "A0992", "A9992"]) {
      expect(qnh(group)).toBeNull();
      expect(unreadGroups(metar(`24010KT ${group}`))).toEqual([group]);
    }
  });
});

describe("the rest of an observation", () => {
  test("wind shear, sea and runways stand as written, remarks to the end", () => {
    const report = metar(
      "24010KT 9999 SCT020 10/05 Q1013 WS ALL RWY WS R04L WS TKOF RWY22 W06/H12 R07/451045 88290592 R24/CLRD70 R/SNOCLO RMK AO2 TSNO $",
    );
    expect(unreadGroups(report)).toEqual([]);
    expect(report.conditions.windShear).toEqual(["WS ALL RWY", "WS R04L", "WS TKOF RWY22"]);
    expect(report.conditions.sea).toBe("W06/H12");
    expect(report.conditions.runwayState).toEqual(["R07/451045", "88290592", "R24/CLRD70", "R/SNOCLO"]);
    expect(report.remarks).toBe("AO2 TSNO $");
  });

  test("a word of no known form puts everything in doubt that it could have been about", () => {
    expect(metar("24010KT 9999 XYZZY SCT020").conditions.unsure).toEqual(quantities);
    expect(metar("1408KT 9999 SCT020").conditions.unsure).toEqual(["wind"]);
    expect(metar("24010KT 9O99 SCT020").conditions.unsure).toEqual(quantities);
  });

  test("small letters and odd spaces are read, and kept as they stand", () => {
    const report = readReport("metar  enxx 041150z\n 24010kt 9999 bkn010", near_ms);
    expect(report).toMatchObject({ kind: "METAR", station: "ENXX" });
    expect(report.groups.map(({ text }) => text)).toEqual([
      "metar",
      "enxx",
      "041150z",
      "24010kt",
      "9999",
      "bkn010",
    ]);
    expect(ceilingOf(report.conditions).ceiling_ft).toBe(1000);
  });
});

describe("a trend", () => {
  const trend = (groups: string): unknown[] =>
    metar(`24010KT 9999 SCT020 10/05 Q1013 ${groups}`).periods.map(({ change, from_ms, to_ms }) => [
      change,
      iso(from_ms)?.slice(11) ?? null,
      iso(to_ms)?.slice(11) ?? null,
    ]);

  test("has the times that it states, and else the two hours of the forecast", () => {
    expect(trend("NOSIG")).toEqual([["NOSIG", "11:50", "13:50"]]);
    expect(trend("TEMPO 4000")).toEqual([["TEMPO", "11:50", "13:50"]]);
    expect(trend("BECMG FM1230 TL1310 4000")).toEqual([["BECMG", "12:30", "13:10"]]);
    expect(trend("TEMPO TL1300 0600 BECMG AT1300 8000")).toEqual([
      ["TEMPO", "11:50", "13:00"],
      ["BECMG", "13:00", "13:00"],
    ]);
    expect(trend("TEMPO FM1230 4000")).toEqual([["TEMPO", "12:30", "13:50"]]);
  });

  test("runs over midnight", () => {
    const report = readReport("METAR ENXX 042350Z 24010KT TEMPO FM0030 TL2400 4000", near_ms);
    // 24:00 lies before 00:30 of the next day, so that it is not read, and the trend has no known time.
    expect(report.periods[0]).toMatchObject({ from_ms: null, to_ms: null });
    const good = readReport("METAR ENXX 042330Z 24010KT TEMPO TL2400 4000", near_ms);
    expect(iso(good.periods[0]?.to_ms ?? null)).toBe("2026-02-05T00:00");
  });

  test("with an impossible time applies at no known time, and its conditions stay", () => {
    const report = metar("24010KT 9999 SCT020 TEMPO TL1261 0300 FG");
    expect(report.periods[0]).toMatchObject({ from_ms: null, to_ms: null });
    expect(unreadGroups(report)).toEqual(["TL1261"]);
    expect(report.periods[0]?.conditions.visibility?.value_m).toBe(300);
  });

  test("does not take what belongs to an observation", () => {
    expect(unreadGroups(metar("24010KT 9999 SCT020 TEMPO 4000 Q0990"))).toEqual(["Q0990"]);
  });
});

describe("a TAF", () => {
  const spans = (report: WeatherReport): unknown[] =>
    report.periods.map(({ change, from_ms, to_ms }) => [
      change,
      iso(from_ms)?.slice(5),
      iso(to_ms)?.slice(5),
    ]);

  test("becomes periods with their times, base and FM until the next FM", () => {
    const report = taf(
      "24010KT 9999 SCT020 BECMG 0413/0415 4000 FM041630 25015KT P6SM SKC PROB30 TEMPO 0420/0424 0500 FG FM050600 CAVOK",
    );
    expect(spans(report)).toEqual([
      ["base", "02-04T12:00", "02-04T16:30"],
      ["BECMG", "02-04T13:00", "02-04T15:00"],
      ["FM", "02-04T16:30", "02-05T06:00"],
      ["PROB30_TEMPO", "02-04T20:00", "02-05T00:00"],
      ["FM", "02-05T06:00", "02-05T12:00"],
    ]);
    expect(unreadGroups(report)).toEqual([]);
  });

  test("runs over the end of a month and of a year", () => {
    const report = readReport(
      "TAF ENXX 311700Z 3118/0124 24010KT 9999 SCT020 TEMPO 3122/0102 4000 FM010300 9999",
      Date.parse("2025-12-31T18:00Z"),
    );
    expect(report.periods.map(({ from_ms, to_ms }) => [iso(from_ms), iso(to_ms)])).toEqual([
      ["2025-12-31T18:00", "2026-01-01T03:00"],
      ["2025-12-31T22:00", "2026-01-01T02:00"],
      ["2026-01-01T03:00", "2026-01-02T00:00"],
    ]);
  });

  test("NIL and CNL have no periods", () => {
    expect(readReport("TAF ENXX 041100Z NIL", near_ms)).toMatchObject({ isNil: true, periods: [] });
    const cancelled = readReport("TAF AMD ENXX 041500Z 0412/0512 CNL", near_ms);
    expect(cancelled).toMatchObject({ isCancelled: true, periods: [], status: "amendment" });
    expect(iso(cancelled.valid?.to_ms ?? null)).toBe("2026-02-05T12:00");
  });

  test("a validity that goes backward or is longer than any forecast is not read", () => {
    for (const span of ["0412/0411", "0412/0412", "0412/0712", "0425/0512", "3212/0512"]) {
      const report = readReport(`TAF ENXX 041100Z ${span} 24010KT`, near_ms);
      expect(report.valid).toBeNull();
      expect(unreadGroups(report)).toEqual([span]);
    }
  });

  test("a change whose time cannot be keeps its conditions at no known time", () => {
    const report = taf(
      "24010KT 9999 SCT020 TEMPO 0725/0899 0300 FG FM1500 25010KT 5000 BKN004 FM049900 CAVOK",
    );
    expect(unreadGroups(report)).toEqual(["0725/0899", "FM1500", "FM049900"]);
    expect(report.periods.slice(1).map(({ from_ms }) => from_ms)).toEqual([null, null, null]);
    expect(report.periods[2]?.conditions.clouds).toHaveLength(1);
  });

  test("hour 24 is midnight and nothing later", () => {
    const report = taf("24010KT 9999 SCT020 FM042400 25010KT 5000 BKN004");
    expect(iso(report.periods[1]?.from_ms ?? null)).toBe("2026-02-05T00:00");
    expect(unreadGroups(taf("24010KT 9999 SCT020 FM042430 25010KT 5000 BKN004"))).toEqual(["FM042430"]);
  });

  test("an FM before the one before it has no known time", () => {
    const report = taf("24010KT 9999 SCT020 FM042000 CAVOK FM041800 0300 FG");
    expect(unreadGroups(report)).toEqual(["FM041800"]);
  });

  test("what follows a change of an unknown kind is not read into the period before it", () => {
    const report = taf("24010KT 9999 SCT020 INTER 0414/0416 0300 FG BKN001 TEMPO 0418/0420 4000");
    expect(unreadGroups(report)).toEqual(["INTER", "0414/0416", "0300", "FG", "BKN001"]);
    expect(report.hasStray).toBe(true);
    expect(report.periods.map(({ change }) => change)).toEqual(["base", "TEMPO"]);
    expect(ceilingOf(report.conditions).bound).toBe("unknown");
  });

  test("forecast temperatures, wind shear and the pressure of US military forecasts are read", () => {
    const report = taf("24010KT 9999 SCT020 WS010/31022KT QNH2992INS TX28/0418Z TNM05/0503Z");
    expect(unreadGroups(report)).toEqual([]);
    expect(report.conditions.windShear).toEqual(["WS010/31022KT"]);
    expect(report.conditions.forecastTemperatures).toEqual([
      { extreme: "highest", value_C: 28, at_ms: Date.UTC(2026, 1, 4, 18) },
      { extreme: "lowest", value_C: -5, at_ms: Date.UTC(2026, 1, 5, 3) },
    ]);
  });
});

describe("a text that is no report", () => {
  test.each(["", "   ", "HELLO", "METAR", "METAR ENGM", "=", "TAF", "9999", "////"])(
    "%j does not throw",
    (text) => {
      const report = readReport(text, near_ms);
      expect(report.issued_ms).toBeNull();
      expect(ceilingOf(report.conditions).bound).toBe("unknown");
    },
  );
});
