import { describe, expect, test } from "vitest";
import type { Reason } from "../facts/reason.ts";
import type { CraftStanding } from "./assess.ts";
import { standingAt } from "./combine.ts";
import { fallsBetween } from "./falls.ts";

const reason = (code: Reason["code"], effect: Reason["effect"], more: Partial<Reason> = {}): Reason => ({
  code,
  effect,
  operations: "all",
  from_ms: null,
  until_ms: null,
  source: { kind: "law", law: "test" },
  evidence: [],
  remedy: { code: "light.wait", clearance: "time" },
  facts: {},
  ...more,
});

function standing(reasons: readonly Reason[], at_ms: number): CraftStanding {
  const operations = ["day", "night"].map((operation) => ({
    ...standingAt(reasons, operation, at_ms),
    line: [],
    rows: { machine: [], sky: [] },
    changes: [],
    next: null,
    kept: { line: [], next: null },
    help: null,
  }));
  return { at_ms, reasons, operations };
}

describe("a fall", () => {
  const dusk = reason("light.night", "blocks", { operations: ["day"], from_ms: 50 });

  test("by the line carries the line's own instant, whenever somebody looks", () => {
    expect(fallsBetween(standing([dusk], 0), standing([dusk], 49))).toEqual([]);
    const [fall, ...others] = fallsBetween(standing([dusk], 0), standing([dusk], 93));
    expect(others).toEqual([]);
    expect(fall).toEqual({
      operation: "day",
      at_ms: 50,
      from: "ready",
      to: "notReady",
      byLine: true,
      reasons: [dusk],
    });
  });

  test("by the record carries the instant of the look, and what was written", () => {
    const grounded = reason("finding.grounds", "blocks");
    const falls = fallsBetween(standing([dusk], 0), standing([dusk, grounded], 20));
    expect(
      falls.map(({ operation, at_ms, byLine, reasons }) => [operation, at_ms, byLine, reasons.length]),
    ).toEqual([
      ["day", 20, false, 1],
      ["night", 20, false, 1],
    ]);
  });

  test("is no rise, and nothing that stays as it was", () => {
    expect(fallsBetween(standing([dusk], 60), standing([], 61))).toEqual([]);
    const unknown = reason("record.exchangeOld", "unknown");
    expect(
      fallsBetween(standing([unknown], 0), standing([unknown, reason("due.left", "advises")], 1)),
    ).toEqual([]);
  });
});
