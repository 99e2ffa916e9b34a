// What the words about gauges draw on in every language: names, figures with their units, times. A figure that is missing
// is said as `?`; numbers round against the pilot.
import { displayNumber } from "../../core/quantity/display.ts";
import type { Worse } from "../../core/quantity/display.ts";
import { timeSeenFrom } from "./formats.ts";
import { numberOf, textOf } from "./told.ts";
import type { Told } from "./told.ts";

type Own = {
  readonly units: Readonly<Record<string, string>>;
  readonly unknownTime: string;
  readonly gauges: (count: number) => string;
};

/** Beyond this many flight hours a chance is told as rarer than that. */
export const rareEvery_h = 10_000;

export function levelTold({ units, unknownTime, gauges }: Own) {
  const figure = (told: Told, key: string, decimals: number, worse: Worse): string => {
    const value = numberOf(told, key);
    return value === null ? "?" : displayNumber(value, decimals, worse, told.locale.language);
  };
  const unit = (told: Told): string => units[textOf(told, "unit")] ?? textOf(told, "unit");
  return {
    figure,
    unit,
    gauge: (told: Told, key = "gauge"): string => told.names.of("gauge", textOf(told, key)),
    hour: (told: Told, key: string): string => `${figure(told, key, 0, "lower")} h`,
    hours: (told: Told, key: string, worse: Worse): string => `${figure(told, key, 1, worse)} h`,
    rate: (told: Told, key: string, worse: Worse = "higher"): string =>
      `${figure(told, key, 3, worse)} ${unit(told)}/h`,
    time: (told: Told, key: string): string => {
      const at_ms = numberOf(told, key);
      return at_ms === null ? unknownTime : timeSeenFrom(told.now_ms, at_ms, told.locale);
    },
    /** Hours between two such alarms by scatter alone, and whether they are more than anybody counts. */
    chance: (told: Told): { readonly hours: string; readonly isRare: boolean } => {
      const value = numberOf(told, "chanceEvery_h");
      const isRare = value !== null && value > rareEvery_h;
      const { language } = told.locale;
      if (isRare) return { hours: `${displayNumber(rareEvery_h, 0, "both", language)} h`, isRare };
      return { hours: `${value === null ? "?" : displayNumber(value, 0, "lower", language)} h`, isRare };
    },
    /** The gauges of a reason that is about several: one by its name, more by their number, all of them in the detail. */
    several: (told: Told): { readonly what: string; readonly names: string; readonly many: boolean } => {
      const names = textOf(told, "gauges")
        .split(" ")
        .map((id) => told.names.of("gauge", id));
      const many = names.length > 1;
      return { what: many ? gauges(names.length) : (names[0] ?? "?"), names: names.join("; "), many };
    },
  };
}
