// Three-valued logic by hand (Kleene's strong tables) and against a plain two-valued evaluator; plans of the smallest
// sheet by hand, of the demo's sheet by properties.

import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { withEdits } from "../../../demo/sheet/break-sheet.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { evaluateApplicability, itemsFor, termsOf } from "./applicability.ts";
import type { Conditions, CraftConfig, Truth } from "./applicability.ts";
import { conditions } from "./applicability-schema.ts";
import type { Applicability, Condition } from "./applicability-schema.ts";
import type { Sheet } from "./schema.ts";
import { walkKinds } from "./walk-blocks.ts";

const yes: Applicability = { installed: "yes" };
const no: Applicability = { installed: "no" };
const open: Applicability = { condition: "frost" };
const craft: CraftConfig = { variant: "2", installed: { yes: true, no: false } };
const value = (expression: Applicability): Truth => evaluateApplicability(expression, craft, {}).value;

describe("an expression", () => {
  test("is true, false or unknown as Kleene's tables say", () => {
    expect([value(yes), value(no), value(open)]).toEqual([true, false, "unknown"]);
    expect([value({ not: yes }), value({ not: no }), value({ not: open })]).toEqual([false, true, "unknown"]);
    const pairs = [yes, no, open].flatMap((a) => [yes, no, open].map((b) => [a, b]));
    expect(pairs.map((all) => value({ all }))).toEqual([
      true,
      false,
      "unknown",
      false,
      false,
      false,
      "unknown",
      false,
      "unknown",
    ]);
    expect(pairs.map((any) => value({ any }))).toEqual([
      true,
      true,
      true,
      true,
      false,
      "unknown",
      true,
      "unknown",
      "unknown",
    ]);
  });

  test("that is left out applies always, for no reason", () => {
    expect(evaluateApplicability(undefined, craft, {})).toEqual({ value: true, why: [] });
  });

  test("names the terms that decided it, and no others", () => {
    const why = (expression: Applicability) =>
      evaluateApplicability(expression, craft, { dust: true }).why.map(
        (term) => `${term.name} ${term.state}`,
      );
    expect(why({ all: [yes, open, no, { condition: "dust" }] })).toEqual(["no false"]);
    expect(why({ all: [yes, open, { condition: "dust" }] })).toEqual(["frost unknown"]);
    expect(why({ all: [yes, { condition: "dust" }] })).toEqual(["yes true", "dust true"]);
    expect(why({ any: [no, { condition: "dust" }, yes] })).toEqual(["dust true"]);
    expect(why({ not: { any: [no, { variant: "2H" }] } })).toEqual(["no false", "2H false"]);
  });

  test("takes equipment, variant and conditions that are not known as unknown, whatever they are called", () => {
    const nothing: CraftConfig = { variant: null, installed: {} };
    for (const expression of [{ installed: "toString" }, { variant: "2" }, { condition: "dust" }] as const) {
      expect(evaluateApplicability(expression, nothing, {}).value).toBe("unknown");
    }
  });

  test("agrees with plain logic when everything is known", () => {
    fc.assert(
      fc.property(expressions, fc.array(fc.boolean(), { minLength: 5, maxLength: 5 }), (expression, bits) => {
        const known = world(bits);
        const verdict = evaluateApplicability(expression, known.craft, known.conditions);
        expect(verdict.value).toBe(plain(expression, known.holds));
      }),
      { numRuns: 500 },
    );
  });

  test("that something unknown leaves open can go either way, but what is settled stays settled", () => {
    fc.assert(
      fc.property(
        expressions,
        fc.array(fc.constantFrom(true, false, "unknown" as const), { minLength: 5, maxLength: 5 }),
        (expression, bits) => {
          const partly = world(bits);
          const verdict = evaluateApplicability(expression, partly.craft, partly.conditions).value;
          if (verdict === "unknown") return;
          for (let fill = 0; fill < 32; fill += 1) {
            const full = world(bits.map((bit, at) => (bit === "unknown" ? (fill & (1 << at)) !== 0 : bit)));
            expect(plain(expression, full.holds)).toBe(verdict);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  test("lists each of its terms once", () => {
    expect(termsOf({ all: [yes, { any: [no, yes] }, { not: open }] }).map((term) => term.name)).toEqual([
      "yes",
      "no",
      "frost",
    ]);
  });
});

describe("the plan of the smallest sheet", () => {
  const rows = (installed: Readonly<Record<string, boolean>>, edits = {}) =>
    itemsFor(withEdits(smallSheet, edits) as Sheet, { variant: "1", installed }, {}, "full").map(
      (row) => `${row.item.id} ${row.state}${row.certain ? "" : "?"}`,
    );

  test("follows the published order of stops, and within a stop the order of the items", () => {
    expect(rows({ floats: true }, { "order.full": ["right", "tail", "left", "nose"] })).toEqual([
      "rightFloat applies",
      "tail applies",
      "cowlOpen applies",
      "oil applies",
      "cowlShut applies",
      "leftFloat applies",
      "leftBlank provisionUnused",
      "pitot applies",
    ]);
  });

  test("walks the provision item where the equipment is not installed, and says for what", () => {
    expect(rows({ floats: false }).slice(-4)).toEqual([
      "leftFloat notInstalled",
      "leftBlank applies",
      "tail applies",
      "rightFloat notInstalled",
    ]);
    const plan = itemsFor(smallSheet, { variant: "1", installed: { floats: false } }, {}, "full");
    const row = (id: string) => plan.find((one) => one.item.id === id);
    expect(row("leftFloat")?.provision).toBe("leftBlank");
    expect(row("leftBlank")?.insteadOf).toEqual(["leftFloat"]);
    expect(row("rightFloat")?.provision).toBe(null);
    expect(row("leftFloat")?.why).toEqual([{ kind: "installed", name: "floats", state: false }]);
  });

  test("walks both where nobody knows whether the equipment is installed", () => {
    expect(rows({}).slice(-4)).toEqual([
      "leftFloat applies?",
      "leftBlank applies?",
      "tail applies",
      "rightFloat applies?",
    ]);
  });

  test("goes along a chain of provision items to the first that applies", () => {
    const chain = {
      "items[6].applies": { installed: "boards" },
      "items[6].provision": "plain",
      "items[9]": { ...smallSheet.items[6], id: "plain" },
    };
    const left = (installed: Readonly<Record<string, boolean>>) => rows(installed, chain).slice(4, 7);
    expect(left({ floats: true, boards: false })).toEqual([
      "leftFloat applies",
      "leftBlank notInstalled",
      "plain provisionUnused",
    ]);
    expect(left({ floats: false, boards: true })).toEqual([
      "leftFloat notInstalled",
      "leftBlank applies",
      "plain provisionUnused",
    ]);
    expect(left({ floats: false, boards: false })).toEqual([
      "leftFloat notInstalled",
      "leftBlank notInstalled",
      "plain applies",
    ]);
  });

  test("tells another variant, another day and other equipment apart", () => {
    const state = (applies: Applicability) =>
      itemsFor(
        withEdits(smallSheet, { "items[7].applies": applies }) as Sheet,
        { variant: "1", installed: { floats: true, boards: false } },
        { frost: false },
        "full",
      ).find((row) => row.item.id === "tail")?.state;
    expect(state({ variant: "9" })).toBe("notVariant");
    expect(state({ condition: "frost" })).toBe("notToday");
    expect(state({ not: { installed: "floats" } })).toBe("fittedOtherwise");
    expect(state({ installed: "boards" })).toBe("notInstalled");
    // Installing boards alone would not bring it back: the day rules it out as well.
    expect(state({ all: [{ installed: "boards" }, { condition: "frost" }] })).toBe("notToday");
  });
});

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;

describe("the plan of the demo's sheet", () => {
  const truths = fc.constantFrom(true, false, "unknown" as const);
  const crafts = fc.record({
    variant: fc.constantFrom("2", "2H"),
    equipment: fc.tuple(...quill.equipment.map(() => truths)),
    weather: fc.tuple(...conditions.map(() => truths)),
    walk: fc.constantFrom(...walkKinds),
  });
  const told = <Name extends string>(names: readonly Name[], bits: readonly Truth[]) =>
    Object.fromEntries(
      names.flatMap((name, at) => (bits[at] === "unknown" ? [] : [[name, bits[at]]])),
    ) as Record<Name, boolean>;
  const ids = quill.equipment.map((one) => one.id);
  const walked = (craftConfig: CraftConfig, weather: Conditions, walk: (typeof walkKinds)[number]) =>
    itemsFor(quill, craftConfig, weather, walk).filter((row) => row.state === "applies");

  test("names every item of a walk once, whatever is known", () => {
    fc.assert(
      fc.property(crafts, ({ variant, equipment, weather, walk }) => {
        const rows = itemsFor(
          quill,
          { variant, installed: told(ids, equipment) },
          told(conditions, weather),
          walk,
        );
        const wanted = quill.items.filter((item) => item.walks.includes(walk)).map((item) => item.id);
        expect(rows.map((row) => row.item.id).toSorted()).toEqual(wanted.toSorted());
      }),
      { numRuns: 60 },
    );
  });

  test("never gets shorter by knowing less", () => {
    fc.assert(
      fc.property(
        crafts,
        fc.infiniteStream(fc.boolean()),
        ({ variant, equipment, weather, walk }, stream) => {
          const fill = (bits: readonly Truth[]): Truth[] =>
            bits.map((bit) => (bit === "unknown" ? (stream.next().value as boolean) : bit));
          const lessKnown = walked(
            { variant, installed: told(ids, equipment) },
            told(conditions, weather),
            walk,
          );
          const known = walked(
            { variant, installed: told(ids, fill(equipment)) },
            told(conditions, fill(weather)),
            walk,
          );
          const there = new Set(lessKnown.map((row) => row.item.id));
          expect(known.filter((row) => !there.has(row.item.id)).map((row) => row.item.id)).toEqual([]);
        },
      ),
      { numRuns: 150 },
    );
  });

  test("is certain of everything when everything is known, and of no conditional item when nothing is", () => {
    const all = Object.fromEntries(ids.map((id) => [id, true]));
    const fine = Object.fromEntries(conditions.map((name) => [name, false]));
    expect(walked({ variant: "2", installed: all }, fine, "full").every((row) => row.certain)).toBe(true);
    const blind = walked({ variant: null, installed: {} }, {}, "full");
    const conditional = blind.filter((row) => row.item.applies !== undefined);
    expect(conditional.length).toBeGreaterThan(60);
    expect(conditional.some((row) => row.certain)).toBe(false);
  });
});

// Expressions over five terms, and the worlds in which they are judged.
const names = [
  { installed: "a" },
  { installed: "b" },
  { variant: "2" },
  { condition: "frost" },
  { condition: "dust" },
] as const satisfies readonly Applicability[];

const { expressions } = fc.letrec<{ expressions: Applicability }>((tie) => ({
  expressions: fc.oneof(
    { depthSize: "small", withCrossShrink: true },
    fc.constantFrom(...names),
    fc.record({ all: fc.array(tie("expressions"), { minLength: 1, maxLength: 3 }) }),
    fc.record({ any: fc.array(tie("expressions"), { minLength: 1, maxLength: 3 }) }),
    fc.record({ not: tie("expressions") }),
  ),
}));

function world(bits: readonly Truth[]) {
  const [a = "unknown", b = "unknown", second = "unknown", frost = "unknown", dust = "unknown"] = bits;
  const given = <Name extends string>(entries: readonly (readonly [Name, Truth])[]) =>
    Object.fromEntries(entries.filter(([, bit]) => bit !== "unknown")) as Partial<Record<Name, boolean>>;
  return {
    craft: {
      variant: second === "unknown" ? null : second ? "2" : "2H",
      installed: given([
        ["a", a],
        ["b", b],
      ]) as Record<string, boolean>,
    },
    conditions: given<Condition>([
      ["frost", frost],
      ["dust", dust],
    ]),
    holds: (term: Applicability) =>
      bits[names.findIndex((name) => JSON.stringify(name) === JSON.stringify(term))] === true,
  };
}

/** Two-valued logic, written another way. */
function plain(expression: Applicability, holds: (term: Applicability) => boolean): boolean {
  if ("not" in expression) return !plain(expression.not, holds);
  if ("all" in expression) return expression.all.every((part) => plain(part, holds));
  if ("any" in expression) return expression.any.some((part) => plain(part, holds));
  return holds(expression);
}
