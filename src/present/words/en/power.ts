// Words of the reasons that power checks give.
import type { ReasonCode, RemedyCode } from "../../../core/facts/reason-codes.ts";
import { phrase, subject } from "../phrase.ts";
import { said, textOf } from "../told.ts";
import type { Said, Told } from "../told.ts";

export type PowerReason = Extract<ReasonCode, `power.${string}`>;
export type PowerRemedy = Extract<RemedyCode, `power.${string}`>;

const gauge = (told: Told): string => told.names.of("gauge", textOf(told, "gauge"));

export const powerReasons: Readonly<Record<PowerReason, (told: Told) => Said>> = {
  "power.checkMissing": (told) => said(phrase`${subject(gauge(told))} has not been recorded`),
  "power.checkBelow": (told) =>
    said(
      phrase`${subject(gauge(told))} is below zero`,
      `${textOf(told, "typed")} ${textOf(told, "unit")}: the engine does not give full power`,
    ),
};

export const powerRemedies: Readonly<Record<PowerRemedy, string>> = {
  "power.check": "do a power check and record its margin",
  "power.toEngineer": "an engineer looks for the lost power",
};
