// How long the plan of a walk takes with a record behind it, and what the proposed order of the demo's walks saves.
// Peers: for the plan, the items that apply by the sheet alone, which knows neither touches nor work nor findings; for the
// order, the published one. `value` against its peer is the saving: 1.00 is none.
import { readFileSync } from "node:fs";
import { walkKinds } from "../src/core/facts/craft.ts";
import { itemsFor } from "../src/core/sheet/applicability.ts";
import { checkSheet } from "../src/core/sheet/check-sheet.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import { craftConfigOf } from "../src/core/walk/craft-config.ts";
import { proposeOrder } from "../src/core/walk/order/walk-order.ts";
import { planWalk } from "../src/core/walk/plan.ts";
import { Story } from "../src/ledger/craft/arbitrary-story.ts";
import type { Bench, Row } from "./rows.ts";

const bench: Bench = async (size) => {
  const sheet = demoSheet();
  const times = size === "tiny" ? 1 : 400;
  return [...plans(sheet, times), ...orders(sheet)];
};

export default bench;

function demoSheet(): Sheet {
  const checked = checkSheet(
    JSON.parse(readFileSync(new URL("../demo/sheet/quill.json", import.meta.url), "utf8")),
  );
  if ("errors" in checked) throw new Error("the demo's sheet is refused");
  return checked.ok;
}

/** A machine with thirty walks behind it, each closure touched since, and its work released. */
function walkedOften(sheet: Sheet): Story {
  const story = new Story(sheet);
  for (let day = 0; day < 30; day += 1) {
    const walk = `walk-day-${day}`;
    story.begin(walk, "full", { frost: false, rain: true });
    story.walkAll(walk);
    story.finish(walk);
    story.pass(60);
  }
  for (const { id } of sheet.closures)
    story.tell("closure.set", { closure: id, state: "closed", replaces: [], at: story.at }, "p-two");
  story.release({ worked: sheet.stops.slice(0, 3).map(({ id }) => id) });
  return story;
}

function plans(whole: Sheet, times: number): readonly Row[] {
  const full = whole.items.filter(({ walks }) => walks.includes("full")).slice(0, 150);
  const kept = new Set(full);
  // A sheet whose full walk has 150 items; its other walks stay whole.
  const short: Sheet = {
    ...whole,
    items: whole.items.filter((item) => kept.has(item) || !item.walks.includes("full")),
  };
  return [
    [short, "full"],
    [short, "launch"],
    [whole, "full"],
  ].map((pair): Row => {
    const [sheet, kind] = pair as [Sheet, "full" | "launch"];
    const { state } = walkedOften(sheet);
    const plan = () => planWalk(sheet, state, kind, { frost: null });
    const alone = () => itemsFor(sheet, craftConfigOf(state), {}, kind);
    const rows = plan().rows;
    const needed = alone().filter((row) => row.state === "applies");
    if (!needed.every(({ item }) => rows.some((row) => row.item.id === item.id)))
      throw new Error("the plan drops an item of the sheet");
    const listed = sheet.items.filter(({ walks }) => walks.includes("full")).length;
    return {
      name: `${kind} walk planned, ${listed} items listed, ${rows.length} walked`,
      value: milliseconds(plan, times),
      unit: "ms",
      budget: 2,
      better: "lower",
      peer: { name: "by the sheet alone", value: milliseconds(alone, times) },
    };
  });
}

function orders(sheet: Sheet): readonly Row[] {
  return walkKinds.flatMap((kind) => {
    const { published, proposed, proven } = proposeOrder(sheet, kind);
    if (!proven) throw new Error(`the order of the ${kind} walk is not proved`);
    if (proposed.moving_s > published.moving_s) throw new Error("a proposal that is slower");
    const row = (name: string, unit: string, of: (one: typeof published) => number): Row => ({
      name: `${kind} walk as proposed, ${name}`,
      value: of(proposed),
      unit,
      better: "lower",
      peer: { name: "as published", value: of(published) },
    });
    return [
      row("way", "m", ({ way_m }) => way_m),
      row("ladder", "moves", ({ ladderMoves }) => ladderMoves),
      row("on the way", "s", ({ moving_s }) => moving_s),
    ];
  });
}

/** Median of single runs after a warm-up of as many again. */
function milliseconds(run: () => { readonly length: number } | object, times: number): number {
  const taken: number[] = [];
  for (let turn = 0; turn < 2 * times; turn += 1) {
    const began = performance.now();
    run();
    if (turn >= times) taken.push(performance.now() - began);
  }
  return taken.toSorted((a, b) => a - b)[taken.length >> 1] ?? 0;
}
