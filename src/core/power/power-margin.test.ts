import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { chartOf } from "../chart/chart.ts";
import { compileChart } from "../chart/compile-chart.ts";
import { stricterCredit, windCredits } from "../rules/wind-credit.ts";
import { type PowerUse, powerUses } from "../sheet/chart-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { PlainChartBlock } from "../chart/chart-schema.ts";
import { type PowerChart, powerChartsOf } from "./power-chart.ts";
import { type FlightState, powerFor, powerMargin, type Solvable, upTo, upToByAll } from "./power-margin.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;
const rule = windCredits.eu;
const charts = powerChartsOf(quill, { variant: "2", installed: {} });
const site: FlightState = { mass_kg: 2900, pressureAltitude_ft: 3000, temperature_C: 15, wind: null };
const chartFor = (use: PowerUse): PowerChart => charts.find((chart) => chart.use === use)!;

const powerOf = (block: PlainChartBlock, more: Partial<PowerChart> = {}): PowerChart => ({
  id: "one",
  use: "hoverOutOfGroundEffect",
  limit: null,
  windFactored: false,
  chart: compileChart(chartOf(block)),
  ...more,
});

describe("the charts of a sheet", () => {
  test("are those of the variant, and of every variant where it is not known", () => {
    expect(charts.map(({ id }) => id).toSorted()).toEqual([
      "climbOneEngine",
      "hottest",
      "hoverInGroundEffect2",
      "hoverOutOfGroundEffect2",
    ]);
    expect(powerChartsOf(quill, { variant: null, installed: {} })).toHaveLength(6);
  });
});

describe("a margin", () => {
  test("in mass where the chart gives the mass, with the points that were read", () => {
    const found = powerMargin(chartFor("hoverOutOfGroundEffect"), site, rule);
    // Between 2000 ft (3170, 3035) and 4000 ft (2880, 2730) at 15 °C, in calm air.
    expect(found).toMatchObject({
      is: "known",
      isMet: true,
      own: { quantity: "mass_kg", limit: 2900 },
      mass: { is: "upTo" },
      wind: { headwind_kt: 0, why: "noWind" },
    });
    if (found.is !== "known") throw new Error("not known");
    expect(found.own.value).toBeCloseTo((3170 + 3035 + 2880 + 2730) / 4, 9);
    expect(found.mass_margin_kg).toBeCloseTo(2953.75 - 2900, 9);
    expect(found.used.filter(({ step }) => step === 0)).toHaveLength(4);
  });

  test("in the chart's own quantity where that is another, and the mass solved for", () => {
    const found = powerMargin(chartFor("oneEngineInoperative"), site, rule);
    if (found.is !== "known") throw new Error("not known");
    expect(found.own).toMatchObject({ quantity: "climb_ftmin", limit: 150 });
    expect(found.own.margin).toBeCloseTo(found.own.value - 150, 12);
    if (found.mass.is !== "upTo") throw new Error(found.mass.is);
    const heaviest = { ...site, mass_kg: found.mass.value };
    const there = powerMargin(chartFor("oneEngineInoperative"), heaviest, rule);
    expect(there).toMatchObject({ isMet: true });
    expect(there.is === "known" && there.own.value).toBeCloseTo(150, 9);
    expect(
      powerMargin(chartFor("oneEngineInoperative"), { ...heaviest, mass_kg: heaviest.mass_kg + 1 }, rule),
    ).toMatchObject({
      isMet: false,
    });
  });

  test("of a temperature limit leaves the mass free", () => {
    const found = powerMargin(chartFor("operatingLimit"), { ...site, temperature_C: 44.1 }, rule);
    expect(found).toMatchObject({ isMet: false, mass: { is: "never" }, mass_margin_kg: null });
    expect(found.is === "known" && found.own.margin).toBeCloseTo(44 - 44.1, 9);
    expect(powerMargin(chartFor("operatingLimit"), { ...site, temperature_C: 44 }, rule)).toMatchObject({
      isMet: true,
      mass: { is: "always" },
    });
  });

  test("outside the chart is not known, with what was asked and the range", () => {
    expect(
      powerMargin(chartFor("hoverOutOfGroundEffect"), { ...site, temperature_C: 41 }, rule),
    ).toMatchObject({
      is: "notKnown",
      lacks: [{ why: "outside", input: "temperature_C", asked: 41, range: [-40, 40] }],
    });
    const nowhere = { ...site, pressureAltitude_ft: Number.NaN };
    for (const chart of charts) expect(powerMargin(chart, nowhere, rule).is).toBe("notKnown");
  });

  test("of several charts for a use counts the least, and one not known makes all not known", () => {
    const generous = chartFor("hoverOutOfGroundEffect");
    const strict = powerOf({
      kind: "curve",
      along: "temperature_C",
      between: "linear",
      output: "mass_kg",
      points: [
        [0, 2910],
        [16, 2905],
      ],
    });
    const both = powerFor("hoverOutOfGroundEffect", [generous, strict], site, rule);
    expect(both.margins[0]).toMatchObject({ chart: "one" });
    expect(both.isMet).toBe(true);
    expect(both.margin_kg).toBeCloseTo(5 * (1 / 16) + 5, 9);
    const hot = powerFor("hoverOutOfGroundEffect", [generous, strict], { ...site, temperature_C: 17 }, rule);
    expect(hot).toMatchObject({ isMet: null, margin_kg: null });
    // What one chart forbids is forbidden, whatever another does not know.
    const heavy = { ...site, mass_kg: 3300, temperature_C: 17 };
    expect(powerFor("hoverOutOfGroundEffect", [generous, strict], heavy, rule).isMet).toBe(false);
    expect(powerFor("climb", charts, site, rule)).toMatchObject({ isMet: null, margins: [] });
  });
});

