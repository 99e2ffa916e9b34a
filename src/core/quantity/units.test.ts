import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { convert, inUnit, type Kilograms, type Unit, units, writtenUnits } from "./units.ts";

describe("factors", () => {
  // NIST Special Publication 811 (2008), appendix B.8; BIPM SI brochure, ninth edition, for nautical mile and knot.
  test.each([
    ["lb", "kg", 1, 0.45359237],
    ["in", "m", 1, 0.0254],
    ["in", "mm", 1, 25.4],
    ["ft", "m", 1, 0.3048],
    ["nm", "m", 1, 1852],
    ["km", "m", 1, 1000],
    ["kt", "ms", 9, 4.63],
    ["kmh", "ms", 3.6, 1],
    ["hPa", "Pa", 1, 100],
    ["inHg", "Pa", 1, 3386.389],
    ["bar", "Pa", 1, 100_000],
    ["psi", "Pa", 1, 6894.757293168361],
    ["L", "m3", 1000, 1],
    ["usgal", "L", 1, 3.785411784],
    ["C", "K", 15, 288.15],
    ["F", "C", 212, 100],
    ["F", "C", -40, -40],
    ["F", "K", 32, 273.15],
    ["h", "s", 1, 3600],
    ["min", "h", 90, 1.5],
    ["ft", "in", 3, 36],
    ["nm", "ft", 1, 6076.115485564304],
  ] as const)("%s to %s", (from, to, value, expected) => {
    const converted = convert(inUnit(value, from as Unit) as never, from as never, to as never);
    expect(Math.abs(converted - expected)).toBeLessThanOrEqual(
      Math.abs(expected) * 3e-16 + (to === "C" ? 3e-14 : 0),
    );
  });

  test("the pound-force per square inch follows from pound, inch and standard gravity", () => {
    // 0.45359237 kg × 9.80665 m/s² / (0.0254 m)², in whole numbers of 1e-13 N over 1e-8 m².
    const [numerator, denominator] = units.psi.factor;
    expect(BigInt(numerator)).toBe(45_359_237n * 980_665n);
    expect(BigInt(denominator)).toBe(254n * 254n * 100_000n);
  });

  test("every written unit belongs to the dimension that it is written for, and SI itself is in the table", () => {
    for (const [dimension, names] of Object.entries(writtenUnits)) {
      for (const name of names) expect(units[name].dimension).toBe(dimension);
      expect(
        Object.values(units).some((u) => u.dimension === dimension && u.factor[0] === 1 && u.factor[1] === 1),
      ).toBe(true);
    }
  });
});

describe("conversion", () => {
  const linear = (Object.keys(units) as Unit[]).filter((unit) => units[unit].dimension !== "temperature");
  const pairs = linear.flatMap((from) =>
    linear.filter((to) => units[to].dimension === units[from].dimension).map((to) => [from, to] as const),
  );

  test("there and back gives the same number, to the last bits", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...pairs),
        fc.double({ min: 1e-6, max: 1e9, noNaN: true }),
        ([from, to], value) => {
          const there = convert(value as never, from as never, to as never);
          const back = convert(there, to as never, from as never) as number;
          expect(Math.abs(back - value)).toBeLessThanOrEqual(value * 1e-15);
        },
      ),
      { numRuns: 500 },
    );
  });

  test("temperatures come back within a hundred-billionth of a degree", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("C", "F", "K"),
        fc.constantFrom("C", "F", "K"),
        fc.double({ min: -90, max: 400, noNaN: true }),
        (from, to, value) => {
          const there = convert(value as never, from as never, to as never);
          const back = convert(there, to as never, from as never) as number;
          expect(Math.abs(back - value)).toBeLessThanOrEqual(1e-11);
        },
      ),
      { numRuns: 300 },
    );
  });

  test("to its own unit leaves the very number", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...(Object.keys(units) as Unit[])),
        fc.double({ noNaN: true }),
        (unit, value) => {
          expect(convert(value as never, unit as never, unit as never)).toBe(value);
        },
      ),
      { numRuns: 200 },
    );
  });

  test("keeps the order of two quantities", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...pairs),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        ([from, to], a, b) => {
          fc.pre(a < b);
          const low = convert(a as never, from as never, to as never) as number;
          const high = convert(b as never, from as never, to as never) as number;
          expect(low).toBeLessThanOrEqual(high);
        },
      ),
      { numRuns: 300 },
    );
  });
});

test("two units cannot be exchanged by accident", () => {
  const weigh = (mass: Kilograms): number => mass;
  // @ts-expect-error pounds are no kilograms
  weigh(inUnit(1, "lb"));
  // @ts-expect-error a plain number has no unit
  weigh(1);
  // @ts-expect-error feet do not turn into kilograms
  convert(inUnit(1, "ft"), "ft", "kg");
  expect(weigh(convert(inUnit(2, "lb"), "lb", "kg"))).toBe(0.90718474);
});
