// Shapes that the bodies of craft entries share, and the one rule of merging: what a new fact names in `replaces`
// steps aside for it, everything else stands beside it.
import { z } from "zod";
import type { CraftState } from "../../core/facts/craft.ts";
import { isInstantText } from "../../core/facts/instant.ts";
import { entryType } from "../entry-type.ts";
import type { EntryMeta, EntryType, Refusal } from "../entry-type.ts";

/** An id from the sheet: stop, item, closure, gauge, equipment, … */
export const sheetId = z.string().regex(/^[A-Za-z][A-Za-z0-9.-]{0,63}$/u);
/** An id that the writer made: a walk, a finding, a flight. */
export const madeId = z.string().regex(/^[a-z0-9][a-z0-9-]{7,63}$/u);
export const personId = z.string().regex(/^[a-z0-9][a-z0-9-]{1,63}$/u);
/** A SHA-256 as hex: the id of an entry, the hash of a sheet or a plan. */
export const hash = z.string().regex(/^[0-9a-f]{64}$/u);
export const instant = z
  .string()
  .refine(isInstantText, { error: "an instant of the form YYYY-MM-DDTHH:MM:SS.mmmZ" });
export const words = z.string().max(2_000);
export const typed = z.string().max(200);
/** Ids of the entries that stood on the writer's screen and that this one takes the place of. */
export const replaces = z.array(hash).max(256);

/** `fact` beside every fact that it does not replace. */
export function beside<Fact extends { readonly entry: string }>(
  standing: readonly Fact[] | undefined,
  replaced: readonly string[],
  fact: Fact,
): readonly Fact[] {
  return [...(standing ?? []).filter(({ entry }) => !replaced.includes(entry)), fact];
}

/** Who walks round a craft and marks what was seen. */
export const walkers = ["pilot", "crewMember", "engineer"] as const;
const atTheCraft = ["pilot", "crewMember", "engineer", "airworthiness"] as const;

/** An entry type of a craft's ledger, first version. Critical: a reader that does not know it must not call the craft ready. */
export function craftEntry<Body>(
  type: string,
  body: z.ZodType<Body>,
  reduce: (state: CraftState, body: Body, meta: EntryMeta) => CraftState | Refusal,
  roles: readonly string[] = atTheCraft,
): EntryType<CraftState> {
  return entryType({ type, tv: 1, critical: true, roles }, body, reduce);
}

/** The same for bodies that say in which role they were written: nobody counts in a role that they do not hold. */
export function craftEntryInRole<Body>(
  type: string,
  body: z.ZodType<Body>,
  reduce: (state: CraftState, body: Body, meta: EntryMeta) => CraftState | Refusal,
  roles: readonly string[] = atTheCraft,
): EntryType<CraftState> {
  return entryType({ type, tv: 1, critical: true, roles, claims: roleClaimed }, body, reduce);
}

function roleClaimed(body: unknown): string | null {
  const { role } = body as { readonly role?: unknown };
  return typeof role === "string" ? role : null;
}

/** Those who judge findings and clear events, by the role in which they write. */
export const judgingRoles = ["pilot", "crewMember", "engineer", "airworthiness"] as const;
