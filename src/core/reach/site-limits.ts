// The air at a place of a call, and the largest mass that each chart of power allows there: all that depends on the place
// and not on the load, so that it is worked out once for many loads.
//
// Pressure altitude by elevation and QNH. Temperature: measured at an elevation; a place above it counts as no colder (an
// inversion is usual where rescue is), a place below it as warmer by the standard lapse. Both choices only take away.
// A place without elevation, an air without QNH or temperature, and a chart that does not reach are not known.
import { pressureAltitudeOf } from "../air/atmosphere.ts";
import { convert, inUnit } from "../quantity/units.ts";
import { Refusal } from "../quantity/refusal.ts";
import type { PowerChart } from "../power/power-chart.ts";
import { powerFor, upToByAll } from "../power/power-margin.ts";
import type { WindCredit } from "../rules/wind-credit.ts";
import type { PowerUse } from "../sheet/chart-blocks.ts";
import type { CallAir } from "./call.ts";

const lapse_Cft = 0.0065 * 0.3048;

export type SiteAir = { readonly pressureAltitude_ft: number; readonly temperature_C: number };

/** Null where elevation, QNH or temperature is not known, or outside the atmosphere that is computed with. */
export function siteAir(elevation_ft: number | null, { qnh_hPa, temperature }: CallAir): SiteAir | null {
  if (elevation_ft === null || qnh_hPa === null || temperature === null) return null;
  const below_ft = Math.max(0, temperature.elevation_ft - elevation_ft);
  const temperature_C = temperature.value_C + below_ft * lapse_Cft;
  if (!Number.isFinite(temperature_C)) return null;
  try {
    const height = pressureAltitudeOf(
      convert(inUnit(elevation_ft, "ft"), "ft", "m"),
      convert(inUnit(qnh_hPa, "hPa"), "hPa", "Pa"),
      { elevation: "elevation_ft", qnh: "qnh_hPa" },
    );
    return { pressureAltitude_ft: convert(height, "m", "ft"), temperature_C };
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}

export type UseLimit = {
  readonly use: PowerUse;
  readonly is: "upTo" | "always" | "never" | "notKnown";
  /** The largest mass; infinity for always, −infinity for never, NaN where not known. */
  readonly most_kg: number;
  /** Beyond the largest mass it is not met; or not known, since the chart ends there. */
  readonly beyond: "notMet" | "notKnown";
  /** Of a chart about temperature: the room to it. */
  readonly room_C: number | null;
};

/** What each use allows at a place. `mass_kg` is any mass that the craft can have: charts that do not depend on it ask. */
export function limitsOfUses(
  uses: readonly PowerUse[],
  charts: readonly PowerChart[],
  air: SiteAir | null,
  headwind_kt: number | null,
  credit: WindCredit,
  mass_kg: number,
): readonly UseLimit[] {
  return uses.map((use): UseLimit => {
    const notKnown = { use, is: "notKnown", most_kg: Number.NaN, beyond: "notKnown", room_C: null } as const;
    if (air === null) return notKnown;
    const wind = headwind_kt === null ? null : { headwind_kt, measured: true };
    const at = { mass_kg, ...air, wind };
    const found = upToByAll(use, charts, "mass_kg", at, credit);
    if (found.is === "notKnown") return notKnown;
    if (found.is === "upTo" || found.is === "chartEnds")
      return {
        use,
        is: "upTo",
        most_kg: found.value,
        beyond: found.is === "upTo" ? "notMet" : "notKnown",
        room_C: null,
      };
    const rooms = powerFor(use, charts, at, credit).margins.flatMap((margin) =>
      margin.is === "known" && margin.own.quantity === "temperature_C" ? [margin.own.margin] : [],
    );
    const room_C = rooms.length === 0 ? null : Math.min(...rooms);
    const most_kg = found.is === "always" ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY;
    return { use, is: found.is, most_kg, beyond: "notMet", room_C };
  });
}
