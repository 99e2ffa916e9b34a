// An entry type of a base's ledger, first version. Critical: a reader that does not know it may miss bad news.
import type { z } from "zod";
import type { BaseState } from "../../core/facts/sky.ts";
import { entryType } from "../entry-type.ts";
import type { EntryMeta, EntryType, Refusal } from "../entry-type.ts";

export function baseEntry<Body>(
  type: string,
  roles: readonly string[],
  body: z.ZodType<Body>,
  reduce: (state: BaseState, body: Body, meta: EntryMeta) => BaseState | Refusal,
): EntryType<BaseState> {
  return entryType({ type, tv: 1, critical: true, roles }, body, reduce);
}
