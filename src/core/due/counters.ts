// What the craft's counters stand at: a signed base, and every flight that ended after it on top (one that was under way
// counts whole: the base may or may not hold it, and more is the worse).
//
// A counter that some flight since the base does not state is not known (null); nothing is totalled in silence. Of
// several bases recorded apart each counter is taken at its larger end. Flights that overlap in time cannot both be
// this craft's: both count until somebody has decided (facts/look-alikes.ts).
import { counterNames } from "../facts/due.ts";
import type { CounterBase, CounterName } from "../facts/due.ts";
import type { CraftState, FlightFact } from "../facts/craft.ts";

/** The counters at an instant: by the latest base signed until then, and the flights that landed until then. */
export function countersAt(
  { due, flights }: Pick<CraftState, "due" | "flights">,
  at_ms: number,
): CountersNow | null {
  const before = due.bases.filter((base) => base.at_ms <= at_ms);
  const latest_ms = Math.max(...before.map((base) => base.at_ms));
  const bases = before.filter((base) => base.at_ms === latest_ms);
  return countersNow({
    due: { ...due, bases },
    flights: flights.filter(({ on_ms }) => on_ms <= at_ms),
  });
}

export type CountersNow = Readonly<Record<CounterName, number | null>>;

/** What one flight adds; null where nobody stated it. */
function addedBy(flight: FlightFact, name: CounterName): number | null {
  return name === "flightHours_h" ? flight.flight_h : flight[name];
}

function countFrom(base: CounterBase, flights: readonly FlightFact[], name: CounterName): number | null {
  let sum: number = base.counters[name];
  // Sorted, so that the sum has the same last bit whatever the order of entry.
  const added = flights.filter(({ on_ms }) => on_ms > base.at_ms).map((flight) => addedBy(flight, name));
  if (added.includes(null)) return null;
  for (const one of added.map(Number).toSorted((a, b) => a - b)) sum += one;
  return sum;
}

/** The counters as the record has them; null altogether without a signed base. */
export function countersNow({ due, flights }: Pick<CraftState, "due" | "flights">): CountersNow | null {
  if (due.bases.length === 0) return null;
  return Object.fromEntries(
    counterNames.map((name) => {
      const each = due.bases.map((base) => countFrom(base, flights, name));
      return [name, each.includes(null) ? null : Math.max(...each.map(Number))];
    }),
  ) as CountersNow;
}
