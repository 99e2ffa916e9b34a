import { Ajv2020 } from "ajv/dist/2020.js";
import fc from "fast-check";
import { describe, expect, expectTypeOf, test } from "vitest";
import { Refusal } from "../../core/quantity/refusal.ts";
import type { Knots, Metres } from "../../core/quantity/units.ts";
import {
  anything,
  flag,
  list,
  number,
  object,
  optional,
  orNull,
  quantity,
  type Read,
  text,
  tuple,
  word,
} from "./fields.ts";

const input = object({
  name: optional(text()),
  tas: quantity("speed", "kt", { above: 0, max: 200 }),
  height: optional(quantity("length", "m", { min: -100, max: 5000 })),
  kind: word(["day", "night"]),
  legs: list(object({ track: quantity("angle", "deg", { min: 0, max: 360 }), twice: flag() }), {
    min: 1,
    max: 3,
  }),
  place: tuple([number({ min: -90, max: 90 }), number()]),
  count: optional(orNull(number({ integer: true, min: 0 }))),
  code: optional(text({ pattern: /^[A-Z]{2}$/, wanted: "two capital letters" })),
  rest: optional(anything()),
});

const good = {
  tas_kt: 100,
  kind: "day",
  legs: [{ track_deg: 90, twice: false }],
  place: [70.2, 12.5],
};

function refusalOf(value: unknown): { path: string; line: string } {
  try {
    input.read(value, "");
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const [issue] = error.issues;
    return { path: issue.path, line: `expected ${issue.wanted}, found ${issue.found}` };
  }
  throw new Error("nothing was refused");
}

describe("fields", () => {
  test("read what they describe, in the unit that was asked for, and nothing is filled in", () => {
    expect(input.read(good, "")).toEqual({
      name: undefined,
      tas: 100,
      height: undefined,
      kind: "day",
      legs: [{ track: 90, twice: false }],
      place: [70.2, 12.5],
      count: undefined,
      code: undefined,
      rest: undefined,
    });
    const { tas_kt: _, ...withoutTas } = good;
    const other = input.read({ ...withoutTas, tas_kmh: 185.2, height_ft: 1000, count: null, code: "AB" }, "");
    expect(other).toMatchObject({ tas: 100, height: 304.8, count: null, code: "AB" });
  });

  test("carry the types of what they read", () => {
    expectTypeOf<Read<typeof input>["tas"]>().toEqualTypeOf<Knots>();
    expectTypeOf<Read<typeof input>["height"]>().toEqualTypeOf<Metres | undefined>();
    expectTypeOf<Read<typeof input>["kind"]>().toEqualTypeOf<"day" | "night">();
    expectTypeOf<Read<typeof input>["place"]>().toEqualTypeOf<[number, number]>();
  });

  test("take a point on a limit, also when it comes there by a conversion", () => {
    const ends = object({ height: quantity("length", "ft", { min: -5000, max: 36_089 }) });
    for (const value of [-5000, 36_089]) {
      expect(ends.read({ height_ft: value }, "")).toEqual({ height: value });
      for (const [key, factor] of [
        ["height_m", 0.3048],
        ["height_km", 0.0003048],
        ["height_in", 12],
        ["height_nm", 0.3048 / 1852],
      ] as const) {
        expect(ends.read({ [key]: value * factor }, "").height).toBeCloseTo(value, 6);
        expect(() => ends.read({ [key]: value * factor * 1.000_001 }, "")).toThrow(key);
      }
    }
  });

  test.each([
    ["no object", 5, "", "expected an object, found 5"],
    ["a list for an object", [good], "", "expected an object, found a list of 1"],
    ["null for an object", null, "", "expected an object, found null"],
    ["a missing quantity", { ...good, tas_kt: undefined }, "tas_kt", "expected a number, found nothing"],
    [
      "a key in no known unit",
      { ...good, tas_mph: 3 },
      "tas_mph",
      'expected tas_kt, tas_ms, tas_kmh, found the key "tas_mph"',
    ],
    [
      "a foreign key",
      { ...good, speed: 3 },
      "speed",
      'expected only name, tas_…, height_…, kind, legs, place, count, code, rest, found the key "speed"',
    ],
    [
      "a quantity in two units",
      { ...good, tas_ms: 50 },
      "tas_ms",
      "expected tas in one unit only, found tas_kt and tas_ms",
    ],
    ["a text for a number", { ...good, tas_kt: "100" }, "tas_kt", 'expected a number, found "100"'],
    [
      "null for what may be left out",
      { ...good, height_m: null },
      "height_m",
      "expected a number, found null",
    ],
    [
      "infinity",
      { ...good, tas_kt: Number.POSITIVE_INFINITY },
      "tas_kt",
      "expected a finite number, found Infinity",
    ],
    [
      "a value on an excluded end",
      { ...good, tas_kt: 0 },
      "tas_kt",
      "expected above 0 and at most 200 kt, found 0",
    ],
    [
      "a value beyond, in another unit",
      { ...good, height_km: 6 },
      "height_km",
      "expected -100 … 5000 m, found 6 km = 6000 m",
    ],
    ["an unknown word", { ...good, kind: "dusk" }, "kind", 'expected one of day, night, found "dusk"'],
    ["a list too short", { ...good, legs: [] }, "legs", "expected a list of 1 … 3, found a list of 0"],
    ["an object for a list", { ...good, legs: {} }, "legs", "expected a list, found an object"],
    [
      "something deep inside",
      { ...good, legs: [good.legs[0], { track_deg: 361, twice: true }] },
      "legs[1].track_deg",
      "expected 0 … 360 deg, found 361",
    ],
    [
      "a number for a flag",
      { ...good, legs: [{ track_deg: 1, twice: 0 }] },
      "legs[0].twice",
      "expected true or false, found 0",
    ],
    [
      "a tuple of the wrong length",
      { ...good, place: [1] },
      "place",
      "expected a list of 2, found a list of 1",
    ],
    ["a place of a tuple", { ...good, place: [91, 0] }, "place[0]", "expected -90 … 90, found 91"],
    ["a part of a count", { ...good, count: 1.5 }, "count", "expected a whole number, found 1.5"],
    ["a text of another form", { ...good, code: "abc" }, "code", 'expected two capital letters, found "abc"'],
  ])("refuse %s, and say where, what was wanted and what was found", (_, value, path, line) => {
    expect(refusalOf(value)).toEqual({ path, line });
  });

  test("a missing quantity is named by its usual key", () => {
    const { tas_kt: _, ...withoutTas } = good;
    expect(refusalOf(withoutTas)).toEqual({
      path: "tas_kt",
      line: "expected tas in kt, ms, kmh, found nothing",
    });
    const { kind: __, ...withoutKind } = good;
    expect(refusalOf(withoutKind)).toEqual({ path: "kind", line: "expected kind, found nothing" });
  });

  test("keys that every object inherits are no keys", () => {
    expect(refusalOf({ ...good, constructor: 1 }).path).toBe("constructor");
    expect(refusalOf(JSON.parse('{"__proto__": {"tas_kt": 1}}')).path).toBe("__proto__");
    expect(refusalOf(Object.create(good)).path).toBe("tas_kt");
  });
});

