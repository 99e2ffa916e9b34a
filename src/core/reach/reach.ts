// The map of what can be reached: for every place of a grid, and along every bearing, whether the call would be acceptable,
// to which hospital, which margin binds and how much room it leaves.
//
// Three steps by how often they change:
//   groundOf      once for a base, a set of places and hospitals: distances and tracks of all legs (geodesics)
//   reachOf       once for fuel, patient, wind, air, site elevation, time: loads, exact balance sets, limits of power, and
//                 what the record and the sky over hospitals and base say, all from the plain assessment's own parts
//   fill          every place: typed arrays in and out, nothing allocated on the way; for a worker
// Hospitals are tried the nearest to the scene first; the first with which the call is acceptable is the answer, otherwise
// the one with which it is nearest to it. Equal to assessCall at the same place (reach.test.ts).
//
// Not in it, and to be said beside every picture: terrain and obstacles on the way; the sky over the scene itself; every
// scene is at one elevation, the most that is set. Refuses a call that is not base, scene, hospital, base.
import { cosDeg, sinDeg } from "../air/degrees.ts";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import { flowBetween_kgh } from "../fuel/flow-model.ts";
import { refuse } from "../quantity/refusal.ts";
import { type FuelReserve, fuelReserve, leastContingency_pct } from "../rules/fuel-reserve.ts";
import { onLimit } from "../quantity/compare.ts";
import { type LoadOfCall, plannerOf, type PreparedCall } from "./assess-call.ts";
import { balanceRoom } from "./balance-set.ts";
import {
  type Call,
  type CallKnown,
  type CallPlace,
  type CallStop,
  type Margin,
  marginKinds,
  type MarginKind,
} from "./call.ts";
import { legBetween } from "./call-route.ts";
import { type OxygenAsked, oxygenOf, oxygenRoom } from "./call-rules.ts";
import { mayLapseInFlight, ownMatters } from "./call-sayings.ts";
import { placeFrom } from "./place-from.ts";
import { isAbout } from "./site-questions.ts";
import type { SiteAir, UseLimit } from "./site-limits.ts";

export type Places = { readonly lat_deg: Float64Array; readonly lon_deg: Float64Array };

/** Rows from south to north, in each from west to east. */
export function gridPlaces(
  box: {
    readonly south_deg: number;
    readonly north_deg: number;
    readonly west_deg: number;
    readonly east_deg: number;
  },
  rows: number,
  columns: number,
): Places {
  const lat_deg = new Float64Array(rows * columns);
  const lon_deg = new Float64Array(rows * columns);
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const at = row * columns + column;
      lat_deg[at] = box.south_deg + ((row + 0.5) / rows) * (box.north_deg - box.south_deg);
      lon_deg[at] = box.west_deg + ((column + 0.5) / columns) * (box.east_deg - box.west_deg);
    }
  }
  return { lat_deg, lon_deg };
}

export type Ground = {
  readonly base: CallPlace;
  readonly hospitals: readonly CallPlace[];
  readonly places: Places;
  readonly count: number;
  /** Base to place, place to each hospital (one block after the other): miles, cosine and sine of the track. */
  readonly out: Legs;
  readonly on: Legs;
  /** Each hospital to base. */
  readonly back: Legs;
  /** Per place the hospitals, nearest first. */
  readonly order: Uint8Array;
};

type Legs = { readonly miles: Float64Array; readonly cos: Float64Array; readonly sin: Float64Array };

const emptyLegs = (count: number): Legs => ({
  miles: new Float64Array(count),
  cos: new Float64Array(count),
  sin: new Float64Array(count),
});

const mostHospitals = 64;

export function groundOf(base: CallPlace, hospitals: readonly CallPlace[], places: Places): Ground {
  if (hospitals.length === 0 || hospitals.length > mostHospitals)
    refuse("hospitals", "outsideDomain", `${hospitals.length}`, `1 … ${mostHospitals} hospitals`);
  const count = places.lat_deg.length;
  const [out, on, back] = [
    emptyLegs(count),
    emptyLegs(count * hospitals.length),
    emptyLegs(hospitals.length),
  ];
  const write = (to: Legs, at: number, from: CallPlace, there: CallPlace): void => {
    const { distance_nm, track_deg } = legBetween(from, there);
    to.miles[at] = track_deg === null ? 0 : distance_nm;
    to.cos[at] = cosDeg(track_deg ?? 0);
    to.sin[at] = sinDeg(track_deg ?? 0);
  };
  for (const [h, hospital] of hospitals.entries()) write(back, h, hospital, base);
  const order = new Uint8Array(count * hospitals.length);
  for (let cell = 0; cell < count; cell += 1) {
    const place = placeIn(places, cell, null);
    write(out, cell, base, place);
    for (const [h, hospital] of hospitals.entries()) write(on, h * count + cell, place, hospital);
    const away = (h: number): number => on.miles[h * count + cell]!;
    const nearest = [...hospitals.keys()].sort((a, b) => away(a) - away(b) || a - b);
    order.set(nearest, cell * hospitals.length);
  }
  return { base, hospitals, places, count, out, on, back, order };
}

