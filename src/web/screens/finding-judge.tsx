// Judging a finding: the four outcomes, each open to whom the sheet's band gives it; a watched one with when it is measured
// again, a deferred one with its entry of the operator's list, by number or chosen.
import { useState } from "react";
import { startOfDate } from "../../core/facts/calendar.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { outcomes } from "../../core/facts/craft.ts";
import type { MeasureAgain, Outcome } from "../../core/facts/craft.ts";
import { againOf, bandOf } from "../../core/finding/bands.ts";
import { type JudgingRole, whyNotJudge } from "../../core/finding/judgement.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Picker } from "../parts/picker.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { DateField, dateOf } from "./date-field.tsx";
import { DeferralInWords } from "./deferral-in-words.tsx";
import type { ActProps } from "./finding-act.tsx";
import { againText } from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";
import { useOfficeWords } from "./use-office-words.ts";

/** The entry that was named, by its number as the list writes it. */
function deferralNamed(sheet: Sheet | null, typed: string) {
  const wanted = typed.trim().toLowerCase();
  return sheet?.deferrals.find(({ number }) => number.toLowerCase() === wanted) ?? null;
}

export function Judge({ craft, finding, role, onDone, onClose }: ActProps & { readonly role: JudgingRole }) {
  const { device } = useApp();
  const { finding: common } = useWords();
  const words = useFindingsWords();
  const { language } = useLocale();
  const { sheet } = craft;
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const [number, setNumber] = useState("");
  const [days, setDays] = useState("");
  const [hours, setHours] = useState("");
  const [said, setSaid] = useState("");
  const [first, setFirst] = useState("");
  const { deferral: deferring, office } = useOfficeWords();
  const { zone } = useSnapshot();
  const firstOn = dateOf(first);
  const listed = deferralNamed(sheet, number);
  const again = readAgain(days, hours, language);
  const found = bandOf(sheet, finding);
  const ofBand = found.kind === "band" ? againOf(found.band) : null;
  const why = whatIsMissing();

  function whatIsMissing(): string | undefined {
    if (outcome === null) return words.act.needsOutcome;
    if (outcome === "defer") {
      if (listed === null) return words.act.needsDeferral;
      const not = whyNotJudge(sheet, finding, role, outcome, listed.id);
      if (not !== null) return words.whyNot[not];
      return first.trim() !== "" && firstOn === null ? office.noDate(first) : undefined;
    }
    if (outcome !== "watch") return undefined;
    if (again === "unread") return words.act.needsAgain;
    if (again === null) return ofBand === null ? words.act.needsAgain : undefined;
    return isLater(again, ofBand) ? words.act.againNotLater : undefined;
  }

  const save = async () => {
    if (outcome === null || again === "unread") return;
    await device.judgeFinding(craft.ledger, finding.finding, {
      outcome,
      role,
      words: said.trim(),
      deferral: outcome === "defer" ? (listed?.id ?? null) : null,
      again: outcome === "watch" ? (again ?? ofBand) : null,
    });
    if (outcome === "defer" && firstOn !== null)
      await device.sign(craft.ledger, "deferral.reEntered", {
        finding: finding.finding,
        firstRecorded: msToInstant(startOfDate(firstOn, zone)),
        words: said.trim() === "" ? deferring.first : said.trim(),
      });
    onDone();
    onClose();
  };

  return (
    <section className="stack">
      <ChoiceRow
        name={words.act.howJudge}
        width="long"
        choices={outcomes.map((value) => {
          const not = whyNotJudge(sheet, finding, role, value);
          return {
            value,
            label: common.outcome[value],
            note: not === null ? common.outcomeMeans[value] : words.whyNot[not],
            disabled: not !== null,
          };
        })}
        value={outcome}
        onChoose={setOutcome}
      />
      {outcome === "defer" && (
        <DeferTo
          craft={craft}
          number={number}
          isUnknown={number.trim() !== "" && listed === null}
          onNumber={setNumber}
        />
      )}
      {outcome === "defer" && listed !== null && (
        <>
          <DeferralInWords craft={craft} finding={finding} deferral={listed.id} />
          <DateField label={deferring.first} value={first} onChange={setFirst} />
        </>
      )}
      {outcome === "watch" && (
        <>
          <p className="small quiet">
            {ofBand === null ? words.act.againFree : words.act.againHint(againText(ofBand, words, language))}
          </p>
          <Field label={words.act.againDays} value={days} onChange={setDays} inputMode="numeric" />
          <Field label={words.act.againHours} value={hours} onChange={setHours} inputMode="decimal" />
        </>
      )}
      <Field label={common.words} value={said} onChange={setSaid} lines="many" />
      <Button look="filled" onPress={() => void save()} {...(why === undefined ? {} : { why })}>
        {words.act.record}
      </Button>
    </section>
  );
}

type DeferToProps = Pick<ActProps, "craft"> & {
  readonly number: string;
  readonly isUnknown: boolean;
  readonly onNumber: (number: string) => void;
};

function DeferTo({ craft, number, isUnknown, onNumber }: DeferToProps) {
  const words = useFindingsWords();
  const names = useNames(craft);
  const deferrals = craft.sheet?.deferrals ?? [];
  return (
    <>
      <Field
        label={words.act.deferTo}
        value={number}
        onChange={onNumber}
        hint={words.act.deferHint}
        issue={isUnknown ? words.issue.itemUnknown(number.trim()) : null}
      />
      <Picker
        label={words.act.deferList}
        choices={deferrals.map((one) => ({
          id: one.number,
          name: `${one.number} ${names.title("deferral", one.id)}`,
        }))}
        value={deferrals.some((one) => one.number === number) ? number : null}
        onChoose={onNumber}
      />
    </>
  );
}

/** Terms as typed; null where both are empty. */
function readAgain(days: string, hours: string, language: "en" | "de"): MeasureAgain | null | "unread" {
  const day = readTypedNumber(days, { decimals: 0, lowest: 1, highest: 400 }, language);
  const hour = readTypedNumber(hours, { decimals: 1, lowest: 0.1, highest: 1_000 }, language);
  if (day.issue !== null || hour.issue !== null) return "unread";
  return day.value === null && hour.value === null ? null : { days: day.value, flight_h: hour.value };
}

function isLater(stated: MeasureAgain, ofBand: MeasureAgain | null): boolean {
  const over = (one: number | null, most: number | null) => one !== null && most !== null && one > most;
  return ofBand !== null && (over(stated.days, ofBand.days) || over(stated.flight_h, ofBand.flight_h));
}
