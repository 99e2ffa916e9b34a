import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { add, dd, divide, type DoubleDouble, multiply, subtract, toNumber } from "./double-double.ts";

/** Whole numbers up to 2^53: their sums and products are known exactly, as big integers. */
const whole = fc.maxSafeInteger();

function exact([high, low]: DoubleDouble): bigint {
  return BigInt(high) + BigInt(low);
}

describe("a double-double number", () => {
  test("adds, subtracts and multiplies whole numbers without an error", () => {
    fc.assert(
      fc.property(whole, whole, (a, b) => {
        expect(exact(add(dd(a), dd(b)))).toBe(BigInt(a) + BigInt(b));
        expect(exact(subtract(dd(a), dd(b)))).toBe(BigInt(a) - BigInt(b));
        expect(exact(multiply(dd(a), dd(b)))).toBe(BigInt(a) * BigInt(b));
      }),
      { numRuns: 1000 },
    );
  });

  test("keeps what one double would lose", () => {
    const sum = add(dd(1e16), dd(1));
    expect(toNumber(subtract(sum, dd(1e16)))).toBe(1);
  });

  test("divides to more than thirty digits: quotient times divisor is the dividend again", () => {
    fc.assert(
      fc.property(whole, whole, (a, b) => {
        fc.pre(a !== 0 && b !== 0);
        const rest = subtract(multiply(divide(dd(a), dd(b)), dd(b)), dd(a));
        expect(Math.abs(toNumber(rest))).toBeLessThanOrEqual(Math.abs(a) * 1e-30);
      }),
      { numRuns: 1000 },
    );
  });
});
