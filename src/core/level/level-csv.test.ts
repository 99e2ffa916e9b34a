import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { emptyCraft } from "../facts/craft.ts";
import { instantToMs } from "../facts/instant.ts";
import type { Sheet } from "../sheet/schema.ts";
import { craftLevels } from "./craft-levels.ts";
import { csvText, readCsv } from "../quantity/csv.ts";
import { levelsFromCsv, levelsToCsv } from "./level-csv.ts";
import { at_h, craftWith, fallingFrom, reading, uplift } from "./tell-levels.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;
const now_ms = at_h(2000);
const read = (lines: readonly string[], state = emptyCraft) =>
  levelsFromCsv(
    `${["kind,gauge,at,value,unit,hours_h,state,levelGround,afterShutdown_min,grade", ...lines].join("\n")}\n`,
    quill,
    state,
    now_ms,
  );
const errorsOf = (lines: readonly string[], state = emptyCraft) =>
  read(lines, state).errors.map(({ line, column, code }) => `${line} ${column} ${code}`);

describe("comma-separated values", () => {
  test("are read as they were written, whatever is in a cell", () => {
    const cell = fc.string({
      unit: fc.constantFrom("a", "1", '"', ",", "\n", "\r", " ", "é", "=", "-"),
      maxLength: 6,
    });
    fc.assert(
      fc.property(fc.array(fc.array(cell, { minLength: 2, maxLength: 4 }), { maxLength: 6 }), (rows) => {
        const { rows: back, faults } = readCsv(csvText(rows));
        expect(faults).toEqual([]);
        expect(back.map(({ cells }) => cells)).toEqual(rows);
      }),
      { numRuns: 500 },
    );
  });

  test("count lines where they begin, over line breaks in a cell, a byte order mark and empty lines", () => {
    const { rows } = readCsv('\uFEFFa,b\r\n\r\n"x\ny",2\n3,4');
    expect(rows).toEqual([
      { line: 1, cells: ["a", "b"] },
      { line: 3, cells: ["x\ny", "2"] },
      { line: 5, cells: ["3", "4"] },
    ]);
  });

  test("say which line is no such text", () => {
    expect(readCsv('a,b"c\n"x"y,1\nfine,1\n"never').faults).toEqual([
      { line: 1, why: "quoteInside" },
      { line: 2, why: "afterQuote" },
      { line: 4, why: "neverEnds" },
    ]);
  });
});

