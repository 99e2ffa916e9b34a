// The topics weather, sun and light as a caller meets them: keys, forms, errors. That what they say is right is shown in
// published/ and in core/sky.

import { Ajv2020 } from "ajv/dist/2020.js";
import { beforeAll, describe, expect, test } from "vitest";
import data from "../../../published/weather-reports.json" with { type: "json" };
import { answer } from "./answer.ts";
import { instant, instantText } from "./instants.ts";
import type { Topic } from "./topic.ts";
import { findTopic } from "./topics.ts";

type Result = { readonly [key: string]: unknown } & {
  readonly error?: { readonly path: string; readonly message: string };
};

const loaded = new Map<string, Topic>();
beforeAll(async () => {
  for (const name of ["weather", "sun", "light"]) {
    const entry = findTopic(name);
    if (entry === undefined) throw new Error(`no topic ${name}`);
    loaded.set(name, (await entry.load()).default);
  }
});

const ajv = new Ajv2020({ strict: false, validateFormats: false });

/** Asks a topic; what it answers keeps to its own schema. */
function ask(name: string, element: object): Result {
  const topic = loaded.get(name) as Topic;
  const { text, isComplete } = answer(topic, JSON.stringify(element));
  const result = JSON.parse(text) as Result;
  expect(isComplete).toBe(result.error === undefined);
  if (result.error === undefined) {
    expect(ajv.validate(topic.outputSchema, result), ajv.errorsText()).toBe(true);
    expect(ajv.validate(topic.inputSchema, element), ajv.errorsText()).toBe(true);
  }
  return result;
}

const conditionKeys = [
  "wind",
  "visibility_m",
  "visibilityAtLeast",
  "leastVisibility_m",
  "leastVisibilityFrom_deg",
  "cavok",
  "rvr",
  "weather",
  "recent",
  "clouds",
  "skyClear",
  "verticalVisibility_ft",
  "ceiling_ft",
  "ceilingBound",
  "temperature_C",
  "dewpoint_C",
  "qnh_hPa",
  "windShear",
  "sea",
  "runwayState",
  "remarks",
];
const headKeys = ["kind", "station", "issued", "auto", "nil", "cancelled", "status"];

describe("weather", () => {
  const near = "2026-02-04T12:00:00Z";
  const read = (text: string): Result => ask("weather", { text, issuedNear: near });

  test("answers an observation in its keys, and a forecast in its own, with nothing beside them", () => {
    expect(Object.keys(read("METAR ENXX 041150Z 24010KT CAVOK 10/05 Q1013 NOSIG"))).toEqual([
      ...headKeys,
      ...conditionKeys,
      "trend",
      "notRead",
    ]);
    expect(Object.keys(read("TAF ENXX 041100Z 0412/0512 24010KT CAVOK"))).toEqual([
      ...headKeys,
      ...conditionKeys,
      "valid",
      "periods",
      "notRead",
    ]);
  });

  test("answers every published text within its own schema", () => {
    for (const row of data.rows) {
      const result = ask("weather", { text: row.text, issuedNear: row.near });
      expect(result.error).toBeUndefined();
    }
  });

  test("says in a period only what its own text states", () => {
    const { periods } = read(
      "TAF ENXX 041100Z 0412/0512 24010KT 9999 SCT020 TEMPO 0413/0415 2000 BECMG 0416/0418 NSC PROB40 0420/0422 BKN004",
    ) as unknown as { periods: object[] };
    expect(periods.map((period) => Object.keys(period).slice(3))).toEqual([
      ["wind", "visibility_m", "visibilityAtLeast", "clouds", "ceiling_ft", "ceilingBound"],
      ["visibility_m", "visibilityAtLeast"],
      ["skyClear", "ceiling_ft", "ceilingBound"],
      ["clouds", "ceiling_ft", "ceilingBound"],
    ]);
  });

  test("says that a period's ceiling is not known where a word of it was not read", () => {
    const { periods, notRead } = read(
      "TAF ENXX 041100Z 0412/0512 24010KT 9999 SCT020 TEMPO 0413/0415 BKNO04",
    ) as unknown as { periods: Result[]; notRead: string[] };
    expect(periods[1]).toMatchObject({ change: "TEMPO", ceiling_ft: null, ceilingBound: "unknown" });
    expect(notRead).toEqual(["BKNO04"]);
  });

  test("puts into notRead, verbatim, what it read and has no field for", () => {
    expect(read("TAF ENXX 041100Z 0412/0512 24010KT CAVOK TX08/0414Z TNM02/0505Z")["notRead"]).toEqual([
      "TX08/0414Z",
      "TNM02/0505Z",
    ]);
    expect(read("METAR ENXX 041150Z 24010KT 3000 1200NE 2000S BKN010 10/05 Q1013 GRN")).toMatchObject({
      leastVisibility_m: 1200,
      leastVisibilityFrom_deg: 45,
      notRead: ["2000S", "GRN"],
    });
  });

  test("takes a report without its word, and refuses a text that is none", () => {
    expect(read("ENXX 041150Z 24010KT CAVOK")).toMatchObject({ kind: "METAR", station: "ENXX" });
    expect(read("HELLO").error?.path).toBe("text");
    expect(read("").error?.path).toBe("text");
    expect(ask("weather", { text: "METAR" }).error?.path).toBe("issuedNear");
    expect(ask("weather", { text: "METAR", issuedNear: "today" }).error?.path).toBe("issuedNear");
  });
});

