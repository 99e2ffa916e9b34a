// The minima in force as boxes against the judgement of the tables themselves (minima.ts), which published/ holds to the
// printed rows.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { MinimaUse, OperatorSettings, OwnMinima } from "../facts/situation.ts";
import { judgeMinima } from "./minima.ts";
import { bothHold, boxesOf, minimaInForce } from "./minima-in-force.ts";

const plain: OperatorSettings = { zone: "UTC", exchangeLimit_min: 60, ruleSet: "eu" };
const eu: MinimaUse = {
  ruleSet: "eu",
  operation: "hems",
  cite: "A 8.1",
  performanceClass: 2,
  airspaceVisibility_m: 1500,
};
const bound: OperatorSettings = { ...plain, minimaUses: [eu] };
const asked = { operation: "hems", light: "day", pilots: 2 } as const;
const pairs = (settings: OperatorSettings, more: object = {}) =>
  minimaInForce(settings, { ...asked, ...more })?.map(({ ceiling_ft, visibility_m }) => [
    ceiling_ft,
    visibility_m,
  ]);
const settled = (table: OwnMinima): OperatorSettings => ({
  ...bound,
  minima: [{ how: "replaced", cite: "A 8.1", edition: "7", tables: [table] }],
});

describe("the minima in force", () => {
  test("are the boxes of the table, by crew and light", () => {
    // From 500 ft the airspace asks 1500 m, from 400 ft the table 1000 m: under a higher ceiling no less is asked.
    expect(pairs(bound)).toEqual([
      [400, 1500],
      [300, 2000],
    ]);
    expect(pairs(bound, { pilots: 1 })).toEqual([
      [500, 1500],
      [400, 2000],
      [300, 3000],
    ]);
    expect(pairs(bound, { light: "night" })).toEqual([[1200, 2500]]);
    expect(pairs(bound, { light: "night", pilots: 1 })).toEqual([[1200, 3000]]);
  });

  test("are those of one pilot where nobody is on duty", () => {
    expect(pairs(bound, { pilots: null })).toEqual(pairs(bound, { pilots: 1 }));
    expect(pairs(bound, { pilots: 0 })).toEqual(pairs(bound, { pilots: 1 }));
  });

  test("bind only what the operator says the table binds", () => {
    expect(minimaInForce(plain, asked)).toBe(null);
    expect(minimaInForce(bound, { ...asked, operation: "transfer" })).toBe(null);
  });

  test("give way to the operator's own table, in its light and for its crew, and carry its citation", () => {
    const own: OwnMinima = {
      kind: "instead",
      operations: "all",
      light: "night",
      pilots: 1,
      steps: [{ ceilingFrom_ft: 1500, visibility_m: 5000 }],
    };
    expect(minimaInForce(settled(own), { ...asked, light: "night", pilots: 1 })).toEqual([
      { ceiling_ft: 1500, visibility_m: 5000, citation: { cite: "A 8.1", edition: "7", status: "operator" } },
    ]);
    expect(pairs(settled(own), { light: "night" })).toEqual([[1200, 2500]]);
    expect(pairs(settled(own))).toEqual(pairs(bound));
    // An operation that no table of the rule set binds is held to the operator's own as well.
    expect(pairs(settled({ ...own, pilots: null }), { operation: "transfer", light: "night" })).toEqual([
      [1500, 5000],
    ]);
  });

  test("hold a stricter figure beside the table", () => {
    const own: OwnMinima = {
      kind: "stricter",
      operations: ["hems"],
      light: "day",
      pilots: null,
      steps: [{ ceilingFrom_ft: 450, visibility_m: 1800 }],
    };
    expect(pairs(settled(own))).toEqual([[450, 1800]]);
  });

  test("are those of the US table for an air ambulance", () => {
    const use: MinimaUse = {
      ruleSet: "us",
      operation: "hems",
      cite: "A021",
      mountainous: true,
      local: false,
      aided: false,
    };
    const us = { ...plain, ruleSet: "us" as const, minimaUses: [use] };
    expect(pairs(us, { light: "night" })).toEqual([[1500, 5 * 1609.344]]);
    expect(pairs({ ...us, minimaUses: [{ ...use, aided: true }] }, { light: "night" })).toEqual([
      [1000, 5 * 1609.344],
    ]);
  });

  test("never allow what the table forbids, and get no worse under a higher ceiling or in a wider view", () => {
    const weather = fc.record({
      ceiling_ft: fc.integer({ min: 0, max: 2500 }),
      visibility_m: fc.integer({ min: 0, max: 8000 }),
    });
    fc.assert(
      fc.property(
        weather,
        fc.constantFrom("day" as const, "night" as const),
        fc.integer({ min: 1, max: 2 }),
        fc.constantFrom(1 as const, 2 as const, 3 as const),
        fc.constantFrom(800, 1500, 5000),
        fc.nat(500),
        (sky, light, pilots, performanceClass, airspaceVisibility_m, more) => {
          const use = { ...eu, performanceClass, airspaceVisibility_m };
          const boxes = minimaInForce({ ...plain, minimaUses: [use] }, { operation: "hems", light, pilots })!;
          const isMet = (ceiling_ft: number, visibility_m: number) =>
            boxes.some((box) => ceiling_ft >= box.ceiling_ft && visibility_m >= box.visibility_m);
          const { ceiling_ft, visibility_m } = sky;
          const { ok } = judgeMinima({ ...use, phase: "dispatch", light, pilots, ...sky });
          if (isMet(ceiling_ft, visibility_m)) {
            expect(ok).toBe(true);
            expect(isMet(ceiling_ft + more, visibility_m + more)).toBe(true);
          }
          // What the table allows from its own top step up, the boxes allow as well.
          if (ok && visibility_m >= airspaceVisibility_m && visibility_m >= 3000)
            expect(isMet(ceiling_ft, visibility_m)).toBe(true);
        },
      ),
      { numRuns: 400 },
    );
  });

  test("of two tables both are met by a box of both, whatever the order", () => {
    const box = fc.record({
      ceilingFrom_ft: fc.integer({ min: 0, max: 2000 }),
      visibility_m: fc.integer({ min: 0, max: 8000 }),
    });
    const citation = { cite: "A", edition: "1", status: "operator" } as const;
    const table = fc
      .uniqueArray(box, { minLength: 1, maxLength: 4, selector: ({ ceilingFrom_ft }) => ceilingFrom_ft })
      .map((steps) => {
        const [first, ...rest] = steps.toSorted((a, b) => b.ceilingFrom_ft - a.ceilingFrom_ft);
        return boxesOf({ steps: [first!, ...rest], citation });
      });
    const isMet = (boxes: ReturnType<typeof boxesOf>, c: number, v: number) =>
      boxes.some(({ ceiling_ft, visibility_m }) => c >= ceiling_ft && v >= visibility_m);
    fc.assert(
      fc.property(table, table, fc.nat(2500), fc.nat(9000), (one, other, c, v) => {
        const both = isMet(one, c, v) && isMet(other, c, v);
        expect(isMet(bothHold(one, other), c, v)).toBe(both);
        expect(isMet(bothHold(other, one), c, v)).toBe(both);
      }),
      { numRuns: 300 },
    );
  });
});
