import { Ajv2020 } from "ajv/dist/2020.js";
import { describe, expect, test } from "vitest";
import { answer } from "./answer.ts";
import topic from "./load.ts";

type Result = {
  readonly mass_kg: number;
  readonly x_m: number;
  readonly y_m: number;
  readonly inside: { readonly longitudinal: boolean | null; readonly lateral: boolean | null };
  readonly margins: Readonly<Record<string, Readonly<Record<string, number | null>> | null>>;
  readonly track: {
    readonly start: Readonly<Record<string, number>>;
    readonly end: Readonly<Record<string, number>>;
    readonly crossings: readonly { readonly fuel_kg: number; readonly axis: string }[];
  };
  readonly worst: { readonly fuel_kg: number; readonly axis: string; readonly margin_m: number | null };
};

const compute = (element: unknown): Result =>
  JSON.parse(answer(topic, JSON.stringify(element)).text) as Result;
const errorOf = (element: unknown) =>
  (
    JSON.parse(answer(topic, JSON.stringify(element)).text) as {
      readonly error: { path: string; message: string };
    }
  ).error;

const ajv = new Ajv2020({ strict: false });
const accepts = ajv.compile(topic.inputSchema);
const describes = ajv.compile(topic.outputSchema);

const box = [
  [4, 1500],
  [4.5, 1500],
  [4.5, 3000],
  [4, 3000],
];
const lateral = [
  [-0.1, 1500],
  [0.1, 1500],
  [0.1, 3000],
  [-0.1, 3000],
];
const craft = { name: "empty", mass_kg: 2000, x_m: 4.2, y_m: 0.02 };
const burn = {
  tank: [
    [0, 4, 0],
    [400, 4.4, 0],
  ],
  from_kg: 400,
  to_kg: 100,
};

describe("preen calc load", () => {
  test("answers without limits and without fuel", () => {
    const result = compute({ items: [craft, { mass_kg: 500, x_m: 3.2 }] });
    expect(result).toEqual({
      mass_kg: 2500,
      x_m: 4,
      y_m: 0.016,
      moments: { x_kgm: 10_000, y_kgm: 40 },
      inside: { longitudinal: null, lateral: null },
      margins: { longitudinal: null, lateral: null },
    });
  });

  test("answers with the fuel at the start, margins there, and the whole burn", () => {
    const element = { items: [craft], longitudinal: box, lateral, burn };
    const result = compute(element);
    expect(result.mass_kg).toBe(2400);
    expect(result.x_m).toBeCloseTo((8400 + 1760) / 2400, 12);
    expect(result.inside).toEqual({ longitudinal: true, lateral: true });
    expect(result.margins["longitudinal"]).toEqual({
      heavier_kg: 600,
      lighter_kg: 900,
      forward_m: expect.closeTo(10_160 / 2400 - 4, 12) as unknown,
      aft_m: expect.closeTo(4.5 - 10_160 / 2400, 12) as unknown,
    });
    expect(result.track.start).toMatchObject({ fuel_kg: 400, mass_kg: 2400 });
    expect(result.track.end).toMatchObject({ fuel_kg: 100, mass_kg: 2100 });
    expect(result.track.crossings).toEqual([]);
    expect(result.worst).toEqual({
      fuel_kg: 100,
      axis: "lateral",
      margin_m: expect.closeTo(0.1 - 40 / 2100, 12) as unknown,
    });
    expect(accepts(element)).toBe(true);
    expect(describes(result)).toBe(true);
  });

  test("names the axis and the fuel of every crossing, in the order of burning", () => {
    const narrow = [
      [4.19, 1500],
      [4.21, 1500],
      [4.21, 3000],
      [4.19, 3000],
    ];
    const result = compute({ items: [craft], longitudinal: narrow, burn });
    expect(result.inside.longitudinal).toBe(false);
    // 8400 + 4f + 0.001f² = 4.21 (2000 + f), and = 4.19 (2000 + f) is never met.
    const [crossing, ...others] = result.track.crossings;
    expect(others).toEqual([]);
    expect(crossing!.axis).toBe("longitudinal");
    expect(crossing!.fuel_kg).toBeCloseTo((0.21 + Math.sqrt(0.21 ** 2 + 4 * 0.001 * 20)) / 0.002, 9);
    expect(result.worst.fuel_kg).toBe(400);
  });

  test("says null for an arm margin where the mass is beyond the limit, and the result fits its schema", () => {
    const result = compute({ items: [{ ...craft, mass_kg: 3000 }], longitudinal: box, burn });
    expect(result.inside.longitudinal).toBe(false);
    expect(result.worst).toEqual({ fuel_kg: 400, axis: "longitudinal", margin_m: null });
    expect(result.margins["longitudinal"]).toEqual({
      heavier_kg: -400,
      lighter_kg: 1900,
      forward_m: null,
      aft_m: null,
    });
    expect(describes(result)).toBe(true);
  });

  test("says null for the worst where no limit was given", () => {
    expect(compute({ items: [craft], burn }).worst).toBeNull();
  });
});

