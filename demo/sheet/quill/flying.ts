// The Quill's masses, places to load, envelopes, hoist, fuel, speeds, operations and what runs out. All invented.

import type { Sheet } from "../../../src/core/sheet/schema.ts";
import { fitted, t } from "./author.ts";
import type { Element } from "./author.ts";

export const masses: Sheet["masses"] = {
  pilot_kg: 88,
  technicalCrew_kg: 85,
  medic_kg: 85,
  passenger_kg: 90,
  patient_kg: 85,
  heavyPatient_kg: 140,
  tolerance_kg: 5,
};

const seat = (
  id: string,
  name: Element<"seats">["name"],
  role: Element<"seats">["role"],
  x_m: number,
  y_m: number,
  applies?: Element<"seats">["applies"],
): Element<"seats"> => ({
  id,
  name,
  role,
  x_m,
  y_m,
  maxMass_kg: 130,
  ...(applies === undefined ? {} : { applies }),
});

export const seats: Sheet["seats"] = [
  seat("pilotRight", t("pilot, right", "Pilot rechts"), "pilot", 1.75, 0.38),
  seat("frontLeft", t("front left", "vorn links"), "crew", 1.75, -0.38),
  seat("medicRight", t("medic, right, facing aft", "Arzt rechts, Blick nach hinten"), "medic", 2.85, 0.42),
  seat(
    "medicAft",
    t("medic, right, facing forward", "Notfallsanitäter rechts, Blick nach vorn"),
    "medic",
    3.95,
    0.42,
  ),
  seat(
    "operator",
    t("hoist operator at the right door", "Windenführer an der rechten Tür"),
    "crew",
    3.4,
    0.62,
    fitted("hoist"),
  ),
  seat("benchLeft", t("bench, left", "Bank links"), "passenger", 3.6, -0.6, fitted("benchSeats")),
  seat("benchMiddle", t("bench, middle", "Bank Mitte"), "passenger", 3.6, -0.2, fitted("benchSeats")),
  seat("benchRight", t("bench, right", "Bank rechts"), "passenger", 3.6, 0.2, fitted("benchSeats")),
];

export const stretchers: Sheet["stretchers"] = [
  {
    id: "stretcherLeft",
    name: t("stretcher, left", "Trage links"),
    equipment: "stretcher",
    x_m: 3.5,
    y_m: -0.35,
    maxMass_kg: 180,
    takesSeats: ["benchLeft", "benchMiddle", "benchRight"],
  },
];

export const compartments: Sheet["compartments"] = [
  { id: "rearBay", name: t("rear bay", "Gepäckraum"), x_m: 5.9, y_m: 0.1, maxMass_kg: 90 },
  { id: "cabinFloor", name: t("cabin floor, aft", "Kabinenboden hinten"), x_m: 4.5, y_m: 0, maxMass_kg: 160 },
  { id: "cabinRack", name: t("cabin rack", "Kabinenregal"), x_m: 4.3, y_m: 0.3, maxMass_kg: 45 },
  { id: "noseBay", name: t("nose bay", "Nasenraum"), x_m: 0.5, y_m: 0, maxMass_kg: 12 },
];

const thing = (kit: string, name: Element<"seats">["name"], mass_kg: number, at: string) => ({
  kit,
  name,
  mass_kg,
  at,
});
const medicalBag = thing("medicalBag", t("medical bag", "Notfallrucksack"), 14.2, "cabinFloor");
const childBag = thing("childBag", t("child bag", "Kinderrucksack"), 6.5, "cabinFloor");
const monitor = thing("monitor", t("monitor", "Monitor"), 8.1, "cabinRack");
const rescueBag = thing("rescueBag", t("rescue bag", "Bergesack"), 11.8, "rearBay");
const ropes = thing("ropes", t("ropes", "Seile"), 17.5, "rearBay");

export const kitLists: Sheet["kitLists"] = [
  {
    id: "rescue",
    name: t("rescue", "Rettung"),
    kit: [medicalBag, childBag, monitor, rescueBag, ropes],
  },
  {
    id: "hoistRescue",
    name: t("rescue by hoist", "Rettung mit Winde"),
    kit: [
      medicalBag,
      monitor,
      rescueBag,
      ropes,
      thing("rescueSlings", t("rescue slings and net", "Rettungsschlingen und Netz"), 21.4, "cabinFloor"),
    ],
  },
  {
    id: "transfer",
    name: t("transfer", "Verlegung"),
    kit: [
      medicalBag,
      monitor,
      thing("ventilator", t("ventilator", "Beatmungsgerät"), 9.6, "cabinRack"),
      thing("pumps", t("syringe pumps", "Spritzenpumpen"), 7.9, "cabinRack"),
    ],
  },
];

