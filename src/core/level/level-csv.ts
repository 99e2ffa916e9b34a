// Readings and uplifts of a craft as a table in comma-separated values, out and in.
//
// Each line is a reading or an uplift; the header names the columns, units stand in the names, and the unit of a value in
// the column `unit`, since every gauge has its own. Decimal points, UTC instants. Written are all columns; read back, those
// after `hours_h` may be left out, in any order; `comparable`, `whyNot` and `entry` say what was computed and are not read.
//   kind          reading or uplift
//   gauge         the gauge's id in the sheet
//   at            instant in UTC: 2026-11-25T05:40:00.000Z; seconds may be left out
//   value, unit   what was read, or how much was filled
//   typed         letter for letter what was entered; the value as it stands where left out
//   hours_h       airframe hours
//   afterShutdown_min, oat_C, bottle_C     conditions of a reading
//   state         hot or cold;  levelGround: yes or no
//   fluid, grade, batch                    of an uplift; the gauge's fluid where left out
//
// An import is whole or nothing: with one wrong line there is no body, only errors by line, column, found and wanted.
// Refused: what is not a number, implausible for the gauge (with the unit in which it would fit), in the future, held
// already or twice in the file, an hour meter lower than a line before, an uplift at the instant of a reading.
import type { CraftState } from "../facts/craft.ts";
import { isInstantText, instantToMs, msToInstant } from "../facts/instant.ts";
import { own } from "../facts/own.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { CraftLevels, GaugeLevels } from "./craft-levels.ts";
import { csvText, readCsv } from "../quantity/csv.ts";
import { riseOf } from "./gauge-series.ts";
import { neverFalling } from "./never-falling.ts";
import { readTypedReading } from "./typed-reading.ts";

export const levelColumns = [
  "kind",
  "gauge",
  "at",
  "value",
  "unit",
  "hours_h",
  "typed",
  "afterShutdown_min",
  "oat_C",
  "bottle_C",
  "state",
  "levelGround",
  "fluid",
  "grade",
  "batch",
  "comparable",
  "whyNot",
  "entry",
] as const;
export type LevelColumn = (typeof levelColumns)[number];
const needed: readonly LevelColumn[] = ["kind", "gauge", "at", "value", "unit"];

type Cells = Partial<Record<LevelColumn, string>>;

/** All readings and uplifts of the craft's gauges, by time. */
export function levelsToCsv({ gauges }: CraftLevels): string {
  const rows = gauges
    .flatMap((one) => [...readingRows(one), ...upliftRows(one)])
    .toSorted((a, b) => a.at_ms - b.at_ms || (a.cells.gauge! < b.cells.gauge! ? -1 : 1));
  return csvText([
    levelColumns,
    ...rows.map(({ cells }) => levelColumns.map((column) => cells[column] ?? "")),
  ]);
}

type Row = { readonly at_ms: number; readonly cells: Cells };

const text = (value: number | string | null | undefined): string =>
  value === null || value === undefined ? "" : String(value);

function readingRows({ gauge, series }: GaugeLevels): Row[] {
  // What was taken back would be a reading again once the file came in.
  const standing = series.points.filter(({ reading }) => reading.withdrawn === undefined);
  return standing.map(({ reading, hours_h, minutesAfterShutdown, whyNot }) => {
    const { oat_C, bottle_C, hot, level } = reading.conditions;
    return {
      at_ms: reading.at_ms,
      cells: {
        kind: "reading",
        gauge: gauge.id,
        at: msToInstant(reading.at_ms),
        value: text(reading.value),
        unit: reading.unit,
        typed: reading.typed,
        hours_h: text(hours_h),
        afterShutdown_min: text(
          minutesAfterShutdown === null ? null : Number(minutesAfterShutdown.toFixed(1)),
        ),
        oat_C: text(oat_C),
        bottle_C: text(bottle_C),
        state: hot === undefined ? "" : hot ? "hot" : "cold",
        levelGround: level === undefined ? "" : level ? "yes" : "no",
        comparable: whyNot.length === 0 ? "yes" : "no",
        whyNot: whyNot.join(" "),
        entry: reading.entry,
      },
    };
  });
}

