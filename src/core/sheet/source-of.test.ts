import { expect, test } from "vitest";
import { withEdits } from "../../../demo/sheet/break-sheet.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import type { Sheet } from "./schema.ts";
import { sheetSource } from "./source-of.ts";

test("a line is cited from its own source, else from its block's, with page where one is given", () => {
  const own = { document: "Bulletin (invented)", revision: "2", page: "7" };
  const sheet = withEdits(smallSheet, { "gauges[0].source": own }) as Sheet;
  expect(sheetSource(sheet, "gauges", 0)).toEqual({
    kind: "sheet",
    path: "gauges[0]",
    cite: "Bulletin (invented), 2, 7",
  });
  expect(sheetSource(sheet, "operations", 0, "needs.equipment")).toEqual({
    kind: "sheet",
    path: "operations[0].needs.equipment",
    cite: "Sketch handbook (invented), 1",
  });
  expect(sheetSource(sheet, "walkValidity").cite).toBe("Sketch handbook (invented), 1");
  expect(sheetSource(sheet, "hoist")).toEqual({ kind: "sheet", path: "hoist", cite: null });
});
