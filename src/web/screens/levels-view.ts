// What the screen Levels says of a gauge: numbers as text, and the sentence that stands on its picture. Pure.
import { marksOf, referenceTemperature } from "../../core/level/at-temperature.ts";
import type { GaugeLevels } from "../../core/level/craft-levels.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { LevelsWords } from "../../present/words/levels-words.ts";
import type { Locale } from "../../present/words/language.ts";
import { rareEvery_h } from "../../present/words/level-told.ts";
import type { Words } from "../../present/words/words.ts";
import { decimalsOf, unitOf } from "./levels-reading.tsx";

export type Telling = { readonly words: Words; readonly levels: LevelsWords; readonly locale: Locale };

/** A value in the unit of its gauge, to the gauge's own step, or finer where it was filled finer. */
export function amountText(
  { gauge }: Pick<GaugeLevels, "gauge">,
  value: number,
  { words, locale }: Telling,
  finest = decimalsOf(gauge),
): string {
  const decimals = Math.min(finest, (String(Number(value.toFixed(finest))).split(".")[1] ?? "").length);
  const shown = displayNumber(value, Math.max(decimals, decimalsOf(gauge)), "both", locale.language);
  return `${shown} ${unitOf(gauge.unit, words)}`.trim();
}

/** A rate, rounded against the pilot; as many decimals as tell it apart from nothing. */
export function rateText(
  { gauge }: Pick<GaugeLevels, "gauge">,
  rate: number,
  { words, locale }: Telling,
): string {
  const size = Math.abs(rate);
  const decimals = size >= 1 ? 1 : size >= 0.1 ? 2 : 3;
  return `${displayNumber(rate, decimals, "higher", locale.language)} ${unitOf(gauge.unit, words)}`;
}

export function hourText(hours_h: number, { locale }: Telling, worse: "lower" | "higher" = "lower"): string {
  return displayNumber(hours_h, 0, worse, locale.language);
}

/** How it stands, in few words: for the small pictures. */
export function stateText({ trend }: GaugeLevels, { levels }: Telling): string {
  const { state } = levels;
  if (trend === null) return state.notFollowed;
  if (trend.rise !== null) return state.rose;
  const alarm = trend.watch?.alarm;
  if (alarm != null) return state[alarm.kind];
  return trend.line === null ? state.tooFew(trend.points.length) : state.steady;
}

/** The finding as one sentence: what it does, since when, and until when. */
export function sentenceOf(one: GaugeLevels, now_h: number | null, telling: Telling): readonly string[] {
  const { trend } = one;
  const { say, state } = telling.levels;
  if (trend === null) return [];
  const told: string[] = [];
  const alarm = trend.watch?.alarm;
  const normal = trend.watch?.normal.perHour;
  if (trend.rise !== null) told.push(state.rose);
  if (alarm?.kind === "faster" && alarm.rate !== null && normal !== undefined) {
    told.push(
      say.faster(
        hourText(alarm.since_h, telling),
        rateText(one, alarm.rate.perHour, telling),
        rateText(one, normal, telling),
      ),
    );
  } else if (alarm?.kind === "slower") told.push(say.slower(hourText(alarm.since_h, telling)));
  else if (trend.line !== null) {
    const { perHour, low, high } = trend.line.rate;
    told.push(
      say.rate(rateText(one, perHour, telling), rateText(one, low, telling), rateText(one, high, telling)),
    );
  } else if (trend.rise === null) told.push(state.tooFew(trend.points.length));
  return [...told, lastsText(one, now_h, telling)];
}

function lastsText({ left, gauge }: GaugeLevels, now_h: number | null, telling: Telling): string {
  const { say } = telling.levels;
  if (left === null) return say.notKnown;
  if (left.pessimistic_h === null) return say.never;
  const hours = (value: number): string =>
    displayNumber(value, value < 20 ? 1 : 0, "lower", telling.locale.language);
  if (left.by === "greatest") return say.greatest(hours(left.pessimistic_h));
  const until =
    left.expected_h === null
      ? say.leftBad(hours(left.pessimistic_h))
      : say.left(hours(left.pessimistic_h), hours(left.expected_h));
  // Far off nobody plans by it; near, the hour itself is what to look at.
  if (now_h === null || left.pessimistic_h > 200) return until;
  const hour = hourText(now_h + left.pessimistic_h, telling);
  const by =
    gauge.fluid !== undefined && left.mark === "low"
      ? say.addBefore(hour)
      : say.reaches(say[left.mark], hour);
  return `${by}: ${until}`;
}

/** What an alarm would be if it were nothing; null without one. */
export function scatterText({ trend }: GaugeLevels, telling: Telling): string | null {
  const alarm = trend?.watch?.alarm;
  const { say } = telling.levels;
  if (alarm == null) return null;
  const often =
    alarm.chanceEvery_h > rareEvery_h
      ? say.moreSeldom(displayNumber(rareEvery_h, 0, "both", telling.locale.language))
      : say.seldom(displayNumber(alarm.chanceEvery_h, -1, "lower", telling.locale.language));
  return say.scatterOnly(often);
}

/** The methods by name, with their numbers. */
export function methodTexts(one: GaugeLevels, telling: Telling): readonly string[] {
  const { trend, gauge } = one;
  const { method } = telling.levels;
  if (trend === null) return [];
  const { language } = telling.locale;
  const texts: string[] = [];
  const { line, watch, plan } = trend;
  if (line !== null) {
    const confidence = `${displayNumber(plan.confidence * 100, 0, "both", language)} %`;
    texts.push(
      method.rate(line.readings, hourText(line.from_h, telling), hourText(line.until_h, telling), confidence),
    );
  }
  if (watch === null) texts.push(method.learning(String(plan.baseline_h)));
  else {
    const { normal } = watch;
    texts.push(
      method.alarm(
        rateText(one, normal.perHour, telling),
        hourText(normal.from_h, telling),
        hourText(normal.until_h, telling),
        String(plan.decision_sd),
      ),
    );
  }
  const reference = referenceTemperature(gauge);
  if (reference !== null) texts.push(method.reference(`${displayNumber(reference, 0, "both", language)} °C`));
  if (one.series.uplifts.length > 0) texts.push(method.uplifts);
  return texts;
}

/** Worst first: what has an alarm or a question, then what lasts shortest; what is not followed comes last. */
export function worstFirst(gauges: readonly GaugeLevels[]): readonly GaugeLevels[] {
  const rank = ({ trend, questions }: GaugeLevels): number => {
    if (trend === null) return 3;
    if (trend.watch?.alarm?.kind === "faster" || trend.rise !== null) return 0;
    return questions.length > 0 ? 1 : 2;
  };
  const lasts = ({ left }: GaugeLevels): number => left?.pessimistic_h ?? Number.POSITIVE_INFINITY;
  return gauges.toSorted((a, b) => {
    const ranked = rank(a) - rank(b);
    if (ranked !== 0) return ranked;
    const [shorter, longer] = [lasts(a), lasts(b)];
    return shorter === longer ? a.index - b.index : shorter - longer;
  });
}

/** The marks as text, low then high. */
export function markTexts(
  one: GaugeLevels,
  telling: Telling,
): { readonly low: string | null; readonly high: string | null } {
  const { low, high } = marksOf(one.gauge);
  const { plot } = telling.levels;
  return {
    low: low === null ? null : plot.lowMark(amountText(one, low, telling)),
    high: high === null ? null : plot.highMark(amountText(one, high, telling)),
  };
}
