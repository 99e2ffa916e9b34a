// Words of the reasons that deferrals as a set, the maintenance programme, components and obligations give.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { displayNumber } from "../../../core/quantity/display.ts";
import { timeSeenFrom } from "../formats.ts";
import { deferral, listNumber, matter } from "../matter.ts";
import { phrase, subject } from "../phrase.ts";
import { numberOf, said, textOf, dateOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type DueReason =
  | Extract<
      ReasonCode,
      | `due.${string}`
      | `flight.${string}`
      | `finding.deferral${"Unconfirmed" | "TooMany" | "NotTogether" | "SameSystem" | "NotCounted"}`
    >
  | "finding.extensionInvalid";
export type DueRemedy = Extract<RemedyCode, `due.${string}` | `flight.${string}`>;

const counters: Readonly<Record<string, string>> = {
  flightHours_h: "Flugstunden",
  landings: "Landungen",
  starts: "Anlassvorgänge",
  hoistCycles: "Windenzyklen",
  date: "Datum",
};
const counter = (told: Told): string => counters[textOf(told, "counter")] ?? textOf(told, "counter");

function left(told: Told): string {
  const value = numberOf(told, "left");
  if (value === null) return "nicht bekannt, wie viele bleiben";
  const places = Number.isInteger(value) ? 0 : 1;
  const shown = displayNumber(Math.abs(value), places, value < 0 ? "higher" : "lower", told.locale.language);
  return value < 0 ? `${shown} ${counter(told)} darüber` : `noch ${shown} ${counter(told)}`;
}

const clock = (told: Told, name: string): string => {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "zu unbekannter Zeit" : timeSeenFrom(told.now_ms, at_ms, told.locale);
};

const worksheetLacks: Readonly<Record<string, string>> = {
  rules: "die Faktoren des Betreibers sind nicht vermerkt",
  factor: "ein Faktor ist nicht bewertet",
  refusal: "ob ein anderer Betreiber abgelehnt hat, ist nicht beantwortet",
  release: "die Summe braucht eine Freigabe der Leitung",
  signature: "nicht gezeichnet",
};

const lastDay = (told: Told): string =>
  typeof told.reason.facts["lastDay"] === "string"
    ? `letzter Tag ${dateOf(told, "lastDay")}`
    : "letzter Tag nicht vermerkt";

const meters: Readonly<Record<string, string>> = {
  flightHours_h: "Der Stundenzähler",
  landings: "Der Landungszähler",
  starts: "Der Anlasszähler",
  hoistCycles: "Der Zähler der Windenzyklen",
};
const meterOf = (told: Told): string => meters[textOf(told, "counter")] ?? "Der Zähler";
function metered(told: Told, name: string): string {
  const value = numberOf(told, name);
  if (value === null) return "?";
  const isHours = textOf(told, "counter") === "flightHours_h";
  return `${displayNumber(value, isHours ? 2 : 0, "both", told.locale.language)}${isHours ? " h" : ""}`;
}

export const dueReasons: Readonly<Record<DueReason, (told: Told) => Said>> = {
  "finding.deferralUnconfirmed": (told) =>
    said(
      phrase`${subject(deferral(told))} zurückgestellt, Verfahren (${textOf(told, "procedure")}) nicht bestätigt`,
      listNumber(told),
    ),
  "finding.deferralTooMany": (told) =>
    said(
      phrase`${subject(deferral(told))}: mehr zurückgestellt, als die Liste erlaubt`,
      `${listNumber(told)}, ${textOf(told, "deferred")} von ${textOf(told, "installed")} zurückgestellt, ${textOf(told, "required")} verlangt`,
    ),
  "finding.deferralNotTogether": (told) =>
    said(
      phrase`${subject(deferral(told))} darf nicht zusammen mit ${deferral(told, "other")} zurückgestellt sein`,
      listNumber(told),
    ),
  "finding.deferralSameSystem": (told) =>
    said(
      phrase`${subject(deferral(told))} im selben System zurückgestellt wie ${deferral(told, "other")}`,
      listNumber(told),
    ),
  "finding.deferralNotCounted": (told) =>
    said(phrase`${subject(deferral(told))} zurückgestellt, die Liste sagt nicht wie lange`, listNumber(told)),
  "finding.extensionInvalid": (told) =>
    said(phrase`${subject(deferral(told))}: eine Verlängerung, die nicht zählt`, listNumber(told)),
  "due.noBalance": () =>
    said(
      phrase`${subject("Kein Anfangsstand")} der Zähler und der ausgeführten Arbeiten`,
      "die Lufttüchtigkeit zeichnet ihn",
    ),
  "due.neverRecorded": (told) => said(matter(told, ": nie vermerkt")),
  "due.removed": (told) => said(matter(told, ": ausgebaut, nichts eingebaut")),
  "due.dateMissing": (told) => said(matter(told, ": das Datum ist nicht vermerkt")),
  "due.twice": (told) => said(matter(told, ": an einer Stelle zweimal vermerkt")),
  "due.counterNotKnown": (told) =>
    said(matter(told, `: ${counter(told)} nicht bekannt`), "ein Flug nennt sie nicht"),
  "due.flightsOverlap": () =>
    said(phrase`${subject("Zwei Flüge")} überschneiden sich`, "einer ist vielleicht zweimal vermerkt"),
  "due.noRelease": () =>
    said(
      phrase`${subject("Ausgeführte Arbeit")} ist nicht freigegeben`,
      "ein Techniker zeichnet die Freigabe",
    ),
  "due.over": (told) => said(matter(told, " ist fällig"), left(told)),
  "due.left": (told) => said(matter(told, " ist bald fällig"), left(told)),
  "due.inTolerance": (told) => said(matter(told, " ist in der Toleranz"), counter(told)),
  "due.duringCall": (told) => said(matter(told, " würde im Bezugseinsatz fällig"), left(told)),
  "due.notInSheet": (told) =>
    said(
      phrase`${subject(textOf(told, "what"))} ist vermerkt und steht nicht im Blatt`,
      "nichts zählt danach",
    ),
  "due.mapDataOld": (told) => said(matter(told, ": Ausgabe abgelaufen"), lastDay(told)),
  "flight.underway": (told) =>
    said(
      phrase`${subject("Ein Flug")} ist gestartet und nicht eingetragen`,
      `Start ${clock(told, "off_ms")}`,
    ),
  "flight.exceedanceNotSaid": (told) =>
    said(
      phrase`${subject("Ob ein Grenzwert überschritten wurde")}, ist nicht beantwortet`,
      `${textOf(told, "count")} Flüge, der erste ${clock(told, "off_ms")}`,
    ),
  "flight.meterFell": (told) =>
    said(
      phrase`${subject(meterOf(told))} zeigt weniger als zuvor`,
      `${metered(told, "read")} nach ${metered(told, "before")}`,
    ),
  "flight.meterDiffers": (told) =>
    said(
      phrase`${subject(meterOf(told))} und das Flugbuch weichen voneinander ab`,
      `Zähler ${metered(told, "read")}, Flugbuch ${metered(told, "counted")}`,
    ),
  "flight.notReconciled": (told) =>
    said(
      phrase`${subject(meterOf(told))} wurde nach dem letzten Flug nicht abgelesen`,
      `gelandet ${clock(told, "landed_ms")}`,
    ),
  "flight.worksheetDue": () => said(phrase`${subject("Der Risikobogen")} ist vor dem Flug auszufüllen`),
  "flight.worksheetLacks": (told) =>
    said(phrase`${subject("Der Risikobogen")}: ${worksheetLacks[textOf(told, "lack")] ?? "?"}`),
  "due.dateOver": (told) => said(matter(told, " ist dem Datum nach fällig"), lastDay(told)),
};

export const dueRemedies: Readonly<Record<DueRemedy, string>> = {
  "flight.log": "eintragen",
  "flight.answer": "beantworten",
  "flight.readMeter": "ablesen",
  "flight.reconcile": "Grund angeben, neue Grundlage zeichnen",
  "flight.worksheet": "ausfüllen und zeichnen",
  "due.do": "ausführen lassen",
  "due.record": "vermerken",
};
