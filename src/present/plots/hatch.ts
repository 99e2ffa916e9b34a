// Hatches that are told apart without colour: one for each kind of margin, by direction and density of its lines.
import type { MarginKind } from "../../core/reach/call.ts";

export const hatches = [
  "rising",
  "falling",
  "level",
  "upright",
  "crossed",
  "grid",
  "dots",
  "dense",
  "pairs",
] as const;
export type Hatch = (typeof hatches)[number];

const ofKind: Readonly<Record<MarginKind, Hatch>> = {
  fuel: "rising",
  tank: "rising",
  mass: "upright",
  leastMass: "upright",
  balance: "falling",
  place: "falling",
  seat: "falling",
  hook: "pairs",
  hoverInGroundEffect: "level",
  hoverOutOfGroundEffect: "level",
  oneEngineInoperative: "level",
  climb: "level",
  operatingLimit: "level",
  light: "dense",
  weather: "crossed",
  record: "grid",
  notice: "pairs",
  siteSize: "pairs",
  flightHours_h: "grid",
  landings: "grid",
  starts: "grid",
  hoistCycles: "grid",
  flights: "grid",
  cycles: "grid",
  worksheet: "grid",
  obstacle: "upright",
  oxygen: "dense",
};

/** `unknown`: dots, as everywhere. */
export function hatchOf(kind: MarginKind | "unknown"): Hatch {
  return kind === "unknown" ? "dots" : ofKind[kind];
}

const step = 9;

/** Whether a pixel of a hatch is ink; the same at every place, so that neighbouring areas of one kind join. */
export function isInked(hatch: Hatch, x: number, y: number): boolean {
  switch (hatch) {
    case "rising":
      return (x + y) % step < 2;
    case "falling":
      return (((x - y) % step) + step) % step < 2;
    case "level":
      return y % step < 2;
    case "upright":
      return x % step < 2;
    case "crossed":
      return (x + y) % 12 < 2 || (((x - y) % 12) + 12) % 12 < 2;
    case "grid":
      return x % 12 < 2 || y % 12 < 2;
    case "dots":
      return x % 8 < 2 && y % 8 < 2;
    case "dense":
      return (x + y) % 4 < 2;
    case "pairs":
      return y % 12 < 2 || (y % 12 >= 4 && y % 12 < 6);
    default:
      return hatch satisfies never;
  }
}
