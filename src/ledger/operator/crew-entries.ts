// What the operator's record says of its people: papers and checks, dates of birth, flying elsewhere, and the figures by
// which a crew is judged. An erased entry takes the person's data with it; what rested on it is then not known.
import { z } from "zod";
import { isCalendarDate } from "../../core/facts/calendar.ts";
import { riskGroups } from "../../core/facts/flight-rules.ts";
import type { FlightRules } from "../../core/facts/flight-rules.ts";
import { paperKinds, recencyKinds } from "../../core/facts/crew.ts";
import type { CrewKnown } from "../../core/facts/crew.ts";
import type { MinimaSettled, MinimaUse } from "../../core/facts/situation.ts";
import { instantToMs, minute_ms, msToInstant } from "../../core/facts/instant.ts";
import { beside, instant, personId, replaces, sheetId } from "../craft/shapes.ts";
import { entryType, refuse } from "../entry-type.ts";

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };
type WithCrew = {
  readonly crew: CrewKnown;
  readonly minima: readonly (Said & MinimaSettled)[];
  readonly flightRules: readonly FlightRules[];
  readonly minimaUses: readonly (Said & { readonly uses: readonly MinimaUse[] })[];
};

export const nobodyKnown: CrewKnown = {
  papers: [],
  born: [],
  experience: [],
  rules: [],
  rests: [],
  commands: [],
};

const day = z.string().refine(isCalendarDate, { error: "a date of the form YYYY-MM-DD" });
const cite = z.string().min(1).max(200);
const keepers = ["administrator", "airworthiness"] as const;
const amount = z.int().min(0).max(10_000);

