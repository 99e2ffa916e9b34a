// Every rule of the list by a case that passes and a case that fails, told through real entries where the record decides.
// The paragraphs stand in the list itself.
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import type { CraftState } from "../../core/facts/craft.ts";
import type { CrewKnown, PaperKind, RecencyKind } from "../../core/facts/crew.ts";
import { hour_ms, minute_ms, msToInstant } from "../../core/facts/instant.ts";
import { advisorySpeed } from "../../core/rules/eu-minima.ts";
import { judgeMinima } from "../../core/rules/minima.ts";
import type { MinimaQuestion } from "../../core/rules/minima.ts";
import { air, callTo, craftOf, knownOf, placeAt, quill } from "../../core/reach/arbitrary-call.ts";
import { assessCall } from "../../core/reach/assess-call.ts";
import type { Call } from "../../core/reach/call.ts";
import type { FlightRules } from "../../core/facts/flight-rules.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { assessLevels } from "../../core/level/assess.ts";
import { at_h, craftWith, reading, situationAt, uplift } from "../../core/level/tell-levels.ts";
import { assessFuel } from "../../core/fuel/assess-fuel.ts";
import { riskLacks } from "../../core/rules/risk-worksheet.ts";
import type { RiskFactor, RiskWorksheet } from "../../core/rules/risk-worksheet.ts";
import { ruleList } from "../../core/rules/rule-list.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { assessWeather } from "../../core/sky/assess-weather.ts";
import { everyGroupCounts } from "../../core/sky/planning-rule.ts";
import { readReport } from "../../core/sky/read-report.ts";
import { assessRecorded, Story } from "./arbitrary-story.ts";
import { zeroCounters } from "./fresh-balance.ts";
import { wholeCrew } from "../../core/crew/whole-crew.ts";

type Case = {
  readonly passes: () => readonly string[];
  readonly fails: () => readonly string[];
  readonly by: string;
};

const walk = "walk-0001";
const finding = "finding-0001";

/** Codes of the reasons that bind now on a craft told by `tell`. */
function codes(
  tell: (story: Story) => void,
  { sheet = smallSheet, crew = wholeCrew }: { sheet?: Sheet; crew?: CrewKnown } = {},
): readonly string[] {
  const story = new Story(sheet, { floats: true, boards: false });
  tell(story);
  const known = story.situation();
  const situation = { ...known, settings: { ...known.settings, crew } };
  return assessRecorded(story.sheet, story.state, situation)
    .filter(
      ({ from_ms, until_ms }) => (from_ms ?? 0) <= story.now_ms && story.now_ms < (until_ms ?? Infinity),
    )
    .map(({ code }) => code);
}
const nothing = (): void => {};

const filledCodes = (sample: "clear" | "water"): readonly string[] => {
  const story = new Story(smallSheet, { floats: true, boards: false });
  story.tell("fuel.filled", {
    before_kg: 20,
    amount: 25,
    unit: "L",
    typed: "25",
    density_kgL: 0.8,
    fuel_C: null,
    after_kg: 40,
    grade: "Jet A-1",
    baseTank: null,
    sample,
    at: msToInstant(story.now_ms),
    replaces: [],
  });
  return assessFuel(smallSheet, story.state, {}).map(({ code }) => code);
};
const hot = { value_C: 30, elevation_ft: 36 };
const notMetOf = (call: Call): readonly string[] =>
  assessCall(knownOf(craftOf()), call).margins.flatMap(({ kind, met }) => (met === true ? [] : [kind]));
/** What is asked about a site by night, where it must measure four of the craft's lengths. */
const askedOf = (site: string): readonly string[] => {
  const known = knownOf(craftOf(), { lightAt: () => (site === "siteHavelle" ? "day" : "night") });
  const scene = { ...placeAt(70.5, 11.6, 400), site };
  return assessCall(known, callTo(scene)).aboutSites.map(({ ask }) => ask);
};

const minima = (more: Partial<MinimaQuestion>) => () =>
  judgeMinima({
    ruleSet: "eu",
    phase: "dispatch",
    light: "day",
    pilots: 2,
    performanceClass: 1,
    airspaceVisibility_m: 5000,
    ceiling_ft: 450,
    visibility_m: 1000,
    ...more,
  }).short;