export function placeIn({ lat_deg, lon_deg }: Places, cell: number, elevation_ft: number | null): CallPlace {
  return { name: "scene", lat_deg: lat_deg[cell]!, lon_deg: lon_deg[cell]!, elevation_ft, site: null };
}

/** As a standing orders them: 0 ready, 1 within limits, 2 not known, 3 not ready. */
export type ReachFrame = {
  readonly verdict: Uint8Array;
  /** Index into the ground's hospitals. */
  readonly hospital: Uint8Array;
  /** Index into `marginKinds`. */
  readonly binding: Uint8Array;
  /** The binding margin's room in its own unit, and its share; NaN where it has no number. */
  readonly room: Float64Array;
  readonly share: Float64Array;
};

export function emptyFrame(count: number): ReachFrame {
  return {
    verdict: new Uint8Array(count),
    hospital: new Uint8Array(count),
    binding: new Uint8Array(count),
    room: new Float64Array(count),
    share: new Float64Array(count),
  };
}

/** Obstacles on the way are not in a map: nobody could write down those of every place. */
const notInMap = ["obstacle"] as const;

/** What the plain assessment is asked for a cell: neither the sky over the scene nor obstacles are in the map. */
export function withoutSceneSky(known: CallKnown): CallKnown {
  const { skyAt } = known;
  if (skyAt === null) return { ...known, notAsked: notInMap };
  return {
    ...known,
    notAsked: notInMap,
    skyAt: (place, from_ms, until_ms) =>
      place.name === "scene" && place.site === null ? [] : skyAt(place, from_ms, until_ms),
  };
}

/** The template with its scene and hospital put in. */
export function callAt(call: Call, scene: CallPlace, hospital: CallPlace): Call {
  return {
    ...call,
    stops: call.stops.map((stop) =>
      stop.role === "scene"
        ? { ...stop, place: scene }
        : stop.role === "hospital"
          ? { ...stop, place: hospital }
          : stop,
    ),
  };
}

export type Reach = { readonly fill: (frame: ReachFrame) => void };

// ---- one margin against those held ------------------------------------------------------------------------------------

const rankBroken = 0;
const rankUnknown = 1;
const rankMet = 2;
const kindIndex = Object.fromEntries(marginKinds.map((kind, index) => [kind, index])) as Record<
  MarginKind,
  number
>;

/** The margin that binds so far: in slots, so that nothing is allocated. */
const slotRank = 0;
const slotShare = 1;
const slotRoom = 2;
const slotKind = 3;
const slots = 4;

function take(held: Float64Array, rank: number, share: number, room: number, kind: number): void {
  if (rank > held[slotRank]! || (rank === held[slotRank]! && share >= held[slotShare]!)) return;
  held[slotRank] = rank;
  held[slotShare] = share;
  held[slotRoom] = room;
  held[slotKind] = kind;
}

/** The same comparison as marginOf. */
function takeRoom(held: Float64Array, kind: number, room: number, size: number, scale: number): void {
  if (!(room > Number.NEGATIVE_INFINITY && room < Number.POSITIVE_INFINITY)) {
    take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kind);
    return;
  }
  const isMet = room >= -onLimit * size;
  take(held, isMet ? rankMet : rankBroken, room / scale, room, kind);
}

function takeMargin(held: Float64Array, { kind, met, room, share }: Margin): void {
  const rank = met === false ? rankBroken : met === null ? rankUnknown : rankMet;
  const none = met === false ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
  take(held, rank, share ?? none, room ?? Number.NaN, kindIndex[kind]);
}

// ---- preparing ---------------------------------------------------------------------------------------------------------

/** Reasons or notices as times: what they do to a visit from when until when. */
type Times = {
  /** from, until, what it does (below), kind; four for each. */
  readonly each: Float64Array;
};

const timesWidth = 4;
const leavesOpen = 0;
const blocks = 1;
/** Blocks, however late it began. */
const blocksWhole = 2;

function timesOf(reasons: readonly Reason[], operation: string, kindOf: (code: string) => number): Times {
  const each = reasons
    .filter(({ operations }) => operations === "all" || operations.includes(operation))
    .filter(({ effect }) => effect === "blocks" || effect === "unknown")
    .flatMap(({ from_ms, until_ms, effect, code }) => [
      from_ms ?? Number.NEGATIVE_INFINITY,
      until_ms ?? Number.POSITIVE_INFINITY,
      effect === "blocks" ? blocks : leavesOpen,
      kindOf(code),
    ]);
  return { each: Float64Array.from(each) };
}

