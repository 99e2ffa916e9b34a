import { describe, expect, test } from "vitest";
import document from "../../../demo/sheet/quill.json" with { type: "json" };
import { checkSheet } from "../sheet/check-sheet.ts";
import { issuesOf } from "./arbitrary-load.ts";
import { fuelLineOf, limitsOf, loadCaseOf, type OnBoard } from "./from-sheet.ts";
import { fuelRange, fuelTotals } from "./fuel-line.ts";
import { checkLoad } from "./load-case.ts";
import { safeMasses } from "./solve.ts";
import { totalsOf } from "./totals.ts";

const checked = checkSheet(document);
if ("errors" in checked) throw new Error("the demo's sheet is refused");
const sheet = checked.ok;

const installed = Object.fromEntries(
  sheet.equipment.map(({ id }) => [id, ["hoist", "hoistMount", "stretcher", "medicalRack"].includes(id)]),
);
const rescue: OnBoard = {
  variant: "2H",
  flight: "normal",
  empty: { mass_kg: 1948, x_m: 4.7, y_m: 0.01, included: ["hoistMount"] },
  installed,
  persons: [
    { id: "pilot", seat: "pilotRight", mass_kg: 88 },
    { id: "crew", seat: "frontLeft", mass_kg: 85 },
    { id: "doctor", seat: "medicRight", mass_kg: 82 },
  ],
  patients: [{ id: "patient", stretcher: "stretcherLeft", mass_kg: 95 }],
  kit: [
    { id: "red bag", mass_kg: 12, at: "cabinFloor" },
    { id: "monitor", mass_kg: 7, at: { x_m: 3.1, y_m: -0.2 } },
  ],
  hook_kg: null,
  fuel: { filled_kg: 420, to_kg: 90 },
  cabin: { forward_m: 1, aft_m: 5, left_m: -0.9, right_m: 0.9 },
};

describe("a load case from the demo's sheet", () => {
  test("has everything on board once, at the sheet's places", () => {
    const { cargo } = loadCaseOf(sheet, rescue);
    expect(cargo.map(({ id, kind, place }) => [id, kind, place])).toEqual([
      ["empty", "empty", null],
      ["hoist", "equipment", null],
      ["stretcher", "equipment", null],
      ["medicalRack", "equipment", null],
      ["pilot", "person", "seats.pilotRight"],
      ["crew", "person", "seats.frontLeft"],
      ["doctor", "person", "seats.medicRight"],
      ["patient", "patient", "stretchers.stretcherLeft"],
      ["red bag", "kit", "compartments.cabinFloor"],
      ["monitor", "kit", null],
    ]);
    const seat = sheet.seats.find(({ id }) => id === "pilotRight")!;
    expect(cargo[4]).toMatchObject({ x_m: seat.x_m, y_m: seat.y_m, mass_kg: 88 });
  });

  test("is answered with every limit and place", () => {
    const answer = checkLoad(loadCaseOf(sheet, rescue));
    expect(Object.values(answer.track.inside)).not.toContain(null);
    expect(answer.inside).toBe(Object.values(answer.track.inside).every((inside) => inside === true));
    expect(answer.track.start.fuel_kg).toBe(420);
    expect(answer.withoutFuel.mass_kg).toBeCloseTo(totalsOf(loadCaseOf(sheet, rescue).cargo).mass_kg, 9);
    expect(answer.track.start.mass_kg).toBeCloseTo(answer.withoutFuel.mass_kg + 420, 9);
    const floor = answer.places.find(({ id }) => id === "compartments.cabinFloor");
    expect(floor).toMatchObject({ loaded_kg: 12, met: true });
    expect(answer.places.every(({ met }) => met)).toBe(true);
  });

  test("is not inside when one place carries too much, and says which", () => {
    const kit = [...rescue.kit, { id: "pump", mass_kg: 100, at: "rearBay" }];
    const answer = checkLoad(loadCaseOf(sheet, { ...rescue, kit }));
    expect(answer.inside).toBe(false);
    expect(answer.places.filter(({ met }) => !met)).toMatchObject([
      { id: "compartments.rearBay", loaded_kg: 100, margin_kg: -10 },
    ]);
  });

  test("is not known to be inside where the sheet has no lateral limit", () => {
    const loadCase = loadCaseOf(sheet, rescue);
    const answer = checkLoad({ ...loadCase, limits: { ...loadCase.limits, lateral: null } });
    expect(answer.inside).toBe(answer.track.inside.longitudinal ? null : false);
    const wide = { ...loadCase.limits, longitudinal: null, lateral: null, coupled: [] };
    expect(checkLoad({ ...loadCase, limits: wide }).inside).toBeNull();
  });

  test("with a load on the hook takes the hoist's limits and its station, hook included", () => {
    const hoisting = { ...rescue, flight: "hoist", patients: [], hook_kg: 190 } as const;
    const loadCase = loadCaseOf(sheet, hoisting);
    const { hoist } = sheet;
    expect(loadCase.cargo.at(-1)).toEqual({
      id: "hook",
      kind: "hook",
      place: "hoist",
      mass_kg: 190 + hoist!.attachment_kg,
      x_m: hoist!.x_m,
      y_m: hoist!.y_m,
    });
    expect(loadCase.limits).toEqual(limitsOf(sheet, "2H", "hoist"));
    expect(loadCase.limits.lateral!.corners).not.toEqual(limitsOf(sheet, "2H", "normal").lateral!.corners);
  });

  test("gives the solver what it needs: the heaviest patient on the stretcher", () => {
    const { cargo, limits, line, fuel } = loadCaseOf(sheet, { ...rescue, patients: [] });
    const stretcher = sheet.stretchers[0]!;
    const burn = { low: fuel.to_kg, high: fuel.from_kg };
    const range = { low: 0, high: stretcher.maxMass_kg };
    const open = { base: totalsOf(cargo), station: stretcher, mass_kg: range, line, fuel_kg: burn };
    const { set } = safeMasses(open, limits);
    expect(set.length).toBeGreaterThan(0);
    const withPatient = (mass_kg: number) =>
      checkLoad(loadCaseOf(sheet, { ...rescue, patients: [{ id: "p", stretcher: stretcher.id, mass_kg }] }));
    for (const { low, high } of set) {
      for (const mass_kg of [low, (low + high) / 2, high]) {
        if (mass_kg > 0) expect(withPatient(mass_kg).inside).toBe(true);
      }
      if (high < range.high) expect(withPatient(high + 0.01).inside).toBe(false);
    }
  });
});

