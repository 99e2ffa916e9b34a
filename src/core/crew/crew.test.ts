// The crew of a craft judged over its shift. Rules: SPA.HEMS.130, FCL.060, MED.A.045, ORO.FC.230, SPA.NVIS.130.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { flight, morning_ms, said, situation } from "../due/due-cases.ts";
import { emptyCraft } from "../facts/craft.ts";
import type { FlightFact } from "../facts/craft.ts";
import { dateLater } from "../facts/calendar.ts";
import { paperKinds } from "../facts/crew.ts";
import type { CrewKnown, CrewRules, Shift } from "../facts/crew.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { Sheet } from "../sheet/schema.ts";
import { assessCrew } from "./assess-crew.ts";

const operation = smallSheet.operations[0]!;
const sheet: Sheet = {
  ...smallSheet,
  operations: [
    { ...operation, id: "dayVfr", needs: { ...operation.needs, pilots: 1, crew: ["technicalCrew"] } },
  ],
};
const rules: CrewRules = {
  ...said(),
  ruleSet: "eu",
  duty: { duty_h: 14, rest_h: 10, cite: "manual" },
  hoist: null,
  usDuty: "267",
  singlePilotNight: { allowed: true, cite: "manual" },
  stricter: [],
  asks: [],
};
const whole: CrewKnown = {
  papers: paperKinds.flatMap((paper) =>
    ["p-one", "p-two"].flatMap((person) => {
      if (person === "p-two" && paper === "licence") return [];
      return [
        {
          ...said(),
          person,
          paper,
          issuedOn: "2026-01-10",
          lastDay: paper === "medical" ? null : "2027-01-10",
        },
      ];
    }),
  ),
  born: [{ ...said(), person: "p-one", bornOn: "1990-01-01" }],
  experience: [],
  rules: [rules],
  rests: [],
  commands: [],
};
const shift: Shift = {
  ...said(),
  from_ms: morning_ms,
  until_ms: morning_ms + 12 * hour_ms,
  people: [
    { person: "p-one", roles: ["pilot"], lastDutyEnd_ms: morning_ms - 12 * hour_ms },
    { person: "p-two", roles: ["technicalCrew"], lastDutyEnd_ms: morning_ms - 12 * hour_ms },
  ],
};
const yesterday: FlightFact = flight(morning_ms - 20 * hour_ms, 1, { landings: 3, crew: ["p-one"] });

type Case = {
  crew?: Partial<CrewKnown>;
  shift?: Partial<Shift> | null;
  flights?: readonly FlightFact[];
  from?: Sheet;
  now_ms?: number;
};
function judge({
  crew,
  shift: some,
  flights = [yesterday],
  from = sheet,
  now_ms = morning_ms,
}: Case = {}): Reason[] {
  const state = { ...emptyCraft, flights, shifts: some === null ? [] : [{ ...shift, ...some }] };
  return assessCrew(from, state, situation(now_ms, { crew: { ...whole, ...crew } }));
}
const codes = (reasons: readonly Reason[]): string[] => reasons.map(({ code }) => code);
const withAsks = (
  recency: CrewRules["asks"][number]["recency"],
  papers: CrewRules["asks"][number]["papers"] = [],
) => ({
  rules: [{ ...rules, asks: [{ operation: "dayVfr", recency, papers }] }],
});

