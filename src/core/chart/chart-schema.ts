// The shapes in which an operator copies charts out of its manuals: grids, curves, families of curves, guide lines, chains.
//
// An input or output is named by a key that ends in its unit: `pressureAltitude_ft`. Everything is JSON; the numbers are
// those printed, in the units printed. What a shape alone cannot say (rising, no hole, no crossing) is in check-chart.ts.
//
//   grid    `axes` in the order of nesting of `values`; linear in every axis.
//   curve   one line through `points` [along, output].
//   curves  a family: each curve belongs to a value `at` of the input `across`; between curves linear in it.
//   guides  guide lines: come in with the value `enter` at the reference line `along` = `from`, keep your place between the
//           two neighbouring lines, and read the output at the value of `along`.
//   chain   `steps`, each one of the above; an output is an input of a later step by its name.
//
// `monotone` declares for an input that the output never falls (rising) or never rises (falling) as it grows; `controls`
// are points read off the printed chart a second time, with the error that is allowed against the copied one.

import * as z from "zod";

/** Everything in a chart is read, never changed. */
type Fixed<T> = T extends object ? { readonly [Key in keyof T]: Fixed<T[Key]> } : T;

const quantityKey = z
  .string()
  .max(64)
  .regex(/^[A-Za-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)?$/)
  .describe("A quantity with its unit last: pressureAltitude_ft");

/** Far beyond any quantity of a flight, small enough that no product or quotient of two overflows. */
const largest = 1e9;
const chartNumber = z.number().min(-largest).max(largest);

const rising = (meaning: string, least = 2) => z.array(chartNumber).min(least).max(200).describe(meaning);

/** What `values` holds; the schema sees to it, and its own type leaves it open, since a type can't nest without end. */
export type Nested = number | readonly Nested[];
const nested: z.ZodType = z
  .lazy(() => z.union([chartNumber, z.array(nested)]))
  .meta({ id: "chartValues", description: "A number, or a list for the next axis" });

const point = z.tuple([chartNumber, chartNumber]).describe("[along, output]");
const points = z.array(point).min(2).max(500).meta({ id: "chartPoints", description: "By rising `along`" });
const between = z
  .enum(["linear", "pchip"])
  .describe("Between the points of a curve: straight, or the monotone cubic of Fritsch and Butland");

const monotone = z
  .record(quantityKey, z.enum(["rising", "falling"]))
  .exactOptional()
  .describe("What the output does as an input grows; held against the points");

const plainShapes = {
  grid: {
    kind: z.literal("grid"),
    axes: z
      .array(z.strictObject({ input: quantityKey, at: rising("Rising") }))
      .min(1)
      .max(8)
      .describe("In the order in which `values` is nested, outermost first"),
    values: z.array(nested).min(2).max(200),
    output: quantityKey,
    monotone,
  },
  curve: { kind: z.literal("curve"), along: quantityKey, between, points, output: quantityKey, monotone },
  curves: {
    kind: z.literal("curves"),
    across: quantityKey.describe("The parameter: linear between two curves"),
    along: quantityKey,
    between,
    curves: z
      .array(z.strictObject({ at: chartNumber, points }))
      .min(2)
      .max(100)
      .describe("By rising `at`"),
    output: quantityKey,
    monotone,
  },
  guides: {
    kind: z.literal("guides"),
    enter: quantityKey.describe("The value with which the reference line is met"),
    along: quantityKey,
    from: chartNumber.describe("Where the reference line stands"),
    between,
    lines: z.array(points).min(2).max(100).describe("By rising value at the reference line"),
    output: quantityKey,
    monotone,
  },
} as const;

const plain = z.discriminatedUnion("kind", [
  z.strictObject(plainShapes.grid),
  z.strictObject(plainShapes.curve),
  z.strictObject(plainShapes.curves),
  z.strictObject(plainShapes.guides),
]);

const control = z
  .strictObject({
    at: z.record(quantityKey, chartNumber),
    value: chartNumber,
    within: z.number().gt(0).max(largest).describe("The error that is allowed, in the output's unit"),
  })
  .meta({ id: "chartControl" });

export const chartShapes = {
  ...plainShapes,
  chain: {
    kind: z.literal("chain"),
    steps: z.array(plain).min(2).max(12).describe("In the order in which they are read"),
  },
} as const;

/** What every kind may carry beside its points. */
export const controlsShape = {
  controls: z
    .array(control)
    .max(200)
    .exactOptional()
    .describe("Points read off the printed chart a second time"),
} as const;

export type PlainChartBlock = Fixed<z.output<typeof plain>>;
export type GridBlock = Extract<PlainChartBlock, { kind: "grid" }>;
export type CurvesBlock = Extract<PlainChartBlock, { kind: "curves" }>;
export type GuidesBlock = Extract<PlainChartBlock, { kind: "guides" }>;
export type ChainBlock = { readonly kind: "chain"; readonly steps: readonly PlainChartBlock[] };
export type Control = Fixed<z.output<typeof control>>;
/** The values of a grid, nested as its axes are. */
export const nestedValues = ({ values }: GridBlock): readonly Nested[] => values as readonly Nested[];

export type ChartBlock = (PlainChartBlock | ChainBlock) & { readonly controls?: readonly Control[] };
export type Direction = "rising" | "falling";
