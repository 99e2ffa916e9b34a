// Answers a call: legs, fuel, margins with the one that binds first, reasons, verdict. The plain way; reach.ts gives the
// same margins for a whole map and is held to this one.
//
// A planner keeps what does not change between questions: compiled charts, loads by operation, balance sets by who is
// aboard, what the sky says at a place. `assessCall` keeps one planner for each `known` object, so asking again with other
// fuel or another patient is quick. Refuses (Refusal with its path) a call that makes no sense: an operation that the sheet
// does not have, no stop, a mass or fuel that is negative or no number.
import type { Limit } from "../facts/reason.ts";
import { flowBetween_kgh, flowModelOf, type FlowModel } from "../fuel/flow-model.ts";
import { planFuel } from "../fuel/fuel-plan.ts";
import { trackBurn } from "../load/burn-track.ts";
import { addTotals, type Totals, totalsAt } from "../load/totals.ts";
import { powerChartsOf } from "../power/power-chart.ts";
import { atIndex, atKey, describe, type Issue, refuse, Refusal } from "../quantity/refusal.ts";
import { fuelReserve, leastContingency_pct } from "../rules/fuel-reserve.ts";
import { windCredits } from "../rules/wind-credit.ts";
import type { Operation } from "../sheet/flight-blocks.ts";
import { craftConfigOf } from "../walk/craft-config.ts";
import { askAboutPlace } from "./ask-about-place.ts";
import { balanceRoom, type BalanceSet, balanceSet, type OpenBoarding } from "./balance-set.ts";
import type {
  Call,
  CallAnswer,
  CallFuel,
  CallKnown,
  CallLeg,
  CallPlace,
  CallVerdict,
  Margin,
  StopAnswer,
} from "./call.ts";
import { aboardOnLegs, type BoardingPlace, boardingPlaces, doubledPlaces } from "./boarding-places.ts";
import { type CallLoad, type CallLoads, callLoads } from "./call-load.ts";
import { isBroken, marginOf, notKnown, sortMargins } from "./call-margin.ts";
import { ruleMargins } from "./call-rules.ts";
import { legBetween, type Route, type RouteLeg, routeOf } from "./call-route.ts";
import { type Track, trackCall } from "./call-track.ts";
import { aboutSites, noticeMargins } from "./site-questions.ts";
import { type SiteAir, siteAir, type UseLimit, limitsOfUses } from "./site-limits.ts";
import { type Sayings, sayingsOf } from "./call-sayings.ts";

export type CallPlanner = {
  readonly assess: (call: Call) => CallAnswer;
  /** The parts of the question that do not depend on fuel, for solvers. */
  readonly prepare: (call: Call) => PreparedCall;
};

const planners = new WeakMap<CallKnown, CallPlanner>();

export function assessCall(known: CallKnown, call: Call): CallAnswer {
  return plannerOf(known).assess(call);
}

export function plannerOf(known: CallKnown): CallPlanner {
  const held = planners.get(known);
  if (held !== undefined) return held;
  const planner = callPlanner(known);
  planners.set(known, planner);
  return planner;
}

/** One load with everybody who boards, per leg. */
export type LoadOfCall = {
  readonly load: CallLoad;
  /** Without fuel, with everybody at the most, per leg. */
  readonly full: readonly Totals[];
  /** Without fuel and without anybody whose mass is open. */
  readonly least: readonly Totals[];
  /** Worked out when it is asked for, since it costs more than all else. */
  readonly balance: readonly (() => BalanceSet)[];
  /** While hovering with a load on the hook: per stop, null without one. */
  readonly hook: readonly ((() => BalanceSet) | null)[];
};

export type WithBalance = "withBalance" | "withoutBalance";

export type PreparedCall = {
  readonly call: Call;
  readonly operation: Operation;
  readonly route: Route;
  readonly flow: FlowModel;
  readonly airs: readonly (SiteAir | null)[];
  readonly uses: readonly (readonly UseLimit[])[];
  readonly loads: readonly LoadOfCall[];
  readonly refused: CallLoads["refused"];
  readonly sayings: Sayings;
  readonly lights: readonly ("day" | "night" | null)[];
  /** The way from the last stop to the alternate, and the air there; null without one. */
  readonly toAlternate: { readonly hours: number; readonly air: SiteAir | null } | null;
  /** Where somebody who boards can sit or lie. */
  readonly boardingPlaces: readonly BoardingPlace[];
  /** Margins that depend neither on load nor on fuel. */
  readonly fixed: readonly Margin[];
  /** Worksheet, obstacle, oxygen: neither of load nor of fuel. */
  readonly rules: readonly Margin[];
  /** With everybody at the most, which burns most; or with nobody whose mass is open, which keeps most fuel aboard. */
  readonly track: (load: LoadOfCall, fuel_kg: number, burning?: "most" | "least") => Track;
  /** Every margin of one load with so much fuel. */
  readonly margins: (load: LoadOfCall, fuel_kg: number, balance?: WithBalance) => readonly Margin[];
  /** What may be burnt beyond the plan. */
  readonly contingency_kg: (load: LoadOfCall, fuel_kg: number) => number;
};

