// What would make a call acceptable: solved exactly, each change alone first, then two together where none does it alone.
//
//   lessFuel, addFuel   the quantity nearest to what is aboard for which everything is met. Room in mass and power falls
//                       with fuel, fuel over what is required rises (its own burn costs less than itself), so each is met up
//                       to or from one quantity, found by halving until two neighbouring numbers are left; balance is met
//                       on intervals whose ends follow from the exact sets of balance-set.ts the same way
//   refuel              the least uplift at a hospital or site that has fuel: with engines stopped, and with them running
//                       only where that is planned and the operator's fuel scheme says that it may be done
//   otherPlace          another free seat or stretcher for somebody who boards onto one that is taken, or not there
//   leaveKit            the lightest single piece of kit, otherwise the lightest two
//   lighterPatient      the greatest patient; a range up to less is met wherever one up to more is
//   otherHospital       every other hospital, the nearest first
//   shorterStay         the longest stay at the scene, to be back before what begins in the call
//   leaveEarlier        the latest departure, for one that was to be later than now
//   wait                the earliest departure: the first that a reason's, notice's or night's end allows
//
// Every remedy carries the changed call and its answer, made by the plain assessment: none is told that is not acceptable.
// In flight nothing is defuelled, added or left behind, and nobody waits.
import type { Clearance } from "../facts/reason.ts";
import { geodesicBetween } from "../air/geodesic.ts";
import { hour_ms } from "../facts/instant.ts";
import type { Call, CallAnswer, CallKnown, CallPlace, Margin } from "./call.ts";
import { type LoadOfCall, plannerOf, type PreparedCall } from "./assess-call.ts";
import { departuresBefore } from "./call-window.ts";
import { firstWhere, lastWhere } from "./first-where.ts";
import { isAbout } from "./site-questions.ts";

export const remedyKinds = [
  "lessFuel",
  "addFuel",
  "refuel",
  "leaveKit",
  "lighterPatient",
  "otherPlace",
  "otherHospital",
  "shorterStay",
  "leaveEarlier",
  "wait",
] as const;
export type CallRemedyKind = (typeof remedyKinds)[number];

export type CallChange = {
  readonly kind: CallRemedyKind;
  /** The new quantity of fuel, uplift or patient. */
  readonly to_kg: number | null;
  /** How much it changes by; negative for less. */
  readonly by_kg: number | null;
  readonly kit: readonly string[];
  readonly hospital: string | null;
  readonly depart_ms: number | null;
  /** The new stay at the scene. */
  readonly stay_min: number | null;
  /** The seat or stretcher that is free. */
  readonly at: string | null;
  /** Engines while it is refuelled. */
  readonly engines: "running" | "stopped" | null;
};

export type CallRemedy = {
  readonly changes: readonly CallChange[];
  readonly clearance: Clearance;
  readonly call: Call;
  readonly answer: CallAnswer;
};

const clearances: Readonly<Record<CallRemedyKind, Clearance>> = {
  otherHospital: "minute",
  otherPlace: "minute",
  shorterStay: "minute",
  leaveEarlier: "minute",
  leaveKit: "minute",
  lighterPatient: "minute",
  addFuel: "ten",
  lessFuel: "ten",
  refuel: "ten",
  wait: "time",
};

type Changed = { readonly change: CallChange; readonly call: Call };

const nothing = {
  to_kg: null,
  by_kg: null,
  kit: [],
  hospital: null,
  depart_ms: null,
  stay_min: null,
  at: null,
  engines: null,
} as const;

/** Empty where the call is acceptable as it is, and where no change is known that makes it so. */
export function remediesFor(known: CallKnown, call: Call): readonly CallRemedy[] {
  const { assess } = plannerOf(known);
  if (assess(call).isAcceptable === true) return [];
  const accepted = (changes: readonly CallChange[], changed: Call): CallRemedy[] => {
    const answer = assess(changed);
    if (answer.isAcceptable !== true) return [];
    const slowest = changes
      .map(({ kind }) => clearances[kind])
      .toSorted((a, b) => order.indexOf(b) - order.indexOf(a))[0];
    return [{ changes, clearance: slowest ?? "minute", call: changed, answer }];
  };
  const single = changesOf(known, call).flatMap(({ change, call: changed }) => accepted([change], changed));
  const alone = bestOfEach(single);
  if (alone.length > 0) return alone;
  const pairs = firstSteps(known, call).flatMap(({ change, call: once }) =>
    fuelChanges(known, once).flatMap((twice) => accepted([change, twice.change], twice.call)),
  );
  return bestOfEach(pairs);
}

