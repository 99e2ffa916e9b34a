// Times, dates and spans of time as text. The locale and the zone are passed in; nothing here asks the device.
//
// Rounding goes against the pilot: what is left of a time is rounded down, what has passed is rounded up. A value that is
// not finite is refused (RangeError), never printed. Numbers: core/quantity/display.
// Time zones: Intl with the runtime's own zone data. Hours run from 00 to 23.
import type { Locale } from "./language.ts";
import { plural } from "./plural.ts";

const minute_ms = 60_000;
const hour_ms = 3_600_000;
const day_ms = 86_400_000;

// Making a formatter costs about a hundred times what using one does, so each is made once.
const dateFormats = new Map<string, Intl.DateTimeFormat>();

function dateText(at_ms: number, tag: string, options: Intl.DateTimeFormatOptions): string {
  if (!Number.isFinite(at_ms)) throw new RangeError(`not an instant: ${at_ms}`);
  const key = tag + JSON.stringify(options);
  let format = dateFormats.get(key);
  if (format === undefined) dateFormats.set(key, (format = new Intl.DateTimeFormat(tag, options)));
  return format.format(at_ms);
}

/** `06:52`, in the locale's zone. */
export function timeOfDay(at_ms: number, { tag, zone }: Locale): string {
  return dateText(at_ms, tag, { timeZone: zone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
}

/** `05:52 UTC`. */
export function timeUtc(at_ms: number, { tag }: Locale): string {
  const time = dateText(at_ms, tag, {
    timeZone: "UTC",
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
  });
  return `${time} UTC`;
}

/** `06:52 (05:52 UTC)`: both clocks side by side. */
export function timeBoth(at_ms: number, locale: Locale): string {
  return `${timeOfDay(at_ms, locale)} (${timeUtc(at_ms, locale)})`;
}

/** `5 December`, in the locale's zone. */
export function dayOfMonth(at_ms: number, { tag, zone }: Locale): string {
  return dateText(at_ms, tag, { timeZone: zone, day: "numeric", month: "long" });
}

/** `5 Dec`, in the locale's zone. */
export function dayOnAxis(at_ms: number, { tag, zone }: Locale): string {
  return dateText(at_ms, tag, { timeZone: zone, day: "numeric", month: "short" });
}

/** `Fri 5 Dec`, in the locale's zone. */
export function dayShort(at_ms: number, { tag, zone }: Locale): string {
  return dateText(at_ms, tag, { timeZone: zone, weekday: "short", day: "numeric", month: "short" }).replace(
    ",",
    "",
  );
}

/** A calendar date (`2025-12-05`) as `5 December 2025`; a date has no zone. */
export function dateLong(date: string, { tag }: Locale): string {
  const at_ms = /^\d{4}-\d{2}-\d{2}$/u.test(date) ? Date.parse(`${date}T00:00:00.000Z`) : Number.NaN;
  if (!Number.isFinite(at_ms)) throw new RangeError(`not a calendar date: ${JSON.stringify(date)}`);
  return dateText(at_ms, tag, { timeZone: "UTC", day: "numeric", month: "long", year: "numeric" });
}

function dateIn(at_ms: number, zone: string): string {
  return dateText(at_ms, "sv-SE", { timeZone: zone, year: "numeric", month: "2-digit", day: "2-digit" });
}

const nearDays = {
  en: { "-1": "yesterday", "1": "tomorrow" },
  de: { "-1": "gestern", "1": "morgen" },
} as const;

/** The time alone on the same calendar day as `now_ms`; `tomorrow 07:10` or `yesterday 18:40`; else with its day: `Fri 5 Dec 07:10`. */
export function timeSeenFrom(now_ms: number, at_ms: number, locale: Locale): string {
  const time = timeOfDay(at_ms, locale);
  const days = Math.round(
    (Date.parse(dateIn(at_ms, locale.zone)) - Date.parse(dateIn(now_ms, locale.zone))) / day_ms,
  );
  if (days === 0) return time;
  if (days === 1 || days === -1) return `${nearDays[locale.language][`${days}`]} ${time}`;
  return `${dayShort(at_ms, locale)} ${time}`;
}

const dayWords = {
  en: { one: "day", other: "days" },
  de: { one: "Tag", other: "Tage" },
} as const;

function spanText(whole_min: number, { language }: Locale): string {
  if (whole_min < 120) return `${whole_min} min`;
  const whole_h = Math.floor(whole_min / 60);
  const rest_min = whole_min % 60;
  if (whole_h < 48) return rest_min === 0 ? `${whole_h} h` : `${whole_h} h ${rest_min} min`;
  const days = Math.floor(whole_h / 24);
  return `${days} ${plural(language, days, dayWords[language])}`;
}

/** What is left, rounded down: `96 min`, `3 h 5 min`, `4 days`. Below zero nothing is left: `0 min`. */
export function timeLeft(span_ms: number, locale: Locale): string {
  if (!Number.isFinite(span_ms)) throw new RangeError(`not a span of time: ${span_ms}`);
  return spanText(Math.max(0, Math.floor(span_ms / minute_ms)), locale);
}

/** What has passed, rounded up to the next of the units shown. */
export function timePassed(span_ms: number, locale: Locale): string {
  if (!Number.isFinite(span_ms)) throw new RangeError(`not a span of time: ${span_ms}`);
  const span = Math.max(0, span_ms);
  const whole_min = span >= 48 * hour_ms ? Math.ceil(span / day_ms) * 1440 : Math.ceil(span / minute_ms);
  return spanText(whole_min, locale);
}