function upliftRows({ gauge, series }: GaugeLevels): Row[] {
  return series.uplifts
    .filter(({ uplift }) => uplift.gauge === gauge.id)
    .map(({ uplift, hours_h }) => ({
      at_ms: uplift.at_ms,
      cells: {
        kind: "uplift",
        gauge: gauge.id,
        at: msToInstant(uplift.at_ms),
        value: text(uplift.amount),
        unit: uplift.unit,
        typed: uplift.typed,
        hours_h: text(hours_h),
        fluid: uplift.fluid,
        grade: text(uplift.grade),
        batch: text(uplift.batch),
        entry: uplift.entry,
      },
    }));
}

export type ImportedReading = {
  readonly gauge: string;
  readonly value: number;
  readonly unit: string;
  readonly typed: string;
  readonly conditions: {
    readonly minutesAfterShutdown?: number;
    readonly oat_C?: number;
    readonly bottle_C?: number;
    readonly hot?: boolean;
    readonly level?: boolean;
  };
  readonly hours_h: number | null;
  readonly at: string;
};

export type ImportedUplift = {
  readonly fluid: string;
  readonly gauge: string;
  readonly amount: number;
  readonly unit: string;
  readonly typed: string;
  readonly grade: string | null;
  readonly batch: string | null;
  readonly hours_h: number | null;
  readonly at: string;
};

export const rowErrorCodes = [
  "csv",
  "header",
  "missing",
  "notOneOf",
  "notANumber",
  "outside",
  "otherUnit",
  "notAnInstant",
  "inFuture",
  "alreadyHeld",
  "twice",
  "hoursBack",
  "sameInstant",
  "tooMany",
  "nothing",
] as const;

export type RowError = {
  /** Line of the file, from 1. */
  readonly line: number;
  readonly column: LevelColumn | "";
  readonly code: (typeof rowErrorCodes)[number];
  /** What stands there, and what would be right, as figures and names that need no language; either may be empty. */
  readonly found: string;
  readonly wanted: string;
};

export type Imported =
  | { readonly errors: readonly [RowError, ...RowError[]] }
  | {
      readonly errors: readonly [];
      readonly readings: readonly ImportedReading[];
      readonly uplifts: readonly ImportedUplift[];
    };

/** As many of each as one entry takes. */
const mostRows = 3000;

type Line = {
  readonly line: number;
  readonly reading: ImportedReading | null;
  readonly uplift: ImportedUplift | null;
  readonly at_ms: number;
};

/** What a file holds, or everything that is wrong with it. */
export function levelsFromCsv(file: string, sheet: Sheet, state: CraftState, now_ms: number): Imported {
  const errors: RowError[] = [];
  const { rows, faults } = readCsv(file);
  for (const { line, why } of faults)
    errors.push({ line, column: "", code: "csv", found: why, wanted: "RFC 4180" });
  const [head, ...body] = rows;
  const columns = columnsOf(head?.cells ?? [], errors);
  if (columns === null) return failed(errors);
  const lines = body.flatMap(({ line, cells }) => {
    const reader = new RowReader(line, cells, columns, errors, now_ms);
    const one = reader.read(sheet);
    return one === null ? [] : [one];
  });
  checkTogether(lines, state, errors);
  const readings = lines.flatMap(({ reading }) => reading ?? []);
  const uplifts = lines.flatMap(({ uplift }) => uplift ?? []);
  const whole = { line: 0, column: "" } as const;
  if (errors.length === 0 && readings.length + uplifts.length === 0)
    errors.push({ ...whole, code: "nothing", found: "0", wanted: "1 …" });
  if (readings.length > mostRows || uplifts.length > mostRows)
    errors.push({
      ...whole,
      code: "tooMany",
      found: String(Math.max(readings.length, uplifts.length)),
      wanted: `… ${mostRows}`,
    });
  return errors.length > 0 ? failed(errors) : { errors: [], readings, uplifts };
}

function failed(errors: readonly RowError[]): Imported {
  const sorted = errors.toSorted((a, b) => a.line - b.line);
  return { errors: sorted as [RowError, ...RowError[]] };
}

function columnsOf(cells: readonly string[], errors: RowError[]): readonly LevelColumn[] | null {
  const before = errors.length;
  const say = (found: string, wanted: string): void => {
    errors.push({ line: 1, column: "", code: "header", found, wanted });
  };
  const names = cells.map((cell) => cell.trim());
  for (const [index, name] of names.entries()) {
    if (!levelColumns.includes(name as LevelColumn)) say(name, levelColumns.join(", "));
    else if (names.indexOf(name) !== index) say(`${name}, ${name}`, name);
  }
  for (const name of needed) if (!names.includes(name)) say("", name);
  return errors.length > before ? null : (names as LevelColumn[]);
}

