// Words of the reasons that the weather and the light give.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { displayNumber, type Worse } from "../../../core/quantity/display.ts";
import { timeSeenFrom } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, type Said, said, textOf, type Told } from "../told.ts";

export type SkyReason = Extract<ReasonCode, `weather.${string}` | `light.${string}`>;
export type SkyRemedy = Extract<RemedyCode, `weather.${string}` | `light.${string}`>;

function time(told: Told, name: string): string {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "at an unknown time" : timeSeenFrom(told.now_ms, at_ms, told.locale);
}

function figure(told: Told, name: string, unit: string, worse: Worse): string {
  const value = numberOf(told, name);
  return value === null ? "not given" : `${displayNumber(value, 0, worse, told.locale.language)} ${unit}`;
}

/** The report, and the group of it that says so. */
function source(told: Told): string {
  const { station, by } = told.reason.facts;
  if (typeof station !== "string") return "no report speaks of it";
  return typeof by === "string" && by !== "" ? `${station}, ${by}` : station;
}

const asides: Readonly<Record<string, string>> = {
  otherStation: "its station is none of this place",
  distant: "its station is too far away",
  undated: "its time of issue cannot be read",
  fromFuture: "it is dated ahead of the clock",
  nil: "it says nothing",
  cancelled: "it was cancelled",
  older: "a later one is held",
};

const conflicts: Readonly<Record<string, string>> = {
  cavokWithVisibility: "CAVOK with less than 10 km",
  cavokWithWeather: "CAVOK with weather",
  cavokWithCloud: "CAVOK with cloud",
  fogWithVisibility: "fog with more than 1,000 m",
  mistWithVisibility: "mist with 10 km or more",
  clearWithCloud: "a clear sky with cloud",
  clearWithPrecipitation: "a clear sky with rain or snow",
  dewpointAboveTemperature: "a dew point above the temperature",
};

const senses: Readonly<Record<string, string>> = {
  thunderstorm: "thunderstorms",
  freezingRain: "freezing rain",
  presentWeather: "what falls",
};

