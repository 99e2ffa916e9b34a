import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { clockFrom, settingsFrom, usualPort } from "./settings.ts";

describe("Settings", () => {
  test("are the demo on loopback when nothing is said, also by empty variables", () => {
    const usual = {
      mode: "demo",
      folder: join("/repo", "var", "demo"),
      port: usualPort,
      bind: "localhost",
      origin: null,
      startAt_ms: null,
      demoSpan: "months",
      weatherUrl: null,
    };
    expect(settingsFrom({}, "/repo")).toEqual(usual);
    expect(settingsFrom({ PREEN_MODE: "", PREEN_PORT: "", PREEN_DATA: "", PREEN_AT: "" }, "/repo")).toEqual(
      usual,
    );
  });

  test("keep the folders of the two modes apart, and take a folder from the root or as it is", () => {
    expect(settingsFrom({ PREEN_MODE: "operator" }, "/repo")).toMatchObject({
      folder: join("/repo", "var", "operator"),
    });
    expect(settingsFrom({ PREEN_DATA: "x/y" }, "/repo")).toMatchObject({ folder: join("/repo", "x", "y") });
    expect(settingsFrom({ PREEN_DATA: "/else" }, "/repo")).toMatchObject({ folder: "/else" });
  });

  test("take what is given", () => {
    const given = {
      PREEN_PORT: "0",
      PREEN_AT: "2031-04-01T06:40:00.000Z",
      PREEN_ORIGIN: "https://preen.example.org",
      PREEN_DEMO: "fortnight",
    };
    expect(settingsFrom(given, "/repo")).toMatchObject({
      port: 0,
      demoSpan: "fortnight",
      startAt_ms: Date.parse("2031-04-01T06:40:00.000Z"),
      weatherUrl: null,
      origin: "https://preen.example.org",
    });
  });

  test("name every fault at once, with what was found and wanted", () => {
    const given = {
      PREEN_MODE: "production",
      PREEN_PORT: "70000",
      PREEN_AT: "2031-02-30T06:40:00.000Z",
      PREEN_ORIGIN: "https://preen.example.org/path",
    };
    const faults = settingsFrom(given, "/repo");
    expect(
      Array.isArray(faults) &&
        faults.map(({ name, found }: { name: string; found: string }) => [name, found]),
    ).toEqual([
      ["PREEN_MODE", "production"],
      ["PREEN_PORT", "70000"],
      ["PREEN_ORIGIN", "https://preen.example.org/path"],
      ["PREEN_AT", "2031-02-30T06:40:00.000Z"],
    ]);
  });

  test("let nobody set the clock of real work", () => {
    const faults = settingsFrom({ PREEN_MODE: "operator", PREEN_AT: "2031-04-01T06:40:00.000Z" }, "/repo");
    expect(faults).toMatchObject([{ name: "PREEN_AT" }]);
  });
});

describe("The clock", () => {
  test("a weather source is an address with a place for the station, and off without one", () => {
    const source = "https://weather.example/{station}.txt";
    expect(settingsFrom({ PREEN_WEATHER_URL: source }, "/somewhere")).toMatchObject({ weatherUrl: source });
    for (const wrong of ["https://weather.example/", "ftp://weather.example/{station}", "{station}"])
      expect(settingsFrom({ PREEN_WEATHER_URL: wrong }, "/somewhere")).toMatchObject([
        { name: "PREEN_WEATHER_URL", found: wrong },
      ]);
  });

  test("starts where it is told and runs on", async () => {
    const clock = clockFrom({ startAt_ms: 1_000_000 });
    const first = clock();
    await new Promise((resolve) => setTimeout(resolve, 30));
    expect(first).toBeGreaterThanOrEqual(1_000_000);
    expect(first).toBeLessThan(1_000_000 + 1_000);
    expect(clock() - first).toBeGreaterThanOrEqual(25);
    expect(Math.abs(clockFrom({ startAt_ms: null })() - Date.now())).toBeLessThan(1_000);
  });
});
