// Assesses mass, power and fuel of each operation by its reference call: the highest site, the usual patient, the usual way,
// flown with today's crew, kit and fuel. So a standing has them when no call is at hand.
//
// The way is the sheet's distances in calm air at cruise speed; the site has the sheet's temperature and standard pressure.
// Fuel is what today's loading says, since that is in the tanks; the smaller of several for the way, the larger for mass;
// the reference call's own where no loading is said. Base and hospital: the base at its own elevation, everything else,
// and a base whose elevation nobody told, at the elevation of the highest site. By instruments the sheet says how far the
// alternate is from the base, 0 where none is required; without it the fuel is not known.
// What is not met in part becomes a limit with its number: a patient up to a mass (exact, core/load/solve), a site up to an
// elevation (by halving down to a millionth of a foot; the lower side is told). An operation without a reference call is
// not known in mass, power and fuel. Without weighing or loading core/load says what is missing, and nothing is said here.
import type { CraftState } from "../facts/craft.ts";
import type { OperationId, Reason, Source } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import { own } from "../facts/own.ts";
import { intervalWith } from "../load/interval-set.ts";
import { safeMasses } from "../load/solve.ts";
import type { Operation, ReferenceCall } from "../sheet/flight-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { type CallPlanner, callPlanner, type LoadOfCall, type PreparedCall } from "./assess-call.ts";
import type { Call, CallKnown, CallPlace, CallStop, FuelPolicy, Margin } from "./call.ts";
import { stationOf } from "./boarding-places.ts";

export type ReferenceGiven = {
  /** Of the base; null where nobody told. */
  readonly elevation_ft: number | null;
  readonly policy: FuelPolicy;
};

type Kept = {
  readonly key: string;
  readonly sheet: Sheet;
  readonly equipment: object;
  /** Of the oxygen that is carried. */
  readonly readings: object;
  readonly reasons: Reason[];
};
const kept = new WeakMap<CraftState["load"], Kept>();

/** Nothing here depends on the time, so it is worked out once for a record. */
export function assessReference(
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  given: ReferenceGiven,
): Reason[] {
  const key = JSON.stringify([
    given,
    situation.settings.ruleSet ?? null,
    situation.settings.minimaUses ?? null,
    state.opened?.variant ?? null,
  ]);
  const held = kept.get(state.load);
  const { equipment, readings } = state;
  const isSame = held?.sheet === sheet && held.equipment === equipment && held.readings === readings;
  if (held?.key === key && isSame) return held.reasons;
  const reasons = sheet.operations.flatMap((operation, index) =>
    assessOperation(sheet, state, situation, given, operation, index),
  );
  kept.set(state.load, { key, sheet, equipment, readings, reasons });
  return reasons;
}

function assessOperation(
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  given: ReferenceGiven,
  operation: Operation,
  index: number,
): Reason[] {
  const source: Source = { kind: "sheet", path: `operations[${index}].referenceCall`, cite: null };
  const say = sayer(operation.id, source, state);
  const { referenceCall } = operation;
  if (referenceCall === undefined) {
    const remedy = { code: "sheet.referenceCall", clearance: "someone" } as const;
    return [say({ code: "reference.missing", effect: "unknown", remedy, facts: {} })];
  }
  const call = callOf(sheet, state, operation, referenceCall, given.elevation_ft);
  const planner = plannerFor(sheet, state, situation, given.policy, referenceCall);
  const prepared = planner.prepare(call);
  const stated = prepared.loads.filter(({ load }) => !load.isAssumed);
  const reasons = stated.flatMap((load) =>
    assessLoaded({ planner, prepared, load, referenceCall, say, sheet, state }),
  );
  return withoutRepeats(reasons);
}

type Say = (draft: Pick<Reason, "code" | "effect" | "remedy" | "facts"> & Partial<Reason>) => Reason;

function sayer(operation: OperationId, source: Source, state: CraftState): Say {
  const evidence = state.load.loadings.map(({ entry }) => entry);
  return (draft) => ({ operations: [operation], from_ms: null, until_ms: null, source, evidence, ...draft });
}