describe("the fuel of the demo's sheet", () => {
  const line = fuelLineOf(sheet, installed);
  const [main, supply] = [sheet.tanks[0]!, sheet.tanks[1]!];

  test("is all tanks that are installed", () => {
    expect(fuelRange(line)).toEqual([0, main.usable_kg + supply.usable_kg]);
    const withAux = fuelLineOf(sheet, { ...installed, auxTank: true });
    expect(fuelRange(withAux)[1]).toBe(main.usable_kg + supply.usable_kg + sheet.tanks[2]!.usable_kg);
  });

  test("lies in the tank that burns last until that is full, then in the one that burns first", () => {
    const [, supplyX] = supply.centre_kg_m_m.at(-1)!;
    const low = fuelTotals(line, 46);
    expect(low.x_kgm / 46).toBeCloseTo((supply.centre_kg_m_m[0]![1] + supplyX) / 2, 12);
    const full = fuelTotals(line, supply.usable_kg + 60);
    expect(full.x_kgm).toBeCloseTo(supply.usable_kg * supplyX + 60 * 4.12, 9);
  });

  test("burns tanks of one order together, each in proportion to what is in it", () => {
    const withAux = fuelLineOf(sheet, { ...installed, auxTank: true });
    const aux = sheet.tanks[2]!;
    const half = supply.usable_kg + (main.usable_kg + aux.usable_kg) / 2;
    const mainHalf = main.usable_kg / 2;
    const arm = 4.2 + ((4.31 - 4.2) * (mainHalf - 160)) / 140;
    const expected = supply.usable_kg * 4.98 + mainHalf * arm + (aux.usable_kg / 2) * 5.3;
    expect(fuelTotals(withAux, half).x_kgm).toBeCloseTo(expected, 8);
    expect(fuelTotals(withAux, half).y_kgm).toBeCloseTo((aux.usable_kg / 2) * -0.1, 9);
  });

  test("stands as filled when it is told for each tank", () => {
    const fuel = { filled_kg: { main: 200, supply: 30 }, to_kg: 30 };
    const { line: filled, fuel: range } = loadCaseOf(sheet, { ...rescue, fuel });
    expect(range).toEqual({ from_kg: 230, to_kg: 30 });
    const arm = 4.2 + ((4.31 - 4.2) * 40) / 140;
    const supplyArm = 4.95 + (0.03 * 30) / 92;
    expect(fuelTotals(filled, 230).x_kgm).toBeCloseTo(200 * arm + 30 * supplyArm, 9);
    expect(fuelTotals(filled, 30).x_kgm).toBeCloseTo(30 * supplyArm, 9);
  });
});

