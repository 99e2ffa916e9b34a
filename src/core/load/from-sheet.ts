// From a type sheet and what is on board today to a load that can be checked: the only file here that knows the sheet.
//
// The craft's own weighing is the empty mass; equipment that is installed and that the weighing does not include comes on
// top at the catalogue's mass and arms. Persons sit at the sheet's seats, patients lie at its stretchers, kit is in its
// compartments or at a place of its own, the load on the hook (with the hook itself, `attachment_kg`) hangs at the boom.
// Fuel is a total, which stands in the tanks so that those that burn last are full first, or what is in each tank.
// Limits are those of the variant and the kind of flight, and the variant's least and greatest mass.
// Sources are the sheet's own. Units kg and m; right and aft positive.
//
// Refuses, all at once and each with its path: ids that the sheet does not have; equipment whose state is not told (its
// mass would be a guess); equipment that the empty mass includes though it is off; what excludes, requires or does not fit
// the variant; a seat taken twice, taken away by a stretcher or not there; a stretcher that is not installed; a person or
// patient of no mass or of more than 400 kg, kit of no mass or of more than 1,000 kg (typing mistakes; the places' own
// limits are checked later); a place outside the cabin where its bounds are given; more fuel than a tank takes.

import { atIndex, atKey, type Issue } from "../quantity/refusal.ts";
import { own } from "../facts/own.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import type { Tank } from "../sheet/loading-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { type FilledTank, type FuelLine, fuelLineOfTanks, fuelRange } from "./fuel-line.ts";
import { type CoupledLimit, type Limits } from "./limits.ts";
import type { Cargo, LoadCase, Place } from "./load-case.ts";
import { type Outline, readOutline } from "./outline.ts";
import { addNumberIssue, addStationIssues, type Item, type Station, throwIssues } from "./totals.ts";

export type Flight = "normal" | "hoist";
export type Installed = Readonly<Record<string, boolean>>;

export type KitOnBoard = {
  readonly id: string;
  readonly mass_kg: number;
  /** A compartment's id, or a place of its own. */
  readonly at: string | Station;
};

export type CabinBounds = {
  readonly forward_m: number;
  readonly aft_m: number;
  readonly left_m: number;
  readonly right_m: number;
};

export type OnBoard = {
  readonly variant: string;
  readonly flight: Flight;
  /** The craft as weighed, and the equipment that this includes. */
  readonly empty: Item & { readonly included: readonly string[] };
  /** Every piece of the catalogue, installed or not. */
  readonly installed: Installed;
  readonly persons: readonly { readonly id: string; readonly seat: string; readonly mass_kg: number }[];
  readonly patients: readonly { readonly id: string; readonly stretcher: string; readonly mass_kg: number }[];
  readonly kit: readonly KitOnBoard[];
  /** On the hook, without the hook and harness; null for nothing out. */
  readonly hook_kg: number | null;
  readonly fuel: {
    /** A total, or what is in each tank. */
    readonly filled_kg: number | Readonly<Record<string, number>>;
    readonly to_kg: number;
  };
  /** Where persons, patients and kit can be; not checked if null. */
  readonly cabin: CabinBounds | null;
};

const mostPerson_kg = 400;
const mostKit_kg = 1000;

/** The load case of a sheet that was checked. Refuses as told above. */
export function loadCaseOf(sheet: Sheet, onBoard: OnBoard): LoadCase {
  const issues: Issue[] = [];
  const cargo = [
    ...emptyCargo(sheet, onBoard, issues),
    ...personCargo(sheet, onBoard, issues),
    ...patientCargo(sheet, onBoard, issues),
    ...kitCargo(sheet, onBoard, issues),
    ...hookCargo(sheet, onBoard, issues),
  ];
  const limits = collectLimits(sheet, onBoard.variant, onBoard.flight, issues);
  const fuel = collectFuel(sheet, onBoard, issues);
  throwIssues(issues);
  const range = { from_kg: fuel!.from_kg, to_kg: onBoard.fuel.to_kg };
  return { cargo, places: placesOf(sheet), line: fuel!.line, fuel: range, limits };
}

/** The limits of a variant for a kind of flight. Refuses a variant that the sheet does not have. */
export function limitsOf(sheet: Sheet, variant: string, flight: Flight): Limits {
  const issues: Issue[] = [];
  const limits = collectLimits(sheet, variant, flight, issues);
  throwIssues(issues);
  return limits;
}

