import { describe, expect, test } from "vitest";
import { callTo, craftOf, hospital, knownOf, loading, placeAt } from "./arbitrary-call.ts";
import { assessCall } from "./assess-call.ts";
import {
  checkFuel,
  divert,
  freePlaces,
  fromHere,
  landingsFrom,
  placeOnLeg,
  reload,
  secondPatient,
  secondPatients,
} from "./in-flight.ts";
import { geodesicBetween } from "../air/geodesic.ts";

const known = knownOf(craftOf());
const call = callTo(placeAt(70.5, 11.6, 400));
const plan = assessCall(known, call);
const [start, scene, atHospital] = plan.stops;

describe("a fuel check", () => {
  test("on a leg compares with the plan straight between its ends, standing with what was there at arrival", () => {
    const half_ms = (start!.leave_ms! + scene!.arrive_ms!) / 2;
    const { fuelAtStart_kg, fuelAtEnd_kg } = plan.legs[0]!;
    const planned_kg = (fuelAtStart_kg! + fuelAtEnd_kg!) / 2;
    const check = checkFuel(plan, half_ms, planned_kg - 10)!;
    expect(check.planned_kg).toBeCloseTo(planned_kg, 6);
    expect(check.difference_kg).toBeCloseTo(-10, 6);
    expect(check.atLastLanding_kg).toBeCloseTo(plan.fuel!.atLastLanding_kg - 10, 6);
    expect(checkFuel(plan, (scene!.arrive_ms! + scene!.leave_ms!) / 2, 300)!.planned_kg).toBe(fuelAtEnd_kg);
  });

  test("asks to act when what would be left is below alternate and final reserve, and not on it", () => {
    const spare_kg = plan.fuel!.atLastLanding_kg - plan.fuel!.finalReserve_kg;
    const at = (less_kg: number) => checkFuel(plan, start!.leave_ms! - 1, call.fuel_kg - less_kg)!.actIsDue;
    expect([at(0), at(spare_kg), at(spare_kg + 1e-3)]).toEqual([false, false, true]);
  });

  test("without a plan that knows its fuel there is nothing to compare with", () => {
    const blind = assessCall(known, { ...call, air: { ...call.air, wind: null } });
    expect(checkFuel(blind, start!.leave_ms! + 60_000, 300)).toBeNull();
    expect(() => checkFuel(plan, 0, -1)).toThrow("fuel_kg");
  });
});

describe("from where the craft is now", () => {
  const position = { name: "here", lat_deg: 70.4, lon_deg: 11.9, elevation_ft: null, site: null };

  test("on the way to the hospital the patient is aboard, and nothing is taken off from", () => {
    const left = fromHere(call, { nextStop: 1, at_ms: scene!.leave_ms!, position, fuel_kg: 330 });
    expect(left.aboard.map(({ id }) => id)).toEqual(["patient"]);
    const answer = assessCall(known, left);
    expect(answer.isAcceptable).toBe(true);
    expect(answer.legs[0]!.fuelAtStart_kg).toBe(330);
    expect(answer.margins.some(({ kind, stop }) => kind === "hoverOutOfGroundEffect" && stop === -1)).toBe(
      false,
    );
    const home = fromHere(call, { nextStop: 2, at_ms: atHospital!.leave_ms!, position, fuel_kg: 260 });
    expect(home.aboard).toEqual([]);
  });

  test("at the start of the plan, without its start, is the plan itself from there on", () => {
    const { fuelAtStart_kg } = plan.legs[1]!;
    const there = fromHere(call, {
      nextStop: 1,
      at_ms: scene!.leave_ms!,
      position: call.stops[0]!.place,
      fuel_kg: fuelAtStart_kg!,
    });
    const answer = assessCall(known, there);
    expect(answer.fuel!.atLastLanding_kg).toBeCloseTo(plan.fuel!.atLastLanding_kg, 9);
    expect(answer.ends_ms).toBeCloseTo(plan.ends_ms!, 3);
  });

  test("a stop that the call does not have is refused", () => {
    expect(() => fromHere(call, { nextStop: 3, at_ms: 0, position, fuel_kg: 300 })).toThrow("nextStop");
  });
});

