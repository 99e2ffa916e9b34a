// Loading: today's load put together on the aircraft itself, and what it comes to, at once. Nothing counts until it is
// said; what was said is one fact that names what it takes the place of.
import { useMemo, useState } from "react";
import { dateAt, endOfDayAt } from "../../core/facts/calendar.ts";
import { own } from "../../core/facts/own.ts";
import { loadedCraft, standingWeighings } from "../../core/load/assess.ts";
import { type Flight, fuelLineOf } from "../../core/load/from-sheet.ts";
import { emptyMassNow, type FlightJudgement, kitAboard } from "../../core/load/judge-loading.ts";
import type { LoadedCraft } from "../../core/load/judge-loading.ts";
import { sectionsAt } from "../../core/load/outline.ts";
import { latestReadings } from "../../core/level/assess.ts";
import { Refusal } from "../../core/quantity/refusal.ts";
import type { Sheet as TypeSheet } from "../../core/sheet/schema.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { dateLong, timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Notice } from "../parts/notice.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { displayNumber } from "../../core/quantity/display.ts";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import {
  type Fit,
  LoadCoupled,
  LoadEnvelope,
  LoadFits,
  LoadMargins,
  LoadVerdict,
} from "./loading-answer.tsx";
import { type Balance, LoadingPlaces, placeName } from "./loading-places.tsx";
import { KitLists } from "./loading-kit.tsx";
import { PlaceInside } from "./loading-sheets.tsx";
import {
  answerOf,
  ballastFor,
  draftFrom,
  freshKit,
  isInsideAll,
  isSame,
  kitToLeave,
  type LoadDraft,
  newestLoading,
  otherSeating,
  type Place,
  placesOf,
  statedOf,
} from "./loading-view.ts";
import { WeighingEntry } from "./loading-weighing.tsx";
import { type MassWords, useMassUnit } from "./mass-unit.ts";
import { useLoadingWords } from "./use-loading-words.ts";
import "../look/loading.css";

export function LoadingScreen({ craft }: { readonly craft: CraftView }) {
  const { app } = useWords();
  const words = useLoadingWords();
  const { sheet, state } = craft;
  const [weighing] = standingWeighings(state);
  const loaded = useMemo(
    () => (weighing === undefined ? null : loadedCraft(state, weighing)),
    [state, weighing],
  );
  const name = `${craft.name} · ${app.screens.loading}`;
  if (sheet === null || loaded === null) {
    return (
      <Frame craft={craft} name={name} nameAs="h1">
        <Notice title={words.answer.unknown} kind="problem">
          <p>{words.answer.noWeighing}</p>
        </Notice>
        {sheet !== null && <WeighingEntry craft={craft} sheet={sheet} />}
      </Frame>
    );
  }
  return <Loading craft={craft} sheet={sheet} loaded={loaded} name={name} />;
}

type LoadingProps = {
  readonly craft: CraftView;
  readonly sheet: TypeSheet;
  readonly loaded: LoadedCraft;
  readonly name: string;
};

