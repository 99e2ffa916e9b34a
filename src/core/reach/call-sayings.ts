// What the record and the sky say against a call in its time: every reason of the standing that is active at some moment
// from the start to the last landing, and every reason of the sky while the craft arrives, stays and leaves at each place.
//
// Reasons of load, reference call and the sky over the base are left out of the standing's: the call has its own. What
// blocks or is not known later than the call gives a margin in minutes, over the minutes of the call: a deferral that
// lapses, a duty that ends, dusk. Reasons that limit by a number are handed on as limits; which of them the call can be
// held to, its margins say.
import { minute_ms } from "../facts/instant.ts";
import type { Limit, Reason } from "../facts/reason.ts";
import type { Call, CallKnown, CallPlace, Margin, MarginKind } from "./call.ts";
import { isBroken, marginOf, notKnown } from "./call-margin.ts";
import type { Route } from "./call-route.ts";

export type Sayings = {
  /** Active in the call's time. */
  readonly reasons: readonly Reason[];
  readonly margins: readonly Margin[];
  readonly limits: readonly Limit[];
};

/** Matters of the standing that a call judges by itself. */
export const ownMatters = /^(?:load|reference|weather|light)\.|^due\.duringCall$/u;

export function sayingsOf(known: CallKnown, call: Call, route: Route): Sayings {
  const touches = ({ operations }: Reason): boolean =>
    operations === "all" || operations.includes(call.operation);
  const machine = known.reasons.filter((reason) => !ownMatters.test(reason.code) && touches(reason));
  const isTimed = Number.isFinite(route.ends_ms);
  const ends_ms = isTimed ? route.ends_ms : call.depart_ms;
  const minutes = Math.max((ends_ms - call.depart_ms) / minute_ms, 1);
  const reasons: Reason[] = [];
  const margins: Margin[] = [];
  const lastOff_ms = isTimed ? lastTakeOff_ms(call, route) : call.depart_ms;
  const take = (found: readonly Reason[], from_ms: number, last_ms: number, stop: number | null): void => {
    for (const reason of found) {
      const kind = kindOf(reason);
      const begins_ms = reason.from_ms ?? Number.NEGATIVE_INFINITY;
      const isLapse = mayLapseInFlight(reason, known);
      if (isLapse && begins_ms > lastOff_ms && begins_ms <= last_ms)
        reasons.push({ ...reason, code: "finding.lapsesInFlight", effect: "advises" });
      const until_ms = isLapse ? lastOff_ms : last_ms;
      if ((reason.until_ms ?? Number.POSITIVE_INFINITY) <= from_ms) continue;
      const weighs = reason.effect === "blocks" || reason.effect === "unknown";
      if (begins_ms <= until_ms) {
        if (!reasons.includes(reason)) reasons.push(reason);
        if (reason.effect === "blocks")
          margins.push({
            ...lateMargin(kind, begins_ms, until_ms, call.depart_ms, minutes),
            stop,
            what: reason.code,
          });
        else if (weighs) margins.push({ ...notKnown(kind, reason.code), stop });
      } else if (weighs) {
        const room = (begins_ms - until_ms) / minute_ms;
        margins.push({ ...marginOf(kind, room, "min", null, null, minutes), stop, what: reason.code });
      }
    }
  };
  take(machine, call.depart_ms, ends_ms, null);
  for (const { place, from_ms, until_ms, stop } of visits(call, route)) {
    if (known.skyAt === null || !Number.isFinite(from_ms)) {
      margins.push({ ...notKnown("weather", known.skyAt === null ? "sky" : "time"), stop });
      continue;
    }
    take(known.skyAt(place, from_ms, until_ms).filter(touches), from_ms, until_ms, stop);
  }
  const limits = reasons.flatMap(({ effect, limit }) =>
    effect === "limits" && limit !== undefined ? [limit] : [],
  );
  return { reasons, margins: nearest(margins), limits };
}

/** Not met by so many minutes where it began in the call; without a number where it stood before. */
function lateMargin(
  kind: MarginKind,
  begins_ms: number,
  until_ms: number,
  depart_ms: number,
  minutes: number,
): Margin {
  if (begins_ms <= depart_ms) return isBroken(kind);
  // One that begins just as the call ends still touches it.
  const late = Math.max((until_ms - begins_ms) / minute_ms, 1e-3);
  return { ...marginOf(kind, -late, "min", null, null, minutes), met: false };
}

/** When the craft takes off for the last time. */
export function lastTakeOff_ms({ stops, depart_ms }: Call, route: Route): number {
  return route.stops[stops.length - 2]?.leave_ms ?? depart_ms;
}

/**
 * A deferral by days that lapses between the last take-off and the last landing: pointed out, unless the operator forbids it.
 * Each take-off after it is forbidden in any case (ORO.MLR.105(e)(3)); no source settles the time in the air.
 */
export function mayLapseInFlight({ code, from_ms }: Reason, { situation }: CallKnown): boolean {
  if (code !== "finding.deferralLapsed" || from_ms === null) return false;
  return !(situation.settings.flightRules ?? []).some(({ lapseInFlight }) => lapseInFlight === "forbidden");
}

type Visit = {
  readonly place: CallPlace;
  readonly from_ms: number;
  readonly until_ms: number;
  readonly stop: number;
};

function visits(call: Call, route: Route): Visit[] {
  const start: Visit = { place: call.from, from_ms: call.depart_ms, until_ms: call.depart_ms, stop: -1 };
  const stops = call.stops.map(({ place }, stop): Visit => {
    const { arrive_ms, leave_ms } = route.stops[stop]!;
    const isLast = stop === call.stops.length - 1;
    return { place, from_ms: arrive_ms, until_ms: isLast ? arrive_ms : leave_ms, stop };
  });
  return call.isAirborne ? stops : [start, ...stops];
}

function kindOf({ code }: Reason): MarginKind {
  if (code.startsWith("light.")) return "light";
  return code.startsWith("weather.") ? "weather" : "record";
}

/** Of margins in time about one matter at one place only the nearest says anything. */
function nearest(margins: readonly Margin[]): readonly Margin[] {
  const held = new Map<string, Margin>();
  for (const margin of margins) {
    const key = margin.met === true ? `${margin.kind} ${margin.stop} ${margin.what}` : `${held.size}`;
    const before = held.get(key);
    if (before === undefined || (margin.room ?? 0) < (before.room ?? 0)) held.set(key, margin);
  }
  return [...held.values()];
}