describe("wind", () => {
  const oge = chartFor("hoverOutOfGroundEffect");
  const massIn = (headwind_kt: number, measured: boolean, chart = oge) => {
    const found = upTo(chart, "mass_kg", { ...site, wind: { headwind_kt, measured } }, rule);
    return found.is === "upTo" ? found.value : found.is;
  };

  test("half of what was measured counts, and nothing of what was not", () => {
    const calm = massIn(0, true);
    const half = upTo(
      { ...oge, windFactored: true },
      "mass_kg",
      { ...site, wind: { headwind_kt: 10, measured: true } },
      rule,
    );
    expect(massIn(20, true)).toBe(half.is === "upTo" && half.value);
    expect(massIn(20, true)).toBeGreaterThan(calm as number);
    expect(massIn(20, false)).toBe(calm);
  });

  test("more wind than the chart has counts as its end, and says so", () => {
    expect(massIn(80, true)).toBe(massIn(60, true));
    expect(powerMargin(oge, { ...site, wind: { headwind_kt: 80, measured: true } }, rule)).toMatchObject({
      wind: { headwind_kt: 30, why: "axisEnds" },
    });
  });

  test("more wind than a chart has that does not say wind helps is outside, not its end", () => {
    const silent = powerOf({
      kind: "grid",
      axes: [
        { input: "headwind_kt", at: [0, 20] },
        { input: "temperature_C", at: [0, 40] },
      ],
      values: [
        [3000, 2800],
        [3100, 2900],
      ],
      output: "mass_kg",
    });
    expect(powerMargin(silent, { ...site, wind: { headwind_kt: 60, measured: true } }, rule)).toMatchObject({
      is: "notKnown",
      lacks: [{ why: "outside", input: "headwind_kt", asked: 30, range: [0, 20] }],
    });
  });

  test("a tailwind that the chart does not have is not known, also where nobody measured it", () => {
    expect(massIn(-5, false, chartFor("hoverInGroundEffect"))).toBe("notKnown");
    expect(massIn(-5, true)).toBe("notKnown");
  });

  test("without an axis there is no credit", () => {
    expect(massIn(20, true, chartFor("hoverInGroundEffect"))).toBe(
      massIn(0, true, chartFor("hoverInGroundEffect")),
    );
  });

  test("an operator may count on less, never on more", () => {
    expect(stricterCredit(rule, { headwindShare: 0.3, tailwindShare: 2 })).toMatchObject({
      headwindShare: 0.3,
      tailwindShare: 2,
    });
    expect(stricterCredit(rule, { headwindShare: 0.8, tailwindShare: 1 })).toMatchObject({
      headwindShare: 0.5,
      tailwindShare: 1.5,
    });
    expect(stricterCredit(rule, {})).toEqual(rule);
  });
});