describe("readings and uplifts as a table", () => {
  test("come back as they were, with their conditions and what was typed", () => {
    const told = craftWith({
      readings: [
        ...fallingFrom(1000, 5, 5.9, 0.02),
        reading(1005, 240, {
          gauge: "floatBottle",
          unit: "bar",
          typed: "240,0",
          conditions: { bottle_C: -5 },
        }),
        reading(1006, 5, { conditions: { hot: false }, hours_h: null, typed: 'a "round" 5, or so' }),
      ],
      uplifts: [uplift(1003, 0.5), uplift(1004, 0.25, { grade: null, batch: null })],
    });
    const file = levelsToCsv(craftLevels(quill, told, now_ms));
    expect(file.split("\r\n")[0]).toBe(
      "kind,gauge,at,value,unit,hours_h,typed,afterShutdown_min,oat_C,bottle_C,state,levelGround,fluid,grade,batch,comparable,whyNot,entry",
    );
    const back = levelsFromCsv(file, quill, emptyCraft, now_ms);
    if (back.errors.length > 0 || !("readings" in back)) throw new Error(JSON.stringify(back.errors));
    const wanted = Object.values(told.readings)
      .flat()
      .toSorted((a, b) => a.at_ms - b.at_ms);
    expect(back.readings.map(({ at, ...rest }) => ({ at_ms: instantToMs(at), ...rest }))).toEqual(
      wanted.map(({ gauge, value, unit, typed, conditions, hours_h, at_ms }) => ({
        at_ms,
        gauge,
        value,
        unit,
        typed,
        conditions,
        // What the record could work out is written, and comes back as recorded.
        hours_h: hours_h ?? 1005,
      })),
    );
    expect(back.uplifts).toMatchObject([
      { gauge: "engineOilLeft", amount: 0.5, unit: "L", grade: "synthetic turbine oil, 5 cSt", batch: "B1" },
      { amount: 0.25, grade: null, batch: null },
    ]);
  });

  test("are refused by line and column, all at once, and nothing of the file is taken", () => {
    const wrong = [
      "reading,engineOilLeft,2026-03-20T05:00Z,5.1,L,1000,hot,yes,20,",
      "reading,engineOilLeft,2026-03-20T06:00Z,full,L,1001,hot,yes,20,",
      "reading,floatBottle,2026-03-20T06:00Z,3480,bar,1001,,,,",
      "reading,engineOilLeft,2026-03-20T07:00Z,-1,L,1002,,,,",
      "reading,engineOilLeft,2026-03-20T08:00Z,4.9,qt,1003,,,,",
      "reading,oilLeft,2026-03-20T09:00Z,4.9,L,1004,,,,",
      "reading,engineOilLeft,20.3.2026,4.9,L,1005,,,,",
      "reading,engineOilLeft,2036-03-20T09:00Z,4.9,L,1006,,,,",
      "drained,engineOilLeft,2026-03-20T10:00Z,4.9,L,1007,lukewarm,,,",
      "uplift,engineOilLeft,2026-03-20T11:00Z,0,L,1008,,,,",
      "uplift,engineOilLeft,2026-03-20T05:00Z,0.5,L,1000,,,,",
      "uplift,gearboxOil,2026-03-20T12:00Z,0.5,can,1008,,,,",
      "reading,engineOilLeft,2026-03-20T13:00Z,4.9,L,12,,,,",
      "reading,engineOilLeft,2026-03-20T14:00Z,4.9,,1010,,,,",
      "reading,engineOilLeft,2026-03-20T15:00Z,4.9,L",
    ];
    expect(errorsOf(wrong)).toEqual([
      "3 value notANumber",
      "4 value outside",
      "5 value outside",
      "6 unit otherUnit",
      "7 gauge notOneOf",
      "8 at notAnInstant",
      "9 at inFuture",
      "10 kind notOneOf",
      "11 value outside",
      "12 at sameInstant",
      "13 unit otherUnit",
      "14 hours_h hoursBack",
      "15 unit missing",
      "16  csv",
    ]);
    expect("readings" in read(wrong)).toBe(false);
    const [psi] = read(wrong.slice(2, 3)).errors;
    expect(psi!.wanted).toBe("0 … 400 bar; 3480 psi = 239.9 bar");
  });

  test("are asked about when the record holds them already, or the file does twice", () => {
    const line = "reading,engineOilLeft,2026-03-20T05:00:00.000Z,5.1,L,1000,hot,yes,20,";
    const at_ms = instantToMs("2026-03-20T05:00:00.000Z");
    expect(errorsOf([line], craftWith({ readings: [reading(1000, 5.1, { at_ms })] }))).toEqual([
      "2 at alreadyHeld",
    ]);
    expect(errorsOf([line, line])).toEqual(["3 at twice"]);
    const filled = "uplift,engineOilLeft,2026-03-20T05:00Z,0.5,L,1000,,,,";
    expect(errorsOf([filled], craftWith({ uplifts: [uplift(1000, 1, { at_ms })] }))).toEqual([
      "2 at alreadyHeld",
    ]);
  });

  test("need their columns, each once, and none that nobody knows", () => {
    const of = (header: string) =>
      levelsFromCsv(`${header}\n`, quill, emptyCraft, now_ms).errors.map(
        ({ code, found }) => `${code} ${found}`,
      );
    expect(of("kind;gauge;at;value;unit")).toContain("header kind;gauge;at;value;unit");
    expect(of("kind,gauge,at,value")).toEqual(["header "]);
    expect(of("kind,gauge,at,value,unit,unit")).toEqual(["header unit, unit"]);
    expect(of("kind,gauge,at,value,unit,colour")).toEqual(["header colour"]);
    expect(of("kind,gauge,at,value,unit")).toEqual(["nothing 0"]);
    expect(of("")).toHaveLength(5);
  });

  test("never throw, whatever the file", () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 300 }), (noise) => {
        const file = `kind,gauge,at,value,unit\n${noise}`;
        expect(Array.isArray(levelsFromCsv(file, quill, emptyCraft, now_ms).errors)).toBe(true);
      }),
      { numRuns: 300 },
    );
  });
});
