import { readFileSync } from "node:fs";
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { charts } from "./arbitrary-chart.ts";
import { chartFromCsv, chartToCsv } from "./chart-csv.ts";
import type { ChartBlock } from "./chart-schema.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as { readonly charts: Readonly<Record<string, ChartBlock>> };

/** A chart without what a file of points does not hold. */
function pointsOnly(block: ChartBlock): unknown {
  const {
    name: _n,
    source: _s,
    use: _u,
    applies: _a,
    ...rest
  } = block as ChartBlock & Record<string, unknown>;
  return rest;
}

function blockOf(text: string): ChartBlock {
  const read = chartFromCsv(text);
  if (read.is === "refused") throw new Error(JSON.stringify(read.issues));
  return read.block;
}

const issuesOf = (text: string): readonly (readonly [number | null, number | null, string])[] => {
  const read = chartFromCsv(text);
  if (read.is === "read") throw new Error("it was read");
  return read.issues.map(({ line, column, code }) => [line, column, code]);
};

describe("written and read again", () => {
  test.each(Object.entries(quill.charts))("%s is the same chart", (_, block) => {
    expect(blockOf(chartToCsv(block))).toEqual(pointsOnly(block));
  });

  test("so is any chart", () => {
    fc.assert(
      fc.property(charts, (block) => {
        expect(blockOf(chartToCsv(block))).toEqual(block);
      }),
      { numRuns: 400 },
    );
  });

  test("as a spreadsheet writes it: a byte order mark, bare line feeds, rows of a grid in any order", () => {
    const text =
      "\uFEFFaxis pressureAltitude_ft,axis temperature_C falling,result mass_kg\n4000,10,2880\n0,10,3310\n4000,30,2585\n0,30,3190\n";
    expect(blockOf(text)).toEqual({
      kind: "grid",
      axes: [
        { input: "pressureAltitude_ft", at: [0, 4000] },
        { input: "temperature_C", at: [10, 30] },
      ],
      values: [
        [3310, 3190],
        [2880, 2585],
      ],
      output: "mass_kg",
      monotone: { temperature_C: "falling" },
    });
  });
});

test("every number is found by its line", () => {
  const read = chartFromCsv(
    "curve pressureAltitude_ft,along temperature_C pchip,result mass_kg\n0,10,3310\n0,30,3190\n4000,10,2880\n4000,30,2585\n\ncontrol pressureAltitude_ft,control temperature_C,result mass_kg,within\n0,20,3250,5\n",
  );
  if (read.is === "refused") throw new Error(JSON.stringify(read.issues));
  expect(read.lines.get("curves[1].points[1][1]")).toBe(5);
  expect(read.lines.get("curves[1].at")).toBe(4);
  expect(read.lines.get("controls[0].value")).toBe(8);
});

describe("a file is refused for", () => {
  const grid = "axis a_ft,axis b_C,result m_kg\n";
  test.each([
    ["nothing in it", "", [[null, null, "noHeader"]]],
    ["numbers before a header", "1,2,3\n4,5,6\n", [[1, null, "noHeader"]]],
    [
      "semicolons",
      "axis a_ft;axis b_C;result m_kg\n0;1;2\n",
      [
        [1, 1, "columnUnknown"],
        [2, 1, "notANumber"],
      ],
    ],
    [
      "a decimal comma",
      `${grid}0,1,"2,5"\n0,2,3\n1,1,3\n1,2,4\n`,
      [
        [2, 3, "notANumber"],
        [null, null, "hole"],
      ],
    ],
    [
      "an empty cell and a word",
      `${grid}0,1,\nx,1,2\n`,
      [
        [2, 3, "notANumber"],
        [3, 1, "columnUnknown"],
        [3, 2, "columnUnknown"],
        [3, 3, "columnUnknown"],
        [1, null, "tooFew"],
        [1, null, "tooFew"],
      ],
    ],
    ["a row too short", `${grid}0,1\n0,1,1\n0,2,1\n1,1,1\n1,2,1\n`, [[2, null, "cellsWrong"]]],
    ["a column of no part", "axes a_ft,result m_kg\n", [[1, 1, "columnUnknown"]]],
    ["a quantity without a name", "axis,result m_kg\n", [[1, 1, "columnUnknown"]]],
    ["a curve that does not say how it goes on", "along a_ft,result m_kg\n", [[1, 1, "columnUnknown"]]],
    [
      "guide lines without a reference line",
      "guide a_kg,along b_kt linear,result m_kg\n",
      [[1, 1, "columnUnknown"]],
    ],
    ["columns in the wrong order", "result m_kg,axis a_ft\n", [[1, null, "columnsWrong"]]],
    ["a node typed twice", `${grid}0,1,1\n0,2,1\n1,1,1\n1,2,1\n1,2,2\n`, [[6, null, "nodeTwice"]]],
    ["a hole", `${grid}0,1,1\n0,2,1\n1,1,1\n`, [[null, null, "hole"]]],
    [
      "a family with one curve",
      "curve a_ft,along b_C linear,result m_kg\n0,1,1\n0,2,1\n",
      [[1, null, "tooFew"]],
    ],
    [
      "a curve with one point",
      "curve a_ft,along b_C linear,result m_kg\n0,1,1\n0,2,1\n1,2,1\n",
      [[4, null, "tooFew"]],
    ],
    [
      "guide lines that are not counted",
      "guide a_kg from 0,along b_kt linear,result m_kg\n1,0,1\n1,9,1\n3,0,2\n3,9,2\n",
      [[4, 1, "lineNumber"]],
    ],
    ["control points alone", "control a_ft,result m_kg,within\n1,2,3\n", [[1, null, "controlsOnly"]]],
    [
      "a quote that never ends",
      'along a_ft linear,result m_kg\n0,"1\n1,2\n',
      [
        [2, null, "neverEnds"],
        [1, null, "tooFew"],
      ],
    ],
  ] as const)("%s", (_, text, issues) => {
    expect(issuesOf(text)).toEqual(issues);
  });
});

test("no text makes it throw, and what it reads it can write", () => {
  const cell = fc.constantFrom(
    "axis a_ft",
    "along b_C pchip",
    "curve c_kt",
    "guide d_kg from 1",
    "control a_ft",
    "within",
    "result m_kg",
    "1",
    "2",
    "3.5",
    "",
    "-",
    '"',
    "e",
    "x y z",
    "1e400",
  );
  const line = fc.array(cell, { minLength: 1, maxLength: 4 }).map((cells) => cells.join(","));
  fc.assert(
    fc.property(
      fc.oneof(
        fc.array(line, { maxLength: 9 }).map((lines) => lines.join("\n")),
        fc.string(),
      ),
      (text) => {
        const read = chartFromCsv(text);
        if (read.is === "refused") expect(read.issues.length).toBeGreaterThan(0);
        else expect(blockOf(chartToCsv(read.block))).toEqual(read.block);
      },
    ),
    { numRuns: 2000 },
  );
});
