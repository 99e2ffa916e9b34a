import type { WalkReason, WalkRemedy } from "../en/walk-reasons.ts";
import { timeSeenFrom } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import { plural } from "../plural.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

function time(told: Told, name: string): string {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "zu unbekannter Zeit" : timeSeenFrom(told.now_ms, at_ms, told.locale);
}

const items = (count: number) => plural("de", count, { one: "1 Punkt", other: `${count} Punkte` });
const joined = (parts: readonly string[]) => parts.filter((part) => part !== "").join(", ");

const voids: Readonly<Record<string, string>> = {
  maintenance: "die Wartung hatte die Maschine",
  event: "der Maschine ist etwas zugestoßen",
  flight: "sie ist seither geflogen",
  uplift: "seither wurde etwas nachgefüllt",
  configurationChange: "die Ausrüstung wurde seither geändert",
  custodyChange: "jemand anders hat sie übernommen",
  storm: "ein Sturm ging über sie hinweg",
  frostAfterFreezing: "es hat seither gefroren",
  closure: "seither wurde etwas geöffnet oder geschlossen",
  entry: "jemand hat ihn für ungültig erklärt",
};

const walkNames: Readonly<Record<string, string>> = {
  full: "Der volle Rundgang",
  launch: "Der Startrundgang",
  parking: "Der Abstellrundgang",
};
const walkName = (told: Told) => subject(walkNames[textOf(told, "kind")] ?? "Der volle Rundgang");
const lapsing = (by: string): string => (by === "hours" ? "seine Stunden sind um" : "sein Tag ist um");

const howMuch = (told: Told): string => {
  const [left, open] = [numberOf(told, "left"), numberOf(told, "open")];
  return joined([left === null ? "" : `noch ${items(left)}`, open === null ? "" : `${open} offen`]);
};

export const walkReasons: Readonly<Record<WalkReason, (told: Told) => Said>> = {
  "custody.nobody": () => said(phrase`${subject("Niemand")} hat die Maschine übernommen`),
  "custody.maintenance": (told) =>
    said(
      phrase`${subject("Die Wartung")} hat die Maschine`,
      joined([
        textOf(told, "words"),
        numberOf(told, "expectedEnd_ms") === null
          ? ""
          : `voraussichtlich bis ${time(told, "expectedEnd_ms")}`,
      ]),
    ),
  "custody.outOfService": (told) =>
    said(
      phrase`${subject("Außer Dienst")}`,
      joined([
        textOf(told, "words"),
        numberOf(told, "expectedEnd_ms") === null
          ? ""
          : `voraussichtlich bis ${time(told, "expectedEnd_ms")}`,
      ]),
    ),
  "custody.notReleased": (told) =>
    said(
      phrase`${subject("Die Arbeit")} ist nicht freigegeben`,
      joined([`die Wartung übernahm ${time(told, "since_ms")}`, textOf(told, "words")]),
    ),
  "custody.notInspected": (told) =>
    said(
      phrase`${subject("Arbeit an der Steuerung")} muss eine zweite Person prüfen`,
      `${told.names.of("stop", textOf(told, "stop"))}, freigegeben ${time(told, "at_ms")} von ${told.names.person(textOf(told, "by"))}`,
    ),
  "custody.limitation": (told) =>
    said(
      phrase`${subject("Freigegeben mit einer Einschränkung")}`,
      `${textOf(told, "words")}, ${time(told, "at_ms")}`,
    ),
  "custody.takenAway": (told) =>
    said(
      phrase`${subject("Eine Einschränkung der Freigabe")} verbietet das`,
      `${textOf(told, "words")}, ${time(told, "at_ms")}`,
    ),
  "walk.due": (told) =>
    said(
      phrase`${walkName(told)} ist fällig`,
      textOf(told, "kind") === "launch" ? "vor jedem Abflug" : "vor dem ersten Flug des Tages",
    ),
  "walk.running": (told) => said(phrase`${walkName(told)} läuft`, howMuch(told)),
  "walk.interrupted": (told) => said(phrase`${walkName(told)} wurde unterbrochen`, howMuch(told)),
  "walk.incomplete": (told) =>
    said(
      phrase`${walkName(told)} ist beendet, gilt aber nicht`,
      joined([
        told.reason.facts["sheetChanged"] === true ? "jetzt gilt ein anderes Musterblatt" : "",
        ...(
          [
            ["blank", "nicht markiert"],
            ["notReached", "nicht erreicht"],
            ["unjudged", "nicht beurteilt"],
          ] as const
        ).map(([name, words]) => {
          const count = numberOf(told, name);
          return count === null || count === 0 ? "" : `${count} ${words}`;
        }),
      ]),
    ),
  "walk.void": (told) =>
    said(
      phrase`${walkName(told)} gilt nicht mehr`,
      `${voids[textOf(told, "by")] ?? "er wurde für ungültig erklärt"}, ${time(told, "at_ms")}`,
    ),
  "walk.lapsed": (told) =>
    said(
      phrase`${walkName(told)} ist fällig`,
      `der letzte lief ab: ${time(told, "lapsed_ms")}, ${lapsing(textOf(told, "by"))}`,
    ),
  "walk.lapses": (told) =>
    said(phrase`${walkName(told)} läuft ab: ${time(told, "lapsed_ms")}`, lapsing(textOf(told, "by"))),
  "walk.froze": (told) =>
    said(
      phrase`${walkName(told)} gilt nicht mehr: es hat gefroren`,
      `${numberOf(told, "oat_C") ?? "unter 0"} °C in ${textOf(told, "station")} ${time(told, "at_ms")}`,
    ),
  "walk.mayFreeze": (told) =>
    said(
      phrase`${subject("Frost")} würde den vollen Rundgang beenden`,
      `Frost vorhergesagt ab ${time(told, "at_ms")} in ${textOf(told, "station")}`,
    ),
  "closure.open": (told) =>
    said(
      phrase`${subject(told.names.of("closure", textOf(told, "closure")))}: nicht wie für den Flug`,
      `seit ${time(told, "opened_ms")}, ${told.names.person(textOf(told, "by"))}`,
    ),
};

export const walkRemedies: Readonly<Record<WalkRemedy, string>> = {
  "custody.takeOver": "die Maschine übernehmen",
  "custody.return": "wer sie hat, gibt sie zurück; die Wartung mit einer Freigabe",
  "custody.release": "die Technik gibt die Arbeit frei",
  "custody.inspect": "eine zweite Person der Technik prüft und unterschreibt",
  "custody.lift": "eine spätere Freigabe hebt sie auf",
  "walk.doFull": "den vollen Rundgang gehen",
  "walk.doLaunch": "vor dem Abflug den Startrundgang gehen",
  "walk.doParking": "den Abstellrundgang gehen",
  "closure.close": "wie für den Flug herrichten und markieren",
};