/** The whole fuel of the tanks that are installed, full. Refuses equipment whose state is not told. */
export function fuelLineOf(sheet: Sheet, installed: Installed): FuelLine {
  const issues: Issue[] = [];
  const tanks = installedTanks(sheet, installed, issues);
  throwIssues(issues);
  return fuelLineOfTanks(tanks.map(({ tank, path }) => filledTank(tank, path, tank.usable_kg)));
}

// ---- Cargo ----------------------------------------------------------------------------------------------------------

function emptyCargo(sheet: Sheet, { variant, empty, installed }: OnBoard, issues: Issue[]): Cargo[] {
  addNumberIssue(empty.mass_kg, "empty.mass_kg", Number.MIN_VALUE, 1e6, "kg", issues);
  addStationIssues(empty, "empty", issues);
  const known = new Map(sheet.equipment.map((equipment) => [equipment.id, equipment]));
  for (const [index, id] of empty.included.entries()) {
    const path = atIndex("empty.included", index);
    if (!known.has(id)) issues.push(notInSheet(path, id, "equipment of the sheet"));
    else if (own(installed, id) === false) {
      const wanted = "equipment that is installed, or an empty mass without it";
      issues.push({ path, code: "contradiction", found: `${id}, which is off`, wanted });
    }
  }
  for (const id of Object.keys(installed)) {
    if (!known.has(id)) issues.push(notInSheet(atKey("installed", id), id, "equipment of the sheet"));
  }
  const fitted = sheet.equipment.filter(({ id }) => {
    const isInstalled = own(installed, id);
    if (isInstalled === undefined) {
      const path = atKey("installed", id);
      issues.push({ path, code: "missing", found: "nothing", wanted: "whether it is installed" });
    }
    return isInstalled === true;
  });
  for (const { id, excludes = [], requires = [], variants } of fitted) {
    const path = atKey("installed", id);
    const clash = excludes.find((other) => own(installed, other) === true);
    const lack = requires.find((other) => own(installed, other) === false);
    const say = (found: string, wanted: string) =>
      issues.push({ path, code: "contradiction", found, wanted });
    if (clash !== undefined) say(`${id} with ${clash}`, "one of the two, which exclude each other");
    if (lack !== undefined) say(`${id} without ${lack}`, `${lack}, which it requires`);
    if (variants?.includes(variant) === false)
      say(`${id} on variant ${variant}`, `a variant of ${variants.join(", ")}`);
  }
  const { mass_kg, x_m, y_m } = empty;
  return [
    { id: "empty", kind: "empty", place: null, mass_kg, x_m, y_m },
    ...fitted
      .filter(({ id }) => !empty.included.includes(id))
      .map((one): Cargo => ({
        id: one.id,
        kind: "equipment",
        place: null,
        mass_kg: one.mass_kg,
        x_m: one.x_m,
        y_m: one.y_m,
      })),
  ];
}

function personCargo(
  sheet: Sheet,
  { variant, installed, persons, cabin }: OnBoard,
  issues: Issue[],
): Cargo[] {
  return persons.flatMap(({ id, seat: seatId, mass_kg }, index): Cargo[] => {
    const path = atIndex("persons", index);
    addNumberIssue(mass_kg, atKey(path, "mass_kg"), Number.MIN_VALUE, mostPerson_kg, "kg", issues);
    const seat = sheet.seats.find((one) => one.id === seatId);
    const where = atKey(path, "seat");
    if (seat === undefined) {
      issues.push(notInSheet(where, seatId, "a seat of the sheet"));
      return [];
    }
    const state = evaluateApplicability(seat.applies, { variant, installed }, {}).value;
    if (state !== true) {
      const found = state === false ? `${seatId}, which is not there` : `${seatId}, of which it is not known`;
      issues.push({ path: where, code: "contradiction", found, wanted: "a seat that is installed" });
    }
    const taken = sheet.stretchers.find(
      ({ equipment, takesSeats = [] }) => own(installed, equipment) === true && takesSeats.includes(seatId),
    );
    if (taken !== undefined) {
      const found = `${seatId}, which ${taken.id} takes away`;
      issues.push({ path: where, code: "contradiction", found, wanted: "a seat that is free of stretchers" });
    }
    if (persons.findIndex((one) => one.seat === seatId) !== index) {
      issues.push({ path: where, code: "givenTwice", found: seatId, wanted: "one person on a seat" });
    }
    addCabinIssue(seat, path, cabin, issues);
    return [{ id, kind: "person", place: `seats.${seatId}`, mass_kg, x_m: seat.x_m, y_m: seat.y_m }];
  });
}