type LegOf = typeof legBetween;

export function callPlanner(known: CallKnown, wayBetween: LegOf = legBetween): CallPlanner {
  const { sheet, state, situation } = known;
  const craft = craftConfigOf(state);
  const flow = flowModelOf(sheet, craft);
  const charts = powerChartsOf(sheet, craft);
  const ruleSet = situation.settings.ruleSet ?? "eu";
  const places = boardingPlaces(sheet, state);
  const variant = sheet.type.variants.find(({ id }) => id === craft.variant);
  const loadsByOperation = new Map<string, CallLoads>();
  const balances = new Map<string, BalanceSet>();
  const limitsByPlace = new Map<string, readonly UseLimit[]>();
  const legsByEnds = new Map<string, Pick<RouteLeg, "distance_nm" | "track_deg">>();

  const loadsFor = (operation: Operation): CallLoads =>
    kept(loadsByOperation, operation.id, () => callLoads(sheet, state, operation));
  const legOf = (from: CallPlace, to: CallPlace) =>
    // By name as well: a reference call has ways and no places.
    kept(
      legsByEnds,
      `${from.name} ${from.lat_deg} ${from.lon_deg} ${to.name} ${to.lat_deg} ${to.lon_deg}`,
      () => wayBetween(from, to),
    );

  const usesAt = (
    operation: Operation,
    air: SiteAir | null,
    headwind_kt: number | null,
  ): readonly UseLimit[] =>
    kept(
      limitsByPlace,
      `${operation.id} ${air?.pressureAltitude_ft} ${air?.temperature_C} ${headwind_kt}`,
      () =>
        limitsOfUses(
          operation.needs.power,
          charts,
          air,
          headwind_kt,
          windCredits[ruleSet],
          variant?.minMass_kg ?? 1,
        ),
    );

  function prepare(call: Call): PreparedCall {
    const operation = checkCall(known, call);
    const route = routeOf(call, legOf);
    const visited = [call.from, ...call.stops.map(({ place }) => place)];
    const airs = visited.map((place) => siteAir(place.elevation_ft, call.air));
    const uses = airs.map((air, index) =>
      index === 0 && call.isAirborne
        ? []
        : usesAt(operation, air, call.stops[index - 1]?.headwind_kt ?? null),
    );
    const { loads, refused } = loadsFor(operation);
    const prepared = loads.map((load, index) => loadOfCall(call, load, `${operation.id} ${index}`));
    const sayings = sayingsOf(known, call, route);
    const lights = lightsOf(known, call, route);
    const track: PreparedCall["track"] = (load, fuel_kg, burning = "most") => {
      const dry_kg = load[burning === "most" ? "full" : "least"].map(({ mass_kg }) => mass_kg);
      return trackCall({ call, route, dry_kg, flow, fuelFlow: sheet.fuelFlow, airs }, fuel_kg);
    };
    const isNight = lights.some((light) => light !== "day");
    // What was said of the load and cannot be reckoned may be the heaviest of all that was said.
    const unread = loads.length > 0 && refused.length > 0 ? [notKnown("mass", refused[0]!.path)] : [];
    const fixed = [
      ...unread.map((margin) => ({ ...margin, stop: -1 })),
      ...sayings.margins,
      ...noticeMargins(known, call, route),
      ...counterMargins(call, route, sayings.limits),
    ];
    const rules = ruleMargins(known, { call, route, airs, isNight });
    const base = {
      call,
      operation,
      route,
      flow,
      airs,
      uses,
      loads: prepared,
      refused,
      sayings,
      lights,
      toAlternate: wayToAlternate(call, legOf),
      boardingPlaces: places,
      fixed,
      rules,
      track,
    };
    const margins: PreparedCall["margins"] = (load, fuel_kg, balance = "withBalance") => [
      ...fixed,
      ...loadMargins(known, base, load, fuel_kg, isNight, balance),
      ...rules,
    ];
    const contingency_kg = (load: LoadOfCall, fuel_kg: number): number =>
      requiredFuel(known, base, load, track(load, fuel_kg), isNight)?.[0]?.plan.contingency_kg ?? 0;
    return { ...base, margins, contingency_kg };
  }

  function loadOfCall(call: Call, load: CallLoad, key: string): LoadOfCall {
    const hoist = sheet.hoist;
    const gone = new Set(call.without);
    const onLegs = aboardOnLegs(call);
    const full: Totals[] = [];
    const least: Totals[] = [];
    const balance: (() => BalanceSet)[] = [];
    const hook: ((() => BalanceSet) | null)[] = [];
    for (const [index, stop] of call.stops.entries()) {
      const before = call.stops[index - 1];
      if (before !== undefined) for (const kit of before.kitLeft) gone.add(kit);
      const base = load.kit.reduce(
        (sum, { kit, totals }) => (gone.has(kit) ? sum : addTotals(sum, totals)),
        load.bare,
      );
      const open = onLegs[index]!.flatMap((boarding): OpenBoarding[] => {
        const station = places.find(({ id }) => id === boarding.at);
        return station === undefined
          ? []
          : [
              {
                x_m: station.x_m,
                y_m: station.y_m,
                most_kg: boarding.most_kg,
                isExact: boarding.exact === true,
              },
            ];
      });
      const sum = (all: readonly OpenBoarding[]): Totals =>
        all.reduce((total, one) => addTotals(total, totalsAt(one, one.most_kg)), base);
      full.push(sum(open));
      least.push(sum(open.filter(({ isExact }) => isExact)));
      const setKey = `${key} ${[...gone].sort().join(",")} ${open.map((one) => `${one.x_m} ${one.y_m} ${one.most_kg} ${one.isExact}`).join(";")}`;
      balance.push(() => kept(balances, setKey, () => balanceSet(base, open, load.line, load.limits)));
      if (stop.hook_kg === null || hoist === undefined) hook.push(null);
      else {
        // An empty hook hangs there in any case; what is on it may be anything up to the most.
        const empty = addTotals(base, totalsAt(hoist, hoist.attachment_kg));
        const onHook = { x_m: hoist.x_m, y_m: hoist.y_m, most_kg: stop.hook_kg, isExact: false };
        const all = [...open, onHook];
        hook.push(() =>
          kept(balances, `${setKey} hook ${stop.hook_kg}`, () =>
            balanceSet(empty, all, load.line, load.limits),
          ),
        );
      }
    }
    return { load, full, least, balance, hook };
  }

  function assess(call: Call): CallAnswer {
    const prepared = prepare(call);
    const judged = prepared.loads.map((load) => {
      const fuels = [call.fuel_kg, ...(call.mostFuel_kg === null ? [] : [call.mostFuel_kg])];
      const margins = sortMargins([...new Set(fuels)].flatMap((fuel_kg) => prepared.margins(load, fuel_kg)));
      return { load, margins, verdict: verdictOf(margins, prepared) };
    });
    const worst = judged.reduce<(typeof judged)[number] | null>(
      (held, one) => (held === null || isWorse(one, held) ? one : held),
      null,
    );
    const margins =
      worst?.margins ??
      sortMargins([
        ...prepared.fixed,
        notKnown("mass", prepared.refused[0]?.path ?? "load"),
        ...prepared.rules,
      ]);
    const verdict = verdictOf(margins, prepared);
    const track = worst === null ? null : prepared.track(worst.load, call.fuel_kg);
    const { route } = prepared;
    return {
      call,
      at_ms: situation.now_ms,
      verdict,
      isAcceptable: verdict === "notKnown" ? null : verdict !== "notReady",
      legs: legsOf(prepared, worst?.load ?? null, track),
      stops: stopsOf(prepared, worst?.load ?? null, track),
      fuel: worst === null || track === null ? null : fuelOf(known, prepared, worst.load, track),
      ends_ms: Number.isFinite(route.ends_ms) ? route.ends_ms : null,
      margins,
      reasons: prepared.sayings.reasons,
      questions: call.stops.flatMap(({ place }, stop) =>
        askAboutPlace(place, call.from, farthest_nm(known, call), known.land).map((question) => ({
          ...question,
          stop,
        })),
      ),
      aboutSites: aboutSites(known, call, prepared.lights),
      assumed: worst?.load.load.isAssumed === true ? ["crew"] : [],
      evidence: worst?.load.load.evidence ?? [],
    };
  }

  return { assess, prepare };
}

