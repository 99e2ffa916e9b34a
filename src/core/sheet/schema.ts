// The type sheet: one JSON document, one schema, from which the published JSON Schema file is made
// (sheet.schema.json, kept in step by a test). What the schema alone cannot say is in check-sheet.ts.
//
// Conventions: x aft positive and y right positive from the sheet's datum; a unit stands last in a number's key; a
// point on a limit is inside; lists are arrays, so that an error's path is `items[12].opens[0]`. `sources` names for
// every block the document it was copied from; an element may carry its own `source`.
// From when a sheet holds, and who released it, stands in the operator's ledger, not here.

import * as z from "zod";
import { chartsSchema } from "./chart-blocks.ts";
import { componentSchema, programmeSchema } from "./due-blocks.ts";
import { damageSchema, deferralSchema, eventSchema } from "./finding-blocks.ts";
import {
  fuelFlowSchema,
  iceSchema,
  operationSchema,
  speedsSchema,
  windLimitSchema,
} from "./flight-blocks.ts";
import { fluidSchema, gaugeSchema } from "./gauge-blocks.ts";
import {
  compartmentSchema,
  envelopeSchema,
  hoistSchema,
  kitListSchema,
  massesSchema,
  seatSchema,
  stretcherSchema,
  tankSchema,
} from "./loading-blocks.ts";
import { id, source, text } from "./parts.ts";
import type { Infer } from "./parts.ts";
import { outlineSchema, typeSchema, zoneSchema } from "./type-block.ts";
import {
  closureSchema,
  equipmentSchema,
  itemSchema,
  orderSchema,
  sequenceSchema,
  stopSchema,
  walkValiditySchema,
} from "./walk-blocks.ts";

/** The blocks that are lists, with the schema of one element. */
export const elementSchemas = {
  zones: zoneSchema,
  equipment: equipmentSchema,
  stops: stopSchema,
  items: itemSchema,
  closures: closureSchema,
  gauges: gaugeSchema,
  fluids: fluidSchema,
  damage: damageSchema,
  deferrals: deferralSchema,
  events: eventSchema,
  seats: seatSchema,
  stretchers: stretcherSchema,
  compartments: compartmentSchema,
  kitLists: kitListSchema,
  tanks: tankSchema,
  envelopes: envelopeSchema,
  operations: operationSchema,
  windLimits: windLimitSchema,
  programme: programmeSchema,
  components: componentSchema,
} as const;
export type ListBlock = keyof typeof elementSchemas;

/** The blocks that stand once. `hoist` only where the type can carry one, `ice` where its manual has a figure. */
export const singleSchemas = {
  type: typeSchema,
  outline: outlineSchema,
  order: orderSchema,
  walkValidity: walkValiditySchema,
  sequence: sequenceSchema,
  masses: massesSchema,
  charts: chartsSchema,
  fuelFlow: fuelFlowSchema,
  speeds: speedsSchema,
} as const;
export type SingleBlock = keyof typeof singleSchemas;

/** Enough for any aircraft, small enough that a mistaken file is refused before it is looked at closely. */
const elementsMax = 2000;
const list = <Schema extends z.ZodType>(schema: Schema) => z.array(schema).max(elementsMax);

const headSchemas = {
  $schema: z.string().max(400).exactOptional().describe("Lets an editor complete the sheet"),
  format: z.literal("preen-sheet-1"),
  id,
  revision: z.string().min(1).max(60).describe("The operator's revision of this sheet"),
  title: text,
  note: text.exactOptional(),
  sources: z
    .strictObject({
      ...(Object.fromEntries(
        Object.keys({ ...singleSchemas, ...elementSchemas }).map((block) => [block, source]),
      ) as Record<SingleBlock | ListBlock, typeof source>),
      hoist: source.exactOptional(),
      ice: source.exactOptional(),
    })
    .describe("The document that each block was copied from"),
};

export const sheetSchema = z.strictObject({
  ...headSchemas,
  ...singleSchemas,
  hoist: hoistSchema.exactOptional(),
  ice: iceSchema.exactOptional(),
  zones: list(zoneSchema),
  equipment: list(equipmentSchema),
  stops: list(stopSchema).min(1),
  items: list(itemSchema).min(1),
  closures: list(closureSchema),
  gauges: list(gaugeSchema),
  fluids: list(fluidSchema),
  damage: list(damageSchema),
  deferrals: list(deferralSchema),
  events: list(eventSchema),
  seats: list(seatSchema).min(1),
  stretchers: list(stretcherSchema),
  compartments: list(compartmentSchema),
  kitLists: list(kitListSchema),
  tanks: list(tankSchema).min(1),
  envelopes: list(envelopeSchema).min(1),
  operations: list(operationSchema).min(1),
  windLimits: list(windLimitSchema),
  programme: list(programmeSchema),
  components: list(componentSchema),
});

export type Sheet = Infer<typeof sheetSchema>;
