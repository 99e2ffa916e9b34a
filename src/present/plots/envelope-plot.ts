// An envelope as a picture: the limit as a thin closed line, the burn as a heavy one with its worst point, and the area of
// everything that is safe as a tint. Arms run across, masses up. Pure geometry: metres and kilograms in, pixels out.
import { closedPathOf, pathOf, tenth } from "../drawing/path.ts";
import type { Point } from "../drawing/ring.ts";

/** [arm_m, mass_kg] */
export type ArmMass = readonly [arm_m: number, mass_kg: number];

export type EnvelopePlotInput = {
  readonly limit: readonly ArmMass[];
  /** From the start to the end of the burn. */
  readonly track: readonly ArmMass[];
  /** Around what is safe; empty for none. */
  readonly band: readonly ArmMass[];
  readonly worst: ArmMass | null;
  readonly width: number;
  readonly height: number;
};

export type Tick = { readonly at: number; readonly value: number };

export type EnvelopePlot = {
  readonly limit: string;
  readonly track: string;
  readonly band: string;
  readonly start: Point | null;
  readonly end: Point | null;
  readonly worst: Point | null;
  readonly arms: readonly Tick[];
  readonly masses: readonly Tick[];
  /** The drawn area. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
};

const pads = { left: 54, right: 16, top: 16, bottom: 44 };

/** At most five round steps that lie within the range. */
export function roundSteps(low: number, high: number): number[] {
  const rough = (high - low) / 4;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((factor) => factor * power).find((candidate) => candidate >= rough)!;
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from(
    { length: last - first + 1 },
    (_, index) => Number(((first + index) * step).toPrecision(12)) + 0,
  );
}

export function plotEnvelope(input: EnvelopePlotInput): EnvelopePlot {
  const { limit, track, band, worst, width, height } = input;
  const all = [...limit, ...track, ...band];
  const range = (axis: 0 | 1): readonly [number, number] => {
    const values = all.map((point) => point[axis]);
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const room = Math.max((high - low) * 0.06, 1e-6);
    return [low - room, high + room];
  };
  const [[x0, x1], [m0, m1]] = [range(0), range(1)];
  const [left, right] = [pads.left, width - pads.right];
  const [top, bottom] = [pads.top, height - pads.bottom];
  const atArm = (arm_m: number) => left + ((arm_m - x0) / (x1 - x0)) * (right - left);
  const atMass = (mass_kg: number) => bottom - ((mass_kg - m0) / (m1 - m0)) * (bottom - top);
  const to = ([arm_m, mass_kg]: ArmMass): Point => [tenth(atArm(arm_m)), tenth(atMass(mass_kg))];
  const at = (point: ArmMass | undefined | null): Point | null => (point == null ? null : to(point));
  return {
    limit: closedPathOf(limit.map(to)),
    track: pathOf(track.map(to)),
    band: closedPathOf(band.map(to)),
    start: at(track[0]),
    end: at(track.at(-1)),
    worst: at(worst),
    arms: roundSteps(x0, x1).map((value) => ({ at: tenth(atArm(value)), value })),
    masses: roundSteps(m0, m1).map((value) => ({ at: tenth(atMass(value)), value })),
    left,
    right,
    top,
    bottom,
  };
}