function kept<Value>(held: Map<string, Value>, key: string, make: () => Value): Value {
  let value = held.get(key);
  if (value === undefined) {
    // What was asked long ago gives way, so that a day of asking does not grow without end.
    if (held.size > 512) held.clear();
    value = make();
    held.set(key, value);
  }
  return value;
}

// ---- the question ------------------------------------------------------------------------------------------------------

function checkCall({ sheet }: CallKnown, call: Call): Operation {
  const issues: Issue[] = [];
  const need = (value: number, path: string, low: number, high: number): void => {
    if (!(value >= low && value <= high))
      issues.push({ path, code: "outsideDomain", found: describe(value), wanted: `${low} … ${high}` });
  };
  const operation = sheet.operations.find(({ id }) => id === call.operation);
  if (call.stops.length === 0)
    issues.push({ path: "stops", code: "missing", found: "none", wanted: "a stop" });
  need(call.fuel_kg, "fuel_kg", 0, 1e6);
  if (call.mostFuel_kg !== null) need(call.mostFuel_kg, "mostFuel_kg", call.fuel_kg, 1e6);
  need(call.tas_kt, "tas_kt", 1, 400);
  need(call.depart_ms, "depart_ms", -8.64e15, 8.64e15);
  const { wind } = call.air;
  if (wind !== null) need(wind.speed_kt, "air.wind.speed_kt", 0, 200);
  if (wind !== null && wind.from_deg !== null) need(wind.from_deg, "air.wind.from_deg", 0, 360);
  for (const [name, height_ft] of Object.entries(call.heights ?? {}))
    if (height_ft !== null) need(height_ft, atKey("heights", name), -2_000, 36_000);
  for (const [index, stop] of call.stops.entries()) {
    const path = atIndex("stops", index);
    need(stop.stay_min, atKey(path, "stay_min"), 0, 10_080);
    need(stop.uplift_kg, atKey(path, "uplift_kg"), 0, 1e6);
    if (stop.hook_kg !== null) need(stop.hook_kg, atKey(path, "hook_kg"), 0, 2_000);
    for (const [at, { most_kg }] of stop.boards.entries())
      need(most_kg, atKey(atIndex(atKey(path, "boards"), at), "most_kg"), 0, 1_000);
  }
  const [first, ...others] = issues;
  if (first !== undefined) throw new Refusal([first, ...others]);
  return operation ?? refuse("operation", "outsideDomain", call.operation, "an operation of the sheet");
}

