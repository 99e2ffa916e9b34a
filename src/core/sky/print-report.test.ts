import { describe, expect, test } from "vitest";
import data from "../../../published/weather-reports.json" with { type: "json" };
import { printReport } from "./print-report.ts";
import { readReport } from "./read-report.ts";
import { unreadGroups, type WeatherReport } from "./report.ts";

function decode(report: WeatherReport): unknown {
  const { text: _text, groups: _groups, ...rest } = report;
  return JSON.parse(
    JSON.stringify(rest, (key, value: unknown) =>
      key === "stated" ? [...(value as string[])].toSorted((a, b) => (a < b ? -1 : 1)) : value,
    ),
  );
}

describe("a report printed from its decode", () => {
  test("reads the same again, for every published text that was read whole", () => {
    let printed = 0;
    for (const { text, near } of data.rows) {
      const report = readReport(text, Date.parse(near));
      if (unreadGroups(report).length > 0) continue;
      printed += 1;
      expect(decode(readReport(printReport(report), Date.parse(near))), text).toEqual(decode(report));
    }
    expect(printed).toBeGreaterThan(50);
  });

  test.each([
    "METAR COR ENXX 041150Z AUTO 240P50GP60KT 200V280 M1/4SM R07L/P6000FTU +FZRASN BKN000 ///015TCU VV/// M00/M05 Q0998 RESHSN WS ALL RWY W06/H12 R07/451045",
    "SPECI ENXX 041150Z /////KT //// 0800NE // NCD ///// Q//// NOSIG RMK AO2 $",
    "METAR ENXX 041150Z VRB03MPS 2 3/8SM TEMPO FM1200 TL1230 0500 FG BECMG AT1300 CAVOK",
    "TAF AMD ENXX 041100Z 0412/0524 24036KMH P6SM SKC WS010/31022KT TX08/0414Z PROB30 TEMPO 0422/0424 0300 FZFG VV001 FM050000 CAVOK",
    "TAF ENXX 041100Z NIL",
    "TAF ENXX 041100Z 0412/0512 CNL",
  ])("%s reads the same again", (text) => {
    const near_ms = Date.UTC(2026, 1, 4, 12);
    const report = readReport(text, near_ms);
    expect(unreadGroups(report)).toEqual([]);
    const again = readReport(printReport(report), near_ms);
    expect(decode(again)).toEqual(decode(report));
    expect(unreadGroups(again)).toEqual([]);
  });

  test("is the text itself where the text was in the usual form", () => {
    const text = "METAR ENXX 041150Z 24010G25KT 200V280 9999 -RA BKN012CB 05/M03 Q0998 RETS NOSIG RMK AO2";
    expect(printReport(readReport(text, Date.UTC(2026, 1, 4)))).toBe(text);
  });
});
