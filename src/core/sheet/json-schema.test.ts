// The published JSON Schema file is the one made from the schema, and an independent validator reads it as we do.
// Outside check: Ajv 8.20.0 (JSON Schema draft 2020-12).

import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { expect, test } from "vitest";
import { gone, withEdits } from "../../../demo/sheet/break-sheet.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { fileText, sheetFiles } from "../../../demo/sheet/write-sheets.ts";
import { sheetJsonSchema } from "./json-schema.ts";
import { sheetSchema } from "./schema.ts";

const read = (path: string): string => readFileSync(new URL(`../../../${path}`, import.meta.url), "utf8");

test.each(Object.entries(sheetFiles))(
  "%s is what its generator writes (else run: node demo/sheet/write-sheets.ts)",
  (path, content) => {
    expect(read(path)).toBe(fileText(content));
  },
);

const validate = new Ajv2020({
  allErrors: true,
  strict: true,
  strictTypes: false,
  strictTuples: false,
}).compile(sheetJsonSchema());

test("an independent validator accepts the demo's sheet by the published schema", () => {
  expect(validate(JSON.parse(read("demo/sheet/quill.json"))), JSON.stringify(validate.errors)).toBe(true);
});

const grid = {
  kind: "grid",
  axes: [{ input: "temperature_C", at: [0, 40] }],
  values: [1500, 1400],
  output: "mass_kg",
};

test("an independent validator and ours agree on what has the wrong shape", () => {
  const edits: readonly Readonly<Record<string, unknown>>[] = [
    {},
    { "seats[0].x_m": "1.4" },
    { "seats[0].x_m": 31 },
    { "items[7].text.de": gone },
    { "items[0].colour": 1 },
    { "items[7].applies": { installed: "floats", variant: "1" } },
    { "items[7].applies": { all: [] } },
    { "items[7].applies": { not: { condition: "frosty" } } },
    { "items[7].applies": { not: { condition: "frost" } } },
    { "events[0].id": "hard landing" },
    { "envelopes[0].axis": "vertical" },
    { "envelopes[0].points_m_kg[0]": [1.9, 800, 1] },
    { "envelopes[0].points_m_kg[0]": [1.9] },
    { "programme[0].takesAway": ["dayVfr"] },
    { "programme[0].takesAway": "some" },
    { "operations[0].needs.pilots": 1.5 },
    { "charts.hover": { kind: "grid" } },
    { "charts.hover": { kind: "grid", source: smallSheet.sources.charts, anything: [1] } },
    { "charts.hover": grid },
    { "charts.hover": { ...grid, values: [[[1], 2], 3] } },
    { "charts.hover": { ...grid, values: [[1, null], 3] } },
    { "charts.hover": { ...grid, use: { for: "climb", limit: { atLeast: 150, atMost: 1 } } } },
    { "charts.hover": { kind: "chain", steps: [grid] } },
    { "sources.speeds": gone },
    { hoist: null },
    { format: "preen-sheet-2" },
  ];
  const verdicts = edits.map((edit) => {
    const json = withEdits(smallSheet, edit);
    return [validate(json), sheetSchema.safeParse(json).success];
  });
  expect(verdicts.map(([theirs]) => theirs)).toEqual(verdicts.map(([, ours]) => ours));
  // Both kinds are among them.
  expect(new Set(verdicts.map(([, ours]) => ours)).size).toBe(2);
});
