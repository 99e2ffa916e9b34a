// A weather station as a form: what stands as text to change, and what was typed as a station, or what is wrong with it.
import type { StationFact } from "../../core/facts/sky.ts";
import { stationGives } from "../../core/facts/sky.ts";
import { readTypedNumber, typedText } from "../typed-number.ts";
import type { Language } from "../words/language.ts";
import type { TypedLimits } from "./limits-form.ts";

type Station = Omit<StationFact, "entry" | "by" | "at_ms">;

const angle = { decimals: 6 } as const;

export function stationAsTyped(stands: StationFact | null, language: Language): TypedLimits {
  const number = (value: number | null | undefined): string =>
    value == null ? "" : typedText(value, String(value).split(".")[1]?.length ?? 0, language);
  const gives = stands?.gives ?? null;
  return {
    station: stands?.station ?? "",
    name: stands?.name ?? "",
    lat: number(stands?.lat_deg),
    lon: number(stands?.lon_deg),
    elevation: number(stands?.elevation_ft),
    gives: stands === null ? "" : gives === null ? "all" : "some",
    ...Object.fromEntries(
      stationGives.map((quantity) => [
        quantity,
        gives === null ? "" : gives.includes(quantity) ? "yes" : "no",
      ]),
    ),
  };
}

/** The station that was typed; null beside the names of all fields that are missing or wrong. */
export function readStation(
  typed: TypedLimits,
  language: Language,
): { readonly station: Station | null; readonly wrong: ReadonlySet<string> } {
  const wrong = new Set<string>();
  const text = (field: string): string => (typed[field] ?? "").trim();
  const number = (field: string, scale: Parameters<typeof readTypedNumber>[1], isNeeded: boolean) => {
    const { value, issue } = readTypedNumber(typed[field] ?? "", scale, language);
    if (issue !== null || (isNeeded && value === null)) wrong.add(field);
    return value;
  };
  const station = text("station").toUpperCase();
  if (!/^[A-Z][A-Z0-9]{3}$/u.test(station)) wrong.add("station");
  if (text("name") === "" || text("name").length > 80) wrong.add("name");
  if (text("gives") !== "all" && text("gives") !== "some") wrong.add("gives");
  const isPart = text("gives") === "some";
  if (isPart)
    for (const quantity of stationGives)
      if (text(quantity) !== "yes" && text(quantity) !== "no") wrong.add(quantity);
  const gives = stationGives.filter((quantity) => text(quantity) === "yes");
  if (isPart && gives.length === 0) wrong.add("gives");
  const read: Station = {
    station,
    name: text("name"),
    lat_deg: number("lat", { ...angle, lowest: -90, highest: 90 }, true) ?? NaN,
    lon_deg: number("lon", { ...angle, lowest: -180, highest: 180 }, true) ?? NaN,
    elevation_ft: number("elevation", { decimals: 0, lowest: -2_000, highest: 30_000 }, false),
    gives: isPart ? gives : null,
  };
  return { station: wrong.size === 0 ? read : null, wrong };
}
