// `npm run study:levels`: how often each method alarms without cause, and how late it notices a leak, on invented
// histories; then the demo's own leak and twenty seeds that nothing was tried on, each with its result, the misses too.
// Writes bench/levels-study.md. The plan is the sheet's of the demo, fixed before any history was looked at.
import { readFileSync, writeFileSync } from "node:fs";
import type { Sheet } from "../../src/core/sheet/schema.ts";
import { demoOil } from "./demo-oil.ts";
import { demoPlan, measure, unseenSeeds } from "./measure.ts";
import { tableText } from "./table-text.ts";

const histories = 200;
const leaks = [0.02, 0.05, 0.1];
const file = new URL("../../bench/levels-study.md", import.meta.url);

const sheet = JSON.parse(
  readFileSync(new URL("../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;
const plan = demoPlan(sheet);
const powers = measure(plan, { histories, leaks, firstSeed: 100_000 });
const text = tableText({ plan, histories, powers, demo: await demoOil(), unseen: unseenSeeds(plan) });
writeFileSync(file, text);
process.stdout.write(text);
