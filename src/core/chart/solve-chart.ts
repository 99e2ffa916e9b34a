// For which values of one input does a chart give this output, or one in this band? Exact, by the chart's own pieces.
//
// In: a compiled chart, the input that is asked for, a band of outputs, the other inputs. Out: every value of the input
// for which the chart's output lies in the band (a set of intervals), and the values for which it has an answer at all.
// For a single output the answers are: one value or several, an interval where the chart is flat there, the whole range,
// or no solution, with the outputs that could be reached. Not known where another input is missing or outside.
// A single value is as near as floating point allows: of neighbouring numbers the one whose output is nearest.
//
// In a chain an input may enter at one step and act through the others: then the pieces of the steps are followed
// backwards. Where it enters at several steps (temperature often does), the chain is no such composition; it is solved
// only when `monotone` declares it rising or falling in every place and the signs agree, by halving, otherwise not known.

import type { Asked, Lack } from "./read-chart.ts";
import { onLimit } from "../quantity/compare.ts";
import { type Chain, type Chart, type PlainChart } from "./chart.ts";
import type { CompiledChart } from "./compile-chart.ts";
import { readChart } from "./read-chart.ts";
import {
  domainOf,
  imageOf,
  type Interval,
  joined,
  sectionOf,
  type Stretch,
  whereBetween,
} from "./section.ts";

export type Solution =
  /** One value stands as an interval of no width. */
  | { readonly is: "solved"; readonly at: readonly Interval[] }
  | { readonly is: "wholeRange"; readonly at: readonly Interval[] }
  | { readonly is: "noSolution"; readonly reach: readonly Interval[] }
  | { readonly is: "notKnown"; readonly lacks: readonly (Lack | Unsolvable)[] };

/** The chart can be read but not solved for this input. */
export type Unsolvable = { readonly why: "severalWays"; readonly input: string; readonly step: number };

/** The band's set, and what the chart answers for. */
export type Where = {
  readonly is: "known";
  readonly within: readonly Interval[];
  readonly domain: readonly Interval[];
};
type NotKnown = Extract<Solution, { is: "notKnown" }>;

export type Question = { readonly input: string; readonly with: Asked };

/** The values of `input` for which the chart gives `result`. */
export function solveChart(compiled: CompiledChart, question: Question, result: number): Solution {
  if (!Number.isFinite(result)) throw new RangeError("a chart is solved for a finite result");
  const path = pathOf(compiled.chart, question);
  if ("is" in path) return path;
  const within = path.between(result, result);
  if (within.length === 0) return { is: "noSolution", reach: path.reach() };
  if (isSame(within, path.domain)) return { is: "wholeRange", at: within };
  return { is: "solved", at: within.map((found) => sharpened(compiled, question, found, result)) };
}

/** The values of `input` for which the chart's output is at least `low` and at most `high`; either may be infinite. */
export function whereOutputIs(
  { chart }: CompiledChart,
  question: Question,
  low: number,
  high: number,
): Where | NotKnown {
  const path = pathOf(chart, question);
  if ("is" in path) return path;
  return { is: "known", within: path.between(low, high), domain: path.domain };
}

const isSame = (one: readonly Interval[], other: readonly Interval[]): boolean =>
  one.length === other.length &&
  one.every(([low, high], i) => low === other[i]![0] && high === other[i]![1]) &&
  one.some(([low, high]) => low < high);

type Path = {
  readonly domain: readonly Interval[];
  /** The outputs that the domain leads to; worked out only where it is asked for. */
  reach(): readonly Interval[];
  between(low: number, high: number): readonly Interval[];
};

function pathOf(chart: Chart, { input, with: fixed }: Question): Path | NotKnown {
  const lacks = chart.inputs.filter((name) => name !== input).flatMap((name) => notGiven(fixed, name));
  if (lacks.length > 0) return { is: "notKnown", lacks };
  if (!chart.inputs.includes(input)) throw new RangeError(`the chart has no input ${input}`);
  if (chart.kind === "chain") return chainPath(chart, input, fixed);
  const section = sectionOf(chart, input, fixed);
  return "why" in section ? { is: "notKnown", lacks: [section] } : plainPath(section);
}

function plainPath(section: readonly Stretch[]): Path {
  const domain = domainOf(section);
  return {
    domain,
    reach: () => imageOf(section, domain),
    between: (low, high) => whereBetween(section, low, high),
  };
}

function notGiven(fixed: Asked, input: string): Lack[] {
  const value = Object.hasOwn(fixed, input) ? fixed[input] : undefined;
  if (value !== undefined && Number.isFinite(value)) return [];
  return [
    { why: value === undefined ? "missing" : "notANumber", input, asked: null, range: null, step: null },
  ];
}