describe("a load that cannot be is refused", () => {
  const refused = (change: Partial<OnBoard>): string[] =>
    issuesOf(() => loadCaseOf(sheet, { ...rescue, ...change })).map(({ path }) => path);
  const person = rescue.persons[0]!;
  const patient = rescue.patients[0]!;

  test.each<[string, Partial<OnBoard>, string[]]>([
    ["a variant that there is not", { variant: "3" }, ["variant"]],
    ["a seat that there is not", { persons: [{ ...person, seat: "roof" }] }, ["persons[0].seat"]],
    ["a seat taken twice", { persons: [person, { ...person, id: "two" }] }, ["persons[1].seat"]],
    [
      "a seat of equipment that is off",
      { persons: [{ ...person, seat: "benchLeft" }] },
      ["persons[0].seat", "persons[0].seat"],
    ],
    ["a person of no mass", { persons: [{ ...person, mass_kg: 0 }] }, ["persons[0].mass_kg"]],
    ["a patient of no mass", { patients: [{ ...patient, mass_kg: 0 }] }, ["patients[0].mass_kg"]],
    ["a patient of 700 kg", { patients: [{ ...patient, mass_kg: 700 }] }, ["patients[0].mass_kg"]],
    ["a patient of no number", { patients: [{ ...patient, mass_kg: Number.NaN }] }, ["patients[0].mass_kg"]],
    [
      "two patients on a stretcher",
      { patients: [patient, { ...patient, id: "two" }] },
      ["patients[1].stretcher"],
    ],
    [
      "a stretcher that there is not",
      { patients: [{ ...patient, stretcher: "top" }] },
      ["patients[0].stretcher"],
    ],
    [
      "a stretcher that is not installed",
      { installed: { ...installed, stretcher: false } },
      ["patients[0].stretcher"],
    ],
    ["kit of no mass", { kit: [{ id: "bag", mass_kg: 0, at: "rearBay" }] }, ["kit[0].mass_kg"]],
    ["the same kit twice", { kit: [rescue.kit[0]!, rescue.kit[0]!] }, ["kit[1].id"]],
    ["a compartment that there is not", { kit: [{ id: "bag", mass_kg: 1, at: "roof" }] }, ["kit[0].at"]],
    [
      "kit outside the cabin",
      { kit: [{ id: "bag", mass_kg: 1, at: { x_m: 7, y_m: -2 } }] },
      ["kit[0].at.x_m", "kit[0].at.y_m"],
    ],
    ["a hook without a hoist", { hook_kg: 90, installed: { ...installed, hoist: false } }, ["hook_kg"]],
    ["a hook load below nothing", { hook_kg: -1 }, ["hook_kg"]],
    ["more fuel than the tanks hold", { fuel: { filled_kg: 600, to_kg: 0 } }, ["fuel.filled_kg"]],
    ["a burn that gains fuel", { fuel: { filled_kg: 100, to_kg: 200 } }, ["fuel.to_kg"]],
    ["a tank that is not told", { fuel: { filled_kg: { main: 100 }, to_kg: 0 } }, ["fuel.filled_kg.supply"]],
    [
      "a tank that is not installed",
      { fuel: { filled_kg: { main: 100, supply: 90, aux: 10 }, to_kg: 0 } },
      ["fuel.filled_kg.aux"],
    ],
    [
      "a tank above what it holds",
      { fuel: { filled_kg: { main: 464, supply: 90 }, to_kg: 0 } },
      ["fuel.filled_kg.main"],
    ],
    ["an empty mass of nothing", { empty: { ...rescue.empty, mass_kg: 0 } }, ["empty.mass_kg"]],
    [
      "an empty mass with equipment that is off",
      { empty: { ...rescue.empty, included: ["hoistMount", "wireCutter"] } },
      ["empty.included[1]"],
    ],
    [
      "equipment that the sheet does not have",
      { installed: { ...installed, sauna: true } },
      ["installed.sauna"],
    ],
    [
      "equipment without what it requires",
      { installed: { ...installed, hoistMount: false } },
      ["empty.included[0]", "installed.hoist"],
    ],
    [
      "equipment that excludes other",
      { installed: { ...installed, emergencyFloats: true, snowBoards: true } },
      ["installed.emergencyFloats", "installed.snowBoards"],
    ],
  ])("%s", (_, change, paths) => {
    expect(refused(change)).toEqual(paths);
  });

  test("equipment of which it is not told whether it is installed", () => {
    const { snowBoards: _, auxTank: __, ...rest } = installed;
    expect(refused({ installed: rest }).sort()).toEqual(["installed.auxTank", "installed.snowBoards"]);
  });

  test("all of it at once", () => {
    expect(
      refused({
        persons: [{ ...person, mass_kg: -1 }],
        patients: [{ ...patient, mass_kg: 700 }],
        kit: [{ id: "bag", mass_kg: 1, at: "roof" }],
        fuel: { filled_kg: -5, to_kg: 0 },
      }),
    ).toEqual(["persons[0].mass_kg", "patients[0].mass_kg", "kit[0].at", "fuel.filled_kg", "fuel.to_kg"]);
  });
});
