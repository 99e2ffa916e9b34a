// Weather and light at the base: the light now, the next 24 hours as rows with the minima of one kind of flying drawn in,
// what somebody saw, and the reports with their decoding. Loaded beside the first screen, with the reader and the sun.
import { useMemo, useState } from "react";
import { hour_ms } from "../../core/facts/instant.ts";
import type { BaseSky } from "../../core/facts/sky.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { moonAt, nextMoonChange } from "../../core/sky/moon.ts";
import { standingObservation } from "../../core/sky/own-observation.ts";
import type { OwnObservation } from "../../core/sky/own-observation.ts";
import { sunAltitude } from "../../core/sky/sun-altitude.ts";
import { trackSun } from "../../core/sky/sun.ts";
import type { WeatherNeed } from "../../core/sky/weather-question.ts";
import { skyNeedsOf, skyOver } from "../../core/standing/sky.ts";
import type { SkyOver } from "../../core/standing/sky.ts";
import { weatherWordsIn } from "../../present/weather/group-words.ts";
import type { WeatherWords } from "../../present/weather/words-en.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Picker } from "../parts/picker.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { WeatherBands } from "./weather-bands.tsx";
import { WeatherArrival } from "./weather-arrival.tsx";
import { OwnObservationEntry, ReportEntry, TakeBack } from "./weather-entry.tsx";
import { WeatherReports } from "./weather-reports.tsx";
import { WeatherSetup } from "./weather-setup.tsx";

const sun = trackSun();
const ahead_h = 24;
const lightAhead_h = 72;

export function WeatherScreen({ craft }: { readonly craft: CraftView }) {
  const { me } = useSnapshot();
  const base = craft.sky;
  const { app } = useWords();
  const { language } = useLocale();
  const words = weatherWordsIn(language);
  const say = words.screen;
  const [adding, setAdding] = useState(false);
  const [looking, setLooking] = useState(false);
  const mayLook = me?.roles.includes("pilot") === true;
  const foot =
    base === null ? undefined : (
      <TwoButtons
        left={{ children: say.add, note: say.addNote, onPress: () => setAdding(true) }}
        right={{
          children: say.look,
          note: say.lookNote,
          onPress: () => setLooking(true),
          ...(mayLook ? {} : { why: say.onlyPilot }),
        }}
      />
    );
  return (
    <Frame
      craft={craft}
      name={`${base?.name ?? craft.name} · ${app.screens.weather}`}
      nameAs="h1"
      {...(foot === undefined ? {} : { foot })}
    >
      {base === null ? (
        <NoBase craft={craft} words={words} />
      ) : (
        <>
          <Sky base={base} craft={craft} words={words} />
          <ReportEntry base={base} open={adding} onClose={() => setAdding(false)} words={words} />
          <OwnObservationEntry base={base} open={looking} onClose={() => setLooking(false)} words={words} />
        </>
      )}
    </Frame>
  );
}

/** At which of several bases the machine stands; a picker, since nobody but a person knows. */
function BasePicker({ craft, words }: { readonly craft: CraftView; readonly words: WeatherWords }) {
  const { device } = useApp();
  const { bases } = useSnapshot();
  return (
    <Picker
      label={words.more.atBase}
      choices={bases.map(({ base, name }) => ({ id: base, name }))}
      value={craft.sky?.base ?? null}
      onChoose={(base) => void device.assignBase(craft.ledger, base)}
    />
  );
}

function NoBase({ craft, words }: { readonly craft: CraftView; readonly words: WeatherWords }) {
  const { bases } = useSnapshot();
  const { screen: say, more } = words;
  if (bases.length === 0) return <Empty title={say.noBase}>{say.noBaseBody}</Empty>;
  return (
    <div className="stack">
      <p>{more.whichBase}</p>
      <BasePicker craft={craft} words={words} />
    </div>
  );
}

type SkyProps = { readonly base: BaseSky; readonly craft: CraftView; readonly words: WeatherWords };

