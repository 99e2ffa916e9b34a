// A chart's points as comma-separated values, out and in: what an author types, checks and keeps in a spreadsheet.
//
// RFC 4180 (core/quantity/csv.ts): cells apart by commas, numbers with a point, one row for each point. The header says
// what each column is, a word for its part, then the quantity with its unit, then what else the chart declares of it:
//
//   grid    axis pressureAltitude_ft falling,axis temperature_C falling,result mass_kg
//   curve   along tas_kt pchip,result flow_kgh
//   family  curve pressureAltitude_ft falling,along temperature_C linear falling,result mass_kg
//   guides  guide calmMass_kg from 0,along headwind_kt linear rising,result mass_kg      (the first column counts the lines)
//   chain   one such block after the other, each with its header
//   control points, after the rest:  control pressureAltitude_ft,control temperature_C,result mass_kg,within
//
// In a grid rows may stand in any order, each node once. Points of a curve stand in their order; rows of one curve belong
// together. All faults are told at once, each with its line and column; nothing is taken over from a file with a fault.
// Written and read again a chart is the same. Name, source, use and applicability are not in the file.

import { type CsvFault, csvText, readCsv } from "../quantity/csv.ts";
import { type ChartBlock, type Control, nestedValues, type PlainChartBlock } from "./chart-schema.ts";
import { linesOf } from "./chart.ts";
import type { Direction, GridBlock, Nested } from "./chart-schema.ts";

export type CsvIssue = {
  /** From 1; null for the file as a whole. */
  readonly line: number | null;
  /** From 1; null for the row as a whole. */
  readonly column: number | null;
  readonly code: CsvIssueCode;
  readonly found: string;
  readonly wanted: string;
};

export type CsvIssueCode =
  | CsvFault["why"]
  | "noHeader"
  | "columnUnknown"
  | "columnsWrong"
  | "cellsWrong"
  | "notANumber"
  | "lineNumber"
  | "nodeTwice"
  | "hole"
  | "tooFew"
  | "controlsOnly";

export type ChartFromCsv =
  | {
      readonly is: "read";
      readonly block: ChartBlock;
      /** The line on which each number stands, by its path in the chart. */
      readonly lines: ReadonlyMap<string, number>;
    }
  | { readonly is: "refused"; readonly issues: readonly CsvIssue[] };

export function chartToCsv(block: ChartBlock): string {
  const steps = block.kind === "chain" ? block.steps : [block];
  const rows = steps.flatMap((step) => plainRows(step));
  if (block.controls !== undefined && block.controls.length > 0)
    rows.push(...controlRows(block.controls, steps.at(-1)!.output));
  return csvText(rows.map((row) => row.map(String)));
}

type Row = readonly (string | number)[];

function plainRows(block: PlainChartBlock): Row[] {
  const words = (role: string, name: string, ...more: readonly string[]): string =>
    [role, name, ...more, ...(block.monotone?.[name] === undefined ? [] : [block.monotone[name]])].join(" ");
  const result = words("result", block.output);
  if (block.kind === "grid") {
    const header = [...block.axes.map(({ input }) => words("axis", input)), result];
    return [header, ...nodeRows(block.axes, nestedValues(block))];
  }
  const along = words("along", block.along, block.between);
  if (block.kind === "curve") return [[along, result], ...block.points];
  if (block.kind === "curves") {
    const rows = block.curves.flatMap(({ at, points }) => points.map((point): Row => [at, ...point]));
    return [[words("curve", block.across), along, result], ...rows];
  }
  const rows = linesOf(block).flatMap((points, line) => points.map((point): Row => [line + 1, ...point]));
  return [[words("guide", block.enter, "from", String(block.from)), along, result], ...rows];
}

function nodeRows(axes: GridBlock["axes"], values: Nested): Row[] {
  const [axis, ...rest] = axes;
  if (axis === undefined || typeof values === "number") return [[values as number]];
  return axis.at.flatMap((at, i) => nodeRows(rest, values[i]!).map((row): Row => [at, ...row]));
}

