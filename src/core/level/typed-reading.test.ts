import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { readTypedReading } from "./typed-reading.ts";

const oil = { unit: "L", plausible: { low: 0, high: 7 }, capacity: 6 } as const;
const bottle = { unit: "bar", plausible: { low: 0, high: 400 } } as const;
const margin = { unit: "C", plausible: { low: -60, high: 120 } } as const;

describe("what is typed for a gauge", () => {
  test("is the number that it says, in either language", () => {
    expect(readTypedReading(oil, "4.5", "en")).toEqual({ is: "number", value: 4.5, asked: null });
    expect(readTypedReading(oil, "4,5", "de")).toEqual({ is: "number", value: 4.5, asked: null });
    expect(readTypedReading(margin, "−12", "en")).toEqual({ is: "number", value: -12, asked: null });
    expect(readTypedReading(oil, " ", "en")).toEqual({ is: "empty" });
  });

  test.each([
    ["1/2", 0.5],
    ["3/4", 0.75],
    ["½", 0.5],
    ["full", 1],
    ["Voll", 1],
    ["halb", 0.5],
    ["leer", 0],
  ])("is no reading when it is a share: %s", (typed, share) => {
    expect(readTypedReading(oil, typed, "en")).toEqual({
      is: "refused",
      why: "share",
      share,
      value: share * 6,
    });
    expect(readTypedReading(bottle, typed, "en")).toMatchObject({ why: "share", value: null });
  });

  test("is asked about above what the gauge reads when full, and refused when it is negative", () => {
    expect(readTypedReading(oil, "6.4", "en")).toEqual({ is: "number", value: 6.4, asked: "aboveCapacity" });
    expect(readTypedReading(oil, "-1", "en")).toEqual({ is: "refused", why: "negative" });
  });

  test("is refused beyond what it can show, with the unit in which it would fit", () => {
    const psi = readTypedReading(bottle, "3480", "en");
    expect(psi).toMatchObject({ is: "refused", why: "implausible", meant: { unit: "psi" } });
    expect(psi.is === "refused" && psi.why === "implausible" && psi.meant!.value).toBeCloseTo(239.94, 2);
    expect(readTypedReading(oil, "450", "en")).toEqual({ is: "refused", why: "implausible", meant: null });
    expect(readTypedReading(margin, "293", "en")).toMatchObject({ meant: { unit: "K" } });
  });

  test("is refused where it is no number at all, or two", () => {
    for (const typed of ["four", "4.5 L", "5/4", "1/0", "constructor", "4..5"])
      expect(readTypedReading(oil, typed, "en"), typed).toMatchObject({ is: "refused", why: "notANumber" });
    expect(readTypedReading({ ...bottle, plausible: { low: 0, high: 9000 } }, "1,250", "en")).toMatchObject({
      why: "ambiguous",
    });
  });

  test("never becomes a number that the gauge cannot show", () => {
    fc.assert(
      fc.property(
        fc.string({ maxLength: 8 }),
        fc.constantFrom("en" as const, "de" as const),
        (typed, language) => {
          const read = readTypedReading(oil, typed, language);
          if (read.is === "number") {
            expect(read.value).toBeGreaterThanOrEqual(0);
            expect(read.value).toBeLessThanOrEqual(7);
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});