function Loading({ craft, sheet, loaded, name }: LoadingProps) {
  const words = useLoadingWords();
  const { language } = useLocale();
  const { device } = useApp();
  const { people } = useSnapshot();
  const names = useNames(craft);
  const mass = useMassUnit();
  const { load } = craft.state;
  const recorded = useMemo(() => draftFrom(load), [load]);
  const [changed, setChanged] = useState<LoadDraft | null>(null);
  const [opened, setOpened] = useState<Place | null>(null);
  const [flight, setFlight] = useState<Flight>("normal");
  const draft = changed ?? recorded;
  const hasHoist = sheet.hoist !== undefined && own(loaded.installed, sheet.hoist.equipment) === true;
  const stated = useMemo(() => statedOf(draft), [draft]);
  const answer = useMemo(() => answerOf(sheet, loaded, stated, [flight]), [sheet, loaded, stated, flight]);
  const judged = answer.kind === "judged" ? (answer.judgement.flights[0] ?? null) : null;
  const places = useMemo(() => placesOf(sheet, loaded), [sheet, loaded]);
  const tank_kg = useMemo(() => tankOf(sheet, loaded), [sheet, loaded]);
  const fuelRead = useMemo(() => fuelReadOf(sheet, craft), [sheet, craft]);
  const change = (next: LoadDraft) => setChanged(isSame(next, recorded) ? null : next);
  const custody = new Set(craft.state.custody.flatMap(({ people: crew }) => crew));
  const crew = people.filter(({ id }) => custody.has(id));
  const say = async () => {
    if (stated === null) return;
    await device.sayLoading(craft.ledger, stated, draft.replaces);
    setChanged(null);
  };
  const fits = useFits({ sheet, loaded, judged, draft, places, names, mass, flight, onDraft: change });
  const whyNot = stated === null ? words.answer.unknown : undefined;
  return (
    <Frame
      craft={craft}
      name={name}
      nameAs="h1"
      foot={
        <TwoButtons
          {...(changed === null
            ? {}
            : { left: { children: words.takeBack, onPress: () => setChanged(null) } })}
          right={{
            children: words.sayIt,
            note: whyNot ?? words.sayItNote,
            onPress: () => void say(),
            ...(whyNot === undefined ? {} : { why: whyNot }),
          }}
        />
      }
    >
      <div className="load-top">
        <LoadVerdict answer={answer} judged={judged} names={names} mass={mass} />
        <SaidWhen craft={craft} isChanged={changed !== null} />
        <LoadingPlaces
          sheet={sheet}
          draft={draft}
          places={places}
          names={names}
          mass={mass}
          balance={judged === null ? null : balanceOf(judged)}
          onPlace={setOpened}
        />
        <div className="load-switches">
          {hasHoist && (
            <ChoiceRow
              name={words.flights}
              choices={(["normal", "hoist"] as const).map((one) => ({
                value: one,
                label: words.flight[one],
              }))}
              value={flight}
              onChoose={setFlight}
            />
          )}
          <ChoiceRow
            name={words.unit}
            choices={(["kg", "lb"] as const).map((one) => ({ value: one, label: one }))}
            value={mass.unit}
            onChoose={mass.setUnit}
          />
        </div>
      </div>
      {judged !== null && (
        <div className="load-numbers">
          <LoadMargins sheet={sheet} judged={judged} mass={mass} />
          <LoadEnvelope sheet={sheet} judged={judged} mass={mass} axis="x_m" />
          <LoadEnvelope sheet={sheet} judged={judged} mass={mass} axis="y_m" />
          <LoadCoupled judged={judged} mass={mass} />
        </div>
      )}
      <div className="columns load-rest">
        {judged !== null && <LoadFits fits={fits} flight={flight} />}
        <KitLists sheet={sheet} draft={draft} mass={mass} onDraft={change} />
        <KitSince craft={craft} mass={mass} />
        <EmptyMass sheet={sheet} loaded={loaded} craft={craft} mass={mass} />
      </div>
      <Sheet
        title={opened === null ? "" : asTitle(placeName(opened, names, words.fuel), language)}
        open={opened !== null}
        onClose={() => setOpened(null)}
        foot={
          <Button look="filled" onPress={() => setOpened(null)}>
            {words.done}
          </Button>
        }
      >
        {opened !== null && (
          <PlaceInside
            key={`${opened.id} ${mass.unit}`}
            sheet={sheet}
            place={opened}
            draft={draft}
            onDraft={change}
            crew={crew}
            names={names}
            mass={mass}
            tank_kg={tank_kg}
            fuelRead_kg={fuelRead}
          />
        )}
      </Sheet>
    </Frame>
  );
}

function tankOf(sheet: TypeSheet, { installed }: LoadedCraft): number {
  try {
    return fuelLineOf(sheet, installed).segments.at(-1)?.high_kg ?? 0;
  } catch (error) {
    if (error instanceof Refusal) return 0;
    throw error;
  }
}

/** What the fuel gauge of the first tank says in kg; null where nothing was read since the last flight or uplift. */
function fuelReadOf({ tanks }: TypeSheet, { state }: CraftView): number | null {
  const [tank] = tanks;
  const [latest] = tank?.gauge === undefined ? [] : latestReadings(state, tank.gauge);
  if (latest === undefined || latest.unit !== "kg") return null;
  const fuelled = state.uplifts.filter(({ fluid }) => fluid === tank?.fluid).map(({ at_ms }) => at_ms);
  const changed_ms = Math.max(...fuelled, ...state.flights.map(({ on_ms }) => on_ms));
  return latest.at_ms >= changed_ms ? latest.value : null;
}

