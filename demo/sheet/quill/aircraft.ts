// The Quill itself: type and variants, outline for the drawing, zones, equipment, stops and their order. All invented.

import type { Sheet } from "../../../src/core/sheet/schema.ts";
import { fitted, on, t } from "./author.ts";
import type { Element } from "./author.ts";

export const type: Sheet["type"] = {
  name: "Quill",
  datum: t(
    "x = 0 at the foremost point of the nose, aft positive; y = 0 on the centre line, right positive",
    "x = 0 am vordersten Punkt der Nase, nach hinten positiv; y = 0 auf der Mittellinie, nach rechts positiv",
  ),
  variants: [
    {
      id: "2",
      name: t("Quill 2", "Quill 2"),
      maxTakeoffMass_kg: 3310,
      minMass_kg: 1980,
      referenceEmpty: { mass_kg: 1905, x_m: 4.72, y_m: 0.01 },
    },
    {
      id: "2H",
      name: t("Quill 2H, strengthened gearbox", "Quill 2H, verstärktes Getriebe"),
      maxTakeoffMass_kg: 3460,
      minMass_kg: 2020,
      referenceEmpty: { mass_kg: 1948, x_m: 4.7, y_m: 0.01 },
    },
  ],
  engines: 2,
  gear: "skids",
  overallLength_m: 13.36,
  mainRotorDiameter_m: 11.4,
  crewMin: 1,
};

type Point = readonly [number, number];
const mirrored = (right: readonly Point[]): readonly Point[] => [
  ...right,
  ...right
    .slice(1)
    .toReversed()
    .map(([x, y]): Point => [x, -y]),
  right[0] as Point,
];
const box = (fromX: number, toX: number, front: number, rear: number): readonly Point[] => [
  [fromX, -front],
  [fromX, front],
  [toX, rear],
  [toX, -rear],
  [fromX, -front],
];

export const outline: Sheet["outline"] = {
  fuselage_m: mirrored([
    [0, 0],
    [0.05, 0.22],
    [0.25, 0.48],
    [0.7, 0.68],
    [1.4, 0.82],
    [2.4, 0.9],
    [3.6, 0.92],
    [4.6, 0.9],
    [5.4, 0.8],
    [6.2, 0.55],
    [6.8, 0.32],
  ]),
  tailBoom_m: box(6.8, 11.2, 0.32, 0.15),
  fin_m: box(10.3, 11.6, 0.06, 0.05),
  stabiliser_m: box(9.1, 9.65, 1.35, 1.35),
  gear_m: [
    [
      [1.0, -1.1],
      [1.25, -1.15],
      [5.6, -1.15],
    ],
    [
      [1.0, 1.1],
      [1.25, 1.15],
      [5.6, 1.15],
    ],
    [
      [2.3, -1.15],
      [2.3, 1.15],
    ],
    [
      [4.6, -1.15],
      [4.6, 1.15],
    ],
  ],
  lines_m: [
    [
      [1.05, -0.75],
      [0.75, 0],
      [1.05, 0.75],
    ],
    [
      [2.35, -0.9],
      [2.35, 0.9],
    ],
    [
      [3.75, -0.5],
      [6.1, -0.42],
    ],
    [
      [3.75, 0.5],
      [6.1, 0.42],
    ],
  ],
  doors: [
    { closure: "noseHatch", from_m: [0.25, -0.48], to_m: [0.25, 0.48] },
    { closure: "cockpitDoorLeft", from_m: [1.2, -0.79], to_m: [2.3, -0.9] },
    { closure: "cockpitDoorRight", from_m: [1.2, 0.79], to_m: [2.3, 0.9] },
    { closure: "cabinDoorLeft", from_m: [2.5, -0.9], to_m: [3.9, -0.92] },
    { closure: "cabinDoorRight", from_m: [2.5, 0.9], to_m: [3.9, 0.92] },
    { closure: "deckCowlLeft", from_m: [3.75, -0.5], to_m: [4.75, -0.48] },
    { closure: "deckCowlRight", from_m: [3.75, 0.5], to_m: [4.75, 0.48] },
    { closure: "engineCowlLeft", from_m: [4.85, -0.48], to_m: [6.1, -0.42] },
    { closure: "engineCowlRight", from_m: [4.85, 0.48], to_m: [6.1, 0.42] },
    { closure: "rearHatch", from_m: [5.6, 0.74], to_m: [6.6, 0.4] },
    { closure: "driveCover", from_m: [7.2, 0], to_m: [10.4, 0] },
  ],
  mainRotor: { x_m: 4.42, y_m: 0, radius_m: 5.7, height_m: 3.25, blades: 6 },
  tailRotor: { x_m: 11.1, y_m: 0.42, radius_m: 0.98, height_m: 2.2, blades: 4 },
  tailRotorSide: "right",
};

