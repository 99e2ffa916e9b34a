// Deferrals in depth: how long they hold, what extends them, what they do together. Sources: FAA Policy Letter 25 Rev 24;
// ORO.MLR.105(e)-(g), Reg. (EU) 965/2012; AMC M.A.403(d).
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { deferred, flight, morning_ms, said, situation } from "../due/due-cases.ts";
import { emptyCraft } from "../facts/craft.ts";
import type { CraftState, FindingFacts, FlightFact } from "../facts/craft.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { OperatorSettings } from "../facts/situation.ts";
import type { Deferral } from "../sheet/finding-blocks.ts";
import { assessFindings } from "./assess.ts";

const day_ms = 24 * hour_ms;
const light: Deferral = { ...smallSheet.deferrals[0]!, category: "B" };
const { category: _category, ...uncounted } = light;
const recorded_ms = Date.UTC(2026, 0, 26, 9); // 10:00 in Oslo

function judge(
  list: readonly Deferral[],
  findings: readonly FindingFacts[],
  more: { now_ms?: number; flights?: readonly FlightFact[]; settings?: Partial<OperatorSettings> } = {},
): Reason[] {
  const state: CraftState = {
    ...emptyCraft,
    flights: more.flights ?? [],
    findings: Object.fromEntries(findings.map((finding) => [finding.finding, finding])),
  };
  return assessFindings(
    { ...smallSheet, deferrals: list },
    state,
    situation(more.now_ms ?? morning_ms, more.settings),
  );
}
const codes = (reasons: readonly Reason[]): string[] => reasons.map(({ code }) => code);
const lapse = (reasons: readonly Reason[]) => reasons.find(({ code }) => code === "finding.deferralLapsed");

const extension = {
  step: "extended",
  role: "airworthiness",
  beyondControl: true,
  authorityNotified: true,
  planMade: true,
  words: "part on its way",
} as const;

describe("how long a deferral holds", () => {
  test("is counted from the first record: a re-entry brings the earlier date, never a later one", () => {
    const earlier = {
      ...said(),
      step: "reEntered",
      firstRecorded_ms: recorded_ms - 2 * day_ms,
      words: "",
    } as const;
    const later = { ...earlier, ...said(), firstRecorded_ms: recorded_ms + 2 * day_ms };
    const lastDay = (steps: FindingFacts["deferralSteps"]) =>
      lapse(judge([light], [deferred(light.id, recorded_ms, steps)]))?.facts["lastDay"];
    expect(lastDay([])).toBe("2026-01-29");
    expect(lastDay([earlier])).toBe("2026-01-27");
    expect(lastDay([later])).toBe("2026-01-29");
  });

  test("is counted in flights, landings, hours and flight days where the list says so", () => {
    const A = (more: Partial<Deferral>): Deferral => ({ ...uncounted, category: "A", ...more });
    const flights = [0, 1, 2].map((days) =>
      flight(recorded_ms + days * day_ms + 2 * hour_ms, 1.5, { landings: 4 }),
    );
    const after = (list: Deferral, count: number) =>
      judge([list], [deferred(list.id, recorded_ms)], { flights: flights.slice(0, count) });
    expect(lapse(after(A({ interval_flights: 2 }), 1))).toBeUndefined();
    expect(lapse(after(A({ interval_flights: 2 }), 2))).toMatchObject({ effect: "blocks", from_ms: null });
    expect(lapse(after(A({ interval_cycles: 9 }), 2))).toBeUndefined();
    expect(lapse(after(A({ interval_cycles: 8 }), 2))).toBeDefined();
    const hours = after(A({ interval_h: 4 }), 2).find(({ code }) => code === "finding.deferralLimits");
    expect(hours).toMatchObject({ limit: { quantity: "flightHours_h", value: 1, stricter: "lower" } });
    expect(lapse(after(A({ interval_h: 3 }), 2))).toBeDefined();
    // The day of recording is no flight day of it: after flights on three dates two are counted.
    expect(lapse(after(A({ interval_flightDays: 2 }), 2))).toBeUndefined();
    expect(lapse(after(A({ interval_flightDays: 2 }), 3))).toMatchObject({
      from_ms: Date.UTC(2026, 0, 28, 23),
    });
  });

  test("is not known where the list counts nothing", () => {
    const endless: Deferral = { ...uncounted, category: "A" };
    expect(judge([endless], [deferred(endless.id, recorded_ms)])).toContainEqual(
      expect.objectContaining({ code: "finding.deferralNotCounted", effect: "unknown" }),
    );
  });

  test("is extended once, by as many days, by the airworthiness office and under the rule set's conditions", () => {
    const lastDay = (steps: readonly object[], list = light, settings: Partial<OperatorSettings> = {}) => {
      const finding = deferred(list.id, recorded_ms, steps.map((step) => ({ ...said(), ...step })) as never);
      const reasons = judge([list], [finding], { settings });
      return [lapse(reasons)?.facts["lastDay"], codes(reasons).includes("finding.extensionInvalid")];
    };
    expect(lastDay([extension])).toEqual(["2026-02-01", false]);
    expect(lastDay([extension, extension])).toEqual(["2026-02-01", true]);
    expect(lastDay([{ ...extension, role: "pilot" }])).toEqual(["2026-01-29", true]);
    expect(lastDay([{ ...extension, planMade: false }])).toEqual(["2026-01-29", true]);
    const D: Deferral = { ...light, category: "D" };
    expect(lastDay([extension], D)).toEqual(["2026-09-23", false]);
    expect(lastDay([extension], D, { ruleSet: "us" })).toEqual(["2026-05-26", true]);
    expect(lastDay([extension], { ...light, category: "A", interval_days: 3 })).toEqual(["2026-01-29", true]);
    expect(lastDay([extension], light, { ruleSet: null })).toEqual(["2026-01-29", true]);
  });
});