describe("sun", () => {
  const base = { lat_deg: 70.2, lon_deg: 12.5, zone: "Europe/Oslo" };

  test("answers in its keys, with null for what does not happen and a word for what happens instead", () => {
    const winter = ask("sun", { ...base, date: "2026-12-21" });
    expect(Object.keys(winter)).toEqual([
      "dawn",
      "sunrise",
      "noon",
      "sunset",
      "dusk",
      "sunState",
      "twilightState",
    ]);
    expect(winter).toMatchObject({
      sunrise: null,
      sunset: null,
      sunState: "downAllDay",
      twilightState: "normal",
    });
    const summer = ask("sun", { ...base, date: "2026-06-21" });
    expect(summer).toMatchObject({
      dawn: null,
      dusk: null,
      sunState: "upAllDay",
      twilightState: "neverDark",
    });
  });

  test("refuses dates, zones and places that are none, by their paths", () => {
    const pathOf = (more: object): string | undefined =>
      ask("sun", { ...base, date: "2026-02-04", ...more }).error?.path;
    expect(pathOf({ date: "2026-02-29" })).toBe("date");
    expect(pathOf({ date: "4 February" })).toBe("date");
    expect(pathOf({ date: 20_260_204 })).toBe("date");
    expect(pathOf({ date: "1650-02-04" })).toBe("date");
    expect(pathOf({ zone: "Mars/Olympus" })).toBe("zone");
    expect(pathOf({ zone: "+01:00" })).toBe("zone");
    expect(pathOf({ lat_deg: 90.1 })).toBe("lat_deg");
    expect(pathOf({ zone: "UTC" })).toBeUndefined();
  });
});

describe("light", () => {
  const at = (text: string): Result => ask("light", { lat_deg: 59.9, lon_deg: 10.8, at: text });

  test("answers three nights in their keys, with the next change of each", () => {
    const noon = at("2026-02-04T11:00:00Z");
    expect(Object.keys(noon)).toEqual(["sunAltitude_deg", "eu", "us", "usRecency", "next"]);
    expect(noon).toMatchObject({ eu: "day", us: "day", usRecency: "day" });
    const { eu, us, usRecency } = noon["next"] as Record<string, string>;
    expect(us).toBe(eu);
    // Dusk comes some forty minutes after sunset there, the recency night an hour after it.
    const apart_min = (Date.parse(usRecency as string) - Date.parse(eu as string)) / 60_000;
    expect(apart_min).toBeGreaterThan(10);
    expect(apart_min).toBeLessThan(25);
    expect(at(eu as string)).toMatchObject({ eu: "night", usRecency: "day" });
  });

  test("gives null where nothing changes within 72 h", () => {
    const polar = ask("light", { lat_deg: 85, lon_deg: 0, at: "2026-06-21T00:00:00Z" });
    expect(polar).toMatchObject({ eu: "day", next: { eu: null, us: null, usRecency: null } });
  });

  test("refuses an instant without a zone, or in a year that is not covered", () => {
    for (const text of [
      "2026-02-04T11:00:00",
      "2026-02-04",
      "2026-02-30T11:00:00Z",
      "1500-02-04T11:00:00Z",
      "",
    ]) {
      expect(at(text).error?.path).toBe("at");
    }
  });
});

describe("an instant", () => {
  const read = (text: string): number => instant().read(text, "at");

  test("is read with any offset, and printed in UTC with a fraction only where there is one", () => {
    expect(instantText(read("2026-02-04T06:40+01:00"))).toBe("2026-02-04T05:40:00Z");
    expect(instantText(read("2026-02-04T06:40:07.25-03:30"))).toBe("2026-02-04T10:10:07.250Z");
    expect(instantText(read("0099-03-01T00:00:00Z"))).toBe("0099-03-01T00:00:00Z");
  });

  test.each([
    "2026-02-29T00:00:00Z",
    "2026-01-01T24:00:00Z",
    "2026-01-01T00:60:00Z",
    "2026-01-01T00:00:60Z",
    "2026-13-01T00:00:00Z",
    "2026-01-01T00:00:00+24:00",
  ])("%s is none", (text) => {
    expect(() => read(text)).toThrow(/an instant such as/u);
  });
});