describe("the largest mass, the highest site, the hottest day", () => {
  test("each just meets the limit, and a little more does not", () => {
    const use = "hoverOutOfGroundEffect";
    for (const [input, more] of [
      ["mass_kg", 1],
      ["pressureAltitude_ft", 10],
      ["temperature_C", 0.1],
    ] as const) {
      const found = upTo(chartFor(use), input, site, rule);
      if (found.is !== "upTo") throw new Error(`${input}: ${found.is}`);
      const at = (value: number) => powerMargin(chartFor(use), { ...site, [input]: value }, rule);
      expect(at(found.value)).toMatchObject({ isMet: true });
      expect(at(found.value + more)).toMatchObject({ isMet: false });
    }
  });

  test("where the chart ends first, its end is the answer and is said to be", () => {
    const light = { ...site, mass_kg: 2000, temperature_C: 0 };
    expect(upTo(chartFor("hoverOutOfGroundEffect"), "pressureAltitude_ft", light, rule)).toEqual({
      is: "chartEnds",
      value: 10_000,
    });
    expect(
      upTo(chartFor("hoverOutOfGroundEffect"), "pressureAltitude_ft", { ...site, mass_kg: 3400 }, rule),
    ).toEqual({
      is: "never",
    });
  });

  test("beyond a height at which it is not met, a chart that is met again does not help", () => {
    const dip = powerOf({
      kind: "curve",
      along: "pressureAltitude_ft",
      between: "linear",
      output: "mass_kg",
      points: [
        [0, 3000],
        [4000, 2800],
        [8000, 3000],
      ],
    });
    expect(upTo(dip, "pressureAltitude_ft", site, rule)).toEqual({ is: "upTo", value: 2000 });
  });

  test("a limit that is not met at the chart's low end is never met, whatever comes higher", () => {
    const rising = powerOf({
      kind: "curve",
      along: "pressureAltitude_ft",
      between: "linear",
      output: "mass_kg",
      points: [
        [0, 2800],
        [8000, 3000],
      ],
    });
    expect(upTo(rising, "pressureAltitude_ft", site, rule)).toEqual({ is: "never" });
  });

  test("a mass beyond one at which the limit is not met does not meet it", () => {
    const dip = powerOf(
      {
        kind: "curve",
        along: "mass_kg",
        between: "linear",
        output: "climb_ftmin",
        points: [
          [2000, 300],
          [2500, 100],
          [3000, 300],
        ],
      },
      { limit: { atLeast: 150 } },
    );
    const found = powerMargin(dip, { ...site, mass_kg: 3000 }, rule);
    expect(found).toMatchObject({ isMet: false, own: { margin: 150 } });
    expect(found.is === "known" && found.mass_margin_kg).toBeCloseTo(2375 - 3000, 9);
  });

  test("of all charts for a use is the least", () => {
    const all = upToByAll("hoverOutOfGroundEffect", charts, "mass_kg", site, rule);
    expect(all).toEqual(upTo(chartFor("hoverOutOfGroundEffect"), "mass_kg", site, rule));
    expect(upToByAll("climb", charts, "mass_kg", site, rule)).toMatchObject({
      is: "notKnown",
      lacks: [{ why: "noChart" }],
    });
  });
});

describe("bad news never helps", () => {
  const states = fc.record({
    mass_kg: fc.double({ min: 1900, max: 3460, noNaN: true }),
    pressureAltitude_ft: fc.double({ min: 0, max: 10_000, noNaN: true }),
    temperature_C: fc.double({ min: -40, max: 40, noNaN: true }),
    wind: fc.option(
      fc.record({ headwind_kt: fc.double({ min: 0, max: 50, noNaN: true }), measured: fc.boolean() }),
    ),
  });

  test("heavier, hotter or higher never gives more margin, less wind neither", () => {
    let compared = 0;
    fc.assert(
      fc.property(
        states,
        fc.constantFrom(...powerUses),
        fc.constantFrom<Solvable | "wind">("mass_kg", "pressureAltitude_ft", "temperature_C", "wind"),
        fc.double({ min: 0, max: 0.3, noNaN: true }),
        (state, use, worse, by) => {
          const worsened: FlightState =
            worse === "wind"
              ? {
                  ...state,
                  wind: state.wind && { ...state.wind, headwind_kt: state.wind.headwind_kt * (1 - by) },
                }
              : {
                  ...state,
                  [worse]:
                    state[worse] +
                    by * { mass_kg: 1000, pressureAltitude_ft: 4000, temperature_C: 30 }[worse],
                };
          const before = powerFor(use, charts, state, rule);
          const after = powerFor(use, charts, worsened, rule);
          if (after.isMet === null || before.isMet === null) return;
          compared += 1;
          if (after.isMet) expect(before.isMet).toBe(true);
          const near = 1e-7;
          if (before.margin_kg !== null && after.margin_kg !== null)
            expect(after.margin_kg).toBeLessThanOrEqual(before.margin_kg + near);
          for (const one of after.margins) {
            const other = before.margins.find((margin) => margin.chart === one.chart);
            if (one.is === "known" && other?.is === "known")
              expect(one.own.margin).toBeLessThanOrEqual(other.own.margin + near);
          }
        },
      ),
      { numRuns: 1500 },
    );
    expect(compared).toBeGreaterThan(500);
  });

  test("the largest mass is met and 1 kg more is not, wherever the chart has an answer", () => {
    fc.assert(
      fc.property(
        states,
        fc.constantFrom<PowerUse>("hoverOutOfGroundEffect", "oneEngineInoperative"),
        (state, use) => {
          const found = upToByAll(use, charts, "mass_kg", state, rule);
          if (found.is !== "upTo") return;
          expect(powerFor(use, charts, { ...state, mass_kg: found.value }, rule).isMet).toBe(true);
          expect(powerFor(use, charts, { ...state, mass_kg: found.value + 1 }, rule).isMet).not.toBe(true);
        },
      ),
      { numRuns: 500 },
    );
  });
});
