import { expect, test } from "vitest";
import { quill } from "../../demo/sheet/quill/quill.ts";
import { changeCodes, structureCodes } from "../core/standing/handover.ts";
import type { HandoverPage } from "../core/standing/handover.ts";
import { handoverLines } from "./handover-lines.ts";
import { namesIn } from "./names.ts";
import { languages, localeOf } from "./words/language.ts";

const facts = {
  custody: "crew",
  words: "as it was",
  flight_h: 0.6,
  landings: 2,
  kind: "launch",
  stop: quill.stops[0]!.id,
  outcome: "watch",
  fluid: quill.fluids[0]!.id,
  typed: "0.5",
  unit: "L",
  event: "hardLanding",
  limitations: "not at night",
  task: quill.programme[0]!.id,
  component: "x",
  equipment: quill.equipment[0]!.id,
  installed: true,
  mass_kg: 1_700,
  fuel_kg: 400,
  kit: "ropes",
  aboard: false,
  by: "p-one",
  at_ms: 0,
};

function page(count: number): HandoverPage {
  const changed = Array.from({ length: count }, (_, index) => {
    const code = changeCodes[index % changeCodes.length]!;
    const kind = code === "finding" || code === "judged" || code === "closed" ? "leak" : "launch";
    return { code, entry: `${index}`, by: "p-one", at_ms: index, facts: { ...facts, kind } };
  });
  return {
    since_ms: null,
    changed,
    ending: [],
    asked: [],
    structure: structureCodes.map((code) => ({ code, facts })),
  };
}

test("every kind of line has its words in every language, and none is left open", () => {
  for (const language of languages) {
    const names = namesIn(language, quill, new Map([["p-one", "Ravn"]]));
    const teller = { names, locale: localeOf(language, "UTC"), now_ms: 60_000, sheet: quill };
    const lines = handoverLines(page(changeCodes.length), teller);
    for (const line of [...lines.changed, ...lines.open]) {
      expect(line).not.toMatch(/undefined|null|NaN|\[object/u);
      expect(line.length).toBeLessThanOrEqual(600);
    }
    expect(new Set(lines.changed).size).toBe(changeCodes.length);
    expect(lines.changed.every((line) => line.endsWith("Ravn"))).toBe(true);
  }
});

test("a page holds so many lines, the latest of them, and says how many it leaves to the ledger", () => {
  const names = namesIn("en", quill, new Map());
  const teller = { names, locale: localeOf("en", "UTC"), now_ms: 60_000, sheet: quill };
  const { changed } = handoverLines(page(60), teller);
  expect(changed).toHaveLength(23);
  expect(changed[0]).toBe("and 38 more in the ledger");
});
