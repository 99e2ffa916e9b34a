// What a chart of power says of a mass at a place: whether it is met, by how much, and what would just be met.
//
// In: a chart that limits power (hover in or out of ground effect, one engine out, climb, an operating limit), the mass,
// pressure altitude, temperature and wind, and the rule on wind. Out: the margin in the chart's own quantity and in mass,
// with the points that were read; or not known with why. Of several charts for one use each must be met: the smallest
// margin counts, and one that is not known makes the whole not known.
// Also solved: the largest mass at a site, the highest site for a mass, the hottest day for both. Each is where the limit
// is met on the whole way from the chart's low end: a chart that gives more beyond a gap does not help. Where the chart
// ends before the limit is reached, its end is the answer, said as such: what lies beyond is not known.
// A value on its limit is met, within a relative 1e−9 (law 6). Never an extrapolation.
// Check values: published/power.test.ts.

import type { Asked, Lack, UsedPoint } from "../chart/read-chart.ts";
import { readChart } from "../chart/read-chart.ts";
import { type Chart, inputRange } from "../chart/chart.ts";
import type { CompiledChart } from "../chart/compile-chart.ts";
import { type Unsolvable, whereOutputIs } from "../chart/solve-chart.ts";
import { atLeast, atMost } from "../quantity/compare.ts";
import type { WindCredit } from "../rules/wind-credit.ts";
import type { PowerUse } from "../sheet/chart-blocks.ts";
import { type ChartWind, chartWind, type SiteWind, type WindAxis } from "./chart-wind.ts";
import type { Bound, PowerChart } from "./power-chart.ts";

export type FlightState = {
  readonly mass_kg: number;
  readonly pressureAltitude_ft: number;
  readonly temperature_C: number;
  /** Null where nothing is known of it. */
  readonly wind: SiteWind | null;
};

/** What a limit can be asked for. */
export type Solvable = "mass_kg" | "pressureAltitude_ft" | "temperature_C";

/** Up to where a limit is met. */
export type UpTo =
  | { readonly is: "upTo"; readonly value: number }
  /** Met as far as the chart goes; beyond is not known. */
  | { readonly is: "chartEnds"; readonly value: number }
  /** Not met at any value that the chart has. */
  | { readonly is: "never" }
  /** Met, and the chart does not depend on it. */
  | { readonly is: "always" }
  | { readonly is: "notKnown"; readonly lacks: readonly PowerLack[] };

export type PowerLack =
  | Lack
  | Unsolvable
  | { readonly why: "tailwindNotInChart"; readonly tailwind_kt: number }
  | { readonly why: "noChart"; readonly use: PowerUse };

export type PowerMargin =
  | {
      readonly is: "known";
      readonly chart: string;
      readonly use: PowerUse;
      readonly isMet: boolean;
      /** The chart's own quantity: what it gives, what it must be compared with, and the room left; negative where exceeded. */
      readonly own: {
        readonly quantity: string;
        readonly value: number;
        readonly limit: number;
        readonly margin: number;
      };
      /** The largest mass with which it would be met, and the room left to it where there is one. */
      readonly mass: UpTo;
      readonly mass_margin_kg: number | null;
      readonly wind: ChartWind;
      readonly used: readonly UsedPoint[];
    }
  | {
      readonly is: "notKnown";
      readonly chart: string;
      readonly use: PowerUse;
      readonly lacks: readonly PowerLack[];
    };

export function powerMargin(power: PowerChart, state: FlightState, rule: WindCredit): PowerMargin {
  const { id: chart, use } = power;
  const asked = askedOf(power, state, rule);
  if ("lacks" in asked) return { is: "notKnown", chart, use, lacks: asked.lacks };
  const reading = readChart(power.chart.chart, asked.at);
  if (reading.is === "notKnown") return { is: "notKnown", chart, use, lacks: reading.lacks };
  const { value, used } = reading;
  const { side } = asked;
  const isFloor = "atLeast" in side;
  const limit = isFloor ? side.atLeast : side.atMost;
  const mass = upTo(power, "mass_kg", state, rule);
  // A chart that is met again beyond a mass at which it is not does not help.
  const isBelowLargest =
    mass.is === "upTo" || mass.is === "chartEnds" ? atMost(state.mass_kg, mass.value) : mass.is !== "never";
  return {
    is: "known",
    chart,
    use,
    isMet: isBelowLargest && isInside(value, side),
    own: {
      quantity: power.chart.chart.output,
      value,
      limit,
      margin: isFloor ? value - limit : limit - value,
    },
    mass,
    mass_margin_kg: mass.is === "upTo" || mass.is === "chartEnds" ? mass.value - state.mass_kg : null,
    wind: asked.wind,
    used,
  };
}

const isInside = (value: number, side: Bound): boolean =>
  "atLeast" in side ? atLeast(value, side.atLeast) : atMost(value, side.atMost);

const lackOf = (why: "missing" | "notANumber", input: string): Lack => ({
  why,
  input,
  asked: null,
  range: null,
  step: null,
});

const solvables: readonly string[] = ["mass_kg", "pressureAltitude_ft", "temperature_C"] satisfies Solvable[];

/** What a chart is asked, and on which side of what its output must stay. */
type AskedOf = { readonly at: Asked; readonly wind: ChartWind; readonly side: Bound };
type NotAsked = { readonly lacks: readonly PowerLack[] };