export const zones: Sheet["zones"] = [
  { id: "front", name: t("front", "vorn") },
  { id: "left", name: t("left side", "linke Seite") },
  { id: "right", name: t("right side", "rechte Seite") },
  { id: "upper", name: t("upper deck", "Oberdeck") },
  { id: "head", name: t("rotor head", "Rotorkopf") },
  { id: "tail", name: t("tail", "Heck") },
  { id: "under", name: t("underside", "Unterseite") },
  { id: "inside", name: t("inside", "innen") },
];

const equip = (
  id: string,
  name: Element<"equipment">["name"],
  place: readonly [mass_kg: number, x_m: number, y_m: number],
  rest: Partial<Element<"equipment">> = {},
): Element<"equipment"> => ({ id, name, mass_kg: place[0], x_m: place[1], y_m: place[2], ...rest });

export const equipment: Sheet["equipment"] = [
  equip("hoist", t("rescue hoist", "Rettungswinde"), [46, 3.9, 1.15], {
    requires: ["hoistMount"],
    provision: t("boom foot capped, plug covered", "Auslegerfuß abgedeckt, Stecker verschlossen"),
  }),
  equip("hoistMount", t("hoist mount", "Windenaufnahme"), [7, 3.9, 0.85]),
  equip("emergencyFloats", t("emergency floats", "Notschwimmer"), [58, 3.7, 0], {
    excludes: ["snowBoards"],
    provision: t("float fittings capped", "Schwimmeranschlüsse verschlossen"),
  }),
  equip("particleSeparators", t("particle separators", "Partikelabscheider"), [31, 5.1, 0], {
    provision: t("plain intake screens", "einfache Einlaufgitter"),
  }),
  equip("searchlight", t("searchlight", "Suchscheinwerfer"), [34, 1.5, -0.75], {
    provision: t("mount capped, plug covered", "Halter abgedeckt, Stecker verschlossen"),
  }),
  equip("stretcher", t("stretcher with base", "Trage mit Untergestell"), [27, 3.4, -0.35], {
    excludes: ["incubator", "benchSeats"],
  }),
  equip("incubator", t("transport incubator", "Transportinkubator"), [71, 3.35, -0.3], {
    requires: ["medicalOxygen"],
    excludes: ["stretcher", "benchSeats"],
  }),
  equip("benchSeats", t("bench of three seats", "Dreierbank"), [36, 3.6, -0.2], { excludes: ["stretcher"] }),
  equip("medicalOxygen", t("medical oxygen", "Medizinischer Sauerstoff"), [28, 4.9, 0.4], {
    provision: t("oxygen fitting capped", "Sauerstoffanschluss verschlossen"),
  }),
  equip("medicalRack", t("medical rack", "Medizingeräteträger"), [39, 4.1, 0.3]),
  equip("cargoHook", t("load hook", "Lasthaken"), [11, 4.42, 0], {
    provision: t("hook frame capped", "Hakenrahmen verschlossen"),
  }),
  equip("wireCutter", t("wire cutters", "Kabelkappvorrichtung"), [6, 0.9, 0], {
    provision: t("fittings blanked", "Beschläge blind verschlossen"),
  }),
  equip("lifeRaft", t("life raft", "Rettungsfloß"), [24, 5.7, 0.2]),
  equip("nvisCockpit", t("goggle lighting", "Nachtsichtbeleuchtung"), [4, 1.2, 0]),
  equip("autopilot", t("four-axis autopilot", "Vierachsen-Autopilot"), [22, 2.0, 0]),
  equip("movingMap", t("moving map with obstacles", "bewegte Karte mit Hindernissen"), [3, 1.1, 0.1]),
  equip("weatherRadar", t("weather radar", "Wetterradar"), [12, 0.3, 0], { variants: ["2H"] }),
  equip("auxTank", t("auxiliary tank", "Zusatztank"), [22, 5.3, -0.1], { excludes: ["incubator"] }),
  equip("snowBoards", t("snow boards", "Schneebretter"), [18, 3.6, 0], { excludes: ["emergencyFloats"] }),
];

