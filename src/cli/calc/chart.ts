// `preen calc chart`: reads a chart at given inputs, or solves it for one of them (core/chart).
//
// The chart has the shape that it has in a sheet, and is checked as hard. Its keys name its own units; an input may also
// be given in another unit of the same dimension (`temperature_F` for `temperature_C`). What comes back is in the chart's
// units.

import { type Chart, chartOf } from "../../core/chart/chart.ts";
import { checkChart } from "../../core/chart/check-chart.ts";
import { compileChart } from "../../core/chart/compile-chart.ts";
import { type Lack, readChart, type UsedPoint } from "../../core/chart/read-chart.ts";
import type { Interval } from "../../core/chart/section.ts";
import { solveChart, type Unsolvable } from "../../core/chart/solve-chart.ts";
import { readingIn, readNumber, readQuantity } from "../../core/quantity/read-quantity.ts";
import { atKey, describe, refuse } from "../../core/quantity/refusal.ts";
import { type Dimension, type Unit, units, writtenUnits } from "../../core/quantity/units.ts";
import { chartSchema, type SheetChart } from "../../core/sheet/chart-blocks.ts";
import { readShape } from "../../core/sheet/draft.ts";
import { describeIssue, type SheetIssue } from "../../core/sheet/issue.ts";
import * as z from "zod";
import { anything, list, number, object, optional, orNull, text, tuple, word } from "./fields.ts";
import { CalcIssue, type Topic } from "./topic.ts";

const values = {
  type: "object",
  additionalProperties: { type: "number" },
  description: "By input, in the chart's unit or another of its dimension",
} as const;

const input = object({
  chart: anything({ $ref: "#/$defs/chart" }),
  at: optional(anything({ ...values })),
  solve: optional(
    object({
      input: text(undefined, "The input that is asked for"),
      result: number({}, "The output that it shall lead to, in the chart's unit"),
      with: optional(anything({ ...values })),
    }),
  ),
});

const point = object({
  at: anything(values),
  value: number(),
  step: optional(number({ integer: true, min: 0 }, "of a chain")),
});
const intervals = list(tuple([number(), number()]));

const output = object({
  value: orNull(number({}, "null where there is no single solution")),
  used: list(point, {}, "the surrounding points of the chart; none where there is no single solution"),
  answer: optional(
    word(
      ["one", "several", "wholeRange", "noSolution"],
      "of solve: several values or whole intervals, every value, or none",
    ),
  ),
  solutions: optional(intervals),
  reach: optional(intervals),
});

const topic: Topic = {
  topic: "chart",
  summary: "a performance chart read at given inputs, or solved for one of them",
  get inputSchema() {
    return { ...input.schema, $defs: chartDefinitions() };
  },
  outputSchema: output.schema,
  compute(element) {
    const given = input.read(element, "");
    if ((given.at === undefined) === (given.solve === undefined))
      refuse("", "contradiction", given.at === undefined ? "neither" : "both", "either at or solve");
    const chart = chartOf(readBlock(given.chart));
    return given.solve === undefined ? readAt(chart, given.at) : solveFor(chart, given.solve);
  },
};

export default topic;

function readAt(chart: Chart, at: unknown): unknown {
  const reading = readChart(chart, readValues(at, chart.inputs, "at"));
  if (reading.is === "notKnown") throw outsideChart(reading.lacks, "at", at);
  return { value: reading.value, used: reading.used };
}

type Solve = { readonly input: string; readonly result: number; readonly with: unknown };

function solveFor(chart: Chart, { input: name, result, with: fixed }: Solve): unknown {
  if (!chart.inputs.includes(name))
    refuse("solve.input", "outsideDomain", describe(name), `one of ${chart.inputs.join(", ")}`);
  const others = chart.inputs.filter((other) => other !== name);
  const asked = readValues(fixed ?? {}, others, "solve.with");
  const solution = solveChart(compileChart(chart), { input: name, with: asked }, result);
  if (solution.is === "notKnown") throw outsideChart(solution.lacks, "solve.with", fixed);
  if (solution.is === "noSolution")
    return { value: null, used: [], answer: "noSolution", reach: solution.reach };
  if (solution.is === "wholeRange")
    return { value: null, used: [], answer: "wholeRange", solutions: solution.at };
  return solved(solution.at, (value) => usedAt(readChart(chart, { ...asked, [name]: value })));
}

function solved(at: readonly Interval[], usedFor: (value: number) => readonly UsedPoint[]): unknown {
  const [only] = at;
  if (at.length !== 1 || only === undefined || only[0] !== only[1])
    return { value: null, used: [], answer: "several", solutions: at };
  return { value: only[0], used: usedFor(only[0]), answer: "one", solutions: at };
}

