// Assesses mass and balance from the record: the weighing that stands, today's loading, and kit that went or came since.
//
// Without a weighing or a loading of today nothing is known of it: not known. What people recorded apart is judged each
// way, and the worse counts. A loading speaks for its calendar day in the operator's zone; what it forbids stays on.
// A patient's or a hook's range that is inside only in part becomes a limit with its number.
// Sources: the sheet's envelopes and masses; for weighings CAT.POL.MAB.100 and its AMC1 (b), Reg. (EU) 965/2012.
import { dateAt, dateLater, endOfDayAt, startOfDate } from "../facts/calendar.ts";
import type { CraftState } from "../facts/craft.ts";
import type { LoadingFact, WeighingFact } from "../facts/load.ts";
import { madeOnce } from "../facts/made-once.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import type { ReasonCode, RemedyCode } from "../facts/reason-codes.ts";
import type { Situation } from "../facts/situation.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { Sheet } from "../sheet/schema.ts";
import { sheetSource } from "../sheet/source-of.ts";
import { craftConfigOf } from "../walk/craft-config.ts";
import { checkKit } from "./configuration.ts";
import type { Flight } from "./from-sheet.ts";
import {
  emptyMassNow,
  type FlightJudgement,
  judgeLoading,
  kitAboard,
  type LoadedCraft,
} from "./judge-loading.ts";
import type { LoadAnswer } from "./load-case.ts";

const weighedEvery_months = 48;

type Draft = Pick<Reason, "effect" | "facts"> &
  Partial<Reason> & {
    readonly code: ReasonCode;
    readonly remedy: { code: RemedyCode; clearance: "minute" | "ten" | "someone" };
  };

function reason(evidence: readonly string[], draft: Draft): Reason {
  return {
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "law", law: "unknownIsNeverReady" },
    evidence,
    ...draft,
  };
}

/** Weighings that no other took the place of. */
export function standingWeighings({ load }: CraftState): readonly WeighingFact[] {
  const replaced = new Set(load.weighings.flatMap(({ replaces }) => replaces));
  return load.weighings.filter(({ entry }) => !replaced.has(entry));
}

/** The craft as a load is computed for it; null where the variant is not known. */
export function loadedCraft(state: CraftState, weighing: WeighingFact): LoadedCraft | null {
  const { variant, installed } = craftConfigOf(state);
  if (variant === null) return null;
  const since_ms = Object.fromEntries(
    Object.entries(state.equipment).map(([id, facts]) => [id, Math.max(...facts.map(({ at_ms }) => at_ms))]),
  );
  return { variant, installed, weighing, since_ms };
}

export function assessLoad(sheet: Sheet, state: CraftState, situation: Situation): Reason[] {
  const weighings = standingWeighings(state);
  const { loadings } = state.load;
  const reasons = weighings.flatMap((weighing) => assessWeighing(sheet, state, weighing, situation));
  if (weighings.length === 0) {
    reasons.push(
      reason([], {
        code: "load.noWeighing",
        effect: "unknown",
        remedy: { code: "load.weigh", clearance: "someone" },
        facts: {},
      }),
    );
  }
  reasons.push(...assessDay(loadings, situation), ...assessKit(state), ...assessKitLists(sheet, state));
  for (const loading of loadings) {
    reasons.push(...assessPeople(sheet, state, loading));
  }
  reasons.push(...pairReasons(sheet, state));
  return withoutRepeats(reasons);
}

/** Every weighing that stands with every loading; the clock has no say in it. */
const pairReasons = madeOnce((sheet: Sheet, state: CraftState): readonly Reason[] =>
  state.load.loadings.flatMap((loading) =>
    standingWeighings(state).flatMap((weighing) => assessPair(sheet, state, weighing, loading)),
  ),
);

function withoutRepeats(reasons: readonly Reason[]): Reason[] {
  const seen = new Map<string, Reason>();
  for (const one of reasons) {
    const key = JSON.stringify([one.code, one.operations, one.facts, one.limit ?? null]);
    if (!seen.has(key)) seen.set(key, one);
  }
  return [...seen.values()];
}

/** From when no loading of the day is there any more; from ever, where none was said. */
function assessDay(loadings: readonly LoadingFact[], { settings }: Situation): Reason[] {
  const ends = loadings.map(({ at_ms }) => endOfDayAt(at_ms, settings.zone));
  return [
    reason(
      loadings.map(({ entry }) => entry),
      {
        code: loadings.length === 0 ? "load.notSaid" : "load.ofAnotherDay",
        effect: "unknown",
        from_ms: ends.length === 0 ? null : Math.max(...ends),
        remedy: { code: "load.say", clearance: "ten" },
        facts: {},
      },
    ),
  ];
}

