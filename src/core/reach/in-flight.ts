// In flight, for one hand: fuel now against the plan, a hospital instead of another, a second patient, and loading again at
// the scene with what is known and what is not.
//
// Each makes the call that is left of the one that was planned, from where the craft is now, airborne, with the fuel that
// is on board; the plain assessment answers it. Where it is on a leg follows from the minutes still to go, at the planned
// ground speed back along the leg; no minutes to go: it stands at the stop, and the stay and the take-off there are still
// to come. A fuel check (AMC1 CAT.OP.MPA.281): planned against actual at a stop or at
// an instant on a leg, straight between its ends; action is due when what would be left at the last landing is less than
// alternate and final reserve. Loading again: three weighed masses and one that is not known come aboard at the stop; told
// is the greatest that the fourth may be, solved as a patient's mass is.
// A second patient is asked of every free seat and stretcher; where it does not go, the lightest kit that has to stay at the
// scene, one piece or two, for which it does. Landing elsewhere is asked of every place, and ranked by the whole answer.
// Refuses (Refusal with its path) a leg or a stop that the call does not have, and what is no quantity of fuel.
import { describe, refuse } from "../quantity/refusal.ts";
import { below } from "../quantity/compare.ts";
import { geodesicBetween } from "../air/geodesic.ts";
import { assessCall, plannerOf } from "./assess-call.ts";
import { aboardOnLegs, type BoardingPlace } from "./boarding-places.ts";
import type { Boarding, Call, CallAnswer, CallKnown, CallPlace, CallStop, CallVerdict } from "./call.ts";
import { lastWhere } from "./first-where.ts";
import { placeFrom } from "./place-from.ts";

export type FuelCheck = {
  readonly planned_kg: number;
  readonly actual_kg: number;
  /** Positive: more than planned. */
  readonly difference_kg: number;
  /** At the last landing, if everything from here goes as planned. */
  readonly atLastLanding_kg: number;
  /** Alternate and final reserve. */
  readonly least_kg: number;
  /** What is left is less than that: replan or land. */
  readonly actIsDue: boolean;
};

function requireFuel(fuel_kg: number): void {
  if (!(fuel_kg >= 0 && fuel_kg < Number.POSITIVE_INFINITY))
    refuse("fuel_kg", "outsideDomain", describe(fuel_kg), "at least 0 kg");
}

/** Null where the plan has no fuel to compare with (a wind or a flow that is not known). */
export function checkFuel(plan: CallAnswer, at_ms: number, fuel_kg: number): FuelCheck | null {
  requireFuel(fuel_kg);
  const planned_kg = plannedAt(plan, at_ms);
  if (planned_kg === null || plan.fuel === null) return null;
  const { alternate_kg, finalReserve_kg, atLastLanding_kg } = plan.fuel;
  const difference_kg = fuel_kg - planned_kg;
  const least_kg = alternate_kg + finalReserve_kg;
  const left_kg = atLastLanding_kg + difference_kg;
  return {
    planned_kg,
    actual_kg: fuel_kg,
    difference_kg,
    atLastLanding_kg: left_kg,
    least_kg,
    actIsDue: below(left_kg, least_kg),
  };
}

/** What should be on board at an instant: straight along a leg; while standing, what was there at arrival. */
function plannedAt({ call, legs, stops }: CallAnswer, at_ms: number): number | null {
  let fuel_kg: number | null = call.fuel_kg;
  for (const [index, leg] of legs.entries()) {
    const leaves_ms = stops[index]?.leave_ms ?? null;
    const arrives_ms = stops[index + 1]?.arrive_ms ?? null;
    if (leaves_ms === null || arrives_ms === null || leg.fuelAtStart_kg === null || leg.fuelAtEnd_kg === null)
      return null;
    if (at_ms < leaves_ms) return fuel_kg;
    if (at_ms <= arrives_ms) {
      const share = arrives_ms === leaves_ms ? 1 : (at_ms - leaves_ms) / (arrives_ms - leaves_ms);
      return leg.fuelAtStart_kg + share * (leg.fuelAtEnd_kg - leg.fuelAtStart_kg);
    }
    fuel_kg = leg.fuelAtEnd_kg;
  }
  return fuel_kg;
}

export type Now = {
  /** The stop that is flown to next, by its place in the call. */
  readonly nextStop: number;
  readonly at_ms: number;
  readonly position: CallPlace;
  readonly fuel_kg: number;
};