/** The same as sayingsOf, for one visit. */
function takeTimes(
  held: Float64Array,
  { each }: Times,
  from_ms: number,
  until_ms: number,
  depart_ms: number,
  minutes: number,
): void {
  for (let i = 0; i < each.length; i += timesWidth) {
    const begins = each[i]!;
    if (each[i + 1]! <= from_ms) continue;
    const kind = each[i + 3]!;
    const does = each[i + 2]!;
    if (begins > until_ms) {
      takeRoom(held, kind, (begins - until_ms) / minute_ms, minutes, minutes);
    } else if (does === leavesOpen) take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kind);
    else if (does === blocksWhole || begins <= depart_ms)
      take(held, rankBroken, Number.NEGATIVE_INFINITY, Number.NaN, kind);
    else {
      const late = Math.max((until_ms - begins) / minute_ms, 1e-3);
      take(held, rankBroken, -late / minutes, -late, kind);
    }
  }
}

/** Largest masses at a place: the mass, 1 where its chart only ends there, the kind; the craft's own largest first. */
type UsesAt = { readonly limits: Float64Array };
const useWidth = 3;

/** Limits of a place that depend on the mass there; those that do not are taken at once. */
function usesAt(held: Float64Array, limits: readonly UseLimit[], most_kg: number): UsesAt {
  const found: number[] = [];
  if (Number.isFinite(most_kg)) found.push(most_kg, 0, kindIndex.mass);
  else take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kindIndex.mass);
  for (const { use, is, most_kg: limit, beyond, room_C } of limits) {
    const kind = kindIndex[use];
    if (is === "notKnown") take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kind);
    else if (is === "upTo") found.push(limit, beyond === "notKnown" ? 1 : 0, kind);
    else if (room_C !== null) takeRoom(held, kind, room_C, scale_C, scale_C);
    else if (is === "never") take(held, rankBroken, Number.NEGATIVE_INFINITY, Number.NaN, kind);
  }
  return { limits: Float64Array.from(found) };
}

/** Per node of a table: mass, flow, slope to the next. */
const flowWidth = 3;
type LegFlow = { readonly table: Float64Array | null; readonly read: (mass_kg: number) => number };

function legFlow(
  { call, flow }: PreparedCall,
  from: SiteAir | null = null,
  to: SiteAir | null = null,
): LegFlow {
  return {
    table: flow.tableByMass(call.tas_kt),
    read: (mass_kg) => flowBetween_kgh(flow, call.tas_kt, mass_kg, from, to),
  };
}

const scale_C = 100;

/** What is the same at all places, for one hospital and one load. */
type Case = {
  readonly load: LoadOfCall;
  readonly prepared: PreparedCall;
  /** Binding so far, from everything that is the same at all places. */
  readonly held: Float64Array;
  readonly uses: readonly UsesAt[];
  readonly flows: readonly LegFlow[];
  /** From the base to the alternate; no time without one. */
  readonly alternate_h: number;
  readonly alternateFlow: LegFlow;
  readonly tank_kg: number;
  readonly ends: readonly Float64Array[];
  readonly isBalanceKnown: boolean;
  readonly hookEnds: Float64Array | null;
  readonly least_kg: number;
  /** Without fuel, per leg, with everybody at the most and with nobody. */
  readonly full: Float64Array;
  readonly least: Float64Array;
  readonly record: Times;
  /** Deferrals that may lapse in the air: only take-offs count. */
  readonly lapses: Times;
  readonly oxygen: OxygenAsked | null;
  readonly atStart: Times;
  readonly atHospital: Times;
  readonly atBase: Times;
  readonly hasLimits: boolean;
  readonly flightHours_h: number;
};

/** Prepares for all places. The template's scene gives the elevation; its place is put in cell by cell. */
export function reachOf(known: CallKnown, ground: Ground, template: Call): Reach {
  const [scene, hospital, home, ...more] = template.stops;
  const isUsual =
    scene?.role === "scene" && hospital?.role === "hospital" && home?.role === "base" && more.length === 0;
  if (!isUsual || template.isAirborne || template.mostFuel_kg !== null)
    refuse(
      "stops",
      "outsideDomain",
      template.stops.map(({ role }) => role).join(", "),
      "a start at base, then scene, hospital, base",
    );
  if (template.stops.some(({ uplift_kg }) => uplift_kg > 0))
    refuse("stops", "outsideDomain", "an uplift", "a call without one");
  const planner = plannerOf(withoutTimes(known));
  // Any place of the right elevation: what is prepared does not depend on where the scene is.
  const prepared = ground.hospitals.map((place) =>
    planner.prepare(callAt(template, { ...scene.place, name: "scene", site: null }, place)),
  );
  const cases = prepared.map((one, h) =>
    one.loads.map((load) => caseOf(known, one, load, ground.hospitals[h]!, ground)),
  );
  return { fill: (frame) => fillFrame(known, ground, template, cases, frame) };
}