function Sky({ base, craft, words }: SkyProps) {
  const { now_ms, bases } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const say = words.screen;
  const [chosen, setChosen] = useState<string | null>(null);
  const sky = useMemo(() => skyOver(base, sun, now_ms, now_ms + lightAhead_h * hour_ms), [base, now_ms]);
  const needs = useNeeds(base, craft, chosen);
  if (sky === null)
    return (
      <div className="stack-wide">
        <Empty title={say.noLimits}>{say.noLimitsBody}</Empty>
        <WeatherSetup base={base} craft={craft} words={words} />
      </div>
    );
  const operations = craft.sheet?.operations.map(({ id }) => id) ?? [];
  const operation = chosen ?? operations[0] ?? null;
  const time = { from_ms: now_ms - hour_ms / 2, until_ms: now_ms + ahead_h * hour_ms, now_ms };
  const need = sky.settings.needs.find((each) => each.operation === operation) ?? null;
  const ground = `${displayNumber(sky.settings.ground_ft, 0, "higher", locale.language)} ft`;
  return (
    <div className="stack-wide">
      <LightNow sky={sky} base={base} words={words} />
      <section className="stack" aria-labelledby="weather-next">
        <div className="weather-next">
          <h2 id="weather-next" className="title">
            {say.next}
          </h2>
          <Picker
            label={say.choose}
            choices={operations.map((id) => ({ id, name: names.title("operation", id) }))}
            value={operation}
            onChoose={setChosen}
          />
        </div>
        <WeatherBands sky={sky} needs={needs} windLimit_kt={windLimitOf(craft)} time={time} words={words} />
        <p className="small quiet">
          {say.aboveGround(ground)} {need === null ? say.noNeed : citesOf(needs, need.cite)}
        </p>
      </section>
      <WeatherArrival sky={sky} words={words} />
      <Own sky={sky} base={base} words={words} />
      <WeatherReports sky={sky} base={base} words={words} />
      {bases.length > 1 && <BasePicker craft={craft} words={words} />}
      <WeatherSetup base={base} craft={craft} words={words} />
    </div>
  );
}

/** What the chosen kind of flying needs until the horizon, by the same reckoning as the standing. */
function useNeeds(base: BaseSky, craft: CraftView, chosen: string | null): readonly WeatherNeed[] {
  const { now_ms, horizon_ms, settings } = useSnapshot();
  const operation = chosen ?? craft.sheet?.operations[0]?.id ?? null;
  return useMemo(() => {
    if (operation === null || settings === null) return [];
    const record = { newest_ms: null, aside: [], exchanged_ms: null, unsent: 0 };
    const situation = { now_ms, horizon_ms, settings, record };
    return skyNeedsOf(operation, base, craft.state, situation, sun);
  }, [base, craft.state, operation, now_ms, horizon_ms, settings]);
}

function citesOf(needs: readonly WeatherNeed[], stated: string): string {
  const cites = needs.flatMap(({ source, or = [] }) =>
    [source, ...or.map((each) => each.source)].flatMap((each) =>
      each.kind === "rule" ? [each.cite === each.edition ? each.cite : `${each.cite}, ${each.edition}`] : [],
    ),
  );
  return [...new Set([stated, ...cites])].join("; ");
}

/** The strictest of what a start in any wind asks for: the line that the sheet draws for every flight. */
function windLimitOf({ sheet }: CraftView): number | null {
  const limits = (sheet?.windLimits ?? []).filter(({ phase }) => phase === "start" || phase === "shutdown");
  return limits.length === 0 ? null : Math.min(...limits.map(({ wind_kt, gust_kt }) => gust_kt ?? wind_kt));
}

function LightNow({
  sky,
  base,
  words,
}: {
  readonly sky: SkyOver;
  readonly base: BaseSky;
  readonly words: WeatherWords;
}) {
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const { screen: say, more } = words;
  const [now] = sky.light;
  const moon = useMemo(() => moonAt(base, now_ms), [base, now_ms]);
  const moonNext = useMemo(() => nextMoonChange(base, now_ms, ahead_h * hour_ms), [base, now_ms]);
  const degrees = (value: number): string => `${displayNumber(value, 1, "both", locale.language)}°`;
  const percent = `${displayNumber(moon.illumination * 100, 0, "lower", locale.language)} %`;
  const until =
    sky.light.length > 1 && now !== undefined
      ? say.until(timeSeenFrom(now_ms, now.until_ms, locale))
      : say.unchanged;
  return (
    <section>
      <p className="verdict-words light-now">{now === undefined ? say.notKnown : say[now.light]}</p>
      <p className="verdict-then">{until}</p>
      <p className="small quiet">
        {say.sun(degrees(sunAltitude(sun, base, now_ms)))},{" "}
        {say.moon(degrees(moon.altitude_deg), percent, moon.isWaxing)},{" "}
        {moonNext === null
          ? more.moonStays
          : (moonNext.rises ? more.moonRises : more.moonSets)(timeSeenFrom(now_ms, moonNext.at_ms, locale))}
        ; {say.ruleOf[sky.settings.ruleSet]}. {say.terrain}
      </p>
      <AirNow sky={sky} words={words} />
    </section>
  );
}

