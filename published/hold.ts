// The tests that every published topic has: all rows measured, every column within its tolerance, and a changed constant
// noticed.

import { describe, expect, test } from "vitest";
import { type Mutation, withMutant } from "./mutant.ts";
import { beyondTolerance, printTable, type Table } from "./table.ts";

/** Declares the tests that hold tables to their tolerances and to the number of rows that was published. */
export function holdTables(
  topic: string,
  tables: readonly Table[],
  rowsPublished: Readonly<Record<string, number>>,
): void {
  describe(`${topic} against what is published`, () => {
    test("every table is measured, and no row of it is left out", () => {
      expect(Object.fromEntries(tables.map(({ title, rows }) => [title, rows]))).toEqual(rowsPublished);
    });

    for (const table of tables) {
      test(`${table.title} is met within its tolerances`, () => {
        printTable(table);
        expect(beyondTolerance(table)).toEqual([]);
      });
    }
  });
}

/**
 * Declares the tests that change one text of the core at a time and expect a table to leave its tolerance. `unchanged`
 * is a text of the same kind that stays as it is: its copy must pass, so that it is the change that is noticed.
 */
export function noticeChanges(
  mutations: readonly Mutation[],
  unchanged: Pick<Mutation, "file" | "from">,
  {
    folders,
    entry,
    tables,
  }: { folders: readonly string[]; entry: string; tables: (module: unknown) => readonly Table[] },
): void {
  const beyondIn = (mutation: Mutation): Promise<string[]> =>
    withMutant(mutation, folders, entry, (module) =>
      tables(module).flatMap((table) => beyondTolerance(table)),
    );

  describe("one changed constant", () => {
    test.each(mutations)("$from to $to is noticed", async (mutation) => {
      expect(await beyondIn(mutation)).not.toEqual([]);
    });

    test("none changed, in the same kind of copy, passes", async () => {
      expect(await beyondIn({ ...unchanged, to: unchanged.from })).toEqual([]);
    });
  });
}
