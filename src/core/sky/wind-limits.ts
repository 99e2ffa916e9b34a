// The wind against limits: mean and gust by the sector over the nose, and the component from behind.
//
// Directions are true, clockwise; a report's wind is true, so a heading has to be. A limit's sector is relative to the
// nose. Where the direction is variable, not given, or the heading is not known, the wind may come from anywhere, and
// the limit is held against it whatever its sector. A gust that is not given is the mean wind (the report had none).
// "Above 49" (a P group) breaks a limit that 49 reaches, and is not known against a higher one.
// Source of the reading: ICAO Annex 3, appendix 3 (wind of reports); limits are the sheet's own.

import { above } from "../quantity/compare.ts";
import type { Measured } from "./ceiling-above-ground.ts";
import type { Wind } from "./report.ts";

export type SectorLimit = {
  readonly id: string;
  /** Sector clockwise from … to, relative to the nose; 0 and 360 for any direction. */
  readonly from_deg: number;
  readonly to_deg: number;
  readonly wind_kt: number;
  /** Gust at most; as the mean if null. */
  readonly gust_kt: number | null;
};

/** An arc of directions, clockwise; a full turn for any. */
type Arc = { readonly from_deg: number; readonly width_deg: number };

const anyDirection: Arc = { from_deg: 0, width_deg: 360 };

function arc(from_deg: number, to_deg: number): Arc {
  const width_deg = (((to_deg - from_deg) % 360) + 360) % 360;
  return { from_deg, width_deg: width_deg === 0 && to_deg !== from_deg ? 360 : width_deg };
}

function touches(a: Arc, b: Arc): boolean {
  if (a.width_deg >= 360 || b.width_deg >= 360) return true;
  const ahead_deg = (((b.from_deg - a.from_deg) % 360) + 360) % 360;
  return ahead_deg <= a.width_deg || 360 - ahead_deg <= b.width_deg;
}

/** Where the wind may come from. */
function directions(wind: Wind): Arc {
  if (wind.between_deg !== null) return arc(...wind.between_deg);
  if (wind.isVariable || wind.from_deg === null) return anyDirection;
  return { from_deg: wind.from_deg, width_deg: 0 };
}

/** Whether the wind may come from the limit's sector. */
export function mayComeFrom(wind: Wind, limit: SectorLimit, heading_deg: number | null): boolean {
  if (heading_deg === null) return true;
  const sector = arc(limit.from_deg, limit.to_deg);
  return touches({ ...sector, from_deg: sector.from_deg + heading_deg }, directions(wind));
}

function worse(a: Measured, b: Measured): Measured {
  if (a === "notMet" || b === "notMet") return "notMet";
  return a === "unknown" || b === "unknown" ? "unknown" : "met";
}

function atMostLimit(speed_kt: number | null, isAbove: boolean, limit_kt: number): Measured {
  if (speed_kt === null) return "unknown";
  if (above(speed_kt, limit_kt) || (isAbove && speed_kt >= limit_kt)) return "notMet";
  return isAbove ? "unknown" : "met";
}

/** The strongest that the wind gives: the gust, or the mean where there is none. */
export function strongest(wind: Wind): { readonly speed_kt: number | null; readonly isAbove: boolean } {
  const { speed_kt, gust_kt } = wind;
  if (gust_kt === null || (speed_kt !== null && speed_kt > gust_kt)) {
    return { speed_kt, isAbove: wind.isSpeedAbove };
  }
  return { speed_kt: gust_kt, isAbove: wind.isGustAbove };
}

/** The wind against one limit. A direction outside the sector meets it, whatever the speed. */
export function meetsSector(wind: Wind, limit: SectorLimit, heading_deg: number | null): Measured {
  if (!mayComeFrom(wind, limit, heading_deg)) return "met";
  const gust = strongest(wind);
  return worse(
    atMostLimit(wind.speed_kt, wind.isSpeedAbove, limit.wind_kt),
    atMostLimit(gust.speed_kt, gust.isAbove, limit.gust_kt ?? limit.wind_kt),
  );
}

/**
 * The greatest component from behind that the wind may have, from its strongest; null when its speed is not known. Without
 * a heading all of it may come from behind.
 */
export function tailwind_kt(wind: Wind, heading_deg: number | null): number | null {
  const { speed_kt } = strongest(wind);
  if (speed_kt === null || heading_deg === null) return speed_kt;
  const { from_deg, width_deg } = directions(wind);
  const isBehind = touches({ from_deg, width_deg }, { from_deg: heading_deg + 180, width_deg: 0 });
  if (isBehind) return speed_kt;
  const component = (direction_deg: number): number =>
    -speed_kt * Math.cos(((direction_deg - heading_deg) * Math.PI) / 180);
  return Math.max(0, component(from_deg), component(from_deg + width_deg));
}

/** The component from behind against its limit. */
export function meetsTailwind(wind: Wind, heading_deg: number | null, limit_kt: number): Measured {
  const component_kt = tailwind_kt(wind, heading_deg);
  return atMostLimit(component_kt, strongest(wind).isAbove && component_kt !== 0, limit_kt);
}