/** The steps through which the input acts, and the values of all that it does not touch. */
function chainPath({ steps, inputs }: Chain, input: string, fixed: Asked): Path | NotKnown {
  const known: Record<string, number> = {};
  for (const name of inputs) if (name !== input) known[name] = fixed[name]!;
  const moving = new Set([input]);
  const links: Link[] = [];
  const needed = reachesResult(steps);
  for (const [step, chart] of steps.entries()) {
    const through = chart.inputs.filter((name) => moving.has(name));
    if (through.length === 0) {
      const reading = readChart(chart, known);
      if (reading.is === "notKnown")
        return { is: "notKnown", lacks: reading.lacks.map((lack) => ({ ...lack, step })) };
      known[chart.output] = reading.value;
    } else {
      moving.add(chart.output);
      if (needed.has(chart.output)) links.push({ step, chart, through });
    }
  }
  const isSingle = links.every(({ through }) => through.length === 1);
  return isSingle ? singlePath(links, known) : monotonePath(links, input, known);
}

type Link = { readonly step: number; readonly chart: PlainChart; readonly through: readonly string[] };

/** The outputs that the last step rests on. */
function reachesResult(steps: readonly PlainChart[]): ReadonlySet<string> {
  const needed = new Set([steps.at(-1)!.output]);
  for (const { output, inputs } of steps.toReversed())
    if (needed.has(output)) for (const name of inputs) needed.add(name);
  return needed;
}

function singlePath(links: readonly Link[], known: Asked): Path | NotKnown {
  const sections: (readonly Stretch[])[] = [];
  for (const { step, chart, through } of links) {
    const section = sectionOf(chart, through[0]!, known);
    if ("why" in section) return { is: "notKnown", lacks: [{ ...section, step }] };
    sections.push(section);
  }
  const [first, ...rest] = sections as [readonly Stretch[], ...(readonly Stretch[])[]];
  const back = (bands: readonly Interval[], from: readonly (readonly Stretch[])[]): readonly Interval[] =>
    from.reduceRight<readonly Interval[]>(
      (within, section, i) =>
        joined(
          within.flatMap(([low, high]) => whereBetween(section, low, high, roundingInto(sections[i + 1]))),
        ),
      bands,
    );
  // What a step cannot take limits the step before it.
  const last = sections.at(-1)!;
  const domain = back(domainOf(last), sections.slice(0, -1));
  return {
    domain,
    reach: () => rest.reduce((images, section) => imageOf(section, images), imageOf(first, domain)),
    between: (low, high) => back([[low, high]], sections),
  };
}

/** By how much a value that the next step was solved for may miss a flat part of this one. */
const roundingInto = (next: readonly Stretch[] | undefined): number =>
  next === undefined
    ? 0
    : onLimit *
      Math.max(
        ...domainOf(next)
          .flat()
          .map((end) => Math.abs(end)),
      );

/** An input that enters at several steps: solvable where all that it does has one direction, declared. */
function monotonePath(links: readonly Link[], input: string, known: Asked): Path | NotKnown {
  const signs = new Map<string, number>([[input, 1]]);
  let domain: Interval | null = null;
  for (const { step, chart, through } of links) {
    const directions = through.map((name) => {
      const declared = chart.monotone[name];
      return declared === undefined ? 0 : (declared === "rising" ? 1 : -1) * signs.get(name)!;
    });
    const sign = directions[0]!;
    if (sign === 0 || directions.some((other) => other !== sign) || !isBox(chart, through))
      return { is: "notKnown", lacks: [{ why: "severalWays", input, step }] };
    signs.set(chart.output, sign);
    for (const name of through) {
      const own = ownRange(chart, name, known);
      if ("why" in own) return { is: "notKnown", lacks: [{ ...own, step }] };
      if (name === input) {
        domain = domain === null ? own : [Math.max(domain[0], own[0]), Math.min(domain[1], own[1])];
      }
    }
  }
  return followed(links, input, known, domain!, signs);
}

/** Whether the inputs that move may be moved without regard to each other. */
function isBox(chart: PlainChart, through: readonly string[]): boolean {
  if (chart.kind === "grid" || chart.across === null) return true;
  const [first] = chart.curves;
  const isEven = chart.curves.every(({ x }) => x[0] === first!.x[0] && x.at(-1) === first!.x.at(-1));
  return isEven || (through.length === 1 && through[0] === chart.along);
}

function ownRange(chart: PlainChart, name: string, known: Asked): Interval | Lack {
  if (chart.kind === "grid") {
    const { at } = chart.axes.find((axis) => axis.input === name)!;
    return [at[0]!, at.at(-1)!];
  }
  if (name === chart.across?.input) return [chart.across.at[0]!, chart.across.at.at(-1)!];
  const isAcrossFixed = chart.across === null || chart.across.input in known;
  if (!isAcrossFixed) return [chart.curves[0]!.x[0]!, chart.curves[0]!.x.at(-1)!];
  const section = sectionOf(chart, name, known);
  return "why" in section ? section : domainOf(section)[0]!;
}

