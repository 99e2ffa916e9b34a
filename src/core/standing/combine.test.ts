import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { clearances, effects } from "../facts/reason.ts";
import { reasonCodes } from "../facts/reason-codes.ts";
import type { Reason } from "../facts/reason.ts";
import { compareVerdicts, isActive, nextAlong, standingAt, standingLine, touches } from "./combine.ts";

const horizon = 1_000;

const arbitraryReason: fc.Arbitrary<Reason> = fc
  .record({
    effect: fc.constantFrom(...effects),
    operations: fc.constantFrom<Reason["operations"]>("all", ["day"], ["night"], ["day", "night"]),
    from: fc.option(fc.integer({ min: -50, max: horizon + 50 })),
    length: fc.option(fc.integer({ min: 1, max: 600 })),
    clearance: fc.constantFrom(...clearances),
    quantity: fc.constantFrom("wind_kt", "mass_kg"),
    value: fc.integer({ min: 0, max: 9 }),
    code: fc.constantFrom(...reasonCodes),
  })
  .map(({ effect, operations, from, length, clearance, quantity, value, code }) => ({
    code,
    effect,
    operations,
    from_ms: from,
    until_ms: length === null ? null : (from ?? 0) + length,
    source: { kind: "law", law: "test" },
    evidence: [],
    remedy: { code: "walk.doFull", clearance },
    facts: {},
    ...(effect === "limits" ? { limit: { quantity, value, stricter: "lower" as const } } : {}),
  }));

const reasonLists = fc.array(arbitraryReason, { maxLength: 12 });

describe("the standing line", () => {
  test("equals the standing computed afresh at every instant", () => {
    fc.assert(
      fc.property(reasonLists, (reasons) => {
        const line = standingLine(reasons, "day", 0, horizon);
        let span = 0;
        for (let at = 0; at < horizon; at += 1) {
          if (line[span]!.until_ms <= at) span += 1;
          const fresh = standingAt(reasons, "day", at);
          expect(line[span]!.verdict).toBe(fresh.verdict);
          expect(line[span]!.limits).toEqual(fresh.limits);
        }
      }),
      { numRuns: 120 },
    );
  });

  test("covers the whole time without gap or overlap, and neighbours differ", () => {
    fc.assert(
      fc.property(reasonLists, (reasons) => {
        const line = standingLine(reasons, "night", 0, horizon);
        expect(line[0]!.from_ms).toBe(0);
        expect(line.at(-1)!.until_ms).toBe(horizon);
        line.slice(1).forEach((span, index) => {
          const before = line[index]!;
          expect(span.from_ms).toBe(before.until_ms);
          expect([span.verdict, span.limits]).not.toEqual([before.verdict, before.limits]);
        });
      }),
    );
  });

  test("is never improved by one more reason, at any instant", () => {
    fc.assert(
      fc.property(reasonLists, arbitraryReason, fc.nat(horizon), (reasons, extra, at) => {
        const before = standingAt(reasons, "day", at);
        const after = standingAt([...reasons, extra], "day", at);
        expect(compareVerdicts(after.verdict, before.verdict)).toBeGreaterThanOrEqual(0);
        for (const [quantity, limit] of Object.entries(before.limits)) {
          expect(after.limits[quantity]!.value).toBeLessThanOrEqual(limit.value);
        }
      }),
    );
  });

  test("does not depend on the order in which reasons are given", () => {
    fc.assert(
      fc.property(reasonLists, (reasons) => {
        const forwards = standingLine(reasons, "day", 0, horizon);
        expect(standingLine(reasons.toReversed(), "day", 0, horizon)).toEqual(forwards);
      }),
    );
  });

  test("names what begins or lapses at the next change, and only that", () => {
    fc.assert(
      fc.property(reasonLists, (reasons) => {
        const mine = reasons.filter((reason) => touches(reason, "day"));
        const change = nextAlong(standingLine(mine, "day", 0, horizon), mine);
        if (change === null) {
          expect(standingLine(reasons, "day", 0, horizon)).toHaveLength(1);
          return;
        }
        expect(change.begins.length + change.lapses.length).toBeGreaterThan(0);
        for (const reason of [...change.begins, ...change.lapses]) {
          expect(touches(reason, "day")).toBe(true);
          expect(isActive(reason, change.at_ms)).not.toBe(isActive(reason, change.at_ms - 1));
        }
      }),
    );
  });
});

describe("a standing", () => {
  const reason = (effect: Reason["effect"], more: Partial<Reason> = {}): Reason => ({
    code: "walk.due",
    effect,
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "law", law: "test" },
    evidence: [],
    remedy: { code: "walk.doFull", clearance: "minute" },
    facts: {},
    ...more,
  });

  test("is ready when nothing speaks against it, and an advice leaves it so", () => {
    expect(standingAt([], "day", 0).verdict).toBe("ready");
    expect(standingAt([reason("advises")], "day", 0).verdict).toBe("ready");
  });

  test("lets not ready win over not known, and not known over limits", () => {
    const limit = reason("limits", { limit: { quantity: "wind_kt", value: 40, stricter: "lower" } });
    expect(standingAt([limit], "day", 0).verdict).toBe("withinLimits");
    expect(standingAt([limit, reason("unknown")], "day", 0).verdict).toBe("notKnown");
    expect(standingAt([limit, reason("unknown"), reason("blocks")], "day", 0).verdict).toBe("notReady");
  });

  test("takes the stricter of two limits, whichever way is stricter", () => {
    const wind = (value: number): Reason =>
      reason("limits", { limit: { quantity: "wind_kt", value, stricter: "lower" } });
    const ceiling = (value: number): Reason =>
      reason("limits", { limit: { quantity: "ceiling_ft", value, stricter: "higher" } });
    const { limits } = standingAt([wind(40), wind(35), ceiling(500), ceiling(1200)], "day", 0);
    expect(limits["wind_kt"]!.value).toBe(35);
    expect(limits["ceiling_ft"]!.value).toBe(1200);
  });

  test("refuses a limit without its number and a line that ends before it begins", () => {
    expect(() => standingAt([reason("limits")], "day", 0)).toThrow(RangeError);
    expect(() => standingLine([], "day", 5, 5)).toThrow(RangeError);
  });

  test("lists what clears soonest first", () => {
    const codes = standingAt(
      [
        reason("blocks", {
          code: "finding.grounds",
          remedy: { code: "finding.toEngineer", clearance: "notToday" },
        }),
        reason("unknown", { code: "level.missing" }),
        reason("blocks", { code: "closure.open" }),
      ],
      "day",
      0,
    ).reasons.map(({ code }) => code);
    expect(codes).toEqual(["closure.open", "level.missing", "finding.grounds"]);
  });
});