/** The entry types, for the state of the operator's ledger. */
export function crewEntriesFor<State extends WithCrew>() {
  const withCrew = (state: State, change: Partial<CrewKnown>): State => ({
    ...state,
    crew: { ...state.crew, ...change },
  });
  const paper = entryType<State, z.infer<typeof paperShape>>(
    { type: "paper.recorded", tv: 1, critical: true, roles: keepers },
    paperShape,
    (state, { replaces: replaced, at, ...body }, { id, by, at_ms }) => {
      if (body.lastDay !== null && body.lastDay < body.issuedOn)
        return refuse("expiresBeforeIssued", "lastDay", body.lastDay, `not before ${body.issuedOn}`);
      if (body.issuedOn > msToInstant(at_ms + 24 * 3_600_000).slice(0, 10))
        return refuse("issuedInFuture", "issuedOn", body.issuedOn, `at most ${msToInstant(at_ms)}`);
      const said = { entry: id, by, at_ms: instantToMs(at), ...body };
      return withCrew(state, { papers: beside(state.crew.papers, replaced, said) });
    },
  );
  const born = entryType<State, z.infer<typeof bornShape>>(
    { type: "person.born", tv: 1, critical: true, roles: keepers },
    bornShape,
    (state, { replaces: replaced, at, ...body }, { id, by }) =>
      withCrew(state, {
        born: beside(state.crew.born, replaced, { entry: id, by, at_ms: instantToMs(at), ...body }),
      }),
  );
  const experience = entryType<State, z.infer<typeof experienceShape>>(
    { type: "experience.recorded", tv: 1, critical: true, roles: keepers },
    experienceShape,
    (state, { replaces: replaced, at, ...body }, { id, by }) =>
      withCrew(state, {
        experience: beside(state.crew.experience, replaced, {
          entry: id,
          by,
          at_ms: instantToMs(at),
          ...body,
        }),
      }),
  );
  const rest = entryType<State, z.infer<typeof restShape>>(
    { type: "rest.recorded", tv: 1, critical: true, roles: keepers },
    restShape,
    (state, { replaces: replaced, from, until, person, at }, { id, by, at_ms }) => {
      const [from_ms, until_ms] = [instantToMs(from), instantToMs(until)];
      if (until_ms <= from_ms) return refuse("endsBeforeItBegins", "until", until, `later than ${from}`);
      if (until_ms > at_ms + 5 * minute_ms)
        return refuse(
          "restNotOver",
          "until",
          until,
          `at most ${msToInstant(at_ms)}: rest counts when it is over`,
        );
      const said = { entry: id, by, at_ms: instantToMs(at), person, from_ms, until_ms };
      return withCrew(state, { rests: beside(state.crew.rests, replaced, said) });
    },
  );
  const command = entryType<State, z.infer<typeof commandShape>>(
    { type: "command.stated", tv: 1, critical: true, roles: keepers },
    commandShape,
    (state, { replaces: replaced, at, ...body }, { id, by }) => {
      if (body.helicopterPic_h > body.pic_h)
        return refuse(
          "moreThanAllHours",
          "helicopterPic_h",
          String(body.helicopterPic_h),
          `at most ${body.pic_h}`,
        );
      if (body.nightPic_h > body.pic_h)
        return refuse("moreThanAllHours", "nightPic_h", String(body.nightPic_h), `at most ${body.pic_h}`);
      const said = { entry: id, by, at_ms: instantToMs(at), ...body };
      return withCrew(state, { commands: beside(state.crew.commands, replaced, said) });
    },
  );
  const rules = entryType<State, z.infer<typeof rulesShape>>(
    { type: "crewRules.set", tv: 1, critical: true, roles: ["administrator"] },
    rulesShape,
    (state, { replaces: replaced, at, ...body }, { id, by }) =>
      withCrew(state, {
        rules: beside(state.crew.rules, replaced, { entry: id, by, at_ms: instantToMs(at), ...body }),
      }),
  );
  const minima = entryType<State, z.infer<typeof minimaShape>>(
    { type: "minima.settled", tv: 1, critical: true, roles: ["administrator"] },
    minimaShape,
    (state, { replaces: replaced, at, ...body }, { id, by }) => {
      const steps = body.tables.flatMap((table) =>
        table.steps.slice(1).map((step, index) => ({ step, above: table.steps[index]! })),
      );
      const rising = steps.find(({ step, above }) => step.ceilingFrom_ft >= above.ceilingFrom_ft);
      if (rising !== undefined)
        return refuse(
          "stepsNotFalling",
          "tables",
          String(rising.step.ceilingFrom_ft),
          `below ${rising.above.ceilingFrom_ft}`,
        );
      if (body.how === "confirmed" && body.tables.length > 0)
        return refuse("confirmedAndChanged", "tables", String(body.tables.length), "none");
      if (body.how === "replaced" && body.tables.length === 0)
        return refuse("nothingInstead", "tables", "0", "at least one table");
      const said = { entry: id, by, at_ms: instantToMs(at), ...body };
      return { ...state, minima: beside(state.minima, replaced, said) };
    },
  );
  const uses = entryType<State, z.infer<typeof usesShape>>(
    { type: "minima.applied", tv: 1, critical: true, roles: ["administrator"] },
    usesShape,
    (state, { replaces: replaced, at, uses: said }, { id, by }) => ({
      ...state,
      minimaUses: beside(state.minimaUses, replaced, { entry: id, by, at_ms: instantToMs(at), uses: said }),
    }),
  );
  const flightRules = entryType<State, z.infer<typeof flightRulesShape>>(
    { type: "flightRules.set", tv: 1, critical: true, roles: ["administrator"] },
    flightRulesShape,
    (state, { replaces: replaced, at, ...body }, { id, by }) => {
      const groups = new Set(body.worksheet?.factors.map(({ group }) => group));
      const missing = riskGroups.find((group) => body.worksheet !== null && !groups.has(group));
      if (missing !== undefined)
        return refuse("groupMissing", "worksheet.factors", [...groups].join(", "), `a factor of ${missing}`);
      const said = { entry: id, by, at_ms: instantToMs(at), ...body };
      return { ...state, flightRules: beside(state.flightRules, replaced, said) };
    },
  );
  return [paper, born, experience, rest, command, rules, minima, uses, flightRules];
}

