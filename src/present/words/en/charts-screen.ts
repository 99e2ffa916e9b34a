// Words of the page on which the author of a sheet looks at its charts. They come with that page, not with the first one.
import type { CsvIssueCode } from "../../../core/chart/chart-csv.ts";
import type { ChartIssueCode } from "../../../core/chart/check-chart.ts";
import type { ChartUse } from "../../../core/sheet/chart-blocks.ts";
import { plural } from "../plural.ts";

const points = (count: number) => plural("en", count, { one: "1 point", other: `${count} points` });

export const chartsScreen = {
  title: "Charts of the sheet",
  intro:
    "The points as they were copied, and what the program reads between them. Nothing here changes a sheet.",
  none: "No sheet is held here",
  noneBody: "A sheet comes with the first machine.",
  empty: "This sheet has no charts",
  sheet: "Sheet",
  of: (title: string, revision: string) => `${title}, revision ${revision}`,
  charts: "Performance charts",
  bands: "Limits of gauges against temperature",
  all: "All charts",
  variant: (id: string) => `variant ${id}`,
  sometimes: "depends on variant or equipment",
  band: { low: "lower limit", high: "upper limit" },
  source: (document: string, revision: string, page: string) =>
    `${document}, revision ${revision}${page === "" ? "" : `, page ${page}`}`,
  count: points,
  points: "Point",
  kind: {
    grid: "Grid, straight between its points",
    curve: "One curve",
    curves: "Family of curves, straight from curve to curve",
    guides: "Guide lines from a reference line",
    chain: "Steps, one read after the other",
  },
  between: { linear: "straight between the points", pchip: "monotone cubic between the points" },
  use: {
    hoverInGroundEffect: "limits hover in ground effect",
    hoverOutOfGroundEffect: "limits hover out of ground effect",
    oneEngineInoperative: "limits flight with one engine inoperative",
    climb: "limits climb",
    operatingLimit: "an operating limit",
    powerCheck: "what an engine's power check expects",
    fuelFlow: "fuel flow",
  } satisfies Record<ChartUse["for"], string>,
  quantity: {
    pressureAltitude: "pressure altitude",
    temperature: "temperature",
    mass: "mass",
    calmMass: "mass in calm air",
    headwind: "headwind",
    tas: "true airspeed",
    torque: "torque",
    climb: "climb",
    flow: "fuel flow",
    gasTemperature: "gas temperature",
    level: "level",
    pressure: "pressure",
  } as Readonly<Record<string, string>>,
  step: (number: number, output: string) => `${number}. ${output}`,
  steps: "Step",
  across: "Across the picture",
  lines: "Lines",
  stands: (input: string) => `${input} stands at`,
  picture: (name: string) => `${name}: the copied points and the lines between them`,
  read: {
    name: "Read it",
    result: "Reads",
    missing: "Give every input.",
    outside: (input: string, asked: string, low: string, high: string) =>
      `Not known: ${input} ${asked} is outside ${low} … ${high}.`,
    inStep: (number: number) => `in step ${number}`,
    used: (list: string) => `From ${list}.`,
  },
  differences: {
    name: "Points and their neighbours",
    note: "The step from the neighbour before, and how far the point lies off the straight line between its two neighbours. A mistyped digit stands out.",
    step: (input: string) => `step, ${input}`,
    off: (input: string) => `off line, ${input}`,
    hint: "hint",
    standsOut: "look again",
    found: (count: number) =>
      count === 0
        ? "No point stands out."
        : plural("en", count, { one: "1 point stands out.", other: `${count} points stand out.` }),
    all: "Show every point",
    only: "Show what stands out",
  },
  controls: {
    name: "Control points",
    none: "None. A control point is read off the printed chart a second time and held against the copied points.",
    read: "printed",
    gives: "copied",
    error: "error",
    allowed: "allowed",
    outside: "outside",
  },
  coverage: {
    name: "Where it answers",
    note: "Outside it nothing is read: there it is not known.",
    range: (input: string, low: string, high: string) => `${input} ${low} to ${high}`,
    at: (place: string) => `at ${place}`,
  },
  file: {
    name: "As a file",
    out: "Save as CSV",
    in: "Look at a CSV",
    block: "Save for the sheet",
    columns:
      "Header: axis, curve, guide or along, then the quantity with its unit; along says linear or pchip, guide says from where; rising or falling may follow. The last column is result. Commas between cells, a point for decimals.",
    wrong: (count: number) =>
      plural("en", count, {
        one: "1 error; the file is not shown",
        other: `${count} errors; the file is not shown`,
      }),
    more: (count: number) => `and ${count} more`,
    line: (line: number, column: number | null) =>
      column === null ? `Line ${line}` : `Line ${line}, column ${column}`,
    whole: "The file",
    found: (found: string, wanted: string) => `${found}; wanted ${wanted}`,
    shown: (name: string) => `Shown is ${name}, not the sheet`,
    shownBody:
      "The sheet in force is as it was. Save the chart for the sheet, put it into the next revision, and have that released.",
    back: "Back to the sheet",
  },
  csv: {
    quoteInside: "a quote inside a cell",
    afterQuote: "text after a closing quote",
    neverEnds: "a quote that never ends",
    noHeader: "no header",
    columnUnknown: "a column that is not known",
    columnsWrong: "columns that make no chart",
    cellsWrong: "too few or too many cells",
    notANumber: "no number",
    lineNumber: "guide lines not counted",
    nodeTwice: "a point typed twice",
    hole: "a hole in the grid",
    tooFew: "too few",
    controlsOnly: "control points without a chart",
  } satisfies Record<CsvIssueCode, string>,
  fault: {
    notRising: "not more than the one before",
    gridShape: "not as many as the axis has",
    tooManyNodes: "too many points",
    nameTwice: "a quantity named twice",
    notAnInput: "no input of this chart",
    noCommonRange: "no range in common with the curve before",
    curvesCross: "crosses the curve before",
    notMonotone: "breaks the declared direction",
    referenceOutside: "does not reach the reference line",
    stepUnused: "an output that no later step reads",
    stepLate: "an input that is only made later",
    stepsApart: "steps that never meet",
    controlOutside: "a control point outside",
    controlMissed: "a control point missed",
  } satisfies Record<ChartIssueCode, string>,
  otherForm: "another form than a sheet's chart",
};