/** What full tanks could ever reach, one way, in calm air at the least flow of the table. */
function farthest_nm({ sheet }: CallKnown, { tas_kt }: Call): number {
  const tank_kg = sheet.tanks.reduce((sum, { usable_kg }) => sum + usable_kg, 0);
  const least_kgh = Math.min(...sheet.fuelFlow.cruise.map(({ flow_kgh }) => flow_kgh));
  return (tas_kt * tank_kg) / least_kgh;
}

function lightsOf(known: CallKnown, call: Call, route: Route): readonly ("day" | "night" | null)[] {
  const { lightAt } = known;
  if (lightAt === null) return [null, ...call.stops.map(() => null)];
  const at = (place: CallPlace, times: readonly number[]): "day" | "night" | null => {
    if (!times.every((time) => Number.isFinite(time))) return null;
    return times.every((time) => lightAt(place, time) === "day") ? "day" : "night";
  };
  return [
    at(call.from, [call.depart_ms]),
    ...call.stops.map(({ place }, index) => {
      const { arrive_ms, leave_ms } = route.stops[index]!;
      return at(place, index === call.stops.length - 1 ? [arrive_ms] : [arrive_ms, leave_ms]);
    }),
  ];
}

function wayToAlternate(call: Call, wayBetween: LegOf): PreparedCall["toAlternate"] {
  if (call.alternate === null) return null;
  const last = call.stops.at(-1)!;
  const { legs } = routeOf(
    { ...call, from: last.place, stops: [{ ...last, place: call.alternate, stay_min: 0 }] },
    wayBetween,
  );
  return { hours: legs[0]!.hours, air: siteAir(call.alternate.elevation_ft, call.air) };
}

// ---- margins -----------------------------------------------------------------------------------------------------------