function askedOf(
  { chart: { chart }, windFactored, limit }: PowerChart,
  state: FlightState,
  rule: WindCredit,
): AskedOf | NotAsked {
  const { mass_kg, pressureAltitude_ft, temperature_C } = state;
  const given = { mass_kg, pressureAltitude_ft, temperature_C };
  const nothing = Object.entries({ ...given, headwind_kt: state.wind?.headwind_kt ?? 0 })
    .filter(([, value]) => !Number.isFinite(value))
    .map(([input]) => lackOf("notANumber", input));
  if (nothing.length > 0) return { lacks: nothing };
  const isSolvable = solvables.includes(chart.output);
  const side = isSolvable ? { atLeast: given[chart.output as Solvable] } : limit;
  if (side === null) return { lacks: [lackOf("missing", chart.output)] };
  const wind = chartWind(state.wind, windAxis(chart, side, windFactored), rule);
  if (wind.is === "tailwindNotInChart") return { lacks: [{ why: wind.is, tailwind_kt: wind.tailwind_kt }] };
  return { at: { ...given, headwind_kt: wind.headwind_kt }, wind, side };
}

function windAxis(chart: Chart, side: Bound, factored: boolean): WindAxis {
  const steps = chart.kind === "chain" ? chart.steps : [chart];
  const ofWind = steps.filter(({ inputs }) => inputs.includes("headwind_kt"));
  const ranges = ofWind.map((step) => inputRange(step, "headwind_kt"));
  const low = Math.max(...ranges.map((range) => range[0]));
  const high = Math.min(...ranges.map((range) => range[1]));
  // Only where it acts at one step, and that is the last, is the chart's answer to it what is declared of it.
  const [only] = ofWind;
  const helps = "atLeast" in side ? "rising" : "falling";
  const isHelpful = ofWind.length === 1 && only === steps.at(-1) && only?.monotone["headwind_kt"] === helps;
  return { range: ranges.length === 0 ? null : [low, high], isHelpful, factored };
}

/** The most that one of mass, pressure altitude and temperature may be, the others as in the state. */
export function upTo(power: PowerChart, input: Solvable, state: FlightState, rule: WindCredit): UpTo {
  const asked = askedOf(power, state, rule);
  if ("lacks" in asked) return { is: "notKnown", lacks: asked.lacks };
  const { chart } = power.chart;
  if (chart.output !== input && chart.inputs.includes(input)) return upToByInput(power.chart, input, asked);
  const reading = readChart(chart, asked.at);
  if (reading.is === "notKnown") return { is: "notKnown", lacks: reading.lacks };
  if (chart.output === input) return { is: "upTo", value: reading.value };
  return { is: isInside(reading.value, asked.side) ? "always" : "never" };
}

function upToByInput(chart: CompiledChart, input: Solvable, { at, side }: AskedOf): UpTo {
  const [low, high] =
    "atLeast" in side ? [side.atLeast, Number.POSITIVE_INFINITY] : [Number.NEGATIVE_INFINITY, side.atMost];
  const where = whereOutputIs(chart, { input, with: at }, low, high);
  if (where.is === "notKnown") return where;
  const [stretch] = where.domain;
  const [met] = where.within;
  if (stretch === undefined || met === undefined || met[0] > stretch[0]) return { is: "never" };
  return { is: met[1] < stretch[1] ? "upTo" : "chartEnds", value: met[1] };
}

/** What all charts for a use say together. */
export type PowerAnswer = {
  readonly use: PowerUse;
  /** Null: not known. */
  readonly isMet: boolean | null;
  /** The smallest room in mass; null where no chart gives one or one is not known. */
  readonly margin_kg: number | null;
  /** Each chart's own; the one that binds first in mass stands first. */
  readonly margins: readonly PowerMargin[];
};

export function powerFor(
  use: PowerUse,
  charts: readonly PowerChart[],
  state: FlightState,
  rule: WindCredit,
): PowerAnswer {
  const margins = charts
    .filter((chart) => chart.use === use)
    .map((chart) => powerMargin(chart, state, rule))
    .sort((a, b) => roomOf(a) - roomOf(b));
  const isUnknown = margins.length === 0 || margins.some(({ is }) => is === "notKnown");
  const isMissed = margins.some((margin) => margin.is === "known" && !margin.isMet);
  const rooms = margins.flatMap((margin) =>
    margin.is === "known" && margin.mass_margin_kg !== null ? [margin.mass_margin_kg] : [],
  );
  return {
    use,
    isMet: isMissed ? false : isUnknown ? null : true,
    margin_kg: isUnknown || rooms.length === 0 ? null : Math.min(...rooms),
    margins,
  };
}

/** What is not known binds before all else. */
const roomOf = (margin: PowerMargin): number => {
  if (margin.is === "notKnown") return Number.NEGATIVE_INFINITY;
  if (!margin.isMet && margin.mass_margin_kg === null) return Number.NEGATIVE_INFINITY;
  return margin.mass_margin_kg ?? Number.POSITIVE_INFINITY;
};

/** The most that one quantity may be by all charts for a use together: the least of theirs. */
export function upToByAll(
  use: PowerUse,
  charts: readonly PowerChart[],
  input: Solvable,
  state: FlightState,
  rule: WindCredit,
): UpTo {
  const each = charts.filter((chart) => chart.use === use).map((chart) => upTo(chart, input, state, rule));
  if (each.length === 0) return { is: "notKnown", lacks: [{ why: "noChart", use }] };
  const lacks = each.flatMap((one) => (one.is === "notKnown" ? one.lacks : []));
  if (lacks.length > 0) return { is: "notKnown", lacks };
  if (each.some(({ is }) => is === "never")) return { is: "never" };
  const bounds = each.filter((one) => one.is === "upTo" || one.is === "chartEnds");
  return bounds.reduce<UpTo>(
    (least, one) => (least.is === "always" || one.value < (least as typeof one).value ? one : least),
    { is: "always" },
  );
}
