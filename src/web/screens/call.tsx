// Call: where, and at once a first answer; everything else is as usual and can be changed. One screen: the standing of this
// call, the margin that binds first, all margins as bars, what would make a refused one acceptable.
import { useMemo, useState } from "react";
import { displayNumber } from "../../core/quantity/display.ts";
import type { CallKnown, CallPlace } from "../../core/reach/call.ts";
import { boardingPlaces } from "../../core/reach/boarding-places.ts";
import { placeFrom } from "../../core/reach/place-from.ts";
import { basePlace } from "../../core/standing/call-desk.ts";
import { asTitle } from "../../present/sentence-case.ts";
import type { CraftView } from "../device/model.ts";
import "../look/call.css";
import "../look/line.css";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Against, CallHelps, CallVerdict, MarginBars } from "./call-answer.tsx";
import { CallMap } from "./call-map.tsx";
import { CallNotices } from "./call-notices.tsx";
import {
  deskOf,
  heldCall,
  holdCall,
  noAlternate,
  numberSaid,
  boardingPlaceName,
  operationOf,
  placeSaid,
  positionText,
  rankedCalls,
  usualOf,
} from "./call-view.ts";
import type { CallDraft, PlaceSaid, RankedCall } from "./call-view.ts";
import { Hospitals } from "./call-hospitals.tsx";
import { CallSky, Legs } from "./call-legs.tsx";
import { KeepFoot, KeptCalls, KeptPage } from "./call-keep.tsx";
import { amountsIn, matterOf, saidIn, scaleOf, stepOf, toChosen, typedIn } from "./call-units.ts";
import type { CallAsked } from "./call-units.ts";
import { chosenUnits } from "./chosen-units.ts";
import { useAmounts } from "./use-amounts.ts";
import { Frame } from "./frame.tsx";
import { takenRemedy } from "./taken-remedy.ts";
import { useCallWords } from "./use-call-words.ts";

export function CallScreen({ craft }: { readonly craft: CraftView }) {
  const words = useCallWords();
  const { app } = useWords();
  const made = deskOf(craft);
  const name = `${craft.name} · ${app.screens.call}`;
  if (made === null || made.desk.base === null)
    return (
      <Frame craft={craft} name={name}>
        <Notice title={words.noBase} />
      </Frame>
    );
  return <Asking craft={craft} known={made.known} base={basePlace(made.desk.base)} name={name} />;
}

type AskingProps = {
  readonly craft: CraftView;
  readonly known: CallKnown;
  readonly base: CallPlace;
  readonly name: string;
};

/** What was said of a call, held while the app is open. */
export function useCallDraft(ledger: string): readonly [CallDraft, (change: Partial<CallDraft>) => void] {
  const { language } = useLocale();
  const [draft, setDraft] = useState(() => {
    const held = heldCall(ledger);
    const units = chosenUnits();
    // Units may have been changed since: what was typed is then said in the new ones.
    return { ...held, units, typed: saidIn(held.typed, held.units, units, language) };
  });
  const change = (part: Partial<CallDraft>) =>
    setDraft((before) => {
      const after = { ...before, ...part };
      holdCall(ledger, after);
      return after;
    });
  return [draft, change];
}

function Asking({ craft, known, base, name }: AskingProps) {
  const { now_ms } = useSnapshot();
  const { goTo } = useApp();
  const words = useCallWords();
  const { language } = useLocale();
  const [draft, change] = useCallDraft(craft.ledger);
  const made = deskOf(craft)!;
  const said = placeSaid(draft, made.desk, known, language);
  const minute = Math.floor(now_ms / 60_000);
  const ranked = useMemo(
    () => (said.place === null ? [] : rankedCalls(craft, draft, said.place, minute * 60_000, language)),
    // The place is made anew at every look; what it is made of is in the draft.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
    [craft.standing, draft, minute, language],
  );
  const [opened, setOpened] = useState<string | null>(null);
  const openedCall = craft.state.calls.find(({ entry }) => entry === opened);
  const chosen = ranked.find(({ hospital }) => hospital?.site === draft.hospital) ?? ranked[0] ?? null;
  if (openedCall !== undefined)
    return <KeptPage craft={craft} known={known} kept={openedCall} onBack={() => setOpened(null)} />;
  return (
    <Frame
      craft={craft}
      name={name}
      {...(chosen === null ? {} : { foot: <KeepFoot craft={craft} draft={draft} answer={chosen.answer} /> })}
    >
      <div className="call-columns">
        <div className="stack-wide">
          {chosen !== null && <CallVerdict craft={craft} known={known} answer={chosen.answer} />}
          <Where draft={draft} change={change} said={said} known={known} base={base} />
          {chosen !== null && <Questions chosen={chosen} draft={draft} change={change} />}
          {chosen !== null && <CallNotices known={known} answer={chosen.answer} />}
          <CallMap
            known={known}
            base={base}
            scene={said.place}
            hospital={chosen?.hospital ?? null}
            onTap={(at) => change({ at, site: null, place: "", kept: [] })}
          />
        </div>
        {chosen !== null && (
          <div className="stack-wide">
            <CallHelps
              craft={craft}
              known={known}
              answer={chosen.answer}
              onTake={(remedy) => change(takenRemedy(draft, remedy, language))}
            />
            <Against craft={craft} answer={chosen.answer} />
            <Hospitals craft={craft} ranked={ranked} chosen={chosen} change={change} />
            <Changes craft={craft} draft={draft} change={change} chosen={chosen} />
            <MarginBars craft={craft} known={known} answer={chosen.answer} />
            <Legs craft={craft} answer={chosen.answer} />
            <CallSky craft={craft} answer={chosen.answer} />
            <Button
              note={words.reachNote}
              onPress={() => goTo({ screen: "reach", craft: craft.ledger.replace("craft:", "") })}
            >
              {words.reach}
            </Button>
          </div>
        )}
      </div>
      <KeptCalls craft={craft} onOpen={(kept) => setOpened(kept.entry)} />
    </Frame>
  );
}

