// What a ribbon says to somebody who does not see it: its spans in words, with the times at which they change.
//
// Times round against the pilot: the end of something better is told rounded down to the minute, its beginning rounded up.
import { compareVerdicts } from "../core/standing/combine.ts";
import type { RibbonSpan } from "./ribbon.ts";
import { timeSeenFrom } from "./words/formats.ts";
import type { Locale } from "./words/language.ts";
import { wordsIn } from "./words/words.ts";

const minute_ms = 60_000;

/** `Day VFR: now ready within limits, not ready from 15:12, ready from tomorrow 07:10, as far as tomorrow 18:00.` */
export function ribbonSentence(
  name: string,
  spans: readonly RibbonSpan[],
  now_ms: number,
  locale: Locale,
  kept: readonly RibbonSpan[] = spans,
): string {
  const words = wordsIn(locale.language).standing;
  const toCome = merged(spans).filter(({ until_ms }) => until_ms > now_ms);
  const parts = toCome.map(({ from_ms, verdict }, index) => {
    const said = words.verdictLow[verdict];
    if (from_ms <= now_ms) return words.spanNow(said);
    const before = toCome[index - 1];
    const better = before !== undefined && compareVerdicts(before.verdict, verdict) > 0;
    const told_ms = better ? Math.ceil(from_ms / minute_ms) * minute_ms : from_ms;
    return words.spanFrom(said, timeSeenFrom(now_ms, told_ms, locale));
  });
  const end = toCome.at(-1);
  if (end === undefined) return words.line(name, words.spanNow(words.verdictLow.notKnown));
  const told = [...parts, words.spanEnd(timeSeenFrom(now_ms, end.until_ms, locale))];
  const renewed = merged(kept).find(({ until_ms }) => until_ms > now_ms);
  const first = toCome[0];
  // Only where it changes what comes next: otherwise it would be said twice.
  const isLonger =
    renewed !== undefined &&
    first !== undefined &&
    renewed.until_ms > first.until_ms &&
    compareVerdicts(renewed.verdict, "notKnown") < 0;
  if (isLonger) {
    const until_ms = Math.floor(renewed.until_ms / minute_ms) * minute_ms;
    told.push(words.spanKept(words.verdictLow[renewed.verdict], timeSeenFrom(now_ms, until_ms, locale)));
  }
  return words.line(name, told.join(", "));
}

/** Neighbours of one verdict told once: a change of a number alone is not heard here. */
function merged(spans: readonly RibbonSpan[]): readonly RibbonSpan[] {
  const told: RibbonSpan[] = [];
  for (const { from_ms, until_ms, verdict } of spans.toSorted((a, b) => a.from_ms - b.from_ms)) {
    const last = told.at(-1);
    if (last?.verdict === verdict && last.until_ms >= from_ms) told[told.length - 1] = { ...last, until_ms };
    else told.push({ from_ms, until_ms, verdict });
  }
  return told;
}