type Base = Omit<PreparedCall, "margins" | "contingency_kg">;

function loadMargins(
  known: CallKnown,
  base: Base,
  { load, full, least, balance, hook }: LoadOfCall,
  fuel_kg: number,
  isNight: boolean,
  withBalance: WithBalance,
): Margin[] {
  const { call, uses } = base;
  const loadOf: LoadOfCall = { load, full, least, balance, hook };
  const track = base.track(loadOf, fuel_kg);
  // Whoever is aboard may weigh nothing: then more fuel is left, for every mass that is compared with a most.
  const spared = base.track(loadOf, fuel_kg, "least");
  const { sheet } = known;
  const found: Margin[] = [];
  const isFlown = track.to_kg.every((value) => Number.isFinite(value));
  const needed = requiredFuel(known, base, loadOf, track, isNight);
  if (!isFlown || needed === null) found.push(notKnown("fuel", whyNotFlown(base)));
  else
    for (const { from_kg, plan } of needed)
      found.push(
        marginOf("fuel", from_kg - plan.required_kg, "kg", from_kg, plan.required_kg, plan.required_kg),
      );
  found.push(
    marginOf(
      "tank",
      load.tank_kg - mostFuel(call, track, fuel_kg),
      "kg",
      mostFuel(call, track, fuel_kg),
      load.tank_kg,
      load.tank_kg,
    ),
  );
  const most_kg = Math.min(load.limits.mass?.most_kg ?? Number.NaN, ...massLimits(base.sayings.limits));
  const masses = massesAt(call, full, spared, fuel_kg);
  for (const [index, mass_kg] of masses.entries()) {
    const stop = index - 1;
    if (!Number.isFinite(mass_kg)) continue;
    found.push({ ...marginOf("mass", most_kg - mass_kg, "kg", mass_kg, most_kg, most_kg), stop });
    for (const limit of uses[index] ?? []) found.push({ ...marginOfUse(limit, mass_kg), stop });
  }
  if (masses.every((mass) => !Number.isFinite(mass))) found.push(notKnown("mass", "fuelFlow"));
  const contingency_kg = needed?.[0]?.plan.contingency_kg ?? 0;
  const least_kg = load.limits.mass?.least_kg;
  for (const [leg, set] of balance.entries()) {
    const from = spared.from_kg[leg]!;
    const to = Math.max(0, track.to_kg[leg]! - contingency_kg);
    if (!Number.isFinite(from) || !Number.isFinite(to)) continue;
    if (withBalance === "withBalance")
      found.push({ ...balanceMargin(set(), from, Math.min(to, from), load.tank_kg), leg });
    if (least_kg !== undefined) {
      const lightest = least[leg]!.mass_kg + Math.min(to, from);
      found.push({ ...marginOf("leastMass", lightest - least_kg, "kg", lightest, least_kg, least_kg), leg });
    }
  }
  for (const [stop, set] of hook.entries()) {
    if (set === null || withBalance === "withoutBalance") continue;
    const from = spared.to_kg[stop]!;
    const burnt =
      call.stops[stop]!.engines === "hover"
        ? (sheet.fuelFlow.hover_kgh * call.stops[stop]!.stay_min) / 60
        : 0;
    const to = Math.max(0, track.to_kg[stop]! - burnt);
    if (Number.isFinite(from))
      found.push({ ...balanceMargin(set(), from, Math.min(to, from), load.tank_kg), stop, what: "hook" });
  }
  if (load.placeOver !== null) found.push({ ...isBroken("place"), what: load.placeOver });
  found.push(...boardingMargins(base), ...doubledPlaces(call, load.taken), ...hookMargins(known, base));
  return found;
}

/** The most fuel that is ever aboard: at the start, or after an uplift. */
function mostFuel({ stops }: Call, track: Track, start_kg: number): number {
  return stops.reduce(
    (most, { uplift_kg }, index) => (uplift_kg > 0 ? Math.max(most, track.to_kg[index]! + uplift_kg) : most),
    start_kg,
  );
}

