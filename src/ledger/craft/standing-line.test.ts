// The standing line against the plainest way to it: the standing assessed anew at every minute of 72 hours, with nothing
// recorded meanwhile. Every assessor has to know its own instants for the two to agree, the sky included.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { hour_ms, minute_ms, msToInstant } from "../../core/facts/instant.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import type { Situation } from "../../core/facts/situation.ts";
import { emptyBase } from "../../core/facts/sky.ts";
import type { BaseSky, StationFact, WeatherSettings } from "../../core/facts/sky.ts";
import { trackSun } from "../../core/sky/sun.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { assessCraft, standingOf } from "../../core/standing/assess.ts";
import { standingAt } from "../../core/standing/combine.ts";
import { rowOf } from "../../core/standing/sky-row.ts";
import type { StandingRow } from "../../core/standing/sky-row.ts";
import { judgeBeside } from "../../core/standing/judge-beside.ts";
import { dawn_ms, Story } from "./arbitrary-story.ts";

/** Long form: PREEN_LINE_RUNS=300. */
const runs = Number(process.env["PREEN_LINE_RUNS"] ?? 5);
const judge = judgeBeside(trackSun());
const walk = "walk-0001";
const finding = "finding-0001";
const entry = (letter: string): string => letter.repeat(64);
const said = { entry: entry("a"), by: "p-one", at_ms: dawn_ms - 400 * hour_ms };
const operations = smallSheet.operations.map(({ id }) => id);
/** The smallest sheet with a reference call that it can fly, so that mass, power and fuel are known. */
const sheetOfStory: Sheet = {
  ...smallSheet,
  operations: smallSheet.operations.map((operation) => ({
    ...operation,
    referenceCall: {
      siteElevation_ft: 300,
      temperature_C: 10,
      toScene_nm: 3,
      toHospital_nm: 3,
      toBase_nm: 3,
      onScene_min: 2,
      patient_kg: 0,
      fuelAtStart_kg: 100,
    },
  })),
};

const settings: WeatherSettings = {
  ...said,
  ruleSet: "eu",
  reportAge_min: 75,
  stationDistance_km: 30,
  ground_ft: 330,
  needs: operations.flatMap((operation) => [
    {
      operation,
      light: "day" as const,
      day: { ceiling_ft: 500, visibility_m: 1_500 },
      night: null,
      cite: "test",
    },
  ]),
  moisture: { below_C: 4, cite: "test" },
  forbidden: { phenomena: ["TS"], cite: "test" },
  ncd: null,
  planning: null,
  pad: null,
  cooling: null,
};

const station: StationFact = {
  ...said,
  station: "ZZSK",
  name: "Here",
  lat_deg: 60.2,
  lon_deg: 12.5,
  elevation_ft: 36,
  gives: null,
};

type Plot = {
  readonly walkedAgo_min: number | null;
  readonly deferredAgo_h: number | null;
  readonly shift_h: number;
  readonly exchangedAgo_min: number;
  readonly exchangeLimit_min: number;
  readonly reportedAgo_min: number | null;
  readonly cloud: string;
  readonly forecast: { readonly from_h: number; readonly to_h: number; readonly change: string } | null;
  readonly seenFor_min: number | null;
  readonly custody: "crew" | "maintenance";
  readonly zone: string;
  readonly assessedAfter_min: number;
};

const plot: fc.Arbitrary<Plot> = fc.record({
  walkedAgo_min: fc.option(fc.integer({ min: 1, max: 280 })),
  deferredAgo_h: fc.option(fc.integer({ min: 1, max: 260 })),
  shift_h: fc.integer({ min: 1, max: 90 }),
  exchangedAgo_min: fc.integer({ min: 0, max: 300 }),
  exchangeLimit_min: fc.constantFrom(60, 240, 2_000, 9_000),
  reportedAgo_min: fc.option(fc.integer({ min: 0, max: 140 }), { freq: 6 }),
  cloud: fc.constantFrom(
    "9999 FEW018 BKN032 02/M03",
    "9999 BKN032 12/03",
    "1200 BR OVC003 02/01",
    "CAVOK 09/01",
  ),
  forecast: fc.option(
    fc.record({
      from_h: fc.integer({ min: 7, max: 20 }),
      to_h: fc.integer({ min: 1, max: 6 }),
      change: fc.constantFrom(
        "TEMPO W 1200 SHSN BKN004",
        "BECMG W 0800 FG VV001",
        "PROB30 TEMPO W 3000 TSRA BKN010CB",
        "BECMG W 9999 BKN040",
      ),
    }),
  ),
  seenFor_min: fc.option(fc.integer({ min: 5, max: 120 })),
  custody: fc.constantFrom("crew", "crew", "crew", "maintenance"),
  zone: fc.constantFrom("UTC", "Europe/Oslo", "America/Anchorage"),
  assessedAfter_min: fc.integer({ min: 0, max: 90 }),
});

