// Assesses the crew of a craft: who is on duty, whether each may fly what, and until when.
//
// Every paper, check, recency and duty limit yields the instant from which it no longer holds, so that the standing line
// shows the last hour of the shift as well as the first; what lapses inside the shift is pointed out at once. Nothing
// recorded is not known. Rules: SPA.HEMS.130, FCL.060, MED.A.045, ORO.FC.230, SPA.NVIS.130; for the US 135.267, 61.57.
// Recency counts the flights of this craft's record and the experience that the operator's record adds.
import { dateAt, endOfDate } from "../facts/calendar.ts";
import type { CraftState, FlightFact } from "../facts/craft.ts";
import { paperKinds } from "../facts/crew.ts";
import type { CrewKnown, CrewRules, PaperKind, RecencyKind, Shift } from "../facts/crew.ts";
import type { ReasonCode } from "../facts/reason-codes.ts";
import type { Reason } from "../facts/reason.ts";
import type { OperatorSettings, Situation } from "../facts/situation.ts";
import type { Operation } from "../sheet/flight-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { commandCite, commandFigures, commandLacks } from "./command-experience.ts";
import { hour_ms } from "../facts/instant.ts";
import { below } from "../quantity/compare.ts";
import {
  assignmentRestReasons,
  quarterRestReasons,
  restAfterAssignment,
  restAfterFlying,
} from "./us-rest.ts";
import { judgeDuty, usAssignmentDuty, usDuty } from "./duty.ts";
import type { DutyFigures } from "./duty.ts";
import { flightHourReasonsOf } from "./us-flight-hours.ts";
import { recencyLastDay, recencyRule } from "./recency.ts";
import type { Done } from "./recency.ts";
import { checkLastDay, medicalLastDay } from "./validity.ts";

const rule = (cite: string): Reason["source"] => ({
  kind: "rule",
  rule: cite,
  edition: cite.startsWith("14 CFR") ? "as stored 2025" : "Reg. (EU) 965/2012, 1178/2011",
  cite,
});

type Parts = Pick<Reason, "code" | "effect"> & Partial<Reason> & { readonly cite: string };

function reasonOf({ cite, ...parts }: Parts): Reason {
  return {
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: rule(cite),
    evidence: [],
    remedy: { code: "crew.record", clearance: "someone" },
    facts: {},
    ...parts,
  };
}

/** Calendar months that a check holds, where a rule says so; other papers hold as long as they state themselves. */
const checkMonths: Readonly<Partial<Record<PaperKind, { months: number; cite: string }>>> = {
  proficiencyCheck: { months: 6, cite: "ORO.FC.230(b)" },
  lineCheck: { months: 12, cite: "ORO.FC.230(c)" },
  emergencyCheck: { months: 12, cite: "ORO.FC.230(d)" },
  nvisCheck: { months: 12, cite: "SPA.NVIS.130(f)" },
};

/** What every pilot needs; what anybody else of the crew needs. */
const papersOf = {
  eu: {
    pilot: ["licence", "typeRating", "medical", "proficiencyCheck", "lineCheck", "emergencyCheck"],
    crew: ["emergencyCheck"],
  },
  us: { pilot: ["licence", "medical", "proficiencyCheck"], crew: [] },
} as const satisfies Record<string, { pilot: readonly PaperKind[]; crew: readonly PaperKind[] }>;

type Holding = {
  readonly lastDay: string | null;
  readonly cite: string;
  readonly evidence: readonly string[];
};

/** Until when a person's paper holds: by what it states and by the rule, the earlier; null where nothing says so. */
function holdingOf(
  { papers, born }: CrewKnown,
  person: string,
  paper: PaperKind,
  ruleSet: "eu" | "us",
  isSinglePilot: boolean,
): Holding | null {
  const held = papers.filter((one) => one.person === person && one.paper === paper);
  if (held.length === 0) return null;
  const evidence = held.map(({ entry }) => entry);
  const issued = held.map(({ issuedOn }) => issuedOn).toSorted();
  // Of several papers of one kind the one issued last is the one that is held.
  const latest = issued[issued.length - 1] ?? "";
  const stated = held
    .filter(({ issuedOn }) => issuedOn === latest)
    .flatMap(({ lastDay }) => (lastDay === null ? [] : [lastDay]));
  const months = ruleSet === "eu" ? checkMonths[paper] : undefined;
  if (months !== undefined) {
    const byRule = checkLastDay(issued, months.months);
    return { lastDay: earliest([...stated, byRule]), cite: months.cite, evidence };
  }
  if (paper === "medical" && ruleSet === "eu") {
    const dates = born.filter((one) => one.person === person).map(({ bornOn }) => bornOn);
    // Of two dates of birth the one that makes older; of none nothing follows.
    const bornOn = earliest(dates);
    const byRule = bornOn === null ? null : medicalLastDay(latest, bornOn, isSinglePilot);
    return {
      lastDay: byRule === null ? null : earliest([...stated, byRule]),
      cite: "MED.A.045(a)",
      evidence,
    };
  }
  return { lastDay: earliest(stated), cite: paper === "medical" ? "14 CFR 61.23" : "Part-FCL", evidence };
}