const order: readonly Clearance[] = ["minute", "ten", "someone", "time", "notToday"];

/** The first of each kind, soonest to clear first. */
function bestOfEach(remedies: readonly CallRemedy[]): readonly CallRemedy[] {
  const held = new Map<string, CallRemedy>();
  for (const remedy of remedies) {
    const key = remedy.changes.map(({ kind }) => kind).join(" ");
    if (!held.has(key)) held.set(key, remedy);
  }
  return [...held.values()].toSorted((a, b) => order.indexOf(a.clearance) - order.indexOf(b.clearance));
}

function changesOf(known: CallKnown, call: Call): Changed[] {
  return [
    ...fuelChanges(known, call),
    ...refuelChanges(known, call),
    ...kitChanges(known, call),
    ...patientChanges(known, call),
    ...placeChanges(known, call),
    ...hospitalChanges(known, call),
    ...stayChanges(known, call),
    ...earlierChanges(known, call),
    ...waitChanges(known, call),
  ];
}

/** What fuel could then finish. */
function firstSteps(known: CallKnown, call: Call): Changed[] {
  return [
    ...placeChanges(known, call),
    ...hospitalChanges(known, call),
    ...kitChanges(known, call),
    ...patientsOnly(call),
  ];
}

// ---- fuel --------------------------------------------------------------------------------------------------------------

/** Met from some quantity of fuel on. */
const rising: ReadonlySet<Margin["kind"]> = new Set(["fuel", "leastMass"]);

function fuelChanges(known: CallKnown, call: Call): Changed[] {
  if (call.isAirborne) return [];
  const prepared = plannerOf(known).prepare(call);
  const sets = prepared.loads.map((load) => acceptableFuels(prepared, load));
  const common = sets.reduce<readonly Span[] | null>(
    (held, set) => (held === null ? set : intersect(held, set)),
    null,
  );
  if (common === null) return [];
  const nearest = common
    .flatMap(([low, high]) => (call.fuel_kg < low ? [low] : call.fuel_kg > high ? [high] : []))
    .toSorted((a, b) => Math.abs(a - call.fuel_kg) - Math.abs(b - call.fuel_kg));
  return nearest.map((fuel_kg) => ({
    change: {
      ...nothing,
      kind: fuel_kg < call.fuel_kg ? "lessFuel" : "addFuel",
      to_kg: fuel_kg,
      by_kg: fuel_kg - call.fuel_kg,
    },
    call: { ...call, fuel_kg, mostFuel_kg: null },
  }));
}

type Span = readonly [low: number, high: number];

/** The quantities at the start for which every margin of the load is met. */
function acceptableFuels(prepared: PreparedCall, load: LoadOfCall): readonly Span[] {
  const holds = (fuel_kg: number, wanted: boolean): boolean =>
    prepared
      .margins(load, fuel_kg, "withoutBalance")
      .every(
        ({ kind, met, stop, leg }) =>
          (stop === null && leg === null && !ofFuel.has(kind)) || rising.has(kind) !== wanted || met === true,
      );
  const tank = load.load.tank_kg;
  const most = lastWhere((fuel_kg) => holds(fuel_kg, false), 0, tank);
  if (most === null) return [];
  const least = firstWhere((fuel_kg) => holds(fuel_kg, true), 0, most);
  if (least === null) return [];
  const cuts = [...new Set([least, ...balanceCuts(prepared, load, least, most), most])].toSorted(
    (a, b) => a - b,
  );
  const isBalanced = (fuel_kg: number): boolean =>
    prepared.margins(load, fuel_kg).every(({ kind, met }) => kind !== "balance" || met === true);
  const found: Span[] = cuts.filter(isBalanced).map((cut) => [cut, cut]);
  for (const [index, high] of cuts.slice(1).entries()) {
    const low = cuts[index]!;
    if (!isBalanced((low + high) / 2)) continue;
    // An end of a set counts to it: the neighbouring number inside.
    const from = isBalanced(low) ? low : firstWhere(isBalanced, low, (low + high) / 2)!;
    const to = isBalanced(high) ? high : lastWhere(isBalanced, (low + high) / 2, high)!;
    found.push([from, to]);
  }
  return joined(found);
}