describe("changes on the way", () => {
  test("another hospital takes the place of the first, with who leaves there", () => {
    const other = { ...hospital, name: "other", lat_deg: 70.6, lon_deg: 13.3, site: "hospitalLunde" };
    const diverted = divert(call, other);
    expect(diverted.stops[1]).toMatchObject({ place: other, leaves: ["patient"] });
    expect(() => divert({ ...call, stops: call.stops.slice(2) }, other)).toThrow("hospital");
  });

  test("a second patient boards beside the first and leaves with it", () => {
    const two = secondPatient(call, { id: "second", at: "medicAft", most_kg: 80 });
    expect(two.stops[0]!.boards.map(({ id }) => id)).toEqual(["patient", "second"]);
    expect(two.stops[1]!.leaves).toEqual(["patient", "second"]);
    const [one, both] = [call, two].map((each) => assessCall(known, each).stops[1]!.mass_kg!);
    expect(both! - one!).toBeGreaterThan(70);
  });

  test("three known masses and one unknown: the greatest that the fourth may be, and no more", () => {
    const craft = craftOf(540, { variant: "2" });
    const alone = loading(540, { persons: [{ seat: "pilotRight", person: null, mass_kg: 80 }] });
    const heavy = knownOf({ ...craft, load: { ...craft.load, loadings: [alone] } });
    const full = callTo(placeAt(70.25, 12.3, 2_600), { fuel_kg: 540 });
    const weighed = [
      { id: "a", at: "medicAft", most_kg: 82 },
      { id: "b", at: "frontLeft", most_kg: 70 },
    ];
    const open = { id: "c", at: "stretcherLeft", most_kg: 160 };
    const { upTo_kg, answer, call: loaded } = reload(heavy, full, weighed, open);
    expect(upTo_kg).not.toBeNull();
    expect(answer.isAcceptable).toBe(true);
    expect(loaded.stops[0]!.boards.map(({ id, exact }) => [id, exact ?? false])).toEqual([
      ["a", true],
      ["b", true],
      ["c", false],
    ]);
    if (upTo_kg! < open.most_kg) {
      const more = reload(heavy, full, weighed, { ...open, most_kg: upTo_kg! + 1 });
      expect(more.upTo_kg).toBe(upTo_kg);
    }
  });
});

describe("where the craft is", () => {
  test("follows from the minutes to go, back along the leg at the planned ground speed", () => {
    const leg = plan.legs[1]!;
    const half = placeOnLeg(plan, 1, leg.time_min! / 2)!;
    const left_nm = geodesicBetween(half, hospital).distance / 1852;
    expect(left_nm).toBeCloseTo(leg.distance_nm / 2, 6);
    expect(geodesicBetween(half, call.stops[0]!.place).distance / 1852).toBeCloseTo(leg.distance_nm / 2, 2);
    expect(placeOnLeg(plan, 1, 0)).toBe(call.stops[1]!.place);
    expect(() => placeOnLeg(plan, 3, 1)).toThrow("nextStop");
    expect(() => placeOnLeg(plan, 1, -1)).toThrow("toGo_min");
  });

  test("what was planned there is what is left of the plan", () => {
    const leg = plan.legs[1]!;
    const position = placeOnLeg(plan, 1, leg.time_min! / 2)!;
    const fuel_kg = (leg.fuelAtStart_kg! + leg.fuelAtEnd_kg!) / 2;
    const at_ms = plan.stops[2]!.arrive_ms! - (leg.time_min! / 2) * 60_000;
    const answer = assessCall(known, fromHere(call, { nextStop: 1, at_ms, position, fuel_kg }));
    expect(answer.fuel!.atLastLanding_kg).toBeCloseTo(plan.fuel!.atLastLanding_kg, 0);
    expect(answer.ends_ms! / 60_000).toBeCloseTo(plan.ends_ms! / 60_000, 1);
  });

  test("standing at the scene, its take-off is still to come and is judged", () => {
    const there = fromHere(call, { nextStop: 0, at_ms: 0, position: placeOnLeg(plan, 0, 0)!, fuel_kg: 380 });
    const answer = assessCall(known, { ...there, depart_ms: call.depart_ms });
    expect(answer.legs[0]).toMatchObject({ distance_nm: 0, time_min: 0, fuel_kg: 0 });
    expect(answer.margins.some(({ kind, stop }) => kind === "hoverOutOfGroundEffect" && stop === 0)).toBe(
      true,
    );
  });
});