/** The last day of a person's paper for one who flies alone, by the rule or by what it states; null where none follows. */
export function paperLastDay(
  crew: CrewKnown,
  person: string,
  paper: PaperKind,
  ruleSet: "eu" | "us",
): string | null {
  return holdingOf(crew, person, paper, ruleSet, true)?.lastDay ?? null;
}

function earliest(days: readonly (string | null)[]): string | null {
  return days.filter((day) => day !== null).toSorted()[0] ?? null;
}

const amountOf = {
  landings: (one: { landings: number }) => one.landings,
  night: (one: { nightLandings: number | null }) => one.nightLandings ?? 0,
  instrument: (one: { instrument_min: number | null }) => one.instrument_min ?? 0,
  hoist: (one: { hoistCycles: number }) => one.hoistCycles,
  nightHoist: (one: { nightHoistCycles: number | null }) => one.nightHoistCycles ?? 0,
} as const;
const ofWholeCrew: readonly string[] = ["hoist", "nightHoist"];

/**
 * What a person flew, by day: of the operator's craft, and as recorded from elsewhere. A flight with two licensed pilots
 * aboard does not say who flew what, and counts for neither until the training records do; a hoist cycle is the work of all.
 */
function flownBy(
  person: string,
  kind: "landings" | RecencyKind,
  flights: readonly FlightFact[],
  crew: CrewKnown,
  zone: string,
): Done[] {
  const licensed = new Set(crew.papers.filter(({ paper }) => paper === "licence").map((one) => one.person));
  const own = flights
    .filter(
      (flight) =>
        flight.crew.includes(person) &&
        (ofWholeCrew.includes(kind) ||
          flight.crew.every((other) => other === person || !licensed.has(other))),
    )
    .map((flight) => ({
      on: dateAt(flight.off_ms, zone),
      amount: kind === "nvis" ? Number(flight.nvis === true) : amountOf[kind](flight),
    }));
  const elsewhere = crew.experience
    .filter((one) => one.person === person)
    .map((one) => ({ on: one.on, amount: kind === "nvis" ? one.nvisFlights : amountOf[kind](one) }));
  return [...own, ...elsewhere];
}

type Judged = {
  readonly sheet: Sheet;
  readonly state: CraftState;
  readonly crew: CrewKnown;
  readonly shift: Shift;
  readonly settings: OperatorSettings;
  /** Flights and shifts of this craft and of the operator's others. */
  readonly flights: readonly FlightFact[];
  readonly shifts: readonly Shift[];
  readonly now_ms: number;
};

/** A reason from the day after the last one, and a word inside the shift when that day comes before its end. */
function lapsing(
  { shift, settings }: Judged,
  lastDay: string,
  parts: Omit<Parts, "code" | "effect"> & { readonly code: ReasonCode },
): Reason[] {
  const over_ms = endOfDate(lastDay, settings.zone);
  const facts = { ...parts.facts, lastDay };
  const blocks = reasonOf({ ...parts, effect: "blocks", from_ms: over_ms, facts });
  if (over_ms <= shift.from_ms || over_ms >= shift.until_ms) return [blocks];
  return [
    blocks,
    reasonOf({ ...parts, code: "crew.lapsesInShift", effect: "advises", until_ms: over_ms, facts }),
  ];
}

function paperReasons(
  judged: Judged,
  person: string,
  papers: readonly PaperKind[],
  rules: CrewRules,
  isSinglePilot: boolean,
  operations: Reason["operations"],
): Reason[] {
  return papers.flatMap((paper) => {
    const holding = holdingOf(judged.crew, person, paper, rules.ruleSet, isSinglePilot);
    const facts = { person, paper };
    if (holding?.lastDay == null)
      return [
        reasonOf({
          code: "crew.paperNotKnown",
          effect: "unknown",
          operations,
          facts,
          cite: holding?.cite ?? "Part-FCL",
          evidence: holding?.evidence ?? [],
        }),
      ];
    const { lastDay, cite, evidence } = holding;
    return lapsing(judged, lastDay, { code: "crew.paperLapses", operations, facts, cite, evidence });
  });
}

