import type { walk as english } from "../en/walk.ts";
import { plural } from "../plural.ts";

const items = (count: number) => plural("de", count, { one: "1 Punkt", other: `${count} Punkte` });
const things = (count: number) => plural("de", count, { one: "1 Sache", other: `${count} Sachen` });

export const walk: typeof english = {
  kind: {
    full: "Voller Rundgang",
    launch: "Startrundgang",
    parking: "Abstellrundgang",
  },
  things,
  mark: {
    good: "gut",
    blank: "noch nicht",
    finding: "Befund",
    notReached: "nicht erreicht",
  },
  doing: {
    good: "Gut",
    finding: "Befund",
    notReached: "Nicht erreicht",
    restOfStop: "Rest der Station",
    restOfStopLong: "Der Rest dieser Station ist gut",
    leaveStop: "Station verlassen",
    nextStop: "Nächste Station",
    finish: "Rundgang abschließen",
    begin: "Beginnen",
    callOut: "Alarm",
    resume: "Fortsetzen",
    closed: "Geschlossen",
    stillOpen: "Noch offen",
  },
  stopOf: (position, count) => `Station ${position} von ${count}`,
  itemOf: (position, count) => `${position} von ${count}`,
  access: { floor: "vom Boden", step: "vom Tritt", ladder: "von der Leiter", top: "von oben" },
  itemsLeft: (count) => `noch ${items(count)}`,
  thingsOpen: (count) => `${things(count)} offen`,
  aboutMinutes: (count) => `etwa ${count} min`,
  frozen: (left, open, about_min) => `noch ${items(left)}, ${things(open)} offen, etwa ${about_min} min`,
  openHere: "Hier offen",
  openStill: "Noch offen",
  drawing: {
    name: "Wo der Rundgang verläuft",
    places: "Das Luftfahrzeug, Stelle für Stelle",
    here: "hier",
    next: "als Nächstes",
    walked: "begangen",
    toCome: "noch vor dir",
    findings: (count) => plural("de", count, { one: "1 Befund", other: `${count} Befunde` }),
    open: (count) => plural("de", count, { one: "1 offen", other: `${count} offen` }),
    nose: "Bug",
    tail: "Heck",
    left: "links",
    right: "rechts",
  },
  withDetails: (name, details) => [name, ...details].join(", "),
};
