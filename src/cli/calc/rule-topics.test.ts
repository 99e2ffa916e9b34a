// The topics deadline and minima as a caller meets them: keys, forms, errors. That the figures are right is shown in
// published/.
import { describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import deadline from "./deadline.ts";
import minima from "./minima.ts";
import type { Topic } from "./topic.ts";

type Result = Record<string, unknown> & { readonly error?: { readonly path: string } };
const ask = (topic: Topic, element: object): Result =>
  JSON.parse(answer(topic, JSON.stringify(element)).text) as Result;

describe("deadline", () => {
  const base = { recorded: "2026-01-26T10:00:00+01:00", zone: "Europe/Oslo", category: "B", ruleset: "eu" };

  test("answers the days in the zone and the instant in UTC", () => {
    expect(ask(deadline, base)).toEqual({
      firstDay: "2026-01-27",
      lastDay: "2026-01-29",
      expires: "2026-01-29T23:00:00Z",
      cite: "CS MMEL.105; ORO.MLR.105(e)",
    });
    expect(ask(deadline, { ...base, ruleset: "us", zone: "UTC" })).toMatchObject({
      expires: "2026-01-30T00:00:00Z",
      cite: "FAA Policy Letter 25, p. 7",
    });
    expect(ask(deadline, { ...base, category: "A", days: 1 })["lastDay"]).toBe("2026-01-27");
  });

  test("refuses by path what it cannot count", () => {
    const pathOf = (more: object): string | undefined => ask(deadline, { ...base, ...more }).error?.path;
    expect(pathOf({ category: "A" })).toBe("days");
    expect(pathOf({ days: 3 })).toBe("days");
    expect(pathOf({ category: "A", days: 0 })).toBe("days");
    expect(pathOf({ category: "E" })).toBe("category");
    expect(pathOf({ zone: "+01:00" })).toBe("zone");
    expect(pathOf({ recorded: "2026-01-26T10:00:00" })).toBe("recorded");
    expect(pathOf({ ruleset: "uk" })).toBe("ruleset");
  });
});

describe("minima", () => {
  const eu = {
    ruleset: "eu",
    operation: "hems",
    pilots: 1,
    light: "day",
    performanceClass: 2,
    ceiling_ft: 450,
    visibility_m: 1800,
    phase: "dispatch",
  };

  test("answers what is short and by which row, with edition and citation", () => {
    const result = ask(minima, eu);
    expect(result).toMatchObject({
      ok: false,
      short: ["visibility"],
      row: { ceilingFrom_ft: 400, ceilingBelow_ft: 500, visibility_m: 2000, shortPeriods: false },
    });
    expect(Object.keys(result)).toEqual(["ok", "short", "row", "edition", "cite"]);
  });

  test("takes any unit of length", () => {
    const { ceiling_ft: _, ...rest } = eu;
    expect(ask(minima, { ...rest, ceiling_m: 152.4, airspaceVisibility_km: 1.8 })).toMatchObject({
      ok: true,
      row: { ceilingFrom_ft: 500 },
    });
  });

  test("asks for what the table needs, by its path", () => {
    const pathOf = (from: object, left: readonly string[], more: object = {}): string | undefined => {
      const kept = Object.fromEntries(Object.entries(from).filter(([key]) => !left.includes(key)));
      return ask(minima, { ...kept, ...more }).error?.path;
    };
    expect(pathOf(eu, ["pilots"])).toBe("pilots");
    expect(pathOf(eu, ["performanceClass"])).toBe("performanceClass");
    expect(pathOf(eu, [], { ceiling_ft: 600 })).toBe("airspaceVisibility_m");
    const us = { ...eu, ruleset: "us", mountainous: true, local: true };
    expect(pathOf(us, ["mountainous"])).toBe("mountainous");
    expect(pathOf(us, [])).toBe(undefined);
    expect(pathOf(us, [], { light: "night" })).toBe("nvis");
    expect(pathOf(us, [], { light: "night", nvis: false })).toBe("htaws");
    expect(pathOf(us, [], { light: "night", htaws: true })).toBe(undefined);
    expect(pathOf(eu, [], { ceiling_ft: -1 })).toBe("ceiling_ft");
    expect(pathOf(eu, [], { performanceClass: 4 })).toBe("performanceClass");
    expect(pathOf(eu, ["ceiling_ft"])).toBe("ceiling_ft");
  });
});