export const tanks: Sheet["tanks"] = [
  {
    id: "main",
    name: t("main tank", "Haupttank"),
    fluid: "fuel",
    gauge: "fuelQuantity",
    capacity_L: 590,
    usable_kg: 463,
    unusable_kg: 9,
    density_kgL: 0.8,
    burnOrder: 1,
    centre_kg_m_m: [
      [0, 4.1, 0],
      [60, 4.12, 0],
      [160, 4.2, 0],
      [300, 4.31, 0],
      [463, 4.36, 0],
    ],
  },
  {
    id: "supply",
    name: t("supply tanks", "Versorgungstanks"),
    fluid: "fuel",
    gauge: "fuelQuantity",
    capacity_L: 120,
    usable_kg: 92,
    unusable_kg: 4,
    density_kgL: 0.8,
    burnOrder: 2,
    centre_kg_m_m: [
      [0, 4.95, 0],
      [92, 4.98, 0],
    ],
  },
  {
    id: "aux",
    name: t("auxiliary tank", "Zusatztank"),
    fluid: "fuel",
    gauge: "auxFuel",
    equipment: "auxTank",
    capacity_L: 172,
    usable_kg: 136,
    unusable_kg: 1.5,
    density_kgL: 0.8,
    burnOrder: 1,
    centre_kg_m_m: [
      [0, 5.3, -0.1],
      [136, 5.3, -0.1],
    ],
  },
];

const around = (points: readonly (readonly [number, number])[]) => [
  ...points,
  points[0] as readonly [number, number],
];

const envelopesOf = (variant: "2" | "2H", min_kg: number, max_kg: number): Sheet["envelopes"] => [
  {
    id: `${variant === "2" ? "two" : "twoH"}Long`,
    axis: "longitudinal",
    flight: "normal",
    variants: [variant],
    points_m_kg: around([
      [4.18, min_kg],
      [4.18, 2750],
      [4.24, max_kg],
      [4.6, max_kg],
      [4.74, 2500],
      [4.74, min_kg],
    ]),
  },
  {
    id: `${variant === "2" ? "two" : "twoH"}LongHoist`,
    axis: "longitudinal",
    flight: "hoist",
    variants: [variant],
    points_m_kg: around([
      [4.2, min_kg],
      [4.2, 2750],
      [4.25, max_kg - 90],
      [4.58, max_kg - 90],
      [4.7, 2500],
      [4.7, min_kg],
    ]),
  },
  {
    id: `${variant === "2" ? "two" : "twoH"}Lateral`,
    axis: "lateral",
    flight: "normal",
    variants: [variant],
    points_m_kg: around([
      [-0.1, min_kg],
      [-0.1, 2900],
      [-0.08, max_kg],
      [0.08, max_kg],
      [0.1, 2900],
      [0.1, min_kg],
    ]),
  },
  {
    id: `${variant === "2" ? "two" : "twoH"}LateralHoist`,
    axis: "lateral",
    flight: "hoist",
    variants: [variant],
    points_m_kg: around([
      [-0.1, min_kg],
      [-0.1, 2900],
      [-0.08, max_kg - 90],
      [0.15, max_kg - 90],
      [0.18, 2900],
      [0.18, min_kg],
    ]),
  },
  {
    id: `${variant === "2" ? "two" : "twoH"}Coupled`,
    axis: "coupled",
    flight: "normal",
    variants: [variant],
    above_kg: 2900,
    upTo_kg: max_kg,
    points_m_m: around([
      [4.2, -0.05],
      [4.28, -0.1],
      [4.55, -0.1],
      [4.66, -0.06],
      [4.66, 0.06],
      [4.55, 0.1],
      [4.28, 0.1],
      [4.2, 0.05],
    ]),
  },
];

export const envelopes: Sheet["envelopes"] = [
  ...envelopesOf("2", 1980, 3310),
  ...envelopesOf("2H", 2020, 3460),
];