/** At each stop, the start first, the larger of landing and take-off mass, with everybody at the most. */
function massesAt(call: Call, full: readonly Totals[], track: Track, fuel_kg: number): number[] {
  const hookAt = call.stops.map(({ hook_kg }) => hook_kg ?? 0);
  return [-1, ...call.stops.keys()].map((stop) => {
    const landing =
      stop === -1 ? Number.NEGATIVE_INFINITY : full[stop]!.mass_kg + track.to_kg[stop]! + hookAt[stop]!;
    const isLast = stop === call.stops.length - 1;
    const takeoff = isLast ? Number.NEGATIVE_INFINITY : full[stop + 1]!.mass_kg + track.from_kg[stop + 1]!;
    // In flight there is no take-off, and the mass now is what counts.
    if (stop === -1 && call.isAirborne) return full[0]!.mass_kg + fuel_kg;
    return landing > takeoff ? landing : takeoff;
  });
}

function marginOfUse({ use, is, most_kg, beyond, room_C }: UseLimit, mass_kg: number): Margin {
  if (is === "notKnown") return notKnown(use, "chart");
  if (is === "never")
    return room_C === null ? isBroken(use) : marginOf(use, room_C, "C", null, null, scale_C);
  if (is === "always")
    return room_C === null
      ? { ...isBroken(use), met: true }
      : marginOf(use, room_C, "C", null, null, scale_C);
  const margin = marginOf(use, most_kg - mass_kg, "kg", mass_kg, most_kg, most_kg);
  return margin.met === false && beyond === "notKnown" ? { ...margin, met: null, what: "chartEnds" } : margin;
}

/** Ten degrees of room count as much as a tenth of the mass would. */
const scale_C = 100;

function balanceMargin(
  { isKnown, ends, byLimit }: BalanceSet,
  from_kg: number,
  to_kg: number,
  tank_kg: number,
): Margin {
  if (!isKnown) return notKnown("balance", "limitsMissing");
  const room = balanceRoom(ends, from_kg, to_kg);
  const what =
    byLimit
      .map(({ limit, ends: own }) => ({ limit, room: balanceRoom(own, from_kg, to_kg) }))
      .toSorted((a, b) => a.room - b.room)[0]?.limit ?? null;
  if (room === Number.NEGATIVE_INFINITY) return { ...isBroken("balance"), what };
  if (room === Number.POSITIVE_INFINITY) return { ...isBroken("balance"), met: true, what: null };
  return { ...marginOf("balance", room, "kg", null, null, tank_kg), what };
}

function boardingMargins({ call, boardingPlaces: places }: Base): Margin[] {
  const everybody = [
    ...call.aboard.map((boarding) => ({ boarding, stop: -1 })),
    ...call.stops.flatMap(({ boards }, stop) => boards.map((boarding) => ({ boarding, stop }))),
  ];
  return everybody.map(({ boarding: { at, most_kg }, stop }) => {
    const station = places.find(({ id }) => id === at);
    if (station === undefined) return { ...isBroken("place"), stop, what: at };
    return {
      ...marginOf("place", station.most_kg - most_kg, "kg", most_kg, station.most_kg, station.most_kg),
      stop,
      what: at,
    };
  });
}

function hookMargins({ sheet }: CallKnown, { call, sayings }: Base): Margin[] {
  const { hoist } = sheet;
  return call.stops.flatMap(({ hook_kg }, stop) => {
    if (hook_kg === null) return [];
    if (hoist === undefined) return [{ ...isBroken("hook"), stop }];
    const limits = sayings.limits
      .filter(({ quantity }) => quantity === "hookLoad_kg" || quantity === "hoistLoad_kg")
      .map(({ value }) => value);
    const most = Math.min(hoist.maxLoad_kg - hoist.attachment_kg, ...limits);
    return [{ ...marginOf("hook", most - hook_kg, "kg", hook_kg, most, most), stop }];
  });
}

const massLimits = (limits: readonly Limit[]): number[] =>
  limits.filter(({ quantity }) => quantity === "mass_kg").map(({ value }) => value);

/** Hours, landings, starts and hoist cycles that are left, against what the call takes. */
function counterMargins(call: Call, route: Route, limits: readonly Limit[]): Margin[] {
  const landings = call.stops.filter(({ engines }) => engines !== "hover").length;
  const taken = {
    flightHours_h: route.flight_h,
    landings,
    // Of deferrals that count so: a flight ends with each landing.
    flights: landings,
    cycles: landings,
    starts:
      (call.isAirborne ? 0 : 1) +
      call.stops.slice(0, -1).filter(({ engines }) => engines === "stopped").length,
    hoistCycles: call.stops.filter(({ hook_kg }) => hook_kg !== null).length,
  };
  return limits.flatMap(({ quantity, value }) => {
    if (!Object.hasOwn(taken, quantity)) return [];
    const kind = quantity as keyof typeof taken;
    const is = taken[kind];
    if (!Number.isFinite(is)) return [notKnown(kind, "time")];
    // Nothing is left to be used up when the call is over: what falls due in flight was due before it.
    return [
      marginOf(kind, value - is, kind === "flightHours_h" ? "h" : "count", is, value, Math.max(is, 1e-9)),
    ];
  });
}

