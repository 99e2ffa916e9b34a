// The published JSON Schema of a sheet (draft 2020-12), made from the same schema that checks it, so that an editor can
// complete a sheet and an operator's own programs can check its shape. It cannot say the cross rules; check-sheet.ts does.

import * as z from "zod";
import { sheetSchema } from "./schema.ts";

export function sheetJsonSchema(): Readonly<Record<string, unknown>> {
  return {
    ...z.toJSONSchema(sheetSchema, { target: "draft-2020-12", io: "input" }),
    title: "Preen type sheet",
    description:
      "What an operator copies out of its own approved manuals about one aircraft type. A number's unit stands last in its key; x is aft positive, y right positive.",
  };
}