function recencyReasons(
  judged: Judged,
  person: string,
  kind: "landings" | RecencyKind,
  rules: CrewRules,
  operations: Reason["operations"],
): Reason[] {
  const { flights, crew, settings } = judged;
  const asked = recencyRule(kind, rules);
  const facts = { person, recency: kind };
  if (asked === null)
    return [
      reasonOf({
        code: "crew.noHoistFigures",
        effect: "unknown",
        operations,
        facts,
        cite: "SPA.HHO.130; figures of the operator",
      }),
    ];
  const { cite } = asked;
  const flown = flownBy(person, kind, flights, crew, settings.zone);
  const byFlying = recencyLastDay(flown, asked);
  // FCL.060(b)(2): an instrument rating stands in for the landing by night.
  const rating =
    kind === "night" && rules.ruleSet === "eu"
      ? (holdingOf(crew, person, "instrumentRating", "eu", false)?.lastDay ?? null)
      : null;
  const last = [byFlying, rating]
    .filter((day) => day !== null)
    .toSorted()
    .at(-1);
  const until = (day: string | null | undefined, by: string): readonly Reason[] =>
    day == null
      ? [reasonOf({ code: "crew.notRecent", effect: "blocks", operations, facts, cite: by })]
      : lapsing(judged, day, { code: "crew.recencyLapses", operations, facts, cite: by });
  // The operator's own beside it, on what was flown alone.
  const stricter = rules.stricter
    .filter(({ recency }) => recency === kind)
    .flatMap(({ need, days, cite: by }) =>
      until(recencyLastDay(flown, { need, window: { days }, cite: by }), by),
    );
  return [...until(last, cite), ...stricter];
}

function dutyReasons({ shift }: Judged, rules: CrewRules): Reason[] {
  const figures: readonly DutyFigures[] = [
    ...(rules.duty === null ? [] : [rules.duty]),
    ...(rules.ruleSet === "us" ? [rules.usDuty === "271" ? usAssignmentDuty : usDuty] : []),
  ];
  if (figures.length === 0)
    return [reasonOf({ code: "crew.noDutyFigures", effect: "unknown", cite: "Reg. (EU) 965/2012, Art. 8" })];
  return shift.people.flatMap(({ person, lastDutyEnd_ms }) =>
    figures.flatMap((figure) => {
      const { latest_ms, rested_h, isRested } = judgeDuty({ from_ms: shift.from_ms, lastDutyEnd_ms }, figure);
      const facts = { person, rested_h, rest_h: figure.rest_h, duty_h: figure.duty_h };
      const say = (parts: Pick<Parts, "code" | "effect"> & Partial<Reason>): Reason =>
        reasonOf({ ...parts, facts, cite: figure.cite, remedy: { code: "crew.relieve", clearance: "time" } });
      return [
        ...(isRested ? [] : [say({ code: "crew.notRested", effect: "blocks" })]),
        ...(latest_ms < shift.until_ms
          ? [say({ code: "crew.dutyTooLong", effect: "blocks", from_ms: latest_ms })]
          : []),
      ];
    }),
  );
}

/** What the US rules ask of rest beyond that before the duty: of a pilot, at the last hour of the shift as at the first. */
function usRestReasons(
  { shift, crew, settings, flights, shifts, now_ms }: Judged,
  rules: CrewRules,
): Reason[] {
  const licensed = new Set(crew.papers.filter(({ paper }) => paper === "licence").map((one) => one.person));
  const isAssigned = rules.usDuty === "271";
  const section = isAssigned ? "14 CFR 135.271" : "14 CFR 135.267";
  return shift.people
    .filter(({ roles }) => roles.includes("pilot"))
    .flatMap(({ person, lastDutyEnd_ms }) => {
      const asked = { person, rests: crew.rests, zone: settings.zone, shift };
      const say = (parts: Pick<Parts, "code" | "effect"> & Partial<Reason>, paragraph: string): Reason =>
        reasonOf({
          ...parts,
          cite: `${section}(${paragraph})`,
          remedy: { code: "crew.relieve", clearance: "time" },
        });
      const needs_h = isAssigned
        ? restAfterAssignment(person, shifts, shift.from_ms)
        : restAfterFlying(person, flights, licensed, { from_ms: shift.from_ms, lastDutyEnd_ms });
      const rested_h = (shift.from_ms - lastDutyEnd_ms) / hour_ms;
      const facts = { person, rested_h, rest_h: needs_h };
      return [
        ...quarterRestReasons(asked).map((parts) => say(parts, isAssigned ? "i" : "g")),
        ...(isAssigned
          ? assignmentRestReasons(asked, lastDutyEnd_ms, now_ms).map((parts) => say(parts, "d"))
          : []),
        ...(below(rested_h, needs_h)
          ? [
              say(
                {
                  code: "crew.restedShort",
                  effect: "blocks",
                  until_ms: lastDutyEnd_ms + needs_h * hour_ms,
                  facts,
                },
                isAssigned ? "h" : "f",
              ),
            ]
          : []),
      ];
    });
}