type DraftProps = {
  readonly draft: CallDraft;
  readonly change: (part: Partial<CallDraft>) => void;
};

type WhereProps = DraftProps & {
  readonly said: PlaceSaid;
  readonly known: CallKnown;
  readonly base: CallPlace;
};

function Where({ draft, change, said, known, base }: WhereProps) {
  const words = useCallWords();
  const { units: unitNames } = useWords();
  const locale = useLocale();
  const { read } = said;
  const type = (asked: CallAsked) => (text: string) => change({ typed: { ...draft.typed, [asked]: text } });
  const bearing = numberSaid(draft, "bearing_deg", locale.language);
  const distance = numberSaid(draft, "distance_nm", locale.language);
  const issue =
    read?.is === "notRead" && draft.at === null && draft.site === null ? words.notRead[read.why] : null;
  const within = (m: number): string => `${displayNumber(Math.max(1, m), 0, "higher", locale.language)} m`;
  const hint =
    read?.is === "read"
      ? `${words.read(positionText(read.position), within(read.within_m))} (${words.form[read.form]})`
      : said.place === null
        ? words.placeHint
        : said.place.name;
  return (
    <section className="stack">
      {said.place === null && (
        <>
          <h1 className="head">{words.now}</h1>
          <p>{words.nowHint}</p>
        </>
      )}
      <Field
        label={words.place}
        value={draft.place}
        onChange={(place) => change({ place, site: null, at: null, kept: [] })}
        hint={hint}
        issue={issue}
      />
      <Picker
        label={words.sites}
        choices={known.sites.map(({ id, name }) => ({ id, name }))}
        value={draft.site}
        onChoose={(site) => change({ site, at: null, place: "", kept: [] })}
      />
      <details className="call-bearing">
        <summary>{words.bearing}</summary>
        <div className="call-two">
          <Field
            label={words.bearing}
            value={draft.typed.bearing_deg ?? ""}
            onChange={type("bearing_deg")}
            inputMode="numeric"
          />
          <Field
            label={words.distance(unitNames[draft.units.distance])}
            value={draft.typed.distance_nm ?? ""}
            onChange={type("distance_nm")}
            inputMode="decimal"
          />
        </div>
        {bearing !== null && distance !== null && (
          <Button
            onPress={() =>
              change({ at: placeFrom(base, bearing, distance), site: null, place: "", kept: [] })
            }
          >
            {words.useBearing}
          </Button>
        )}
      </details>
    </section>
  );
}

/** What is asked about the coordinates and the sites: each is a question, and somebody has to answer it. */
function Questions({ chosen, draft, change }: DraftProps & { readonly chosen: RankedCall }) {
  const words = useCallWords();
  const locale = useLocale();
  const { answer } = chosen;
  const number = (value: number) => displayNumber(value, 0, "higher", locale.language);
  const open = answer.questions.filter(
    ({ ask, stop }) => answer.stops[stop + 1]?.role === "scene" && !draft.kept.includes(ask),
  );
  const sites = answer.aboutSites.flatMap(({ ask, stop, needed_m }) => {
    const place = answer.stops[stop + 1]?.name ?? "";
    const needed = needed_m === null ? "?" : `${number(needed_m.length_m)} m × ${number(needed_m.width_m)} m`;
    return [{ key: `${ask} ${stop}`, said: words.aboutSite[ask](place, needed) }];
  });
  return (
    <>
      {open.map(({ ask, distance_nm, perhaps }) => (
        <Notice
          key={ask}
          kind="problem"
          title={ask === "farOff" ? words.ask.farOff(number(distance_nm)) : words.ask[ask]}
        >
          <div className="two-buttons">
            {perhaps !== null && (
              <Button
                look="outlined"
                onPress={() => change({ at: perhaps, site: null, place: "", kept: [] })}
              >
                {words.ask.use(positionText(perhaps))}
              </Button>
            )}
            <Button look="outlined" onPress={() => change({ kept: [...draft.kept, ask] })}>
              {words.ask.keep}
            </Button>
          </div>
        </Notice>
      ))}
      {sites.map(({ key, said }) => (
        <p key={key} className="small">
          {said}
        </p>
      ))}
    </>
  );
}