/** Reads one line, and says everything that is wrong in it. */
class RowReader {
  readonly #line: number;
  readonly #cells: Cells;
  readonly #errors: RowError[];
  readonly #now_ms: number;
  #sound = true;

  constructor(
    line: number,
    cells: readonly string[],
    columns: readonly LevelColumn[],
    errors: RowError[],
    now_ms: number,
  ) {
    this.#line = line;
    this.#errors = errors;
    this.#now_ms = now_ms;
    this.#cells = Object.fromEntries(columns.map((column, index) => [column, cells[index]?.trim() ?? ""]));
    if (cells.length !== columns.length) this.#say("", "csv", String(cells.length), String(columns.length));
  }

  #say(column: LevelColumn | "", code: RowError["code"], found: string, wanted: string): null {
    this.#sound = false;
    this.#errors.push({ line: this.#line, column, code, found, wanted });
    return null;
  }

  #text(column: LevelColumn): string | null {
    const cell = this.#cells[column] ?? "";
    return cell === "" ? null : cell;
  }

  #oneOf<const Word extends string>(column: LevelColumn, words: readonly Word[]): Word | null {
    const found = this.#text(column);
    if (found === null) return null;
    const word = words.find((known) => known === found);
    return word ?? this.#say(column, "notOneOf", found, words.join(", "));
  }

  #number(column: LevelColumn, least: number, most: number): number | null {
    const found = this.#text(column);
    if (found === null) return null;
    if (!/^[+-]?\d+(\.\d+)?$/u.test(found)) return this.#say(column, "notANumber", found, "12.5");
    const value = Number(found);
    return value >= least && value <= most
      ? value
      : this.#say(column, "outside", found, `${least} … ${most}`);
  }

  read(sheet: Sheet): Line | null {
    for (const column of needed) if (this.#text(column) === null) this.#say(column, "missing", "", "…");
    const kind = this.#oneOf("kind", ["reading", "uplift"]);
    const gauge = this.#gauge(sheet);
    const at_ms = this.#instant();
    const hours_h = this.#number("hours_h", 0, 100_000);
    if (!this.#sound || kind === null || gauge === null || at_ms === null) return null;
    const shared = {
      gauge: gauge.id,
      hours_h,
      at: msToInstant(at_ms),
      typed: this.#text("typed") ?? this.#text("value")!,
    };
    const reading = kind === "reading" ? this.#reading(gauge, shared) : null;
    const uplift = kind === "uplift" ? this.#uplift(sheet, gauge, shared) : null;
    return this.#sound ? { line: this.#line, reading, uplift, at_ms } : null;
  }

  #gauge(sheet: Sheet): Gauge | null {
    const id = this.#text("gauge");
    if (id === null) return null;
    const gauge = sheet.gauges.find((one) => one.id === id);
    return gauge ?? this.#say("gauge", "notOneOf", id, sheet.gauges.map((one) => one.id).join(", "));
  }

  #instant(): number | null {
    const found = this.#text("at");
    if (found === null) return null;
    const whole = found.replace(
      /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2})(?::(\d{2}))?(?:\.(\d{3}))?Z$/u,
      (_, day: string, s?: string, ms?: string) => `${day}:${s ?? "00"}.${ms ?? "000"}Z`,
    );
    if (!isInstantText(whole)) return this.#say("at", "notAnInstant", found, "2026-11-25T05:40:00.000Z");
    const at_ms = instantToMs(whole);
    return at_ms <= this.#now_ms
      ? at_ms
      : this.#say("at", "inFuture", found, `… ${msToInstant(this.#now_ms)}`);
  }

  #reading(
    gauge: Gauge,
    shared: Pick<ImportedReading, "gauge" | "hours_h" | "at" | "typed">,
  ): ImportedReading | null {
    const unit = this.#text("unit")!;
    const found = this.#text("value")!;
    if (unit !== gauge.unit) return this.#say("unit", "otherUnit", unit, gauge.unit);
    const read = /^[+-]?\d+(\.\d+)?$/u.test(found)
      ? readTypedReading(gauge, found, "en")
      : ({ is: "refused", why: "notANumber" } as const);
    if (read.is !== "number") return this.#refusedValue(gauge, found, read);
    const minutes = this.#number("afterShutdown_min", 0, 100_000);
    const oat_C = this.#number("oat_C", -80, 80);
    const bottle_C = this.#number("bottle_C", -80, 80);
    const state = this.#oneOf("state", ["hot", "cold"]);
    const ground = this.#oneOf("levelGround", ["yes", "no"]);
    const conditions = {
      ...(minutes === null ? {} : { minutesAfterShutdown: minutes }),
      ...(oat_C === null ? {} : { oat_C }),
      ...(bottle_C === null ? {} : { bottle_C }),
      ...(state === null ? {} : { hot: state === "hot" }),
      ...(ground === null ? {} : { level: ground === "yes" }),
    };
    return { ...shared, value: read.value, unit, conditions };
  }

  #refusedValue({ unit, plausible }: Gauge, found: string, read: ReturnType<typeof readTypedReading>): null {
    if (
      read.is !== "refused" ||
      read.why === "notANumber" ||
      read.why === "ambiguous" ||
      read.why === "share"
    )
      return this.#say("value", "notANumber", found, "12.5");
    const range = `${plausible.low} … ${plausible.high} ${unit}`;
    const meant =
      read.why === "implausible" && read.meant !== null
        ? `; ${found} ${read.meant.unit} = ${Number(read.meant.value.toPrecision(4))} ${unit}`
        : "";
    return this.#say("value", "outside", found, `${range}${meant}`);
  }

  #uplift(
    sheet: Sheet,
    gauge: Gauge,
    shared: Pick<ImportedUplift, "gauge" | "hours_h" | "at" | "typed">,
  ): ImportedUplift | null {
    const amount = this.#number("value", 0, 10_000);
    const unit = this.#text("unit")!;
    const fluid = this.#text("fluid") ?? gauge.fluid ?? null;
    const known = sheet.fluids.find(({ id }) => id === fluid);
    if (amount === 0) return this.#say("value", "outside", "0", "> 0");
    if (known === undefined)
      return this.#say("fluid", "notOneOf", fluid ?? "", sheet.fluids.map(({ id }) => id).join(", "));
    if (amount === null) return null;
    if (riseOf(gauge, known, { amount, unit }) === null)
      return this.#say("unit", "otherUnit", unit, gauge.unit);
    return {
      ...shared,
      fluid: known.id,
      amount,
      unit,
      grade: this.#text("grade"),
      batch: this.#text("batch"),
    };
  }
}

