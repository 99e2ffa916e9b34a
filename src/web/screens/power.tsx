// Power: what the sheet's charts give for a mass at a place, what would just be met there, and the engines' power checks.
// Nothing is assumed: what is not typed is not known.
import { useMemo, useState } from "react";
import { loadedCraft, standingWeighings } from "../../core/load/assess.ts";
import type { SiteWind } from "../../core/power/chart-wind.ts";
import type { FlightState } from "../../core/power/power-margin.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { craftConfigOf } from "../../core/walk/craft-config.ts";
import { chartsWordsIn } from "../../present/words/charts-words.ts";
import { powerWordsIn } from "../../present/words/power-words.ts";
import { readTypedNumber, type Scale, typedText } from "../../present/typed-number.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import type { Telling } from "./charts-view.ts";
import { Frame } from "./frame.tsx";
import { answerOf, draftFrom, statedOf } from "./loading-view.ts";
import { useMassUnit } from "./mass-unit.ts";
import { PowerCheck } from "./power-check.tsx";
import { airThere, behindText, powerRows, type PowerRow, roomText, upToText } from "./power-view.ts";
import "../look/power.css";

const scales = {
  elevation_ft: { decimals: 0, lowest: -1500, highest: 20_000 },
  qnh_hPa: { decimals: 0, lowest: 870, highest: 1085 },
  temperature_C: { decimals: 0, lowest: -60, highest: 60 },
  mass: { decimals: 0, lowest: 0, highest: 20_000 },
  wind_kt: { decimals: 0, lowest: 0, highest: 100 },
} as const satisfies Record<string, Scale>;
type Asked = keyof typeof scales;

type WindSaid = "none" | "head" | "tail";

export function PowerScreen({ craft }: { readonly craft: CraftView }) {
  const { app } = useWords();
  const name = `${craft.name} · ${app.screens.power}`;
  return (
    <Frame craft={craft} name={name} nameAs="h1">
      {craft.sheet !== null && (
        <div className="power-columns">
          <AtPlace craft={craft} sheet={craft.sheet} />
          <PowerCheck craft={craft} sheet={craft.sheet} />
        </div>
      )}
    </Frame>
  );
}

type WithSheet = { readonly craft: CraftView; readonly sheet: Sheet };

function AtPlace({ craft, sheet }: WithSheet) {
  const { language } = useLocale();
  const words = powerWordsIn(language);
  const mass = useMassUnit();
  const [typed, setTyped] = useState<Readonly<Partial<Record<Asked, string>>>>({});
  const [wind, setWind] = useState<WindSaid>("none");
  const numberOf = (asked: Asked): number | null => {
    const { value, issue } = readTypedNumber(typed[asked] ?? "", scales[asked], language);
    return issue === null ? value : null;
  };
  const loaded_kg = useMemo(() => heaviestAsSaid(sheet, craft), [sheet, craft]);
  const type = (asked: Asked) => (text: string) => setTyped((before) => ({ ...before, [asked]: text }));
  const field = (asked: Asked, label: string, step: number, startAt: number, unit: string, hint?: string) => (
    <Stepper
      label={label}
      typed={typed[asked] ?? ""}
      onTyped={type(asked)}
      scale={scales[asked]}
      step={step}
      startAt={startAt}
      unit={unit}
      hint={hint}
    />
  );
  return (
    <>
      <section className="stack">
        <h2 className="heading-small">{words.place}</h2>
        {field("elevation_ft", words.elevation, 100, 0, "ft")}
        {field("qnh_hPa", words.qnh, 1, 1013, "hPa")}
        {field("temperature_C", words.temperature, 1, 0, "°C")}
        {field("mass", words.mass, 10, 2500, mass.unit, words.massHint)}
        {loaded_kg !== null && (
          <Button
            onPress={() => type("mass")(typedText(Math.ceil(mass.toUnit(loaded_kg) - 1e-9), 0, language))}
          >
            {words.takeLoad(mass.text(loaded_kg, "higher"))}
          </Button>
        )}
        <ChoiceRow
          name={words.wind}
          width="long"
          choices={(["none", "head", "tail"] as const).map((value) => ({ value, label: words.winds[value] }))}
          value={wind}
          onChoose={setWind}
        />
        {wind !== "none" && field("wind_kt", words.windSpeed, 1, 0, "kt")}
      </section>
      <Answers
        craft={craft}
        sheet={sheet}
        elevation_ft={numberOf("elevation_ft")}
        qnh_hPa={numberOf("qnh_hPa")}
        temperature_C={numberOf("temperature_C")}
        mass_kg={numberOf("mass") === null ? null : mass.toKg(numberOf("mass")!)}
        wind={windOf(wind, numberOf("wind_kt"))}
      />
    </>
  );
}

