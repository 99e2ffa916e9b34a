import { describe, expect, test } from "vitest";
import { reasonCodes, remedyCodes } from "../core/facts/reason-codes.ts";
import type { Reason } from "../core/facts/reason.ts";
import { levelQuestionCodes } from "../core/level/level-questions.ts";
import { namesIn } from "./names.ts";
import { reasonWords } from "./reasons.ts";
import { languages, localeOf } from "./words/language.ts";
import { phraseText } from "./words/phrase.ts";

/** Every fact that any reason's words ask for. */
const facts = {
  why: "schema",
  count: 2,
  newest_ms: Date.UTC(2026, 1, 4, 6),
  vouched_ms: Date.UTC(2026, 1, 4, 5),
  other_ms: Date.UTC(2026, 1, 4, 5, 6),
  amount: 0.5,
  takenOver_ms: Date.UTC(2026, 1, 4, 5, 30),
  limit_min: 30,
  words: "dry at the seam",
  expectedEnd_ms: Date.UTC(2026, 1, 4, 10),
  left: 9,
  open: 3,
  blank: 1,
  notReached: 0,
  unjudged: 2,
  by: "hours",
  at_ms: Date.UTC(2026, 1, 4, 4),
  lapsed_ms: Date.UTC(2026, 1, 3, 23),
  closure: "oilCap",
  opened_ms: Date.UTC(2026, 1, 4, 5, 41),
  kind: "leak",
  stop: "leftEngine",
  deferral: "landingLight",
  number: "33-01",
  lastDay: "2026-02-05",
  quantity: "wind_kt",
  value: 40,
  paper: "medical",
  recency: "night",
  role: "pilot",
  rested_h: 7.5,
  rest_h: 10,
  duty_h: 14,
  procedure: "M",
  deferred: 2,
  installed: 2,
  required: 1,
  read: 101.25,
  before: 101.5,
  counted: 101,
  taken: 11,
  needed: 13,
  figure: "nightPic_h",
  minutes: 41.2,
  allowed_min: 30,
  other: "searchlight",
  task: "h100",
  counter: "flightHours_h",
  event: "lightning",
  gauge: "engineOil",
  typed: "3,9",
  unit: "L",
  limit: 4,
  gauges: "engineOil gearboxOil",
  oldest_ms: Date.UTC(2026, 1, 3, 6),
  flown_h: 3.21,
  perHour: 0.0834,
  normal: 0.031,
  low: 0.07,
  high: 0.09,
  most: 0.05,
  since_h: 1203.4,
  chanceEvery_h: 4200,
  used: true,
  expected_h: 6.1,
  pessimistic_h: 4.2,
  today_h: 5,
  question: "upliftDisagrees",
  filled: 1,
  seen: 0.4,
  equipment: "hoist",
  place: "Skarvøy",
  due: "2026-02-06",
  net_kg: 14.2,
  matter: "hoverOutOfGroundEffect",
  use: "hoverOutOfGroundEffect",
  short_kg: 12.4,
  sample: "water",
  difference_kg: -41.2,
  tolerance_kg: 12,
  perhaps: "L",
  required_kg: 431.2,
  patient_kg: 90,
  upTo_kg: 71.3,
  upTo_ft: 2310.4,
  elevation_ft: 2900,
  path: "installed.hoist",
  found: "nothing",
  person: "p-lind",
  name: "medical bag",
  kitList: "rescue",
  missing: 1,
  tank: "north tank",
  bar: "sampleOld",
  grade: "Jet B",
  left_L: 840.5,
  twice: 1,
  different: 2,
  mass_kg: 14,
  loaded_kg: 140.2,
  most_kg: 130,
  start_kg: 3210,
  end_kg: 2900,
  axis: "lateral",
  margin_m: -0.012,
  fuel_kg: 310,
  safe_kg: 112,
  stretcher: "stretcherLeft",
  report: "METAR",
  left_h: 12.5,
  expected: 30,
  earliest: 18,
  station: "ENXX",
  code: "FZRA",
  sense: "thunderstorm",
  what: "cavokWithCloud",
  issued_ms: Date.UTC(2026, 1, 4, 5, 50),
  expires_ms: Date.UTC(2026, 1, 4, 7),
  from_ms: Date.UTC(2026, 1, 4, 15),
  until_ms: Date.UTC(2026, 1, 5, 7),
  ground_ft: 400,
  needed_ft: 500,
  needed_m: 5000,
  ceiling_ft: 300,
  visibility_m: 2000,
  wind_kt: 30,
  gust_kt: 45,
  limit_kt: 35,
  gustLimit_kt: 40,
  tailwind_kt: 12,
  temperature_C: 1,
  limit_C: 4,
  base_ft: 2500,
  craft: "Myr",
  most_h: 60,
  window: "7d",
  lack: "signature",
  seaState: 5,
  suits: 3,
  aboard: 4,
  water_C: 6,
  places: 3,
};

function reason(more: Partial<Reason>): Reason {
  return {
    code: "walk.due",
    effect: "blocks",
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "law", law: "test" },
    evidence: [],
    remedy: { code: "walk.doFull", clearance: "ten" },
    facts,
    ...more,
  };
}

const now_ms = Date.UTC(2026, 1, 4, 6, 30);
const tell = (language: (typeof languages)[number], more: Partial<Reason>) =>
  reasonWords({
    reason: reason(more),
    names: namesIn(language, null, new Map([["p-lind", "Lind"]])),
    locale: localeOf(language, "Europe/Oslo"),
    now_ms,
  });

describe.each(languages)("a reason in %s", (language) => {
  test.each(reasonCodes)("%s is said whole, with a subject, and nothing unsaid in it", (code) => {
    const { title, detail } = tell(language, { code });
    const text = phraseText(title);
    expect(title.some((piece) => typeof piece !== "string")).toBe(true);
    expect(text).toMatch(/\p{L}/u);
    expect(`${text} ${detail}`).not.toMatch(/undefined|NaN|\?|\[object/u);
    expect([text.trim(), detail.trim()]).toEqual([text, detail]);
  });

  test.each(levelQuestionCodes)("the question %s about a gauge is said whole", (question) => {
    const about = {
      by: 0.8,
      from: "hydraulic",
      to: "gearbox",
      grade: "A",
      first: "B",
      capacity: 6,
      before: 5.5,
    };
    const code = "level.asked";
    const { title, detail } = tell(language, {
      code,
      facts: { ...facts, hours_h: 1203.4, question, ...about },
    });
    const text = phraseText(title);
    expect(title.some((piece) => typeof piece !== "string")).toBe(true);
    // A figure that is missing is a question mark by itself; a sentence may end in one.
    expect(`${text} ${detail}`).not.toMatch(/undefined|NaN|(^|[\s(])\?|\[object/u);
  });

  test.each(remedyCodes)("the remedy %s is said", (code) => {
    expect(tell(language, { remedy: { code, clearance: "minute" } }).remedy).toMatch(/\p{L}{3}/u);
  });

  test("a fact that is missing is said as missing, and nothing throws", () => {
    for (const code of reasonCodes) {
      const { title } = tell(language, { code, facts: {} });
      expect(phraseText(title)).not.toMatch(/undefined|NaN/u);
    }
  });
});

test("a reason reads as a sentence a pilot would say", () => {
  const { title, detail, remedy } = tell("en", {
    code: "walk.lapsed",
    facts: { ...facts, by: "calendarDay" },
  });
  expect(phraseText(title)).toBe("The full walk is due");
  expect(detail).toBe("the last one lapsed 00:00: its day is over");
  expect(remedy).toBe("do the full walk");
});