function patientCargo(sheet: Sheet, { installed, patients, cabin }: OnBoard, issues: Issue[]): Cargo[] {
  return patients.flatMap(({ id, stretcher: stretcherId, mass_kg }, index): Cargo[] => {
    const path = atIndex("patients", index);
    addNumberIssue(mass_kg, atKey(path, "mass_kg"), Number.MIN_VALUE, mostPerson_kg, "kg", issues);
    const stretcher = sheet.stretchers.find((one) => one.id === stretcherId);
    const where = atKey(path, "stretcher");
    if (stretcher === undefined) {
      issues.push(notInSheet(where, stretcherId, "a stretcher of the sheet"));
      return [];
    }
    if (own(installed, stretcher.equipment) !== true) {
      const found = `${stretcherId}, which is not known to be installed`;
      issues.push({ path: where, code: "contradiction", found, wanted: "a stretcher that is installed" });
    }
    if (patients.findIndex((one) => one.stretcher === stretcherId) !== index) {
      issues.push({
        path: where,
        code: "givenTwice",
        found: stretcherId,
        wanted: "one patient on a stretcher",
      });
    }
    addCabinIssue(stretcher, path, cabin, issues);
    const { x_m, y_m } = stretcher;
    return [{ id, kind: "patient", place: `stretchers.${stretcherId}`, mass_kg, x_m, y_m }];
  });
}

function kitCargo(sheet: Sheet, { kit, cabin }: OnBoard, issues: Issue[]): Cargo[] {
  return kit.flatMap(({ id, mass_kg, at }, index): Cargo[] => {
    const path = atIndex("kit", index);
    addNumberIssue(mass_kg, atKey(path, "mass_kg"), Number.MIN_VALUE, mostKit_kg, "kg", issues);
    if (kit.findIndex((one) => one.id === id) !== index) {
      issues.push({ path: atKey(path, "id"), code: "givenTwice", found: id, wanted: "each thing once" });
    }
    const station = typeof at === "string" ? sheet.compartments.find((one) => one.id === at) : at;
    if (station === undefined) {
      issues.push(
        notInSheet(atKey(path, "at"), typeof at === "string" ? at : "no place", "a compartment of the sheet"),
      );
      return [];
    }
    addStationIssues(station, atKey(path, "at"), issues);
    // A compartment is the sheet's own, in the cabin or not.
    if (typeof at !== "string") addCabinIssue(station, atKey(path, "at"), cabin, issues);
    const place = typeof at === "string" ? `compartments.${at}` : null;
    return [{ id, kind: "kit", place, mass_kg, x_m: station.x_m, y_m: station.y_m }];
  });
}

function hookCargo(sheet: Sheet, { hook_kg, installed }: OnBoard, issues: Issue[]): Cargo[] {
  if (hook_kg === null) return [];
  const { hoist } = sheet;
  if (hoist === undefined || own(installed, hoist.equipment) !== true) {
    const found = "a load without a hoist that is known to be installed";
    issues.push({ path: "hook_kg", code: "contradiction", found, wanted: "a hoist that is installed" });
    return [];
  }
  addNumberIssue(hook_kg, "hook_kg", 0, mostKit_kg, "kg", issues);
  const mass_kg = hook_kg + hoist.attachment_kg;
  return [{ id: "hook", kind: "hook", place: "hoist", mass_kg, x_m: hoist.x_m, y_m: hoist.y_m }];
}

function addCabinIssue(
  { x_m, y_m }: Station,
  path: string,
  cabin: CabinBounds | null,
  issues: Issue[],
): void {
  if (cabin === null) return;
  addNumberIssue(x_m, atKey(path, "x_m"), cabin.forward_m, cabin.aft_m, "m, the cabin", issues);
  addNumberIssue(y_m, atKey(path, "y_m"), cabin.left_m, cabin.right_m, "m, the cabin", issues);
}

function notInSheet(path: string, found: string, wanted: string): Issue {
  return { path, code: "outsideDomain", found, wanted };
}

function placesOf(sheet: Sheet): Place[] {
  const of = (kind: "seats" | "stretchers" | "compartments"): Place[] =>
    sheet[kind].map(({ id, maxMass_kg }) => ({ id: `${kind}.${id}`, most_kg: maxMass_kg }));
  const hoist = sheet.hoist === undefined ? [] : [{ id: "hoist", most_kg: sheet.hoist.maxLoad_kg }];
  return [...of("seats"), ...of("stretchers"), ...of("compartments"), ...hoist];
}