/** Where controls are worked on: servos, rotor head, tail rotor. */
const controlsAt: readonly string[] = ["leftDeck", "rightDeck", "rotorTop", "tailRotor"];

const stop = (
  id: string,
  en: string,
  de: string,
  place: readonly [x_m: number, y_m: number, height_m: number],
  access: Element<"stops">["access"],
  zone: string,
): Element<"stops"> => ({
  id,
  name: t(en, de),
  x_m: place[0],
  y_m: place[1],
  height_m: place[2],
  access,
  zone,
  ...(controlsAt.includes(id) ? { independentInspection: true } : {}),
});

export const stops: Sheet["stops"] = [
  stop("approach", "approach", "Annäherung", [-2.6, -2.2, 1.5], "floor", "front"),
  stop("cockpit", "cockpit", "Cockpit", [1.75, 0.95, 1.4], "step", "inside"),
  stop("rightNose", "nose right", "Nase rechts", [0.5, 1.3, 1.2], "floor", "front"),
  stop("noseFront", "nose", "Nase", [-0.7, 0, 1.1], "floor", "front"),
  stop("leftNose", "nose left", "Nase links", [0.5, -1.3, 1.2], "floor", "front"),
  stop("leftCockpit", "left cockpit door", "Cockpittür links", [1.75, -1.5, 1.5], "floor", "left"),
  stop("leftCabin", "left cabin door", "Kabinentür links", [3.2, -1.6, 1.4], "floor", "left"),
  stop("cabinInside", "cabin", "Kabine", [3.2, -0.95, 1.4], "step", "inside"),
  stop("leftSkid", "left skid", "Kufe links", [3.9, -1.8, 0.4], "floor", "left"),
  stop("belly", "belly", "Rumpfunterseite", [4.4, -1.4, 0.5], "floor", "under"),
  stop("leftDeck", "left deck", "Deck links", [4.25, -1.15, 2.3], "ladder", "upper"),
  stop("rotorTop", "rotor head", "Rotorkopf", [4.42, -0.5, 2.9], "top", "head"),
  stop("leftEngine", "left engine", "Triebwerk links", [5.4, -1.2, 2.2], "ladder", "upper"),
  stop("leftFuel", "fuel side", "Tankseite", [5.3, -1.5, 1.2], "floor", "left"),
  stop("leftAft", "left rear", "Rumpfheck links", [6.6, -1.2, 1.5], "floor", "left"),
  stop("leftBoom", "left boom", "Heckausleger links", [8.2, -1.0, 1.8], "step", "tail"),
  stop("leftStabiliser", "left stabiliser", "Höhenflosse links", [9.4, -1.8, 1.6], "floor", "tail"),
  stop("leftFin", "fin", "Seitenflosse", [10.9, -1.1, 1.9], "floor", "tail"),
  stop("tailEnd", "tail end", "Heckende", [12.5, -0.3, 1.5], "floor", "tail"),
  stop("tailRotor", "tail rotor", "Heckrotor", [11.1, 1.5, 1.9], "floor", "tail"),
  stop("rightStabiliser", "right stabiliser", "Höhenflosse rechts", [9.4, 1.8, 1.6], "floor", "tail"),
  stop("rightBoom", "right boom", "Heckausleger rechts", [8.2, 1.0, 1.8], "floor", "tail"),
  stop("rearBay", "rear bay", "Gepäckraum", [6.6, 1.2, 1.2], "floor", "right"),
  stop("rightSide", "right side", "Rumpf rechts", [5.6, 1.5, 1.2], "floor", "right"),
  stop("rightEngine", "right engine", "Triebwerk rechts", [5.4, 1.2, 2.2], "ladder", "upper"),
  stop("rightDeck", "right deck", "Deck rechts", [4.25, 1.15, 2.3], "ladder", "upper"),
  stop("hoist", "hoist", "Winde", [3.9, 1.6, 2.0], "step", "right"),
  stop("rightSkid", "right skid", "Kufe rechts", [3.9, 1.8, 0.4], "floor", "right"),
  stop("rightCabin", "right cabin door", "Kabinentür rechts", [3.2, 1.6, 1.4], "floor", "right"),
  stop("rightCockpit", "right cockpit door", "Cockpittür rechts", [1.75, 1.5, 1.5], "floor", "right"),
  stop("lastLook", "last look", "Letzter Blick", [-2.6, 2.2, 1.5], "floor", "front"),
];

