// Every row of minima.json against the rule sets: on the limit, just below it, and between the printed steps.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { advisorySpeed, airspaceMinima, flownIn30s, specialVfrMinima } from "../src/core/rules/eu-minima.ts";
import { judgeMinima, type MinimaQuestion } from "../src/core/rules/minima.ts";
import {
  statuteMile_m,
  usObstacleClearance,
  usProceedVisually,
  usUncontrolled,
} from "../src/core/rules/us-minima.ts";
import data from "./minima.json" with { type: "json" };

const eu = {
  ruleSet: "eu",
  phase: "dispatch",
  light: "day",
  performanceClass: 1,
  pilots: 1,
  airspaceVisibility_m: 5000,
  ceiling_ft: 2000,
  visibility_m: 9000,
} as const satisfies MinimaQuestion;
const us = { ...eu, ruleSet: "us", mountainous: false, local: true, nvis: false, htaws: false } as const;

/** Met on both limits, short by one metre and (below the lowest floor) by one foot. */
function expectRow(question: MinimaQuestion, ceiling_ft: number, visibility_m: number): void {
  expect(judgeMinima({ ...question, ceiling_ft, visibility_m }).short).toEqual([]);
  expect(judgeMinima({ ...question, ceiling_ft, visibility_m: visibility_m - 1 }).short).toEqual([
    "visibility",
  ]);
}

describe("the EU table of 2012", () => {
  test("asks each day cell its visibility, at both ends of the step and between the printed feet", () => {
    let cells = 0;
    for (const [from, to, two, one] of data.euDay.rows) {
      for (const [pilots, cell] of [
        [2, two],
        [1, one],
      ] as const) {
        const visibility_m = cell === "airspace" ? eu.airspaceVisibility_m : Number(cell);
        const top = to === null ? [] : [Number(to), Number(to) + 0.5];
        for (const ceiling_ft of [Number(from), ...top])
          expectRow({ ...eu, pilots }, ceiling_ft, visibility_m);
        cells += 1;
      }
    }
    expect(cells).toBe(6);
    expect(judgeMinima({ ...eu, ceiling_ft: 299.9 }).short).toEqual(["ceiling"]);
  });

  test("asks the night's ceiling and visibility, and counts the short-period ceiling en route only", () => {
    const { ceiling_ft, visibility_m, shortPeriods_ft } = data.euNight;
    for (const pilots of [1, 2] as const) {
      const night = { ...eu, pilots, light: "night" } as const;
      expectRow(night, ceiling_ft, visibility_m[pilots]);
      expect(judgeMinima({ ...night, ceiling_ft: ceiling_ft - 1 }).short).toEqual(["ceiling"]);
      const enroute = { ...night, phase: "enroute" } as const;
      expect(judgeMinima({ ...enroute, ceiling_ft: shortPeriods_ft })).toMatchObject({
        ok: true,
        row: { shortPeriods: true },
      });
      expect(judgeMinima({ ...enroute, ceiling_ft: shortPeriods_ft - 1 }).ok).toBe(false);
    }
  });

  test("allows the short-period visibility to two pilots in one cell, en route, never at dispatch", () => {
    const reduced = { ...eu, pilots: 2, ceiling_ft: 450, visibility_m: data.euShortPeriods.visibility_m };
    expect(judgeMinima({ ...reduced, phase: "enroute" })).toMatchObject({
      ok: true,
      row: { shortPeriods: true },
    });
    expect(judgeMinima(reduced).ok).toBe(false);
    expect(judgeMinima({ ...reduced, phase: "enroute", pilots: 1 }).ok).toBe(false);
    expect(judgeMinima({ ...reduced, phase: "enroute", ceiling_ft: 350 }).ok).toBe(false);
  });

  test("holds performance class 3 to its own row, and at night to the night's as well", () => {
    const { ceiling_ft, visibility_m, shortPeriods_m } = data.euClass3;
    const class3 = { ...eu, performanceClass: 3 } as const;
    expectRow(class3, ceiling_ft, visibility_m);
    expect(judgeMinima({ ...class3, ceiling_ft: ceiling_ft - 1 }).short).toEqual(["ceiling"]);
    expect(judgeMinima({ ...class3, ceiling_ft, visibility_m: shortPeriods_m, phase: "enroute" }).ok).toBe(
      true,
    );
    expect(judgeMinima({ ...class3, light: "night", ceiling_ft: 1200, visibility_m: 2999 }).ok).toBe(false);
  });

  test("says which edition it is, and that the operator has to confirm it", () => {
    expect(judgeMinima(eu).citation).toMatchObject({ toBeConfirmed: true });
    expect(judgeMinima(eu).citation.edition).toContain("2012");
  });

  test("advises the printed speeds; the rule behind them is worked out beside", () => {
    for (const [visibility_m, speed_kt] of data.advisorySpeeds.rows) {
      expect(advisorySpeed(visibility_m!)).toBe(speed_kt);
      expect(advisorySpeed(visibility_m! - 0.1)).not.toBe(speed_kt);
    }
    expect(advisorySpeed(799)).toBe(null);
    for (const [speed_kt, flown_m] of data.advisorySpeeds.in30s.rows)
      expect(flownIn30s(speed_kt!)).toBeCloseTo(flown_m!, 1);
  });

  test("carries the airspace's own minima and those of special VFR", () => {
    const { fromLevel100_m, belowLevel100_m, low_m, lowUncontrolled } = airspaceMinima;
    expect({ fromLevel100: fromLevel100_m, belowLevel100: belowLevel100_m, low: low_m }).toEqual(
      data.airspace.visibility_m,
    );
    expect(lowUncontrolled).toEqual({
      atMost140kt_m: data.airspace.lowUncontrolled_m.atMost140kt,
      helicopter_m: data.airspace.lowUncontrolled_m.helicopter,
    });
    expect(specialVfrMinima).toMatchObject({
      steps: [{ ceilingFrom_ft: data.specialVfr.ceiling_ft, visibility_m: data.specialVfr.helicopter_m }],
      otherThanHelicopter_m: data.specialVfr.general_m,
      speed_kt: data.specialVfr.speed_kt,
    });
  });
});