function controlRows(controls: readonly Control[], output: string): Row[] {
  const names = [...new Set(controls.flatMap(({ at }) => Object.keys(at)))];
  return [
    [...names.map((name) => `control ${name}`), `result ${output}`, "within"],
    ...controls.map(({ at, value, within }): Row => [...names.map((name) => at[name] ?? ""), value, within]),
  ];
}

/** A header's column: `axis temperature_C falling`. */
type Column = {
  readonly role: "axis" | "curve" | "guide" | "along" | "control" | "result" | "within";
  readonly name: string;
  readonly direction: Direction | null;
  readonly between: "linear" | "pchip" | null;
  readonly from: number | null;
};

type Numbers = { readonly line: number; readonly values: readonly number[] };
type Block = { readonly line: number; readonly columns: readonly Column[]; readonly rows: Numbers[] };
type Say = (
  line: number | null,
  column: number | null,
  code: CsvIssueCode,
  found: string,
  wanted: string,
) => void;

export function chartFromCsv(text: string): ChartFromCsv {
  const issues: CsvIssue[] = [];
  const say: Say = (line, column, code, found, wanted) => issues.push({ line, column, code, found, wanted });
  const blocks = readBlocks(text, say);
  const lines = new Map<string, number>();
  const plain: PlainChartBlock[] = [];
  const controls: Control[] = [];
  const charts = blocks.filter(({ columns }) => columns[0]!.role !== "control");
  blocks.forEach((block) => {
    if (block.columns[0]!.role === "control") {
      controls.push(...controlsOf(block, lines, controls.length));
      return;
    }
    const at = charts.length > 1 ? `steps[${charts.indexOf(block)}].` : "";
    const chart = plainOf(block, at, lines, say);
    if (chart !== null) plain.push(chart);
  });
  if (blocks.length > 0 && charts.length === 0)
    say(blocks[0]!.line, null, "controlsOnly", "control points", "a chart before them");
  const [first] = plain;
  if (issues.length > 0 || first === undefined) return { is: "refused", issues };
  const more = controls.length === 0 ? {} : { controls };
  const block: ChartBlock =
    plain.length === 1 ? { ...first, ...more } : { kind: "chain", steps: plain, ...more };
  return { is: "read", block, lines };
}

function readBlocks(text: string, say: Say): readonly Block[] {
  const { rows, faults } = readCsv(text);
  for (const { line, why } of faults)
    say(line, null, why, "a quote", "quotes around the whole cell, doubled inside");
  const blocks: Block[] = [];
  let width: number | null = null;
  for (const { line, cells } of rows) {
    if (/^\s*[a-z]/iu.test(cells[0] ?? "")) {
      const columns = headerOf(cells, line, say);
      width = cells.length;
      if (columns !== null) blocks.push({ line, columns, rows: [] });
      continue;
    }
    if (width === null) {
      say(line, null, "noHeader", cells.join(","), "a header such as `along tas_kt pchip,result flow_kgh`");
      return blocks;
    }
    if (cells.length !== width) {
      say(line, null, "cellsWrong", `${cells.length} cells`, `${width}, as in the header`);
      continue;
    }
    const values = cells.map((cell, i) => numberIn(cell, line, i + 1, say));
    // A header that was refused has no block; its rows are only looked at.
    if (values.every((value) => value !== null)) blocks.at(-1)?.rows.push({ line, values });
  }
  if (rows.length === 0 && faults.length === 0)
    say(null, null, "noHeader", "nothing", "a header and one row for each point");
  return blocks;
}

function numberIn(cell: string, line: number, column: number, say: Say): number | null {
  const trimmed = cell.trim();
  const value = Number(trimmed);
  if (/^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/u.test(trimmed) && Number.isFinite(value))
    return value + 0;
  say(
    line,
    column,
    "notANumber",
    trimmed === "" ? "nothing" : trimmed,
    "a number with a point for its decimals",
  );
  return null;
}

const shapes = [
  "axis… result",
  "along result",
  "curve along result",
  "guide along result",
  "control… result within",
];

