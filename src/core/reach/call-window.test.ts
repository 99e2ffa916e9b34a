import * as fc from "fast-check";
import { expect, test } from "vitest";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import { callTo, craftOf, knownOf, now_ms, placeAt } from "./arbitrary-call.ts";
import { assessCall } from "./assess-call.ts";
import type { CallKnown } from "./call.ts";
import { latestDeparture } from "./call-window.ts";

const call = callTo(placeAt(70.5, 11.6, 400));
const blocks = (from_ms: number | null, until_ms: number | null): Reason => ({
  code: "due.over",
  effect: "blocks",
  operations: "all",
  from_ms,
  until_ms,
  source: { kind: "law", law: "test" },
  evidence: [],
  remedy: { code: "light.wait", clearance: "time" },
  facts: {},
});

test("a deferral that ends at midnight says until when to leave so as to be back before it", () => {
  const midnight_ms = Date.UTC(2026, 10, 26);
  const known = knownOf(craftOf(), { reasons: [blocks(midnight_ms, null)] });
  const latest = latestDeparture(known, call)!;
  expect(latest.ends_ms).toBeLessThan(midnight_ms);
  expect(midnight_ms - latest.ends_ms).toBeLessThanOrEqual(2);
  expect(latest.because).toMatchObject({ kind: "record", met: false, what: "due.over" });
});

test("darkness counts where it needs more fuel, at its own instant at each place", () => {
  const dusk_ms = now_ms + 4 * hour_ms;
  const dark: CallKnown = knownOf(craftOf(), {
    policy: { contingency_pct: 5, hems: null, landmarks: true, extra_kg: 0, refuelRunning: false },
    lightAt: (_place, at_ms) => (at_ms < dusk_ms ? "day" : "night"),
    lightChange: (_place, at_ms) => (at_ms < dusk_ms ? dusk_ms : null),
  });
  const day = assessCall(dark, call).fuel!;
  // So much that it is enough by day and not by night.
  const fuel_kg = call.fuel_kg - (day.fuel_kg - day.required_kg) + 2;
  const latest = latestDeparture(dark, { ...call, fuel_kg })!;
  expect(dusk_ms - latest.ends_ms).toBeLessThanOrEqual(2);
  expect(latest.because.kind).toBe("fuel");
});

test("a call that is not acceptable has none, and one that nothing ends has none either", () => {
  expect(latestDeparture(knownOf(craftOf()), call)).toBeNull();
  expect(latestDeparture(knownOf(craftOf(), { reasons: [blocks(null, null)] }), call)).toBeNull();
});

test("every departure up to it is acceptable, and the next is not", () => {
  const span = fc.record({
    from_min: fc.integer({ min: 1, max: 600 }),
    length_min: fc.integer({ min: 1, max: 200 }),
    atScene: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(span, { minLength: 1, maxLength: 4 }), (spans) => {
      const reasonOf = ({ from_min, length_min }: (typeof spans)[number]) =>
        blocks(now_ms + from_min * minute_ms, now_ms + (from_min + length_min) * minute_ms);
      const known = knownOf(craftOf(), {
        reasons: spans.filter(({ atScene }) => !atScene).map(reasonOf),
        skyAt: ({ name }) => (name === "scene" ? spans.filter(({ atScene }) => atScene).map(reasonOf) : []),
      });
      const isAcceptable = (depart_ms: number) => assessCall(known, { ...call, depart_ms }).isAcceptable;
      const latest = latestDeparture(known, call);
      if (latest === null) {
        expect(isAcceptable(now_ms)).toBe(false);
        return;
      }
      for (let at_ms = now_ms; at_ms < latest.depart_ms; at_ms += 97_000)
        expect(isAcceptable(at_ms)).toBe(true);
      expect(isAcceptable(latest.depart_ms)).toBe(true);
      expect(isAcceptable(latest.depart_ms + 2)).toBe(false);
    }),
    { numRuns: 25 },
  );
});
