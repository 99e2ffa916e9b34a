// The performance charts of a type: the points as copied (core/chart), where each comes from, and what it is used for.
//
// `use` says what a chart decides. A limit of power compares the chart's output with what is the case: where the output
// is a quantity that a flight has (mass, pressure altitude, temperature), that must not be above it; otherwise `limit`
// says on which side of which number the output must stay. Several charts may have one use: those apply whose `applies`
// fits the craft, and each of them must be kept.

import * as z from "zod";
import { chartShapes, controlsShape } from "../chart/chart-schema.ts";
import { applicabilitySchema } from "./applicability-schema.ts";
import { idPattern, ownSource, ref, text } from "./parts.ts";
import type { Infer } from "./parts.ts";

/** What a chart of power decides. */
export const powerUses = [
  "hoverInGroundEffect",
  "hoverOutOfGroundEffect",
  "oneEngineInoperative",
  "climb",
  "operatingLimit",
] as const;
export type PowerUse = (typeof powerUses)[number];

const useSchema = z
  .discriminatedUnion("for", [
    z.strictObject({
      for: z.enum(powerUses),
      limit: z
        .union([z.strictObject({ atLeast: z.number() }), z.strictObject({ atMost: z.number() })])
        .exactOptional()
        .describe("Where the output must stay, when it is no mass, pressure altitude or temperature"),
      windFactored: z
        .boolean()
        .exactOptional()
        .describe(
          "The wind axis already contains the factors on reported wind, so it is read with the wind as reported",
        ),
    }),
    z.strictObject({
      for: z.literal("powerCheck"),
      worse: z
        .enum(["higher", "lower"])
        .describe("Than the chart's: on which side a measured value is worse"),
      gauges: z
        .array(ref("a gauge"))
        .min(1)
        .max(8)
        .describe("Under which the margin is recorded, one for each engine; below 0 is no full power"),
    }),
    z.strictObject({ for: z.literal("fuelFlow") }),
  ])
  .meta({ id: "chartUse", description: "What the chart decides" });

const own = {
  ...controlsShape,
  name: text.exactOptional(),
  use: useSchema.exactOptional(),
  applies: applicabilitySchema.exactOptional(),
  ...ownSource,
};

export const chartSchema = z.discriminatedUnion("kind", [
  z.strictObject({ ...chartShapes.grid, ...own }),
  z.strictObject({ ...chartShapes.curve, ...own }),
  z.strictObject({ ...chartShapes.curves, ...own }),
  z.strictObject({ ...chartShapes.guides, ...own }),
  z.strictObject({ ...chartShapes.chain, ...own }),
]);

/** By id. */
export const chartsSchema = z.record(z.string().regex(idPattern), chartSchema);

export type SheetChart = Infer<typeof chartSchema>;
export type ChartUse = NonNullable<SheetChart["use"]>;