/** Where the craft is, so many minutes before its next stop, by the ground speed that was planned; null without one. */
export function placeOnLeg({ call, legs }: CallAnswer, nextStop: number, toGo_min: number): CallPlace | null {
  const stop = call.stops[nextStop];
  const leg = legs[nextStop];
  if (stop === undefined || leg === undefined)
    return refuse("nextStop", "outsideDomain", describe(nextStop), `0 … ${call.stops.length - 1}`);
  if (!(toGo_min >= 0)) refuse("toGo_min", "outsideDomain", describe(toGo_min), "at least 0 min");
  if (toGo_min === 0) return stop.place;
  const before = call.stops[nextStop - 1]?.place ?? call.from;
  const { azimuth1 } = geodesicBetween(stop.place, before);
  if (leg.groundspeed_kt === null || azimuth1 === null) return null;
  const heights = [stop.place.elevation_ft, before.elevation_ft];
  return {
    ...placeFrom(stop.place, azimuth1, (leg.groundspeed_kt * toGo_min) / 60),
    name: stop.place.name,
    // A flow that asks for the height is read at the higher of both ends.
    elevation_ft: heights.includes(null) ? null : Math.max(...heights.map(Number)),
    site: null,
  };
}

/** What is left of a call from here, airborne. */
export function fromHere(call: Call, { nextStop, at_ms, position, fuel_kg }: Now): Call {
  requireFuel(fuel_kg);
  if (!(Number.isInteger(nextStop) && nextStop >= 0 && nextStop < call.stops.length))
    refuse("nextStop", "outsideDomain", describe(nextStop), `0 … ${call.stops.length - 1}`);
  const passed = call.stops.slice(0, nextStop);
  const gone = new Set(passed.flatMap(({ leaves }) => leaves));
  return {
    ...call,
    depart_ms: at_ms,
    from: position,
    isAirborne: true,
    stops: call.stops.slice(nextStop),
    fuel_kg,
    mostFuel_kg: null,
    aboard: [...call.aboard, ...passed.flatMap(({ boards }) => boards)].filter(({ id }) => !gone.has(id)),
    without: [...call.without, ...passed.flatMap(({ kitLeft }) => kitLeft)],
  };
}

/** The same with another place for the hospital; whoever would have left there leaves at the new one. */
export function divert(call: Call, to: CallPlace): Call {
  const at = call.stops.findIndex(({ role }) => role === "hospital");
  if (at === -1) refuse("stops", "missing", "no hospital", "a hospital to fly to instead of");
  return { ...call, stops: call.stops.map((stop, index) => (index === at ? { ...stop, place: to } : stop)) };
}

/** One more who boards at the scene and leaves where the first does. */
export function secondPatient(call: Call, boarding: Boarding): Call {
  const scene = call.stops.findIndex(({ role }) => role === "scene");
  if (scene === -1) refuse("stops", "missing", "no scene", "a scene to board at");
  const first = new Set(call.stops[scene]!.boards.map(({ id }) => id));
  return {
    ...call,
    stops: call.stops.map((stop, index) => {
      if (index === scene) return { ...stop, boards: [...stop.boards, boarding] };
      return stop.leaves.some((id) => first.has(id))
        ? { ...stop, leaves: [...stop.leaves, boarding.id] }
        : stop;
    }),
  };
}

export type Reloaded = {
  /** With the fourth at the greatest mass that is acceptable; at nothing where none is. */
  readonly call: Call;
  readonly answer: CallAnswer;
  /** The greatest mass of the one that is not known; null where the call is not acceptable even without. */
  readonly upTo_kg: number | null;
};

/** The call with these and nobody else boarding at the scene, and leaving at the hospital. */
export function boardAtScene(call: Call, boards: readonly Boarding[]): Call {
  const scene = call.stops.findIndex(({ role }) => role === "scene");
  if (scene === -1) refuse("stops", "missing", "no scene", "a scene to load at");
  const ids = boards.map(({ id }) => id);
  return {
    ...call,
    stops: call.stops.map((stop, index) => {
      if (index === scene) return { ...stop, boards };
      return stop.role === "hospital" ? { ...stop, leaves: [...new Set([...stop.leaves, ...ids])] } : stop;
    }),
  };
}

/**
 * Loading again at the scene: up to three weighed masses, and one whose mass nobody knows. Halved down to the last bit;
 * a range up to less is acceptable wherever one up to more is.
 */
export function reload(known: CallKnown, call: Call, weighed: readonly Boarding[], open: Boarding): Reloaded {
  const exact = weighed.map((boarding) => ({ ...boarding, exact: true }));
  const at = (most_kg: number): Call => boardAtScene(call, [...exact, { ...open, most_kg }]);
  const isAcceptable = (most_kg: number): boolean => assessCall(known, at(most_kg)).isAcceptable === true;
  const upTo_kg = lastWhere(isAcceptable, 0, open.most_kg);
  const loaded = at(upTo_kg ?? 0);
  return { call: loaded, answer: assessCall(known, loaded), upTo_kg };
}

