// The operator's weather limits as a form: what stands as text to change, and what was typed as limits, or what is wrong.
//
// Nothing is rounded or clamped, and nothing missing is filled in: a figure that is left empty where it may be is not
// stated, which is the stricter way (core/facts/sky.ts). All that is wrong is named at once, by the name of its field.
import type { OperationId } from "../../core/facts/reason.ts";
import type { Minima, SkyNeed, WeatherSettings } from "../../core/facts/sky.ts";
import { readTypedNumber, typedText } from "../typed-number.ts";
import type { Scale } from "../typed-number.ts";
import type { Language } from "../words/language.ts";

type Limits = Omit<WeatherSettings, "entry" | "by" | "at_ms">;
/** What stands in each field, by its name. */
export type TypedLimits = Readonly<Record<string, string>>;

export const minimaFields = ["dayCeiling", "dayVisibility", "nightCeiling", "nightVisibility"] as const;
export const needField = (operation: OperationId, field: string): string => `${operation}/${field}`;

/** What stands now, ready to be changed; empty fields where nothing was set. */
export function limitsAsTyped(
  stands: WeatherSettings | null,
  operations: readonly OperationId[],
  language: Language,
): TypedLimits {
  const number = (value: number | null | undefined): string =>
    value == null ? "" : typedText(value, decimalsOf(value), language);
  const needs = operations.flatMap((operation): [string, string][] => {
    const need = stands?.needs.find((each) => each.operation === operation);
    return [
      [needField(operation, "light"), need?.light ?? ""],
      [needField(operation, "dayCeiling"), number(need?.day?.ceiling_ft)],
      [needField(operation, "dayVisibility"), number(need?.day?.visibility_m)],
      [needField(operation, "nightCeiling"), number(need?.night?.ceiling_ft)],
      [needField(operation, "nightVisibility"), number(need?.night?.visibility_m)],
      [needField(operation, "cite"), need?.cite ?? ""],
    ];
  });
  return {
    ruleSet: stands?.ruleSet ?? "",
    reportAge: number(stands?.reportAge_min),
    distance: number(stands?.stationDistance_km),
    ground: number(stands?.ground_ft),
    ...Object.fromEntries(needs),
    listed: stands?.forbidden.phenomena.join(" ") ?? "",
    listedCite: stands?.forbidden.cite ?? "",
    moisture: number(stands?.moisture?.below_C),
    moistureCite: stands?.moisture?.cite ?? "",
    ncd: stands === null ? "" : stands.ncd === null ? "unknown" : "NSC",
    ncdCite: stands?.ncd?.cite ?? "",
    planning: stands === null ? "" : stands.planning === null ? "every" : "ruleSet",
    planningCite: stands?.planning?.cite ?? "",
    heading: number(stands?.pad?.heading_deg),
    tailwind: number(stands?.pad?.tailwind_kt),
    padCite: stands?.pad?.cite ?? "",
    cooling: number(stands?.cooling?.atMost_C),
    coolingCite: stands?.cooling?.cite ?? "",
  };
}

function decimalsOf(value: number): number {
  return String(value).split(".")[1]?.length ?? 0;
}

export type ReadLimits = { readonly limits: Limits | null; readonly wrong: ReadonlySet<string> };

/** The limits that were typed; null beside the names of all fields that are missing or wrong. */
export function readLimits(
  typed: TypedLimits,
  operations: readonly OperationId[],
  language: Language,
): ReadLimits {
  const wrong = new Set<string>();
  const text = (field: string): string => (typed[field] ?? "").trim();
  const number = (field: string, scale: Scale, isNeeded: boolean): number | null => {
    const { value, issue } = readTypedNumber(typed[field] ?? "", scale, language);
    if (issue !== null || (isNeeded && value === null)) wrong.add(field);
    return issue === null ? value : null;
  };
  const needed = (field: string, scale: Scale): number => number(field, scale, true) ?? NaN;
  const cite = (field: string): string => {
    if (text(field) === "" || text(field).length > 300) wrong.add(field);
    return text(field);
  };
  const choice = <Value extends string>(field: string, among: readonly Value[]): Value => {
    const found = among.find((value) => value === text(field));
    if (found === undefined) wrong.add(field);
    return found ?? (among[0] as Value);
  };
  const minima = (operation: OperationId, ceiling: string, visibility: string): Minima | null => {
    const fields = [needField(operation, ceiling), needField(operation, visibility)] as const;
    const isSaid = fields.some((field) => text(field) !== "");
    const ceiling_ft = number(fields[0], { decimals: 0, lowest: 0, highest: 20_000 }, isSaid);
    const visibility_m = number(fields[1], { decimals: 0, lowest: 0, highest: 20_000 }, isSaid);
    return ceiling_ft === null || visibility_m === null ? null : { ceiling_ft, visibility_m };
  };
  const needs = operations.flatMap((operation): SkyNeed[] => {
    const field = (name: string): string => needField(operation, name);
    const isSaid = ["light", ...minimaFields, "cite"].some((name) => text(field(name)) !== "");
    if (!isSaid) return [];
    return [
      {
        operation,
        light: choice(field("light"), ["day", "any"]),
        day: minima(operation, "dayCeiling", "dayVisibility"),
        night: minima(operation, "nightCeiling", "nightVisibility"),
        cite: cite(field("cite")),
      },
    ];
  });
  const phenomena = text("listed")
    .toUpperCase()
    .split(/[\s,]+/u)
    .filter((code) => code !== "");
  if (phenomena.length > 40 || phenomena.some((code) => !/^[A-Z]{2}$/u.test(code))) wrong.add("listed");
  const moisture_C = number("moisture", { decimals: 1, lowest: -60, highest: 30 }, false);
  const heading_deg = number("heading", { decimals: 0, lowest: 0, highest: 360 }, text("tailwind") !== "");
  const tailwind_kt = number("tailwind", { decimals: 0, lowest: 0, highest: 100 }, false);
  const cooling_C = number("cooling", { decimals: 1, lowest: 0, highest: 40 }, false);
  const limits: Limits = {
    ruleSet: choice("ruleSet", ["eu", "us"]),
    reportAge_min: needed("reportAge", { decimals: 0, lowest: 1, highest: 360 }),
    stationDistance_km: needed("distance", { decimals: 1, lowest: 0, highest: 200 }),
    ground_ft: needed("ground", { decimals: 0, lowest: -2_000, highest: 30_000 }),
    needs,
    forbidden: { phenomena, cite: cite("listedCite") },
    moisture: moisture_C === null ? null : { below_C: moisture_C, cite: cite("moistureCite") },
    ncd: choice("ncd", ["unknown", "NSC"]) === "NSC" ? { countsAs: "NSC", cite: cite("ncdCite") } : null,
    planning: choice("planning", ["every", "ruleSet"]) === "ruleSet" ? { cite: cite("planningCite") } : null,
    pad: heading_deg === null ? null : { heading_deg, tailwind_kt, cite: cite("padCite") },
    cooling: cooling_C === null ? null : { atMost_C: cooling_C, cite: cite("coolingCite") },
  };
  return { limits: wrong.size === 0 ? limits : null, wrong };
}