function AirNow({ sky: { air }, words }: { readonly sky: SkyOver; readonly words: WeatherWords }) {
  const { language } = useLocale();
  const { more } = words;
  if (air === null) return <p className="quiet">{more.airUnknown}</p>;
  const feet = (value: number): string => `${displayNumber(value, 0, "higher", language)} ft`;
  const exact = (value: number, unit: string): string =>
    `${displayNumber(value, 0, "both", language)} ${unit}`;
  return (
    <p>
      {more.air(feet(air.densityAltitude_ft))}
      {air.isSure ? "" : `, ${words.screen.mayBeWorse}`}{" "}
      <span className="small quiet">
        {more.airBy(
          air.station,
          exact(air.temperature_C, "°C"),
          exact(air.qnh_hPa, "hPa"),
          feet(air.pressureAltitude_ft),
        )}
      </span>
    </p>
  );
}

type OwnProps = { readonly sky: SkyOver; readonly base: BaseSky; readonly words: WeatherWords };

/** What somebody saw and still stands, at the base and elsewhere: each for its own place. */
function Own({ sky, base, words }: OwnProps) {
  const { now_ms } = useSnapshot();
  const places = [...new Set(base.state.observations.map(({ place }) => place))].filter(
    (place) => place !== base.name,
  );
  const elsewhere = places.flatMap(
    (place) => standingObservation(base.state.observations, place, now_ms) ?? [],
  );
  return (
    <>
      {sky.observation === null ? (
        <p className="quiet">{words.screen.none}</p>
      ) : (
        <OneObservation base={base} observation={sky.observation} words={words} />
      )}
      {elsewhere.map((observation) => (
        <OneObservation key={observation.entry} base={base} observation={observation} words={words} />
      ))}
    </>
  );
}

function OneObservation({
  base,
  observation,
  words,
}: Omit<OwnProps, "sky"> & { readonly observation: OwnObservation }) {
  const { now_ms, me } = useSnapshot();
  const [back, setBack] = useState(false);
  const locale = useLocale();
  const names = useNames(null);
  const say = words.screen;
  const { ceiling_ft, visibility_m, weather, wind, temperature_C, by, at_ms, expires_ms } = observation;
  const figure = (value: number, unit: string, worse: "lower" | "higher"): string =>
    `${displayNumber(value, 0, worse, locale.language)} ${unit}`;
  const seen = [
    ceiling_ft === null
      ? null
      : `${say.ceiling} ${ceiling_ft === "clear" ? say.noCeiling : figure(ceiling_ft, "ft", "lower")}`,
    visibility_m === null ? null : `${say.visibility} ${figure(visibility_m, "m", "lower")}`,
    weather === null ? null : weather.length === 0 ? say.fallsIs.nothing : weather.join(" "),
    wind === null
      ? null
      : [
          wind.from_deg === null ? words.group.windVariable : words.group.windFrom(`${wind.from_deg}°`),
          figure(wind.speed_kt, "kt", "higher"),
          wind.gust_kt === null ? null : words.group.gusts(figure(wind.gust_kt, "kt", "higher")),
        ]
          .filter((part) => part !== null)
          .join(", "),
    temperature_C === null ? null : `${displayNumber(temperature_C, 0, "both", locale.language)} °C`,
  ].filter((part) => part !== null);
  return (
    <section className="own-observation">
      <h2 className="title">
        {say.own}
        {observation.place === base.name ? "" : ` · ${observation.place}`}
      </h2>
      <p>{seen.join("; ")}</p>
      <p className="small quiet">
        {say.ownBy(
          names.person(by),
          timeSeenFrom(now_ms, at_ms, locale),
          timeSeenFrom(now_ms, expires_ms, locale),
        )}
      </p>
      {me?.id === by && (
        <Button look="plain" onPress={() => setBack(true)}>
          {words.more.takeBack}
        </Button>
      )}
      <TakeBack
        base={base}
        entry={observation.entry}
        what={seen.join("; ")}
        open={back}
        onClose={() => setBack(false)}
        words={words}
      />
    </section>
  );
}
