import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Reason } from "../facts/reason.ts";
import { air, arbitraryCall, callTo, craftOf, knownOf, now_ms, placeAt } from "./arbitrary-call.ts";
import { assessCall } from "./assess-call.ts";
import { remediesFor } from "./call-remedies.ts";
import type { CallRemedy, CallRemedyKind } from "./call-remedies.ts";
import type { Call, CallKnown } from "./call.ts";
import { firstWhere, lastWhere } from "./first-where.ts";

const known = knownOf(craftOf());
const only = (remedies: readonly CallRemedy[], kind: CallRemedyKind): CallRemedy => {
  const found = remedies.find(({ changes }) => changes.length === 1 && changes[0]!.kind === kind);
  if (found === undefined)
    throw new Error(
      `no ${kind} among ${remedies.map(({ changes }) => changes.map((c) => c.kind).join("+")).join(", ")}`,
    );
  return found;
};
/** The binding margin of what was solved for one quantity is at zero, to the last bits of its size. */
const expectAtZero = ({ answer }: CallRemedy): void => {
  const [binding] = answer.margins;
  expect(answer.isAcceptable).toBe(true);
  expect(Math.abs(binding!.room!)).toBeLessThanOrEqual(2e-9 * Math.max(1, Math.abs(binding!.limit ?? 0)));
};
const minute_ms = 60_000;

