// Weather that forbids by what it is: ice on an unprotected machine, moisture near freezing, and what the operator lists.
//
// In: weather codes of a part of a report, temperature, the machine's protection and figures. Out: which of it applies.
// Freezing rain, drizzle, unknown precipitation and fog (FZRA, FZDZ, FZUP, FZFG) are no-go words for an unprotected
// machine whatever the visibility (common practice). Moisture that can be seen, at or below the sheet's temperature
// (intakes can ice at some +4 or +5 °C), is the flight manual's matter. What a station says it cannot sense (TSNO, FZRANO,
// PWINO; FMH-1, from memory) is not known.

import { atMost } from "../quantity/compare.ts";
import type { Measured } from "./ceiling-above-ground.ts";

/** Codes of freezing precipitation and freezing fog. */
export function freezingCodes(codes: readonly string[]): string[] {
  return codes.filter((code) => /FZ/u.test(code));
}

/** Codes of moisture that can be seen: what falls, fog and mist, also in the vicinity. */
export function moistureCodes(codes: readonly string[]): string[] {
  return codes.filter((code) => /DZ|RA|SN|SG|IC|PL|GR|GS|UP|FG|BR|SH/u.test(code));
}

/** Codes with one of the two-letter phenomena of the operator's list (`TS`, `FC`, `GR`, `VA` …). */
export function listedCodes(codes: readonly string[], phenomena: readonly string[]): string[] {
  return codes.filter((code) => {
    const parts = code.replace(/^[+-]|^VC/u, "").match(/[A-Z]{2}/gu) ?? [];
    return parts.some((part) => phenomena.includes(part));
  });
}

/** Whether there is no moisture at or below `limit_C`; a temperature that is not known, with moisture, is not known. */
export function meetsMoisture(
  codes: readonly string[],
  isObscured: boolean,
  temperature_C: number | null,
  limit_C: number,
): Measured {
  if (moistureCodes(codes).length === 0 && !isObscured) return "met";
  if (temperature_C === null) return "unknown";
  return atMost(temperature_C, limit_C) ? "notMet" : "met";
}

export type Sense = "thunderstorm" | "freezingRain" | "presentWeather";

const missingWords: Readonly<Record<string, Sense>> = {
  TSNO: "thunderstorm",
  FZRANO: "freezingRain",
  PWINO: "presentWeather",
};

/** What an automatic station says in its remarks that it cannot sense. */
export function missingSenses(remarks: string | null): Sense[] {
  return (remarks ?? "").split(" ").flatMap((word) => missingWords[word.toUpperCase()] ?? []);
}