function headerOf(cells: readonly string[], line: number, say: Say): readonly Column[] | null {
  const columns = cells.map((cell, i) => columnOf(cell, line, i + 1, say));
  if (columns.includes(null)) return null;
  const known = columns as readonly Column[];
  const roles = known.map(({ role }) => role).join(" ");
  const isKnown =
    /^(?:axis )+result$/u.test(roles) ||
    /^(?:(?:curve|guide) )?along result$/u.test(roles) ||
    /^(?:control )+result within$/u.test(roles);
  if (!isKnown) {
    say(line, null, "columnsWrong", roles, shapes.join(", or "));
    return null;
  }
  return known;
}

const named = /^[A-Za-z][A-Za-z0-9]*(?:_[A-Za-z0-9]+)?$/u;

function columnOf(cell: string, line: number, column: number, say: Say): Column | null {
  const [role = "", name = "", ...words] = cell.trim().split(/\s+/u);
  const refuse = (wanted: string): null => {
    say(line, column, "columnUnknown", cell.trim() === "" ? "nothing" : cell.trim(), wanted);
    return null;
  };
  if (role === "within" && name === "") return { role, name: "", direction: null, between: null, from: null };
  const roles = ["axis", "curve", "guide", "along", "control", "result"] as const;
  const known = roles.find((one) => one === role);
  if (known === undefined) return refuse("axis, along, curve, guide, control, result or within");
  if (!named.test(name)) return refuse(`${known} and a quantity with its unit last, as ${known} mass_kg`);
  const direction = words.find((word) => word === "rising" || word === "falling") ?? null;
  const between = words.find((word) => word === "linear" || word === "pchip") ?? null;
  const fromAt = words.indexOf("from");
  const from = fromAt < 0 ? null : Number(words[fromAt + 1] ?? Number.NaN);
  const count = (direction === null ? 0 : 1) + (between === null ? 0 : 1) + (from === null ? 0 : 2);
  if (count !== words.length || (from !== null && !Number.isFinite(from)))
    return refuse(`no more than rising or falling${known === "along" ? ", linear or pchip" : ""}`);
  if ((between !== null) !== (known === "along"))
    return refuse("linear or pchip after along, and nowhere else");
  if ((from !== null) !== (known === "guide"))
    return refuse("from and a number after guide, and nowhere else");
  if (direction !== null && (known === "result" || known === "control"))
    return refuse(`no direction after ${known}`);
  return { role: known, name, direction, between, from };
}

function plainOf(block: Block, at: string, lines: Map<string, number>, say: Say): PlainChartBlock | null {
  const { columns, rows } = block;
  const output = columns.at(-1)!.name;
  const declared = columns.flatMap(({ name, direction }) =>
    direction === null ? [] : [[name, direction] as const],
  );
  const more = { output, ...(declared.length === 0 ? {} : { monotone: Object.fromEntries(declared) }) };
  if (columns[0]!.role === "axis") return gridOf(block, more, at, lines, say);
  const along = columns.at(-2)!;
  const shared = { along: along.name, between: along.between!, ...more };
  if (columns[0]!.role === "along") {
    rows.forEach(({ line }, i) => notePoint(lines, `${at}points[${i}]`, line));
    return few(rows.length, 2, "points", block, say)
      ? null
      : { kind: "curve", ...shared, points: rows.map(({ values }) => [values[0]!, values[1]!]) };
  }
  const groups = [...Map.groupBy(rows, ({ values }) => values[0]!)];
  const isGuide = columns[0]!.role === "guide";
  groups.forEach(([key, members], i) => {
    const path = `${at}${isGuide ? `lines[${i}]` : `curves[${i}].points`}`;
    if (!isGuide) lines.set(`${at}curves[${i}].at`, members[0]!.line);
    lines.set(path, members[0]!.line);
    members.forEach(({ line }, j) => notePoint(lines, `${path}[${j}]`, line));
    if (isGuide && key !== i + 1)
      say(
        members[0]!.line,
        1,
        "lineNumber",
        String(key),
        `${i + 1}, the lines counted from 1 in their order`,
      );
    few(members.length, 2, "points on every curve", { ...block, line: members[0]!.line }, say);
  });
  if (few(groups.length, 2, isGuide ? "guide lines" : "curves", block, say)) return null;
  const pointsOf = (members: readonly Numbers[]): [number, number][] =>
    members.map(({ values }) => [values[1]!, values[2]!]);
  if (isGuide) {
    const { name, from } = columns[0]!;
    return { kind: "guides", enter: name, from: from!, ...shared, lines: groups.map(([, m]) => pointsOf(m)) };
  }
  const curves = groups.map(([key, members]) => ({ at: key, points: pointsOf(members) }));
  return { kind: "curves", across: columns[0]!.name, ...shared, curves };
}