const withoutTimesHeld = new WeakMap<CallKnown, CallKnown>();

/** The same without what depends on time and place, which is taken cell by cell; limits of the record stay. */
function withoutTimes(known: CallKnown): CallKnown {
  let held = withoutTimesHeld.get(known);
  if (held === undefined) {
    const limits = known.reasons.filter(({ effect }) => effect === "limits");
    held = {
      ...known,
      reasons: limits,
      notices: [],
      skyAt: () => [],
      lightAt: null,
      notAsked: notInMap,
    };
    withoutTimesHeld.set(known, held);
  }
  return held;
}

/** What is the same at all places, for one hospital and one load. */
function caseOf(
  known: CallKnown,
  prepared: PreparedCall,
  load: LoadOfCall,
  hospital: CallPlace,
  ground: Ground,
): Case {
  const { call, operation } = prepared;
  const held = Float64Array.from([rankMet, Number.POSITIVE_INFINITY, Number.NaN, kindIndex.fuel]);
  const ofAll: ReadonlySet<MarginKind> = new Set([
    "tank",
    "place",
    "seat",
    "hook",
    "landings",
    "starts",
    "hoistCycles",
    "flights",
    "cycles",
    "worksheet",
  ]);
  for (const margin of prepared.margins(load, call.fuel_kg, "withoutBalance"))
    if (margin.stop === -1 || ofAll.has(margin.kind)) takeMargin(held, margin);
  const start = skyTimes(known, call, ground.base);
  const masses = prepared.sayings.limits
    .filter(({ quantity }) => quantity === "mass_kg")
    .map(({ value }) => value);
  const most_kg = Math.min(load.load.limits.mass?.most_kg ?? Number.NaN, ...masses);
  const hook = load.hook[0]?.() ?? null;
  const record = known.reasons.filter(({ code }) => !ownMatters.test(code));
  const recordTimes = (of: readonly Reason[]): Times => timesOf(of, operation.id, () => kindIndex.record);
  // By night more has to be cleared; without an obstacle of its own the map knows no difference.
  const oxygen = oxygenOf(known, call, prepared.airs, true);
  if (oxygen === "notKnown") take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kindIndex.oxygen);
  return {
    load,
    prepared,
    held,
    uses: [1, 2, 3].map((stop) => usesAt(held, prepared.uses[stop] ?? [], most_kg)),
    flows: [0, 1, 2].map((leg) => legFlow(prepared, prepared.airs[leg], prepared.airs[leg + 1])),
    alternate_h: prepared.toAlternate?.hours ?? 0,
    alternateFlow: legFlow(prepared, prepared.airs[3], prepared.toAlternate?.air),
    tank_kg: load.load.tank_kg,
    ends: load.balance.map((set) => set().ends),
    isBalanceKnown: load.balance.every((set) => set().isKnown),
    hookEnds: hook?.ends ?? null,
    least_kg: load.load.limits.mass?.least_kg ?? Number.NaN,
    full: Float64Array.from(load.full, ({ mass_kg }) => mass_kg),
    least: Float64Array.from(load.least, ({ mass_kg }) => mass_kg),
    record: recordTimes(record.filter((reason) => !mayLapseInFlight(reason, known))),
    lapses: recordTimes(record.filter((reason) => mayLapseInFlight(reason, known))),
    oxygen: oxygen === "notKnown" ? null : oxygen,
    atStart: start,
    atHospital: both(skyTimes(known, call, hospital), noticeTimes(known, hospital)),
    atBase: both(start, noticeTimes(known, ground.base)),
    hasLimits: prepared.sayings.reasons.some(({ effect }) => effect === "limits"),
    flightHours_h: Math.min(
      Number.POSITIVE_INFINITY,
      ...prepared.sayings.limits
        .filter(({ quantity }) => quantity === "flightHours_h")
        .map(({ value }) => value),
    ),
  };
}

function skyTimes({ skyAt }: CallKnown, call: Call, place: CallPlace): Times {
  if (skyAt === null)
    return {
      each: Float64Array.from([Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY, 0, kindIndex.weather]),
    };
  const found = skyAt(place, call.depart_ms, call.depart_ms);
  return timesOf(found, call.operation, (code) =>
    code.startsWith("light.") ? kindIndex.light : kindIndex.weather,
  );
}

function noticeTimes({ notices }: CallKnown, place: CallPlace): Times {
  return {
    each: Float64Array.from(
      standingNotices(notices)
        .filter((notice) => isAbout(notice, place))
        .flatMap(timesOfNotice),
    ),
  };
}

const standingNotices = (notices: CallKnown["notices"]): CallKnown["notices"] =>
  notices.filter(({ lifted, kind }) => !lifted && kind !== "caution" && kind !== "noFuel");

