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
import { minute_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
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
import { ownMatters } from "./call-sayings.ts";
import { placeFrom } from "./place-from.ts";
import { isAbout } from "./site-questions.ts";
import type { UseLimit } from "./site-limits.ts";

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

/** What the plain assessment is asked for a cell: the sky over the scene is not in the map. */
export function withoutSceneSky(known: CallKnown): CallKnown {
  const { skyAt } = known;
  if (skyAt === null) return known;
  return {
    ...known,
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
    else if (does === blocksWhole || begins === Number.NEGATIVE_INFINITY)
      take(held, rankBroken, Number.NEGATIVE_INFINITY, Number.NaN, kind);
    else {
      const late = Math.max((until_ms - begins) / minute_ms, 1e-3);
      take(held, rankBroken, -late / minutes, -late, kind);
    }
  }
}

type UseAt = {
  readonly kind: number;
  readonly is: UseLimit["is"];
  readonly most_kg: number;
  readonly isEnd: boolean;
};

/** Limits of a place that depend on the mass there; those that do not are taken at once. */
function usesAt(held: Float64Array, limits: readonly UseLimit[]): readonly UseAt[] {
  return limits.flatMap(({ use, is, most_kg, beyond, room_C }): UseAt[] => {
    const kind = kindIndex[use];
    if (is === "notKnown") take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kind);
    else if (is === "upTo") return [{ kind, is, most_kg, isEnd: beyond === "notKnown" }];
    else if (room_C !== null) takeRoom(held, kind, room_C, scale_C, scale_C);
    else if (is === "never") take(held, rankBroken, Number.NEGATIVE_INFINITY, Number.NaN, kind);
    return [];
  });
}

const scale_C = 100;