const [rules] = wholeCrew.rules;
const asking = (recency: readonly RecencyKind[], papers: readonly PaperKind[] = []): CrewKnown => ({
  ...wholeCrew,
  rules: [{ ...rules!, asks: [{ operation: "dayVfr", recency, papers }] }],
});
const crewCase = (by: string, passing: CrewKnown, failing: CrewKnown, sheet = smallSheet): Case => ({
  by,
  passes: () => codes(nothing, { crew: passing, sheet }),
  fails: () => codes(nothing, { crew: failing, sheet }),
});
const withoutFlying = (crew: CrewKnown): CrewKnown => ({ ...crew, experience: [] });
const lapsed = (paper: PaperKind, crew: CrewKnown = wholeCrew): CrewKnown => ({
  ...crew,
  papers: crew.papers.map((one) =>
    one.paper === paper ? { ...one, issuedOn: "2024-01-15", lastDay: "2024-12-31" } : one,
  ),
});
const needing = (crew: Sheet["operations"][number]["needs"]["crew"]): Sheet => ({
  ...smallSheet,
  operations: smallSheet.operations.map((one) => ({ ...one, needs: { ...one.needs, crew } })),
});

function raise(story: Story, kind = "other"): void {
  const body = { finding, kind, stop: "nose", item: null, walk: null, measure: null, words: "" };
  story.tell("finding.raised", { ...body, at: story.at });
}
function defer(story: Story): void {
  raise(story);
  const body = { finding, outcome: "defer", role: "pilot", words: "", deferral: "d33-01", replaces: [] };
  story.tell("finding.judged", { ...body, at: story.at });
}
const listed = (more: Partial<Sheet["deferrals"][number]>): Sheet => ({
  ...smallSheet,
  deferrals: [{ ...smallSheet.deferrals[0]!, ...more }],
});
const text = { en: "do so", de: "tu es" };
const confirm = (story: Story): void => {
  defer(story);
  story.tell("deferral.confirmed", {
    finding,
    operational: true,
    maintenance: "66-1",
    logPage: "12",
    workOrder: "",
    at: story.at,
  });
};
const extend = (times: number) => (story: Story) => {
  defer(story);
  for (let time = 0; time < times; time += 1)
    story.tell("deferral.extended", {
      finding,
      role: "airworthiness",
      beyondControl: true,
      authorityNotified: true,
      planMade: true,
      words: "part on its way",
      at: story.at,
    });
};

/** What a call is told of a deferral that lapses so many minutes from its departure on. */
const lapsing = (minutes: number): readonly string[] => {
  const known = knownOf(craftOf());
  const reason: Reason = {
    code: "finding.deferralLapsed",
    effect: "blocks",
    operations: "all",
    from_ms: known.situation.now_ms + minutes * minute_ms,
    until_ms: null,
    source: { kind: "rule", rule: "ORO.MLR.105(e)(3)", edition: "2012", cite: "ORO.MLR.105(e)(3)" },
    evidence: [],
    remedy: { code: "finding.toEngineer", clearance: "someone" },
    facts: {},
  };
  const answer = assessCall({ ...known, reasons: [reason] }, callTo(placeAt(70.5, 11.6, 400)));
  return answer.reasons.map(({ code }) => code);
};
const lands_min = ((): number => {
  const known = knownOf(craftOf());
  const { ends_ms } = assessCall(known, callTo(placeAt(70.5, 11.6, 400)));
  return (ends_ms! - known.situation.now_ms) / minute_ms;
})();

