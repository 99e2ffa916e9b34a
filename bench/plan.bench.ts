// How long a phone waits for the plan of a walk, and for a sheet to be checked when it is loaded.
// Peers: for the check, an independent validator on the published JSON Schema, which knows the shape but none of the
// cross rules; for the plan, the items that hold by plain two-valued logic, without saying why.
import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { conditions, type Applicability } from "../src/core/sheet/applicability-schema.ts";
import { itemsFor } from "../src/core/sheet/applicability.ts";
import { checkSheet } from "../src/core/sheet/check-sheet.ts";
import { sheetJsonSchema } from "../src/core/sheet/json-schema.ts";
import type { Bench } from "./rows.ts";

const document: unknown = JSON.parse(
  readFileSync(new URL("../demo/sheet/quill.json", import.meta.url), "utf8"),
);

const bench: Bench = async (size) => {
  const checked = checkSheet(document);
  if ("errors" in checked) throw new Error("The demo's sheet is refused");
  const sheet = checked.ok;
  const installed = Object.fromEntries(sheet.equipment.map(({ id }, at) => [id, at % 3 !== 0]));
  const weather = Object.fromEntries(conditions.map((name, at) => [name, at % 2 === 0]));
  const plan = () => itemsFor(sheet, { variant: "2", installed }, weather, "full");
  const plain = () =>
    sheet.items.filter(
      ({ walks, applies }) =>
        walks.includes("full") && (applies === undefined || holds(applies, installed, weather)),
    );
  const validate = new Ajv2020({ strict: false }).compile(sheetJsonSchema());

  const walked = plan().filter((row) => row.state === "applies" && row.insteadOf.length === 0);
  const unused = new Set(plan().flatMap((row) => (row.state === "provisionUnused" ? [row.item.id] : [])));
  const provisions = new Set(sheet.items.map((item) => item.provision));
  const expected = plain().filter((item) => !unused.has(item.id) && !provisions.has(item.id));
  if (walked.length !== expected.length || walked.length < 150) throw new Error("The plans differ");
  if (!validate(document)) throw new Error("The schemas differ");

  const times = size === "tiny" ? 1 : 100;
  return [
    {
      name: `plan of ${sheet.items.length} items`,
      value: milliseconds(plan, times * 10),
      unit: "ms",
      budget: 2,
      better: "lower",
      peer: { name: "filter without reasons", value: milliseconds(plain, times * 10) },
    },
    {
      name: "check of the demo's sheet",
      value: milliseconds(() => checkSheet(document), times),
      unit: "ms",
      budget: 50,
      better: "lower",
      peer: { name: "Ajv, shape only", value: milliseconds(() => validate(document), times) },
    },
  ];
};

export default bench;

function holds(
  expression: Applicability,
  installed: Readonly<Record<string, boolean>>,
  weather: Readonly<Record<string, boolean>>,
): boolean {
  if ("not" in expression) return !holds(expression.not, installed, weather);
  if ("all" in expression) return expression.all.every((part) => holds(part, installed, weather));
  if ("any" in expression) return expression.any.some((part) => holds(part, installed, weather));
  if ("installed" in expression) return installed[expression.installed] === true;
  return "variant" in expression ? expression.variant === "2" : weather[expression.condition] === true;
}

/** Median of single runs after a warm-up of as many again; the results are kept alive. */
function milliseconds(run: () => unknown, times: number): number {
  const taken: number[] = [];
  let kept: unknown;
  for (let turn = 0; turn < 2 * times; turn += 1) {
    const began = performance.now();
    kept = run();
    if (turn >= times) taken.push(performance.now() - began);
  }
  if (kept === undefined) throw new Error("Nothing was computed");
  return taken.toSorted((a, b) => a - b)[taken.length >> 1] ?? 0;
}