export const hoistBlock: NonNullable<Sheet["hoist"]> = {
  equipment: "hoist",
  x_m: 3.9,
  y_m: 1.42,
  maxLoad_kg: 272,
  maxPersons: 2,
  cable_m: 75,
  attachment_kg: 6,
};

export const fuelFlow: Sheet["fuelFlow"] = {
  ground_kgh: 118,
  hover_kgh: 292,
  cruise: [
    { tas_kt: 60, flow_kgh: 163 },
    { tas_kt: 80, flow_kgh: 172 },
    { tas_kt: 100, flow_kgh: 190 },
    { tas_kt: 120, flow_kgh: 218 },
    { tas_kt: 135, flow_kgh: 247 },
    { tas_kt: 142, flow_kgh: 266 },
  ],
  reserve_kgh: 205,
  start_kg: 6,
};

export const speeds: Sheet["speeds"] = {
  cruise_kt: 132,
  bestRange_kt: 118,
  bestEndurance_kt: 62,
  neverExceed_kt: 148,
  doorOpen_kt: 70,
};

type Call = NonNullable<Element<"operations">["referenceCall"]>;
const call = (rest: Partial<Call>): Call => ({
  siteElevation_ft: 2900,
  temperature_C: 12,
  toScene_nm: 38,
  toHospital_nm: 34,
  toBase_nm: 29,
  onScene_min: 15,
  patient_kg: 90,
  fuelAtStart_kg: 420,
  ...rest,
});
const levels = [
  "engineOilLeft",
  "engineOilRight",
  "gearboxOil",
  "tailGearboxOil",
  "hydraulicLeft",
  "hydraulicRight",
  "fuelQuantity",
  "batteryVoltage",
];

export const operations: Sheet["operations"] = [
  {
    id: "dayVfr",
    name: t("day VFR", "VFR bei Tag"),
    needs: {
      equipment: [],
      walks: ["full", "launch"],
      gauges: levels,
      pilots: 1,
      crew: ["technicalCrew"],
      masses: "normal",
      power: ["hoverOutOfGroundEffect", "operatingLimit"],
    },
    referenceCall: call({}),
  },
  {
    id: "nightVfr",
    name: t("night VFR", "VFR bei Nacht"),
    needs: {
      equipment: ["searchlight", "movingMap"],
      walks: ["full", "launch"],
      gauges: [...levels, "standbyBattery"],
      pilots: 1,
      crew: ["technicalCrew"],
      masses: "normal",
      power: ["hoverOutOfGroundEffect", "operatingLimit"],
    },
    referenceCall: call({ siteElevation_ft: 900, fuelAtStart_kg: 460 }),
  },
  {
    id: "nvis",
    name: t("night with goggles", "Nacht mit Nachtsichtbrille"),
    needs: {
      equipment: ["nvisCockpit", "searchlight", "movingMap"],
      walks: ["full", "launch"],
      gauges: [...levels, "standbyBattery"],
      pilots: 1,
      crew: ["technicalCrew"],
      masses: "normal",
      power: ["hoverOutOfGroundEffect", "operatingLimit"],
    },
    referenceCall: call({ siteElevation_ft: 1800, fuelAtStart_kg: 460 }),
  },
  {
    id: "ifr",
    name: t("IFR", "IFR"),
    needs: {
      equipment: ["autopilot"],
      walks: ["full", "launch"],
      gauges: [...levels, "standbyBattery"],
      pilots: 1,
      crew: ["technicalCrew"],
      masses: "normal",
      power: ["oneEngineInoperative", "operatingLimit"],
    },
    referenceCall: call({
      siteElevation_ft: 200,
      toScene_nm: 32,
      toHospital_nm: 0,
      toBase_nm: 32,
      toAlternate_nm: 24,
      fuelAtStart_kg: 520,
    }),
  },
  {
    id: "hoist",
    name: t("hoist", "Winde"),
    needs: {
      equipment: ["hoist"],
      walks: ["full", "launch"],
      gauges: levels,
      pilots: 1,
      crew: ["technicalCrew", "hoistOperator"],
      masses: "hoist",
      power: ["hoverOutOfGroundEffect", "oneEngineInoperative", "operatingLimit"],
    },
    referenceCall: call({ siteElevation_ft: 2400, toScene_nm: 22, hoistLoad_kg: 190, fuelAtStart_kg: 300 }),
  },
  {
    id: "overWater",
    name: t("over water", "über Wasser"),
    needs: {
      equipment: ["emergencyFloats", "lifeRaft"],
      walks: ["full", "launch"],
      gauges: [...levels, "floatBottle"],
      pilots: 1,
      crew: ["technicalCrew"],
      masses: "normal",
      power: ["hoverOutOfGroundEffect", "operatingLimit"],
    },
    referenceCall: call({ siteElevation_ft: 60, toScene_nm: 45, fuelAtStart_kg: 460 }),
  },
  {
    id: "transfer",
    name: t("transfer between hospitals", "Verlegung"),
    needs: {
      equipment: ["stretcher", "medicalOxygen", "medicalRack"],
      walks: ["full", "launch"],
      gauges: [...levels, "oxygenPressure"],
      pilots: 1,
      crew: ["technicalCrew", "medic"],
      masses: "normal",
      power: ["hoverInGroundEffect", "oneEngineInoperative", "operatingLimit"],
    },
    referenceCall: call({
      siteElevation_ft: 250,
      toScene_nm: 25,
      toHospital_nm: 58,
      toBase_nm: 44,
      fuelAtStart_kg: 520,
    }),
  },
];

