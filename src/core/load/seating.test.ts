import { describe, expect, test } from "vitest";
import { box, issuesOf } from "./arbitrary-load.ts";
import { trackBurn } from "./burn-track.ts";
import { fuelLineOfTank } from "./fuel-line.ts";
import { type Limits, noLimits } from "./limits.ts";
import { type Person, type Seat, seatings } from "./seating.ts";
import { addTotals, type Totals, totalsAt } from "./totals.ts";

const base: Totals = { mass_kg: 2100, x_kgm: 9240, y_kgm: 20 };
const seats: Seat[] = [
  { id: "right", x_m: 1.75, y_m: 0.38, most_kg: 130 },
  { id: "left", x_m: 1.75, y_m: -0.38, most_kg: 130 },
  { id: "aftRight", x_m: 3.9, y_m: 0.42, most_kg: 100 },
  { id: "aftLeft", x_m: 3.9, y_m: -0.42, most_kg: 130 },
];
const all = seats.map(({ id }) => id);
const burn = {
  line: fuelLineOfTank([
    [0, 4.1, 0],
    [200, 4.3, 0],
    [400, 4.4, 0],
  ]),
  from_kg: 350,
  to_kg: 40,
};
const limits: Limits = {
  ...noLimits,
  longitudinal: box(4.18, 4.6, 1900, 3000),
  lateral: box(-0.03, 0.03, 1900, 3000),
};
const persons: Person[] = [
  { id: "pilot", mass_kg: 90, seats: ["right"] },
  { id: "crew", mass_kg: 85, seats: ["left", "aftLeft"] },
  { id: "doctor", mass_kg: 110, seats: all },
];

describe("seatings", () => {
  const found = seatings(base, persons, seats, burn, limits);

  test("are all that the seats and their limits of mass allow", () => {
    // The doctor is too heavy for the seat aft right.
    expect(found.map(({ seats: by }) => [by["pilot"], by["crew"], by["doctor"]].join()).sort()).toEqual([
      "right,aftLeft,left",
      "right,left,aftLeft",
    ]);
  });

  test("are checked along the whole burn, the best first", () => {
    for (const { seats: by, inside, margin_m } of found) {
      let totals = base;
      for (const { id, mass_kg } of persons) {
        totals = addTotals(
          totals,
          totalsAt(
            seats.find((seat) => seat.id === by[id])!,
            mass_kg,
          ),
        );
      }
      const track = trackBurn(totals, burn, limits);
      expect(inside).toBe(track.inside.longitudinal! && track.inside.lateral!);
      expect(margin_m).toBeCloseTo(track.worst!.margin_m!, 12);
    }
    expect(found[0]!.margin_m).toBeGreaterThan(found[1]!.margin_m!);
  });

  test("without persons are one, the empty cabin", () => {
    expect(seatings(base, [], seats, burn, limits)).toHaveLength(1);
  });

  test("that put a mass beyond the limits have no margin and come last", () => {
    const heavy = { ...limits, mass: { least_kg: 0, most_kg: 2600 } };
    expect(seatings(base, persons, seats, burn, heavy)).toMatchObject([
      { inside: false, margin_m: null },
      { inside: false, margin_m: null },
    ]);
  });

  test("are refused for bad input, all of it at once", () => {
    const badSeats = [...seats, { id: "left", x_m: Number.NaN, y_m: 0, most_kg: -1 }];
    const badPersons = [...persons, { id: "pilot", mass_kg: -3, seats: ["roof"] }];
    const paths = issuesOf(() => seatings(base, badPersons, badSeats, burn, limits)).map(({ path }) => path);
    expect(paths).toEqual([
      "seats[4].x_m",
      "seats[4].most_kg",
      "seats[4].id",
      "persons[3].mass_kg",
      "persons[3].id",
      "persons[3].seats[0]",
    ]);
  });

  test("are refused where nobody carries a person, and where they are too many", () => {
    const giant = [{ id: "giant", mass_kg: 140, seats: all }];
    expect(issuesOf(() => seatings(base, giant, seats, burn, limits))).toMatchObject([
      { path: "persons[0].seats", code: "impossible" },
    ]);
    const many = Array.from({ length: 9 }, (_, index) => ({ id: `s${index}`, x_m: 3, y_m: 0, most_kg: 130 }));
    const crowd = many.map(({ id }) => ({ id, mass_kg: 80, seats: many.map((seat) => seat.id) }));
    expect(issuesOf(() => seatings(base, crowd, many, burn, limits))).toMatchObject([
      { path: "persons", code: "outsideDomain" },
    ]);
  });
});
