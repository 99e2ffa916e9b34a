// Records that look alike: two entries that may tell one flight or one uplift, written by two people or twice by one.
//
// In: the craft's state. Out: the pairs on which no word stands, or on which the words that stand disagree. Two flights of
// one craft that overlap in time cannot both be. Two uplifts look alike when fluid and unit are one, gauges do not differ,
// the amounts are equal to within a hundredth and they lie at most an hour apart, with no reading of the gauge between.
// Both figures are ours: wide enough for two watches, and an answer costs a tap. Nothing is doubled or dropped by itself:
// until somebody who saw both has decided, each consequence is taken at its worse end where it is computed.
import type { CraftState, FlightFact, LookAlikeDecided, UpliftFact } from "./craft.ts";
import { minute_ms } from "./instant.ts";
import { own } from "./own.ts";

export type LookAlike =
  | { readonly matter: "flight"; readonly one: FlightFact; readonly other: FlightFact }
  | { readonly matter: "uplift"; readonly one: UpliftFact; readonly other: UpliftFact };

const apart_ms = 60 * minute_ms;
const amountsWithin = 0.01;

type Held = Pick<CraftState, "flights" | "uplifts" | "readings" | "lookAlikesDecided">;

/** Pairs of flights that overlap in time, by the time of the earlier. */
export function overlappingFlights(
  flights: readonly FlightFact[],
): readonly (readonly [FlightFact, FlightFact])[] {
  const sorted = flights.toSorted((a, b) => a.off_ms - b.off_ms || (a.entry < b.entry ? -1 : 1));
  const pairs: [FlightFact, FlightFact][] = [];
  let flying: FlightFact[] = [];
  for (const flight of sorted) {
    flying = flying.filter(({ on_ms }) => on_ms > flight.off_ms);
    for (const earlier of flying) pairs.push([earlier, flight]);
    flying.push(flight);
  }
  return pairs;
}

function isAlike(one: UpliftFact, other: UpliftFact, readings: CraftState["readings"]): boolean {
  if (one.fluid !== other.fluid || one.unit !== other.unit) return false;
  if (one.gauge !== null && other.gauge !== null && one.gauge !== other.gauge) return false;
  if (Math.abs(one.amount - other.amount) > amountsWithin * Math.max(one.amount, other.amount)) return false;
  const gauge = one.gauge ?? other.gauge;
  const read = gauge === null ? [] : (own(readings, gauge) ?? []);
  return !read.some(({ at_ms }) => one.at_ms < at_ms && at_ms < other.at_ms);
}

/** Pairs of uplifts that look alike, by the time of the earlier. */
function alikeUplifts({
  uplifts,
  readings,
}: Pick<Held, "uplifts" | "readings">): readonly (readonly [UpliftFact, UpliftFact])[] {
  const sorted = uplifts.toSorted((a, b) => a.at_ms - b.at_ms || (a.uplift < b.uplift ? -1 : 1));
  return sorted.flatMap((one, index) => {
    const pairs: [UpliftFact, UpliftFact][] = [];
    for (let next = index + 1; next < sorted.length; next += 1) {
      const other = sorted[next]!;
      if (other.at_ms - one.at_ms > apart_ms) break;
      if (isAlike(one, other, readings)) pairs.push([one, other]);
    }
    return pairs;
  });
}

/** The words that stand on a pair, whichever way round it is named. */
export function wordsOn(
  { lookAlikesDecided }: Pick<Held, "lookAlikesDecided">,
  matter: LookAlikeDecided["matter"],
  a: string,
  b: string,
): readonly LookAlikeDecided[] {
  return lookAlikesDecided.filter(
    (word) =>
      word.matter === matter &&
      ((word.one === a && word.other === b) || (word.one === b && word.other === a)),
  );
}

/** What the words on a pair say together; null where there is none, or where they disagree. */
export function agreed(words: readonly LookAlikeDecided[]): LookAlikeDecided | null {
  const [first] = words;
  if (first === undefined) return null;
  return words.every(({ says, counts }) => says === first.says && counts === first.counts) ? first : null;
}

function isOpen(state: Held, matter: LookAlikeDecided["matter"], a: string, b: string): boolean {
  return agreed(wordsOn(state, matter, a, b)) === null;
}

/** Pairs of uplifts that somebody has still to decide. */
export function openUplifts(state: Held): readonly (readonly [UpliftFact, UpliftFact])[] {
  return alikeUplifts(state).filter(([one, other]) => isOpen(state, "uplift", one.uplift, other.uplift));
}

/** Every pair that somebody has still to decide. */
export function lookAlikes(state: Held): readonly LookAlike[] {
  return [
    ...overlappingFlights(state.flights)
      .filter(([one, other]) => isOpen(state, "flight", one.flight, other.flight))
      .map(([one, other]) => ({ matter: "flight", one, other }) as const),
    ...openUplifts(state).map(([one, other]) => ({ matter: "uplift", one, other }) as const),
  ];
}