describe("the crew of a craft", () => {
  test("with everything recorded says only when the shift ends", () => {
    expect(judge()).toMatchObject([{ code: "crew.shiftEnds", effect: "unknown", from_ms: shift.until_ms }]);
  });

  test("is not known without rules, a shift, a paper or a date of birth", () => {
    expect(judge({ crew: { rules: [] } })).toMatchObject([{ code: "crew.noRules", effect: "unknown" }]);
    expect(judge({ shift: null })).toMatchObject([{ code: "crew.noShift", effect: "unknown" }]);
    const missing = judge({ crew: { papers: whole.papers.filter(({ paper }) => paper !== "lineCheck") } });
    expect(missing).toContainEqual(
      expect.objectContaining({ code: "crew.paperNotKnown", effect: "unknown" }),
    );
    expect(judge({ crew: { born: [] } })).toContainEqual(
      expect.objectContaining({ code: "crew.paperNotKnown", facts: { person: "p-one", paper: "medical" } }),
    );
    expect(codes(judge({ crew: { rules: [{ ...rules, duty: null }] } }))).toContain("crew.noDutyFigures");
  });

  test("is too few without a pilot or a technical crew member", () => {
    const [pilot] = shift.people;
    const alone = judge({ shift: { people: [pilot!] } });
    expect(alone).toContainEqual(
      expect.objectContaining({
        code: "crew.tooFew",
        operations: ["dayVfr"],
        facts: { role: "technicalCrew" },
      }),
    );
  });

  test("is told in the morning what lapses before the last hour of the shift", () => {
    // The night shift over midnight: licence to the 4th.
    const night = { from_ms: morning_ms + 12 * hour_ms, until_ms: morning_ms + 24 * hour_ms };
    const papers = whole.papers.map((one) =>
      one.person === "p-one" && one.paper === "licence" ? { ...one, lastDay: "2026-02-04" } : one,
    );
    const reasons = judge({ crew: { papers }, shift: night, now_ms: night.from_ms });
    const midnight_ms = Date.UTC(2026, 1, 4, 23);
    expect(reasons).toContainEqual(
      expect.objectContaining({ code: "crew.paperLapses", effect: "blocks", from_ms: midnight_ms }),
    );
    expect(reasons).toContainEqual(
      expect.objectContaining({ code: "crew.lapsesInShift", effect: "advises", until_ms: midnight_ms }),
    );
  });

  test("flies with three landings in 90 days, of this craft's flights or recorded from elsewhere", () => {
    const two = { ...yesterday, landings: 2 };
    expect(codes(judge({ flights: [two] }))).toContain("crew.notRecent");
    const elsewhere = {
      ...said(),
      person: "p-one",
      on: "2025-12-01",
      landings: 1,
      nightLandings: 0,
      nvisFlights: 0,
      instrument_min: 0,
      hoistCycles: 0,
      nightHoistCycles: 0,
      flight_h: null,
    };
    expect(codes(judge({ flights: [two], crew: { experience: [elsewhere] } }))).toEqual(["crew.shiftEnds"]);
    // 90 days after 5 November: the last day is 3 February, and this is the 4th.
    const old = { ...elsewhere, on: "2025-11-05" };
    const lapsed = judge({ flights: [two], crew: { experience: [old] } });
    expect(lapsed.find(({ code }) => code === "crew.recencyLapses")?.from_ms).toBeLessThan(morning_ms);
    expect(codes(judge({ flights: [{ ...yesterday, crew: ["p-two"] }] }))).toContain("crew.notRecent");
    // Two licensed pilots aboard: the flight does not say who landed.
    const licence = whole.papers.find(({ paper }) => paper === "licence")!;
    const papers = [...whole.papers, { ...licence, ...said(), person: "p-three" }];
    const shared = [{ ...yesterday, crew: ["p-one", "p-three"] }];
    expect(codes(judge({ flights: shared, crew: { papers } }))).toContain("crew.notRecent");
    expect(codes(judge({ flights: shared }))).toEqual(["crew.shiftEnds"]);
  });

  test("needs a landing by night or an instrument rating, goggles flights, time by instruments where asked", () => {
    const withoutRating = whole.papers.filter(({ paper }) => paper !== "instrumentRating");
    const asked = { ...withAsks(["night"]), papers: withoutRating };
    expect(codes(judge({ crew: asked }))).toContain("crew.notRecent");
    expect(codes(judge({ crew: withAsks(["night"]) }))).toEqual(["crew.shiftEnds"]);
    const byNight = [{ ...yesterday, nightLandings: 1 }];
    expect(codes(judge({ crew: asked, flights: byNight }))).toEqual(["crew.shiftEnds"]);
    expect(codes(judge({ crew: withAsks(["nvis"]) }))).toContain("crew.notRecent");
    expect(codes(judge({ crew: withAsks(["instrument"]) }))).toContain("crew.notRecent");
    const hooded = [{ ...yesterday, instrument_min: 30 }];
    expect(codes(judge({ crew: withAsks(["instrument"]), flights: hooded }))).toEqual(["crew.shiftEnds"]);
  });

  test("of one pilot flies by night only where the operator's conditions stand", () => {
    const asks = withAsks(["night"]).rules[0]!.asks;
    const under = (singlePilotNight: CrewRules["singlePilotNight"]) =>
      judge({ crew: { rules: [{ ...rules, asks, singlePilotNight }] } }).find(
        ({ code }) => code === "crew.singlePilotNight",
      )?.effect;
    expect(under(null)).toBe("unknown");
    expect(under({ allowed: false, cite: "manual" })).toBe("blocks");
    expect(under({ allowed: true, cite: "manual" })).toBeUndefined();
  });

  test("has rested, and its duty ends with its hours, by the operator's figures or the US ones", () => {
    const short = shift.people.map((one) => ({ ...one, lastDutyEnd_ms: morning_ms - 9 * hour_ms }));
    expect(codes(judge({ shift: { people: short } }))).toContain("crew.notRested");
    const long = judge({ shift: { until_ms: morning_ms + 16 * hour_ms } });
    expect(long).toContainEqual(
      expect.objectContaining({ code: "crew.dutyTooLong", from_ms: morning_ms + 14 * hour_ms }),
    );
    const us: CrewRules = { ...rules, ruleSet: "us", duty: null };
    const papers = whole.papers.map((one) => ({ ...one, lastDay: "2027-01-10" }));
    const stated = { ...said(), person: "p-one", on: "2026-01-01", landings: 0, nightLandings: 0 };
    const experience = [
      { ...stated, nvisFlights: 0, instrument_min: 0, hoistCycles: 0, nightHoistCycles: 0, flight_h: 0 },
    ];
    expect(codes(judge({ crew: { papers, experience, rules: [us] } }))).toEqual([
      "crew.shiftEnds",
      "crew.hoursLeft",
    ]);
    expect(codes(judge({ crew: { papers, rules: [us] }, shift: { people: short } }))).toContain(
      "crew.notRested",
    );
  });

  test("stricter figures of the operator never loosen, in whatever order they were set", () => {
    fc.assert(
      fc.property(
        fc.record({ duty_h: fc.integer({ min: 6, max: 20 }), rest_h: fc.integer({ min: 6, max: 16 }) }),
        (figures) => {
          const own: CrewRules = { ...rules, duty: { ...figures, cite: "manual B" } };
          const blocked = (all: readonly CrewRules[]) =>
            codes(judge({ crew: { rules: all } }).filter(({ effect }) => effect === "blocks")).toSorted();
          const both = blocked([rules, own]);
          expect(blocked([own, rules])).toEqual(both);
          for (const one of [...blocked([rules]), ...blocked([own])]) expect(both).toContain(one);
        },
      ),
      { numRuns: 100 },
    );
  });

  test("a later time never revives what lapsed", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 11 }),
        fc.integer({ min: 0, max: 40 }),
        fc.constantFrom(...paperKinds),
        (hours, ago, kind) => {
          const lastDay = dateLater("2026-02-10", { days: -ago });
          const papers = whole.papers.map((one) => (one.paper === kind ? { ...one, lastDay } : one));
          const blocked = (now_ms: number) =>
            judge({ crew: { papers }, now_ms }).filter(
              ({ effect, from_ms }) => effect === "blocks" && (from_ms ?? 0) <= now_ms,
            ).length;
          expect(blocked(morning_ms + hours * hour_ms)).toBeGreaterThanOrEqual(blocked(morning_ms));
        },
      ),
      { numRuns: 100 },
    );
  });
});