function assessWeighing(
  sheet: Sheet,
  state: CraftState,
  weighing: WeighingFact,
  { settings }: Situation,
): Reason[] {
  const craft = loadedCraft(state, weighing);
  const edition = "Reg. (EU) 965/2012";
  const rule = { kind: "rule", rule: "CAT.POL.MAB.100", edition, cite: "CAT.POL.MAB.100(b)" } as const;
  const remedy = { code: "load.weigh", clearance: "someone" } as const;
  const due = dateLater(dateAt(weighing.at_ms, settings.zone), { months: weighedEvery_months });
  const reasons: Reason[] = [];
  if (settings.ruleSet !== "us") {
    reasons.push(
      reason([weighing.entry], {
        code: "load.weighingOld",
        effect: "advises",
        from_ms: startOfDate(due, settings.zone),
        source: rule,
        remedy,
        facts: { due },
      }),
    );
  }
  if (craft === null) return reasons;
  try {
    const empty = emptyMassNow(sheet, craft);
    if (empty.revisionDue_ms !== null) {
      const source = { ...rule, cite: "AMC1 CAT.POL.MAB.100(b)(b)" };
      const facts = { net_kg: empty.rows.at(-1)!.net_kg };
      reasons.push(
        reason([weighing.entry], { code: "load.revisionDue", effect: "advises", source, remedy, facts }),
      );
    }
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    reasons.push(refused([weighing.entry], error));
  }
  return reasons;
}

function refused(evidence: readonly string[], { issues }: Refusal): Reason {
  const [first] = issues;
  const { path, found } = first;
  return reason(evidence, {
    code: "load.cannotBeComputed",
    effect: "unknown",
    remedy: { code: "load.say", clearance: "ten" },
    facts: { path, found, count: issues.length },
  });
}

/** Kit left behind is asked about; kit on which people differ is not known. */
function assessKit(state: CraftState): Reason[] {
  const remedy = { code: "load.kit", clearance: "minute" } as const;
  return state.load.loadings.flatMap((loading) => {
    const { left, contested } = kitAboard(loading, state.load.kit);
    const evidenceOf = (kit: string) => (state.load.kit[kit] ?? []).map(({ entry }) => entry);
    return [
      ...left.map(({ kit, name, mass_kg }) =>
        reason(evidenceOf(kit), {
          code: "load.kitLeft",
          effect: "advises",
          remedy,
          facts: { name, mass_kg },
        }),
      ),
      ...contested.map(({ kit, name, mass_kg }) =>
        reason(evidenceOf(kit), {
          code: "load.kitDiffers",
          effect: "unknown",
          remedy,
          facts: { name, mass_kg },
        }),
      ),
    ];
  });
}

/** Kit beside the list that it was loaded by: what is missing, what is there twice, what is not on it. */
function assessKitLists(sheet: Sheet, { load }: CraftState): Reason[] {
  return load.loadings.flatMap((loading) => {
    if (loading.kitList === undefined) return [];
    const remedy = { code: "load.say", clearance: "ten" } as const;
    const evidence = [loading.entry];
    const list = sheet.kitLists.find(({ id }) => id === loading.kitList);
    if (list === undefined) {
      const facts = { kitList: loading.kitList };
      return [reason(evidence, { code: "load.listGone", effect: "unknown", remedy, facts })];
    }
    try {
      // What was left behind since is told by itself.
      const { missing, extra, twice, elsewhere, otherMass } = checkKit(sheet, list, loading.kit);
      const facts = {
        kitList: list.id,
        missing: missing.length,
        twice: twice.length,
        different: extra.length + elsewhere.length + otherMass.length,
      };
      // A bag that is counted twice may be one: what the machine weighs is then not known.
      const effect = twice.length > 0 ? "unknown" : "advises";
      const isAsListed = facts.missing + facts.twice + facts.different === 0;
      return isAsListed ? [] : [reason(evidence, { code: "load.notAsListed", effect, remedy, facts })];
    } catch (error) {
      if (error instanceof Refusal) return [refused(evidence, error)];
      throw error;
    }
  });
}

/** Somebody must fly; and whoever has the craft should be those who are in the load. */
function assessPeople(sheet: Sheet, state: CraftState, loading: LoadingFact): Reason[] {
  const seats = new Map(sheet.seats.map(({ id, role }) => [id, role]));
  const pilots = loading.persons.filter(({ seat }) => seats.get(seat) === "pilot").length;
  const crew = new Set(state.custody.flatMap(({ people }) => people));
  const remedy = { code: "load.say", clearance: "ten" } as const;
  const others = loading.persons.flatMap(({ person }) =>
    person === null || crew.size === 0 || crew.has(person) ? [] : [person],
  );
  return [
    ...(pilots >= sheet.type.crewMin
      ? []
      : [
          reason([loading.entry], {
            code: "load.noPilot",
            effect: "unknown",
            remedy,
            facts: { pilots, wanted: sheet.type.crewMin },
          }),
        ]),
    ...others.map((person) =>
      reason([loading.entry], { code: "load.otherCrew", effect: "advises", remedy, facts: { person } }),
    ),
  ];
}

