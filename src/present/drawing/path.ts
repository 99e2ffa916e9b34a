// Points to SVG path data, to a tenth of a pixel.
import type { Point } from "./ring.ts";

export function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}

/** An open line through the points; empty for none. */
export function pathOf(points: readonly Point[]): string {
  const told: string[] = [];
  for (const [x, y] of points) {
    const at = `${tenth(x)} ${tenth(y)}`;
    if (told.at(-1) !== at) told.push(at);
  }
  return told.length === 0 ? "" : `M${told.join("L")}`;
}

export function closedPathOf(points: readonly Point[]): string {
  const open = pathOf(points);
  return open === "" ? "" : `${open}Z`;
}