function notePoint(lines: Map<string, number>, path: string, line: number): void {
  for (const part of ["", "[0]", "[1]"]) lines.set(path + part, line);
}

function few(count: number, least: number, what: string, { line }: Pick<Block, "line">, say: Say): boolean {
  if (count >= least) return false;
  say(line, null, "tooFew", `${count} ${what}`, `${least} or more`);
  return true;
}

type More = Pick<GridBlock, "output"> & Partial<Pick<GridBlock, "monotone">>;

function gridOf(
  block: Block,
  more: More,
  at: string,
  lines: Map<string, number>,
  say: Say,
): GridBlock | null {
  const inputs = block.columns.slice(0, -1);
  const axes = inputs.map(({ name }, i) => {
    const nodes = [...new Set(block.rows.map(({ values }) => values[i]!))].sort((a, b) => a - b);
    nodes.forEach((node, j) => {
      lines.set(`${at}axes[${i}].at[${j}]`, block.rows.find(({ values }) => values[i] === node)!.line);
    });
    return { input: name, at: nodes };
  });
  let isWhole = true;
  axes.forEach((axis) => {
    if (few(axis.at.length, 2, `values of ${axis.input}`, block, say)) isWhole = false;
  });
  const held = new Map<string, Numbers>();
  for (const row of block.rows) {
    const key = row.values.slice(0, -1).join(" ");
    const before = held.get(key);
    if (before !== undefined) {
      isWhole = false;
      say(row.line, null, "nodeTwice", key, `each node once; it stands on line ${before.line} already`);
    }
    held.set(key, row);
  }
  if (!isWhole) return null;
  const fill = (depth: number, nodes: readonly number[], path: string): Nested => {
    const axis = axes[depth];
    if (axis !== undefined)
      return axis.at.map((node, i) => fill(depth + 1, [...nodes, node], `${path}[${i}]`));
    const row = held.get(nodes.join(" "));
    if (row === undefined) {
      isWhole = false;
      const where = axes.map(({ input }, i) => `${input} ${nodes[i]}`).join(", ");
      say(null, null, "hole", `no row at ${where}`, "a row for every combination");
      return 0;
    }
    lines.set(path, row.line);
    return row.values.at(-1)!;
  };
  // As many combinations as a wrong column can make are not listed one by one.
  const combinations = axes.reduce((product, axis) => product * axis.at.length, 1);
  if (combinations > 4 * held.size + 100) {
    say(
      block.line,
      null,
      "hole",
      `${held.size} of ${combinations} combinations`,
      "a row for every combination",
    );
    return null;
  }
  const values = fill(0, [], `${at}values`) as readonly Nested[];
  return isWhole ? { kind: "grid", axes, values, ...more } : null;
}

function controlsOf({ columns, rows }: Block, lines: Map<string, number>, before: number): Control[] {
  const names = columns.slice(0, -2).map(({ name }) => name);
  return rows.map(({ line, values }, i) => {
    const path = `controls[${before + i}]`;
    lines.set(`${path}.value`, line);
    for (const name of names) lines.set(`${path}.at.${name}`, line);
    return {
      at: Object.fromEntries(names.map((name, j) => [name, values[j]!])),
      value: values.at(-2)!,
      within: values.at(-1)!,
    };
  });
}
