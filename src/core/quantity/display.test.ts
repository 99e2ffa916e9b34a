import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { atLeast, atMost } from "./compare.ts";
import { displayNumber, roundForDisplay, type Worse, worseOf } from "./display.ts";

describe("rounding for the eye", () => {
  test("a mass above its limit by a pound shows as above it", () => {
    expect(displayNumber(3000, 0, worseOf.greatestMass, "en")).toBe("3,000");
    expect(displayNumber(3000.68, 0, worseOf.mass, "en")).toBe("3,001");
    expect(displayNumber(3000.02, 0, worseOf.mass, "en")).toBe("3,001");
  });

  test("goes down for what is worse when less, up for what is worse when more, to the nearest else", () => {
    expect(roundForDisplay(412.9, 0, worseOf.fuelOnBoard)).toBe(412);
    expect(roundForDisplay(412.1, 0, worseOf.fuelRequired)).toBe(413);
    expect(roundForDisplay(-0.4, 0, worseOf.margin)).toBe(-1);
    expect(roundForDisplay(-0.4, 0, "both")).toBe(0);
    expect(roundForDisplay(1017.6, 0, worseOf.pressure)).toBe(1018);
    expect(roundForDisplay(1234, -2, "higher")).toBe(1300);
    expect(roundForDisplay(1234, -2, "lower")).toBe(1200);
  });

  test("shows a number that misses a step only by rounding as that step", () => {
    expect(roundForDisplay(0.1 + 0.2, 1, "higher")).toBe(0.3);
    expect(roundForDisplay(0.29 * 100, 0, "lower")).toBe(29);
    expect(roundForDisplay(3000.000_000_1, 0, "higher")).toBe(3000);
  });

  test("is written with the marks of the language and a true minus sign", () => {
    expect(displayNumber(1_234_567.89, 1, "lower", "en")).toBe("1,234,567.8");
    expect(displayNumber(1_234_567.89, 1, "lower", "de")).toBe("1.234.567,8");
    expect(displayNumber(-12.34, 1, "lower", "de")).toBe("\u221212,4");
    expect(displayNumber(-0.01, 1, "higher", "en")).toBe("0.0");
    expect(displayNumber(999, 0, "both", "en")).toBe("999");
  });

  test.each([Number.NaN, Number.POSITIVE_INFINITY, 1e300])("refuses %s", (value) => {
    expect(() => roundForDisplay(value, 0, "both")).toThrow("value");
  });

  test("refuses decimals that are no number of them", () => {
    expect(() => roundForDisplay(1, 0.5, "both")).toThrow("decimals");
    expect(() => roundForDisplay(1, 99, "both")).toThrow("decimals");
  });
});

describe("a shown number never flatters", () => {
  // Limits on and near steps, and values near the limits, where a careless rounding would let one pass for the other.
  const near = fc
    .tuple(fc.integer({ min: 1, max: 50_000 }), fc.constantFrom(1, 0.1, 0.37), fc.constantFrom(-1, 0, 1))
    .chain(([whole, part, side]) =>
      fc.tuple(
        fc.constant(whole + part),
        fc.double({ min: 0, max: 6e-9, noNaN: true }).map((share) => 1 + side * share),
      ),
    )
    .map(([limit, share]) => [limit, limit * share] as const);
  const apart = fc.tuple(
    fc.double({ min: 1, max: 1e5, noNaN: true }),
    fc.double({ min: 1, max: 1e5, noNaN: true }),
  );
  const decimals = fc.constantFrom(-1, 0, 1, 2);

  test("a value above its greatest permitted one is shown above it, in any number of decimals", () => {
    fc.assert(
      fc.property(fc.oneof(near, apart), decimals, ([limit, value], places) => {
        fc.pre(!atMost(value, limit));
        expect(roundForDisplay(value, places, "higher")).toBeGreaterThan(
          roundForDisplay(limit, places, "lower"),
        );
      }),
      { numRuns: 3000 },
    );
  });

  test("a value below its least required one is shown below it", () => {
    fc.assert(
      fc.property(fc.oneof(near, apart), decimals, ([limit, value], places) => {
        fc.pre(!atLeast(value, limit));
        expect(roundForDisplay(value, places, "lower")).toBeLessThan(
          roundForDisplay(limit, places, "higher"),
        );
      }),
      { numRuns: 3000 },
    );
  });

  test("a margin shows as negative exactly when its limit is not met", () => {
    fc.assert(
      fc.property(fc.oneof(near, apart), decimals, ([limit, value], places) => {
        const shown = roundForDisplay(limit - value, places, "lower", limit);
        if (atMost(value, limit)) expect(shown).toBeGreaterThanOrEqual(0);
        else expect(shown).toBeLessThan(0);
      }),
      { numRuns: 3000 },
    );
  });

  test("what is shown is on the worse side of the value, within a step", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        decimals,
        fc.constantFrom<Worse>("lower", "higher"),
        (value, places, worse) => {
          const shown = roundForDisplay(value, places, worse);
          const step = 10 ** -places;
          const slack = Math.abs(value) * 1e-9 + 1e-300; // tens of a subnormal number underflow
          if (worse === "lower") expect(shown).toBeLessThanOrEqual(value + slack);
          else expect(shown).toBeGreaterThanOrEqual(value - slack);
          expect(Math.abs(shown - value)).toBeLessThanOrEqual(step + slack);
        },
      ),
      { numRuns: 1000 },
    );
  });
});