const ofFuel: ReadonlySet<Margin["kind"]> = new Set(["fuel", "tank"]);

/** The quantities at the start at which some leg begins or ends on an end of its balance set. */
function balanceCuts(prepared: PreparedCall, load: LoadOfCall, low: number, high: number): number[] {
  const cuts: number[] = [];
  for (const [leg, set] of load.balance.entries()) {
    for (const end of set().ends) {
      if (!Number.isFinite(end)) continue;
      const reaches = [
        (fuel_kg: number) => prepared.track(load, fuel_kg, "least").from_kg[leg]! >= end,
        (fuel_kg: number) => lowestOn(prepared, load, fuel_kg, leg) >= end,
      ];
      for (const reach of reaches) {
        const at = firstWhere(reach, low, high);
        if (at !== null) cuts.push(at);
      }
    }
  }
  return cuts;
}

/** The end of a leg with the contingency burnt, as the margin of balance has it. */
function lowestOn(prepared: PreparedCall, load: LoadOfCall, fuel_kg: number, leg: number): number {
  return prepared.track(load, fuel_kg).to_kg[leg]! - prepared.contingency_kg(load, fuel_kg);
}

function intersect(one: readonly Span[], other: readonly Span[]): readonly Span[] {
  return one.flatMap(([low, high]) =>
    other.flatMap((span): Span[] => {
      const [from, to] = [Math.max(low, span[0]), Math.min(high, span[1])];
      return from <= to ? [[from, to]] : [];
    }),
  );
}

function joined(spans: readonly Span[]): readonly Span[] {
  const all: [number, number][] = [];
  for (const [low, high] of spans.toSorted((a, b) => a[0] - b[0])) {
    const last = all.at(-1);
    if (last !== undefined && low <= last[1]) last[1] = Math.max(last[1], high);
    else all.push([low, high]);
  }
  return all;
}

/** The least uplift at a stop that has fuel; with engines running only where they are to run and the operator says so. */
function refuelChanges(known: CallKnown, call: Call): Changed[] {
  return call.stops.slice(0, -1).flatMap(({ place, engines }, index): Changed[] => {
    const site = known.sites.find(({ id }) => id === place.site);
    if (site?.fuel !== true || engines === "hover") return [];
    const ways =
      engines === "running" && known.policy.refuelRunning
        ? (["running", "stopped"] as const)
        : (["stopped"] as const);
    return ways.flatMap((way) => leastUplift(known, call, index, way));
  });
}

function leastUplift(known: CallKnown, call: Call, at: number, engines: "running" | "stopped"): Changed[] {
  const { prepare } = plannerOf(known);
  const withUplift = (uplift_kg: number): Call => ({
    ...call,
    stops: call.stops.map((stop, index) => (index === at ? { ...stop, engines, uplift_kg } : stop)),
  });
  const isEnough = (uplift_kg: number): boolean => {
    const prepared = prepare(withUplift(uplift_kg));
    return prepared.loads.every((load) =>
      prepared
        .margins(load, call.fuel_kg, "withoutBalance")
        .every(({ kind, met }) => !rising.has(kind) || met === true),
    );
  };
  const tanks_kg = known.sheet.tanks.reduce((sum, { usable_kg }) => sum + usable_kg, 0);
  const to_kg = firstWhere(isEnough, 0, tanks_kg);
  if (to_kg === null || to_kg === 0) return [];
  const hospital = call.stops[at]!.place.name;
  return [
    {
      change: { ...nothing, kind: "refuel", to_kg, by_kg: to_kg, hospital, engines },
      call: withUplift(to_kg),
    },
  ];
}

// ---- load --------------------------------------------------------------------------------------------------------------