describe("a field's schema", () => {
  const validate = new Ajv2020({ strict: false }).compile(input.schema);

  test("accepts what the field reads and refuses what it refuses", () => {
    const anyNumber = fc.oneof(
      fc.constantFrom(-1, 0, 1, 90, 90.5, 200, 361, 6000),
      fc.constantFrom("1", null, true, [], {}),
    );
    const candidate = fc.record(
      {
        name: fc.constantFrom("a", 3),
        tas_kt: anyNumber,
        tas_ms: anyNumber,
        height_m: anyNumber,
        height_km: anyNumber,
        kind: fc.constantFrom("day", "night", "dusk", 1),
        legs: fc.oneof(
          fc.array(
            fc.record(
              { track_deg: anyNumber, twice: fc.constantFrom(true, 0) },
              { requiredKeys: ["track_deg"] },
            ),
            { maxLength: 4 },
          ),
          fc.constant("none"),
        ),
        place: fc.oneof(fc.array(anyNumber, { minLength: 1, maxLength: 3 }), fc.constant([70, 12])),
        count: fc.constantFrom(null, 1, 1.5, -1),
        code: fc.constantFrom("AB", "ab"),
        rest: fc.constantFrom(1, null, { a: 1 }),
        other: fc.constant(1),
      },
      { requiredKeys: [] },
    );
    let accepted = 0;
    fc.assert(
      fc.property(
        fc.boolean(),
        candidate,
        fc.subarray(["tas_kt", "kind", "legs", "place", "count"]),
        (fromGood, other, kept) => {
          // Half of the runs start from what is good and change a few members, so that both answers are seen often.
          const value = fromGood
            ? { ...good, ...Object.fromEntries(Object.entries(other).filter(([key]) => kept.includes(key))) }
            : other;
          let reads = true;
          try {
            input.read(value, "");
          } catch (error) {
            if (!(error instanceof Refusal)) throw error;
            reads = false;
          }
          if (reads) accepted += 1;
          expect(validate(value), JSON.stringify(value)).toBe(reads);
        },
      ),
      { numRuns: 2000 },
    );
    expect(accepted).toBeGreaterThan(100);
  });
});