describe("the US table", () => {
  test("asks each cell its ceiling and visibility", () => {
    let cells = 0;
    for (const [terrain, area, day, aided, unaided] of data.usAmbulance.rows as [
      string,
      string,
      number[],
      number[],
      number[],
    ][]) {
      const place = { ...us, mountainous: terrain === "mountainous", local: area === "local" };
      const night = { ...place, light: "night" } as const;
      for (const [question, cell] of [
        [place, day],
        [{ ...night, nvis: true }, aided],
        [{ ...night, htaws: true }, aided],
        [night, unaided],
      ] as const) {
        const [ceiling_ft, visibility_SM] = cell as [number, number];
        expectRow(question, ceiling_ft, visibility_SM * statuteMile_m);
        expect(judgeMinima({ ...question, ceiling_ft: ceiling_ft - 1 }).short).toEqual(["ceiling"]);
        cells += 1;
      }
    }
    expect(cells).toBe(16);
  });

  test("carries the figures beside the table", () => {
    for (const light of ["day", "night"] as const) {
      const [ceilingFrom_ft, visibility_SM] = data.usProceedVisually[light] as [number, number];
      expect(usProceedVisually[light]).toEqual({ ceilingFrom_ft, visibility_m: visibility_SM * 1609.344 });
    }
    expect(usProceedVisually.distance_nm).toBe(data.usProceedVisually.distance_nm);
    expect(usObstacleClearance).toMatchObject({ day_ft: 300, night_ft: 500 });
    expect(usUncontrolled.day_m).toBe(data.usUncontrolled.day_SM * statuteMile_m);
    expect(usUncontrolled.night_m).toBe(data.usUncontrolled.night_SM * statuteMile_m);
  });
});

const question = fc.record({
  ruleSet: fc.constantFrom("eu" as const, "us" as const),
  phase: fc.constantFrom("dispatch" as const, "enroute" as const),
  light: fc.constantFrom("day" as const, "night" as const),
  ceiling_ft: fc.double({ min: 0, max: 3000, noNaN: true }),
  visibility_m: fc.double({ min: 0, max: 10_000, noNaN: true }),
  pilots: fc.integer({ min: 1, max: 2 }),
  performanceClass: fc.integer({ min: 1, max: 3 }),
  airspaceVisibility_m: fc.constantFrom(800, 1500, 5000),
  mountainous: fc.boolean(),
  local: fc.boolean(),
  nvis: fc.boolean(),
  htaws: fc.boolean(),
});

describe("the minima of any question", () => {
  test("are never loosened by a stricter figure of the operator, and always hold it", () => {
    const step = fc.record({
      ceilingFrom_ft: fc.integer({ min: 0, max: 2000 }),
      visibility_m: fc.integer({ min: 0, max: 8000 }),
    });
    fc.assert(
      fc.property(question, step, (asked, own) => {
        const stricter = { kind: "stricter", step: own, cite: "our manual, A 8.1", edition: "7" } as const;
        const plain = judgeMinima(asked);
        const both = judgeMinima(asked, [stricter]);
        for (const short of plain.short) expect(both.short).toContain(short);
        if (asked.ceiling_ft < own.ceilingFrom_ft - 1) expect(both.ok).toBe(false);
        if (asked.visibility_m < own.visibility_m - 1) expect(both.ok).toBe(false);
      }),
      { numRuns: 300 },
    );
  });

  test("are no easier at dispatch than en route, and answer every ceiling", () => {
    fc.assert(
      fc.property(question, (asked) => {
        const dispatch = judgeMinima({ ...asked, phase: "dispatch" });
        if (dispatch.ok) expect(judgeMinima({ ...asked, phase: "enroute" }).ok).toBe(true);
        expect(dispatch.row.shortPeriods).toBe(false);
        if (dispatch.ok)
          expect(asked.ceiling_ft).toBeGreaterThanOrEqual(dispatch.row.ceilingFrom_ft * (1 - 1e-9));
      }),
      { numRuns: 300 },
    );
  });

  test("can be replaced by the operator's own table, under its own citation", () => {
    const instead = {
      kind: "instead",
      steps: [{ ceilingFrom_ft: 800, visibility_m: 4000 }],
      cite: "our manual, A 8.1",
      edition: "7",
    } as const;
    expect(judgeMinima({ ...eu, ceiling_ft: 800, visibility_m: 4000 }, [instead])).toMatchObject({
      ok: true,
      citation: { cite: "our manual, A 8.1", edition: "7", status: "operator" },
    });
    expect(judgeMinima({ ...eu, ceiling_ft: 600, visibility_m: 9000 }, [instead]).short).toEqual(["ceiling"]);
  });
});