/** Nothing stands against it for an hour. */
const fine: Plot = {
  walkedAgo_min: 60,
  deferredAgo_h: 30,
  shift_h: 30,
  exchangedAgo_min: 0,
  exchangeLimit_min: 9_000,
  reportedAgo_min: 5,
  cloud: "CAVOK 09/01",
  forecast: { from_h: 9, to_h: 3, change: "TEMPO W 1200 SHSN BKN004" },
  seenFor_min: null,
  custody: "crew",
  zone: "Europe/Oslo",
  assessedAfter_min: 0,
};

const twoDigits = (value: number): string => String(value).padStart(2, "0");

/** `DDHH` of so many hours after midnight of the day of dawn. */
function dayHour(hours: number): string {
  const at = new Date(Date.UTC(2026, 1, 4, hours));
  return `${twoDigits(at.getUTCDate())}${twoDigits(at.getUTCHours())}`;
}

function reportText(at_ms: number, cloud: string): string {
  const at = new Date(at_ms);
  const time = `${twoDigits(at.getUTCDate())}${twoDigits(at.getUTCHours())}${twoDigits(at.getUTCMinutes())}`;
  return `METAR ZZSK ${time}Z 23012KT ${cloud} Q1005`;
}

function told(it: Plot): { readonly story: Story; readonly base: BaseSky } {
  const story = new Story(sheetOfStory, { floats: true, boards: false });
  const began_ms = story.now_ms;
  if (it.deferredAgo_h !== null) {
    story.now_ms = began_ms - it.deferredAgo_h * hour_ms;
    const raised = { finding, kind: "other", stop: "left", item: null, walk: null, measure: null };
    story.tell("finding.raised", { ...raised, words: "dark", at: story.at });
    const judged = { finding, outcome: "defer", role: "engineer", words: "", deferral: "d33-01" };
    story.tell("finding.judged", { ...judged, at: story.at, replaces: [] });
  }
  story.now_ms = began_ms + 5 * hour_ms - (it.walkedAgo_min ?? 0) * minute_ms;
  if (it.walkedAgo_min !== null) {
    story.begin(walk);
    story.walkAll(walk);
    story.finish(walk);
  }
  story.now_ms = began_ms + 5 * hour_ms;
  if (it.custody === "maintenance") story.hand("maintenance", "a line", "p-engineer");
  story.tell("shift.declared", {
    from: msToInstant(story.now_ms - hour_ms),
    until: msToInstant(story.now_ms + it.shift_h * hour_ms),
    people: [
      {
        person: "p-one",
        roles: ["pilot", "technicalCrew", "hoistOperator", "medic"],
        lastDutyEnd: msToInstant(story.now_ms - 20 * hour_ms),
      },
    ],
    replaces: story.state.shifts.map((shift) => shift.entry),
  });
  const reports =
    it.reportedAgo_min === null
      ? []
      : [
          {
            ...said,
            entry: entry("b"),
            at_ms: story.now_ms - it.reportedAgo_min * minute_ms,
            text: reportText(story.now_ms - it.reportedAgo_min * minute_ms, it.cloud),
            source: "typed" as const,
          },
        ];
  const window =
    it.forecast === null
      ? ""
      : `${dayHour(it.forecast.from_h + 4)}/${dayHour(it.forecast.from_h + 4 + it.forecast.to_h)}`;
  const forecasts =
    it.forecast === null
      ? []
      : [
          {
            ...said,
            entry: entry("c"),
            at_ms: story.now_ms - 40 * minute_ms,
            text: `TAF ZZSK 041000Z 0411/0511 23014KT 9999 FEW018 BKN032 TN03/0506Z ${it.forecast.change.replace("W", window)}`,
            source: "typed" as const,
          },
        ];
  const observations =
    it.seenFor_min === null
      ? []
      : [
          {
            ...said,
            entry: entry("d"),
            at_ms: story.now_ms - 3 * minute_ms,
            expires_ms: story.now_ms + it.seenFor_min * minute_ms,
            place: "Here",
            ceiling_ft: 2_000,
            visibility_m: 9_000,
            weather: [],
            temperature_C: 8,
            wind: { from_deg: 230, speed_kt: 12, gust_kt: null },
          },
        ];
  const state = {
    ...emptyBase,
    reports: [...reports, ...forecasts],
    observations,
    settings: [settings],
    stations: [station],
  };
  story.pass(it.assessedAfter_min);
  return {
    story,
    base: { base: "base:here", name: "Here", lat_deg: 60.2, lon_deg: 12.5, elevation_m: 11, state },
  };
}