/** The centre of gravity with the heaviest patient, and the limits at the mass of the start. */
function balanceOf({ heaviest, case: { limits } }: FlightJudgement): Balance {
  const { start, end } = heaviest.track;
  const section = (outline: typeof limits.longitudinal) =>
    outline === null ? null : (sectionsAt(outline.byB, start.mass_kg, outline.floorB)[0] ?? null);
  return {
    start: [start.x_m, start.y_m],
    end: [end.x_m, end.y_m],
    along: section(limits.longitudinal),
    across: section(limits.lateral),
  };
}

type FitsInput = {
  readonly sheet: TypeSheet;
  readonly loaded: LoadedCraft;
  readonly judged: FlightJudgement | null;
  readonly draft: LoadDraft;
  readonly places: readonly Place[];
  readonly names: ReturnType<typeof useNames>;
  readonly mass: MassWords;
  readonly flight: Flight;
  readonly onDraft: (draft: LoadDraft) => void;
};

/** What would make it fit; where it fits, how much more would. */
function useFits(input: FitsInput): readonly Fit[] {
  const words = useLoadingWords();
  const { sheet, loaded, judged, draft, places, names, mass, flight, onDraft } = input;
  const fit = words.fit;
  if (judged === null) return [];
  const { largestFuel_kg } = judged;
  const fits: Fit[] = [
    largestFuel_kg === null
      ? { id: "fuel", text: fit.fuelNone, take: null }
      : {
          id: "fuel",
          text: fit.fuel(mass.text(largestFuel_kg, "lower")),
          take: () => onDraft({ ...draft, fuel_kg: Math.floor(largestFuel_kg) }),
        },
  ];
  for (const { stretcher, most_kg, safeUpTo_kg } of judged.patients) {
    const place = names.of("stretcher", stretcher);
    if (safeUpTo_kg === null || safeUpTo_kg <= 0) {
      fits.push({ id: stretcher, text: fit.patientNone(place), take: null });
      continue;
    }
    const patients = draft.patients.map((one) =>
      one.stretcher === stretcher ? { ...one, most_kg: Math.floor(safeUpTo_kg) } : one,
    );
    fits.push({
      id: stretcher,
      text: fit.patient(place, mass.text(safeUpTo_kg, "lower")),
      take: safeUpTo_kg >= most_kg || safeUpTo_kg < 1 ? null : () => onDraft({ ...draft, patients }),
    });
  }
  if (flight === "hoist") {
    const { hookUpTo_kg } = judged;
    const text = hookUpTo_kg === null ? fit.hookNone : fit.hook(mass.text(hookUpTo_kg, "lower"));
    fits.push({ id: "hook", text, take: null });
  }
  const stated = statedOf(draft);
  if (stated === null || isInsideAll(judged)) return fits;
  for (const { kit, name, mass_kg } of kitToLeave(sheet, loaded, stated, flight)) {
    fits.push({
      id: kit,
      text: fit.leave(name, mass.text(mass_kg, "higher")),
      take: () => onDraft({ ...draft, kit: draft.kit.filter((one) => one.kit !== kit) }),
    });
  }
  for (const { at, mass_kg } of ballastFor(sheet, judged)) {
    const ballast = { kit: freshKit("ballast", draft), name: fit.ballastName, mass_kg, at };
    fits.push({
      id: `ballast ${at}`,
      text: fit.ballast(mass.text(mass_kg, "higher"), names.title("compartment", at)),
      take: () => onDraft({ ...draft, kit: [...draft.kit, ballast] }),
    });
  }
  const taken = new Set(draft.persons.map(({ seat }) => seat));
  const free = places.filter(({ id, kind }) => kind === "seat" && !taken.has(id)).map(({ id }) => id);
  const persons = otherSeating(sheet, loaded, stated, flight, free);
  if (persons !== null) {
    const moved = persons.filter((person, index) => person.seat !== stated.persons[index]?.seat);
    const moves = moved.map(({ person, seat }) =>
      fit.move(person === null ? words.guest : names.person(person), names.of("seat", seat)),
    );
    fits.push({
      id: "seats",
      text: fit.seating(moves.join(", ")),
      take: () => onDraft({ ...draft, persons }),
    });
  }
  return fits;
}

