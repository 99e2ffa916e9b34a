// The papers, checks and earlier flying of the demo's people, and the invented operator's crew rules. All invented; dates
// follow from the anchor, so that the demo's crew is as current on any day as on another.
import { dateLater } from "../src/core/facts/calendar.ts";
import { msToInstant } from "../src/core/facts/instant.ts";
import { paperKinds } from "../src/core/facts/crew.ts";

type Told = { readonly type: string; readonly body: object };

const pilots = [
  { person: "p-ravn", bornOn: "1983-05-17", goggles: 24 },
  { person: "p-holm", bornOn: "1991-09-02", goggles: 11 },
] as const;

const cite = "Skarvøy Rescue operations manual (invented), A 7";

export function crewStory(begun_ms: number, anchor_ms: number): readonly Told[] {
  const begun = msToInstant(begun_ms).slice(0, 10);
  const anchor = msToInstant(anchor_ms).slice(0, 10);
  const before = (days: number): string => dateLater(begun, { days: -days });
  const paper = (person: string, kind: string, issuedOn: string, lastDay: string | null): Told => ({
    type: "paper.recorded",
    body: { person, paper: kind, issuedOn, lastDay },
  });
  const stated = ["licence", "typeRating", "instrumentRating"];
  const ofPilots = pilots.flatMap(({ person, bornOn, goggles }) => [
    { type: "person.born", body: { person, bornOn } },
    ...paperKinds
      .filter((kind) => kind !== "hoistCheck")
      .map((kind) =>
        paper(person, kind, before(20), stated.includes(kind) ? dateLater(anchor, { days: 200 }) : null),
      ),
    {
      type: "experience.recorded",
      body: {
        person,
        on: before(goggles % 10),
        landings: 9,
        nightLandings: 4,
        nvisFlights: 4,
        instrument_min: 45,
        hoistCycles: 5,
        nightHoistCycles: 3,
        flight_h: null,
      },
    },
    {
      type: "command.stated",
      body: {
        person,
        on: before(30),
        pic_h: 2_140 + 10 * goggles,
        helicopterPic_h: 1_980 + 10 * goggles,
        similar_h: 900 + 10 * goggles,
        nightPic_h: 180 + goggles,
        asCoPilot: false,
      },
    },
  ]);
  return [
    {
      type: "crewRules.set",
      body: {
        ruleSet: "eu",
        duty: { duty_h: 14, rest_h: 10, cite },
        hoist: { day: { need: 3, days: 90 }, night: { need: 3, days: 180 }, cite },
        usDuty: "267",
        singlePilotNight: { allowed: true, cite },
        asks: [
          { operation: "nightVfr", recency: ["night", "instrument"], papers: [] },
          { operation: "nvis", recency: ["night", "nvis", "instrument"], papers: ["nvisCheck"] },
          { operation: "hoist", recency: ["hoist"], papers: [] },
          { operation: "ifr", recency: ["instrument"], papers: ["instrumentRating"] },
        ],
      },
    },
    {
      type: "flightRules.set",
      body: {
        meter: { tolerance_h: 0.1, cite },
        worksheet: null,
        overWater: {
          operations: ["overWater"],
          seaStateAtMost: 5,
          suitsBelow_C: 10,
          raftPlaces: 6,
          stands_min: 360,
          cite,
        },
        lapseInFlight: "pointedOut",
      },
    },
    {
      type: "minima.applied",
      body: {
        uses: ["dayVfr", "nightVfr", "nvis", "hoist", "overWater"].map((operation) => ({
          ruleSet: "eu",
          operation,
          cite,
          performanceClass: 2,
          airspaceVisibility_m: 1_500,
        })),
      },
    },
    ...ofPilots,
    ...["p-lind", "p-moe"].map((person) => paper(person, "emergencyCheck", before(40), null)),
    {
      type: "experience.recorded",
      body: {
        person: "p-lind",
        on: before(12),
        landings: 0,
        nightLandings: 0,
        nvisFlights: 0,
        instrument_min: 0,
        hoistCycles: 6,
        nightHoistCycles: 3,
        flight_h: null,
      },
    },
  ];
}