const timesOfNotice = ({ from_ms, until_ms, kind }: CallKnown["notices"][number]): number[] => [
  from_ms,
  until_ms ?? Number.POSITIVE_INFINITY,
  kind === "closed" ? blocksWhole : leavesOpen,
  kindIndex.notice,
];

const both = (one: Times, other: Times): Times => ({ each: Float64Array.from([...one.each, ...other.each]) });

// ---- every place -------------------------------------------------------------------------------------------------------

function fillFrame(
  known: CallKnown,
  ground: Ground,
  call: Call,
  cases: readonly (readonly Case[])[],
  frame: ReachFrame,
): void {
  const { count, hospitals, out, on, back, order } = ground;
  const { fuelFlow } = known.sheet;
  const [scene, hospital] = call.stops as readonly [CallStop, CallStop];
  const wind = call.air.wind;
  const speed = wind === null ? Number.NaN : wind.speed_kt;
  const isAnywhere = wind !== null && wind.from_deg === null;
  const cosWind = cosDeg(wind?.from_deg ?? 0);
  const sinWind = sinDeg(wind?.from_deg ?? 0);
  const tas = call.tas_kt;
  const burnt = (stop: CallStop, engines: CallStop["engines"], rate: number): number =>
    stop.engines === engines ? (rate * stop.stay_min) / 60 : 0;
  const groundOf1 =
    scene.engines === "stopped" ? fuelFlow.start_kg : burnt(scene, "running", fuelFlow.ground_kgh);
  const groundOf2 =
    hospital.engines === "stopped" ? fuelFlow.start_kg : burnt(hospital, "running", fuelFlow.ground_kgh);
  const hover1 = burnt(scene, "hover", fuelFlow.hover_kgh);
  const hover2 = burnt(hospital, "hover", fuelFlow.hover_kgh);
  const hoverHours =
    (scene.engines === "hover" ? scene.stay_min : 0) / 60 +
    (hospital.engines === "hover" ? hospital.stay_min : 0) / 60;
  const hook_kg = scene.hook_kg ?? 0;
  const scheme = schemeOf(known, call);
  const areas = areasOf(known, ground);
  const fixed_kg = fuelFlow.start_kg + groundOf1 + groundOf2 + scheme.extra_kg;
  const sceneStay_ms = scene.stay_min * minute_ms;
  const hospitalStay_ms = hospital.stay_min * minute_ms;
  /** Per leg: fuel at its end with everybody at the most, and at its start and end with nobody. */
  const ends0 = new Float64Array(3);
  const starts = new Float64Array(3);
  const spared = new Float64Array(3);
  const back_h = Float64Array.from(hospitals, (_, h) => hours(back, h));
  const held = new Float64Array(slots);
  const worst = new Float64Array(slots);

  function hours(legs: Legs, at: number): number {
    const miles = legs.miles[at]!;
    if (miles === 0) return 0;
    const cos = legs.cos[at]!;
    const sin = legs.sin[at]!;
    const head = isAnywhere ? speed : speed * (cosWind * cos + sinWind * sin);
    const cross = isAnywhere ? 0 : speed * (sinWind * cos - cosWind * sin);
    const sine = cross / tas;
    if (!(sine <= 1 + onLimit && sine >= -1 - onLimit)) return Number.NaN;
    const bound = sine > 1 ? 1 : sine < -1 ? -1 : sine;
    const over = tas * Math.sqrt((1 - bound) * (1 + bound)) - head;
    return over > tas * onLimit ? miles / over : Number.NaN;
  }

  /** Only where something is above 10,000 ft, which is rare: it may allocate. */
  function takeOxygen(
    into: Float64Array,
    oxygen: OxygenAsked,
    cell: number,
    h: number,
    legs_h: readonly number[],
    arrive1: number,
    arrive2: number,
    arrive3: number,
  ): void {
    const [leave1, leave2] = [arrive1 + sceneStay_ms, arrive2 + hospitalStay_ms];
    const isNight =
      !Number.isFinite(arrive3) ||
      isNightAt(known, ground, call, cell, h, arrive1, leave1, arrive2, leave2, arrive3);
    const { minutes, allowed_min } = oxygenRoom(oxygen, isNight, legs_h);
    const scale = Math.max(minutes, 1);
    takeRoom(into, kindIndex.oxygen, allowed_min - minutes, Math.max(scale, allowed_min), scale);
  }

  const judge = (one: Case, cell: number, h: number, h1: number, h2: number, h3: number): number => {
    const { full, least, flows, ends, least_kg, tank_kg } = one;
    // ---- fuel at both ends of each leg: with everybody at the most, and with nobody whose mass is open
    const a0 = call.fuel_kg - fuelFlow.start_kg;
    const rate0 = h1 === 0 ? 0 : rateOf(flows[0]!, full[0]! + a0);
    const b0 = a0 - rate0 * h1;
    const sparedB0 = least[0] === full[0] ? b0 : a0 - (h1 === 0 ? 0 : rateOf(flows[0]!, least[0]! + a0)) * h1;
    const a1 = b0 - groundOf1 - hover1;
    const sparedA1 = sparedB0 - groundOf1 - hover1;
    const rate1 = h2 === 0 ? 0 : rateOf(flows[1]!, full[1]! + a1);
    const b1 = a1 - rate1 * h2;
    const sparedB1 = sparedA1 - (h2 === 0 ? 0 : rateOf(flows[1]!, least[1]! + sparedA1)) * h2;
    const a2 = b1 - groundOf2 - hover2;
    const sparedA2 = sparedB1 - groundOf2 - hover2;
    const rate2 = h3 === 0 ? 0 : rateOf(flows[2]!, full[2]! + a2);
    const b2 = a2 - rate2 * h3;
    const sparedB2 = sparedA2 - (h3 === 0 ? 0 : rateOf(flows[2]!, least[2]! + sparedA2)) * h3;
    ends0[0] = b0;
    ends0[1] = b1;
    ends0[2] = b2;
    starts[0] = a0;
    starts[1] = sparedA1;
    starts[2] = sparedA2;
    spared[0] = sparedB0;
    spared[1] = sparedB1;
    spared[2] = sparedB2;
    // ---- times
    held.set(one.held);
    const flown_h = h1 + h2 + h3 + hoverHours;
    const arrive1 = call.depart_ms + h1 * hour_ms;
    const leave1 = arrive1 + sceneStay_ms;
    const arrive2 = leave1 + h2 * hour_ms;
    const leave2 = arrive2 + hospitalStay_ms;
    const arrive3 = leave2 + h3 * hour_ms;
    const isTimed = arrive3 < Number.POSITIVE_INFINITY;
    const isFlown = isTimed && b2 < Number.POSITIVE_INFINITY;
    const minutes = isTimed ? Math.max((arrive3 - call.depart_ms) / minute_ms, 1) : 1;
    if (one.record.each.length > 0)
      takeTimes(
        held,
        one.record,
        call.depart_ms,
        isTimed ? arrive3 : call.depart_ms,
        call.depart_ms,
        minutes,
      );
    if (one.lapses.each.length > 0)
      takeTimes(held, one.lapses, call.depart_ms, isTimed ? leave2 : call.depart_ms, call.depart_ms, minutes);
    if (one.oxygen !== null) takeOxygen(held, one.oxygen, cell, h, [h1, h2, h3], arrive1, arrive2, arrive3);
    if (isFlown) {
      if (one.atStart.each.length > 0)
        takeTimes(held, one.atStart, call.depart_ms, call.depart_ms, call.depart_ms, minutes);
      if (one.atHospital.each.length > 0)
        takeTimes(held, one.atHospital, arrive2, leave2, call.depart_ms, minutes);
      if (one.atBase.each.length > 0) takeTimes(held, one.atBase, arrive3, arrive3, call.depart_ms, minutes);
      for (let n = 0; n < areas.length; n += 1)
        if (areas[n]!.inside[cell] === 1)
          takeTimes(held, areas[n]!.times, arrive1, leave1, call.depart_ms, minutes);
    }
    let rank = held[slotRank]!;
    let share = held[slotShare]!;
    let room = held[slotRoom]!;
    let kind = held[slotKind]!;
    // ---- fuel
    let contingency = 0;
    const toAlternate =
      one.alternate_h === 0 ? 0 : one.alternate_h * rateOf(one.alternateFlow, full[2]! + b2);
    if (isFlown && toAlternate < Number.POSITIVE_INFINITY) {
      const trip = a0 - b0 + (a1 - b1 + hover1) + (a2 - b2 + hover2);
      contingency = (trip * scheme.pct) / 100;
      const isNight =
        scheme.isSame || isNightAt(known, ground, call, cell, h, arrive1, leave1, arrive2, leave2, arrive3);
      const reserve = isNight ? scheme.night : scheme.day;
      const largest = rate0 > rate1 ? (rate0 > rate2 ? rate0 : rate2) : rate1 > rate2 ? rate1 : rate2;
      const flow =
        reserve.at === "reserve" || largest < fuelFlow.reserve_kgh ? fuelFlow.reserve_kgh : largest;
      const required = fixed_kg + trip + contingency + toAlternate + (flow * reserve.minutes) / 60;
      const over = call.fuel_kg - required;
      const rankHere =
        over >= -onLimit * (call.fuel_kg > required ? call.fuel_kg : required) ? rankMet : rankBroken;
      const shareHere = over / required;
      if (rankHere < rank || (rankHere === rank && shareHere < share)) {
        rank = rankHere;
        share = shareHere;
        room = over;
        kind = kindIndex.fuel;
      }
    } else if (rank > rankUnknown) {
      rank = rankUnknown;
      share = Number.POSITIVE_INFINITY;
      room = Number.NaN;
      kind = kindIndex.fuel;
    }
    if (isFlown && one.flightHours_h < Number.POSITIVE_INFINITY) {
      const left = one.flightHours_h - flown_h;
      const rankLeft =
        left >= -onLimit * (flown_h > one.flightHours_h ? flown_h : one.flightHours_h) ? rankMet : rankBroken;
      const shareLeft = left / (flown_h > 1e-9 ? flown_h : 1e-9);
      if (rankLeft < rank || (rankLeft === rank && shareLeft < share)) {
        rank = rankLeft;
        share = shareLeft;
        room = left;
        kind = kindIndex.flightHours_h;
      }
    }
    // ---- mass, power and balance, stop by stop and leg by leg
    for (let leg = 0; leg < 3; leg += 1) {
      const landing = full[leg]! + spared[leg]! + (leg === 0 ? hook_kg : 0);
      const takeoff = leg === 2 ? Number.NEGATIVE_INFINITY : full[leg + 1]! + starts[leg + 1]!;
      const mass = landing > takeoff ? landing : takeoff;
      const from = starts[leg]!;
      const floor = ends0[leg]! - contingency;
      const low = floor < 0 ? 0 : floor;
      const to = low < from ? low : from;
      if (mass < Number.POSITIVE_INFINITY) {
        const { limits } = one.uses[leg]!;
        for (let n = 0; n < limits.length; n += useWidth) {
          const most = limits[n]!;
          const over = most - mass;
          const rankHere =
            over >= -onLimit * (mass > most ? mass : most)
              ? rankMet
              : limits[n + 1] === 1
                ? rankUnknown
                : rankBroken;
          const shareHere = over / most;
          if (rankHere < rank || (rankHere === rank && shareHere < share)) {
            rank = rankHere;
            share = shareHere;
            room = over;
            kind = limits[n + 2]!;
          }
        }
      }
      if (!(from < Number.POSITIVE_INFINITY && to < Number.POSITIVE_INFINITY)) continue;
      const lightest = least[leg]! + to;
      const heavier = lightest - least_kg;
      if (heavier < Number.POSITIVE_INFINITY) {
        const rankHere =
          heavier >= -onLimit * (lightest > least_kg ? lightest : least_kg) ? rankMet : rankBroken;
        const shareHere = heavier / least_kg;
        if (rankHere < rank || (rankHere === rank && shareHere < share)) {
          rank = rankHere;
          share = shareHere;
          room = heavier;
          kind = kindIndex.leastMass;
        }
      }
      const set = ends[leg]!;
      for (let n = leg === 0 && one.hookEnds !== null ? 0 : 1; n < 2; n += 1) {
        // While hovering at the scene with the hook out, and on the leg itself.
        const isHook = n === 0;
        const high = isHook ? spared[0] : from;
        const below = isHook ? ends0[0] - hover1 : to;
        const bottom = below < 0 ? 0 : below < high ? below : high;
        const inside = balanceRoom(isHook ? one.hookEnds! : set, high, bottom);
        if (inside === Number.POSITIVE_INFINITY && one.isBalanceKnown) continue;
        const rankHere = !one.isBalanceKnown
          ? rankUnknown
          : inside >= -onLimit * tank_kg
            ? rankMet
            : rankBroken;
        const shareHere = !one.isBalanceKnown ? Number.POSITIVE_INFINITY : inside / tank_kg;
        if (rankHere < rank || (rankHere === rank && shareHere < share)) {
          rank = rankHere;
          share = shareHere;
          room = one.isBalanceKnown && inside > Number.NEGATIVE_INFINITY ? inside : Number.NaN;
          kind = kindIndex.balance;
        }
      }
    }
    held[slotRank] = rank;
    held[slotShare] = share;
    held[slotRoom] = room;
    held[slotKind] = kind;
    if (rank === rankBroken) return 3;
    if (rank === rankUnknown || one.load.load.isAssumed) return 2;
    return one.hasLimits ? 1 : 0;
  };

  for (let cell = 0; cell < count; cell += 1) {
    const h1 = hours(out, cell);
    let best = 9;
    for (let k = 0; k < hospitals.length; k += 1) {
      const h = order[cell * hospitals.length + k]!;
      const h2 = hours(on, h * count + cell);
      const h3 = back_h[h]!;
      let verdict = -1;
      const ofHospital = cases[h]!;
      for (let n = 0; n < ofHospital.length; n += 1) {
        const found = judge(ofHospital[n]!, cell, h, h1, h2, h3);
        if (found > verdict || (found === verdict && held[slotShare]! < worst[slotShare]!)) {
          verdict = found;
          worst.set(held);
        }
      }
      if (verdict === -1) {
        // Nothing is known of what is aboard.
        verdict = 2;
        worst[slotShare] = Number.NaN;
        worst[slotRoom] = Number.NaN;
        worst[slotKind] = kindIndex.mass;
      }
      if (verdict < best || (verdict === best && worst[slotShare]! > frame.share[cell]!)) {
        best = verdict;
        frame.verdict[cell] = verdict;
        frame.hospital[cell] = h;
        frame.binding[cell] = worst[slotKind]!;
        frame.room[cell] = worst[slotRoom]!;
        frame.share[cell] = worst[slotShare]!;
      }
      if (verdict <= 1) break;
    }
  }
}

