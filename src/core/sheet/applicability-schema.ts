// The expression that says to which machines and days an item applies, in JSON:
// `{"all":[{"installed":"hoist"},{"not":{"variant":"2H"}}]}`. Evaluated in applicability.ts.

import * as z from "zod";
import { ref } from "./parts.ts";

/** Closed list: each is asked or derived by the walk; a misspelt one must not silently mean "unknown". */
export const conditions = [
  "frost",
  "snow",
  "rain",
  "dust",
  "saltWater",
  "coldSoak",
  "hot",
  "night",
  "overWater",
  "afterMaintenance",
  "afterWash",
  "afterUplift",
  "parkedOutside",
] as const;
export type Condition = (typeof conditions)[number];

export type Applicability =
  | { readonly all: readonly Applicability[] }
  | { readonly any: readonly Applicability[] }
  | { readonly not: Applicability }
  | { readonly installed: string }
  | { readonly variant: string }
  | { readonly condition: Condition };

type Writable =
  | { all: Writable[] }
  | { any: Writable[] }
  | { not: Writable }
  | { installed: string }
  | { variant: string }
  | { condition: Condition };

const branch: z.ZodType<Writable> = z.lazy(() => applicabilitySchema);

export const applicabilitySchema: z.ZodType<Writable> = z
  .union([
    z.strictObject({ all: z.array(branch).min(1).max(20) }),
    z.strictObject({ any: z.array(branch).min(1).max(20) }),
    z.strictObject({ not: branch }),
    z.strictObject({ installed: ref("equipment") }),
    z.strictObject({ variant: z.string().min(1).max(16) }),
    z.strictObject({ condition: z.enum(conditions) }),
  ])
  .meta({
    id: "applicability",
    description: "To which variant, equipment and conditions it applies",
  });