/** When, and by whom, the load of the record was said; and whether it is today's, and the only one. */
function SaidWhen({ craft, isChanged }: { readonly craft: CraftView; readonly isChanged: boolean }) {
  const words = useLoadingWords();
  const { now_ms, zone } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const { load } = craft.state;
  const newest = newestLoading(load);
  const isOver = newest !== null && endOfDayAt(newest.at_ms, zone) <= now_ms;
  const lines = [
    newest === null
      ? words.notSaid
      : words.said(timeSeenFrom(now_ms, newest.at_ms, locale), names.person(newest.by)),
    ...(isOver ? [words.ofAnotherDay] : []),
    ...(load.loadings.length > 1 ? [words.standApart(load.loadings.length)] : []),
    ...(isChanged ? [words.changed] : []),
  ];
  return (
    <p className={isChanged || isOver ? "load-said-when" : "load-said-when quiet"}>
      {lines.map((line) => (
        <span key={line}>{line}. </span>
      ))}
    </p>
  );
}

/** Kit of the load as said: left behind at a scene, or back aboard. Recorded at once. */
function KitSince({ craft, mass }: { readonly craft: CraftView; readonly mass: MassWords }) {
  const words = useLoadingWords();
  const { device } = useApp();
  const { load } = craft.state;
  const newest = newestLoading(load);
  if (newest === null || newest.kit.length === 0) return null;
  const { aboard } = kitAboard(newest, load.kit);
  const ids = new Set(aboard.map(({ kit }) => kit));
  return (
    <section>
      <h2 className="heading-small">{words.kit}</h2>
      <ul className="rows">
        {newest.kit.map(({ kit, name, mass_kg }) => {
          const isAboard = ids.has(kit);
          const replaces = (own(load.kit, kit) ?? []).map(({ entry }) => entry);
          return (
            <li key={kit} className="load-fit">
              <span>
                {isAboard ? name : <s>{name}</s>}{" "}
                <span className="mono quiet">{mass.text(mass_kg, "higher")}</span>
              </span>
              <Button
                onPress={() => void device.moveKit(craft.ledger, kit, !isAboard, replaces)}
                label={isAboard ? words.leaveBehind(name) : words.isBack(name)}
              >
                {isAboard ? words.left : words.aboard}
              </Button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

type EmptyMassProps = {
  readonly sheet: TypeSheet;
  readonly loaded: LoadedCraft;
  readonly craft: CraftView;
  readonly mass: MassWords;
};

/** The weighing and every change since, with their sum. */
function EmptyMass({ sheet, loaded, craft, mass }: EmptyMassProps) {
  const words = useLoadingWords();
  const locale = useLocale();
  const names = useNames(craft);
  const { zone } = useSnapshot();
  const [weighing] = standingWeighings(craft.state);
  const empty = useMemo(() => {
    try {
      return emptyMassNow(sheet, loaded);
    } catch (error) {
      if (error instanceof Refusal) return error.issues;
      throw error;
    }
  }, [sheet, loaded]);
  const arm = (x_m: number) => `${displayNumber(x_m, 3, "both", locale.language)} m`;
  return (
    <section>
      <h2 className="heading-small">{words.empty}</h2>
      {"rows" in empty ? (
        <ul className="rows">
          {empty.rows.map(({ at_ms, change, totals, centre }, index) => (
            <li key={`${at_ms} ${change?.equipment ?? index}`} className="load-fit">
              <span>
                {change === null
                  ? words.weighed(dateLong(dateAt(at_ms, zone), locale), weighing?.report ?? "?")
                  : (change.installed ? words.on : words.off)(names.title("equipment", change.equipment))}
              </span>
              <span className="mono">
                {words.emptyRow(mass.text(totals.mass_kg, "higher"), arm(centre.x_m))}
              </span>
            </li>
          ))}
          {empty.rows.length > 1 && (
            <li className="quiet small">
              {words.net(mass.text(empty.rows.at(-1)?.net_kg ?? 0, "higher"))}
              {empty.revisionDue_ms === null ? "" : `. ${words.revise}`}
            </li>
          )}
        </ul>
      ) : (
        <p>{empty.map(({ path, found }) => `${path}: ${found}`).join("; ")}</p>
      )}
      <WeighingEntry craft={craft} sheet={sheet} />
    </section>
  );
}
