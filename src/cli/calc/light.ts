// `preen calc light`: how high the sun stands, and day or night by three rules, with when each changes (core/sky/night).

import {
  euNight,
  lightAt,
  nextLightChange,
  type NightRule,
  usNight,
  usRecencyNight,
} from "../../core/sky/night.ts";
import { inOneTurn } from "../../core/sky/solar-day.ts";
import { trackSun } from "../../core/sky/sun.ts";
import { requireSunInstant, sunAltitude } from "../../core/sky/sun-altitude.ts";
import { hour_ms } from "../../core/facts/instant.ts";
import { number, object, orNull, quantity, word } from "./fields.ts";
import { instant, instantText } from "./instants.ts";
import type { Topic } from "./topic.ts";

/** How far ahead the next change is looked for. */
const ahead_ms = 72 * hour_ms;

const rules = { eu: euNight, us: usNight, usRecency: usRecencyNight } as const;

const input = object({
  lat: quantity("angle", "deg", { min: -90, max: 90 }, "north positive"),
  lon: quantity("angle", "deg", { min: -360, max: 360 }, "east positive"),
  at: instant(),
});

const light = word(["day", "night"]);
const next = orNull(instant("the first instant after `at` of the other; null when none within 72 h"));

const output = object({
  sunAltitude_deg: number({ min: -90, max: 90 }, "of the centre, without refraction, at sea level"),
  eu: light,
  us: light,
  usRecency: light,
  next: object({ eu: next, us: next, usRecency: next }),
});

const topic: Topic = {
  topic: "light",
  summary: "altitude of the sun, and day or night by three rules, with the next change of each",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    const { lat, lon, at } = input.read(element, "");
    requireSunInstant(at, "at");
    requireSunInstant(at + ahead_ms, "at");
    const sun = trackSun();
    const place = { lat_deg: lat, lon_deg: lon };
    const byRule = <Value>(value: (rule: NightRule) => Value): Record<keyof typeof rules, Value> => ({
      eu: value(rules.eu),
      us: value(rules.us),
      usRecency: value(rules.usRecency),
    });
    return {
      sunAltitude_deg: sunAltitude(sun, inOneTurn(place), at),
      ...byRule((rule) => lightAt(sun, place, rule, at)),
      next: byRule((rule) => {
        const change_ms = nextLightChange(sun, place, rule, at, ahead_ms);
        return change_ms === null ? null : instantText(change_ms);
      }),
    };
  },
};

export default topic;
