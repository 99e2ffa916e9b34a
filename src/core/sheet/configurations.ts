// Every machine and day that a sheet allows, as far as some expressions can tell them apart.
//
// Exact, by listing: for the terms that occur, each variant with each set of equipment that the catalogue allows
// (requires and excludes followed to their ends) and each set of conditions. Conditions are taken as independent.
// Refuses more than `termsMax` equipment and condition terms at once: the list doubles with each.

import { evaluate, termsOf } from "./applicability.ts";
import type { ReadTerm, Term } from "./applicability.ts";
import type { Applicability } from "./applicability-schema.ts";
import type { Equipment } from "./walk-blocks.ts";

export const termsMax = 10;

/** What can be combined: the variants of the type and its equipment catalogue. */
export type Catalogue = {
  readonly variants: readonly string[];
  readonly equipment: ReadonlyMap<string, Equipment>;
};

/** All configurations that differ in these terms, or null where they are too many. */
export function configurations(
  expressions: readonly (Applicability | undefined)[],
  catalogue: Catalogue,
): readonly ReadTerm[] | null {
  const terms = new Map<string, Pick<Term, "kind" | "name">>();
  for (const expression of expressions) {
    if (expression === undefined) continue;
    for (const term of termsOf(expression)) terms.set(`${term.kind} ${term.name}`, term);
  }
  const open = [...terms.values()].filter((term) => term.kind !== "variant");
  if (open.length > termsMax) return null;
  const equipmentAsked = open.filter((term) => term.kind === "installed").map((term) => term.name);
  const found: ReadTerm[] = [];
  for (let bits = 0; bits < 2 ** open.length; bits += 1) {
    const chosen = new Set(
      open.filter((_, at) => (bits & (1 << at)) !== 0).map((term) => `${term.kind} ${term.name}`),
    );
    const installed = equipmentAsked.filter((name) => chosen.has(`installed ${name}`));
    const fitted = installable(installed, catalogue);
    // What is asked and not chosen must not be dragged in by what is.
    if (fitted === null || equipmentAsked.some((name) => fitted.has(name) && !installed.includes(name)))
      continue;
    for (const variant of catalogue.variants) {
      if (!carries(variant, fitted, catalogue)) continue;
      found.push((kind, name) => (kind === "variant" ? name === variant : chosen.has(`${kind} ${name}`)));
    }
  }
  return found;
}

/** Everything that must be installed along with these, or null when two of it exclude each other. */
export function installable(wanted: readonly string[], catalogue: Catalogue): ReadonlySet<string> | null {
  const fitted = new Set<string>();
  const pending = [...wanted];
  for (let name = pending.pop(); name !== undefined; name = pending.pop()) {
    if (fitted.has(name)) continue;
    fitted.add(name);
    pending.push(...(catalogue.equipment.get(name)?.requires ?? []));
  }
  for (const name of fitted) {
    if ((catalogue.equipment.get(name)?.excludes ?? []).some((other) => fitted.has(other))) return null;
  }
  return fitted;
}

/** May this variant carry all of it? */
export function carries(variant: string, fitted: ReadonlySet<string>, catalogue: Catalogue): boolean {
  return [...fitted].every((name) => catalogue.equipment.get(name)?.variants?.includes(variant) ?? true);
}

/** Can the expression ever be true? Null: too many terms to say. */
export function satisfiable(expression: Applicability, catalogue: Catalogue): boolean | null {
  return (
    configurations([expression], catalogue)?.some((read) => evaluate(expression, read).value === true) ?? null
  );
}