function withoutRepeats(reasons: readonly Reason[]): Reason[] {
  const seen = new Map(reasons.map((one) => [JSON.stringify([one.code, one.facts, one.limit ?? null]), one]));
  return [...seen.values()];
}

// ---- the call ----------------------------------------------------------------------------------------------------------

const ways = {
  scene: "toScene_nm",
  hospital: "toHospital_nm",
  base: "toBase_nm",
  alternate: "toAlternate_nm",
} as const;
const isWay = (name: string): name is keyof typeof ways => Object.hasOwn(ways, name);

function plannerFor(
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  policy: FuelPolicy,
  reference: ReferenceCall,
) {
  const known: CallKnown = {
    sheet,
    state,
    situation,
    reasons: [],
    sites: [],
    land: [],
    notices: [],
    policy,
    skyAt: () => [],
    // The longer reserve holds by night, and an operation may be flown then.
    lightAt: () => "night",
    notAsked: ["worksheet", "obstacle"],
  };
  return callPlanner(known, (_from, to) => ({
    distance_nm: (isWay(to.name) ? reference[ways[to.name]] : undefined) ?? Number.NaN,
    track_deg: 0,
  }));
}

function callOf(
  sheet: Sheet,
  state: CraftState,
  operation: Operation,
  reference: ReferenceCall,
  baseElevation_ft: number | null,
): Call {
  const { siteElevation_ft, temperature_C, patient_kg, hoistLoad_kg, onScene_min, toAlternate_nm } =
    reference;
  const place = (name: string, elevation_ft: number): CallPlace => ({
    name,
    lat_deg: 0,
    lon_deg: 0,
    elevation_ft,
    site: null,
  });
  const plain: Omit<CallStop, "place" | "role" | "stay_min"> = {
    engines: "running",
    boards: [],
    leaves: [],
    kitLeft: [],
    uplift_kg: 0,
    hook_kg: null,
    headwind_kt: null,
  };
  const stretcher = sheet.stretchers.find(({ equipment }) =>
    (own(state.equipment, equipment) ?? []).some(({ installed }) => installed),
  );
  // Without a stretcher nobody is carried; an operation that needs one says so among its equipment.
  const boards = stretcher === undefined ? [] : [{ id: "patient", at: stretcher.id, most_kg: patient_kg }];
  const hoisting = operation.needs.masses === "hoist" && hoistLoad_kg !== undefined;
  const home = place("base", baseElevation_ft ?? siteElevation_ft);
  const fuels = state.load.loadings.map(({ fuel_kg }) => fuel_kg);
  return {
    operation: operation.id,
    depart_ms: 0,
    from: { ...home, name: "start" },
    isAirborne: false,
    stops: [
      {
        ...plain,
        place: place("scene", siteElevation_ft),
        role: "scene",
        stay_min: onScene_min,
        boards,
        ...(hoisting ? { engines: "hover" as const, hook_kg: hoistLoad_kg } : {}),
      },
      {
        ...plain,
        place: place("hospital", siteElevation_ft),
        role: "hospital",
        stay_min: 0,
        engines: "stopped",
        leaves: ["patient"],
      },
      { ...plain, place: home, role: "base", stay_min: 0 },
    ],
    fuel_kg: fuels.length > 0 ? Math.min(...fuels) : reference.fuelAtStart_kg,
    mostFuel_kg: fuels.length > 0 ? Math.max(...fuels) : null,
    tas_kt: sheet.speeds.cruise_kt,
    aboard: [],
    without: [],
    air: {
      wind: { from_deg: 0, speed_kt: 0 },
      qnh_hPa: 1013.25,
      temperature: { value_C: temperature_C, elevation_ft: siteElevation_ft },
    },
    flightRules: operation.id === "ifr" ? "ifr" : "vfr",
    // No way at all: the sheet says that none is required.
    alternate: (toAlternate_nm ?? 0) > 0 ? place("alternate", home.elevation_ft ?? siteElevation_ft) : null,
    isAlternateNotRequired: toAlternate_nm === 0,
  };
}

