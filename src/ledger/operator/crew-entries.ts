// What the operator's record says of its people: papers and checks, dates of birth, flying elsewhere, and the figures by
// which a crew is judged. An erased entry takes the person's data with it; what rested on it is then not known.
import { z } from "zod";
import { isCalendarDate } from "../../core/facts/calendar.ts";
import { paperKinds, recencyKinds } from "../../core/facts/crew.ts";
import type { CrewKnown } from "../../core/facts/crew.ts";
import type { MinimaSettled } from "../../core/facts/situation.ts";
import { instantToMs, msToInstant } from "../../core/facts/instant.ts";
import { beside, instant, personId, replaces, sheetId } from "../craft/shapes.ts";
import { entryType, refuse } from "../entry-type.ts";

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };
type WithCrew = { readonly crew: CrewKnown; readonly minima: readonly (Said & MinimaSettled)[] };

export const nobodyKnown: CrewKnown = { papers: [], born: [], experience: [], rules: [] };

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
    (state, { replaces: replaced, at, ...body }, { id, by }) => ({
      ...state,
      minima: beside(state.minima, replaced, { entry: id, by, at_ms: instantToMs(at), ...body }),
    }),
  );
  return [paper, born, experience, rules, minima];
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
  singlePilotNight: z.strictObject({ allowed: z.boolean(), cite }).nullable(),
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
