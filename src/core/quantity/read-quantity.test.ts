import { describe, expect, test } from "vitest";
import { quantityKeys, readingIn, readQuantity } from "./read-quantity.ts";
import { Refusal } from "./refusal.ts";

function issueOf(read: () => unknown): { path: string; code: string } {
  try {
    read();
  } catch (error) {
    if (error instanceof Refusal) return { path: error.issues[0].path, code: error.issues[0].code };
    throw error;
  }
  throw new Error("nothing was refused");
}

describe("a quantity under a key that ends in its unit", () => {
  test("is read in any unit of its dimension and handed out in the one asked for", () => {
    const reading = readQuantity({ mass_lb: 100, other: 1 }, "mass", "mass", "items[0]");
    expect(reading).toEqual({ key: "mass_lb", path: "items[0].mass_lb", unit: "lb", value: 100 });
    expect(readingIn(reading!, "kg")).toBe(45.359237);
    expect(readingIn(reading!, "lb")).toBe(100);
  });

  test("is null where none of its keys stands, whatever stands beside it or was inherited", () => {
    expect(readQuantity({ mass_st: 3, mass: 4 }, "mass", "mass", "")).toBeNull();
    expect(
      readQuantity(Object.create({ mass_kg: 3 }) as Record<string, unknown>, "mass", "mass", ""),
    ).toBeNull();
  });

  test("is refused when it stands there twice, even with the same amount", () => {
    const twice = { elevation_m: 304.8, elevation_ft: 1000 };
    expect(issueOf(() => readQuantity(twice, "elevation", "length", "site"))).toEqual({
      path: "site.elevation_ft",
      code: "givenTwice",
    });
  });

  test.each([
    ["a text", "12", "notANumber"],
    ["null", null, "notANumber"],
    ["a list", [1], "notANumber"],
    ["NaN", Number.NaN, "notFinite"],
    ["infinity", Number.POSITIVE_INFINITY, "notFinite"],
  ])("is refused as %s", (_, value, code) => {
    expect(issueOf(() => readQuantity({ tas_kt: value }, "tas", "speed", ""))).toEqual({
      path: "tas_kt",
      code,
    });
  });

  test("has the keys of its dimension", () => {
    expect(quantityKeys("qnh", "pressure")).toEqual(["qnh_hPa", "qnh_inHg", "qnh_bar", "qnh_psi"]);
  });
});
