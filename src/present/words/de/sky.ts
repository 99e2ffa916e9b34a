// Words of the reasons that the weather and the light give.
import { displayNumber, type Worse } from "../../../core/quantity/display.ts";
import { timeSeenFrom } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import type { skyReasons as english, skyRemedies as englishRemedies } from "../en/sky.ts";
import { numberOf, said, textOf, type Told } from "../told.ts";

function time(told: Told, name: string): string {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "zu unbekannter Zeit" : timeSeenFrom(told.now_ms, at_ms, told.locale);
}

function figure(told: Told, name: string, unit: string, worse: Worse): string {
  const value = numberOf(told, name);
  return value === null
    ? "nicht angegeben"
    : `${displayNumber(value, 0, worse, told.locale.language)} ${unit}`;
}

function source(told: Told): string {
  const { station, by } = told.reason.facts;
  if (typeof station !== "string") return "keine Meldung sagt etwas darüber";
  return typeof by === "string" && by !== "" ? `${station}, ${by}` : station;
}

const asides: Readonly<Record<string, string>> = {
  otherStation: "ihre Station gehört nicht zu diesem Ort",
  distant: "ihre Station ist zu weit weg",
  undated: "ihre Ausgabezeit ist nicht lesbar",
  fromFuture: "sie ist der Uhr voraus datiert",
  nil: "sie sagt nichts",
  cancelled: "sie wurde zurückgezogen",
  older: "eine spätere liegt vor",
};

const conflicts: Readonly<Record<string, string>> = {
  cavokWithVisibility: "CAVOK bei weniger als 10 km",
  cavokWithWeather: "CAVOK mit Wetter",
  cavokWithCloud: "CAVOK mit Wolken",
  fogWithVisibility: "Nebel bei mehr als 1000 m",
  mistWithVisibility: "feuchter Dunst bei 10 km oder mehr",
  clearWithCloud: "klarer Himmel mit Wolken",
  clearWithPrecipitation: "klarer Himmel mit Regen oder Schnee",
  dewpointAboveTemperature: "Taupunkt über der Temperatur",
};

const senses: Readonly<Record<string, string>> = {
  thunderstorm: "Gewitter",
  freezingRain: "gefrierenden Regen",
  presentWeather: "Niederschlag",
};