/** The operations of the sheet that fly under the limits of a kind of flight. */
function operationsOf(sheet: Sheet, flight: Flight): OperationId[] {
  return sheet.operations.filter(({ needs }) => needs.masses === flight).map(({ id }) => id);
}

function assessPair(sheet: Sheet, state: CraftState, weighing: WeighingFact, loading: LoadingFact): Reason[] {
  const evidence = [weighing.entry, loading.entry];
  const craft = loadedCraft(state, weighing);
  if (craft === null) return [];
  const { aboard, contested } = kitAboard(loading, state.load.kit);
  const loads = [{ ...loading, kit: aboard }];
  if (contested.length > 0) loads.push({ ...loading, kit: [...aboard, ...contested] });
  const hasHoist = sheet.hoist !== undefined && craft.installed[sheet.hoist.equipment] === true;
  const flights = (["normal", "hoist"] as const).filter(
    (flight) => operationsOf(sheet, flight).length > 0 && (flight === "normal" || hasHoist),
  );
  try {
    return loads.flatMap((load) =>
      judgeLoading(sheet, craft, load, flights).flights.flatMap((judged) =>
        flightReasons(sheet, judged, operationsOf(sheet, judged.flight), evidence),
      ),
    );
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return [refused(evidence, error)];
  }
}

function flightReasons(
  sheet: Sheet,
  judged: FlightJudgement,
  operations: readonly OperationId[],
  evidence: readonly string[],
): Reason[] {
  const source = sheetSource(sheet, "envelopes");
  const remedy = { code: "load.change", clearance: "ten" } as const;
  const shared = { operations, source, remedy };
  const say = (draft: Pick<Draft, "code" | "effect" | "facts"> & Partial<Reason>): Reason =>
    reason(evidence, { ...shared, ...draft, remedy });
  const found = outsideReasons(judged.outbound, say);
  if (judged.outbound.inside === null) {
    found.push(say({ code: "load.limitsMissing", effect: "unknown", facts: { flight: judged.flight } }));
  }
  const isOutside = found.length > 0;
  for (const { stretcher, most_kg, safeUpTo_kg } of judged.patients) {
    const safe_kg = safeUpTo_kg ?? 0;
    if (safe_kg >= most_kg || isOutside) continue;
    found.push(
      say({
        code: "load.patientUpTo",
        effect: "limits",
        limit: { quantity: "patientMass_kg", value: safe_kg, stricter: "lower" },
        facts: { stretcher, most_kg, safe_kg },
      }),
    );
  }
  if (judged.flight === "hoist" && found.every(({ effect }) => effect !== "blocks")) {
    found.push(...hookReasons(sheet, judged, say));
  }
  return found;
}

type Say = (draft: Pick<Draft, "code" | "effect" | "facts"> & Partial<Reason>) => Reason;

function outsideReasons({ track, places }: LoadAnswer, say: Say): Reason[] {
  const found = places
    .filter(({ met }) => !met)
    .map(({ id, loaded_kg, most_kg }) =>
      say({ code: "load.placeOver", effect: "blocks", facts: { place: id, loaded_kg, most_kg } }),
    );
  if (track.inside.mass === false) {
    const facts = { start_kg: track.start.mass_kg, end_kg: track.end.mass_kg };
    found.push(say({ code: "load.massOutside", effect: "blocks", facts }));
  }
  for (const axis of ["longitudinal", "lateral", "coupled"] as const) {
    if (track.inside[axis] !== false) continue;
    const { worst } = track;
    const isWorst = worst?.limit === axis;
    const facts = {
      axis,
      fuel_kg: isWorst ? worst.fuel_kg : null,
      margin_m: isWorst ? worst.margin_m : null,
    };
    found.push(say({ code: "load.balanceOutside", effect: "blocks", facts }));
  }
  return found;
}

/** What hangs on the hook: the greatest load that is inside for every fuel state. */
function hookReasons(sheet: Sheet, { hookUpTo_kg }: FlightJudgement, say: Say): Reason[] {
  const most_kg = sheet.hoist!.maxLoad_kg - sheet.hoist!.attachment_kg;
  if (hookUpTo_kg === null) return [say({ code: "load.hookOutside", effect: "blocks", facts: {} })];
  if (hookUpTo_kg >= most_kg) return [];
  return [
    say({
      code: "load.hookUpTo",
      effect: "limits",
      limit: { quantity: "hookLoad_kg", value: hookUpTo_kg, stricter: "lower" },
      facts: { safe_kg: hookUpTo_kg, most_kg },
    }),
  ];
}
