// Cross rules of a sheet about its charts: each sound in itself (core/chart), named in known units, plausible in them, and
// fit for what it is used for.

import { checkChart } from "../chart/check-chart.ts";
import type { PlainChartBlock } from "../chart/chart-schema.ts";
import { chartOf } from "../chart/chart.ts";
import { nodeNumbers } from "../chart/node-numbers.ts";
import { powerUses } from "./chart-blocks.ts";
import type { ChartUse, PowerUse, SheetChart } from "./chart-blocks.ts";
import type { Draft } from "./draft.ts";
import type { Say } from "./issue.ts";

type Range = readonly [low: number, high: number];

/** What a number may plausibly be, by its name or else by its unit; wide, to notice another unit only. */
const plausibleNames: Readonly<Record<string, Range>> = {
  temperature_C: [-80, 80],
  pressureAltitude_ft: [-2000, 25_000],
};
const plausibleUnits: Readonly<Record<string, Range>> = {
  kg: [0, 20_000],
  ft: [-2000, 50_000],
  m: [-1000, 20_000],
  nm: [0, 500],
  C: [-80, 1500],
  K: [0, 1800],
  kt: [-250, 250],
  kgh: [0, 3000],
  bar: [0, 700],
  hPa: [0, 1200],
  pct: [-50, 200],
  ftmin: [-6000, 6000],
  deg: [-360, 360],
  rpm: [0, 100_000],
  Nm: [-50_000, 50_000],
  kW: [0, 10_000],
  V: [0, 400],
  L: [0, 10_000],
  mm: [-1000, 10_000],
  min: [0, 1440],
  h: [0, 20_000],
  count: [0, 1_000_000],
  ratio: [-1000, 1000],
};

/** What a flight gives to a chart of power, and what of it can be a limit by itself. */
const givenForPower: readonly string[] = ["mass_kg", "pressureAltitude_ft", "temperature_C", "headwind_kt"];
const limitedByItself: readonly string[] = ["mass_kg", "pressureAltitude_ft", "temperature_C"];
const givenForFlow: readonly string[] = ["tas_kt", "mass_kg", "pressureAltitude_ft", "temperature_C"];

export function checkCharts(draft: Draft, say: Say): void {
  for (const { path, value: chart } of draft.charts.elements) {
    const issues = checkChart(chart);
    for (const { path: inside, code, found, wanted } of issues)
      say(inside === "" ? path : `${path}.${inside}`, code, found, wanted);
    checkUnits(path, chart, say);
    if (chart.use !== undefined && issues.length === 0) checkUse(path, chart, chart.use, draft, say);
  }
  if (draft.charts.whole) checkPowerNeeds(draft, say);
}

/** What an operation needs of the charts must be in them. */
function checkPowerNeeds(draft: Draft, say: Say): void {
  const uses = new Set(draft.charts.elements.map(({ value }) => value.use?.for));
  for (const { path, value } of draft.operations.elements) {
    value.needs.power.forEach((use, i) => {
      if (!uses.has(use)) say(`${path}.needs.power[${i}]`, "powerUnsaid", use);
    });
  }
}

function checkUnits(path: string, chart: SheetChart, say: Say): void {
  const steps: readonly (readonly [string, PlainChartBlock])[] =
    chart.kind === "chain" ? chart.steps.map((step, i) => [`${path}.steps[${i}]`, step]) : [[path, chart]];
  for (const [at, step] of steps) {
    for (const { path: inside, name, numbers } of nodeNumbers(step)) {
      const range = plausibleRange(name);
      if (range === null) {
        say(`${at}.${inside}`, "unitUnknown", name);
        continue;
      }
      for (const [where, value] of numbers) checkPlausible(`${at}.${where}`, value, range, say);
    }
  }
  chart.controls?.forEach(({ at }, i) => {
    for (const [name, value] of Object.entries(at)) {
      const range = plausibleRange(name);
      if (range !== null) checkPlausible(`${path}.controls[${i}].at.${name}`, value, range, say);
    }
  });
}

function checkPlausible(path: string, value: number, [low, high]: Range, say: Say): void {
  if (value < low || value > high) say(path, "range", value, [low, high]);
}

function plausibleRange(name: string): Range | null {
  if (Object.hasOwn(plausibleNames, name)) return plausibleNames[name]!;
  const unit = name.split("_")[1] ?? "";
  return Object.hasOwn(plausibleUnits, unit) ? plausibleUnits[unit]! : null;
}

const isPowerUse = (use: ChartUse["for"]): use is PowerUse => (powerUses as readonly string[]).includes(use);

function checkUse(path: string, block: SheetChart, use: ChartUse, draft: Draft, say: Say): void {
  const { inputs, output } = chartOf(block);
  const onlyGiven = (given: readonly string[]): void => {
    for (const input of inputs) if (!given.includes(input)) say(path, "notGiven", input, given);
  };
  if (use.for === "powerCheck") {
    use.gauges.forEach((id, i) => {
      const unit = draft.gauges.elements.find(({ value }) => value.id === id)?.value.unit;
      if (unit !== undefined && unit !== output.split("_")[1])
        say(`${path}.use.gauges[${i}]`, "limitUnsaid", `a gauge in ${unit}`, `one in the unit of ${output}`);
    });
    return;
  }
  if (use.for === "fuelFlow") {
    onlyGiven(givenForFlow);
    if (output !== "flow_kgh") {
      say(path, "limitUnsaid", output, "flow_kgh as output");
      return;
    }
    // Fuel is planned with the mass at a leg's start, which must be the thirstier end.
    if (inputs.includes("mass_kg") && block.kind !== "chain" && block.monotone?.["mass_kg"] !== "rising")
      say(`${path}.monotone.mass_kg`, "flowFalls", "left out or falling", "rising");
    // A leg is read at the heights and temperatures of its ends, which bound it only where the flow goes one way.
    for (const input of ["pressureAltitude_ft", "temperature_C"])
      if (inputs.includes(input) && block.kind !== "chain" && block.monotone?.[input] === undefined)
        say(`${path}.monotone.${input}`, "flowTurns", "left out", "rising or falling");
  } else if (isPowerUse(use.for)) {
    onlyGiven(givenForPower);
    const isLimit = limitedByItself.includes(output);
    if (isLimit && use.limit !== undefined)
      say(`${path}.use.limit`, "limitUnused", "a limit", `the output ${output} is one itself`);
    if (!isLimit && use.limit === undefined)
      say(`${path}.use.limit`, "limitUnsaid", "left out", `a limit for the output ${output}`);
    if (use.windFactored !== undefined && !inputs.includes("headwind_kt"))
      say(`${path}.use.windFactored`, "limitUnused", "this", "the chart has no headwind_kt");
  }
}