/** What a call under the US rules is short of, with what the operator asks and what was signed. */
const usNotMet = (worksheets: CraftState["worksheets"], heights?: Call["heights"]): readonly string[] => {
  const known = knownOf({ ...craftOf(), worksheets });
  const factor = (id: RiskFactor) => ({ id, group: id, words: id, most: 5 });
  const asked: FlightRules = {
    entry: "r",
    by: "p-office",
    at_ms: 0,
    meter: null,
    worksheet: {
      factors: (["flight", "human", "weather"] as const).map(factor),
      releaseAbove: 8,
      cite: "A 9",
    },
    overWater: null,
    lapseInFlight: "pointedOut",
  };
  const settings = { ...known.situation.settings, ruleSet: "us" as const, flightRules: [asked] };
  const call = callTo(placeAt(70.5, 11.6, 400), heights === undefined ? {} : { heights });
  return assessCall({ ...known, situation: { ...known.situation, settings } }, call).margins.flatMap(
    ({ kind, met, what }) => (met === true ? [] : [`${kind} ${what}`]),
  );
};
const sheetSigned = (more: Partial<CraftState["worksheets"][number]> = {}): CraftState["worksheets"] => [
  {
    entry: "w",
    by: "p-one",
    at_ms: knownOf(craftOf()).situation.now_ms - minute_ms,
    scores: { flight: 2, human: 1, weather: 2 },
    refusedElsewhere: false,
    mitigation: "",
    released: null,
    ...more,
  },
];
/** Codes of an engine whose oil was filled up, flown for so many hours, and filled up again with two litres. */
const filledAfter = (hours: number): readonly string[] => {
  const state = craftWith({
    readings: [reading(1000, 4.5)],
    uplifts: [uplift(1000, 1), uplift(1000 + hours, 2)],
  });
  return assessLevels(quill, state, situationAt(at_h(1001 + hours))).flatMap(({ code, facts }) =>
    code === "level.asked" ? [String(facts["question"])] : [],
  );
};

const fly = (hours: number) => (story: Story) => {
  story.pass(hours * 60 + 1);
  story.tell("flight.logged", {
    flight: "flight-0001",
    offAt: msToInstant(story.now_ms - hours * hour_ms),
    onAt: story.at,
    flight_h: hours,
    landings: 1,
    hoistCycles: 0,
    starts: 1,
    operation: "dayVfr",
    crew: ["p-one"],
  });
};
const shortTask: Sheet = {
  ...smallSheet,
  programme: [
    { ...smallSheet.programme[0]!, interval: { flightHours_h: 2 }, tolerance: { flightHours_h: 1 } },
  ],
};
const work =
  (release: boolean) =>
  (story: Story): void => {
    story.pass(60);
    const on = story.at.slice(0, 10);
    story.tell("task.done", { task: "h100", counters: zeroCounters, on, licence: "66-1", at: story.at });
    if (release) story.release({ words: "100 h" });
  };
const take = (story: Story): void => {
  story.tell("flight.begun", {
    flight: "flight-0001",
    offAt: story.at,
    operation: "dayVfr",
    crew: ["p-one"],
  });
};
const held =
  (lastDay: string, kind = "equipment") =>
  (story: Story): void => {
    const body = { obligation: "beacon", kind, words: "beacon battery", lastDay, dueAt: {} };
    story.tell("obligation.set", { ...body, takesAway: "all", settled: false, at: story.at, replaces: [] });
  };
const close =
  (state: "open" | "closed") =>
  (story: Story): void => {
    story.tell("closure.set", { closure: "pitotCover", state, replaces: [], at: story.at });
  };

const worksheet: RiskWorksheet = {
  scores: { flight: 2, human: 1, weather: 2 },
  refusedElsewhere: false,
  releaseAbove: 8,
  released: false,
  signed_ms: 0,
};

const reported_ms = Date.UTC(2026, 1, 4, 11, 50);
const setting = { kind: "setting", name: "test" } as const;
const report = readReport("METAR ENXX 041150Z 24010KT 9999 FEW030 10/05 Q1013", reported_ms);
/** The codes of what is said of a fine report so many minutes old. */
const weatherAged = (minutes: number) => () =>
  assessWeather({
    now_ms: reported_ms + minutes * minute_ms,
    horizon_ms: reported_ms + (minutes + 1) * minute_ms,
    place: "base",
    ground_ft: 0,
    stations: [{ station: "ENXX", elevation_ft: 0, distance_km: 1 }],
    held: [{ entry: "e", report }],
    observations: [],
    lowest_C: null,
    needs: [
      {
        operation: "dayVfr",
        ceiling_ft: 500,
        visibility_m: 5000,
        from_ms: null,
        until_ms: null,
        source: setting,
      },
    ],
    limits: {
      reportAge_min: 60,
      stationDistance_km: 30,
      planning: everyGroupCounts,
      wind: [],
      heading_deg: null,
      tailwind: null,
      icing: { isProtected: false, moistureBelow_C: null, source: setting },
      forbidden: { phenomena: [], source: setting },
    },
  }).map(({ code }) => code);

