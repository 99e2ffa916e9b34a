// A plain map of the operator's land and sites: positions to pixels and back, and land as SVG path data.
//
// An equirectangular picture about its middle: true north up, distances along the middle parallel and every meridian right
// to a part in a thousand over the hundred miles that a call spans. For showing and pointing, never for computing.
import type { Position } from "../../core/air/position.ts";
import { cosDeg } from "../../core/air/degrees.ts";
import type { SiteFile } from "../../core/facts/site.ts";

export type MapFrame = {
  readonly middle: Position;
  /** From the middle to the nearest edge, in nautical miles. */
  readonly half_nm: number;
  readonly width: number;
  readonly height: number;
};

type Point = { readonly x: number; readonly y: number };

const perDegree_nm = 60;

export function mapScale({ middle, half_nm, width, height }: MapFrame): {
  readonly xPerDegree: number;
  readonly yPerDegree: number;
} {
  const perMile = Math.min(width, height) / (2 * half_nm);
  const yPerDegree = perMile * perDegree_nm;
  return { xPerDegree: yPerDegree * Math.max(0.01, cosDeg(middle.lat_deg)), yPerDegree };
}

export function toMap(frame: MapFrame, { lat_deg, lon_deg }: Position): Point {
  const { xPerDegree, yPerDegree } = mapScale(frame);
  const { middle, width, height } = frame;
  return {
    x: width / 2 + (lon_deg - middle.lon_deg) * xPerDegree,
    y: height / 2 - (lat_deg - middle.lat_deg) * yPerDegree,
  };
}

export function fromMap(frame: MapFrame, { x, y }: Point): Position {
  const { xPerDegree, yPerDegree } = mapScale(frame);
  const { middle, width, height } = frame;
  return {
    lat_deg: middle.lat_deg - (y - height / 2) / yPerDegree,
    lon_deg: middle.lon_deg + (x - width / 2) / xPerDegree,
  };
}

const round = (value: number): number => Math.round(value * 10) / 10;

/** Every polygon of land as one path; holes by the even-odd rule. */
export function landPath(frame: MapFrame, land: SiteFile["land"]): string {
  return land
    .flatMap((rings) =>
      rings.map(
        (ring) =>
          ring
            .map(([lon_deg, lat_deg], index) => {
              const { x, y } = toMap(frame, { lat_deg, lon_deg });
              return `${index === 0 ? "M" : "L"}${round(x)} ${round(y)}`;
            })
            .join("") + "Z",
      ),
    )
    .join("");
}

/** The least half width, in whole tens of miles, that shows every position about the middle. */
export function halfFor(middle: Position, positions: readonly Position[], least_nm = 20): number {
  const frame = { middle, half_nm: 1, width: 2, height: 2 };
  const far = positions.map((position) => {
    const { x, y } = toMap(frame, position);
    return Math.max(Math.abs(x - 1), Math.abs(y - 1));
  });
  return Math.max(least_nm, Math.ceil((Math.max(0, ...far) * 1.1) / 10) * 10);
}
