import type { entry as english } from "../en/entry.ts";
import { plural } from "../plural.ts";

export const entry: typeof english = {
  less: (what, step) => `${what}, ${step} weniger`,
  more: (what, step) => `${what}, ${step} mehr`,
  lastValue: (value, when) => `zuletzt ${value}, ${when}`,
  issue: {
    empty: "Noch nichts eingegeben",
    notANumber: (typed) => `„${typed}“ ist keine Zahl`,
    ambiguous: (typed, grouped, decimal) =>
      `„${typed}“ kann ${grouped} oder ${String(decimal).replace(".", ",")} heißen. Schreib, was du meinst.`,
    tooManyDecimals: (decimals) =>
      plural("de", decimals, {
        one: "Höchstens 1 Nachkommastelle",
        other: decimals === 0 ? "Nur ganze Zahlen" : `Höchstens ${decimals} Nachkommastellen`,
      }),
    below: (lowest) => `Unter dem kleinsten ablesbaren Wert, ${lowest}`,
    above: (highest) => `Über dem größten ablesbaren Wert, ${highest}`,
  },
  pin: {
    name: "PIN",
    entered: (count) => plural("de", count, { one: "1 Ziffer", other: `${count} Ziffern` }),
    delete: "Letzte Ziffer löschen",
    deleteShort: "Löschen",
    enter: "Weiter",
    wrong: "Diese PIN passt nicht",
    locked: (span) => `Zu viele Versuche. Wieder in ${span}.`,
  },
  person: {
    name: "Wer bist du?",
    none: "Auf diesem Gerät ist niemand angemeldet",
  },
  role: {
    pilot: "Pilotin oder Pilot",
    crewMember: "technisches Besatzungsmitglied",
    engineer: "Technik",
    airworthiness: "Lufttüchtigkeitsbüro",
    administrator: "Verwaltung",
  },
};
