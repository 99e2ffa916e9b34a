// What the page on charts shows, made of a sheet: its charts and the limits of its gauges against temperature, names and
// numbers in the reader's language, and what a file of points says.
import { type ChartFromCsv, chartFromCsv } from "../../core/chart/chart-csv.ts";
import type { ChartBlock, PlainChartBlock } from "../../core/chart/chart-schema.ts";
import { checkChart } from "../../core/chart/check-chart.ts";
import type { Asked } from "../../core/chart/read-chart.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { chartSchema, type SheetChart } from "../../core/sheet/chart-blocks.ts";
import { readShape } from "../../core/sheet/draft.ts";
import type { SheetSource } from "../../core/sheet/parts.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { asTitle } from "../../present/sentence-case.ts";
import type { ChartsWords } from "../../present/words/charts-words.ts";
import type { Language } from "../../present/words/language.ts";
import type { Words } from "../../present/words/words.ts";

export type Telling = { readonly words: Words; readonly charts: ChartsWords; readonly language: Language };

export type ChartEntry = {
  readonly id: string;
  readonly name: string;
  /** When it applies; null for always. */
  readonly applies: string | null;
  readonly group: "charts" | "bands";
  readonly block: SheetChart;
  readonly source: SheetSource;
};

/** A sheet among those that the device holds. */
export const sheetKey = ({ id, revision }: Pick<Sheet, "id" | "revision">): string => `${id}@${revision}`;

export function chartEntries(sheet: Sheet, { charts: words, language }: Telling): readonly ChartEntry[] {
  const charts = Object.entries(sheet.charts).map(([id, block]): ChartEntry => ({
    id,
    name: asTitle(block.name?.[language] ?? id, language),
    applies: appliesText(block, words),
    group: "charts",
    block,
    source: block.source ?? sheet.sources.charts,
  }));
  const bands = sheet.gauges.flatMap(({ id, name, unit, band, source }) =>
    band === undefined
      ? []
      : (["low", "high"] as const).map((end): ChartEntry => ({
          id: `${id}.${end}`,
          name: `${asTitle(name[language], language)}, ${words.band[end]}`,
          applies: null,
          group: "bands",
          block: {
            kind: "curve",
            along: "temperature_C",
            between: "linear",
            points: band.points.map((point) => [point.temperature_C, point[end]] as const),
            output: `${unit === "bar" ? "pressure" : "level"}_${unit}`,
          },
          source: source ?? sheet.sources.gauges,
        })),
  );
  return [...charts, ...bands];
}

function appliesText({ applies }: SheetChart, words: ChartsWords): string | null {
  if (applies === undefined) return null;
  return "variant" in applies ? words.variant(applies.variant) : words.sometimes;
}

/** The steps of a chain, or the chart itself. */
export const stepsOf = (block: ChartBlock): readonly PlainChartBlock[] =>
  block.kind === "chain" ? block.steps : [block];

/** The name of a quantity without its unit. */
export function quantityName(key: string, { charts: { quantity } }: Telling): string {
  const stem = key.split("_")[0]!;
  return Object.hasOwn(quantity, stem) ? quantity[stem]! : stem;
}

export function unitName(key: string, { words: { units } }: Telling): string {
  const unit = key.split("_")[1] ?? "";
  return Object.hasOwn(units, unit) ? units[unit as keyof typeof units] : unit === "ftmin" ? "ft/min" : unit;
}

/** As many decimals as tell its points apart, and no more. */
export function numberText(value: number, language: Language): string {
  const decimals = Number.isInteger(value) ? 0 : Math.abs(value) >= 100 ? 1 : 2;
  return displayNumber(value, decimals, "both", language);
}

export function amountText(value: number, key: string, telling: Telling): string {
  const unit = unitName(key, telling);
  return `${numberText(value, telling.language)}${unit === "" ? "" : ` ${unit}`}`;
}

/** `2,000 ft, 10 °C`. */
export function placeText(at: Asked, telling: Telling): string {
  return Object.entries(at)
    .map(([key, value]) => amountText(value, key, telling))
    .join(", ");
}

export type FileFault = {
  readonly line: number | null;
  readonly column: number | null;
  readonly what: string;
  readonly found: string;
  readonly wanted: string;
};

export type FileRead =
  | { readonly is: "chart"; readonly block: SheetChart }
  | { readonly is: "refused"; readonly faults: readonly FileFault[] };

/** A file of points in place of those of `old`, whose name, source and use stay; or all that is wrong with it. */
export function readChartFile(text: string, old: SheetChart, { charts: words }: Telling): FileRead {
  const read = chartFromCsv(text);
  if (read.is === "refused") {
    const faults = read.issues.map(({ code, ...issue }) => ({ ...issue, what: words.csv[code] }));
    return { is: "refused", faults };
  }
  const kept = Object.fromEntries(
    Object.entries(old).filter(([key]) => ["name", "source", "use", "applies"].includes(key)),
  );
  const shape = readShape(chartSchema, { ...read.block, ...kept });
  const issues = "issues" in shape ? shape.issues : checkChart(shape.value);
  if ("value" in shape && issues.length === 0) return { is: "chart", block: shape.value };
  return {
    is: "refused",
    faults: issues.map(({ path, code, found, wanted }) => ({
      line: lineOf(path, read),
      column: null,
      what: Object.hasOwn(words.fault, code)
        ? words.fault[code as keyof typeof words.fault]
        : words.otherForm,
      found: `${path === "" ? "" : `${path}: `}${plainText(found)}`,
      wanted: plainText(wanted),
    })),
  };
}

/** The line of a number, or of what it belongs to. */
function lineOf(path: string, { lines }: Extract<ChartFromCsv, { is: "read" }>): number | null {
  for (let part = path; part !== ""; part = part.replace(/(?:\[\d+\]|\.?\w+)$/u, "")) {
    const line = lines.get(part);
    if (line !== undefined) return line;
  }
  return null;
}

const plainText = (value: unknown): string =>
  typeof value === "string" ? value : (JSON.stringify(value)?.replaceAll('"', "") ?? "");