/** Values along the chain at one value of the input; stops, with what it has, where a step cannot be read. */
function run(links: readonly Link[], input: string, known: Asked, x: number): Record<string, number> {
  const values: Record<string, number> = { ...known, [input]: x };
  for (const { chart } of links) {
    const reading = readChart(chart, values);
    if (reading.is === "notKnown") break;
    values[chart.output] = reading.value;
  }
  return values;
}

function followed(
  links: readonly Link[],
  input: string,
  known: Asked,
  range: Interval,
  signs: ReadonlyMap<string, number>,
): Path {
  const empty: Path = { domain: [], reach: () => [], between: () => [] };
  let [low, high] = range;
  if (low > high) return empty;
  for (const [i, { chart, through }] of links.entries()) {
    for (const name of through) {
      if (name === input) continue;
      const own = ownRange(chart, name, known) as Interval;
      const before = links.slice(0, i);
      const cut = bandOf((x) => run(before, input, known, x)[name]!, signs.get(name)!, [low, high], own);
      if (cut === null) return empty;
      [low, high] = cut;
    }
  }
  const output = links.at(-1)!.chart.output;
  const sign = signs.get(output)!;
  const valueAt = (x: number): number => run(links, input, known, x)[output]!;
  const ends = [valueAt(low), valueAt(high)] as const;
  return {
    domain: [[low, high]],
    reach: () => [[Math.min(...ends), Math.max(...ends)]],
    between(from, to) {
      const band = bandOf(valueAt, sign, [low, high], [from, to]);
      return band === null ? [] : [band];
    },
  };
}

/** Where a rising (sign 1) or falling (sign −1) function lies in a band; null where it does not. */
function bandOf(
  valueAt: (x: number) => number,
  sign: number,
  [low, high]: Interval,
  [least, most]: Interval,
): Interval | null {
  const [bottom, top] = sign > 0 ? [least, most] : [-most, -least];
  const rising = (x: number): number => sign * valueAt(x);
  if (rising(high) < bottom || rising(low) > top) return null;
  const from = rising(low) >= bottom ? low : halved((x) => rising(x) >= bottom, low, high)[1];
  const to = rising(high) <= top ? high : halved((x) => rising(x) > top, low, high)[0];
  // No number gives a value in so narrow a band: the two that enclose it, the nearer first.
  if (from > to) {
    const target = (bottom + top) / 2;
    const nearer = Math.abs(rising(from) - target) < Math.abs(rising(to) - target) ? from : to;
    return [nearer, nearer];
  }
  return [from, to];
}

/** Two neighbouring numbers, the first of which is not yet and the second is; not at `low`, is at `high`. */
function halved(is: (x: number) => boolean, low: number, high: number): readonly [number, number] {
  let [not, yes] = [low, high];
  for (;;) {
    const middle = not + (yes - not) / 2;
    if (middle <= not || middle >= yes) return [not, yes];
    if (is(middle)) yes = middle;
    else not = middle;
  }
}

/** How many times the last digit of the input is searched around a solution. */
const widthsMost = 8;

/** A single value, moved among its neighbours to where the chart's own arithmetic comes nearest. */
function sharpened(
  { chart, inputs, lookup }: CompiledChart,
  { input, with: fixed }: Question,
  found: Interval,
  target: number,
): Interval {
  if (found[0] !== found[1]) return found;
  const from = Float64Array.from(inputs, (name) => (name === input ? found[0] : fixed[name]!));
  const slot = inputs.indexOf(input);
  const out = new Float64Array(1);
  const offAt = (x: number): number => {
    from[slot] = x;
    return lookup(from, 0, out, 0) ? out[0]! - target : Number.POSITIVE_INFINITY;
  };
  let best = found[0];
  let off = Math.abs(offAt(best));
  const unit = Math.max(Math.abs(best), scaleOf(chart, input)) * 2 ** -53;
  for (let width = 1; off > 0 && width <= widthsMost; width += 1) {
    for (const x of [found[0] - width * unit, found[0] + width * unit]) {
      const other = Math.abs(offAt(x));
      if (other < off) [best, off] = [x, other];
    }
  }
  return [best, best];
}

/** The size of the numbers on an input's axis. */
function scaleOf(chart: Chart, input: string): number {
  const ends = (plain: PlainChart): readonly number[] => {
    if (plain.kind === "grid") {
      const axis = plain.axes.find((one) => one.input === input);
      return axis === undefined ? [] : [axis.at[0]!, axis.at.at(-1)!];
    }
    if (plain.across?.input === input) return [plain.across.at[0]!, plain.across.at.at(-1)!];
    return plain.along === input ? plain.curves.flatMap(({ x }) => [x[0]!, x.at(-1)!]) : [];
  };
  const steps = chart.kind === "chain" ? chart.steps : [chart];
  return Math.max(...steps.flatMap((step) => ends(step)).map((end) => Math.abs(end)));
}