/** What is the same at all places, for one hospital and one load. */
type Case = {
  readonly load: LoadOfCall;
  readonly prepared: PreparedCall;
  /** Binding so far, from everything that is the same at all places. */
  readonly held: Float64Array;
  readonly uses: readonly (readonly UseAt[])[];
  readonly ends: readonly Float64Array[];
  readonly isBalanceKnown: boolean;
  readonly hookEnds: Float64Array | null;
  readonly most_kg: number;
  readonly least_kg: number;
  /** Without fuel, per leg, with everybody at the most and with nobody. */
  readonly full: Float64Array;
  readonly least: Float64Array;
  readonly record: Times;
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
  if (!isUsual || template.isAirborne || template.alternate !== null || template.mostFuel_kg !== null)
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
    held = { ...known, reasons: limits, notices: [], skyAt: () => [], lightAt: null };
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
    "hook",
    "landings",
    "starts",
    "hoistCycles",
  ]);
  for (const margin of prepared.margins(load, call.fuel_kg, "withoutBalance"))
    if (margin.stop === -1 || ofAll.has(margin.kind)) takeMargin(held, margin);
  const start = skyTimes(known, call, ground.base);
  const masses = prepared.sayings.limits
    .filter(({ quantity }) => quantity === "mass_kg")
    .map(({ value }) => value);
  const hook = load.hook[0]?.() ?? null;
  return {
    load,
    prepared,
    held,
    uses: [1, 2, 3].map((stop) => usesAt(held, prepared.uses[stop] ?? [])),
    ends: load.balance.map((set) => set().ends),
    isBalanceKnown: load.balance.every((set) => set().isKnown),
    hookEnds: hook?.ends ?? null,
    most_kg: Math.min(load.load.limits.mass?.most_kg ?? Number.NaN, ...masses),
    least_kg: load.load.limits.mass?.least_kg ?? Number.NaN,
    full: Float64Array.from(load.full, ({ mass_kg }) => mass_kg),
    least: Float64Array.from(load.least, ({ mass_kg }) => mass_kg),
    record: timesOf(
      known.reasons.filter(({ code }) => !ownMatters.test(code)),
      operation.id,
      () => kindIndex.record,
    ),
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

/** Fuel at both ends of the three legs, and the largest flow. */
const flownLength = 7;
const largestFlow = 6;

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
  const most = new Float64Array(flownLength);
  const spared = new Float64Array(flownLength);
  const held = new Float64Array(slots);
  const worst = new Float64Array(slots);

  const hours = (legs: Legs, at: number): number => {
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
  };

  const fly = (one: Case, dry: Float64Array, h1: number, h2: number, h3: number, to: Float64Array): void => {
    const { flow, airs } = one.prepared;
    let fuel = call.fuel_kg - fuelFlow.start_kg;
    let largest = 0;
    for (let leg = 0; leg < 3; leg += 1) {
      if (leg === 1) fuel = fuel - groundOf1 - hover1;
      if (leg === 2) fuel = fuel - groundOf2 - hover2;
      const time = leg === 0 ? h1 : leg === 1 ? h2 : h3;
      const from = airs[leg] ?? null;
      const there = airs[leg + 1] ?? null;
      const isKnown = from !== null && there !== null;
      const height = !isKnown ? Number.NaN : Math.max(from.pressureAltitude_ft, there.pressureAltitude_ft);
      const heat = !isKnown ? Number.NaN : Math.max(from.temperature_C, there.temperature_C);
      const rate = time === 0 ? 0 : flow.flow_kgh(tas, dry[leg]! + fuel, height, heat);
      to[2 * leg] = fuel;
      fuel -= rate * time;
      to[2 * leg + 1] = fuel;
      if (rate > largest) largest = rate;
    }
    to[largestFlow] = largest;
  };

  const judge = (one: Case, cell: number, h: number, h1: number, h2: number, h3: number): number => {
    held.set(one.held);
    fly(one, one.full, h1, h2, h3, most);
    fly(one, one.least, h1, h2, h3, spared);
    const arrive1 = call.depart_ms + h1 * 60 * minute_ms;
    const leave1 = arrive1 + scene.stay_min * minute_ms;
    const arrive2 = leave1 + h2 * 60 * minute_ms;
    const leave2 = arrive2 + hospital.stay_min * minute_ms;
    const arrive3 = leave2 + h3 * 60 * minute_ms;
    const isTimed = arrive3 < Number.POSITIVE_INFINITY;
    const minutes = isTimed ? Math.max((arrive3 - call.depart_ms) / minute_ms, 1) : 1;
    takeTimes(held, one.record, call.depart_ms, isTimed ? arrive3 : call.depart_ms, minutes);
    let contingency = 0;
    if (isTimed && most[5]! < Number.POSITIVE_INFINITY) {
      takeTimes(held, one.atStart, call.depart_ms, call.depart_ms, minutes);
      takeTimes(held, one.atHospital, arrive2, leave2, minutes);
      takeTimes(held, one.atBase, arrive3, arrive3, minutes);
      for (const { inside, times } of areas)
        if (inside[cell] === 1) takeTimes(held, times, arrive1, leave1, minutes);
      const trip = most[0]! - most[1]! + (most[2]! - most[3]! + hover1) + (most[4]! - most[5]! + hover2);
      contingency = (trip * scheme.pct) / 100;
      const isNight =
        scheme.isSame || isNightAt(known, ground, call, cell, h, arrive1, leave1, arrive2, leave2, arrive3);
      const reserve = isNight ? scheme.night : scheme.day;
      const flow =
        reserve.at === "reserve" ? fuelFlow.reserve_kgh : Math.max(most[largestFlow]!, fuelFlow.reserve_kgh);
      const required =
        fuelFlow.start_kg +
        groundOf1 +
        groundOf2 +
        trip +
        contingency +
        (flow * reserve.minutes) / 60 +
        scheme.extra_kg;
      const size = call.fuel_kg > required ? call.fuel_kg : required;
      takeRoom(held, kindIndex.fuel, call.fuel_kg - required, size, required);
      const flown = h1 + h2 + h3 + hoverHours;
      if (one.flightHours_h < Number.POSITIVE_INFINITY)
        takeRoom(
          held,
          kindIndex.flightHours_h,
          one.flightHours_h - flown,
          Math.max(flown, one.flightHours_h),
          Math.max(flown, 1e-9),
        );
    } else take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kindIndex.fuel);
    for (let stop = 0; stop < 3; stop += 1) {
      const landing = one.full[stop]! + spared[2 * stop + 1]! + (stop === 0 ? hook_kg : 0);
      const takeoff = stop === 2 ? Number.NEGATIVE_INFINITY : one.full[stop + 1]! + spared[2 * stop + 2]!;
      takeMass(held, one, stop, landing > takeoff ? landing : takeoff);
      takeBalance(held, one, one.ends[stop]!, spared[2 * stop]!, most[2 * stop + 1]! - contingency);
      const low = Math.min(Math.max(0, most[2 * stop + 1]! - contingency), spared[2 * stop]!);
      const lightest = one.least[stop]! + low;
      if (lightest < Number.POSITIVE_INFINITY && one.least_kg < Number.POSITIVE_INFINITY)
        takeRoom(
          held,
          kindIndex.leastMass,
          lightest - one.least_kg,
          Math.max(lightest, one.least_kg),
          one.least_kg,
        );
    }
    if (one.hookEnds !== null) takeBalance(held, one, one.hookEnds, spared[1]!, most[1]! - hover1);
    const rank = held[slotRank]!;
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
      const h3 = hours(back, h);
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

function takeMass(held: Float64Array, one: Case, stop: number, mass_kg: number): void {
  if (!(mass_kg > Number.NEGATIVE_INFINITY && mass_kg < Number.POSITIVE_INFINITY)) return;
  takeRoom(
    held,
    kindIndex.mass,
    one.most_kg - mass_kg,
    mass_kg > one.most_kg ? mass_kg : one.most_kg,
    one.most_kg,
  );
  const uses = one.uses[stop]!;
  for (let n = 0; n < uses.length; n += 1) {
    const { kind, most_kg, isEnd } = uses[n]!;
    const room = most_kg - mass_kg;
    const isMet = room >= -onLimit * (mass_kg > most_kg ? mass_kg : most_kg);
    take(held, isMet ? rankMet : isEnd ? rankUnknown : rankBroken, room / most_kg, room, kind);
  }
}

function takeBalance(
  held: Float64Array,
  one: Case,
  ends: Float64Array,
  from_kg: number,
  end_kg: number,
): void {
  if (!one.isBalanceKnown) {
    take(held, rankUnknown, Number.POSITIVE_INFINITY, Number.NaN, kindIndex.balance);
    return;
  }
  const floor = end_kg < 0 ? 0 : end_kg;
  const to_kg = floor < from_kg ? floor : from_kg;
  if (!(from_kg < Number.POSITIVE_INFINITY && to_kg > Number.NEGATIVE_INFINITY)) return;
  const room = balanceRoom(ends, from_kg, to_kg);
  const { tank_kg } = one.load.load;
  if (room === Number.NEGATIVE_INFINITY) take(held, rankBroken, room, Number.NaN, kindIndex.balance);
  else if (room < Number.POSITIVE_INFINITY) takeRoom(held, kindIndex.balance, room, tank_kg, tank_kg);
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
