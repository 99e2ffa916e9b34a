// Every number that an operator typed into a chart, with its path and the name of its quantity.
//
// For rules that look at the numbers themselves: units, plausible ranges, differences, tables.

import { linesOf } from "./chart.ts";
import { type Nested, nestedValues, type PlainChartBlock } from "./chart-schema.ts";

export type NodeNumbers = {
  /** Where the quantity is named. */
  readonly path: string;
  readonly name: string;
  readonly numbers: readonly (readonly [path: string, value: number])[];
};

export function nodeNumbers(block: PlainChartBlock): readonly NodeNumbers[] {
  if (block.kind === "grid") {
    return [
      ...block.axes.map(({ input, at }, axis) => ({
        path: `axes[${axis}].input`,
        name: input,
        numbers: at.map((value, i) => [`axes[${axis}].at[${i}]`, value] as const),
      })),
      { path: "output", name: block.output, numbers: flattened(nestedValues(block), "values") },
    ];
  }
  const lines = linesOf(block).map((points, line) => ({ points, path: pathOfLine(block.kind, line) }));
  const part = (which: 0 | 1) =>
    lines.flatMap(({ points, path }) =>
      points.map((point, i) => [`${path}[${i}][${which}]`, point[which]] as const),
    );
  return [
    { path: "along", name: block.along, numbers: part(0) },
    { path: "output", name: block.output, numbers: part(1) },
    ...(block.kind === "curves"
      ? [
          {
            path: "across",
            name: block.across,
            numbers: block.curves.map(({ at }, i) => [`curves[${i}].at`, at] as const),
          },
        ]
      : []),
    ...(block.kind === "guides" ? [{ path: "enter", name: block.enter, numbers: [] }] : []),
  ];
}

/** The path of a curve's points inside its block. */
export function pathOfLine(kind: "curve" | "curves" | "guides", line: number): string {
  if (kind === "curve") return "points";
  return kind === "curves" ? `curves[${line}].points` : `lines[${line}]`;
}

function flattened(values: Nested, path: string): readonly (readonly [string, number])[] {
  if (typeof values === "number") return [[path, values]];
  return values.flatMap((part, i) => flattened(part, `${path}[${i}]`));
}
