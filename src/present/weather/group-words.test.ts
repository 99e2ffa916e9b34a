import { describe, expect, test } from "vitest";
import { readReport } from "../../core/sky/read-report.ts";
import { localeOf } from "../words/language.ts";
import { groupsSaid, weatherCode, weatherWordsIn } from "./group-words.ts";

const near_ms = Date.UTC(2026, 10, 25, 11);
const text =
  "METAR COR ZZSK 251050Z AUTO 23012G24KT 200V260 0800 R23/0600 +SHSN VCFG FEW008 BKN012CB M00/M03 Q1005 RESN " +
  "WHATEVER NOSIG RMK SLP";

function said(report: string, language: "en" | "de" = "en") {
  return groupsSaid(readReport(report, near_ms), "Here", localeOf(language, "Europe/Oslo"));
}

describe("a report in words", () => {
  test("every word of the text stands in one group, in order, and none is without words", () => {
    for (const language of ["en", "de"] as const) {
      const groups = said(text, language);
      expect(groups.map((group) => group.text).join(" ")).toBe(text);
      expect(groups.filter(({ words }) => words === "")).toEqual([]);
    }
  });

  test("groups say what they say themselves", () => {
    const words = new Map(said(text).map((group) => [group.text, group.words]));
    expect(words.get("23012G24KT")).toBe("wind from 230° true, 12 kt, gusts 24 kt");
    expect(words.get("0800")).toBe("visibility 800 m");
    expect(words.get("+SHSN")).toBe("heavy snow showers");
    expect(words.get("FEW008")).toBe("few at 800 ft");
    expect(words.get("BKN012CB")).toBe("broken at 1,200 ft cumulonimbus");
    expect(words.get("M00/M03")).toBe("0 °C, dew point −3 °C");
    expect(words.get("ZZSK")).toBe("Here");
    expect(words.get("251050Z")).toContain("11:50");
  });

  test("what was not read is marked, and says so", () => {
    const marked = said(text).filter(({ isRead }) => !isRead);
    expect(marked.map((group) => [group.text, group.words])).toEqual([["WHATEVER", "not read"]]);
    const [wrong] = said(text.replace("23012G24KT", "99912KT")).filter(({ isRead }) => !isRead);
    expect(wrong).toMatchObject({ text: "99912KT", words: "not possible as written" });
  });

  test("a change of a forecast names its hours", () => {
    const taf = "TAF ZZSK 250500Z 2506/2606 23014KT 9999 SKC TEMPO 2518/2521 1200 SHSN BKN004";
    const groups = said(taf);
    const change = groups.findIndex(({ beginsChange }) => beginsChange);
    const words = groups
      .slice(change, change + 2)
      .map((group) => group.words)
      .join(", ");
    expect(words).toContain("for a while at a time");
    expect(words).toContain("19:00");
    expect(groups.at(-1)?.words).toBe("broken at 400 ft");
  });

  test("codes are said in both languages, intensity and showers and thunder included", () => {
    const codeOf = (code: string, language: "en" | "de") => weatherWordsIn(language).code(weatherCode(code));
    expect(["-FZRA", "+TSRAGR", "VCSH", "BCFG", "TS"].map((code) => codeOf(code, "en"))).toEqual([
      "light freezing rain",
      "heavy thunderstorm with rain and hail",
      "showers in the vicinity",
      "patches of fog",
      "thunderstorm",
    ]);
    expect(["-FZRA", "+TSRAGR", "VCSH", "BCFG", "TS"].map((code) => codeOf(code, "de"))).toEqual([
      "Regen, gefrierend, leicht",
      "Regen und Hagel, bei Gewitter, stark",
      "Schauer, in der Nähe",
      "Nebel, in Schwaden",
      "Gewitter",
    ]);
  });

  test("the parts of a weather code", () => {
    expect(weatherCode("-FZRA")).toEqual({ intensity: "light", near: false, parts: ["FZ", "RA"] });
    expect(weatherCode("VCTS")).toEqual({ intensity: "moderate", near: true, parts: ["TS"] });
  });
});
