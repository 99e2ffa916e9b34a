// What to ask about a place before anybody flies there: far off, latitude and longitude exchanged, at sea.
//
// Each is a question, never an answer: a place far away may be the right one. `farOff` beyond the distance given (what
// full tanks could ever reach is a good one); `swapped` where the exchanged pair would be near; `west` or `south` where
// a changed sign would; `atSea` where the operator's file draws land and the place is on none of it. Common practice.
import { geodesicBetween } from "../air/geodesic.ts";
import type { Position } from "../air/position.ts";
import type { SiteFile } from "../facts/site.ts";
import { convert } from "../quantity/units.ts";

export type PlaceQuestion = {
  readonly ask: "farOff" | "swapped" | "otherSign" | "atSea";
  readonly distance_nm: number;
  /** The place that may have been meant. */
  readonly perhaps: Position | null;
};

export function askAboutPlace(
  place: Position,
  from: Position,
  far_nm: number,
  land: SiteFile["land"],
): readonly PlaceQuestion[] {
  const away = (there: Position): number => convert(geodesicBetween(from, there).distance, "m", "nm");
  const distance_nm = away(place);
  const questions: PlaceQuestion[] = [];
  if (distance_nm > far_nm) {
    const { lat_deg, lon_deg } = place;
    const near = (there: Position): Position | null =>
      Math.abs(there.lat_deg) <= 90 && away(there) <= far_nm ? there : null;
    const exchanged = near({ lat_deg: lon_deg, lon_deg: lat_deg });
    const signed = [
      { lat_deg, lon_deg: -lon_deg },
      { lat_deg: -lat_deg, lon_deg },
      { lat_deg: -lat_deg, lon_deg: -lon_deg },
    ].find((there) => near(there) !== null);
    if (exchanged !== null) questions.push({ ask: "swapped", distance_nm, perhaps: exchanged });
    if (signed !== undefined) questions.push({ ask: "otherSign", distance_nm, perhaps: signed });
    if (questions.length === 0) questions.push({ ask: "farOff", distance_nm, perhaps: null });
  }
  if (land.length > 0 && !isOnLand(place, land)) questions.push({ ask: "atSea", distance_nm, perhaps: null });
  return questions;
}

/** By the even-odd rule over all rings of a polygon, straight between its corners in longitude and latitude. */
export function isOnLand({ lat_deg, lon_deg }: Position, land: SiteFile["land"]): boolean {
  return land.some((rings) => {
    let isInside = false;
    for (const ring of rings) {
      for (let i = 1; i < ring.length; i += 1) {
        const [x0, y0] = ring[i - 1]!;
        const [x1, y1] = ring[i]!;
        const isCrossed = y0 > lat_deg !== y1 > lat_deg;
        if (isCrossed && lon_deg < x0 + ((lat_deg - y0) / (y1 - y0)) * (x1 - x0)) isInside = !isInside;
      }
    }
    return isInside;
  });
}
