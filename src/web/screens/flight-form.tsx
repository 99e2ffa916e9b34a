// A flight drafted from what the record knows: what is known stands with its source, every other figure is asked, none is
// taken as nought. A series until back at the base may be logged as one, unless it would pass a limit of what runs out.
import { useState } from "react";
import { flightDraft } from "../../core/due/flight-draft.ts";
import { passedBy } from "../../core/due/planned-use.ts";
import { latestInstantOfTime } from "../../core/facts/calendar.ts";
import type { FlightFact } from "../../core/facts/craft.ts";
import { hour_ms, minute_ms } from "../../core/facts/instant.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { timePassed, timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView, NewFlight } from "../device/model.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { matterName } from "./matter-name.ts";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";

const figures = ["landings", "nightLandings", "starts", "hoistCycles", "nightHoist", "instrument"] as const;
type Figure = (typeof figures)[number];
const whole = { decimals: 0, lowest: 0, highest: 1000 } as const;
const tenths = { decimals: 2, lowest: 0, highest: 24 } as const;
const unlisted = "unlisted";

type FlightFormProps = {
  readonly craft: CraftView;
  readonly onDone: () => void;
  /** The flight that this one takes the place of; null for a new one. */
  readonly corrects: FlightFact | null;
};

export function FlightForm({ craft, onDone, corrects }: FlightFormProps) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const { duty } = useWords();
  const { flights: log } = useOfficeWords();
  const locale = useLocale();
  const names = useNames(craft);
  const words = duty.flight;
  const { sheet, state } = craft;
  const [off, setOff] = useState("");
  const [on, setOn] = useState("");
  const [typed, setTyped] = useState<Readonly<Partial<Record<Figure, string>>>>({});
  const [legsTyped, setLegs] = useState("1");
  const [airborne, setAirborne] = useState("");
  const [nvis, setNvis] = useState<"yes" | "no" | null>(null);
  const [operation, setOperation] = useState<string | null>(null);
  const [exceeded, setExceeded] = useState<"no" | "yes" | null>(null);
  const [event, setEvent] = useState<string | null>(null);
  const [eventWords, setEventWords] = useState("");
  const [why, setWhy] = useState("");
  if (sheet === null) return null;

  const draft = corrects === null ? flightDraft(sheet, state, now_ms) : null;
  const begun = draft?.begun ?? null;
  const on_ms = latestInstantOfTime(on, now_ms, zone);
  const off_ms =
    draft?.off_ms?.value ?? (on_ms === null ? null : latestInstantOfTime(off, on_ms - minute_ms, zone));
  const crew = corrects?.crew ?? draft?.crew?.value ?? [];
  const flown = operation ?? draft?.operation?.value ?? null;
  const noHoist = draft?.hoistCycles !== null && draft?.hoistCycles !== undefined;
  const asked = figures.filter(
    (figure) => !(noHoist && (figure === "hoistCycles" || figure === "nightHoist")),
  );
  const numberOf = (figure: Figure): number | null =>
    asked.includes(figure) ? readTypedNumber(typed[figure] ?? "", whole, locale.language).value : 0;
  const [landings, nightLandings, starts, hoistCycles, nightHoist, instrument] = figures.map(numberOf);
  const legs = readTypedNumber(legsTyped, whole, locale.language).value;
  const lasted_h = off_ms === null || on_ms === null ? null : (on_ms - off_ms) / hour_ms;
  const stated_h = readTypedNumber(airborne, tenths, locale.language).value;
  const flight_h = legs === 1 ? lasted_h : stated_h;
  const exceedance =
    exceeded === "no"
      ? "none"
      : exceeded === "yes" && event !== null && eventWords.trim() !== ""
        ? { event: event === unlisted ? null : event, words: eventWords.trim() }
        : null;
  const isStated =
    landings != null &&
    nightLandings != null &&
    starts != null &&
    hoistCycles != null &&
    nightHoist != null &&
    instrument != null &&
    nvis !== null;
  const used = {
    flightHours_h: flight_h ?? 0,
    landings: landings ?? 0,
    starts: starts ?? 0,
    hoistCycles: hoistCycles ?? 0,
  };
  const passes = corrects === null && flight_h !== null ? passedBy(sheet, state, used) : [];
  const [first] = passes;
  const left =
    first === undefined ? "" : displayNumber(Math.max(0, first.left ?? 0), 1, "lower", locale.language);
  const mustSplit = first !== undefined && legs !== null && legs > 1;
  const missing =
    crew.length === 0
      ? words.needsCrew
      : off_ms === null || on_ms === null
        ? words.needsTimes
        : legs === null || legs < 1 || flight_h === null
          ? log.needsLegs
          : !isStated || flown === null
            ? words.needsAll
            : exceeded === null
              ? log.needsExceedance
              : exceedance === null
                ? log.needsEvent
                : corrects !== null && why.trim() === ""
                  ? log.needsWhy
                  : mustSplit
                    ? log.split(matterName(first.facts, names), left)
                    : null;
  const save = () => {
    const flight: NewFlight = {
      flight: begun?.flight ?? null,
      off_ms: off_ms ?? 0,
      on_ms: on_ms ?? 0,
      flight_h: Number((flight_h ?? 0).toFixed(4)),
      legs: legs ?? 1,
      landings: landings ?? 0,
      nightLandings: nightLandings ?? 0,
      starts: starts ?? 0,
      hoistCycles: hoistCycles ?? 0,
      nightHoistCycles: nightHoist ?? 0,
      instrument_min: instrument ?? 0,
      nvis: nvis === "yes",
      exceedance,
      operation: flown ?? "",
      crew: [...crew],
    };
    return corrects === null
      ? device.logFlight(craft.ledger, flight)
      : device.correctFlight(craft.ledger, corrects.entry, flight, why.trim());
  };
  const issue = (time: string, at_ms: number | null): string | null =>
    time === "" || at_ms !== null || time.length < 5 ? null : words.noTime(time);
  const labels = { ...words, nightHoist: log.nightHoist };
  return (
    <div className="stack">
      {draft !== null && (begun !== null || noHoist || draft.meter_h !== null || crew.length > 0) && (
        <section>
          <h3 className="heading-small">{log.known}</h3>
          <ul className="small">
            {begun !== null && (
              <li>
                {words.off} {timeSeenFrom(now_ms, begun.off_ms, locale)},{" "}
                {names.of("operation", begun.operation)}, {log.from.begun}
              </li>
            )}
            {crew.length > 0 && (
              <li>
                {words.crewOf(crew.map((person) => names.person(person)).join(", "))},{" "}
                {log.from[draft.crew?.from ?? "shift"]}
              </li>
            )}
            {noHoist && (
              <li>
                {words.hoistCycles} 0, {log.from.notInstalled}
              </li>
            )}
            {draft.meter_h !== null && (
              <li>{log.meterSays(displayNumber(draft.meter_h.value, 1, "both", locale.language))}</li>
            )}
          </ul>
        </section>
      )}
      <h3 className="heading-small">{log.asked}</h3>
      {begun === null && (
        <Field
          label={words.off}
          value={off}
          onChange={setOff}
          hint={words.timeHint}
          issue={issue(off, off_ms)}
        />
      )}
      <Field label={words.on} value={on} onChange={setOn} issue={issue(on, on_ms)} />
      <Stepper
        label={log.legs}
        typed={legsTyped}
        onTyped={setLegs}
        scale={{ decimals: 0, lowest: 1, highest: 20 }}
        step={1}
        startAt={1}
        unit=""
        hint={log.legsHint}
      />
      {legs === 1 && lasted_h !== null && <p>{words.lasted(timePassed(lasted_h * hour_ms, locale))}</p>}
      {legs !== null && legs > 1 && (
        <Stepper
          label={log.hours}
          typed={airborne}
          onTyped={setAirborne}
          scale={tenths}
          step={0.1}
          startAt={1}
          unit="h"
          hint={log.hoursHint}
        />
      )}
      {asked.map((figure) => (
        <Stepper
          key={figure}
          label={labels[figure]}
          typed={typed[figure] ?? ""}
          onTyped={(text) => setTyped((held) => ({ ...held, [figure]: text }))}
          scale={whole}
          step={1}
          startAt={figure === "landings" ? 1 : 0}
          unit=""
        />
      ))}
      <ChoiceRow
        name={words.nvis}
        choices={[
          { value: "yes", label: words.yes },
          { value: "no", label: words.no },
        ]}
        value={nvis}
        onChoose={setNvis}
      />
      {begun === null && (
        <Picker
          label={words.operation}
          choices={sheet.operations.map(({ id, name }) => ({ id, name: name[locale.language] }))}
          value={operation}
          onChoose={setOperation}
        />
      )}
      <ChoiceRow
        name={log.exceedance}
        choices={[
          { value: "no", label: log.exceededNo },
          { value: "yes", label: log.exceededYes },
        ]}
        value={exceeded}
        onChoose={setExceeded}
      />
      {exceeded === "yes" && (
        <>
          <Picker
            label={log.event}
            choices={[
              ...sheet.events.map(({ id, name }) => ({ id, name: name[locale.language] })),
              { id: unlisted, name: log.unlisted },
            ]}
            value={event}
            onChoose={setEvent}
          />
          <Field label={log.eventWords} value={eventWords} onChange={setEventWords} lines="many" />
        </>
      )}
      {corrects !== null && <Field label={log.why} value={why} onChange={setWhy} lines="many" />}
      {first !== undefined && !mustSplit && (
        <Notice title={log.passes(matterName(first.facts, names), left)} />
      )}
      <SignFoot label={words.save} why={missing} onSign={save} onDone={onDone} />
    </div>
  );
}