/** What only shows when lines stand beside each other and beside the record. */
function checkTogether(lines: readonly Line[], state: CraftState, errors: RowError[]): void {
  const say = (
    { line }: Line,
    column: LevelColumn,
    code: RowError["code"],
    found: string,
    wanted: string,
  ): void => {
    errors.push({ line, column, code, found, wanted });
  };
  const seen = new Map<string, Line>();
  const readAt = new Set(
    lines.flatMap(({ reading }) => (reading === null ? [] : [`${reading.gauge} ${reading.at}`])),
  );
  for (const one of lines) {
    const { reading, uplift } = one;
    const what = reading ?? uplift!;
    const key = `${reading === null ? "uplift" : "reading"} ${what.gauge} ${what.at}`;
    const before = seen.get(key);
    if (before !== undefined) say(one, "at", "twice", what.at, `≠ ${before.line}`);
    else seen.set(key, one);
    if (isHeld(one, state)) say(one, "at", "alreadyHeld", what.at, "");
    if (uplift !== null && readAt.has(`${uplift.gauge} ${uplift.at}`))
      say(one, "at", "sameInstant", uplift.at, "");
  }
  const placed = lines
    .filter((one) => (one.reading ?? one.uplift)!.hours_h !== null)
    .toSorted((a, b) => a.at_ms - b.at_ms || hoursOf(a) - hoursOf(b));
  const kept = neverFalling(placed.map(hoursOf));
  placed.forEach((one, index) => {
    if (!kept[index]) say(one, "hours_h", "hoursBack", String(hoursOf(one)), "");
  });
}

function hoursOf({ reading, uplift }: Line): number {
  return (reading ?? uplift)!.hours_h!;
}

function isHeld({ reading, uplift, at_ms }: Line, state: CraftState): boolean {
  if (reading !== null)
    return (own(state.readings, reading.gauge) ?? []).some((held) => held.at_ms === at_ms);
  return state.uplifts.some((held) => held.gauge === uplift!.gauge && held.at_ms === at_ms);
}
