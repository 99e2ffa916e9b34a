import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { families, grids, readings } from "./arbitrary-chart.ts";
import type { ChartBlock, GridBlock, PlainChartBlock } from "./chart-schema.ts";
import { chartOf } from "./chart.ts";
import { type Asked, readChart } from "./read-chart.ts";

const read = (block: ChartBlock, at: Asked) => readChart(chartOf(block), at);
function valueOf(block: ChartBlock, at: Asked): number {
  const reading = read(block, at);
  if (reading.is !== "read") throw new Error(JSON.stringify(reading));
  return reading.value;
}

const hover: GridBlock = {
  kind: "grid",
  axes: [
    { input: "pressureAltitude_ft", at: [0, 4000, 8000] },
    { input: "temperature_C", at: [-20, 0, 40] },
  ],
  values: [
    [3300, 3300, 3100],
    [3250, 3150, 2850],
    [2950, 2850, 2550],
  ],
  output: "mass_kg",
};

const family: PlainChartBlock = {
  kind: "curves",
  across: "pressureAltitude_ft",
  along: "temperature_C",
  between: "linear",
  output: "mass_kg",
  curves: [
    {
      at: 0,
      points: [
        [-20, 3300],
        [40, 3000],
      ],
    },
    {
      at: 4000,
      points: [
        [-20, 3100],
        [10, 3000],
        [30, 2800],
      ],
    },
  ],
};

