import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { CraftState } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import type { Sheet } from "../sheet/schema.ts";
import { craftOf, loading, quill, situation } from "./arbitrary-call.ts";
import { assessReference } from "./assess-reference.ts";

const policy = {
  contingency_pct: 10,
  hems: null,
  landmarks: false,
  extra_kg: 0,
  refuelRunning: false,
} as const;
const reasonsOf = (
  state: CraftState,
  sheet: Sheet = quill,
  elevation_ft: number | null = 36,
): readonly Reason[] => assessReference(sheet, state, situation, { elevation_ft, policy });
const of = (reasons: readonly Reason[], operation: string) =>
  reasons.filter(({ operations }) => operations.includes(operation));
const withReference = (id: string, more: object | undefined): Sheet => ({
  ...quill,
  operations: quill.operations.map(({ referenceCall, ...operation }) =>
    operation.id === id
      ? { ...operation, ...(more === undefined ? {} : { referenceCall: { ...referenceCall!, ...more } }) }
      : { ...operation, referenceCall: referenceCall! },
  ),
});

describe("the reference call of each operation", () => {
  test("says nothing where everything is met", () => {
    expect(of(reasonsOf(craftOf(420)), "dayVfr")).toEqual([]);
  });

  test("that the sheet does not have leaves mass, power and fuel not known", () => {
    expect(of(reasonsOf(craftOf(420), withReference("dayVfr", undefined)), "dayVfr")).toMatchObject([
      { code: "reference.missing", effect: "unknown" },
    ]);
  });

  test("asks for fuel that is missing, with how much", () => {
    const [short] = of(reasonsOf(craftOf(250)), "dayVfr");
    expect(short).toMatchObject({
      code: "reference.fuelShort",
      effect: "blocks",
      remedy: { code: "fuel.add" },
    });
    const { fuel_kg, required_kg, short_kg } = short!.facts;
    expect(Number(required_kg) - Number(fuel_kg)).toBeCloseTo(Number(short_kg), 9);
    expect(of(reasonsOf(craftOf(Math.ceil(Number(required_kg)) + 5)), "dayVfr")).toEqual([]);
  });

  test("flies each of its ways in its own length, whichever of them is the long one", () => {
    const required = (more: object): number => {
      const short = of(reasonsOf(craftOf(60), withReference("dayVfr", more)), "dayVfr");
      return Number(short.find(({ code }) => code === "reference.fuelShort")?.facts["required_kg"]);
    };
    const near = { toScene_nm: 10, toHospital_nm: 10, toBase_nm: 10 };
    const least_kg = required(near);
    for (const way of ["toScene_nm", "toHospital_nm", "toBase_nm"]) {
      const more_kg = required({ ...near, [way]: 70 }) - least_kg;
      // 60 miles more at 132 kt and some 235 kg/h, and a tenth of it as contingency.
      expect(more_kg).toBeGreaterThan(105);
      expect(more_kg).toBeLessThan(130);
    }
  });

  test("by instruments needs its alternate, or the sheet's word that none is required", () => {
    const unsaid = withReference("ifr", { toAlternate_nm: undefined });
    expect(of(reasonsOf(craftOf(420), unsaid), "ifr")).toMatchObject([
      { code: "reference.notKnown", effect: "unknown", facts: { matter: "fuel", what: "alternate" } },
    ]);
    const required = (toAlternate_nm: number): number =>
      Number(
        of(reasonsOf(craftOf(60), withReference("ifr", { toAlternate_nm })), "ifr").find(
          ({ code }) => code === "reference.fuelShort",
        )?.facts["required_kg"],
      );
    const alternate_kg = required(30) - required(0);
    expect(alternate_kg).toBeGreaterThan(50);
    expect(alternate_kg).toBeLessThan(57);
  });

  test("of a site too high and hot becomes the highest site at which it is met", () => {
    const sheet = withReference("dayVfr", { siteElevation_ft: 6_000, temperature_C: 22 });
    const [limit] = of(reasonsOf(craftOf(420), sheet), "dayVfr");
    expect(limit).toMatchObject({ code: "reference.siteUpTo", effect: "limits" });
    const upTo_ft = limit!.limit!.value;
    expect(upTo_ft).toBeLessThan(6_000);
    // With the same air there it is met, and a foot higher it is not. The air is measured at the highest site.
    const warmer = (elevation_ft: number) => 22 + (6_000 - elevation_ft) * 0.0065 * 0.3048;
    const at = (elevation_ft: number) =>
      of(
        reasonsOf(
          craftOf(420),
          withReference("dayVfr", { siteElevation_ft: elevation_ft, temperature_C: warmer(elevation_ft) }),
        ),
        "dayVfr",
      );
    expect(at(upTo_ft - 0.01)).toEqual([]);
    expect(at(upTo_ft + 1).map(({ code }) => code)).toEqual(["reference.siteUpTo"]);
  });

  test("that not even the base's height allows blocks", () => {
    const sheet = withReference("dayVfr", { siteElevation_ft: 9_500, temperature_C: 35 });
    expect(of(reasonsOf(craftOf(555), sheet, null), "dayVfr").map(({ code }) => code)).toContain(
      "reference.powerShort",
    );
  });

  test("outside a chart is not known", () => {
    const sheet = withReference("dayVfr", { siteElevation_ft: 14_000 });
    expect(of(reasonsOf(craftOf(420), sheet), "dayVfr")).toMatchObject([
      { code: "reference.notKnown", effect: "unknown" },
      { code: "reference.oxygenShort", effect: "blocks" },
    ]);
  });

  test("asks again when the oxygen that it counts on is read anew", () => {
    const high = withReference("dayVfr", { siteElevation_ft: 10_400, temperature_C: -20 });
    const carrying: Sheet = {
      ...high,
      // Its charts end lower, and what they leave open would be told first.
      operations: high.operations.map((one) => ({ ...one, needs: { ...one.needs, power: [] } })),
      equipment: quill.equipment.map((one) =>
        one.id === "medicalOxygen"
          ? { ...one, breathing: { person_min: 6_000, gauge: "oxygenPressure" } }
          : one,
      ),
    };
    const read = (value: number): CraftState["readings"] => ({
      oxygenPressure: [
        {
          entry: `read ${value}`,
          by: "someone",
          at_ms: situation.now_ms - 60_000,
          gauge: "oxygenPressure",
          value,
          unit: "bar",
          typed: String(value),
          walk: null,
          conditions: { oat_C: 20, bottle_C: 20 },
          hours_h: null,
        },
      ],
    });
    const state = craftOf(420);
    const short = (readings: CraftState["readings"]) =>
      of(reasonsOf({ ...state, readings }, carrying), "dayVfr").some(
        ({ code, facts }) => code === "reference.oxygenShort" || facts["matter"] === "oxygen",
      );
    expect(short(read(150))).toBe(false);
    // The same load, and a bottle that is all but empty.
    expect(short(read(20))).toBe(true);
    expect(short(read(150))).toBe(false);
  });

  test("of a patient too heavy becomes the greatest that mass and balance bear", () => {
    const lighter = quill.type.variants.map((variant) => ({ ...variant, maxTakeoffMass_kg: 2_920 }));
    const at = (patient_kg: number): readonly Reason[] => {
      const near = { patient_kg, toScene_nm: 2, siteElevation_ft: 36, temperature_C: 0 };
      const sheet = { ...withReference("transfer", near), type: { ...quill.type, variants: lighter } };
      return of(reasonsOf(craftOf(425), sheet), "transfer").filter(
        ({ code }) => code === "reference.patientUpTo",
      );
    };
    const [limit] = at(160);
    expect(limit).toMatchObject({
      effect: "limits",
      limit: { quantity: "patientMass_kg", stricter: "lower" },
    });
    expect(limit!.limit!.value).toBeGreaterThan(0);
    expect(at(Math.floor(limit!.limit!.value))).toEqual([]);
    expect(at(Math.ceil(limit!.limit!.value) + 1)).toHaveLength(1);
  });

  test("leaves it to mass and balance to say that nothing is loaded", () => {
    const state = craftOf(420);
    expect(reasonsOf({ ...state, load: { ...state.load, loadings: [] } })).toEqual([]);
    expect(reasonsOf({ ...state, load: { ...state.load, weighings: [] } })).toEqual([]);
  });

  test("takes of two loadings the smaller fuel for the way and the larger for mass", () => {
    const state = craftOf(420);
    const both = {
      ...state,
      load: { ...state.load, loadings: [loading(420), loading(240, { entry: "other" })] },
    };
    const codes = of(reasonsOf(both), "dayVfr").map(({ code }) => code);
    expect(codes).toContain("reference.fuelShort");
  });

  test("is never better for more on board, nor for a longer way", () => {
    const worse = (code: Reason["code"]) => ["reference.overloaded", "reference.powerShort"].includes(code);
    const limit = (reasons: readonly Reason[], quantity: string) =>
      Math.min(...reasons.flatMap((one) => (one.limit?.quantity === quantity ? [one.limit.value] : [])));
    fc.assert(
      fc.property(fc.integer({ min: 250, max: 555 }), fc.integer({ min: 1, max: 60 }), (fuel_kg, more_kg) => {
        const heavier = (mass_kg: number) => {
          const state = craftOf(fuel_kg, { variant: "2" });
          const kit = [{ kit: "box", name: "box", mass_kg, at: "cabinFloor" }];
          return reasonsOf({ ...state, load: { ...state.load, loadings: [loading(fuel_kg, { kit })] } });
        };
        const [was, is] = [heavier(10), heavier(10 + more_kg)];
        for (const { id } of quill.operations) {
          const [before, after] = [of(was, id), of(is, id)];
          if (before.some(({ code }) => worse(code)))
            expect(after.some(({ code }) => worse(code))).toBe(true);
          else if (!after.some(({ code }) => worse(code)))
            expect(limit(after, "siteElevation_ft")).toBeLessThanOrEqual(
              limit(before, "siteElevation_ft") + 1e-3,
            );
        }
      }),
      { numRuns: 4 },
    );
  });
});