function kitChanges(known: CallKnown, call: Call): Changed[] {
  if (call.isAirborne) return [];
  const { assess, prepare } = plannerOf(known);
  const pieces = new Map<string, number>();
  for (const { load } of prepare(call).loads)
    for (const { kit, totals } of load.kit) if (!call.without.includes(kit)) pieces.set(kit, totals.mass_kg);
  const ids = [...pieces.keys()];
  const massOf = (kit: readonly string[]): number =>
    kit.reduce((sum, one) => sum + (pieces.get(one) ?? 0), 0);
  const changed = (kit: readonly string[]): Changed => ({
    change: { ...nothing, kind: "leaveKit", kit, by_kg: 0 - massOf(kit) },
    call: { ...call, without: [...call.without, ...kit] },
  });
  const lightestFirst = (groups: readonly (readonly string[])[]): Changed[] =>
    groups.toSorted((a, b) => massOf(a) - massOf(b)).map(changed);
  const ones = lightestFirst(ids.map((one) => [one]));
  if (ones.some((one) => assess(one.call).isAcceptable === true)) return ones;
  const twos = ids.flatMap((one, index) => ids.slice(index + 1).map((other) => [one, other]));
  return [...ones, ...lightestFirst(twos)];
}

type Weighed = (patient_kg: number) => Call;

/** The call with its first patient up to another mass; null without one, or with one that was weighed. */
function patientOf(call: Call): { readonly most_kg: number; readonly weighed: Weighed } | null {
  const boarding = call.stops.flatMap(({ boards }) => boards).find(({ exact }) => exact !== true);
  if (boarding === undefined) return null;
  return {
    most_kg: boarding.most_kg,
    weighed: (most_kg) => ({
      ...call,
      stops: call.stops.map((stop) => ({
        ...stop,
        boards: stop.boards.map((one) => (one === boarding ? { ...one, most_kg } : one)),
      })),
    }),
  };
}

function patientChanges(known: CallKnown, call: Call): Changed[] {
  const { prepare, assess } = plannerOf(known);
  const patient = patientOf(call);
  if (patient === null || assess(patient.weighed(0)).isAcceptable !== true) return [];
  const isMet = (most_kg: number, balance: "withBalance" | "withoutBalance"): boolean => {
    const prepared = prepare(patient.weighed(most_kg));
    return prepared.loads.every((load) =>
      prepared.margins(load, call.fuel_kg, balance).every(({ met }) => met === true),
    );
  };
  // Balance costs most and seldom decides, so all else is solved first.
  const byMass = lastWhere((most_kg) => isMet(most_kg, "withoutBalance"), 0, patient.most_kg);
  if (byMass === null) return [];
  const to_kg = isMet(byMass, "withBalance")
    ? byMass
    : lastWhere((most_kg) => isMet(most_kg, "withBalance"), 0, byMass);
  if (to_kg === null) return [];
  return [
    {
      change: { ...nothing, kind: "lighterPatient", to_kg, by_kg: to_kg - patient.most_kg },
      call: patient.weighed(to_kg),
    },
  ];
}

/** No patient at all: whether anything could be carried there is then fuel's matter. */
function patientsOnly(call: Call): Changed[] {
  const patient = patientOf(call);
  if (patient === null) return [];
  const half_kg = patient.most_kg / 2;
  return [
    {
      change: { ...nothing, kind: "lighterPatient", to_kg: half_kg, by_kg: half_kg - patient.most_kg },
      call: patient.weighed(half_kg),
    },
  ];
}

/** Whoever boards onto a place that is taken, or that this craft has not, on each of those that are free. */
function placeChanges(known: CallKnown, call: Call): Changed[] {
  const prepared = plannerOf(known).prepare(call);
  const taken = prepared.loads.flatMap(({ load }) => load.taken);
  const places = prepared.boardingPlaces;
  const wrong = new Set(
    prepared.loads.flatMap((load) =>
      prepared
        .margins(load, call.fuel_kg, "withoutBalance")
        .filter(({ kind, met }) => kind === "seat" && met === false)
        .map(({ what }) => what),
    ),
  );
  const everybody = call.stops.flatMap(({ boards }) => boards);
  // Of two who share a place the later one moves.
  const mover =
    everybody.findLast(({ at }) => wrong.has(at)) ??
    everybody.find(({ at }) => !places.some(({ id }) => id === at));
  if (mover === undefined) return [];
  const used = new Set([...taken, ...everybody.map(({ at }) => at), ...call.aboard.map(({ at }) => at)]);
  return places
    .filter(({ id, most_kg }) => !used.has(id) && mover.most_kg <= most_kg)
    .map(({ id }) => ({
      change: { ...nothing, kind: "otherPlace", at: id },
      call: {
        ...call,
        stops: call.stops.map((stop) => ({
          ...stop,
          boards: stop.boards.map((one) => (one === mover ? { ...one, at: id } : one)),
        })),
      },
    }));
}