export const order: Sheet["order"] = {
  full: [
    "approach",
    "noseFront",
    "leftNose",
    "leftCockpit",
    "leftCabin",
    "cabinInside",
    "leftSkid",
    "belly",
    "leftDeck",
    "rotorTop",
    "leftEngine",
    "leftFuel",
    "leftAft",
    "leftBoom",
    "leftStabiliser",
    "leftFin",
    "tailEnd",
    "tailRotor",
    "rightStabiliser",
    "rightBoom",
    "rearBay",
    "rightSide",
    "rightDeck",
    "rightEngine",
    "hoist",
    "rightSkid",
    "rightCabin",
    "rightCockpit",
    "cockpit",
    "rightNose",
    "lastLook",
  ],
  launch: [
    "approach",
    "leftNose",
    "leftCabin",
    "leftEngine",
    "leftFuel",
    "tailRotor",
    "rearBay",
    "rightEngine",
    "hoist",
    "rightCabin",
    "rightNose",
    "lastLook",
  ],
  parking: [
    "cockpit",
    "rightCabin",
    "rightSkid",
    "hoist",
    "rightEngine",
    "rearBay",
    "tailRotor",
    "leftFuel",
    "leftEngine",
    "rotorTop",
    "leftSkid",
    "leftCabin",
    "leftNose",
    "noseFront",
    "rightNose",
    "lastLook",
  ],
};

const shut = (
  kind: "door" | "cowling" | "cap",
  id: string,
  en: string,
  de: string,
  at: string,
  rest = {},
) => ({
  id,
  name: t(en, de),
  kind,
  stop: at,
  normal: "closed" as const,
  fromOutside: kind !== "cap",
  parked: "closed" as const,
  ...rest,
});
/** What is fitted on a parked machine and must be off for flight. */
const off = (
  kind: "cover" | "plug" | "tieDown" | "pin",
  id: string,
  en: string,
  de: string,
  at: string,
  rest: Partial<Element<"closures">> = {},
): Element<"closures"> => ({
  id,
  name: t(en, de),
  kind,
  stop: at,
  normal: "removed",
  fromOutside: kind !== "pin",
  parked: "open",
  ...rest,
});

