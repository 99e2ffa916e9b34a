// Until when a call that is acceptable may leave: the last departure at which it still is, and what ends it.
//
// With one air for the whole call its legs take as long whenever it leaves, so that its answer changes only where something
// in it comes to lie before or after an instant of its own: where a reason, a notice or darkness begins or ends at the time
// of a visit. Those instants, each moved back by how far the visit lies into the call, are all departures at which anything
// can change; on both sides of each the call is assessed anew. Exact to the millisecond, within a day.
import { hour_ms } from "../facts/instant.ts";
import { plannerOf } from "./assess-call.ts";
import type { Call, CallKnown, CallPlace, Margin } from "./call.ts";
import { isAbout } from "./site-questions.ts";

const within_ms = 24 * hour_ms;

type Visit = {
  readonly place: CallPlace;
  /** After departure. */
  readonly arrive_ms: number;
  readonly leave_ms: number;
};

function visitsOf(known: CallKnown, call: Call): readonly Visit[] {
  const { route } = plannerOf(known).prepare(call);
  const last = call.stops.length - 1;
  return [
    { place: call.from, arrive_ms: 0, leave_ms: 0 },
    ...call.stops.map(({ place }, index) => {
      const { arrive_ms, leave_ms } = route.stops[index]!;
      return {
        place,
        arrive_ms: arrive_ms - call.depart_ms,
        leave_ms: (index === last ? arrive_ms : leave_ms) - call.depart_ms,
      };
    }),
  ];
}

/** The changes of light at a place, one after the other. */
function lightChanges(known: CallKnown, place: CallPlace, from_ms: number, until_ms: number): number[] {
  const found: number[] = [];
  let at_ms = known.lightChange?.(place, from_ms) ?? null;
  while (at_ms !== null && at_ms < until_ms) {
    found.push(at_ms);
    at_ms = known.lightChange?.(place, at_ms) ?? null;
  }
  return found;
}

/**
 * Departures in [from, until] between which the answer cannot change, in order: each instant at which something begins or
 * ends for a visit, the last millisecond before it, and both ends. Empty where the times of the call are not known.
 */
export function departuresBefore(
  known: CallKnown,
  call: Call,
  from_ms: number,
  until_ms: number,
): readonly number[] {
  const visits = visitsOf(known, call);
  const end = visits.at(-1)!;
  if (!visits.every(({ leave_ms }) => Number.isFinite(leave_ms))) return [];
  const ofVisit = ({ place, arrive_ms, leave_ms }: Visit): number[] => {
    const sky = known.skyAt?.(place, from_ms, until_ms + leave_ms) ?? [];
    const notices = known.notices.filter((notice) => isAbout(notice, place));
    const starts = [...sky, ...notices].flatMap((one) => one.from_ms ?? []);
    const ends = [...sky, ...notices].flatMap((one) => one.until_ms ?? []);
    const light = lightChanges(known, place, from_ms, until_ms + leave_ms);
    return [
      ...[...starts, ...light].map((at_ms) => at_ms - leave_ms),
      ...[...ends, ...light].map((at_ms) => at_ms - arrive_ms),
    ];
  };
  const ofRecord = known.reasons.flatMap((one) => [
    ...(one.from_ms === null ? [] : [one.from_ms - end.arrive_ms]),
    ...(one.until_ms === null ? [] : [one.until_ms]),
  ]);
  const changes = [...visits.flatMap(ofVisit), ...ofRecord].flatMap((at_ms) => [
    Math.ceil(at_ms) - 1,
    Math.ceil(at_ms),
    Math.floor(at_ms) + 1,
  ]);
  return [...new Set([from_ms, ...changes, until_ms])]
    .filter((at_ms) => at_ms >= from_ms && at_ms <= until_ms)
    .toSorted((a, b) => a - b);
}

export type LatestDeparture = {
  readonly depart_ms: number;
  /** When the call is then over. */
  readonly ends_ms: number;
  /** What is not met, or not known, a moment later. */
  readonly because: Margin;
};

/** Null where the call is not acceptable now, and where nothing ends it within a day. */
export function latestDeparture(known: CallKnown, call: Call): LatestDeparture | null {
  const { assess } = plannerOf(known);
  if (call.isAirborne || assess(call).isAcceptable !== true) return null;
  let depart_ms = call.depart_ms;
  for (const at_ms of departuresBefore(known, call, call.depart_ms, call.depart_ms + within_ms)) {
    const answer = assess({ ...call, depart_ms: at_ms });
    if (answer.isAcceptable === true) {
      depart_ms = at_ms;
      continue;
    }
    const because = answer.margins[0]!;
    const ends_ms = depart_ms + ((answer.ends_ms ?? at_ms) - at_ms);
    return { depart_ms, ends_ms, because };
  }
  return null;
}