describe("the units form of preen calc load", () => {
  const inKg = compute({
    items: [
      { mass_lb: 4000, x_in: 165, y_in: 1 },
      { mass_lb: 200, x_in: 90, y_in: 0 },
      { mass_kg: 50, x_m: 4 },
    ],
    longitudinal: [
      [4, 1500],
      [4.5, 1500],
      [4.5, 3000],
    ],
  });

  test.each([
    ["keys without a unit", { mass: 4000, x: 165, y: 1 }, { mass: 200, x: 90 }],
    ["texts", "4000 165 1", " 200  90 "],
    ["bare arrays", [4000, 165, 1], [200, 90]],
    [
      "keys with a unit, which stay in it",
      { mass_lb: 4000, x_in: 165, y_in: 1 },
      { mass_lb: 200, x_mm: 2286 },
    ],
  ])("takes items as %s", (_, ...items) => {
    const toLb = 1 / 0.453_592_37;
    const toIn = 1 / 0.0254;
    const element = {
      units: { mass: "lb", length: "in" },
      items: [...items, { mass_kg: 50, x_m: 4 }],
      longitudinal: [
        [4 * toIn, 1500 * toLb],
        [4.5 * toIn, 1500 * toLb],
        [4.5 * toIn, 3000 * toLb],
      ],
    };
    const result = compute(element);
    for (const key of ["mass_kg", "x_m", "y_m"] as const) expect(result[key]).toBeCloseTo(inKg[key], 10);
    expect(result.inside).toEqual(inKg.inside);
    expect(result.margins["longitudinal"]!["forward_m"]).toBeCloseTo(
      inKg.margins["longitudinal"]!["forward_m"]!,
      10,
    );
    expect(accepts(element)).toBe(true);
  });

  test("takes the tank and the burn in those units, or the burn under a key with its own", () => {
    const element = (ends: object) => ({
      units: { mass: "kg", length: "mm" },
      items: [{ mass: 2000, x: 4200 }],
      burn: {
        tank: [
          [0, 4000, 0],
          [400, 4400, 0],
        ],
        ...ends,
      },
    });
    const bare = compute(element({ from: 400, to: 100 }));
    expect(bare.track.start["x_m"]).toBeCloseTo(10_160 / 2400, 12);
    expect(compute(element({ from_kg: 400, to: 100 }))).toEqual(bare);
    expect(accepts(element({ from_kg: 400, to: 100 }))).toBe(true);
  });

  test.each([
    ["a unit that it does not offer", { units: { mass: "t", length: "m" }, items: ["1 1"] }, "units.mass"],
    ["a missing unit", { units: { mass: "kg" }, items: ["1 1"] }, "units.length"],
    [
      "a quantity under a bare key and under one with a unit",
      { units: { mass: "kg", length: "m" }, items: [{ mass: 1, mass_lb: 2, x: 1 }] },
      "items[0].mass",
    ],
    [
      "a text that is no numbers",
      { units: { mass: "kg", length: "m" }, items: ["1 1", "ten 1"] },
      "items[1]",
    ],
    [
      "a negative bare mass",
      { units: { mass: "kg", length: "m" }, items: [{ mass: -1, x: 1 }] },
      "items[0].mass",
    ],
    ["bare keys without units", { items: [{ mass: 1, x: 1 }] }, "items[0].mass"],
    ["a text without units", { items: ["1 1"] }, "items[0]"],
  ])("refuses %s", (_, element, path) => {
    expect(errorOf(element).path).toBe(path);
    expect(accepts(element)).toBe(false);
  });
});