const usedAt = (reading: ReturnType<typeof readChart>): readonly UsedPoint[] =>
  reading.is === "read" ? reading.used : [];

/** The shape of a chart, its own definitions beside it at the top, where its references look for them. */
function chartDefinitions(): Readonly<Record<string, unknown>> {
  const {
    $schema: _,
    $defs,
    ...chart
  } = z.toJSONSchema(chartSchema, { target: "draft-2020-12", io: "input" });
  return { ...$defs, chart };
}

function readBlock(json: unknown): SheetChart {
  const shape = readShape(chartSchema, json);
  if ("issues" in shape) throw chartIssue(shape.issues);
  const issues = checkChart(shape.value);
  if (issues.length > 0) throw chartIssue(issues);
  return shape.value;
}

function chartIssue(issues: readonly SheetIssue[]): CalcIssue {
  const [first, ...rest] = issues.map((issue) => {
    const isWhole = issue.path === "$" || issue.path === "";
    return {
      path: isWhole ? "chart" : atKey("chart", issue.path),
      line: describeIssue({ ...issue, path: "" }).trimStart(),
    };
  });
  const more =
    rest.length === 0 ? "" : ` (and ${rest.length} more: ${rest.map(({ path }) => path).join(", ")})`;
  return new CalcIssue(first!.path, first!.line + more);
}

/** A number for each input, converted where it stands in another unit of the same dimension. */
function readValues(given: unknown, inputs: readonly string[], path: string): Record<string, number> {
  if (typeof given !== "object" || given === null || Array.isArray(given))
    refuse(path, "wrongKind", describe(given), "an object");
  const from = given as Readonly<Record<string, unknown>>;
  const keys = new Set(inputs.flatMap((name) => keysOf(name)));
  for (const key of Object.keys(from)) {
    if (!keys.has(key))
      refuse(atKey(path, key), "unknownKey", `the key ${describe(key)}`, `only ${inputs.join(", ")}`);
  }
  return Object.fromEntries(inputs.map((name) => [name, readValue(from, name, path)]));
}

function readValue(from: Readonly<Record<string, unknown>>, name: string, path: string): number {
  const { stem, unit } = partsOf(name);
  if (unit === null) {
    if (!Object.hasOwn(from, name)) refuse(atKey(path, name), "missing", "nothing", name);
    return readNumber(from[name], atKey(path, name));
  }
  const reading = readQuantity(from, stem, dimensionOf(unit), path);
  if (reading === null) refuse(atKey(path, name), "missing", "nothing", keysOf(name).join(", "));
  return readingIn(reading, unit as never);
}

type WrittenUnit = (typeof writtenUnits)[Dimension][number];

function partsOf(name: string): { readonly stem: string; readonly unit: WrittenUnit | null } {
  const at = name.lastIndexOf("_");
  const unit = name.slice(at + 1);
  const isUnit =
    at > 0 && Object.values(writtenUnits).some((all) => (all as readonly string[]).includes(unit));
  return isUnit ? { stem: name.slice(0, at), unit: unit as WrittenUnit } : { stem: name, unit: null };
}

const dimensionOf = (unit: Unit): Dimension => units[unit].dimension;

/** The keys under which an input may stand. */
function keysOf(name: string): readonly string[] {
  const { stem, unit } = partsOf(name);
  return unit === null ? [name] : writtenUnits[dimensionOf(unit)].map((other) => `${stem}_${other}`);
}

const isGiven = (given: unknown, key: string): boolean =>
  typeof given === "object" && given !== null && Object.hasOwn(given, key);

/** What cannot be read, all of it: the first with what was found and wanted, of the rest where they stand. */
function outsideChart(lacks: readonly (Lack | Unsolvable)[], path: string, given: unknown): CalcIssue {
  const [first, ...rest] = lacks.map((lack) => lackText(lack, path, given));
  const more = rest.length === 0 ? "" : ` (and ${rest.length} more: ${rest.map(([at]) => at).join(", ")})`;
  return new CalcIssue(first![0], first![1] + more);
}

function lackText(
  lack: Lack | Unsolvable,
  path: string,
  given: unknown,
): readonly [path: string, line: string] {
  const step = lack.step === null ? "" : `.steps[${lack.step}]`;
  if (lack.why === "severalWays") {
    const wanted = `${lack.input} to enter at one step, or monotone declared wherever it acts`;
    return [`chart${step}`, `expected ${wanted}, found neither`];
  }
  const key = keysOf(lack.input).find((name) => isGiven(given, name));
  const wanted =
    lack.range === null ? "a value" : `${lack.range[0]} … ${lack.range[1]}, the range of the chart`;
  const where = key === undefined ? `chart${step}` : atKey(path, key);
  return [where, `expected ${lack.input} in ${wanted}, found ${lack.asked ?? "nothing"}`];
}
