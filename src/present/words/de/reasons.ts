import { displayNumber } from "../../../core/quantity/display.ts";
import { dateLong, timeSeenFrom } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import type { Phrase } from "../phrase.ts";
import { plural } from "../plural.ts";
import { numberOf, said, textOf, dateOf } from "../told.ts";
import type { Told } from "../told.ts";
import type { WordsOfReasons } from "../words.ts";
import { crewReasons, crewRemedies } from "./crew.ts";
import { dueReasons, dueRemedies } from "./due.ts";
import { finding } from "./finding.ts";
import { loadReasons, loadRemedies } from "./load.ts";
import { levelReasons, levelRemedies } from "./levels.ts";
import { powerReasons, powerRemedies } from "./power.ts";
import { referenceReasons, referenceRemedies } from "./reference.ts";
import { skyReasons, skyRemedies } from "./sky.ts";
import { walkReasons, walkRemedies } from "./walk-reasons.ts";

function time(told: Told, name: string): string {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "zu unbekannter Zeit" : timeSeenFrom(told.now_ms, at_ms, told.locale);
}

function figure(told: Told, name: string, worse: "lower" | "higher" | "both" = "both"): string {
  const value = numberOf(told, name);
  return value === null
    ? "?"
    : displayNumber(value, Number.isInteger(value) ? 0 : 2, worse, told.locale.language);
}

function count(told: Told, name: string, one: string, other: string): string {
  const value = numberOf(told, name);
  return value === null ? `? ${other}` : `${value} ${plural("de", value, { one, other })}`;
}

function what(told: Told): Phrase {
  const kind = textOf(told, "kind");
  const name = kind in finding.kind ? finding.kind[kind as keyof typeof finding.kind] : kind;
  return phrase`${subject(name)} (${told.names.of("stop", textOf(told, "stop"))})`;
}

function againBy(told: Told): string {
  const day = told.reason.facts["lastDay"];
  return typeof day === "string" ? `letzter Tag ${dateLong(day, told.locale)}` : textOf(told, "words");
}

/** Wie groß, wogegen, und wann die Gerade dort ist. */
function growth(told: Told): string {
  const unit = textOf(told, "unit");
  const per = textOf(told, "by") === "days" ? "Tage" : "Flugstunden";
  const sizes = `${figure(told, "value", "higher")} ${unit}, Grenze ${figure(told, "limit")} ${unit}`;
  const early = numberOf(told, "earliest");
  return `${sizes}, erreicht ${figure(told, "expected", "lower")} ${per} nach der letzten Messung${
    early === null ? ", wie sicher, ist nicht bekannt" : `, frühestens ${figure(told, "earliest", "lower")}`
  }`;
}

const asides: Readonly<Record<string, string>> = {
  schema: "seine Form ist hier nicht bekannt",
  missingParent: "ein früherer Eintrag fehlt",
  uncertified: "sein Schlüssel ist nicht beglaubigt",
  outOfCertificate: "das Zertifikat seines Schlüssels galt nicht",
  revoked: "sein Schlüssel ist gesperrt",
  refused: "der Server hat ihn abgelehnt",
  unknownType: "er braucht eine neuere Programmversion",
  newerVersion: "er braucht eine neuere Programmversion",
  fork: "ein Schlüssel schrieb zwei verschiedene Einträge an eine Stelle",
  chainBroken: "er folgt nicht auf den vorigen Eintrag desselben Schlüssels",
  roleMissing: "wer ihn schrieb, hat nicht die Rolle dafür",
  erased: "sein Inhalt wurde gelöscht",
  senseless: "er passt nicht zu dem, was vor ihm aufgezeichnet ist",
};

const unreadable: Readonly<Record<string, string>> = {
  temperatureMissing: "die Temperatur dazu fehlt",
  outsideBand: "die Temperatur liegt außerhalb der Grenzen im Musterblatt",
  otherUnit: "in einer anderen Einheit abgelesen",
  notANumber: "das ist keine Zahl",
};