describe("what would make a call acceptable", () => {
  const blocks = (
    from_ms: number | null,
    until_ms: number | null,
    code: Reason["code"] = "light.night",
  ): Reason => ({
    code,
    effect: "blocks",
    operations: "all",
    from_ms,
    until_ms,
    source: { kind: "law", law: "test" },
    evidence: [],
    remedy: { code: "light.wait", clearance: "time" },
    facts: {},
  });

  test("nothing, where it is", () => {
    expect(remediesFor(known, callTo(placeAt(70.5, 11.6, 400)))).toEqual([]);
  });

  test("fuel that is missing is added, to the last gram", () => {
    const call = callTo(placeAt(70.6, 13.3, 400), { fuel_kg: 240 });
    expect(assessCall(known, call).margins[0]).toMatchObject({ kind: "fuel", met: false });
    const added = only(remediesFor(known, call), "addFuel");
    expectAtZero(added);
    expect(added.answer.margins[0]!.kind).toBe("fuel");
    const less = { ...added.call, fuel_kg: added.call.fuel_kg - 1e-5 };
    expect(assessCall(known, less).isAcceptable).toBe(false);
  });

  test("nearly empty tanks are filled up to what is needed, and not where the sky refuses all the same", () => {
    const call = callTo(placeAt(70.25, 12.4, 100), { fuel_kg: 40 });
    const added = only(remediesFor(known, call), "addFuel");
    expectAtZero(added);
    expect(added.changes[0]!.by_kg).toBeCloseTo(added.call.fuel_kg - 40, 9);
    const low: CallKnown = knownOf(craftOf(), {
      skyAt: ({ name }) => (name === "scene" ? [blocks(null, null)] : []),
    });
    expect(remediesFor(low, call)).toEqual([]);
  });

  test("a hover that fails is made good by less fuel, a lighter patient, or kit left behind", () => {
    const hot = { ...air, temperature: { value_C: 24, elevation_ft: 36 } };
    const call = callTo(placeAt(70.3, 12.3, 3_600), { air: hot, fuel_kg: 450 });
    expect(assessCall(known, call).margins[0]).toMatchObject({ kind: "hoverOutOfGroundEffect", met: false });
    const remedies = remediesFor(known, call);
    const lessFuel = only(remedies, "lessFuel");
    expectAtZero(lessFuel);
    expect(lessFuel.call.fuel_kg).toBeLessThan(450);
    expect(assessCall(known, { ...lessFuel.call, fuel_kg: lessFuel.call.fuel_kg + 1e-3 }).isAcceptable).toBe(
      false,
    );
    const lighter = only(remedies, "lighterPatient");
    expectAtZero(lighter);
    for (const remedy of remedies) expect(assessCall(known, remedy.call).isAcceptable).toBe(true);
  });

  test("one piece of kit is named when one is enough, the lightest that is", () => {
    const hot = { ...air, temperature: { value_C: 24, elevation_ft: 36 } };
    // A little too heavy: by how much is solved first.
    const heavy = callTo(placeAt(70.3, 12.3, 3_600), { air: hot, fuel_kg: 450 });
    const exact = only(remediesFor(known, heavy), "lessFuel").call;
    const tooMuch: Call = { ...exact, fuel_kg: exact.fuel_kg + 12.5 };
    const left = only(remediesFor(known, tooMuch), "leaveKit");
    // The rescue bag has 11.8 kg; the medical bag, with 14.2 kg, is the lightest that suffices.
    expect(left.changes[0]!.kit).toEqual(["medicalBag"]);
  });

  test("another hospital, or fuel at a stop that has it, where the way is too long", () => {
    const far = callTo(placeAt(69.9, 12.9, 200), { fuel_kg: 290 });
    expect(assessCall(known, far).isAcceptable).toBe(false);
    const remedies = remediesFor(known, far);
    expect(only(remedies, "otherHospital").changes[0]!.hospital).toBe("hospitalAlke");
    const refuel = only(remedies, "refuel");
    expect(refuel.changes[0]!.to_kg).toBeGreaterThan(0);
    const uplift_kg = refuel.changes[0]!.to_kg! - 1e-3;
    const stops = refuel.call.stops.map((stop) => (stop.uplift_kg > 0 ? { ...stop, uplift_kg } : stop));
    expect(assessCall(known, { ...refuel.call, stops }).isAcceptable).toBe(false);
  });

  test("waiting until dawn leaves at the instant that brings the first landing to it", () => {
    const dawn_ms = now_ms + 95 * minute_ms;
    const dark: CallKnown = knownOf(craftOf(), {
      skyAt: ({ name }) => (name === "scene" ? [blocks(null, dawn_ms)] : []),
    });
    const call = callTo(placeAt(70.5, 11.6, 400));
    const waiting = only(remediesFor(dark, call), "wait");
    const { stops } = assessCall(dark, waiting.call);
    expect(Math.abs(stops[1]!.arrive_ms! - dawn_ms)).toBeLessThanOrEqual(1);
    expect(waiting.clearance).toBe("time");
    expect(assessCall(dark, { ...call, depart_ms: waiting.call.depart_ms - 1_000 }).isAcceptable).toBe(false);
  });

  test("what lapses in flight has no remedy in waiting", () => {
    const late = knownOf(craftOf(), { reasons: [blocks(now_ms + 30 * minute_ms, null, "crew.shiftEnds")] });
    expect(remediesFor(late, callTo(placeAt(70.5, 11.6, 400)))).toEqual([]);
  });

  test("what begins in the call is got ahead of by a shorter stay, to the last bit", () => {
    const midnight_ms = now_ms + 60 * minute_ms;
    const late = knownOf(craftOf(), { reasons: [blocks(midnight_ms, null, "crew.shiftEnds")] });
    const call = callTo(placeAt(70.5, 11.6, 400));
    expect(assessCall(late, call)).toMatchObject({ isAcceptable: false });
    const shorter = only(remediesFor(late, call), "shorterStay");
    expect(shorter.answer.ends_ms!).toBeLessThan(midnight_ms);
    expect(midnight_ms - shorter.answer.ends_ms!).toBeLessThan(2);
    const [binding] = shorter.answer.margins;
    expect(binding).toMatchObject({ kind: "record", unit: "min", what: "crew.shiftEnds" });
    expect(binding!.room!).toBeLessThan(1e-4);
    const longer = { ...shorter.call.stops[0]!, stay_min: shorter.call.stops[0]!.stay_min + 1e-3 };
    const stops = [longer, ...shorter.call.stops.slice(1)];
    expect(assessCall(late, { ...shorter.call, stops }).isAcceptable).toBe(false);
  });

  test("a departure that was to be later is moved to the last one that is back in time", () => {
    const midnight_ms = now_ms + 180 * minute_ms;
    const late = knownOf(craftOf(), { reasons: [blocks(midnight_ms, null, "due.over")] });
    const call = callTo(placeAt(70.5, 11.6, 400), { depart_ms: now_ms + 170 * minute_ms });
    const earlier = only(remediesFor(late, call), "leaveEarlier");
    expect(earlier.call.depart_ms).toBeGreaterThan(now_ms);
    expect(midnight_ms - earlier.answer.ends_ms!).toBeLessThanOrEqual(1.5);
    expect(Math.abs(earlier.answer.margins[0]!.room!)).toBeLessThan(1e-4);
    const later = { ...earlier.call, depart_ms: earlier.call.depart_ms + 2 };
    expect(assessCall(late, later).isAcceptable).toBe(false);
  });

  test("somebody who boards onto a place that is taken is offered a free one", () => {
    const at = (id: string) => {
      const call = callTo(placeAt(70.5, 11.6, 400));
      const [scene, ...others] = call.stops;
      return { ...call, stops: [{ ...scene!, boards: [{ ...scene!.boards[0]!, at: id }] }, ...others] };
    };
    const taken = at("medicRight");
    expect(assessCall(known, taken).margins[0]).toMatchObject({
      kind: "seat",
      met: false,
      stop: 0,
      what: "medicRight",
    });
    const free = only(remediesFor(known, taken), "otherPlace");
    expect(free.changes[0]!.at).toBe("stretcherLeft");
    // The stretcher stands where the bench would be.
    expect(assessCall(known, at("benchLeft")).margins[0]).toMatchObject({ kind: "place", met: false });
    expect(only(remediesFor(known, at("benchLeft")), "otherPlace").changes[0]!.at).toBe("stretcherLeft");
  });

  test("two who board onto one place are noticed, and the second is moved", () => {
    const call = callTo(placeAt(70.5, 11.6, 400));
    const [scene, atHospital, base] = call.stops;
    const second = { id: "second", at: "stretcherLeft", most_kg: 70 };
    const stops = [
      { ...scene!, boards: [...scene!.boards, second] },
      { ...atHospital!, leaves: ["patient", "second"] },
      base!,
    ];
    expect(assessCall(known, { ...call, stops }).margins[0]).toMatchObject({ kind: "seat", met: false });
    const moved = only(remediesFor(known, { ...call, stops }), "otherPlace").call;
    expect(moved.stops[0]!.boards.map(({ at }) => at)).toEqual(["stretcherLeft", "medicAft"]);
    // One after the other is no matter: the first has left where the second boards.
    const inTurn = [scene!, { ...atHospital!, boards: [second] }, { ...base!, leaves: ["second"] }];
    expect(assessCall(known, { ...call, stops: inTurn }).margins.some(({ kind }) => kind === "seat")).toBe(
      false,
    );
  });

  test("fuel is filled with engines running only where that is planned and the fuel scheme says so", () => {
    const far = callTo(placeAt(69.9, 12.9, 200), { fuel_kg: 290 });
    const running = { ...far, stops: far.stops.map((stop) => ({ ...stop, engines: "running" as const })) };
    const engines = (refuelRunning: boolean, call: Call) =>
      only(remediesFor(knownOf(craftOf(), { policy: { ...known.policy, refuelRunning } }), call), "refuel")
        .changes[0]!.engines;
    expect([
      engines(false, far),
      engines(false, running),
      engines(true, far),
      engines(true, running),
    ]).toEqual(["stopped", "stopped", "stopped", "running"]);
  });

  test("two changes together where none alone does it", () => {
    const hot = { ...air, temperature: { value_C: 26, elevation_ft: 36 } };
    const call = callTo(placeAt(69.9, 12.9, 4_800), { air: hot, fuel_kg: 430 });
    const remedies = remediesFor(known, call);
    for (const { call: changed, answer } of remedies) {
      expect(answer.isAcceptable).toBe(true);
      expect(assessCall(known, changed).isAcceptable).toBe(true);
    }
  });

  test("whatever is solved is acceptable, and fuel and patient leave the binding margin at zero", () => {
    let solved = 0;
    fc.assert(
      fc.property(arbitraryCall, (call) => {
        for (const remedy of remediesFor(known, call)) {
          expect(assessCall(known, remedy.call).isAcceptable).toBe(true);
          const [change, ...more] = remedy.changes;
          if (more.length > 0) continue;
          if (
            change!.kind === "lessFuel" ||
            change!.kind === "addFuel" ||
            change!.kind === "lighterPatient"
          ) {
            expectAtZero(remedy);
            solved += 1;
          }
        }
      }),
      { numRuns: 25 },
    );
    expect(solved).toBeGreaterThan(0);
  });

  test("a stay, a departure and an uplift leave it at zero too, whenever something begins and however little is aboard", () => {
    const counts = { shorterStay: 0, leaveEarlier: 0, refuel: 0 };
    const later = fc.record({
      begins_min: fc.integer({ min: 30, max: 240 }),
      leaves_min: fc.integer({ min: 0, max: 240 }),
      fuel_kg: fc.integer({ min: 150, max: 420 }),
      isAtBase: fc.boolean(),
    });
    fc.assert(
      fc.property(later, ({ begins_min, leaves_min, fuel_kg, isAtBase }) => {
        const begins = blocks(now_ms + begins_min * minute_ms, null, "crew.shiftEnds");
        const at = knownOf(craftOf(), {
          reasons: isAtBase ? [] : [begins],
          skyAt: ({ name }) => (isAtBase && name === "base" ? [begins] : []),
        });
        const call = callTo(placeAt(70.5, 11.6, 400), {
          depart_ms: now_ms + leaves_min * minute_ms,
          fuel_kg,
        });
        for (const { changes, call: changed, answer } of remediesFor(at, call)) {
          expect(assessCall(at, changed).isAcceptable).toBe(true);
          const [change, ...more] = changes;
          if (more.length > 0 || !Object.hasOwn(counts, change!.kind)) continue;
          counts[change!.kind as keyof typeof counts] += 1;
          const [binding] = answer.margins;
          // A departure is a whole millisecond.
          const least =
            change!.kind === "leaveEarlier" ? 2 / minute_ms : 2e-9 * Math.max(60, binding!.limit ?? 0);
          expect(Math.abs(binding!.room!)).toBeLessThanOrEqual(least);
        }
      }),
      { numRuns: 40 },
    );
    for (const [kind, count] of Object.entries(counts)) expect([kind, count > 0]).toEqual([kind, true]);
  });
});

test("a threshold is found to the last bit, from either side", () => {
  fc.assert(
    fc.property(fc.double({ min: -1e3, max: 1e3, noNaN: true }), (at) => {
      expect(firstWhere((value) => value >= at, -2e3, 2e3)).toBe(at === 0 ? 0 : at);
      expect(lastWhere((value) => value <= at, -2e3, 2e3)).toBe(at === 0 ? 0 : at);
    }),
  );
  expect(firstWhere(() => false, 0, 1)).toBeNull();
  expect(lastWhere(() => true, 0, 1)).toBe(1);
});
