// An invented aircraft, for tests and for the gallery of parts only. It is nobody's type and no demo sheet.
import type { Outline } from "../../core/sheet/type-block.ts";
import type { DrawnStop } from "./aircraft-drawing.ts";
import type { Point } from "./ring.ts";

const rightSide: readonly Point[] = [
  [0, 0],
  [0.1, 0.3],
  [0.45, 0.62],
  [1.1, 0.86],
  [2.2, 0.98],
  [3.9, 1],
  [4.8, 0.9],
  [5.7, 0.6],
  [6.4, 0.34],
];
const left = ([x, y]: Point): Point => [x, -y];

export const sampleOutline: Outline = {
  fuselage_m: [...rightSide, ...rightSide.map(left).toReversed()],
  tailBoom_m: [
    [6.3, -0.34],
    [6.3, 0.34],
    [10.6, 0.14],
    [10.6, -0.14],
    [6.3, -0.34],
  ],
  fin_m: [
    [10, -0.07],
    [10, 0.07],
    [11.3, 0.05],
    [11.3, -0.05],
    [10, -0.07],
  ],
  stabiliser_m: [
    [8.8, -1.1],
    [8.8, 1.1],
    [9.3, 1.1],
    [9.3, -1.1],
    [8.8, -1.1],
  ],
  gear_m: [-1, 1].flatMap((side): Point[][] => [
    [
      [0.9, side * 1.15],
      [1.2, side * 1.22],
      [5.2, side * 1.22],
    ],
    [
      [2.1, 0],
      [2.1, side * 1.22],
    ],
    [
      [4.3, 0],
      [4.3, side * 1.22],
    ],
  ]),
  lines_m: [
    [
      [1, -0.82],
      [0.7, 0],
      [1, 0.82],
    ],
    [
      [3.6, -0.52],
      [5.7, -0.42],
    ],
    [
      [3.6, 0.52],
      [5.7, 0.42],
    ],
  ],
  doors: [-1, 1].flatMap((side) => [
    {
      closure: side < 0 ? "frontDoorLeft" : "frontDoorRight",
      from_m: [1.15, side * 0.87] as const,
      to_m: [2.15, side * 0.98] as const,
    },
    {
      closure: side < 0 ? "cabinDoorLeft" : "cabinDoorRight",
      from_m: [2.3, side * 0.98] as const,
      to_m: [3.6, side * 1] as const,
    },
    {
      closure: side < 0 ? "engineCowlLeft" : "engineCowlRight",
      from_m: [4.5, side * 0.47] as const,
      to_m: [5.7, side * 0.42] as const,
    },
  ]),
  mainRotor: { x_m: 4.1, y_m: 0, radius_m: 5.5, height_m: 3.2, blades: 5 },
  tailRotor: { x_m: 10.9, y_m: -0.4, radius_m: 0.95, height_m: 2.1, blades: 4 },
  tailRotorSide: "left",
};

type Names = Readonly<Record<"en" | "de", string>>;
type SampleStop = readonly [id: string, names: Names, x_m: number, y_m: number, access: DrawnStop["access"]];

const places: readonly SampleStop[] = [
  ["approach", { en: "approach", de: "Annäherung" }, -2.4, -2, "floor"],
  ["nose", { en: "nose", de: "Nase" }, -0.6, 0, "floor"],
  ["noseLeft", { en: "nose left", de: "Nase links" }, 0.4, -1.4, "floor"],
  ["frontDoorLeft", { en: "left front door", de: "Vordertür links" }, 1.6, -1.7, "floor"],
  ["cabinLeft", { en: "left cabin door", de: "Kabinentür links" }, 2.9, -1.8, "floor"],
  ["skidLeft", { en: "left skid", de: "Kufe links" }, 3.6, -1.8, "floor"],
  ["deckLeft", { en: "left deck", de: "Getriebedeck links" }, 4.1, -1.5, "ladder"],
  ["head", { en: "rotor head", de: "Rotorkopf" }, 4.1, -0.4, "top"],
  ["engineLeft", { en: "left engine", de: "linkes Triebwerk" }, 5.1, -1.4, "ladder"],
  ["fuel", { en: "fuel side", de: "Tankseite" }, 5.2, -1.5, "floor"],
  ["boomLeft", { en: "left boom", de: "Heckausleger links" }, 7.6, -1.1, "step"],
  ["stabiliserLeft", { en: "left stabiliser", de: "Höhenflosse links" }, 9, -1.7, "floor"],
  ["tailRotor", { en: "tail rotor", de: "Heckrotor" }, 10.9, -1.2, "floor"],
  ["tail", { en: "tail end", de: "Heckende" }, 12, 0, "floor"],
  ["stabiliserRight", { en: "right stabiliser", de: "Höhenflosse rechts" }, 9, 1.7, "floor"],
  ["boomRight", { en: "right boom", de: "Heckausleger rechts" }, 7.6, 1.1, "floor"],
  ["bay", { en: "rear bay", de: "Gepäckraum" }, 6, 1.4, "floor"],
  ["engineRight", { en: "right engine", de: "rechtes Triebwerk" }, 5.1, 1.4, "ladder"],
  ["deckRight", { en: "right deck", de: "Getriebedeck rechts" }, 4.1, 1.5, "ladder"],
  ["hoist", { en: "hoist", de: "Rettungswinde" }, 3.6, 1.8, "step"],
  ["cabinRight", { en: "right cabin door", de: "Kabinentür rechts" }, 2.9, 1.8, "floor"],
  ["frontDoorRight", { en: "right front door", de: "Vordertür rechts" }, 1.6, 1.7, "floor"],
  ["noseRight", { en: "nose right", de: "Nase rechts" }, 0.4, 1.4, "floor"],
  ["lastLook", { en: "last look", de: "letzter Blick" }, -2.4, 2, "floor"],
];

export function sampleStops(language: "en" | "de"): readonly DrawnStop[] {
  return places.map(([id, names, x_m, y_m, access]) => ({ id, name: names[language], x_m, y_m, access }));
}