/** Whether one of the pilots may command a HEMS flight by what was stated of each; a pilot of whom nothing was may be the one. */
function commandReasons({ crew, shift, settings }: Judged, operation: Operation, rules: CrewRules): Reason[] {
  const isHems = (settings.minimaUses ?? []).some(
    (use) => use.ruleSet === "eu" && use.operation === operation.id,
  );
  if (rules.ruleSet !== "eu" || !isHems) return [];
  const byNight = asksNight(rules, operation.id);
  const pilots = shift.people.filter(({ roles }) => roles.includes("pilot"));
  const lacking = pilots.map(({ person }) => {
    const stated = crew.commands.filter((one) => one.person === person);
    // Of statements that stand beside each other every one has to suffice.
    const lacks = new Set(stated.flatMap((one) => commandLacks(one, byNight)));
    return {
      person,
      isStated: stated.length > 0,
      lacks: [...lacks],
      evidence: stated.map(({ entry }) => entry),
    };
  });
  if (pilots.length === 0 || lacking.some(({ isStated, lacks }) => isStated && lacks.length === 0)) return [];
  const open = lacking.find(({ isStated }) => !isStated);
  const [worst] = open === undefined ? lacking : [open];
  const [figure] = worst!.lacks;
  return [
    reasonOf({
      code: open === undefined ? "crew.commandShort" : "crew.commandNotKnown",
      effect: open === undefined ? "blocks" : "unknown",
      operations: [operation.id],
      cite: commandCite,
      evidence: worst!.evidence,
      facts: {
        person: worst!.person,
        ...(figure === undefined ? {} : { figure, needed: commandFigures[figure] }),
      },
    }),
  ];
}

/** 14 CFR 135.267(a)(b): hours in 24, in the quarter, in two, in the year. */
function flightHourReasons(
  { flights, crew, settings, now_ms }: Judged,
  person: string,
  pilots: number,
): Reason[] {
  const experience = crew.experience.filter((one) => one.person === person);
  return flightHourReasonsOf({ person, flights, experience, pilots, zone: settings.zone, now_ms }).map(
    (parts) =>
      reasonOf({ ...parts, cite: "14 CFR 135.267", remedy: { code: "crew.relieve", clearance: "time" } }),
  );
}

/** An operation is flown by night where the operator asks recency by night of it. */
function asksNight({ asks }: CrewRules, operation: string): boolean {
  return asks.some((ask) => ask.operation === operation && ask.recency.includes("night"));
}

function minimumReasons({ shift }: Judged, operation: Operation, rules: CrewRules): Reason[] {
  const { id, needs } = operation;
  const count = (role: string): number =>
    shift.people.filter(({ roles }) => roles.some((one) => one === role)).length;
  const pilots = count("pilot");
  const evidence = [shift.entry];
  const tooFew = (role: string): Reason =>
    reasonOf({
      code: "crew.tooFew",
      effect: "blocks",
      operations: [id],
      evidence,
      facts: { role },
      cite: "SPA.HEMS.130(e)",
    });
  const reasons = [
    ...(pilots < needs.pilots ? [tooFew("pilot")] : []),
    ...needs.crew.filter((role) => count(role) === 0).map((role) => tooFew(role)),
  ];
  const isByNight = asksNight(rules, id);
  if (isByNight && pilots === 1 && rules.ruleSet === "eu" && rules.singlePilotNight?.allowed !== true)
    reasons.push(
      reasonOf({
        code: "crew.singlePilotNight",
        effect: rules.singlePilotNight === null ? "unknown" : "blocks",
        operations: [id],
        evidence,
        cite: "SPA.HEMS.130(e)(2)",
      }),
    );
  return reasons;
}

