// The other questions in flight: where else to land, whether a second patient goes and what has to stay for it, and how
// heavy the one may be whose mass nobody knows.
import { useMemo } from "react";
import type { BoardingPlace } from "../../core/reach/boarding-places.ts";
import { boardingPlaces } from "../../core/reach/boarding-places.ts";
import { assessCall, plannerOf } from "../../core/reach/assess-call.ts";
import type { Call, CallKnown } from "../../core/reach/call.ts";
import { boardAtScene, landingsFrom, reload, secondPatients } from "../../core/reach/in-flight.ts";
import { sitePlace } from "../../core/standing/call-desk.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Notice } from "../parts/notice.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useSnapshot } from "./app-context.tsx";
import { readIn, scaleOf, stepOf, toChosen } from "./call-units.ts";
import { boardingPlaceName, kitName } from "./call-view.ts";
import type { FlightSaid, Phase } from "./in-flight-view.ts";
import { marginName, roomText } from "./margin-words.ts";
import { useMarginTeller } from "./use-margin-teller.ts";

export type FaceProps = {
  readonly craft: CraftView;
  readonly known: CallKnown;
  /** What is left of the call from here. */
  readonly rest: Call;
  readonly phase: Phase;
  /** The fuel is what somebody read; otherwise what the plan has. */
  readonly isMeasured: boolean;
  readonly said: FlightSaid;
  readonly say: (part: Partial<FlightSaid>) => void;
};

function Basis({ craft, rest, isMeasured }: Pick<FaceProps, "craft" | "rest" | "isMeasured">) {
  const { words, amounts } = useMarginTeller(craft);
  const fuel = amounts.mass(rest.fuel_kg, "lower");
  return (
    <p className="small quiet">{isMeasured ? words.flight.withFuel(fuel) : words.flight.withPlanned(fuel)}</p>
  );
}

/** How many are shown: those beyond are further down in every way. */
const landingsShown = 8;