const cases: Readonly<Record<string, Case>> = {
  R1: { by: "visibility", passes: minima({}), fails: minima({ visibility_m: 999 }) },
  R2: {
    by: "visibility",
    passes: minima({ visibility_m: 800, phase: "enroute" }),
    fails: minima({ visibility_m: 800 }),
  },
  R3: {
    by: "ceiling",
    passes: minima({ performanceClass: 3, ceiling_ft: 600, visibility_m: 1500 }),
    fails: minima({ performanceClass: 3, ceiling_ft: 599, visibility_m: 1500 }),
  },
  R4: {
    by: "none",
    passes: () => [String(advisorySpeed(800) ?? "none")],
    fails: () => [String(advisorySpeed(799) ?? "none")],
  },
  R5: crewCase("crew.singlePilotNight", asking(["night"]), {
    ...wholeCrew,
    rules: [{ ...asking(["night"]).rules[0]!, singlePilotNight: null }],
  }),
  R6: {
    by: "crew.tooFew",
    passes: () => codes(nothing, { sheet: needing(["technicalCrew"]) }),
    fails: () =>
      codes(
        (story) => {
          const people = [{ person: "p-one", roles: ["pilot"], lastDutyEnd: story.at }];
          const replaces = story.state.shifts.map(({ entry }) => entry);
          const until = msToInstant(story.now_ms + 12 * hour_ms);
          story.tell("shift.declared", { from: story.at, until, people, replaces });
        },
        { sheet: needing(["technicalCrew"]) },
      ),
  },
  R7: crewCase("crew.notRecent", asking(["instrument"]), withoutFlying(asking(["instrument"]))),
  R8: crewCase("crew.notRecent", wholeCrew, withoutFlying(wholeCrew)),
  R9: crewCase("crew.paperLapses", wholeCrew, lapsed("medical")),
  R10: crewCase("crew.paperLapses", wholeCrew, lapsed("proficiencyCheck")),
  R11: crewCase(
    "crew.paperLapses",
    asking(["nvis"], ["nvisCheck"]),
    lapsed("nvisCheck", asking([], ["nvisCheck"])),
  ),
  R12: crewCase("crew.notRested", wholeCrew, {
    ...wholeCrew,
    rules: [{ ...rules!, duty: { duty_h: 14, rest_h: 10, cite: "manual" } }],
  }),
  R13: {
    by: "walk.due",
    passes: () =>
      codes((story) => {
        story.begin(walk);
        story.walkAll(walk);
        story.finish(walk);
      }),
    fails: () => codes(nothing),
  },
  R14: {
    by: "finding.unjudged",
    passes: () => codes(defer),
    fails: () => codes((story) => raise(story)),
  },
  R15: {
    by: "finding.deferralLapsed",
    passes: () => codes(defer),
    fails: () =>
      codes((story) => {
        defer(story);
        story.pass(11 * 24 * 60);
      }),
  },
  R16: {
    by: "finding.lapsesInFlight",
    passes: () => lapsing(lands_min + 1),
    fails: () => lapsing(lands_min - 1),
  },
  R17: { by: "finding.extensionInvalid", passes: () => codes(extend(1)), fails: () => codes(extend(2)) },
  R18: {
    by: "finding.deferralUnconfirmed",
    passes: () => codes(confirm, { sheet: listed({ operational: text, maintenance: text }) }),
    fails: () => codes(defer, { sheet: listed({ operational: text, maintenance: text }) }),
  },
  R19: {
    by: "finding.deferralForbids",
    passes: () => codes(defer),
    fails: () => codes(defer, { sheet: listed({ takesAway: ["dayVfr"] }) }),
  },
  R20: {
    by: "due.over",
    passes: () => codes(fly(2.9), { sheet: shortTask }),
    fails: () => codes(fly(3), { sheet: shortTask }),
  },
  R21: { by: "due.noRelease", passes: () => codes(work(true)), fails: () => codes(work(false)) },
  R22: {
    by: "needs.notInstalled",
    passes: () => codes(nothing, { sheet: needingEquipment("floats") }),
    fails: () => codes(nothing, { sheet: needingEquipment("boards") }),
  },
  R23: { by: "closure.open", passes: () => codes(close("closed")), fails: () => codes(close("open")) },
  R24: {
    by: "finding.unjudged",
    passes: () => codes(nothing),
    fails: () => codes((story) => raise(story, "frost")),
  },
  R25: {
    by: "fuel.notClean",
    passes: () => filledCodes("clear"),
    fails: () => filledCodes("water"),
  },
  R26: { by: "upliftHigh", passes: () => filledAfter(20), fails: () => filledAfter(10) },
  R27: {
    by: "load.ofAnotherDay",
    passes: () => codes(nothing),
    fails: () => codes((story) => story.pass(2 * 24 * 60)),
  },
  R28: {
    by: "hoverOutOfGroundEffect",
    passes: () => notMetOf(callTo(placeAt(70.5, 11.6, 400))),
    fails: () => notMetOf(callTo(placeAt(70.5, 11.6, 6_000), { air: { ...air, temperature: hot } })),
  },
  R29: {
    by: "fuel",
    passes: () => notMetOf(callTo(placeAt(70.5, 11.6, 400))),
    fails: () => notMetOf(callTo(placeAt(70.5, 11.6, 400), { fuel_kg: 250 })),
  },
  R30: {
    by: "tooSmall",
    passes: () => askedOf("siteHavelle"),
    fails: () => askedOf("siteLight"),
  },
  R31: {
    by: "obstacle notWritten",
    passes: () => usNotMet(sheetSigned(), { highestObstacle_ft: 900, cruise_ft: null }),
    fails: () => usNotMet(sheetSigned()),
  },
  R32: {
    by: "worksheet signature",
    passes: () => usNotMet(sheetSigned()),
    fails: () => usNotMet([]),
  },
  R33: {
    by: "worksheet refusal",
    passes: () => usNotMet(sheetSigned()),
    fails: () => usNotMet(sheetSigned({ refusedElsewhere: null })),
  },
  R34: {
    by: "due.dateOver",
    passes: () => codes(held("2026-02-04")),
    fails: () => codes(held("2026-02-03")),
  },
  R35: {
    by: "flight.underway",
    passes: () =>
      codes((story) => {
        take(story);
        fly(1)(story);
      }),
    fails: () => codes(take),
  },
  R37: {
    by: "oxygen",
    passes: () => notMetOf(callTo(placeAt(70.5, 11.6, 400))),
    fails: () => notMetOf(callTo(placeAt(70.5, 11.6, 10_400))),
  },
  R38: {
    by: "due.mapDataOld",
    passes: () => codes(held("2026-02-04", "mapData")),
    fails: () => codes(held("2026-02-03", "mapData")),
  },
  R36: { by: "weather.notObserved", passes: weatherAged(10), fails: weatherAged(61) },
};