// ---- what it says ------------------------------------------------------------------------------------------------------

type Judged = {
  readonly planner: CallPlanner;
  readonly prepared: PreparedCall;
  readonly load: LoadOfCall;
  readonly referenceCall: ReferenceCall;
  readonly say: Say;
  readonly sheet: Sheet;
  readonly state: CraftState;
};

const ofLoad: ReadonlySet<string> = new Set(["tank", "mass", "leastMass", "balance", "place", "hook"]);

function assessLoaded(judged: Judged): Reason[] {
  const { prepared, load, say } = judged;
  const { call, operation } = prepared;
  const most_kg = call.mostFuel_kg ?? call.fuel_kg;
  const ofWay = prepared.margins(load, call.fuel_kg).filter(({ kind }) => kind === "fuel");
  const heavy = prepared.margins(load, most_kg).filter(({ kind }) => kind !== "fuel");
  const uses = new Set<string>(operation.needs.power);
  const notMet = heavy.filter(({ met }) => met === false);
  const unknown = [...ofWay, ...heavy].filter(({ met }) => met === null);
  return [
    ...fuelReasons(ofWay, say),
    ...unknown.slice(0, 1).map(({ kind, what }) =>
      say({
        code: "reference.notKnown",
        effect: "unknown",
        remedy: { code: "load.say", clearance: "ten" },
        facts: { matter: kind, what },
      }),
    ),
    ...(notMet.some(({ kind }) => ofLoad.has(kind)) ? [loadReason(judged, notMet)] : []),
    ...(notMet.some(({ kind }) => uses.has(kind)) ? [powerReason(judged, notMet, most_kg)] : []),
    ...notMet
      .filter(({ kind }) => kind === "oxygen")
      .map(({ is, limit }) =>
        say({
          code: "reference.oxygenShort",
          effect: "blocks",
          source: {
            kind: "rule",
            rule: "CAT.OP.MPA.285",
            edition: "SPA.HEMS.110(d) of 2023",
            cite: "CAT.OP.MPA.285",
          },
          remedy: { code: "load.change", clearance: "ten" },
          facts: { minutes: is, allowed_min: limit },
        }),
      ),
  ];
}

function fuelReasons(ofWay: readonly Margin[], say: Say): Reason[] {
  const short = ofWay.filter(({ met }) => met === false).toSorted((a, b) => (a.room ?? 0) - (b.room ?? 0))[0];
  if (short === undefined) return [];
  return [
    say({
      code: "reference.fuelShort",
      effect: "blocks",
      remedy: { code: "fuel.add", clearance: "ten" },
      facts: { fuel_kg: short.is, required_kg: short.limit, short_kg: 0 - (short.room ?? 0) },
    }),
  ];
}

function loadReason(judged: Judged, notMet: readonly Margin[]): Reason {
  const { say, referenceCall } = judged;
  const worst = notMet.find(({ kind }) => ofLoad.has(kind));
  const upTo_kg = patientUpTo_kg(judged, notMet);
  const facts = { matter: worst?.kind ?? "mass", patient_kg: referenceCall.patient_kg };
  const remedy = { code: "load.change", clearance: "ten" } as const;
  if (upTo_kg === null) return say({ code: "reference.overloaded", effect: "blocks", remedy, facts });
  return say({
    code: "reference.patientUpTo",
    effect: "limits",
    remedy,
    limit: { quantity: "patientMass_kg", value: upTo_kg, stricter: "lower" },
    facts: { ...facts, upTo_kg },
  });
}