export const reasons: WordsOfReasons["reasons"] = {
  "record.notOpened": () => said(phrase`${subject("Die Akte")} dieser Maschine ist nicht eröffnet`),
  "record.aside": (told) =>
    said(
      phrase`${subject(count(told, "count", "Eintrag", "Einträge"))} beiseitegelegt`,
      asides[textOf(told, "why")] ?? textOf(told, "why"),
    ),
  "record.clockBack": (told) =>
    said(
      phrase`${subject("Die Uhr")} geht hinter dem neuesten Eintrag`,
      `neuester Eintrag ${time(told, "newest_ms")}`,
    ),
  "record.neverExchanged": () =>
    said(
      phrase`${subject("Dieses Gerät")} hat sich noch nie mit dem Server ausgetauscht`,
      "andere wissen vielleicht mehr",
    ),
  "record.notExchangedSinceTakeover": (told) =>
    said(phrase`${subject("Kein Austausch")} seit der Übernahme`, `übernommen ${time(told, "takenOver_ms")}`),
  "record.upliftsAlike": (told) =>
    said(
      phrase`${subject("Zwei Nachfüllungen")} sehen gleich aus: ${figure(told, "amount")} ${textOf(told, "unit")}`,
      `${time(told, "at_ms")} und ${time(told, "other_ms")}; eine davon ist vielleicht doppelt vermerkt`,
    ),
  "record.exchangeOld": (told) =>
    said(
      phrase`${subject("Der letzte Austausch")} ist älter als ${figure(told, "limit_min")} min`,
      `zuletzt ${time(told, "vouched_ms")}`,
    ),
  "sheet.notHeld": () => said(phrase`${subject("Das Musterblatt")} ist nicht auf diesem Gerät`),
  "finding.unjudged": (told) => said(phrase`${what(told)} ist nicht beurteilt`, textOf(told, "words")),
  "finding.grounds": (told) => said(phrase`${what(told)} hält die Maschine am Boden`, textOf(told, "words")),
  "finding.watched": (told) => said(phrase`${what(told)} wird beobachtet`, textOf(told, "words")),
  "finding.notCovered": (told) =>
    said(phrase`${what(told)} ist von niemandem beurteilt, der es darf`, textOf(told, "words")),
  "finding.notReleased": (told) =>
    said(phrase`${what(told)}: daran wurde gearbeitet, und es ist nicht freigegeben`, textOf(told, "words")),
  "finding.measureDue": (told) => said(phrase`${what(told)} muss neu gemessen werden`, againBy(told)),
  "finding.measureLeft": (told) =>
    said(
      phrase`${what(told)} wird in ${figure(told, "left_h", "lower")} Flugstunden neu gemessen`,
      textOf(told, "words"),
    ),
  "finding.grows": (told) => said(phrase`${what(told)} wächst`, growth(told)),
  "finding.mayBePast": (told) =>
    said(phrase`${what(told)} kann über seine Grenze gewachsen sein`, growth(told)),
  "finding.deferred": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))} zurückgestellt`,
      `${textOf(told, "number")}, letzter Tag ${dateOf(told, "lastDay")}`,
    ),
  "finding.deferralLapsed": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))}: die Zurückstellung läuft ab`,
      `${textOf(told, "number")}, letzter Tag ${dateOf(told, "lastDay")}`,
    ),
  "finding.lapsesInFlight": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))}: die Zurückstellung läuft im Flug ab, nach dem letzten Start`,
      `${textOf(told, "number")}, letzter Tag ${dateOf(told, "lastDay")}`,
    ),
  "finding.deferralForbids": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))} zurückgestellt, das verbietet diesen Einsatz`,
      textOf(told, "number"),
    ),
  "finding.deferralLimits": (told) =>
    said(
      phrase`${subject(told.names.of("deferral", textOf(told, "deferral")))} zurückgestellt, mit einer Grenze`,
      `${textOf(told, "number")}, ${textOf(told, "quantity")} ${figure(told, "value")}`,
    ),
  "finding.deferredToNothing": (told) =>
    said(
      phrase`${what(told)} ist zurückgestellt ohne Eintrag in der Liste des Betreibers`,
      textOf(told, "words"),
    ),
  "event.grounds": (told) =>
    said(
      phrase`${subject(told.names.of("event", textOf(told, "event")))}: am Boden, bis freigegeben`,
      `${time(told, "at_ms")} ${textOf(told, "words")}`.trim(),
    ),
  "event.asks": (told) =>
    said(
      phrase`${subject(told.names.of("event", textOf(told, "event")))}: jemand muss nachsehen`,
      `${time(told, "at_ms")} ${textOf(told, "words")}`.trim(),
    ),
  "event.notListed": (told) =>
    said(
      phrase`${subject(textOf(told, "event"))}: ein Ereignis, das das Musterblatt nicht kennt`,
      textOf(told, "words"),
    ),
  "level.missing": (told) =>
    said(phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} ist nicht abgelesen`),
  "level.notKnown": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} ist nicht zu beurteilen`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}: ${unreadable[textOf(told, "why")] ?? textOf(told, "why")}`,
    ),
  "level.withdrawn": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} ist erneut abzulesen`,
      `${textOf(told, "typed")} ${textOf(told, "unit")} wurde als Tippfehler zurückgenommen`,
    ),
  "level.below": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} liegt unter der Grenze`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}, mindestens ${figure(told, "limit")}`,
    ),
  "level.above": (told) =>
    said(
      phrase`${subject(told.names.of("gauge", textOf(told, "gauge")))} liegt über der Grenze`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}, höchstens ${figure(told, "limit")}`,
    ),
  "needs.notInstalled": (told) =>
    said(phrase`${subject(told.names.of("equipment", textOf(told, "equipment")))} ist nicht eingebaut`),
  "needs.notRecorded": (told) =>
    said(
      phrase`${subject(told.names.of("equipment", textOf(told, "equipment")))}: niemand hat vermerkt, ob eingebaut`,
    ),
  ...crewReasons,
  ...dueReasons,
  ...loadReasons,
  ...levelReasons,
  ...powerReasons,
  ...referenceReasons,
  ...walkReasons,
  ...skyReasons,
};

export const remedies: WordsOfReasons["remedies"] = {
  "record.openCraft": "die Lufttüchtigkeitsabteilung eröffnet die Akte",
  "record.settleAside": "ein Verwalter klärt, was beiseiteliegt",
  "record.setClock": "die Uhr dieses Geräts stellen",
  "lookAlike.decide": "sagen, ob es eine Sache ist oder zwei",
  "record.exchangeOrConfirm": "verbinden oder bestätigen, dass kein anderes Gerät benutzt wurde",
  "sheet.fetch": "einmal verbinden, damit das Musterblatt ankommt",
  "finding.judge": "beurteilen",
  "finding.lookAgain": "beim nächsten Rundgang wieder ansehen",
  "finding.toEngineer": "ein Techniker entscheidet",
  "finding.measure": "neu messen",
  "finding.release": "ein Techniker gibt es frei",
  "event.clear": "ein Techniker prüft und gibt frei",
  "level.read": "ablesen",
  "level.readAgain": "noch einmal ablesen, mit der Temperatur",
  "level.fillOrAsk": "nachfüllen oder den Techniker fragen",
  "level.toEngineer": "ein Techniker entscheidet",
  "needs.install": "einbauen lassen",
  "needs.record": "vermerken, ob eingebaut",
  ...crewRemedies,
  ...dueRemedies,
  ...loadRemedies,
  ...levelRemedies,
  ...powerRemedies,
  ...referenceRemedies,
  ...walkRemedies,
  ...skyRemedies,
};