export const skyReasons: Readonly<Record<SkyReason, (told: Told) => Said>> = {
  "weather.baseNotKnown": () =>
    said(
      phrase`${subject("The base")} of this machine is not known`,
      "without it neither weather nor daylight is",
    ),
  "weather.limitsNotSet": (told) =>
    said(
      phrase`${subject("The weather limits")} for ${textOf(told, "place")} are not set`,
      "or were set by two rule sets at once",
    ),
  "weather.minimaNotSet": (told) =>
    said(
      phrase`${subject("The minima")} at ${textOf(told, "place")} are not set`,
      told.reason.facts["light"] === "night"
        ? "by night"
        : told.reason.facts["light"] === "day"
          ? "by day"
          : "",
    ),
  "weather.nothingSpeaks": (told) =>
    said(phrase`${subject("No report or forecast")} at ${textOf(told, "place")} says enough`),
  "weather.setAside": (told) =>
    said(
      phrase`${subject(`${textOf(told, "report")} ${textOf(told, "station")}`)} is not used`,
      asides[textOf(told, "why")] ?? textOf(told, "why"),
    ),
  "weather.ownObservation": (told) =>
    said(
      phrase`${subject("Own observation")} counts at ${textOf(told, "place")}`,
      `${told.names.person(textOf(told, "by"))}, ${time(told, "at_ms")}, until ${time(told, "expires_ms")}`,
    ),
  "weather.notObserved": (told) =>
    said(
      phrase`${subject("The weather")} at ${textOf(told, "place")} has not been observed lately`,
      numberOf(told, "issued_ms") === null
        ? "no report is held"
        : `last report ${time(told, "issued_ms")}, good for ${figure(told, "limit_min", "min", "lower")}`,
    ),
  "weather.ceilingBelow": (told) =>
    said(
      phrase`${subject("Ceiling")} at ${textOf(told, "place")} ${figure(told, "ceiling_ft", "ft", "lower")}, needed ${figure(told, "needed_ft", "ft", "higher")}`,
      `above ground at ${figure(told, "ground_ft", "ft", "higher")}; ${source(told)}`,
    ),
  "weather.ceilingNotKnown": (told) =>
    said(
      phrase`${subject("The ceiling")} at ${textOf(told, "place")} is not known`,
      `needed ${figure(told, "needed_ft", "ft", "higher")}; ${source(told)}`,
    ),
  "weather.visibilityBelow": (told) =>
    said(
      phrase`${subject("Visibility")} at ${textOf(told, "place")} ${figure(told, "visibility_m", "m", "lower")}, needed ${figure(told, "needed_m", "m", "higher")}`,
      source(told),
    ),
  "weather.visibilityNotKnown": (told) =>
    said(
      phrase`${subject("The visibility")} at ${textOf(told, "place")} is not known`,
      `needed ${figure(told, "needed_m", "m", "higher")}; ${source(told)}`,
    ),
  "weather.windAbove": (told) =>
    said(
      phrase`${subject("Wind")} at ${textOf(told, "place")} above a limit`,
      `mean ${figure(told, "wind_kt", "kt", "higher")} of ${figure(told, "limit_kt", "kt", "lower")}, gust ${figure(told, "gust_kt", "kt", "higher")} of ${figure(told, "gustLimit_kt", "kt", "lower")}; ${source(told)}`,
    ),
  "weather.windAboveOnGround": (told) =>
    said(
      phrase`${subject("Wind")} at ${textOf(told, "place")} above the limit ${told.reason.facts["what"] === "parked" ? "for parking without tie-downs" : "for an open door on the ground"}`,
      `mean ${figure(told, "wind_kt", "kt", "higher")} of ${figure(told, "limit_kt", "kt", "lower")}, gust ${figure(told, "gust_kt", "kt", "higher")} of ${figure(told, "gustLimit_kt", "kt", "lower")}; ${source(told)}`,
    ),
  "weather.tailwindAbove": (told) =>
    said(
      phrase`${subject("Wind from behind")} at ${textOf(told, "place")} up to ${figure(told, "tailwind_kt", "kt", "higher")}, limit ${figure(told, "limit_kt", "kt", "lower")}`,
      source(told),
    ),
  "weather.windNotKnown": (told) =>
    said(
      phrase`${subject("The wind")} at ${textOf(told, "place")} is not known`,
      `limit ${figure(told, "limit_kt", "kt", "lower")}; ${source(told)}`,
    ),
  "weather.freezing": (told) =>
    said(
      phrase`${subject(textOf(told, "code"))} at ${textOf(told, "place")}: ice on an unprotected machine`,
      source(told),
    ),
  "weather.listed": (told) =>
    said(phrase`${subject(textOf(told, "code"))} at ${textOf(told, "place")}`, source(told)),
  "weather.notKnown": (told) =>
    said(phrase`${subject("What falls")} at ${textOf(told, "place")} is not known`, source(told)),
  "weather.notSensed": (told) =>
    said(
      phrase`${subject(`The station ${textOf(told, "station")}`)} cannot sense ${senses[textOf(told, "sense")] ?? textOf(told, "sense")}`,
    ),
  "weather.moisture": (told) =>
    said(
      phrase`${subject("Moisture")} at ${textOf(told, "place")} at ${figure(told, "temperature_C", "°C", "both")}`,
      `not at or below ${figure(told, "limit_C", "°C", "both")}; ${source(told)}`,
    ),
  "weather.moistureNotKnown": (told) =>
    said(
      phrase`${subject("Moisture near freezing")} at ${textOf(told, "place")} is not known`,
      `not at or below ${figure(told, "limit_C", "°C", "both")}; ${source(told)}`,
    ),
  "weather.contradicts": (told) =>
    said(
      phrase`${subject(`The report of ${textOf(told, "station")}`)} contradicts itself`,
      conflicts[textOf(told, "what")] ?? textOf(told, "what"),
    ),
  "weather.recentFreezing": (told) =>
    said(
      phrase`${subject("Freezing weather")} was at ${textOf(told, "place")} a short while ago`,
      `${textOf(told, "code")}; look for ice`,
    ),
  "weather.cumulonimbus": (told) =>
    said(
      phrase`${subject("Cumulonimbus")} near ${textOf(told, "place")}`,
      `base ${figure(told, "base_ft", "ft", "lower")} above the aerodrome; ${source(told)}`,
    ),
  "light.night": (told) =>
    said(
      phrase`${subject("Night")} at ${textOf(told, "place")}`,
      `${time(told, "from_ms")} to ${time(told, "until_ms")}`,
    ),
  "light.notKnown": () => said(phrase`${subject("Weather and daylight")} are not judged on this device yet`),
};

export const skyRemedies: Readonly<Record<SkyRemedy, string>> = {
  "weather.fetch": "get a new report, or look yourself",
  "weather.observe": "look yourself",
  "weather.wait": "wait for better weather, or plan round it",
  "weather.setLimits": "have the operator set them",
  "weather.loadAgain": "open the app again",
  "light.wait": "wait for day",
};