describe("what belongs to a deferral", () => {
  const text = { en: "do so", de: "tu es" };
  const both: Deferral = { ...light, operational: text, maintenance: text };
  const confirmed = (operational: boolean, maintenance: string | null) =>
    ({ ...said(), step: "confirmed", operational, maintenance, logPage: "", workOrder: "" }) as const;
  const missing = (steps: FindingFacts["deferralSteps"]) =>
    judge([both], [deferred(both.id, recorded_ms, steps)])
      .filter(({ code }) => code === "finding.deferralUnconfirmed")
      .map(({ facts }) => facts["procedure"]);

  test("its procedures block until each is confirmed", () => {
    expect(missing([])).toEqual(["O", "M"]);
    expect(missing([confirmed(true, null)])).toEqual(["M"]);
    expect(missing([confirmed(true, null), confirmed(false, "66-1")])).toEqual([]);
  });

  test("what several do together is judged as a set", () => {
    const second: Deferral = { ...light, id: "other", number: "33-02" };
    const third: Deferral = { ...light, id: "third", number: "24-01", ata: "24", notWith: [light.id] };
    const one = deferred(light.id, recorded_ms);
    expect(codes(judge([light], [one, deferred(light.id, recorded_ms)]))).toContain(
      "finding.deferralTooMany",
    );
    expect(codes(judge([light], [one]))).not.toContain("finding.deferralTooMany");
    const systems = judge([light, second], [one, deferred("other", recorded_ms)]);
    expect(systems.filter(({ code }) => code === "finding.deferralSameSystem")).toHaveLength(2);
    const set = judge([light, third], [one, deferred("third", recorded_ms)]);
    expect(
      set.filter(({ code, effect }) => code === "finding.deferralNotTogether" && effect === "blocks"),
    ).toHaveLength(2);
  });
});

describe("deferrals, as a law", () => {
  const A: Deferral = { ...light, id: "a", category: "A", interval_days: 5, interval_flights: 2, ata: "24" };
  const plot = fc.array(
    fc.record({
      of: fc.constantFrom(light.id, "a"),
      hours: fc.integer({ min: 0, max: 200 }),
      extended: fc.boolean(),
    }),
    { minLength: 1, maxLength: 4 },
  );
  const told = (what: readonly { of: string; hours: number; extended: boolean }[]) =>
    what.map(({ of, hours, extended }) =>
      deferred(of, recorded_ms + hours * hour_ms, extended ? [{ ...said(), ...extension }] : []),
    );

  test("the order in which they were entered changes nothing", () => {
    fc.assert(
      fc.property(plot, (what) => {
        const findings = told(what);
        expect(judge([light, A], findings.toReversed())).toEqual(judge([light, A], findings));
      }),
      { numRuns: 100 },
    );
  });

  test("a later time never revives one that lapsed", () => {
    fc.assert(
      fc.property(plot, fc.integer({ min: 0, max: 400 }), (what, hours) => {
        const findings = told(what);
        const blockedAt = (now_ms: number) =>
          judge([light, A], findings, { now_ms }).filter(
            ({ code, from_ms }) => code === "finding.deferralLapsed" && (from_ms ?? 0) <= now_ms,
          ).length;
        expect(blockedAt(morning_ms + hours * hour_ms)).toBeGreaterThanOrEqual(blockedAt(morning_ms));
      }),
      { numRuns: 100 },
    );
  });

  test("are counted in the operator's zone alone, never in another one beside it", () => {
    // 23:30 UTC is the next day in Oslo: whole counting moves by that day, first and last.
    const late_ms = Date.UTC(2026, 0, 26, 23, 30);
    const lastDay = (zone: string) =>
      lapse(judge([light], [deferred(light.id, late_ms)], { settings: { zone } }))?.facts["lastDay"];
    expect([lastDay("UTC"), lastDay("Europe/Oslo")]).toEqual(["2026-01-29", "2026-01-30"]);
  });
});