const wind = (
  id: string,
  phase: Element<"windLimits">["phase"],
  sector: readonly [number, number],
  wind_kt: number,
  gust_kt: number,
  name: Element<"windLimits">["name"],
  applies?: Element<"windLimits">["applies"],
): Element<"windLimits"> => ({
  id,
  name,
  phase,
  from_deg: sector[0],
  to_deg: sector[1],
  wind_kt,
  gust_kt,
  ...(applies === undefined ? {} : { applies }),
});

export const windLimits: Sheet["windLimits"] = [
  wind("startAhead", "start", [300, 60], 45, 52, t("starting, wind from ahead", "Anlassen, Wind von vorn")),
  wind(
    "startElsewhere",
    "start",
    [60, 300],
    32,
    38,
    t("starting, wind from the side or behind", "Anlassen, Wind von der Seite oder von hinten"),
  ),
  wind("stopAnywhere", "shutdown", [0, 360], 36, 42, t("rotor stopping", "Abstellen des Rotors")),
  wind("hoverBehind", "hover", [120, 240], 20, 25, t("hover, wind from behind", "Schweben, Wind von hinten")),
  wind(
    "hoverElsewhere",
    "hover",
    [240, 120],
    35,
    42,
    t("hover, wind from ahead or the side", "Schweben, Wind von vorn oder von der Seite"),
  ),
  wind("hoist", "hoist", [0, 360], 28, 35, t("hoisting", "Windenbetrieb"), fitted("hoist")),
  wind(
    "doors",
    "doorOpen",
    [0, 360],
    40,
    48,
    t("sliding door open on the ground", "Schiebetür am Boden offen"),
  ),
  {
    ...wind("floats", "floats", [0, 360], 38, 45, t("afloat on its floats", "auf den Schwimmern")),
    operations: ["overWater"],
  },
  wind("parked", "parked", [0, 360], 40, 50, t("parked without tie-downs", "abgestellt ohne Fesseln")),
];

/** Not approved for ice; the intakes may ice in moisture that can be seen, some degrees above freezing. */
export const ice: NonNullable<Sheet["ice"]> = { moistureBelow_C: 5 };

export const walkValidity: Sheet["walkValidity"] = {
  full: {
    calendarDay: true,
    hours_h: 14,
    voidedBy: ["maintenance", "frostAfterFreezing", "storm", "event", "configurationChange"],
  },
  launch: {
    calendarDay: false,
    hours_h: 4,
    voidedBy: [
      "flight",
      "maintenance",
      "frostAfterFreezing",
      "storm",
      "event",
      "uplift",
      "configurationChange",
      "custodyChange",
    ],
  },
  parking: { calendarDay: false, voidedBy: ["flight", "maintenance", "storm"] },
};

export const sequence: Sheet["sequence"] = {
  walkingSpeed_ms: 0.9,
  clearance_m: 0.4,
  step_s: 5,
  ladder_s: 16,
  top_s: 24,
  action_s: { look: 4, feel: 6, move: 7, turn: 12, read: 12, close: 7, test: 10 },
};