/** A flow at a mass: straight between the nodes of the table where there is one, otherwise read from the charts. */
function rateOf({ table, read }: LegFlow, mass_kg: number): number {
  if (table !== null && mass_kg >= table[0]! && mass_kg <= table[table.length - flowWidth]!) {
    let at = 0;
    while (mass_kg > table[at + flowWidth]!) at += flowWidth;
    return table[at + 1]! + (mass_kg - table[at]!) * table[at + 2]!;
  }
  return read(mass_kg);
}

type Scheme = {
  readonly pct: number;
  readonly extra_kg: number;
  readonly day: FuelReserve;
  readonly night: FuelReserve;
  /** The reserve does not depend on the light. */
  readonly isSame: boolean;
};

function schemeOf({ situation, policy }: CallKnown, { flightRules }: Call): Scheme {
  const ruleSet = situation.settings.ruleSet ?? "eu";
  const shared = { ruleSet, flightRules, hems: policy.hems } as const;
  const reserve = (light: "day" | "night") => fuelReserve({ ...shared, light, landmarks: policy.landmarks });
  const [day, night] = [reserve("day"), reserve("night")];
  return {
    pct: Math.max(policy.contingency_pct, leastContingency_pct({ ...shared, hostile: false })),
    extra_kg: policy.extra_kg,
    day,
    night,
    isSame: day.minutes === night.minutes && day.at === night.at,
  };
}