type ChangesProps = DraftProps & { readonly craft: CraftView; readonly chosen: RankedCall };

/** What can be changed, each with what counts for it until somebody does. */
function Changes({ craft, draft, change, chosen }: ChangesProps) {
  const words = useCallWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const made = deskOf(craft);
  const { now_ms } = useSnapshot();
  const amounts = useAmounts();
  const { units: unitNames } = useWords();
  const usual = usualOf(chosen.call, Math.floor(now_ms / 60_000) * 60_000);
  const isUs = craft.situation.settings.ruleSet === "us";
  // The other unit beside it: a height is called out in either.
  const other = amounts.units.height === "ft" ? ("m" as const) : ("ft" as const);
  const { elevation_ft } = usual;
  const elevationHint =
    elevation_ft === null
      ? words.elevationHint
      : words.elevationBoth(
          amountsIn({ ...amounts.units, height: other }, language, unitNames).height(elevation_ft, "higher"),
          words.elevationHint,
        );
  const [mass, height] = [unitNames[amounts.units.mass], unitNames[amounts.units.height]];
  const patient = chosen.call.stops.find(({ role }) => role === "scene")?.boards[0];
  const places =
    made === null || patient === undefined ? [] : boardingPlaces(made.desk.sheet, made.desk.state);
  const taken = new Set(craft.state.load.loadings.flatMap(({ persons }) => persons.map(({ seat }) => seat)));
  return (
    <section className="stack opens">
      <CallSteppers
        draft={draft}
        change={change}
        usual={usual}
        asks={[
          { asked: "fuel_kg", label: words.fuel, unit: mass },
          { asked: "patient_kg", label: words.patient, unit: mass },
          { asked: "elevation_ft", label: words.elevation, unit: height, hint: elevationHint },
          { asked: "stay_min", label: words.stay, unit: "min" },
          ...(isUs
            ? [
                {
                  asked: "obstacle_ft",
                  label: words.obstacle,
                  unit: height,
                  hint: words.obstacleHint,
                } as const,
              ]
            : []),
        ]}
      />
      {made !== null && (
        <Picker
          label={words.operation}
          choices={made.desk.sheet.operations.map(({ id }) => ({ id, name: names.title("operation", id) }))}
          value={operationOf(draft, made.desk)?.id ?? null}
          onChoose={(operation) => change({ operation })}
        />
      )}
      {made !== null && chosen.call.flightRules === "ifr" && (
        <Picker
          label={words.alternate}
          choices={[
            { id: noAlternate, name: words.noAlternate },
            ...made.known.sites.map(({ id, name }) => ({ id, name })),
          ]}
          value={draft.alternate}
          onChoose={(alternate) => change({ alternate })}
        />
      )}
      <details className="call-bearing">
        <summary>{words.moreChanges}</summary>
        <div className="stack">
          <CallSteppers
            draft={draft}
            change={change}
            usual={usual}
            asks={[
              { asked: "depart_min", label: words.depart, unit: "min", hint: words.departHint },
              { asked: "cruise_ft", label: words.cruise, unit: height, hint: words.cruiseHint },
            ]}
          />
          {patient !== undefined && (
            <Picker
              label={words.boardAt}
              choices={places.map(({ id }) => {
                const name = asTitle(boardingPlaceName(names, id), language);
                return { id, name: taken.has(id) ? words.placeTaken(name) : name };
              })}
              value={patient.at}
              onChoose={(boardAt) => change({ boardAt })}
            />
          )}
        </div>
      </details>
    </section>
  );
}

export type AskedOfCall = {
  readonly asked: CallAsked;
  readonly label: string;
  readonly unit: string;
  readonly hint?: string;
};

type CallSteppersProps = DraftProps & {
  readonly asks: readonly AskedOfCall[];
  /** What counts while nobody has said otherwise. */
  readonly usual: Readonly<Partial<Record<CallAsked, number | null>>>;
};

export function CallSteppers({ draft, change, asks, usual }: CallSteppersProps) {
  const { language } = useLocale();
  const { units } = draft;
  const textOf = (asked: CallAsked): string => {
    const value = usual[asked] ?? null;
    return value === null ? "" : typedIn(asked, value, units, language);
  };
  return asks.map(({ asked, label, unit, hint }) => (
    <Stepper
      key={asked}
      label={label}
      typed={draft.typed[asked] ?? textOf(asked)}
      onTyped={(text) =>
        change({
          typed: { ...draft.typed, [asked]: text },
          ...(asked === "depart_min" ? { depart_ms: null } : {}),
        })
      }
      scale={scaleOf(asked, units)}
      step={stepOf(asked, units)}
      startAt={toChosen(usual[asked] ?? 0, matterOf(asked), units)}
      unit={unit}
      {...(hint === undefined ? {} : { hint })}
    />
  ));
}