type World = ReturnType<typeof told>;

/** What is known at an instant, of the record as it was at the story's end. */
function situationAt(it: Plot, { story }: World, now_ms: number): Situation {
  const usual = story.situation();
  return {
    now_ms,
    horizon_ms: story.now_ms + 72 * hour_ms,
    settings: { ...usual.settings, zone: it.zone, exchangeLimit_min: it.exchangeLimit_min },
    record: { ...usual.record, exchanged_ms: story.now_ms - it.exchangedAgo_min * minute_ms },
  };
}

/** All reasons, assessed at an instant: by machine and crew, and by the sky. */
function reasonsAt(
  it: Plot,
  world: World,
  now_ms: number,
): Readonly<Record<"line" | StandingRow, readonly Reason[]>> {
  const { sheet, state } = world.story;
  const situation = situationAt(it, world, now_ms);
  const line = [...assessCraft(sheet, state, situation), ...judge(sheet, state, situation, world.base)];
  return {
    line,
    machine: line.filter((reason) => rowOf(reason) === "machine"),
    sky: line.filter((reason) => rowOf(reason) === "sky"),
  };
}

function limitValues(limits: Readonly<Record<string, { readonly value: number }>>): string {
  return JSON.stringify(Object.entries(limits).map(([name, { value }]) => [name, value]));
}

describe("the standing line", () => {
  test("equals the standing assessed anew at every minute of 72 hours, its rows too", () => {
    const verdicts = new Set<string>();
    fc.assert(
      fc.property(plot, (it) => {
        const world = told(it);
        const { now_ms } = world.story;
        const { sheet, state } = world.story;
        const known = { base: world.base, judge };
        const first = standingOf(sheet, state, situationAt(it, world, now_ms), known);
        const lines = first.operations.flatMap(({ operation, line, rows }) =>
          Object.entries({ line, ...rows }).map(([name, spans]) => ({
            operation,
            name: name as "line" | StandingRow,
            spans,
            place: 0,
          })),
        );
        for (let minute = 0; minute < 72 * 60; minute += 1) {
          const then_ms = now_ms + minute * minute_ms;
          const anew = reasonsAt(it, world, then_ms);
          for (const held of lines) {
            const { operation, name, spans } = held;
            while (spans[held.place]!.until_ms <= then_ms) held.place += 1;
            const span = spans[held.place]!;
            const now = standingAt(anew[name], operation, then_ms);
            verdicts.add(`${name} ${now.verdict}`);
            if (span.verdict === now.verdict && limitValues(span.limits) === limitValues(now.limits))
              continue;
            const why = now.reasons.map(({ code }) => code).join(", ");
            expect.fail(
              `${operation}, ${name}, ${msToInstant(then_ms)}: the line says ${span.verdict} ${limitValues(span.limits)}, assessed anew ${now.verdict} ${limitValues(now.limits)}: ${why}`,
            );
          }
        }
      }),
      { numRuns: runs, examples: [[fine]] },
    );
    // Otherwise the worlds would say nothing of what they are to try.
    for (const seen of ["line ready", "line notKnown", "line notReady", "machine ready", "sky ready"])
      expect([...verdicts]).toContain(seen);
  }, 900_000);
});