/** Where the reserve depends on the light: night as soon as any take-off or landing is in it, or the light is not known. */
function isNightAt(
  { lightAt }: CallKnown,
  { base, hospitals, places }: Ground,
  call: Call,
  cell: number,
  h: number,
  arrive1: number,
  leave1: number,
  arrive2: number,
  leave2: number,
  arrive3: number,
): boolean {
  if (lightAt === null) return true;
  const scene = placeIn(places, cell, null);
  const hospital = hospitals[h]!;
  return (
    lightAt(base, call.depart_ms) !== "day" ||
    lightAt(scene, arrive1) !== "day" ||
    lightAt(scene, leave1) !== "day" ||
    lightAt(hospital, arrive2) !== "day" ||
    lightAt(hospital, leave2) !== "day" ||
    lightAt(base, arrive3) !== "day"
  );
}

type Area = { readonly inside: Uint8Array; readonly times: Times };

/** Notices about areas, with the places that lie in them. */
function areasOf({ notices }: CallKnown, { places, count }: Ground): readonly Area[] {
  return standingNotices(notices)
    .filter(({ about }) => !("site" in about))
    .map((notice) => ({
      inside: Uint8Array.from({ length: count }, (_, cell) =>
        Number(isAbout(notice, placeIn(places, cell, null))),
      ),
      times: { each: Float64Array.from(timesOfNotice(notice)) },
    }));
}