/** The greatest patient that mass and balance bear on the leg that it flies; null where it is not the patient's matter. */
function patientUpTo_kg(judged: Judged, notMet: readonly Margin[]): number | null {
  const { prepared, load, sheet, state, referenceCall } = judged;
  const [boarding] = prepared.call.stops[0]!.boards;
  const station = boarding === undefined ? null : stationOf(sheet, state, boarding.at);
  const flown = 1;
  const isPatients = notMet.every(
    ({ kind, leg, stop }) =>
      !ofLoad.has(kind) ||
      leg === flown ||
      (kind === "mass" && stop !== -1) ||
      (kind === "place" && stop === 0),
  );
  if (station === null || !isPatients) return null;
  const most = prepared.call.mostFuel_kg ?? prepared.call.fuel_kg;
  const track = prepared.track(load, most);
  const spared = prepared.track(load, most, "least");
  const [low, high] = [track.to_kg[flown]!, spared.from_kg[flown]!];
  if (!(low >= 0 && high >= low && high <= load.load.tank_kg)) return null;
  // The contingency may be burnt as well.
  const found = safeMasses(
    {
      base: load.least[flown]!,
      station,
      mass_kg: { low: 0, high: Math.min(referenceCall.patient_kg, station.most_kg) },
      line: load.load.line,
      fuel_kg: { low: Math.max(0, low - prepared.contingency_kg(load, most)), high },
    },
    load.load.limits,
  );
  const upTo_kg = intervalWith(found.set, 0)?.high ?? null;
  return upTo_kg !== null && bears(judged, upTo_kg, most) ? upTo_kg : null;
}

/** Whether mass and balance hold at all of the call with a patient up to this mass: not everything is the patient's matter. */
function bears({ planner, prepared, load }: Judged, patient_kg: number, fuel_kg: number): boolean {
  const { call } = prepared;
  const stops = call.stops.map((stop) => ({
    ...stop,
    boards: stop.boards.map((boarding) => ({ ...boarding, most_kg: patient_kg })),
  }));
  const lighter = planner.prepare({ ...call, stops });
  return lighter
    .margins(lighter.loads[prepared.loads.indexOf(load)]!, fuel_kg)
    .every(({ kind, met }) => !ofLoad.has(kind) || met === true);
}

function powerReason(judged: Judged, notMet: readonly Margin[], most_kg: number): Reason {
  const { prepared, say, referenceCall } = judged;
  const uses = new Set<string>(prepared.operation.needs.power);
  const [worst] = notMet
    .filter(({ kind }) => uses.has(kind))
    .toSorted((a, b) => (a.room ?? 0) - (b.room ?? 0));
  const facts = {
    use: worst?.kind ?? null,
    mass_kg: worst?.is ?? null,
    most_kg: worst?.limit ?? null,
    elevation_ft: referenceCall.siteElevation_ft,
    temperature_C: referenceCall.temperature_C,
  };
  const remedy = { code: "load.change", clearance: "ten" } as const;
  const upTo_ft = siteUpTo_ft(judged, most_kg);
  if (upTo_ft === null) return say({ code: "reference.powerShort", effect: "blocks", remedy, facts });
  return say({
    code: "reference.siteUpTo",
    effect: "limits",
    remedy,
    limit: { quantity: "siteElevation_ft", value: upTo_ft, stricter: "lower" },
    facts: { ...facts, upTo_ft },
  });
}

/** The highest site from the base up at which every use is met, everything else as it is; null where not even there. */
function siteUpTo_ft({ planner, prepared, load }: Judged, most_kg: number): number | null {
  const { call, operation } = prepared;
  const which = prepared.loads.indexOf(load);
  const uses = new Set<string>(operation.needs.power);
  const isMetAt = (elevation_ft: number): boolean => {
    const stops = call.stops.map((stop) =>
      stop.role === "base" ? stop : { ...stop, place: { ...stop.place, elevation_ft } },
    );
    const there = planner.prepare({ ...call, stops });
    return there
      .margins(there.loads[which]!, most_kg, "withoutBalance")
      .every(({ kind, met }) => !uses.has(kind) || met === true);
  };
  let low = Math.min(call.from.elevation_ft ?? 0, call.stops[0]!.place.elevation_ft ?? 0);
  let high = call.stops[0]!.place.elevation_ft ?? 0;
  if (!isMetAt(low)) return null;
  while (high - low > 1e-6) {
    const middle = (low + high) / 2;
    if (isMetAt(middle)) low = middle;
    else high = middle;
  }
  return low;
}
