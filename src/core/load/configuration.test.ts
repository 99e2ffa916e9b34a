import { describe, expect, test } from "vitest";
import { issuesOf } from "./arbitrary-load.ts";
import { checkKit, compareConfiguration, configurationTotals, type KitItem } from "./configuration.ts";

const kit = (id: string, mass_kg: number, place: string, x_m = 4.5): KitItem => ({
  id,
  mass_kg,
  place,
  x_m,
  y_m: 0,
});

const listed = [
  kit("red bag", 12, "floor"),
  kit("blue bag", 9, "rack", 4.3),
  kit("ventilator", 6.5, "rack", 4.3),
];

describe("a configuration", () => {
  test("has the mass and moments of its list", () => {
    expect(configurationTotals(listed)).toEqual({
      mass_kg: 27.5,
      x_kgm: expect.closeTo(12 * 4.5 + 15.5 * 4.3, 9) as unknown,
      y_kgm: 0,
    });
  });

  test("is refused with a thing of no mass and with one that it lists twice", () => {
    expect(issuesOf(() => configurationTotals([...listed, kit("red bag", 0, "floor")]))).toMatchObject([
      { path: "configuration[3].mass_kg", code: "impossible" },
      { path: "configuration[3].id", code: "givenTwice" },
    ]);
  });
});

describe("a confirmed load beside its configuration", () => {
  test("that is the same differs in nothing", () => {
    const check = compareConfiguration(listed, listed.toReversed(), ["hoist"]);
    expect(check.isAsListed).toBe(true);
    expect(check.difference.mass_kg).toBe(0);
  });

  test("shows a bag that was left behind", () => {
    const check = compareConfiguration(listed, listed.slice(1), []);
    expect(check.missing).toEqual([listed[0]]);
    expect(check.isAsListed).toBe(false);
    expect(check.difference.mass_kg).toBe(-12);
    expect(check.difference.x_kgm).toBeCloseTo(-12 * 4.5, 9);
  });

  test("shows a bag that is loaded twice", () => {
    const check = compareConfiguration(listed, [...listed, listed[0]!], []);
    expect(check.twice).toEqual([{ item: listed[0], times: 2 }]);
    expect(check.difference.mass_kg).toBe(12);
    expect(check.missing).toEqual([]);
  });

  test("shows what is not listed, what lies elsewhere and what weighs otherwise", () => {
    const confirmed = [
      kit("red bag", 12, "rear bay", 5.9),
      kit("blue bag", 14, "rack", 4.3),
      kit("net", 8, "floor"),
    ];
    const check = compareConfiguration(listed, confirmed, []);
    expect(check.missing).toEqual([listed[2]]);
    expect(check.extra).toEqual([confirmed[2]]);
    expect(check.elsewhere).toEqual([{ listed: listed[0], confirmed: confirmed[0] }]);
    expect(check.otherMass).toEqual([{ listed: listed[1], confirmed: confirmed[1] }]);
  });

  test("shows what the empty mass includes already", () => {
    const check = compareConfiguration(listed, listed, ["ventilator"]);
    expect(check.inEmptyMass).toEqual([listed[2]]);
    expect(check.isAsListed).toBe(false);
  });

  test("is refused with a thing of no mass", () => {
    expect(issuesOf(() => compareConfiguration(listed, [kit("net", 0, "floor")], []))).toMatchObject([
      { path: "confirmed[0].mass_kg", code: "impossible" },
    ]);
  });
});

describe("the kit of a load beside a list of the sheet", () => {
  const compartments = [
    { id: "floor", name: { en: "floor", de: "Boden" }, x_m: 4.5, y_m: 0, maxMass_kg: 100 },
    { id: "rack", name: { en: "rack", de: "Regal" }, x_m: 4.3, y_m: 0.3, maxMass_kg: 40 },
  ];
  const red = { kit: "redBag", name: { en: "red bag", de: "roter Rucksack" }, mass_kg: 12, at: "floor" };
  const list = { id: "rescue", name: { en: "rescue", de: "Rettung" }, kit: [red] };
  const loaded = { ...red, name: "red bag" };

  test("finds a bag that was typed in again by its name, in either language", () => {
    for (const name of ["Red bag ", "roter Rucksack"]) {
      const check = checkKit({ compartments }, list, [loaded, { ...loaded, kit: "redbag-2", name }]);
      expect(check.twice.map(({ times }) => times)).toEqual([2]);
      expect(check.extra).toEqual([]);
    }
  });

  test("takes another thing for another thing", () => {
    const check = checkKit({ compartments }, list, [{ ...loaded, kit: "blueBag", name: "blue bag" }]);
    expect([check.missing.length, check.extra.length, check.twice.length]).toEqual([1, 1, 0]);
  });

  test("is refused at a place that is no compartment, with the path", () => {
    expect(issuesOf(() => checkKit({ compartments }, list, [{ ...loaded, at: "roof" }]))).toMatchObject([
      { path: "loaded[0].at", code: "unknownKey", found: "roof" },
    ]);
  });
});
