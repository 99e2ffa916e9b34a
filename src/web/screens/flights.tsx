// The flight log of one machine: counters with where they are from, the hour meter beside them, flights newest first, what
// is under way, and what a flight asks besides: the risk worksheet, sea and suits.
import { Fragment, useState } from "react";
import { countersNow } from "../../core/due/counters.ts";
import { meterTolerance } from "../../core/due/assess-flights.ts";
import { hourMeterOf, meterRead } from "../../core/due/hour-meter.ts";
import type { FlightFact } from "../../core/facts/craft.ts";
import { counterNames } from "../../core/facts/due.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { reasonWords } from "../../present/reasons.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { timeOfDay, timeSeenFrom } from "../../present/words/formats.ts";
import { phraseText } from "../../present/words/phrase.ts";
import type { OfficeWords } from "../../present/words/office-words.ts";
import type { Locale } from "../../present/words/language.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { Table } from "../parts/table.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { FlightAsks } from "./flight-asks.tsx";
import { FlightForm } from "./flight-form.tsx";
import { Frame } from "./frame.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";

type CraftProps = { readonly craft: CraftView };
type Doing = "log" | "begin" | "meter" | null;
const shown = 30;

export function FlightsScreen({ craft }: CraftProps) {
  const { flights: words } = useOfficeWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [doing, setDoing] = useState<Doing>(null);
  const close = () => setDoing(null);
  const reasons = craft.standing.reasons.filter(
    ({ code, effect }) =>
      (code.startsWith("flight.") && effect !== "advises") || code === "due.flightsOverlap",
  );
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${words.title}`}
      nameAs="h1"
      foot={
        <TwoButtons
          left={{ children: words.tookOff, onPress: () => setDoing("begin") }}
          right={{ children: words.log, onPress: () => setDoing("log") }}
        />
      }
    >
      <div className="stack-wide">
        <div className="columns">
          <div className="stack-wide">
            {reasons.map((reason) => {
              const { title, detail } = reasonWords({ reason, names, locale, now_ms });
              return (
                <Notice key={reason.code + reason.evidence.join("")} title={phraseText(title)}>
                  <p className="small">{detail}</p>
                </Notice>
              );
            })}
            <Underway craft={craft} />
            <Totals craft={craft} onRead={() => setDoing("meter")} />
          </div>
          <div className="stack-wide">
            <FlightAsks craft={craft} />
          </div>
        </div>
        <Logged craft={craft} />
      </div>
      <Sheet title={words.log} open={doing === "log"} onClose={close}>
        <FlightForm craft={craft} onDone={close} corrects={null} />
      </Sheet>
      <Sheet title={words.tookOff} open={doing === "begin"} onClose={close}>
        <Begin craft={craft} onDone={close} />
      </Sheet>
      <Sheet title={words.readMeter} open={doing === "meter"} onClose={close}>
        <ReadMeter craft={craft} onDone={close} />
      </Sheet>
    </Frame>
  );
}

function Underway({ craft }: CraftProps) {
  const { device } = useApp();
  const { flights: words } = useOfficeWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [dropping, setDropping] = useState<string | null>(null);
  const [why, setWhy] = useState("");
  return (
    <>
      {craft.state.underway.map(({ flight, off_ms, crew }) => (
        <section key={flight} className="stack">
          <p>
            <b>
              {words.underway(
                timeSeenFrom(now_ms, off_ms, locale),
                crew.map((person) => names.person(person)).join(", "),
              )}
            </b>
          </p>
          <Button onPress={() => setDropping(flight)}>{words.drop}</Button>
        </section>
      ))}
      <Sheet title={words.drop} open={dropping !== null} onClose={() => setDropping(null)}>
        <Field label={words.why} value={why} onChange={setWhy} lines="many" />
        <SignFoot
          label={words.drop}
          why={why.trim() === "" ? words.needsWhy : null}
          onSign={() => device.sign(craft.ledger, "flight.dropped", { flight: dropping, why: why.trim() })}
          onDone={() => setDropping(null)}
        />
      </Sheet>
    </>
  );
}

function Totals({ craft, onRead }: CraftProps & { readonly onRead: () => void }) {
  const { flights: words, office } = useOfficeWords();
  const { now_ms, operator } = useSnapshot();
  const locale = useLocale();
  const { sheet, state } = craft;
  const counters = countersNow(state);
  const [base] = state.due.bases.toSorted((a, b) => b.at_ms - a.at_ms);
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  const figure = (value: number) =>
    displayNumber(value, Number.isInteger(value) ? 0 : 1, "both", locale.language);
  const latest =
    sheet === null ? null : meterRead(sheet, state, meterTolerance(operator.state.flightRules))?.latest;
  return (
    <section className="stack">
      <h2 className="heading-small">{words.totals}</h2>
      {counters === null || base === undefined ? (
        <p>{words.noBalance}</p>
      ) : (
        <>
          <dl className="facts">
            {counterNames.map((name) => {
              const value = counters[name];
              return (
                <Fragment key={name}>
                  <dt>{office.counters[name]}</dt>
                  <dd className="mono">{value === null ? words.notKnown : figure(value)}</dd>
                </Fragment>
              );
            })}
            <dt>{words.meter}</dt>
            <dd className="mono">
              {latest == null
                ? words.meterNever
                : words.meterRead(figure(latest.reading.value), time(latest.reading.at_ms))}
            </dd>
          </dl>
          <p className="small quiet">
            {words.totalsBy(time(base.at_ms))}
            {latest?.counted == null ? "" : `; ${words.meterCounted(figure(latest.counted))}`}
          </p>
        </>
      )}
      <Button onPress={onRead}>{words.readMeter}</Button>
    </section>
  );
}

function ReadMeter({ craft, onDone }: CraftProps & { readonly onDone: () => void }) {
  const { device } = useApp();
  const { flights: words } = useOfficeWords();
  const { language } = useLocale();
  const [typed, setTyped] = useState("");
  const meter = craft.sheet === null ? undefined : hourMeterOf(craft.sheet);
  const scale = { decimals: 2, lowest: 0, highest: meter?.plausible.high ?? 100_000 };
  const { value, issue } = readTypedNumber(typed, scale, language);
  const save = async () => {
    if (meter === undefined || value === null) return null;
    await device.read(craft.ledger, meter.id, { value, unit: "h", typed, conditions: {} });
    return null;
  };
  return (
    <div className="stack">
      <Stepper
        label={words.meterValue}
        typed={typed}
        onTyped={setTyped}
        scale={scale}
        step={meter?.step ?? 0.1}
        startAt={0}
        unit="h"
      />
      <SignFoot
        label={words.saveMeter}
        why={value === null || issue !== null ? words.meterValue : null}
        onSign={save}
        onDone={onDone}
      />
    </div>
  );
}

function Begin({ craft, onDone }: CraftProps & { readonly onDone: () => void }) {
  const { device } = useApp();
  const { flights: words } = useOfficeWords();
  const { duty } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [operation, setOperation] = useState<string | null>(null);
  const crew = [
    ...new Set(
      craft.state.shifts
        .filter(({ from_ms, until_ms }) => from_ms <= now_ms && now_ms < until_ms)
        .flatMap(({ people }) => people.map(({ person }) => person)),
    ),
  ];
  return (
    <div className="stack">
      <p className="small quiet">{words.tookOffNote}</p>
      <Picker
        label={duty.flight.operation}
        choices={(craft.sheet?.operations ?? []).map(({ id, name }) => ({ id, name: name[locale.language] }))}
        value={operation}
        onChoose={setOperation}
      />
      <p className="small quiet">
        {duty.flight.crewOf(crew.map((person) => names.person(person)).join(", "))}
      </p>
      <SignFoot
        label={words.tookOff}
        why={crew.length === 0 ? duty.flight.needsCrew : operation === null ? duty.flight.operation : null}
        onSign={() => device.beginFlight(craft.ledger, operation ?? "", crew)}
        onDone={onDone}
      />
    </div>
  );
}

type Choose = (flight: FlightFact, to: "correct" | "withdraw") => void;

/** From when until when, broken between both at most. */
function whenFlown({ off_ms, on_ms }: FlightFact, now_ms: number, locale: Locale) {
  return (
    <>
      <span className="unbroken">{timeSeenFrom(now_ms, off_ms, locale)}</span>{" "}
      <span className="unbroken">– {timeOfDay(on_ms, locale)}</span>
    </>
  );
}

function rowButtons(flight: FlightFact, choose: Choose, words: OfficeWords["flights"]) {
  return (
    <div className="table-buttons">
      <Button look="plain" onPress={() => choose(flight, "correct")}>
        {words.correct}
      </Button>
      <Button look="plain" onPress={() => choose(flight, "withdraw")}>
        {words.withdraw}
      </Button>
    </div>
  );
}

function Logged({ craft }: CraftProps) {
  const { flights: words } = useOfficeWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [chosen, setChosen] = useState<FlightFact | null>(null);
  const [how, setHow] = useState<"correct" | "withdraw">("correct");
  const rows = craft.state.flights.toSorted((a, b) => b.on_ms - a.on_ms).slice(0, shown);
  if (rows.length === 0) return <Empty title={words.none}>{words.noneBody}</Empty>;
  const told = (value: number | null) => (value === null ? "–" : String(value));
  const notes = ({ legs, exceedance }: FlightFact) =>
    [
      ...(legs > 1 ? [words.series(String(legs))] : []),
      ...(exceedance === "said" ? [words.exceeded] : []),
      ...(exceedance === null ? [words.unasked] : []),
    ].join(", ");
  const choose: Choose = (flight, to) => {
    setChosen(flight);
    setHow(to);
  };
  return (
    <section>
      <Table
        caption={words.newest}
        rows={rows}
        rowId={({ entry }) => entry}
        columns={[
          {
            id: "when",
            head: words.row.when,
            kind: "name",
            cell: (flight) => whenFlown(flight, now_ms, locale),
          },
          {
            id: "hours",
            head: words.row.hours,
            kind: "number",
            cell: ({ flight_h }) => displayNumber(flight_h, 1, "both", locale.language),
          },
          { id: "landings", head: words.row.landings, kind: "number", cell: ({ landings }) => landings },
          { id: "starts", head: words.row.starts, kind: "number", cell: ({ starts }) => told(starts) },
          { id: "hoist", head: words.row.hoist, kind: "number", cell: ({ hoistCycles }) => hoistCycles },
          {
            id: "kind",
            head: `${words.row.kind}, ${words.row.crew}`,
            cell: (flight) =>
              [
                names.of("operation", flight.operation),
                notes(flight),
                flight.crew.map((person) => names.person(person)).join(", "),
              ]
                .filter(Boolean)
                .join(", "),
          },
          {
            id: "more",
            head: words.row.more,
            cell: (flight) => rowButtons(flight, choose, words),
          },
        ]}
      />
      <Sheet
        title={how === "correct" ? words.corrected : words.withdraw}
        open={chosen !== null}
        onClose={() => setChosen(null)}
      >
        {chosen !== null &&
          (how === "correct" ? (
            <FlightForm craft={craft} corrects={chosen} onDone={() => setChosen(null)} />
          ) : (
            <Withdraw craft={craft} flight={chosen} onDone={() => setChosen(null)} />
          ))}
      </Sheet>
    </section>
  );
}

type WithdrawProps = CraftProps & { readonly flight: FlightFact; readonly onDone: () => void };

function Withdraw({ craft, flight, onDone }: WithdrawProps) {
  const { device } = useApp();
  const { flights: words } = useOfficeWords();
  const [why, setWhy] = useState("");
  return (
    <div className="stack">
      <p className="small quiet">{words.withdrawNote}</p>
      <Field label={words.why} value={why} onChange={setWhy} lines="many" />
      <SignFoot
        label={words.withdraw}
        why={why.trim() === "" ? words.needsWhy : null}
        onSign={() => device.correctFlight(craft.ledger, flight.entry, null, why.trim())}
        onDone={onDone}
      />
    </div>
  );
}