export const closures: Sheet["closures"] = [
  shut("door", "noseHatch", "nose hatch", "Nasenklappe", "noseFront"),
  shut("door", "cockpitDoorLeft", "left cockpit door", "Cockpittür links", "leftCockpit"),
  shut("door", "cockpitDoorRight", "right cockpit door", "Cockpittür rechts", "rightCockpit"),
  shut("door", "cabinDoorLeft", "left cabin door", "Kabinentür links", "leftCabin"),
  shut("door", "cabinDoorRight", "right cabin door", "Kabinentür rechts", "rightCabin"),
  shut("door", "rearHatch", "rear hatch", "Gepäckraumklappe", "rearBay"),
  shut("door", "oxygenDoor", "oxygen door", "Sauerstoffklappe", "rightSide", {
    applies: fitted("medicalOxygen"),
  }),
  shut("cowling", "deckCowlLeft", "left deck cowling", "Deckhaube links", "leftDeck"),
  shut("cowling", "deckCowlRight", "right deck cowling", "Deckhaube rechts", "rightDeck"),
  shut("cowling", "engineCowlLeft", "left engine cowling", "Triebwerkshaube links", "leftEngine"),
  shut("cowling", "engineCowlRight", "right engine cowling", "Triebwerkshaube rechts", "rightEngine"),
  shut("cowling", "driveCover", "drive-shaft cover", "Wellenabdeckung", "leftBoom"),
  shut("cap", "fuelCap", "fuel cap", "Tankdeckel", "leftFuel", { fromOutside: true }),
  shut("cap", "auxCap", "auxiliary tank cap", "Deckel Zusatztank", "leftFuel", {
    fromOutside: true,
    applies: fitted("auxTank"),
  }),
  shut("cap", "engineOilCapLeft", "left engine oil cap", "Öldeckel Triebwerk links", "leftEngine"),
  shut("cap", "engineOilCapRight", "right engine oil cap", "Öldeckel Triebwerk rechts", "rightEngine"),
  shut("cap", "gearboxCap", "main gearbox oil cap", "Öldeckel Hauptgetriebe", "leftDeck"),
  shut("cap", "tailGearboxCap", "tail gearbox oil cap", "Öldeckel Heckgetriebe", "leftFin", {
    fromOutside: true,
  }),
  shut("cap", "hydraulicCapLeft", "hydraulic cap, system 1", "Hydraulikdeckel System 1", "leftDeck"),
  shut("cap", "hydraulicCapRight", "hydraulic cap, system 2", "Hydraulikdeckel System 2", "rightDeck"),
  off("cover", "pitotCoverLeft", "left pitot cover", "Staurohrkappe links", "leftNose"),
  off("cover", "pitotCoverRight", "right pitot cover", "Staurohrkappe rechts", "rightNose"),
  off("plug", "staticPlugLeft", "left static plug", "Statikstopfen links", "leftNose"),
  off("plug", "staticPlugRight", "right static plug", "Statikstopfen rechts", "rightNose"),
  off("cover", "windscreenCover", "windscreen cover", "Scheibenabdeckung", "noseFront"),
  off("cover", "intakeCoverLeft", "left intake cover", "Einlaufabdeckung links", "leftEngine"),
  off("cover", "intakeCoverRight", "right intake cover", "Einlaufabdeckung rechts", "rightEngine"),
  off("cover", "exhaustCoverLeft", "left exhaust cover", "Abgasabdeckung links", "leftEngine"),
  off("cover", "exhaustCoverRight", "right exhaust cover", "Abgasabdeckung rechts", "rightEngine"),
  off("cover", "mastCover", "rotor head cover", "Rotorkopfhaube", "rotorTop"),
  off("cover", "hoistCover", "hoist cover", "Windenhaube", "hoist", { applies: fitted("hoist") }),
  off("cover", "searchlightCover", "searchlight cover", "Scheinwerferhaube", "leftNose", {
    applies: fitted("searchlight"),
  }),
  off("plug", "coolerPlug", "oil cooler plug", "Ölkühlerstopfen", "rightDeck", { fromOutside: false }),
  off("plug", "ventPlug", "fuel vent plug", "Tankentlüftungsstopfen", "leftFuel"),
  off("tieDown", "bladeTieDowns", "blade tie-downs", "Blattfesseln", "rotorTop"),
  off("tieDown", "tailTieDown", "tail rotor tie-down", "Heckrotorfessel", "tailRotor"),
  off("tieDown", "mooringLeft", "left mooring rope", "Verankerung links", "leftSkid", {
    applies: on("parkedOutside"),
  }),
  off("tieDown", "mooringRight", "right mooring rope", "Verankerung rechts", "rightSkid", {
    applies: on("parkedOutside"),
  }),
  off("pin", "controlLock", "control lock", "Steuersperre", "cockpit"),
  off("pin", "floatPin", "float safety pin", "Sicherungsstift Notschwimmer", "belly", {
    applies: fitted("emergencyFloats"),
    parked: "closed",
  }),
  {
    id: "deckStepLeft",
    name: t("left folding steps", "Klapptritte links"),
    kind: "ladder",
    stop: "leftDeck",
    normal: "stowed",
    fromOutside: true,
    parked: "closed",
  },
  {
    id: "deckStepRight",
    name: t("right folding steps", "Klapptritte rechts"),
    kind: "ladder",
    stop: "rightDeck",
    normal: "stowed",
    fromOutside: true,
    parked: "closed",
  },
  {
    id: "wheelsLeft",
    name: t("left ground wheels", "Transporträder links"),
    kind: "wheels",
    stop: "leftSkid",
    normal: "removed",
    fromOutside: true,
    parked: "open",
  },
  {
    id: "wheelsRight",
    name: t("right ground wheels", "Transporträder rechts"),
    kind: "wheels",
    stop: "rightSkid",
    normal: "removed",
    fromOutside: true,
    parked: "open",
  },
  {
    id: "groundPower",
    name: t("ground power cable", "Bodenstromkabel"),
    kind: "groundPower",
    stop: "leftFuel",
    normal: "unplugged",
    fromOutside: true,
    parked: "open",
  },
];