function needingEquipment(equipment: string): Sheet {
  return {
    ...smallSheet,
    operations: smallSheet.operations.map((one) => ({
      ...one,
      needs: { ...one.needs, equipment: [equipment] },
    })),
  };
}

describe("the rules of the list", () => {
  test("are 38, in order, each judged by a function and held here", () => {
    const all = Array.from({ length: 38 }, (_, index) => `R${index + 1}`);
    expect(ruleList.map(({ rule }) => rule)).toEqual(all);
    for (const { rule, judgedBy } of ruleList) {
      expect(judgedBy, rule).not.toBe("");
      expect(Object.hasOwn(cases, rule), rule).toBe(true);
    }
  });

  test.each(Object.entries(cases))(
    "%s passes where it is met and fails where it is not",
    (_rule, { by, passes, fails }) => {
      expect(passes()).not.toContain(by);
      expect(fails()).toContain(by);
    },
  );
});

describe("the risk worksheet", () => {
  test("needs every factor, and a release above the operator's level", () => {
    expect(riskLacks({ ...worksheet, scores: { flight: 2 } }, 1)).toContain("factor");
    expect(riskLacks({ ...worksheet, releaseAbove: 4 }, 1)).toEqual(["release"]);
    expect(riskLacks({ ...worksheet, releaseAbove: 4, released: true }, 1)).toEqual([]);
    expect(riskLacks({ ...worksheet, signed_ms: null }, 1)).toEqual(["signature"]);
  });
});
