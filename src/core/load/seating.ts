// Which seatings work: every way to put the persons on the seats that they may use, each checked along the whole burn.
//
// Exact by trying all; refused beyond 100,000 ways rather than cut off. A person sits only on a seat that carries the
// person's mass (on the limit is met). Answers all ways, those inside every limit first, by the smallest arm margin over
// the burn, the largest first; of two as good, the one that comes first in the order of persons and seats.
// Units kg and m. Refuses, all at once and each with its path: bad masses and arms, two persons or seats of one id, a
// seat that does not exist, a person without any seat, too many ways.

import { atMost } from "../quantity/compare.ts";
import { atIndex, atKey, type Issue } from "../quantity/refusal.ts";
import { compileLoad, planeSlots, slots } from "./compile-load.ts";
import type { FuelLine } from "./fuel-line.ts";
import type { Limits } from "./limits.ts";
import {
  addNumberIssue,
  addStationIssues,
  centreOf,
  type Station,
  throwIssues,
  type Totals,
} from "./totals.ts";

export type Seat = Station & { readonly id: string; readonly most_kg: number };
export type Person = {
  readonly id: string;
  readonly mass_kg: number;
  /** Seats that the person may use; a pilot has one. */
  readonly seats: readonly string[];
};

export type Seating = {
  /** Seat by person. */
  readonly seats: Readonly<Record<string, string>>;
  readonly inside: boolean;
  /** Smallest over the burn and all limits; null where no arm is inside at some mass. */
  readonly margin_m: number | null;
};

export type SeatingBurn = { readonly line: FuelLine; readonly from_kg: number; readonly to_kg: number };

const mostWays = 100_000;

/** `base` is everything but persons and fuel, and above 0 kg. */
export function seatings(
  base: Totals,
  persons: readonly Person[],
  seats: readonly Seat[],
  burn: SeatingBurn,
  limits: Limits,
): readonly Seating[] {
  const options = seatOptions(persons, seats);
  const ways = assignments(options, seats.length);
  const stations = [centreOf(base, "base"), ...seats];
  const compiled = compileLoad(stations, burn.line, limits);
  const output = new Float64Array(compiled.outputLength);
  const answers = ways.map((way): Seating => {
    const masses = new Float64Array(stations.length);
    masses[0] = base.mass_kg;
    way.forEach((seat, index) => {
      masses[seat + 1] = persons[index]!.mass_kg;
    });
    const inside = compiled.evaluate(masses, burn.from_kg, burn.to_kg, output);
    const entries = way.map((seat, index) => [persons[index]!.id, seats[seat]!.id]);
    return {
      seats: Object.fromEntries(entries) as Record<string, string>,
      inside,
      margin_m: smallestMargin(output, compiled.planes),
    };
  });
  return answers.sort(
    (one, other) => Number(other.inside) - Number(one.inside) || compareMargins(other.margin_m, one.margin_m),
  );
}

function compareMargins(one: number | null, other: number | null): number {
  if (one === null || other === null) return Number(other === null) - Number(one === null);
  return one - other;
}

/** A mass limit has no arm margin; it shows only as beyond. */
function smallestMargin(output: Float64Array, planes: readonly { readonly limit: string }[]): number | null {
  let least = Number.POSITIVE_INFINITY;
  for (const [index, { limit }] of planes.entries()) {
    const margin = output[slots.planes + 3 * index + planeSlots.margin]!;
    if (limit !== "mass" || margin === Number.NEGATIVE_INFINITY) least = Math.min(least, margin);
  }
  return Number.isFinite(least) ? least : null;
}

/** For each person the places in `seats` that the person may use. */
function seatOptions(persons: readonly Person[], seats: readonly Seat[]): number[][] {
  const issues: Issue[] = [];
  seats.forEach((seat, index) => {
    const where = atIndex("seats", index);
    addStationIssues(seat, where, issues);
    addNumberIssue(seat.most_kg, atKey(where, "most_kg"), 0, 1e6, "kg", issues);
    addTwiceIssue(seats, index, "seats", issues);
  });
  const options = persons.map((person, index) => {
    const where = atIndex("persons", index);
    addNumberIssue(person.mass_kg, atKey(where, "mass_kg"), 0, 1e6, "kg", issues);
    addTwiceIssue(persons, index, "persons", issues);
    return person.seats.flatMap((id, at) => {
      const seat = seats.findIndex((one) => one.id === id);
      if (seat < 0) {
        const path = atIndex(atKey(where, "seats"), at);
        issues.push({ path, code: "outsideDomain", found: id, wanted: "the id of a seat" });
      }
      return seat >= 0 && atMost(person.mass_kg, seats[seat]!.most_kg) ? [seat] : [];
    });
  });
  throwIssues(issues);
  options.forEach((option, index) => {
    if (option.length > 0) return;
    const path = atKey(atIndex("persons", index), "seats");
    issues.push({
      path,
      code: "impossible",
      found: "none that carries the mass",
      wanted: "at least one seat",
    });
  });
  throwIssues(issues);
  return options;
}

function addTwiceIssue(
  list: readonly { readonly id: string }[],
  index: number,
  name: string,
  issues: Issue[],
): void {
  const { id } = list[index]!;
  if (list.findIndex((one) => one.id === id) === index) return;
  issues.push({
    path: atKey(atIndex(name, index), "id"),
    code: "givenTwice",
    found: id,
    wanted: "every id once",
  });
}

/** Every choice of one seat for each person, no seat twice. */
function assignments(options: readonly (readonly number[])[], seatCount: number): number[][] {
  const ways: number[][] = [];
  const taken = Array.from({ length: seatCount }, () => false);
  const way: number[] = [];
  const place = (person: number): void => {
    const option = options[person];
    if (option === undefined) {
      ways.push([...way]);
      if (ways.length > mostWays) {
        const wanted = `at most ${mostWays}`;
        throwIssues([
          { path: "persons", code: "outsideDomain", found: `more than ${mostWays} seatings`, wanted },
        ]);
      }
      return;
    }
    for (const seat of option) {
      if (taken[seat]) continue;
      taken[seat] = true;
      way.push(seat);
      place(person + 1);
      way.pop();
      taken[seat] = false;
    }
  };
  place(0);
  return ways;
}