// ---- along bearings ----------------------------------------------------------------------------------------------------

/** Places on every bearing from a base: bearing by bearing, in each from near to far. */
export function bearingPlaces(base: CallPlace, bearings: number, farthest_nm: number, steps: number): Places {
  const lat_deg = new Float64Array(bearings * steps);
  const lon_deg = new Float64Array(bearings * steps);
  for (let bearing = 0; bearing < bearings; bearing += 1) {
    for (let step = 0; step < steps; step += 1) {
      const to = placeFrom(base, (360 * bearing) / bearings, (farthest_nm * (step + 1)) / steps);
      lat_deg[bearing * steps + step] = to.lat_deg;
      lon_deg[bearing * steps + step] = to.lon_deg;
    }
  }
  return { lat_deg, lon_deg };
}

/** Per bearing the farthest step up to which every place is acceptable, in miles; and what binds at the next. */
export function reachAlong(
  frame: ReachFrame,
  bearings: number,
  farthest_nm: number,
  steps: number,
): readonly {
  readonly bearing_deg: number;
  readonly upTo_nm: number;
  readonly binding: MarginKind | null;
}[] {
  return Array.from({ length: bearings }, (_, bearing) => {
    let step = 0;
    while (step < steps && frame.verdict[bearing * steps + step]! <= 1) step += 1;
    const next = step < steps ? frame.binding[bearing * steps + step] : undefined;
    return {
      bearing_deg: (360 * bearing) / bearings,
      upTo_nm: (farthest_nm * step) / steps,
      binding: next === undefined ? null : (marginKinds[next] ?? null),
    };
  });
}