export const skyReasons: typeof english = {
  "weather.baseNotKnown": () =>
    said(
      phrase`${subject("Die Basis")} dieser Maschine ist nicht bekannt`,
      "ohne sie sind es Wetter und Tageslicht auch nicht",
    ),
  "weather.limitsNotSet": (told) =>
    said(
      phrase`${subject("Die Wettergrenzen")} für ${textOf(told, "place")} sind nicht festgelegt`,
      "oder nach zwei Regelwerken zugleich",
    ),
  "weather.minimaNotSet": (told) =>
    said(
      phrase`${subject("Die Minima")} in ${textOf(told, "place")} sind nicht festgelegt`,
      told.reason.facts["light"] === "night"
        ? "bei Nacht"
        : told.reason.facts["light"] === "day"
          ? "am Tag"
          : "",
    ),
  "weather.nothingSpeaks": (told) =>
    said(phrase`${subject("Keine Meldung und keine Vorhersage")} für ${textOf(told, "place")} sagt genug`),
  "weather.setAside": (told) =>
    said(
      phrase`${subject(`${textOf(told, "report")} ${textOf(told, "station")}`)} wird nicht verwendet`,
      asides[textOf(told, "why")] ?? textOf(told, "why"),
    ),
  "weather.ownObservation": (told) =>
    said(
      phrase`${subject("Eigene Beobachtung")} gilt für ${textOf(told, "place")}`,
      `${told.names.person(textOf(told, "by"))}, ${time(told, "at_ms")}, bis ${time(told, "expires_ms")}`,
    ),
  "weather.notObserved": (told) =>
    said(
      phrase`${subject("Das Wetter")} in ${textOf(told, "place")} wurde lange nicht beobachtet`,
      numberOf(told, "issued_ms") === null
        ? "keine Meldung liegt vor"
        : `letzte Meldung ${time(told, "issued_ms")}, gültig für ${figure(told, "limit_min", "min", "lower")}`,
    ),
  "weather.ceilingBelow": (told) =>
    said(
      phrase`${subject("Hauptwolkenuntergrenze")} in ${textOf(told, "place")} ${figure(told, "ceiling_ft", "ft", "lower")}, nötig ${figure(told, "needed_ft", "ft", "higher")}`,
      `über Grund in ${figure(told, "ground_ft", "ft", "higher")}; ${source(told)}`,
    ),
  "weather.ceilingNotKnown": (told) =>
    said(
      phrase`${subject("Die Hauptwolkenuntergrenze")} in ${textOf(told, "place")} ist nicht bekannt`,
      `nötig ${figure(told, "needed_ft", "ft", "higher")}; ${source(told)}`,
    ),
  "weather.visibilityBelow": (told) =>
    said(
      phrase`${subject("Sicht")} in ${textOf(told, "place")} ${figure(told, "visibility_m", "m", "lower")}, nötig ${figure(told, "needed_m", "m", "higher")}`,
      source(told),
    ),
  "weather.visibilityNotKnown": (told) =>
    said(
      phrase`${subject("Die Sicht")} in ${textOf(told, "place")} ist nicht bekannt`,
      `nötig ${figure(told, "needed_m", "m", "higher")}; ${source(told)}`,
    ),
  "weather.windAbove": (told) =>
    said(
      phrase`${subject("Wind")} in ${textOf(told, "place")} über einer Grenze`,
      `Mittel ${figure(told, "wind_kt", "kt", "higher")} von ${figure(told, "limit_kt", "kt", "lower")}, Böe ${figure(told, "gust_kt", "kt", "higher")} von ${figure(told, "gustLimit_kt", "kt", "lower")}; ${source(told)}`,
    ),
  "weather.windAboveOnGround": (told) =>
    said(
      phrase`${subject("Wind")} in ${textOf(told, "place")} über der Grenze ${told.reason.facts["what"] === "parked" ? "für das Abstellen ohne Fesseln" : "für eine offene Tür am Boden"}`,
      `Mittel ${figure(told, "wind_kt", "kt", "higher")} von ${figure(told, "limit_kt", "kt", "lower")}, Böe ${figure(told, "gust_kt", "kt", "higher")} von ${figure(told, "gustLimit_kt", "kt", "lower")}; ${source(told)}`,
    ),
  "weather.tailwindAbove": (told) =>
    said(
      phrase`${subject("Wind von hinten")} in ${textOf(told, "place")} bis ${figure(told, "tailwind_kt", "kt", "higher")}, Grenze ${figure(told, "limit_kt", "kt", "lower")}`,
      source(told),
    ),
  "weather.windNotKnown": (told) =>
    said(
      phrase`${subject("Der Wind")} in ${textOf(told, "place")} ist nicht bekannt`,
      `Grenze ${figure(told, "limit_kt", "kt", "lower")}; ${source(told)}`,
    ),
  "weather.freezing": (told) =>
    said(
      phrase`${subject(textOf(told, "code"))} in ${textOf(told, "place")}: Eis an einer ungeschützten Maschine`,
      source(told),
    ),
  "weather.listed": (told) =>
    said(phrase`${subject(textOf(told, "code"))} in ${textOf(told, "place")}`, source(told)),
  "weather.notKnown": (told) =>
    said(phrase`${subject("Der Niederschlag")} in ${textOf(told, "place")} ist nicht bekannt`, source(told)),
  "weather.notSensed": (told) =>
    said(
      phrase`${subject(`Die Station ${textOf(told, "station")}`)} erkennt ${senses[textOf(told, "sense")] ?? textOf(told, "sense")} nicht`,
    ),
  "weather.moisture": (told) =>
    said(
      phrase`${subject("Feuchte")} in ${textOf(told, "place")} bei ${figure(told, "temperature_C", "°C", "both")}`,
      `nicht bei oder unter ${figure(told, "limit_C", "°C", "both")}; ${source(told)}`,
    ),
  "weather.moistureNotKnown": (told) =>
    said(
      phrase`${subject("Feuchte um den Gefrierpunkt")} in ${textOf(told, "place")} ist nicht bekannt`,
      `nicht bei oder unter ${figure(told, "limit_C", "°C", "both")}; ${source(told)}`,
    ),
  "weather.contradicts": (told) =>
    said(
      phrase`${subject(`Die Meldung von ${textOf(told, "station")}`)} widerspricht sich`,
      conflicts[textOf(told, "what")] ?? textOf(told, "what"),
    ),
  "weather.recentFreezing": (told) =>
    said(
      phrase`${subject("Gefrierendes Wetter")} war kürzlich in ${textOf(told, "place")}`,
      `${textOf(told, "code")}; nach Eis sehen`,
    ),
  "weather.cumulonimbus": (told) =>
    said(
      phrase`${subject("Cumulonimbus")} bei ${textOf(told, "place")}`,
      `Untergrenze ${figure(told, "base_ft", "ft", "lower")} über dem Flugplatz; ${source(told)}`,
    ),
  "light.night": (told) =>
    said(
      phrase`${subject("Nacht")} in ${textOf(told, "place")}`,
      `${time(told, "from_ms")} bis ${time(told, "until_ms")}`,
    ),
  "light.notKnown": () =>
    said(phrase`${subject("Wetter und Tageslicht")} sind auf diesem Gerät noch nicht beurteilt`),
};

export const skyRemedies: typeof englishRemedies = {
  "weather.fetch": "eine neue Meldung holen oder selbst nachsehen",
  "weather.observe": "selbst nachsehen",
  "weather.wait": "auf besseres Wetter warten oder anders planen",
  "weather.setLimits": "vom Betreiber festlegen lassen",
  "weather.loadAgain": "die App neu öffnen",
  "light.wait": "auf den Tag warten",
};