const paperShape = z.strictObject({
  person: personId,
  paper: z.enum(paperKinds),
  issuedOn: day,
  lastDay: day.nullable(),
  at: instant,
  replaces,
});
const minimaShape = z.strictObject({
  how: z.enum(["confirmed", "replaced"]),
  cite,
  edition: z.string().min(1).max(120),
  tables: z
    .array(
      z.strictObject({
        kind: z.enum(["instead", "stricter"]),
        operations: z.union([z.literal("all"), z.array(sheetId).min(1).max(50)]),
        light: z.enum(["day", "night"]),
        pilots: z.int().min(1).max(4).nullable(),
        steps: z
          .array(
            z.strictObject({
              ceilingFrom_ft: z.number().min(0).max(10_000),
              visibility_m: z.number().min(0).max(20_000),
            }),
          )
          .min(1)
          .max(10),
      }),
    )
    .max(50)
    .default([]),
  at: instant,
  replaces,
});
const usesShape = z.strictObject({
  uses: z
    .array(
      z.discriminatedUnion("ruleSet", [
        z.strictObject({
          ruleSet: z.literal("eu"),
          operation: sheetId,
          cite,
          performanceClass: z.union([z.literal(1), z.literal(2), z.literal(3)]),
          airspaceVisibility_m: z.number().min(0).max(20_000),
        }),
        z.strictObject({
          ruleSet: z.literal("us"),
          operation: sheetId,
          cite,
          mountainous: z.boolean(),
          local: z.boolean(),
          aided: z.boolean(),
        }),
      ]),
    )
    .max(50),
  at: instant,
  replaces,
});
const bornShape = z.strictObject({ person: personId, bornOn: day, at: instant, replaces });
const experienceShape = z.strictObject({
  person: personId,
  on: day,
  landings: amount,
  nightLandings: amount,
  nvisFlights: amount,
  instrument_min: amount,
  hoistCycles: amount.default(0),
  nightHoistCycles: amount.default(0),
  flight_h: z.number().min(0).max(2_000).nullable().default(null),
  at: instant,
  replaces,
});
const restShape = z.strictObject({ person: personId, from: instant, until: instant, at: instant, replaces });
const hoursStated = z.number().min(0).max(50_000);
const commandShape = z.strictObject({
  person: personId,
  on: day,
  pic_h: hoursStated,
  helicopterPic_h: hoursStated,
  similar_h: hoursStated,
  nightPic_h: hoursStated,
  asCoPilot: z.boolean(),
  at: instant,
  replaces,
});
const hoistNeed = z.strictObject({ need: z.int().min(1).max(100), days: z.int().min(1).max(730) });
const flightRulesShape = z.strictObject({
  meter: z.strictObject({ tolerance_h: z.number().min(0).max(10), cite }).nullable(),
  worksheet: z
    .strictObject({
      factors: z
        .array(
          z.strictObject({
            id: sheetId,
            group: z.enum(riskGroups),
            words: z.string().min(1).max(200),
            most: z.int().min(1).max(100),
          }),
        )
        .min(3)
        .max(50),
      releaseAbove: z.int().min(0).max(5_000),
      cite,
    })
    .nullable(),
  overWater: z
    .strictObject({
      operations: z.array(sheetId).min(1).max(50),
      seaStateAtMost: z.int().min(0).max(9),
      suitsBelow_C: z.number().min(-2).max(40),
      raftPlaces: z.int().min(0).max(50),
      stands_min: z.number().min(10).max(1_440),
      cite,
    })
    .nullable(),
  lapseInFlight: z.enum(["forbidden", "pointedOut"]),
  at: instant,
  replaces,
});
const rulesShape = z.strictObject({
  ruleSet: z.enum(["eu", "us"]),
  duty: z
    .strictObject({
      duty_h: z.number().positive().max(72),
      rest_h: z.number().positive().max(72),
      cite,
    })
    .nullable(),
  hoist: z.strictObject({ day: hoistNeed, night: hoistNeed, cite }).nullable().default(null),
  usDuty: z.enum(["267", "271"]).default("267"),
  singlePilotNight: z.strictObject({ allowed: z.boolean(), cite }).nullable(),
  stricter: z
    .array(
      z.strictObject({
        recency: z.enum(["landings", ...recencyKinds]),
        need: z.int().min(1).max(1_000),
        days: z.int().min(1).max(730),
        cite,
      }),
    )
    .max(50)
    .default([]),
  asks: z
    .array(
      z.strictObject({
        operation: sheetId,
        recency: z.array(z.enum(recencyKinds)),
        papers: z.array(z.enum(paperKinds)),
      }),
    )
    .max(50),
  at: instant,
  replaces,
});
