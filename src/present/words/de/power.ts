// Words of the reasons that power checks give.
import { phrase, subject } from "../phrase.ts";
import { said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";
import type { PowerReason, PowerRemedy } from "../en/power.ts";

const gauge = (told: Told): string => told.names.of("gauge", textOf(told, "gauge"));

export const powerReasons: Readonly<Record<PowerReason, (told: Told) => Said>> = {
  "power.checkMissing": (told) => said(phrase`${subject(gauge(told))} ist nicht eingetragen`),
  "power.checkBelow": (told) =>
    said(
      phrase`${subject(gauge(told))} liegt unter null`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}: das Triebwerk gibt nicht die volle Leistung`,
    ),
};

export const powerRemedies: Readonly<Record<PowerRemedy, string>> = {
  "power.check": "Leistungsprüfung machen und Reserve eintragen",
  "power.toEngineer": "ein Techniker sucht die fehlende Leistung",
};
