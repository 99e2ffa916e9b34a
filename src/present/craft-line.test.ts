import { expect, test } from "vitest";
import type { CraftStanding } from "../core/standing/assess.ts";
import type { Verdict } from "../core/standing/combine.ts";
import { craftLine } from "./craft-line.ts";

function standing(verdicts: Readonly<Record<string, Verdict>>): CraftStanding {
  const operations = Object.entries(verdicts).map(([operation, verdict]) => ({
    operation,
    verdict,
    reasons: [],
    limits: {},
    line: [],
    rows: { machine: [], sky: [] },
    changes: [],
    next: null,
    kept: { line: [], next: null },
    help: null,
  }));
  return { at_ms: 0, reasons: [], operations };
}

test("a craft's line says its best standing first and every other with its operations", () => {
  expect(craftLine("Myr", standing({ dayVfr: "notReady", hoist: "notReady" }), "en")).toBe("Myr  Not ready");
  const mixed = { dayVfr: "ready", night: "notKnown", hoist: "notReady", transfer: "ready" } as const;
  expect(craftLine("Skjær", standing(mixed), "en")).toBe(
    "Skjær  Ready (dayVfr, transfer), not known (night), not ready (hoist)",
  );
});

test("a craft of which nothing is judged is not known", () => {
  expect(craftLine("Myr", standing({}), "de")).toBe("Myr  Nicht bekannt");
});