export function Divert({ craft, known, rest, phase, isMeasured }: FaceProps) {
  const teller = useMarginTeller(craft);
  const { words, amounts } = teller;
  const locale = useLocale();
  const { units } = useWords();
  const { now_ms } = useSnapshot();
  const found = useMemo(
    () => landingsFrom(known, rest, known.sites.map(sitePlace), phase.isThere),
    [known, rest, phase.isThere],
  );
  const fuelAt = new Set(known.sites.filter(({ fuel }) => fuel === true).map(({ id }) => id));
  return (
    <section>
      <h1 className="heading-small">{words.flight.divert}</h1>
      <Basis craft={craft} rest={rest} isMeasured={isMeasured} />
      <ul className="rows">
        {found.slice(0, landingsShown).map(({ place, answer }) => {
          const [binding] = answer.margins;
          const last = answer.stops.at(-1);
          return (
            <li key={place.site} className="flight-landing">
              <span>
                <b>{place.name}</b>
                {fuelAt.has(place.site ?? "") && <span className="small"> · {words.flight.hasFuel}</span>}
                <span className="reason-detail">
                  {words.verdict[answer.verdict]}.{" "}
                  {binding !== undefined &&
                    `${marginName(binding, answer.stops, teller)}: ${roomText(binding, teller)}`}
                </span>
              </span>
              <span className="flight-numbers mono">
                <span>{last?.arrive_ms == null ? "?" : timeSeenFrom(now_ms, last.arrive_ms, locale)}</span>
                <span>
                  {last?.fuelAtArrival_kg == null
                    ? "?"
                    : last.fuelAtArrival_kg < 0
                      ? words.noFuel
                      : `${amounts.bare(last.fuelAtArrival_kg, "mass", "lower")} ${units[amounts.units.mass]}`}
                </span>
              </span>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** Boarding is still to come only while the scene is the next stop. */
const isBeforeBoarding = (call: Call): boolean => call.stops[0]?.role === "scene";

export function Second({ craft, known, rest, isMeasured, said }: FaceProps) {
  const teller = useMarginTeller(craft);
  const { words, names, amounts, locale } = teller;
  const { language } = locale;
  const { flight: say } = words;
  const most_kg =
    said.second === null
      ? known.sheet.masses.patient_kg
      : readIn("patient_kg", said.second, amounts.units, language);
  const found = useMemo(
    () => (most_kg === null || !isBeforeBoarding(rest) ? [] : secondPatients(known, rest, most_kg)),
    [known, rest, most_kg],
  );
  if (!isBeforeBoarding(rest)) return <Notice title={say.onlyAtScene} />;
  if (most_kg === null) return <Notice title={say.typeMass} />;
  const [best] = found;
  const title =
    best === undefined
      ? say.noPlace
      : best.stays === null
        ? say.goesNot
        : best.stays.length === 0
          ? say.goes
          : say.goesWithout;
  return (
    <section aria-live="polite">
      <h1 className="verdict-words">{title}</h1>
      <Basis craft={craft} rest={rest} isMeasured={isMeasured} />
      <ul className="rows">
        {found.map(({ at, answer, stays }) => {
          const [binding] = answer.margins;
          return (
            <li key={at} className="flight-landing">
              <span>
                <b>{asTitle(boardingPlaceName(names, at), language)}</b>
                <span className="reason-detail">
                  {stays === null
                    ? words.verdict[answer.verdict]
                    : stays.length === 0
                      ? words.verdict[answer.verdict]
                      : say.stays(stays.map((kit) => kitName(craft, kit)).join(", "))}
                  {binding !== undefined &&
                    `. ${words.binds(marginName(binding, answer.stops, teller))}: ${roomText(binding, teller)}`}
                </span>
              </span>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** Places that nobody of the loading has, and nobody who was aboard before the scene. */
function loadablePlaces(known: CallKnown, call: Call): readonly BoardingPlace[] {
  const { loads } = plannerOf(known).prepare(call);
  const used = new Set([...loads.flatMap(({ load }) => load.taken), ...call.aboard.map(({ at }) => at)]);
  return boardingPlaces(known.sheet, known.state).filter(({ id }) => !used.has(id));
}

export function Reload(props: FaceProps) {
  const { craft, known, rest, isMeasured } = props;
  const { words } = useMarginTeller(craft);
  if (!isBeforeBoarding(rest)) return <Notice title={words.flight.onlyAtScene} />;
  return (
    <section>
      <h1 className="heading-small">{words.flight.reload}</h1>
      <p className="small">{words.flight.reloadHint}</p>
      <Basis craft={craft} rest={rest} isMeasured={isMeasured} />
      <ul className="rows">
        {loadablePlaces(known, rest).map((place) => (
          <ReloadPlace key={place.id} {...props} place={place} />
        ))}
      </ul>
    </section>
  );
}

function ReloadPlace({
  craft,
  known,
  rest,
  said,
  say,
  place,
}: FaceProps & { readonly place: BoardingPlace }) {
  const teller = useMarginTeller(craft);
  const { words, names, amounts, locale } = teller;
  const { language } = locale;
  const { units } = useWords();
  const weighed = loadablePlaces(known, rest).flatMap(({ id }) => {
    const most_kg = readIn("patient_kg", said.known[id] ?? "", amounts.units, language);
    return most_kg === null || id === place.id ? [] : [{ id: `known ${id}`, at: id, most_kg }];
  });
  const own_kg = readIn("patient_kg", said.known[place.id] ?? "", amounts.units, language);
  const key = JSON.stringify([weighed, own_kg]);
  const found = useMemo(
    () => {
      if (own_kg === null)
        return reload(known, rest, weighed, { id: "open", at: place.id, most_kg: place.most_kg });
      const all = [...weighed, { id: `known ${place.id}`, at: place.id, most_kg: own_kg }];
      const loaded = boardAtScene(
        rest,
        all.map((boarding) => ({ ...boarding, exact: true })),
      );
      return { answer: assessCall(known, loaded), upTo_kg: own_kg };
    },
    // What is weighed is made anew at every look: its text is what changes.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
    [known, rest, place.id, key],
  );
  const { answer, upTo_kg } = found;
  const [binding] = answer.margins;
  const hint =
    own_kg !== null
      ? words.verdict[answer.verdict]
      : upTo_kg === null
        ? `${words.flight.nobody}: ${words.verdict[answer.verdict]}`
        : words.flight.upTo(amounts.mass(upTo_kg, "lower"));
  return (
    <li className="flight-place">
      <Stepper
        label={asTitle(boardingPlaceName(names, place.id), language)}
        typed={said.known[place.id] ?? ""}
        onTyped={(text) => say({ known: { ...said.known, [place.id]: text } })}
        scale={scaleOf("patient_kg", amounts.units)}
        step={stepOf("patient_kg", amounts.units)}
        startAt={Math.round(toChosen(known.sheet.masses.patient_kg, "mass", amounts.units) / 5) * 5}
        unit={units[amounts.units.mass]}
        hint={
          <>
            <b>{hint}</b>
            {binding !== undefined &&
              `. ${words.binds(marginName(binding, answer.stops, teller))}: ${roomText(binding, teller)}`}
          </>
        }
      />
    </li>
  );
}