// ---- Limits ---------------------------------------------------------------------------------------------------------

function collectLimits(sheet: Sheet, variantId: string, flight: Flight, issues: Issue[]): Limits {
  const variant = sheet.type.variants.find(({ id }) => id === variantId);
  if (variant === undefined) issues.push(notInSheet("variant", variantId, "a variant of the sheet"));
  const found: Record<"longitudinal" | "lateral", Outline | null> = { longitudinal: null, lateral: null };
  const coupled: CoupledLimit[] = [];
  for (const [index, envelope] of sheet.envelopes.entries()) {
    if (envelope.flight !== flight || envelope.variants?.includes(variantId) === false) continue;
    const path = atIndex("envelopes", index);
    if (envelope.axis === "coupled") {
      const outline = readOutline(envelope.points_m_m, atKey(path, "points_m_m"), issues);
      const { above_kg, upTo_kg } = envelope;
      if (outline !== null) coupled.push({ outline, above_kg, upTo_kg });
      continue;
    }
    if (found[envelope.axis] !== null) {
      const wanted = `one ${envelope.axis} limit for a variant and a kind of flight`;
      issues.push({ path, code: "givenTwice", found: envelope.id, wanted });
    }
    found[envelope.axis] = readOutline(envelope.points_m_kg, atKey(path, "points_m_kg"), issues);
  }
  const mass = variant && { least_kg: variant.minMass_kg, most_kg: variant.maxTakeoffMass_kg };
  return { ...found, coupled, mass: mass ?? null };
}

// ---- Fuel -----------------------------------------------------------------------------------------------------------

type SheetTank = { readonly tank: Tank; readonly path: string };

function installedTanks(sheet: Sheet, installed: Installed, issues: Issue[]): SheetTank[] {
  return sheet.tanks.flatMap((tank, index): SheetTank[] => {
    if (tank.equipment === undefined) return [{ tank, path: atIndex("tanks", index) }];
    const isInstalled = own(installed, tank.equipment);
    if (isInstalled === undefined) {
      const path = atKey("installed", tank.equipment);
      const isTold = issues.some((issue) => issue.path === path);
      if (!isTold)
        issues.push({ path, code: "missing", found: "nothing", wanted: "whether it is installed" });
    }
    return isInstalled === true ? [{ tank, path: atIndex("tanks", index) }] : [];
  });
}

function filledTank(tank: Tank, path: string, filled_kg: number): FilledTank {
  return { points: tank.centre_kg_m_m, filled_kg, burnOrder: tank.burnOrder, path };
}

function collectFuel(
  sheet: Sheet,
  { installed, fuel }: OnBoard,
  issues: Issue[],
): { readonly line: FuelLine; readonly from_kg: number } | null {
  const before = issues.length;
  const tanks = installedTanks(sheet, installed, issues);
  const { filled_kg } = fuel;
  if (typeof filled_kg === "number") {
    const line = fuelLineOfTanks(tanks.map(({ tank, path }) => filledTank(tank, path, tank.usable_kg)));
    const most = fuelRange(line)[1];
    addNumberIssue(filled_kg, "fuel.filled_kg", 0, most, "kg, what the tanks hold", issues);
    addNumberIssue(fuel.to_kg, "fuel.to_kg", 0, Math.min(filled_kg, most), "kg, what was filled", issues);
    return issues.length > before ? null : { line, from_kg: filled_kg };
  }
  for (const id of Object.keys(filled_kg)) {
    const path = atKey("fuel.filled_kg", id);
    if (!tanks.some(({ tank }) => tank.id === id))
      issues.push(notInSheet(path, id, "a tank that is installed"));
  }
  for (const { tank } of tanks) {
    const path = atKey("fuel.filled_kg", tank.id);
    const amount = own(filled_kg, tank.id);
    if (amount === undefined) {
      issues.push({ path, code: "missing", found: "nothing", wanted: "what is in this tank" });
    } else addNumberIssue(amount, path, 0, tank.usable_kg, "kg, what the tank holds", issues);
  }
  if (issues.length > before) return null;
  const line = fuelLineOfTanks(tanks.map(({ tank, path }) => filledTank(tank, path, filled_kg[tank.id]!)));
  const from_kg = fuelRange(line)[1];
  addNumberIssue(fuel.to_kg, "fuel.to_kg", 0, from_kg, "kg, what was filled", issues);
  return issues.length > before ? null : { line, from_kg };
}