describe("reading a grid", () => {
  test("is linear in both axes and names the four corners", () => {
    expect(read(hover, { pressureAltitude_ft: 1000, temperature_C: 20 })).toEqual({
      is: "read",
      value: 3300 - 100 - 0.25 * (0.5 * 150 + 0.5 * 250),
      used: [
        { at: { pressureAltitude_ft: 0, temperature_C: 0 }, value: 3300 },
        { at: { pressureAltitude_ft: 0, temperature_C: 40 }, value: 3100 },
        { at: { pressureAltitude_ft: 4000, temperature_C: 0 }, value: 3150 },
        { at: { pressureAltitude_ft: 4000, temperature_C: 40 }, value: 2850 },
      ],
    });
  });

  test("uses one point on a node and two on a line of nodes", () => {
    expect(read(hover, { pressureAltitude_ft: 8000, temperature_C: 40 })).toMatchObject({
      value: 2550,
      used: [{ value: 2550 }],
    });
    expect(read(hover, { pressureAltitude_ft: 4000, temperature_C: 20 })).toMatchObject({
      value: 3000,
      used: [{ value: 3150 }, { value: 2850 }],
    });
  });

  test("outside is not known, with what was asked and the chart's range, every input at once", () => {
    expect(read(hover, { pressureAltitude_ft: 8000.1, temperature_C: -21 })).toEqual({
      is: "notKnown",
      lacks: [
        { why: "outside", input: "pressureAltitude_ft", asked: 8000.1, range: [0, 8000], step: null },
        { why: "outside", input: "temperature_C", asked: -21, range: [-20, 40], step: null },
      ],
    });
  });

  test("what is missing or no number is not known", () => {
    expect(read(hover, { pressureAltitude_ft: 100 })).toMatchObject({
      lacks: [{ why: "missing", input: "temperature_C" }],
    });
    expect(read(hover, { pressureAltitude_ft: Number.NaN, temperature_C: 1 })).toMatchObject({
      lacks: [{ why: "notANumber", input: "pressureAltitude_ft" }],
    });
  });

  test("an end missed by a rounding is the end", () => {
    // 104 °F by the exact factors is 40.00000000000006 °C.
    expect(valueOf(hover, { pressureAltitude_ft: 0, temperature_C: 40.000_000_000_000_06 })).toBe(3100);
    expect(read(hover, { pressureAltitude_ft: 0, temperature_C: 40.000_001 }).is).toBe("notKnown");
  });

  test("of a function a + bx + cy + dxy is that function", () => {
    fc.assert(
      fc.property(
        fc.tuple(
          fc.integer({ min: -9, max: 9 }),
          fc.integer({ min: -9, max: 9 }),
          fc.integer({ min: -9, max: 9 }),
          fc.integer({ min: -9, max: 9 }),
        ),
        fc.double({ min: 0, max: 7, noNaN: true }),
        fc.double({ min: -3, max: 3, noNaN: true }),
        ([a, b, c, d], x, y) => {
          const f = (u: number, v: number): number => a + b * u + c * v + d * u * v;
          const [xs, ys] = [
            [0, 1, 4, 7],
            [-3, 0, 3],
          ];
          const block: GridBlock = {
            kind: "grid",
            axes: [
              { input: "x", at: xs },
              { input: "y", at: ys },
            ],
            values: xs.map((u) => ys.map((v) => f(u, v))),
            output: "z",
          };
          expect(valueOf(block, { x, y })).toBeCloseTo(f(x, y), 10);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe("reading a family of curves", () => {
  test("goes along each curve at its own points, then between the curves", () => {
    expect(read(family, { pressureAltitude_ft: 1000, temperature_C: 10 })).toMatchObject({
      value: 3150 - 0.25 * 150,
      used: [
        { at: { pressureAltitude_ft: 0, temperature_C: -20 }, value: 3300 },
        { at: { pressureAltitude_ft: 0, temperature_C: 40 }, value: 3000 },
        { at: { pressureAltitude_ft: 4000, temperature_C: 10 }, value: 3000 },
      ],
    });
  });

  test("both neighbours must reach there, unless the parameter is that of one curve", () => {
    expect(read(family, { pressureAltitude_ft: 10, temperature_C: 35 })).toMatchObject({
      lacks: [{ why: "outside", input: "temperature_C", asked: 35, range: [-20, 30] }],
    });
    expect(valueOf(family, { pressureAltitude_ft: 0, temperature_C: 40 })).toBe(3000);
    expect(read(family, { pressureAltitude_ft: 4000.1, temperature_C: 0 })).toMatchObject({
      lacks: [{ why: "outside", input: "pressureAltitude_ft", range: [0, 4000] }],
    });
  });

  test("a parameter missed by a rounding is that curve's", () => {
    const turned = { ...family, curves: [family.curves[1]!, { ...family.curves[0]!, at: 8000 }] };
    expect(valueOf(turned, { pressureAltitude_ft: 8000 * (1 - 1e-15), temperature_C: 40 })).toBe(3000);
    expect(read(turned, { pressureAltitude_ft: 7999, temperature_C: 40 }).is).toBe("notKnown");
  });
});

describe("guide lines", () => {
  const guides: PlainChartBlock = {
    kind: "guides",
    enter: "calm_kg",
    along: "headwind_kt",
    from: 0,
    between: "linear",
    output: "mass_kg",
    lines: [
      [
        [0, 2500],
        [20, 2700],
      ],
      [
        [0, 3000],
        [10, 3200],
        [20, 3300],
      ],
    ],
  };

  test("keep the place between two lines", () => {
    expect(valueOf(guides, { calm_kg: 2750, headwind_kt: 0 })).toBe(2750);
    expect(valueOf(guides, { calm_kg: 2750, headwind_kt: 20 })).toBeCloseTo(3000, 9);
    expect(valueOf(guides, { calm_kg: 3000, headwind_kt: 10 })).toBe(3200);
  });

  test("outside the outermost lines is outside", () => {
    expect(read(guides, { calm_kg: 3001, headwind_kt: 5 })).toMatchObject({
      lacks: [{ input: "calm_kg", range: [2500, 3000] }],
    });
  });
});

describe("a chain", () => {
  const second: PlainChartBlock = {
    kind: "curve",
    along: "mass_kg",
    between: "linear",
    output: "torque_pct",
    points: [
      [2600, 70],
      [3300, 95],
    ],
  };
  const chain: ChartBlock = { kind: "chain", steps: [hover, second] };

  test("is its steps, and says of each point which step it belongs to", () => {
    const at = { pressureAltitude_ft: 2000, temperature_C: 20 };
    const between = valueOf(hover, at);
    const reading = read(chain, at);
    expect(reading).toMatchObject({ value: valueOf(second, { mass_kg: between }) });
    expect(reading.is === "read" && reading.used.map(({ step }) => step)).toEqual([0, 0, 0, 0, 1, 1]);
  });

  test("what one step gives outside the next is not known, with the step", () => {
    expect(read(chain, { pressureAltitude_ft: 8000, temperature_C: 40 })).toEqual({
      is: "notKnown",
      lacks: [{ why: "outside", input: "mass_kg", asked: 2550, range: [2600, 3300], step: 1 }],
    });
  });
});

describe("whatever the chart", () => {
  test("a reading lies between the points it used, and on one point it is that point", () => {
    let onPoint = 0;
    fc.assert(
      fc.property(readings, ({ block, at }) => {
        const reading = read(block, at);
        if (reading.is !== "read") return;
        const last = block.kind === "chain" ? block.steps.length - 1 : undefined;
        const values = reading.used.filter(({ step }) => step === last).map(({ value }) => value);
        expect(reading.value).toBeGreaterThanOrEqual(Math.min(...values));
        expect(reading.value).toBeLessThanOrEqual(Math.max(...values));
        if (values.length === 1) onPoint += 1;
      }),
      { numRuns: 3000 },
    );
    expect(onPoint).toBeGreaterThan(100);
  });

  test("just before a point no rounding carries the reading past it", () => {
    const number = fc.integer({ min: -1e7, max: 1e7 }).map((n) => n / 9973);
    fc.assert(
      fc.property(
        number,
        number,
        fc.constantFrom(1, 3, 7.7, 1000),
        fc.integer({ min: 1, max: 4 }),
        (a, b, width, digits) => {
          const x = width * (1 - digits * 2 ** -53);
          const axes = [{ input: "x", at: [0, width, 2.5 * width] }];
          const { value } = readChart(chartOf({ kind: "grid", axes, values: [a, b, 0], output: "y" }), {
            x,
          }) as { value: number };
          expect(value).toBeGreaterThanOrEqual(Math.min(a, b));
          expect(value).toBeLessThanOrEqual(Math.max(a, b));
        },
      ),
      { numRuns: 2000 },
    );
  });

  test("every given point is read exactly", () => {
    fc.assert(
      fc.property(grids({ min: 1, max: 4 }), families, (grid, curves) => {
        for (const block of [grid, curves]) {
          const chart = chartOf(block);
          if (chart.kind === "grid") {
            chart.values.forEach((value, offset) => {
              const at = Object.fromEntries(
                chart.axes.map((axis, i) => [
                  axis.input,
                  axis.at[Math.floor(offset / chart.strides[i]!) % axis.at.length]!,
                ]),
              );
              expect(valueOf(block, at)).toBe(value);
            });
          } else if (chart.kind === "family") {
            chart.curves.forEach(({ x, y }, i) =>
              x.forEach((along, j) => {
                const at = { [chart.along]: along, [chart.across!.input]: chart.across!.at[i]! };
                expect(valueOf(block, at)).toBe(y[j]);
              }),
            );
          }
        }
      }),
      { numRuns: 150 },
    );
  });

  test("the order in which a grid's axes are written changes nothing, to the last bit", () => {
    fc.assert(
      fc.property(
        grids({ min: 3, max: 3 }).chain((block) =>
          fc.record({
            block: fc.constant(block),
            order: fc.shuffledSubarray([0, 1, 2], { minLength: 3 }),
            shares: fc.tuple(
              fc.double({ min: 0, max: 1, noNaN: true }),
              fc.double({ min: 0, max: 1, noNaN: true }),
              fc.double({ min: 0, max: 1, noNaN: true }),
            ),
          }),
        ),
        ({ block, order, shares }) => {
          const at = Object.fromEntries(
            block.axes.map((axis, i) => [
              axis.input,
              axis.at[0]! + shares[i]! * (axis.at.at(-1)! - axis.at[0]!),
            ]),
          );
          expect(read(permuted(block, order), at)).toMatchObject({ value: valueOf(block, at) });
        },
      ),
      { numRuns: 500 },
    );
  });

  test("where the points fall with an input, so does what is read", () => {
    fc.assert(
      fc.property(
        grids({ min: 2, max: 3 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (block, one, other, rest) => {
          const falling = fallingInFirst(block);
          const [first, ...others] = falling.axes;
          const on = (axis: GridBlock["axes"][number], share: number): number =>
            axis.at[0]! + share * (axis.at.at(-1)! - axis.at[0]!);
          const fixed = Object.fromEntries(others.map((axis) => [axis.input, on(axis, rest)]));
          const near = valueOf(falling, { ...fixed, [first!.input]: on(first!, Math.min(one, other)) });
          const far = valueOf(falling, { ...fixed, [first!.input]: on(first!, Math.max(one, other)) });
          expect(far - near).toBeLessThanOrEqual(1e-11);
        },
      ),
      { numRuns: 500 },
    );
  });
});

function permuted(block: GridBlock, order: readonly number[]): GridBlock {
  const counts = block.axes.map(({ at }) => at.length);
  const build = (depth: number, indices: readonly number[]): unknown => {
    if (depth === order.length) {
      return block.axes.reduce<unknown>(
        (part, _, axis) => (part as unknown[])[indices[order.indexOf(axis)]!],
        block.values,
      );
    }
    return Array.from({ length: counts[order[depth]!]! }, (_, i) => build(depth + 1, [...indices, i]));
  };
  return { ...block, axes: order.map((i) => block.axes[i]!), values: build(0, []) as readonly unknown[] };
}

/** The same grid with each row along the first axis no more than the row before it. */
function fallingInFirst(block: GridBlock): GridBlock {
  const rows = block.values;
  const lower = (before: unknown, here: unknown): unknown =>
    typeof before === "number"
      ? before - Math.abs(here as number)
      : (before as readonly unknown[]).map((part, i) => lower(part, (here as readonly unknown[])[i]));
  const values: unknown[] = [];
  for (const row of rows) values.push(values.length === 0 ? row : lower(values.at(-1), row));
  return { ...block, values };
}
