// Call: where, and at once a first answer; everything else is as usual and can be changed. One screen: the standing of this
// call, the margin that binds first, all margins as bars, what would make a refused one acceptable.
import { useMemo, useState } from "react";
import { displayNumber, roundForDisplay, type Worse } from "../../core/quantity/display.ts";
import type { CallKnown, CallPlace } from "../../core/reach/call.ts";
import { placeFrom } from "../../core/reach/place-from.ts";
import { basePlace } from "../../core/standing/call-desk.ts";
import { typedText } from "../../present/typed-number.ts";
import { timeOfDay } from "../../present/words/formats.ts";
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
import { Against, CallHelps, CallVerdict, Legs, MarginBars, marginName, roomText } from "./call-answer.tsx";
import { CallMap } from "./call-map.tsx";
import { CallNotices } from "./call-notices.tsx";
import {
  callScales,
  deskOf,
  heldCall,
  holdCall,
  metresOf,
  numberSaid,
  operationOf,
  placeSaid,
  positionText,
  rankedCalls,
  usualOf,
} from "./call-view.ts";
import type { CallAsked, CallDraft, PlaceSaid, RankedCall } from "./call-view.ts";
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
  return (
    <Frame craft={craft} name={name}>
      <Asking craft={craft} known={made.known} base={basePlace(made.desk.base)} />
    </Frame>
  );
}

type AskingProps = { readonly craft: CraftView; readonly known: CallKnown; readonly base: CallPlace };

/** What was said of a call, held while the app is open. */
export function useCallDraft(ledger: string): readonly [CallDraft, (change: Partial<CallDraft>) => void] {
  const [draft, setDraft] = useState(() => heldCall(ledger));
  const change = (part: Partial<CallDraft>) =>
    setDraft((before) => {
      const after = { ...before, ...part };
      holdCall(ledger, after);
      return after;
    });
  return [draft, change];
}

function Asking({ craft, known, base }: AskingProps) {
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
  const chosen = ranked.find(({ hospital }) => hospital?.site === draft.hospital) ?? ranked[0] ?? null;
  return (
    <div className="call-columns">
      <div className="stack-wide">
        {chosen !== null && <CallVerdict answer={chosen.answer} />}
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
          <MarginBars answer={chosen.answer} />
          <Against craft={craft} answer={chosen.answer} />
          <Hospitals ranked={ranked} chosen={chosen} change={change} />
          <Changes craft={craft} draft={draft} change={change} chosen={chosen} />
          <Legs answer={chosen.answer} />
          <Button
            note={words.reachNote}
            onPress={() => goTo({ screen: "reach", craft: craft.ledger.replace("craft:", "") })}
          >
            {words.reach}
          </Button>
        </div>
      )}
    </div>
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
            label={`${words.distance}, nm`}
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

type ChosenProps = {
  readonly ranked: readonly RankedCall[];
  readonly chosen: RankedCall;
  readonly change: (part: Partial<CallDraft>) => void;
};

function Hospitals({ ranked, chosen, change }: ChosenProps) {
  const words = useCallWords();
  const locale = useLocale();
  return (
    <section className="opens">
      <h2 className="heading-small">{words.hospitals}</h2>
      <ul className="rows">
        {ranked.map(({ hospital, answer }) => {
          if (hospital === null) return <li key="none">{words.noHospital}</li>;
          const arrive_ms = answer.stops[2]?.arrive_ms ?? null;
          const [binding] = answer.margins;
          const detail =
            binding === undefined
              ? ""
              : `${marginName(binding, answer, words)}: ${roomText(binding, locale, words)}`;
          return (
            <li key={hospital.site}>
              <button
                type="button"
                className="call-hospital"
                aria-pressed={hospital.site === chosen.hospital?.site}
                onClick={() => change({ hospital: hospital.site })}
              >
                <span>
                  <b>{hospital.name}</b>
                  <span className="reason-detail">{detail}</span>
                </span>
                <span className="reason-clears">
                  {words.toHospital(
                    arrive_ms === null ? "?" : timeOfDay(arrive_ms, locale),
                    words.verdict[answer.verdict],
                  )}
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

const steps = {
  fuel_kg: 10,
  patient_kg: 5,
  stay_min: 5,
  elevation_ft: 100,
  wind_kt: 5,
  wind_deg: 10,
  cruise_ft: 100,
  obstacle_ft: 100,
} as const;

type ChangesProps = DraftProps & { readonly craft: CraftView; readonly chosen: RankedCall };

/** What can be changed, each with what counts for it until somebody does. */
function Changes({ craft, draft, change, chosen }: ChangesProps) {
  const words = useCallWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const made = deskOf(craft);
  const usual = usualOf(chosen.call);
  const isUs = craft.situation.settings.ruleSet === "us";
  const elevation_m = usual.elevation_ft === null ? null : metresOf(usual.elevation_ft);
  const elevationHint =
    elevation_m === null
      ? words.elevationHint
      : `${displayNumber(elevation_m, 0, "higher", language)} m; ${words.elevationHint}`;
  return (
    <section className="stack opens">
      <CallSteppers
        draft={draft}
        change={change}
        usual={usual}
        asks={[
          { asked: "fuel_kg", label: words.fuel, unit: "kg" },
          { asked: "patient_kg", label: words.patient, unit: "kg" },
          { asked: "elevation_ft", label: words.elevation, unit: "ft", hint: elevationHint },
          { asked: "stay_min", label: words.stay, unit: "min" },
          { asked: "cruise_ft", label: words.cruise, unit: "ft", hint: words.cruiseHint },
          ...(isUs
            ? [{ asked: "obstacle_ft", label: words.obstacle, unit: "ft", hint: words.obstacleHint } as const]
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
    </section>
  );
}

/** Which way a rounded figure would flatter: fuel rounds down, what has to be carried, climbed or waited for rounds up. */
const worse = {
  fuel_kg: "lower",
  patient_kg: "higher",
  stay_min: "higher",
  elevation_ft: "higher",
  wind_kt: "both",
  wind_deg: "both",
  cruise_ft: "both",
  obstacle_ft: "higher",
} as const satisfies Record<keyof typeof steps, Worse>;

export type AskedOfCall = {
  readonly asked: keyof typeof steps;
  readonly label: string;
  readonly unit: string;
  readonly hint?: string;
};

type CallSteppersProps = DraftProps & {
  readonly asks: readonly AskedOfCall[];
  /** What counts while nobody has said otherwise. */
  readonly usual: Readonly<Record<keyof typeof steps, number | null>>;
};

export function CallSteppers({ draft, change, asks, usual }: CallSteppersProps) {
  const { language } = useLocale();
  const textOf = (asked: keyof typeof steps): string => {
    const value = usual[asked];
    const { decimals } = callScales[asked];
    return value === null ? "" : typedText(roundForDisplay(value, 0, worse[asked]), decimals, language);
  };
  return asks.map(({ asked, label, unit, hint }) => (
    <Stepper
      key={asked}
      label={label}
      typed={draft.typed[asked] ?? textOf(asked)}
      onTyped={(text) => change({ typed: { ...draft.typed, [asked]: text } })}
      scale={callScales[asked]}
      step={steps[asked]}
      startAt={usual[asked] ?? 0}
      unit={unit}
      {...(hint === undefined ? {} : { hint })}
    />
  ));
}
