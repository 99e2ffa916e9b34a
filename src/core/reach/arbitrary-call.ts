// For tests and benches: a Quill of the demo, weighed and loaded, of which everything is known, at the invented base in
// fair weather, and its usual call to a scene; and generators of calls.
import * as fc from "fast-check";
import sitesFile from "../../../demo/sites.json" with { type: "json" };
import quillFile from "../../../demo/sheet/quill.json" with { type: "json" };
import { type CraftState, emptyCraft } from "../facts/craft.ts";
import type { LoadedKit, LoadingFact, WeighingFact } from "../facts/load.ts";
import type { Situation } from "../facts/situation.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { Call, CallAir, CallKnown, CallPlace, CallStop } from "./call.ts";
import { readSites } from "./sites-geojson.ts";

export const quill = quillFile as unknown as Sheet;
export const now_ms = Date.UTC(2026, 10, 25, 9);
export const home: CallPlace = { name: "base", lat_deg: 70.2, lon_deg: 12.5, elevation_ft: 36, site: null };
export const kit: readonly LoadedKit[] = [
  { kit: "medicalBag", name: "medical bag", mass_kg: 14.2, at: "cabinFloor" },
  { kit: "rescueBag", name: "rescue bag", mass_kg: 11.8, at: "rearBay" },
  { kit: "ropes", name: "ropes", mass_kg: 17.5, at: "rearBay" },
];
const fitted = [
  "hoistMount",
  "emergencyFloats",
  "particleSeparators",
  "searchlight",
  "stretcher",
  "medicalOxygen",
  "medicalRack",
  "lifeRaft",
  "autopilot",
  "movingMap",
];
const said = { by: "someone", at_ms: now_ms - 3_600_000 };

export function weighing(variantId: string, installed: readonly string[], entry = "weighed"): WeighingFact {
  const { referenceEmpty } = quill.type.variants.find(({ id }) => id === variantId)!;
  const parts = [referenceEmpty, ...quill.equipment.filter(({ id }) => installed.includes(id))];
  const mass_kg = parts.reduce((sum, part) => sum + part.mass_kg, 0);
  const arm = (axis: "x_m" | "y_m") =>
    parts.reduce((sum, part) => sum + part.mass_kg * part[axis], 0) / mass_kg;
  const own = { role: "engineer", report: "one", replaces: [], included: [...installed] };
  return { ...said, entry, mass_kg, x_m: arm("x_m"), y_m: arm("y_m"), ...own };
}

export function loading(fuel_kg: number, more: Partial<LoadingFact> = {}): LoadingFact {
  const persons = [
    { seat: "pilotRight", person: null, mass_kg: 80 },
    { seat: "frontLeft", person: null, mass_kg: 78 },
    { seat: "medicRight", person: null, mass_kg: 74 },
  ];
  return { ...said, entry: "loaded", persons, patients: [], kit, fuel_kg, fuelAtEnd_kg: 70, ...more };
}

export function craftOf(
  fuel_kg = 420,
  { variant = "2H", hoist = false }: { variant?: string; hoist?: boolean } = {},
): CraftState {
  const installed = hoist ? [...fitted, "hoist"] : fitted;
  return {
    ...emptyCraft,
    opened: { ...said, entry: "opened", name: "Prøve", variant, sheet: "sheet" },
    equipment: Object.fromEntries(
      quill.equipment.map(({ id }) => [
        id,
        [{ ...said, entry: `e ${id}`, installed: installed.includes(id) }],
      ]),
    ),
    load: { weighings: [weighing(variant, installed)], loadings: [loading(fuel_kg)], kit: {} },
  };
}

export const situation: Situation = {
  now_ms,
  horizon_ms: now_ms + 72 * 3_600_000,
  settings: { zone: "UTC", exchangeLimit_min: 240, ruleSet: "eu" },
  record: { newest_ms: now_ms, aside: [], exchanged_ms: now_ms, unsent: 0 },
};

const { sites, land } = readSites(sitesFile);

export function knownOf(state: CraftState, more: Partial<CallKnown> = {}): CallKnown {
  return {
    sheet: quill,
    state,
    situation,
    reasons: [],
    sites,
    land,
    notices: [],
    policy: { contingency_pct: 10, hems: null, landmarks: false, extra_kg: 0, refuelRunning: false },
    skyAt: () => [],
    lightAt: () => "day",
    ...more,
  };
}

export const air: CallAir = {
  wind: { from_deg: 240, speed_kt: 16 },
  qnh_hPa: 1005,
  temperature: { value_C: 3, elevation_ft: 36 },
};

export const placeAt = (lat_deg: number, lon_deg: number, elevation_ft: number | null): CallPlace => ({
  name: "scene",
  lat_deg,
  lon_deg,
  elevation_ft,
  site: null,
});

export const hospital: CallPlace = (() => {
  const { id, name, lat_deg, lon_deg, elevation_ft } = sites.find(({ kind }) => kind === "hospital")!;
  return { name, lat_deg, lon_deg, elevation_ft, site: id };
})();

export const plainStop: Omit<CallStop, "place" | "role"> = {
  stay_min: 0,
  engines: "running",
  boards: [],
  leaves: [],
  kitLeft: [],
  uplift_kg: 0,
  hook_kg: null,
  headwind_kt: null,
};

export function callTo(scene: CallPlace, more: Partial<Call> = {}, patient_kg = 90): Call {
  const patient = { id: "patient", at: "stretcherLeft", most_kg: patient_kg };
  return {
    operation: "dayVfr",
    depart_ms: now_ms,
    from: home,
    isAirborne: false,
    stops: [
      { ...plainStop, place: scene, role: "scene", stay_min: 15, boards: [patient] },
      {
        ...plainStop,
        place: hospital,
        role: "hospital",
        stay_min: 20,
        engines: "stopped",
        leaves: ["patient"],
      },
      { ...plainStop, place: home, role: "base" },
    ],
    fuel_kg: 420,
    mostFuel_kg: null,
    tas_kt: 132,
    aboard: [],
    without: [],
    air,
    flightRules: "vfr",
    alternate: null,
    ...more,
  };
}

/** Calls near and far, light and heavy, low and high, in calm and storm. */
export const arbitraryCall: fc.Arbitrary<Call> = fc
  .record({
    lat_deg: fc.double({ min: 69.2, max: 71.2, noNaN: true }),
    lon_deg: fc.double({ min: 9.5, max: 15.5, noNaN: true }),
    elevation_ft: fc.double({ min: 0, max: 6_000, noNaN: true }),
    fuel_kg: fc.double({ min: 150, max: 555, noNaN: true }),
    patient_kg: fc.double({ min: 0, max: 160, noNaN: true }),
    from_deg: fc.double({ min: 0, max: 360, noNaN: true }),
    speed_kt: fc.double({ min: 0, max: 50, noNaN: true }),
    value_C: fc.double({ min: -30, max: 35, noNaN: true }),
    tas_kt: fc.double({ min: 90, max: 140, noNaN: true }),
  })
  .map(({ lat_deg, lon_deg, elevation_ft, fuel_kg, patient_kg, from_deg, speed_kt, value_C, tas_kt }) =>
    callTo(
      placeAt(lat_deg, lon_deg, elevation_ft),
      {
        fuel_kg,
        tas_kt,
        air: { wind: { from_deg, speed_kt }, qnh_hPa: 1005, temperature: { value_C, elevation_ft: 0 } },
      },
      patient_kg,
    ),
  );