/** `lacking` where a wind was said without its speed: then nothing may be read. */
function windOf(said: WindSaid, speed_kt: number | null): SiteWind | null | "lacking" {
  if (said === "none") return null;
  if (speed_kt === null) return "lacking";
  return { headwind_kt: said === "head" ? speed_kt : -speed_kt, measured: true };
}

/** The mass at the start with the heaviest patient of the newest load that was said; null where it cannot be computed. */
function heaviestAsSaid(sheet: Sheet, { state }: CraftView): number | null {
  const [weighing] = standingWeighings(state);
  const loaded = weighing === undefined ? null : loadedCraft(state, weighing);
  if (loaded === null) return null;
  const answer = answerOf(sheet, loaded, statedOf(draftFrom(state.load)), ["normal"]);
  return answer.kind === "judged"
    ? (answer.judgement.flights[0]?.heaviest.track.start.mass_kg ?? null)
    : null;
}

type AnswersProps = WithSheet & {
  readonly elevation_ft: number | null;
  readonly qnh_hPa: number | null;
  readonly temperature_C: number | null;
  readonly mass_kg: number | null;
  readonly wind: SiteWind | null | "lacking";
};

function Answers({ craft, sheet, elevation_ft, qnh_hPa, temperature_C, mass_kg, wind }: AnswersProps) {
  const { language } = useLocale();
  const { sky } = craft;
  const words = powerWordsIn(language);
  const feet = (value: number) => `${displayNumber(value, 0, "higher", language)} ft`;
  const isWhole = elevation_ft !== null && qnh_hPa !== null && temperature_C !== null;
  const air = isWhole ? airThere(elevation_ft, qnh_hPa, temperature_C) : null;
  const isAsked = air !== null && temperature_C !== null && mass_kg !== null && wind !== "lacking";
  const state: FlightState | null = isAsked
    ? { mass_kg, pressureAltitude_ft: air.pressureAltitude_ft, temperature_C, wind }
    : null;
  const ruleSet = sky?.state.settings.at(-1)?.ruleSet ?? "eu";
  return (
    <section className="stack">
      <h2 className="heading-small">{words.answers}</h2>
      <output className="power-answers">
        {air !== null && <p>{words.air(feet(air.pressureAltitude_ft), feet(air.densityAltitude_ft))}</p>}
        {state === null ? (
          <p className="quiet">{words.needs}</p>
        ) : (
          <ul className="rows">
            {powerRows(sheet, craftConfigOf(craft.state), state, ruleSet).map((row) => (
              <OneUse key={row.use} row={row} />
            ))}
          </ul>
        )}
      </output>
      <p className="small quiet">{words.caution}</p>
    </section>
  );
}

function OneUse({ row }: { readonly row: PowerRow }) {
  const { language } = useLocale();
  const allWords = useWords();
  const words = powerWordsIn(language);
  const mass = useMassUnit();
  const telling: Telling = { words: allWords, charts: chartsWordsIn(language), language };
  const say = { words, telling, mass };
  const { answer, largest, highest, hottest } = row;
  const verdict = answer.isMet === null ? words.notKnown : answer.isMet ? words.met : words.missed;
  const numbers = [
    [words.room, roomText(answer, say)],
    [words.largest, upToText(largest, "mass", say)],
    [words.highest, upToText(highest, "altitude", say)],
    [words.hottest, upToText(hottest, "temperature", say)],
  ] as const;
  const behind =
    answer.margins.length === 0 ? [{ said: [words.noChart], points: null }] : behindText(answer, say);
  return (
    <li className="power-use">
      <h3 className="power-name">
        {words.use[row.use]} <span className="power-verdict">{verdict}</span>
      </h3>
      <dl className="power-numbers">
        {numbers.map(([name, text]) => (
          <div key={name}>
            <dt className="small quiet">{name}</dt>
            <dd className="mono">{text}</dd>
          </div>
        ))}
      </dl>
      {behind.map(({ said, points }) => (
        <div key={said.join()} className="small quiet">
          <p>{said.join("; ")}</p>
          {points !== null && (
            <details>
              <summary>{words.usedPoints}</summary>
              <p>{points}</p>
            </details>
          )}
        </div>
      ))}
    </li>
  );
}
