// The published classes of fuel leaks as printed: FAA-H-8083-31 ch. 14 (by size) and NAVEDTRA 14315 (by return).
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import {
  byReturnSource,
  bySizeSource,
  classByReturn,
  classBySize,
  leakClasses,
  returnClasses,
  returns,
  sizeClasses,
} from "../src/core/finding/leak-class.ts";
import { convert } from "../src/core/quantity/units.ts";
import type { Inches } from "../src/core/quantity/units.ts";

type Printed = {
  readonly bySize: {
    readonly after_min: number;
    readonly classes: readonly {
      name: string;
      from_in: number;
      to_in: number | null;
      to_mm: number | null;
    }[];
    readonly worked: {
      readonly rows: readonly { diameter_in: number; dripping?: boolean; class: string }[];
    };
  };
  readonly byReturn: { readonly classes: readonly { returns: string; name: string; hazard: boolean }[] };
};
const printed = JSON.parse(readFileSync(join(import.meta.dirname, "leak-classes.json"), "utf8")) as Printed;

describe("classes by the size of the wetted area (FAA-H-8083-31, ch. 14)", () => {
  test("have the printed names, ends and waiting time", () => {
    expect(sizeClasses).toEqual(
      printed.bySize.classes.map(({ name, from_in, to_in }) => ({ name, from_in, to_in })),
    );
    expect(sizeClasses.map(({ name }) => name)).toEqual([...leakClasses]);
    expect(bySizeSource.after_min).toBe(printed.bySize.after_min);
    for (const { to_in, to_mm } of printed.bySize.classes) {
      if (to_in !== null) expect(convert(to_in as Inches, "in", "mm")).toBeCloseTo(to_mm!, 10);
    }
  });

  test("give every worked size its class, on the boundaries too", () => {
    expect(printed.bySize.worked.rows).toHaveLength(7);
    for (const { diameter_in, dripping = false, class: name } of printed.bySize.worked.rows)
      expect(classBySize(diameter_in, dripping), `${diameter_in} in`).toBe(name);
  });

  test("refuse a size that is none", () => {
    expect(() => classBySize(-1, false)).toThrow("diameter_in");
    expect(() => classBySize(Number.NaN, true)).toThrow("diameter_in");
  });
});

test("classes by return after wiping have the printed names and hazards (NAVEDTRA 14315)", () => {
  expect(printed.byReturn.classes.map(({ returns: how }) => how)).toEqual([...returns]);
  for (const { returns: how, name, hazard } of printed.byReturn.classes)
    expect(classByReturn(how as (typeof returns)[number])).toEqual({ name, hazard });
  expect(byReturnSource.document).toBe("NAVEDTRA 14315");
  expect(new Set(printed.byReturn.classes.map(({ name }) => name))).toEqual(new Set(returnClasses));
});