// ---- where somebody could still go -------------------------------------------------------------------------------------

/** Seats and stretchers that are free when the craft leaves the scene. */
export function freePlaces(known: CallKnown, call: Call): readonly BoardingPlace[] {
  const { loads, boardingPlaces } = plannerOf(known).prepare(call);
  const scene = call.stops.findIndex(({ role }) => role === "scene");
  const aboard = aboardOnLegs(call)[scene + 1] ?? [];
  const used = new Set([...loads.flatMap(({ load }) => load.taken), ...aboard.map(({ at }) => at)]);
  return boardingPlaces.filter(({ id }) => !used.has(id));
}

export type SecondPatient = {
  readonly at: string;
  /** With what has to stay left at the scene. */
  readonly call: Call;
  readonly answer: CallAnswer;
  /** Kit that has to stay; none where it goes as it is, null where it does not go. */
  readonly stays: readonly string[] | null;
};

/** Whether one more goes, on each free place that takes the mass; those on which it goes as it is first. */
export function secondPatients(known: CallKnown, call: Call, most_kg: number): readonly SecondPatient[] {
  const asked = freePlaces(known, call)
    .filter((place) => most_kg <= place.most_kg)
    .map(({ id }): SecondPatient => {
      const both = secondPatient(call, { id: "second", at: id, most_kg });
      const found = [[], ...kitThatCouldStay(known, both)]
        .map((stays) => ({ stays, call: leftAtScene(both, stays) }))
        .find((one) => assessCall(known, one.call).isAcceptable === true);
      const told = found ?? { stays: null, call: both };
      return { at: id, ...told, answer: assessCall(known, told.call) };
    });
  const rank = ({ stays }: SecondPatient): number => stays?.length ?? Number.POSITIVE_INFINITY;
  return asked.toSorted((a, b) => (rank(a) < rank(b) ? -1 : rank(a) > rank(b) ? 1 : 0));
}

/** One piece, then two, the lightest first. */
function kitThatCouldStay(known: CallKnown, call: Call): readonly (readonly string[])[] {
  const gone = new Set([...call.without, ...call.stops.flatMap(({ kitLeft }) => kitLeft)]);
  const masses = new Map(
    plannerOf(known)
      .prepare(call)
      .loads.flatMap(({ load }) => load.kit.map(({ kit, totals }) => [kit, totals.mass_kg] as const)),
  );
  const ids = [...masses.keys()].filter((kit) => !gone.has(kit));
  const massOf = (kit: readonly string[]): number => kit.reduce((sum, one) => sum + masses.get(one)!, 0);
  const lightest = (groups: readonly (readonly string[])[]) =>
    groups.toSorted((a, b) => massOf(a) - massOf(b));
  return [
    ...lightest(ids.map((one) => [one])),
    ...lightest(ids.flatMap((one, index) => ids.slice(index + 1).map((other) => [one, other]))),
  ];
}

function leftAtScene(call: Call, kit: readonly string[]): Call {
  return {
    ...call,
    stops: call.stops.map((stop) =>
      stop.role === "scene" ? { ...stop, kitLeft: [...stop.kitLeft, ...kit] } : stop,
    ),
  };
}

export type Landing = { readonly place: CallPlace; readonly answer: CallAnswer };

/**
 * Landing at each place instead of going on, ranked by the whole answer: acceptable first, then the soonest there. `standing`:
 * the first stop of the call is where the craft is, and what boards there comes along.
 */
export function landingsFrom(
  known: CallKnown,
  call: Call,
  places: readonly CallPlace[],
  standing: boolean,
): readonly Landing[] {
  const before = standing ? call.stops.slice(0, 1) : [];
  const landing: Omit<CallStop, "place"> = {
    role: "hospital",
    stay_min: 0,
    engines: "running",
    boards: [],
    leaves: [],
    kitLeft: [],
    uplift_kg: 0,
    hook_kg: null,
    headwind_kt: null,
  };
  return places
    .map((place) => ({
      place,
      answer: assessCall(known, { ...call, alternate: null, stops: [...before, { ...landing, place }] }),
    }))
    .toSorted(
      (a, b) =>
        verdicts.indexOf(a.answer.verdict) - verdicts.indexOf(b.answer.verdict) ||
        (a.answer.ends_ms ?? Number.MAX_VALUE) - (b.answer.ends_ms ?? Number.MAX_VALUE),
    );
}

const verdicts: readonly CallVerdict[] = ["ready", "withinLimits", "notKnown", "notReady"];