function whyNotFlown({ call, route }: Base): string {
  if (call.air.wind === null) return "wind";
  if (route.legs.some(({ hours }) => !Number.isFinite(hours))) return "track";
  return "fuelFlow";
}

// ---- fuel --------------------------------------------------------------------------------------------------------------

type Stretch = {
  readonly from_kg: number;
  readonly plan: ReturnType<typeof planFuel>;
  readonly cite: string;
};

/** What each stretch from a refuelling on needs; null where the way to the alternate is not known. */
function requiredFuel(
  known: CallKnown,
  base: Base,
  { full }: LoadOfCall,
  track: Track,
  isNight: boolean,
): readonly Stretch[] | null {
  const { call, flow, airs, toAlternate } = base;
  const landed_kg = full.at(-1)!.mass_kg;
  const { sheet, situation, policy } = known;
  const ruleSet = situation.settings.ruleSet ?? "eu";
  const reserve = fuelReserve({
    ruleSet,
    flightRules: call.flightRules,
    light: isNight ? "night" : "day",
    landmarks: policy.landmarks,
    hems: policy.hems,
  });
  const flows = [...track.flow_kgh].filter((value) => value > 0);
  const reserveFlow_kgh =
    reserve.at === "reserve" ? sheet.fuelFlow.reserve_kgh : Math.max(...flows, sheet.fuelFlow.reserve_kgh);
  const least_pct = leastContingency_pct({
    ruleSet,
    flightRules: call.flightRules,
    hems: policy.hems,
    hostile: false,
  });
  const starts = [
    0,
    ...call.stops.flatMap(({ uplift_kg }, index) =>
      uplift_kg > 0 && index + 1 < call.stops.length ? [index + 1] : [],
    ),
  ];
  const stretches: Stretch[] = [];
  // What a stretch may burn beyond its plan is not counted on by the next: an uplift of nothing must change nothing.
  let spent_kg = 0;
  for (const [which, first] of starts.entries()) {
    const end = starts[which + 1] ?? call.stops.length;
    let trip_kg = 0;
    let running_kg = 0;
    for (let leg = first; leg < end; leg += 1) {
      trip_kg += track.from_kg[leg]! - track.to_kg[leg]! + track.hover_kg[leg]!;
      running_kg += track.ground_kg[leg]!;
    }
    let alternate_kg = 0;
    if (end === call.stops.length && toAlternate !== null && toAlternate.hours !== 0)
      alternate_kg =
        toAlternate.hours *
        flowBetween_kgh(
          flow,
          call.tas_kt,
          landed_kg + track.to_kg.at(-1)!,
          airs.at(-1) ?? null,
          toAlternate.air,
        );
    if (!Number.isFinite(trip_kg + alternate_kg) || trip_kg < 0) return null;
    const plan = planFuel({
      trip_kg,
      running: [{ time_min: 60, flow_kgh: running_kg }],
      contingency_pct: Math.max(policy.contingency_pct, least_pct),
      alternate_kg,
      reserve,
      reserveFlow_kgh,
      extra_kg: policy.extra_kg,
    });
    const from_kg = track.from_kg[first]! + track.ground_kg[first]! + track.hover_kg[first]! - spent_kg;
    spent_kg += plan.contingency_kg;
    stretches.push({ from_kg, plan, cite: reserve.citation.cite });
  }
  return stretches;
}

function fuelOf(known: CallKnown, prepared: PreparedCall, load: LoadOfCall, track: Track): CallFuel | null {
  const isNight = prepared.lights.some((light) => light !== "day");
  const stretches = requiredFuel(known, prepared, load, track, isNight);
  if (stretches === null || !track.to_kg.every((value) => Number.isFinite(value))) return null;
  const binding = stretches.reduce((held, one) =>
    one.from_kg - one.plan.required_kg < held.from_kg - held.plan.required_kg ? one : held,
  );
  const atLastLanding_kg = track.to_kg.at(-1)!;
  const flow_kgh = track.flow_kgh.at(-1)! > 0 ? track.flow_kgh.at(-1)! : known.sheet.fuelFlow.reserve_kgh;
  return {
    ...binding.plan,
    fuel_kg: binding.from_kg,
    atLastLanding_kg,
    cite: binding.cite,
    spare_min: ((atLastLanding_kg - binding.plan.finalReserve_kg) / flow_kgh) * 60,
  };
}

