// What of an aircraft a person on the ground has to walk round, as lines seen from above: metres, x aft, y right.
// The main rotor is overhead and stops nobody; the tail rotor is taken as the line that it is from above.
import type { Outline } from "./type-block.ts";

export type Point = readonly [x: number, y: number];

export function obstacles(outline: Outline): readonly (readonly Point[])[] {
  const { tailRotor } = outline;
  return [
    outline.fuselage_m,
    outline.tailBoom_m,
    outline.fin_m,
    ...(outline.stabiliser_m === undefined ? [] : [outline.stabiliser_m]),
    ...outline.gear_m,
    ...(tailRotor === undefined
      ? []
      : [
          [
            [tailRotor.x_m - tailRotor.radius_m, tailRotor.y_m],
            [tailRotor.x_m + tailRotor.radius_m, tailRotor.y_m],
          ] as const,
        ]),
  ];
}