function reasonsUnder(judged: Judged, rules: CrewRules): Reason[] {
  const { sheet, shift } = judged;
  const pilots = shift.people.filter(({ roles }) => roles.includes("pilot"));
  const others = shift.people.filter(({ roles }) => !roles.includes("pilot"));
  const hoistOperators = others.filter(({ roles }) => roles.includes("hoistOperator"));
  const common = papersOf[rules.ruleSet];
  const extra = sheet.operations.flatMap((operation) => {
    const asks = rules.asks.filter((ask) => ask.operation === operation.id);
    const papers = paperKinds.filter((paper) => asks.some((ask) => ask.papers.includes(paper)));
    const kinds = new Set(asks.flatMap(({ recency }) => recency));
    return [
      ...minimumReasons(judged, operation, rules),
      ...commandReasons(judged, operation, rules),
      ...pilots.flatMap(({ person }) => [
        ...paperReasons(judged, person, papers, rules, pilots.length < 2, [operation.id]),
        ...[...kinds].flatMap((kind) => recencyReasons(judged, person, kind, rules, [operation.id])),
      ]),
      ...hoistOperators.flatMap(({ person }) =>
        [...kinds]
          .filter((kind) => ofWholeCrew.includes(kind))
          .flatMap((kind) => recencyReasons(judged, person, kind, rules, [operation.id])),
      ),
    ];
  });
  return [
    ...dutyReasons(judged, rules),
    ...(rules.ruleSet === "us" ? usRestReasons(judged, rules) : []),
    ...(rules.ruleSet === "us"
      ? pilots.flatMap(({ person }) => flightHourReasons(judged, person, pilots.length))
      : []),
    ...pilots.flatMap(({ person }) => [
      ...paperReasons(judged, person, common.pilot, rules, pilots.length < 2, "all"),
      ...recencyReasons(judged, person, "landings", rules, "all"),
    ]),
    ...others.flatMap(({ person }) => paperReasons(judged, person, common.crew, rules, false, "all")),
    ...extra,
  ];
}

/** The shift in force: of those that began, all that stand; apart from each other they all count. */
function shiftsNow(shifts: readonly Shift[], now_ms: number): readonly Shift[] {
  return shifts.filter(({ from_ms, until_ms }) => from_ms <= now_ms && now_ms < until_ms);
}

export function assessCrew(sheet: Sheet, state: CraftState, situation: Situation): Reason[] {
  const { settings, now_ms } = situation;
  const { crew } = settings;
  const unknown = (code: ReasonCode): Reason =>
    reasonOf({
      code,
      effect: "unknown",
      cite: "SPA.HEMS.130",
      remedy: { code: "crew.declare", clearance: "minute" },
    });
  if (crew === undefined || crew.rules.length === 0) return [unknown("crew.noRules")];
  const shifts = shiftsNow(state.shifts, now_ms);
  if (shifts.length === 0) return [unknown("crew.noShift")];
  const others = situation.others ?? [];
  const flights = [...state.flights, ...others.flatMap((other) => other.flights)];
  const everyShift = [...state.shifts, ...others.flatMap((other) => other.shifts)];
  const twice = shifts.flatMap((shift) =>
    others.flatMap(({ name, shifts: theirs }) =>
      theirs
        .filter(
          ({ from_ms, until_ms }) =>
            from_ms < shift.until_ms && shift.from_ms < until_ms && now_ms < until_ms,
        )
        .flatMap((other) =>
          shift.people
            .filter(({ person }) => other.people.some((one) => one.person === person))
            .map(({ person }) =>
              reasonOf({
                code: "crew.onTwoCraft",
                effect: "advises",
                evidence: [shift.entry, other.entry],
                facts: { person, craft: name },
                cite: "one crew, one craft (common practice)",
                remedy: { code: "crew.declare", clearance: "minute" },
              }),
            ),
        ),
    ),
  );
  const reasons = shifts.flatMap((shift) => {
    const judged = { sheet, state, crew, shift, settings, flights, shifts: everyShift, now_ms };
    return [
      reasonOf({
        code: "crew.shiftEnds",
        effect: "unknown",
        from_ms: shift.until_ms,
        evidence: [shift.entry],
        cite: "SPA.HEMS.130",
        remedy: { code: "crew.declare", clearance: "minute" },
      }),
      ...crew.rules.flatMap((rules) => reasonsUnder(judged, rules)),
    ];
  });
  return [...twice, ...reasons].filter(({ from_ms }) => from_ms === null || from_ms < situation.horizon_ms);
}
