// `preen calc sun`: dawn, sunrise, noon, sunset and dusk of one solar day (core/sky/solar-day).

import { describe, refuse } from "../../core/quantity/refusal.ts";
import { solarDayOn } from "../../core/sky/solar-day.ts";
import { trackSun } from "../../core/sky/sun.ts";
import { type Field, object, orNull, quantity, word } from "./fields.ts";
import { instant, instantText } from "./instants.ts";
import type { Topic } from "./topic.ts";
import { zoneName } from "./zones.ts";

const input = object({
  lat: quantity("angle", "deg", { min: -90, max: 90 }, "north positive"),
  lon: quantity("angle", "deg", { min: -360, max: 360 }, "east positive"),
  date: calendarDate(),
  zone: zoneName(),
});

const output = object({
  dawn: orNull(instant("sun's centre rises through −6°")),
  sunrise: orNull(instant("upper limb, centre at −50′; sea level, no terrain")),
  noon: instant("meridian passage"),
  sunset: orNull(instant()),
  dusk: orNull(instant()),
  sunState: word(["normal", "upAllDay", "downAllDay"]),
  twilightState: word(["normal", "neverDark", "neverLight"]),
});

const topic: Topic = {
  topic: "sun",
  summary: "dawn, sunrise, noon, sunset and dusk of the solar day whose noon falls on a date",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { lat, lon, date, zone } = input.read(element, "");
    const day = solarDayOn(trackSun(), { lat_deg: lat, lon_deg: lon }, date, zone);
    const textOf = (at_ms: number | null): string | null => (at_ms === null ? null : instantText(at_ms));
    return {
      dawn: textOf(day.dawn_ms),
      sunrise: textOf(day.sunrise_ms),
      noon: textOf(day.noon_ms),
      sunset: textOf(day.sunset_ms),
      dusk: textOf(day.dusk_ms),
      sunState: day.sunState,
      twilightState: day.twilightState,
    };
  },
};

export default topic;

/** A date of the calendar, YYYY-MM-DD. */
function calendarDate(): Field<string> {
  return {
    kind: "field",
    schema: { type: "string", format: "date" },
    read(value, path) {
      const isDate =
        typeof value === "string" &&
        /^\d{4}-\d\d-\d\d$/u.test(value) &&
        Number.isFinite(Date.parse(`${value}T00:00:00Z`)) &&
        new Date(`${value}T00:00:00Z`).toISOString().startsWith(value);
      if (!isDate) refuse(path, "wrongKind", describe(value), "a date such as 2026-02-04");
      return value;
    },
  };
}