// ---- what is told ------------------------------------------------------------------------------------------------------

function verdictOf(margins: readonly Margin[], { sayings, loads }: PreparedCall): CallVerdict {
  const effects = new Set(sayings.reasons.map(({ effect }) => effect));
  if (effects.has("blocks") || margins.some(({ met }) => met === false)) return "notReady";
  const isAssumed = loads.some(({ load }) => load.isAssumed);
  if (effects.has("unknown") || isAssumed || margins.some(({ met }) => met === null)) return "notKnown";
  return effects.has("limits") ? "withinLimits" : "ready";
}

const order: readonly CallVerdict[] = ["ready", "withinLimits", "notKnown", "notReady"];

type Judged = { readonly margins: readonly Margin[]; readonly verdict: CallVerdict };

function isWorse(one: Judged, held: Judged): boolean {
  const by = order.indexOf(one.verdict) - order.indexOf(held.verdict);
  if (by !== 0) return by > 0;
  return (one.margins[0]?.share ?? 0) < (held.margins[0]?.share ?? 0);
}

const orNull = (value: number | undefined): number | null =>
  value !== undefined && Number.isFinite(value) ? value : null;

function legsOf({ call, route }: PreparedCall, load: LoadOfCall | null, track: Track | null): CallLeg[] {
  return route.legs.map((leg, index): CallLeg => {
    const from = index === 0 ? call.from : call.stops[index - 1]!.place;
    const [from_kg, to_kg] = [orNull(track?.from_kg[index]), orNull(track?.to_kg[index])];
    const dry = load?.full[index];
    return {
      from: from.name,
      to: call.stops[index]!.place.name,
      distance_nm: leg.distance_nm,
      track_deg: leg.track_deg,
      groundspeed_kt: orNull(leg.groundspeed_kt),
      time_min: orNull(leg.hours * 60),
      flow_kgh: orNull(track?.flow_kgh[index]),
      fuel_kg: from_kg === null || to_kg === null ? null : from_kg - to_kg,
      fuelAtStart_kg: from_kg,
      fuelAtEnd_kg: to_kg,
      takeoffMass_kg: dry === undefined || from_kg === null ? null : dry.mass_kg + from_kg,
      landingMass_kg: dry === undefined || to_kg === null ? null : dry.mass_kg + to_kg,
      // Drawn by a screen that wants it; a solver never asks.
      get balance() {
        if (load === null || dry === undefined || from_kg === null || to_kg === null) return null;
        if (to_kg < 0 || from_kg > load.load.tank_kg) return null;
        return trackBurn(dry, { line: load.load.line, from_kg, to_kg }, load.load.limits);
      },
    };
  });
}

function stopsOf(
  { call, route, airs, uses, lights }: PreparedCall,
  load: LoadOfCall | null,
  track: Track | null,
): StopAnswer[] {
  const masses = load === null || track === null ? [] : massesAt(call, load.full, track, call.fuel_kg);
  const tell = (
    index: number,
    of: Pick<StopAnswer, "name" | "role" | "arrive_ms" | "leave_ms">,
  ): StopAnswer => ({
    ...of,
    pressureAltitude_ft: airs[index]?.pressureAltitude_ft ?? null,
    temperature_C: airs[index]?.temperature_C ?? null,
    light: lights[index] ?? null,
    mass_kg: orNull(masses[index]),
    fuelAtArrival_kg: index === 0 ? call.fuel_kg : orNull(track?.to_kg[index - 1]),
    power: (uses[index] ?? []).map(({ use, most_kg }) => ({ use, most_kg: orNull(most_kg) })),
  });
  const start = { name: call.from.name, role: call.isAirborne ? "other" : "base" } as const;
  return [
    tell(0, { ...start, arrive_ms: null, leave_ms: call.depart_ms }),
    ...call.stops.map(({ place, role }, index) => {
      const { arrive_ms, leave_ms } = route.stops[index]!;
      const isLast = index === call.stops.length - 1;
      return tell(index + 1, {
        name: place.name,
        role,
        arrive_ms: orNull(arrive_ms),
        leave_ms: isLast ? null : orNull(leave_ms),
      });
    }),
  ];
}