describe("bad input to preen calc load", () => {
  test.each<[string, object, string]>([
    ["no items", {}, "items"],
    ["items that are no list", { items: 3 }, "items"],
    ["a total of nothing", { items: [] }, "items"],
    ["masses of nothing", { items: [{ mass_kg: 0, x_m: 1 }] }, "items"],
    ["a negative mass", { items: [craft, { mass_kg: -5, x_m: 1 }] }, "items[1].mass_kg"],
    ["a mass that is no number", { items: [{ mass_kg: "5", x_m: 1 }] }, "items[0].mass_kg"],
    ["a mass that is not there", { items: [{ x_m: 1 }] }, "items[0].mass_kg"],
    ["an unknown key of an item", { items: [{ mass_kg: 1, x_m: 1, z_m: 1 }] }, "items[0].z_m"],
    ["an unknown key", { items: [craft], envelope: box }, "envelope"],
    ["a quantity in two units", { items: [{ mass_kg: 1, mass_lb: 2, x_m: 1 }] }, "items[0].mass_lb"],
    ["two corners", { items: [craft], longitudinal: box.slice(2) }, "longitudinal"],
    ["a crossed polygon", { items: [craft], lateral: [box[0], box[2], box[1], box[3]] }, "lateral"],
    ["a corner of one number", { items: [craft], lateral: [[1], ...box] }, "lateral[0]"],
    ["an empty tank", { items: [craft], burn: { tank: [], from_kg: 1, to_kg: 0 } }, "burn.tank"],
    [
      "tank points out of order",
      { items: [craft], burn: { tank: [burn.tank[1], burn.tank[0]], from_kg: 1, to_kg: 0 } },
      "burn.tank[1][0]",
    ],
    ["more fuel than the tank holds", { items: [craft], burn: { ...burn, from_kg: 401 } }, "burn.from_kg"],
    ["less fuel than the tank's first point", { items: [craft], burn: { ...burn, to_kg: -1 } }, "burn.to_kg"],
    [
      "a burn that gains fuel",
      { items: [craft], burn: { ...burn, from_kg: 100, to_kg: 200 } },
      "burn.from_kg",
    ],
  ])("refuses %s and names the place", (_, element, path) => {
    expect(errorOf(element).path).toBe(path);
  });

  test("refuses a number beyond doubles", () => {
    const text = '{"items":[{"mass_kg":1e999,"x_m":1}]}';
    expect(JSON.parse(answer(topic, text).text)).toMatchObject({ error: { path: "items[0].mass_kg" } });
  });

  test("tells all that is wrong at once", () => {
    const { path, message } = errorOf({
      items: [{ mass_kg: -1, x_m: 1 }, craft, { mass_kg: 1 }],
      longitudinal: [[1, 2]],
      burn: { tank: [] },
    });
    expect(path).toBe("items[0].mass_kg");
    for (const other of ["items[2].x_m", "longitudinal", "burn.tank"]) expect(message).toContain(other);
  });

  test("answers the other elements of an array", () => {
    const { text, isComplete } = answer(topic, JSON.stringify([{ items: [] }, { items: [craft] }]));
    expect(isComplete).toBe(false);
    expect((JSON.parse(text) as [unknown, Result])[1].mass_kg).toBe(2000);
  });
});
