// Which configurations a catalogue allows, against trying every set of equipment there is.

import fc from "fast-check";
import { expect, test } from "vitest";
import type { Applicability } from "./applicability-schema.ts";
import { evaluate } from "./applicability.ts";
import { configurations, satisfiable } from "./configurations.ts";
import type { Catalogue } from "./configurations.ts";

const ids = ["a", "b", "c", "d"];
const some = fc.subarray(ids);
const catalogues = fc
  .array(fc.record({ excludes: some, requires: some, variants: fc.subarray(["1", "2"], { minLength: 1 }) }), {
    minLength: 4,
    maxLength: 4,
  })
  .map((rows): Catalogue => {
    const text = { en: "x", de: "x" };
    const entries = rows.map((row, at) => {
      const id = ids[at] as string;
      const others = (names: readonly string[]) => names.filter((name) => name !== id);
      return [
        id,
        {
          id,
          name: text,
          mass_kg: 1,
          x_m: 0,
          y_m: 0,
          variants: row.variants,
          excludes: others(row.excludes.slice(0, 1)),
          requires: others(row.requires.slice(0, 1)),
        },
      ] as const;
    });
    return { variants: ["1", "2"], equipment: new Map(entries) };
  });
const terms: readonly Applicability[] = [
  ...ids.map((installed) => ({ installed })),
  { variant: "1" },
  { condition: "frost" },
];
const expressions = fc
  .array(fc.tuple(fc.constantFrom(...terms), fc.boolean()), { minLength: 1, maxLength: 5 })
  .chain((parts) =>
    fc.constantFrom<"all" | "any">("all", "any").map((join): Applicability => {
      const signed = parts.map(([term, plain]): Applicability => (plain ? term : { not: term }));
      return join === "all" ? { all: signed } : { any: signed };
    }),
  );

test("an expression can come true exactly when some machine that may be built makes it so", () => {
  let possible = 0;
  fc.assert(
    fc.property(catalogues, expressions, (catalogue, expression) => {
      const found = satisfiable(expression, catalogue);
      possible += found === true ? 1 : 0;
      expect(found).toBe(byTrying(expression, catalogue));
    }),
    { numRuns: 1500 },
  );
  expect(possible).toBeGreaterThan(200);
  expect(possible).toBeLessThan(1500);
});

test("more than ten open terms at once are not tried, but said to be too many", () => {
  const catalogue: Catalogue = { variants: ["1"], equipment: new Map() };
  const wide = (size: number): Applicability => ({
    any: Array.from({ length: size }, (_, at) => ({ installed: `e${at}` })),
  });
  expect(configurations([wide(10)], catalogue)?.length).toBe(1024);
  expect(configurations([wide(11)], catalogue)).toBe(null);
});

/** Every set of equipment, kept only if it breaks no rule of the catalogue; every variant; both weathers. */
function byTrying(expression: Applicability, catalogue: Catalogue): boolean {
  for (let bits = 0; bits < 16; bits += 1) {
    const fitted = new Set(ids.filter((_, at) => (bits & (1 << at)) !== 0));
    const rows = [...fitted].map((id) => catalogue.equipment.get(id));
    if (rows.some((row) => row?.requires?.some((other) => !fitted.has(other)))) continue;
    if (rows.some((row) => row?.excludes?.some((other) => fitted.has(other)))) continue;
    for (const variant of catalogue.variants) {
      if (rows.some((row) => row?.variants?.includes(variant) === false)) continue;
      for (const frost of [true, false]) {
        const verdict = evaluate(expression, (kind, name) =>
          kind === "installed" ? fitted.has(name) : kind === "variant" ? name === variant : frost,
        );
        if (verdict.value === true) return true;
      }
    }
  }
  return false;
}