// ---- where and when ----------------------------------------------------------------------------------------------------

function hospitalChanges(known: CallKnown, call: Call): Changed[] {
  const at = call.stops.findIndex(({ role }) => role === "hospital");
  if (at === -1) return [];
  const before: CallPlace = call.stops[at - 1]?.place ?? call.from;
  return known.sites
    .filter(({ kind, id }) => kind === "hospital" && id !== call.stops[at]!.place.site)
    .map((site) => ({ site, away: geodesicBetween(before, site).distance }))
    .toSorted((a, b) => a.away - b.away)
    .map(({ site: { id, name, lat_deg, lon_deg, elevation_ft } }) => ({
      change: { ...nothing, kind: "otherHospital", hospital: id },
      call: {
        ...call,
        stops: call.stops.map((stop, index) =>
          index === at ? { ...stop, place: { name, lat_deg, lon_deg, elevation_ft, site: id } } : stop,
        ),
      },
    }));
}

/** The longest stay at the scene that is acceptable, where there is one that is shorter. */
function stayChanges(known: CallKnown, call: Call): Changed[] {
  const at = call.stops.findIndex(({ role }) => role === "scene");
  const scene = call.stops[at];
  if (scene === undefined || scene.stay_min === 0) return [];
  const { assess } = plannerOf(known);
  const staying = (stay_min: number): Call => ({
    ...call,
    stops: call.stops.map((stop, index) => (index === at ? { ...stop, stay_min } : stop)),
  });
  const stay_min = lastWhere((minutes) => assess(staying(minutes)).isAcceptable === true, 0, scene.stay_min);
  if (stay_min === null) return [];
  return [{ change: { ...nothing, kind: "shorterStay", stay_min }, call: staying(stay_min) }];
}

/** The latest departure before the one that is asked about, and not before now, that is acceptable. */
function earlierChanges(known: CallKnown, call: Call): Changed[] {
  const { now_ms } = known.situation;
  if (call.isAirborne || call.depart_ms <= now_ms) return [];
  const { assess } = plannerOf(known);
  const leaving = (depart_ms: number): Call => ({ ...call, depart_ms });
  const isAcceptable = (depart_ms: number): boolean => assess(leaving(depart_ms)).isAcceptable === true;
  const depart_ms = departuresBefore(known, call, now_ms, call.depart_ms).findLast(isAcceptable);
  if (depart_ms === undefined) return [];
  return [{ change: { ...nothing, kind: "leaveEarlier", depart_ms }, call: leaving(depart_ms) }];
}

/** How long somebody may be told to wait. */
const longestWait_ms = 24 * hour_ms;

/**
 * Departures at which something that speaks against the call has just ended, the earliest first: nothing else can make a
 * later call better than an earlier one.
 */
function waitChanges(known: CallKnown, call: Call): Changed[] {
  if (call.isAirborne) return [];
  const { route } = plannerOf(known).prepare(call);
  if (!Number.isFinite(route.ends_ms)) return [];
  const ends = (reasons: CallKnown["reasons"], offset_ms: number): number[] =>
    reasons.flatMap(({ effect, until_ms }) =>
      until_ms === null || effect === "advises" || effect === "limits" ? [] : [until_ms - offset_ms],
    );
  const visits = [
    { place: call.from, offset_ms: 0 },
    ...call.stops.map(({ place }, index) => ({
      place,
      offset_ms: route.stops[index]!.arrive_ms - call.depart_ms,
    })),
  ];
  const departures = [
    ...ends(known.reasons, 0),
    ...visits.flatMap(({ place, offset_ms }) => [
      ...ends(known.skyAt?.(place, call.depart_ms, call.depart_ms + longestWait_ms) ?? [], offset_ms),
      ...known.notices
        .filter((notice) => isAbout(notice, place))
        .flatMap(({ until_ms }) => (until_ms === null ? [] : [until_ms - offset_ms])),
    ]),
  ];
  return [...new Set(departures.map((at_ms) => Math.ceil(at_ms)))]
    .filter((at_ms) => at_ms > call.depart_ms && at_ms <= call.depart_ms + longestWait_ms)
    .toSorted((a, b) => a - b)
    .map((depart_ms) => ({ change: { ...nothing, kind: "wait", depart_ms }, call: { ...call, depart_ms } }));
}
