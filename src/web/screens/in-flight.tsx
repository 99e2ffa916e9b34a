// In flight, for one hand: fuel against the plan, landing elsewhere, a second patient, loading again at the scene. The answer
// stands above; what is pressed lies under the thumb. What was measured is typed or stepped to, never prefilled.
import { useDeferredValue, useMemo, useState } from "react";
import { displayNumber } from "../../core/quantity/display.ts";
import { assessCall } from "../../core/reach/assess-call.ts";
import type { Call, CallAnswer, CallKnown } from "../../core/reach/call.ts";
import { checkFuel } from "../../core/reach/in-flight.ts";
import type { CallWords } from "../../present/words/call-words.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView, SignRefusal } from "../device/model.ts";
import "../look/call.css";
import "../look/in-flight.css";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { type BigButton, TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { readIn, scaleOf, stepOf, toChosen, typedIn } from "./call-units.ts";
import { deskOf } from "./call-view.ts";
import { Frame } from "./frame.tsx";
import { Divert, Reload, Second } from "./in-flight-faces.tsx";
import type { FaceProps } from "./in-flight-faces.tsx";
import {
  flownCall,
  heldFlight,
  holdFlight,
  nextPhase,
  phaseAt,
  planInstant,
  plannedToGo,
  restOf,
} from "./in-flight-view.ts";
import type { FlightSaid, Phase } from "./in-flight-view.ts";
import { fuelText, marginName, roomText } from "./margin-words.ts";
import { useCallWords } from "./use-call-words.ts";
import { useMarginTeller } from "./use-margin-teller.ts";
import { useOfficeWords } from "./use-office-words.ts";

export function InFlightScreen({ craft }: { readonly craft: CraftView }) {
  const { app } = useWords();
  const { goTo } = useApp();
  const { words } = useMarginTeller(craft);
  const made = deskOf(craft);
  const flown = flownCall(craft.ledger, craft.state.calls);
  const name = `${craft.name} · ${app.screens.inFlight}`;
  if (made === null || flown === null)
    return (
      <Frame craft={craft} name={name} nameAs="h1">
        <Empty
          title={words.flight.none}
          action={
            <Button onPress={() => goTo({ screen: "call", craft: craft.ledger.replace("craft:", "") })}>
              {words.flight.toCall}
            </Button>
          }
        >
          {words.flight.noneHint}
        </Empty>
      </Frame>
    );
  return <Flying key={flown.kept.call} craft={craft} known={made.known} flown={flown} name={name} />;
}

const faces = ["fuel", "divert", "second", "reload"] as const;
type Face = (typeof faces)[number];

type FlyingProps = {
  readonly craft: CraftView;
  readonly known: CallKnown;
  readonly flown: NonNullable<ReturnType<typeof flownCall>>;
  readonly name: string;
};

function Flying({ craft, known, flown: { kept, call }, name }: FlyingProps) {
  const { now_ms } = useSnapshot();
  const teller = useMarginTeller(craft);
  const { words, amounts, locale } = teller;
  const { language } = locale;
  const { units } = useWords();
  const [face, setFace] = useState<Face>("fuel");
  const [held, setHeld] = useState(() => heldFlight(kept.call));
  const say = (part: Partial<FlightSaid>) => {
    const after = { ...held, ...part };
    holdFlight(kept.call, after);
    setHeld(after);
  };
  const plan = useMemo(() => assessCall(known, call), [known, call]);
  const minute_ms = Math.floor(now_ms / 60_000) * 60_000;
  const phase = held.phase ?? phaseAt(plan, minute_ms);
  const usualToGo = plannedToGo(plan, phase, minute_ms);
  const toGo_min = phase.isThere
    ? 0
    : (readIn("toGo_min", held.toGo ?? `${usualToGo}`, amounts.units, language) ?? usualToGo);
  const fuel_kg = readIn("fuel_kg", held.fuel, amounts.units, language);
  const planned_kg = plannedFuel(plan, phase, toGo_min);
  const rest = useMemo(
    () => {
      const fuel = fuel_kg ?? planned_kg;
      return fuel === null ? null : restOf(plan, phase, toGo_min, fuel, minute_ms);
    },
    // A phase is made anew at every look.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
    [plan, phase.stop, phase.isThere, toGo_min, fuel_kg, planned_kg, minute_ms],
  );
  const asked = useDeferredValue(rest);
  const next = stopName(call.stops[phase.stop]!, words);
  const faceProps: FaceProps | null =
    asked === null
      ? null
      : { craft, known, rest: asked, phase, isMeasured: fuel_kg !== null, said: held, say };
  return (
    <Frame
      craft={craft}
      name={name}
      foot={
        <section className="flight-foot" aria-label={words.flight.what}>
          <ChoiceRow
            name={words.flight.what}
            nameHidden
            width="even"
            choices={faces.map((value) => ({ value, label: words.flight.face[value] }))}
            value={face}
            onChoose={setFace}
          />
          {(face === "fuel" || face === "divert") && (
            <div className="flight-steppers">
              {!phase.isThere && (
                <Stepper
                  label={words.flight.toGo(next)}
                  typed={held.toGo ?? `${usualToGo}`}
                  onTyped={(toGo) => say({ toGo })}
                  scale={scaleOf("toGo_min", amounts.units)}
                  step={1}
                  startAt={usualToGo}
                  unit="min"
                />
              )}
              <Stepper
                label={words.flight.fuelNow}
                typed={held.fuel}
                onTyped={(fuel) => say({ fuel })}
                scale={scaleOf("fuel_kg", amounts.units)}
                step={stepOf("fuel_kg", amounts.units)}
                startAt={
                  planned_kg === null ? 0 : Math.round(toChosen(planned_kg, "mass", amounts.units) / 10) * 10
                }
                unit={units[amounts.units.mass]}
              />
            </div>
          )}
          {face === "second" && (
            <Stepper
              label={words.flight.secondMass}
              typed={
                held.second ?? typedIn("patient_kg", known.sheet.masses.patient_kg, amounts.units, language)
              }
              onTyped={(second) => say({ second })}
              scale={scaleOf("patient_kg", amounts.units)}
              step={stepOf("patient_kg", amounts.units)}
              startAt={toChosen(known.sheet.masses.patient_kg, "mass", amounts.units)}
              unit={units[amounts.units.mass]}
            />
          )}
          <FlightButtons
            craft={craft}
            call={kept.call}
            plan={plan}
            phase={phase}
            face={face}
            fuel={fuel_kg === null ? null : { fuel_kg, planned_kg, typed: held.fuel }}
            onPhase={(to) => say({ phase: to, toGo: null, fuel: "" })}
          />
        </section>
      }
    >
      <div className="flight-answer">
        <p className="flight-where">{phase.isThere ? words.flight.at(next) : words.flight.onTheWay(next)}</p>
        {rest === null && <Notice kind="problem" title={words.flight.noPlan} />}
        {face === "fuel" && asked !== null && (
          <FuelAnswer
            craft={craft}
            known={known}
            plan={plan}
            phase={phase}
            toGo_min={toGo_min}
            fuel_kg={fuel_kg}
            rest={asked}
          />
        )}
        {face === "divert" && faceProps !== null && <Divert {...faceProps} />}
        {face === "second" && faceProps !== null && <Second {...faceProps} />}
        {face === "reload" && faceProps !== null && <Reload {...faceProps} />}
        <Where plan={plan} phase={phase} onPhase={(to) => say({ phase: to, toGo: null })} />
      </div>
    </Frame>
  );
}

/** A scene that is no site is the scene: its coordinates say nothing to a thumb. */
function stopName({ place, role }: Call["stops"][number], words: CallWords): string {
  return role === "scene" && place.site === null ? words.flight.scene : place.name;
}

/** What the plan has on board so many minutes before the stop. */
function plannedFuel(plan: CallAnswer, phase: Phase, toGo_min: number): number | null {
  const leg = plan.legs[phase.stop];
  if (leg === undefined || leg.fuelAtEnd_kg === null || leg.fuel_kg === null || leg.time_min === null)
    return null;
  return leg.time_min === 0 ? leg.fuelAtEnd_kg : leg.fuelAtEnd_kg + (leg.fuel_kg * toGo_min) / leg.time_min;
}

type WhereProps = {
  readonly plan: CallAnswer;
  readonly phase: Phase;
  readonly onPhase: (phase: Phase) => void;
};

/** Where in the call it is; changed here where the clock and the buttons have it wrong. */
function Where({ plan, phase, onPhase }: WhereProps) {
  const all = useCallWords();
  const words = all.flight;
  const choices = plan.call.stops.flatMap((each, stop) => [
    { id: `${stop} way`, name: words.onTheWay(stopName(each, all)) },
    { id: `${stop} there`, name: words.at(stopName(each, all)) },
  ]);
  return (
    <Picker
      label={words.whereElse}
      choices={choices}
      value={`${phase.stop} ${phase.isThere ? "there" : "way"}`}
      onChoose={(id) => onPhase({ stop: Number(id.split(" ")[0]), isThere: id.endsWith("there") })}
    />
  );
}

type FuelProps = {
  readonly craft: CraftView;
  readonly known: CallKnown;
  readonly plan: CallAnswer;
  readonly phase: Phase;
  readonly toGo_min: number;
  readonly fuel_kg: number | null;
  readonly rest: NonNullable<ReturnType<typeof restOf>>;
};

function FuelAnswer({ craft, known, plan, phase, toGo_min, fuel_kg, rest }: FuelProps) {
  const teller = useMarginTeller(craft);
  const { words, amounts, locale } = teller;
  const { language } = locale;
  const { flight: say } = words;
  const { now_ms } = useSnapshot();
  const answer = useMemo(() => assessCall(known, rest), [known, rest]);
  const at_ms = planInstant(plan, phase, toGo_min);
  const check = fuel_kg === null || at_ms === null ? null : checkFuel(plan, at_ms, fuel_kg);
  const [binding] = answer.margins;
  const isKept = fuel_kg !== null && answer.isAcceptable === true && check?.actIsDue !== true;
  const title =
    fuel_kg === null
      ? say.typeFuel
      : check === null
        ? say.noPlan
        : check.actIsDue
          ? say.act
          : isKept
            ? say.kept
            : say.notKept;
  const least_kg = check?.least_kg ?? null;
  const left_kg = answer.fuel?.atLastLanding_kg ?? null;
  return (
    <>
      <div className="verdict" aria-live="assertive">
        <h1 className="verdict-words">{title}</h1>
        {check !== null && (
          <p className="verdict-then">
            {Math.abs(check.difference_kg) < 0.5
              ? say.asPlanned
              : check.difference_kg < 0
                ? say.lessThanPlan(amounts.mass(-check.difference_kg, "higher"))
                : say.moreThanPlan(amounts.mass(check.difference_kg, "lower"))}
          </p>
        )}
      </div>
      {check !== null && left_kg !== null && least_kg !== null && (
        <p className="flight-reserve">
          {left_kg >= least_kg
            ? say.aboveReserve(
                amounts.mass(left_kg - least_kg, "lower"),
                displayNumber(Math.max(0, answer.fuel?.spare_min ?? 0), 0, "lower", language),
              )
            : say.belowReserve(amounts.mass(least_kg - left_kg, "higher"))}
        </p>
      )}
      <table className="flight-table">
        <caption className="hidden-but-said">{say.table}</caption>
        <thead>
          <tr>
            <th scope="col">{say.place}</th>
            <th scope="col">{say.time}</th>
            <th scope="col">{say.plan}</th>
            <th scope="col">{say.now}</th>
          </tr>
        </thead>
        <tbody>
          {rest.stops.map((stop, index) => {
            const then = plan.stops[phase.stop + index + 1];
            const now = answer.stops[index + 1];
            const mass = (value: number | null | undefined) =>
              value == null ? "?" : fuelText(value, teller);
            return (
              // oxlint-disable-next-line react/no-array-index-key
              <tr key={`${stop.place.name} ${index}`}>
                <th scope="row">{stopName(stop, words)}</th>
                <td>{now?.arrive_ms == null ? "?" : timeSeenFrom(now_ms, now.arrive_ms, locale)}</td>
                <td>{mass(then?.fuelAtArrival_kg)}</td>
                <td>
                  <b>{fuel_kg === null ? "–" : mass(now?.fuelAtArrival_kg)}</b>
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {fuel_kg !== null && binding !== undefined && (
        <p className="small">
          {say.rest}: <b>{words.verdict[answer.verdict]}</b>.{" "}
          {words.binds(marginName(binding, answer.stops, teller))}: {roomText(binding, teller)}
        </p>
      )}
      <Checks craft={craft} />
    </>
  );
}

/** The checks of fuel that were recorded, the newest first. */
function Checks({ craft }: { readonly craft: CraftView }) {
  const { words, amounts, names } = useMarginTeller(craft);
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  const list = craft.state.fuelChecks.toReversed().slice(0, 4);
  if (list.length === 0) return null;
  return (
    <section>
      <h2 className="heading-small">{words.flight.checks}</h2>
      <ul className="rows">
        {list.map(({ entry, by, at_ms, actual_kg, planned_kg }) => (
          <li key={entry} className="call-then">
            <span>
              {timeSeenFrom(now_ms, at_ms, locale)}, {names.person(by)}
            </span>
            <span className="mono small">{amounts.mass(actual_kg, "lower")}</span>
            <span className="mono small quiet">
              {planned_kg === null ? "" : words.flight.planned(amounts.mass(planned_kg, "lower"))}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

type ButtonsProps = {
  readonly craft: CraftView;
  readonly call: string;
  readonly plan: CallAnswer;
  readonly phase: Phase;
  readonly face: Face;
  readonly fuel: {
    readonly fuel_kg: number;
    readonly planned_kg: number | null;
    readonly typed: string;
  } | null;
  readonly onPhase: (phase: Phase) => void;
};

/** On to the next part of the call; and, where fuel was measured, its record. */
function FlightButtons({ craft, call, plan, phase, face, fuel, onPhase }: ButtonsProps) {
  const { device } = useApp();
  const all = useCallWords();
  const words = all.flight;
  const { office } = useOfficeWords();
  const [refused, setRefused] = useState<SignRefusal | null>(null);
  const [recorded, setRecorded] = useState<string | null>(null);
  const next = nextPhase(phase, plan);
  const place = stopName(plan.call.stops[phase.stop]!, all);
  const key = JSON.stringify([phase, fuel]);
  const record = async () => {
    if (fuel === null) return;
    const { fuel_kg, planned_kg, typed } = fuel;
    const body = { call, planned_kg, actual_kg: fuel_kg, typed };
    const refusal = await device.sign(craft.ledger, "fuel.checked", body);
    setRefused(refusal);
    if (refusal === null) setRecorded(key);
  };
  const onward: BigButton = {
    children: phase.isThere ? words.leave(place) : words.landed(place),
    onPress: () => {
      if (next !== null) onPhase(next);
    },
    ...(next === null ? { why: words.over } : {}),
  };
  return (
    <>
      {refused !== null && (
        <Notice
          title={office.refused(refused.code, refused.path, refused.found, refused.wanted)}
          kind="problem"
        />
      )}
      {face === "fuel" ? (
        <TwoButtons
          left={onward}
          right={{
            children: words.record,
            ...(recorded === key ? { note: words.recorded } : {}),
            ...(fuel === null ? { why: words.typeFuel } : {}),
            onPress: () => void record(),
          }}
        />
      ) : (
        <TwoButtons right={onward} />
      )}
    </>
  );
}
