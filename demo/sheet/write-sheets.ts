// Writes the sheets of the demo and the published JSON Schema: `node demo/sheet/write-sheets.ts`.
// The files are what is loaded; a test holds them to what is written here.

import { writeFileSync } from "node:fs";
import { sheetJsonSchema } from "../../src/core/sheet/json-schema.ts";
import type { Sheet } from "../../src/core/sheet/schema.ts";
import { quill } from "./quill/quill.ts";
import { smallSheet } from "./small-sheet.ts";

type Loose = Record<string, unknown>;
const copy = (sheet: Sheet) =>
  JSON.parse(JSON.stringify(sheet)) as { [Block in keyof Sheet]: Loose[] & Loose };

/** Well typed but wrong: the cowling stays open, a gauge is not there, an envelope crosses itself. */
function openCowling() {
  const sheet = copy(smallSheet);
  Object.assign(sheet.items[4] as Loose, { closes: ["pitotCover"] });
  Object.assign(sheet.items[3] as Loose, { reads: "oill" });
  (sheet.envelopes[0] as Loose)["points_m_kg"] = [
    [1.9, 800],
    [2.3, 1500],
    [1.9, 1500],
    [2.3, 800],
    [1.9, 800],
  ];
  return sheet;
}

/** Slips of the pen: millimetres under a key in metres, no German, an unknown key, a condition that nobody derives. */
function slips() {
  const sheet = copy(smallSheet);
  Object.assign(sheet.stops[1] as Loose, { x_m: 2000 });
  Object.assign(sheet.items[7] as Loose, { text: { en: "Tail whole" } });
  Object.assign(sheet.items[0] as Loose, { mirrorred: "pitotOn" });
  Object.assign(sheet.items[8] as Loose, { applies: { condition: "frosty" } });
  Object.assign(sheet.gauges[0] as Loose, { unit: "litres" });
  return sheet;
}

export const sheetFiles: Readonly<Record<string, unknown>> = {
  "demo/sheet/quill.json": quill,
  "demo/sheet/broken/open-cowling.json": openCowling(),
  "demo/sheet/broken/slips.json": slips(),
  "src/core/sheet/sheet.schema.json": sheetJsonSchema(),
};

export const fileText = (content: unknown): string => `${JSON.stringify(content, null, 1)}\n`;

if (import.meta.main) {
  for (const [path, content] of Object.entries(sheetFiles)) {
    writeFileSync(new URL(`../../${path}`, import.meta.url), fileText(content));
  }
}
