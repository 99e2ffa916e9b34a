// Words of the reasons that walks, closures and custody give.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { timeSeenFrom } from "../formats.ts";
import { phrase, subject } from "../phrase.ts";
import { plural } from "../plural.ts";
import { numberOf, said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type WalkReason = Extract<ReasonCode, `walk.${string}` | `closure.${string}` | `custody.${string}`>;
export type WalkRemedy = Extract<RemedyCode, `walk.${string}` | `closure.${string}` | `custody.${string}`>;

function time(told: Told, name: string): string {
  const at_ms = numberOf(told, name);
  return at_ms === null ? "at an unknown time" : timeSeenFrom(told.now_ms, at_ms, told.locale);
}

const items = (count: number) => plural("en", count, { one: "1 item", other: `${count} items` });
const things = (count: number) => plural("en", count, { one: "1 thing", other: `${count} things` });
const joined = (parts: readonly string[]) => parts.filter((part) => part !== "").join(", ");

const voids: Readonly<Record<string, string>> = {
  maintenance: "maintenance had the machine",
  event: "something happened to the machine",
  flight: "it has flown since",
  uplift: "something was filled since",
  configurationChange: "equipment was changed since",
  custodyChange: "somebody else took it over",
  storm: "a storm came over it",
  frostAfterFreezing: "it froze since",
  closure: "something was opened or closed since",
  entry: "somebody declared it void",
};

const walkNames: Readonly<Record<string, string>> = {
  full: "The full walk",
  launch: "The launch walk",
  parking: "The parking walk",
};
const walkName = (told: Told) => subject(walkNames[textOf(told, "kind")] ?? "The full walk");
const lapsing = (by: string): string => (by === "hours" ? "its hours are over" : "its day is over");

const howMuch = (told: Told): string => {
  const [left, open] = [numberOf(told, "left"), numberOf(told, "open")];
  return joined([left === null ? "" : `${items(left)} left`, open === null ? "" : `${things(open)} open`]);
};

export const walkReasons: Readonly<Record<WalkReason, (told: Told) => Said>> = {
  "custody.nobody": () => said(phrase`${subject("Nobody")} has taken the machine over`),
  "custody.maintenance": (told) =>
    said(
      phrase`${subject("Maintenance")} has the machine`,
      joined([
        textOf(told, "words"),
        numberOf(told, "expectedEnd_ms") === null ? "" : `expected until ${time(told, "expectedEnd_ms")}`,
      ]),
    ),
  "custody.outOfService": (told) =>
    said(
      phrase`${subject("Out of service")}`,
      joined([
        textOf(told, "words"),
        numberOf(told, "expectedEnd_ms") === null ? "" : `expected until ${time(told, "expectedEnd_ms")}`,
      ]),
    ),
  "custody.notReleased": (told) =>
    said(
      phrase`${subject("The work")} is not released to service`,
      joined([`maintenance took it ${time(told, "since_ms")}`, textOf(told, "words")]),
    ),
  "custody.notInspected": (told) =>
    said(
      phrase`${subject("Work at controls")} needs a second person's inspection`,
      `${told.names.of("stop", textOf(told, "stop"))}, released ${time(told, "at_ms")} by ${told.names.person(textOf(told, "by"))}`,
    ),
  "custody.limitation": (told) =>
    said(
      phrase`${subject("Released with a limitation")}`,
      `${textOf(told, "words")}, ${time(told, "at_ms")}`,
    ),
  "custody.takenAway": (told) =>
    said(
      phrase`${subject("A limitation of the release")} forbids this`,
      `${textOf(told, "words")}, ${time(told, "at_ms")}`,
    ),
  "walk.due": (told) =>
    said(
      phrase`${walkName(told)} is due`,
      textOf(told, "kind") === "launch" ? "before each departure" : "before the first flight of the day",
    ),
  "walk.running": (told) => said(phrase`${walkName(told)} is under way`, howMuch(told)),
  "walk.interrupted": (told) => said(phrase`${walkName(told)} was interrupted`, howMuch(told)),
  "walk.incomplete": (told) =>
    said(
      phrase`${walkName(told)} is finished but does not hold`,
      joined([
        told.reason.facts["sheetChanged"] === true ? "another sheet holds now" : "",
        ...(
          [
            ["blank", "not marked"],
            ["notReached", "not reached"],
            ["unjudged", "not judged"],
          ] as const
        ).map(([name, words]) => {
          const count = numberOf(told, name);
          return count === null || count === 0 ? "" : `${count} ${words}`;
        }),
      ]),
    ),
  "walk.void": (told) =>
    said(
      phrase`${walkName(told)} no longer holds`,
      `${voids[textOf(told, "by")] ?? "it was voided"}, ${time(told, "at_ms")}`,
    ),
  "walk.lapsed": (told) =>
    said(
      phrase`${walkName(told)} is due`,
      `the last one lapsed ${time(told, "lapsed_ms")}: ${lapsing(textOf(told, "by"))}`,
    ),
  "walk.lapses": (told) =>
    said(phrase`${walkName(told)} lapses ${time(told, "lapsed_ms")}`, lapsing(textOf(told, "by"))),
  "walk.froze": (told) =>
    said(
      phrase`${walkName(told)} no longer holds: it froze`,
      `${numberOf(told, "oat_C") ?? "below 0"} °C at ${textOf(told, "station")} ${time(told, "at_ms")}`,
    ),
  "walk.mayFreeze": (told) =>
    said(
      phrase`${subject("Frost")} would end the full walk`,
      `freezing forecast from ${time(told, "at_ms")} at ${textOf(told, "station")}`,
    ),
  "closure.open": (told) =>
    said(
      phrase`${subject(told.names.of("closure", textOf(told, "closure")))}: not as for flight`,
      `since ${time(told, "opened_ms")}, ${told.names.person(textOf(told, "by"))}`,
    ),
};

export const walkRemedies: Readonly<Record<WalkRemedy, string>> = {
  "custody.takeOver": "take the machine over",
  "custody.return": "whoever has it returns it; maintenance with a release",
  "custody.release": "an engineer releases the work",
  "custody.inspect": "another engineer inspects it and signs",
  "custody.lift": "a later release lifts it",
  "walk.doFull": "do the full walk",
  "walk.doLaunch": "do the launch walk before departure",
  "walk.doParking": "do the parking walk",
  "closure.close": "set it as for flight, and mark it",
};