describe("landing elsewhere", () => {
  const far = { ...hospital, name: "far", lat_deg: 72.5, site: null };
  const near = { ...hospital, name: "near", lat_deg: 70.45, lon_deg: 11.8, site: null };

  test("is ranked by the whole answer, the soonest of the acceptable first", () => {
    const position = placeOnLeg(plan, 1, 10)!;
    const rest = fromHere(call, { nextStop: 1, at_ms: call.depart_ms, position, fuel_kg: 200 });
    const found = landingsFrom(known, rest, [far, hospital, near], false);
    expect(found.map(({ place }) => place.name)).toEqual(["near", hospital.name, "far"]);
    expect(found.map(({ answer }) => answer.isAcceptable)).toEqual([true, true, false]);
    const { answer } = found[0]!;
    expect(answer.stops.at(-1)!.fuelAtArrival_kg).toBe(answer.legs[0]!.fuelAtEnd_kg);
    expect(answer.stops).toHaveLength(2);
  });

  test("from the scene takes along who boards there", () => {
    const position = placeOnLeg(plan, 0, 0)!;
    const rest = fromHere(call, { nextStop: 0, at_ms: call.depart_ms, position, fuel_kg: 380 });
    const [found] = landingsFrom(known, rest, [near], true);
    expect(found!.answer.legs).toHaveLength(2);
    expect(found!.answer.legs[1]!.takeoffMass_kg! - found!.answer.legs[0]!.takeoffMass_kg!).toBeGreaterThan(
      50,
    );
  });
});

describe("a second patient", () => {
  test("is asked of every free place, and of none that somebody has", () => {
    expect(freePlaces(known, call).map(({ id }) => id)).toEqual(["medicAft"]);
    const [second] = secondPatients(known, call, 80);
    expect(second).toMatchObject({ at: "medicAft", stays: [] });
    expect(second!.answer.isAcceptable).toBe(true);
    expect(secondPatients(known, call, 131)).toEqual([]);
  });

  test("that does not go as it is goes with the lightest kit left at the scene, or not at all", () => {
    const hot = { ...call.air, temperature: { value_C: 24, elevation_ft: 36 } };
    const at = (fuel_kg: number) => callTo(placeAt(70.3, 12.3, 3_600), { air: hot, fuel_kg });
    const most_kg = lastWhereGoes(at);
    const [lighter] = secondPatients(known, at(most_kg + 5), 60);
    expect(lighter!.stays).toEqual(["rescueBag"]);
    expect(lighter!.answer.isAcceptable).toBe(true);
    expect(secondPatients(known, at(555), 130)[0]!.stays).toBeNull();
  });

  /** The most fuel with which it goes as it is, to a kilogram. */
  function lastWhereGoes(at: (fuel_kg: number) => typeof call): number {
    let fuel_kg = 300;
    while (fuel_kg < 555 && secondPatients(known, at(fuel_kg + 1), 60)[0]!.stays?.length === 0) fuel_kg += 1;
    return fuel_kg;
  }
});
