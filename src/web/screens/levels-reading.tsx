// Reading a gauge, wherever it is done: the number as typed or stepped, never prefilled; what it can have been meant as is
// asked; the conditions that the sheet wants; and at once whether it can be compared with the readings before.
import { useState } from "react";
import type { ReactNode } from "react";
import { latestReadings } from "../../core/level/assess.ts";
import { needsBottle } from "../../core/level/at-temperature.ts";
import { shutdownClock, whyNotComparable } from "../../core/level/comparability.ts";
import { readingVerdict } from "../../core/level/reading-verdict.ts";
import { readTypedReading, type TypedReading } from "../../core/level/typed-reading.ts";
import { minute_ms } from "../../core/facts/instant.ts";
import type { ReadingFact } from "../../core/facts/craft.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Gauge } from "../../core/sheet/gauge-blocks.ts";
import { readTypedNumber, typedText } from "../../present/typed-number.ts";
import type { Scale, TypedNumber } from "../../present/typed-number.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { Locale } from "../../present/words/language.ts";
import { type LevelsWords, levelsWordsIn } from "../../present/words/levels-words.ts";
import { type Words, wordsIn } from "../../present/words/words.ts";
import type { CraftView, NewReading } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useSnapshot } from "./app-context.tsx";

const airScale: Scale = { decimals: 1, lowest: -60, highest: 60 };
const minutesScale: Scale = { decimals: 0, lowest: 0, highest: 10_000 };
/** How long what was said of the ground holds for the next gauge. */
const sameStand_ms = 60 * minute_ms;

export function useLevelsWords(): LevelsWords {
  return levelsWordsIn(useLocale().language);
}

/** Decimals that the gauge's own step has. */
export function decimalsOf({ step }: Pick<Gauge, "step">): number {
  return Math.max(0, (String(step).split(".")[1] ?? "").length);
}

/** A unit as it stands after a number; a count has none. */
export function unitOf(unit: string, { units }: Words): string {
  if (unit === "count") return "";
  return units[unit as keyof typeof units] ?? unit;
}

export type ReadingEntry = {
  readonly fields: ReactNode;
  /** What would be recorded; null while something is missing. */
  readonly reading: NewReading | null;
  /** What is missing, in words. */
  readonly why: string | null;
  readonly isOutside: boolean;
};

/** The fields for one gauge and what they hold. `label` says what to read. */
export function useReadingEntry(craft: CraftView, gauge: Gauge, label: string): ReadingEntry {
  const { now_ms } = useSnapshot();
  const words = useWords();
  const levels = useLevelsWords();
  const locale = useLocale();
  const [typed, setTyped] = useState("");
  const [confirmed, setConfirmed] = useState<string | null>(null);
  const conditions = useConditions(craft, gauge);
  const scale: Scale = {
    decimals: decimalsOf(gauge),
    lowest: gauge.plausible.low,
    highest: gauge.plausible.high,
  };
  const value = readTypedNumber(typed, scale, locale.language);
  const meant = readTypedReading(gauge, typed, locale.language);
  const isRead =
    isWhole(value) && meant.is === "number" && (meant.asked === null || confirmed === typed.trim());
  const unit = unitOf(gauge.unit, words);
  const [last] = latestReadings(craft.state, gauge.id);
  const taken = isRead ? { value: value.value!, unit: gauge.unit, conditions: conditions.said } : null;
  const verdict = taken === null || conditions.isMissing ? null : readingVerdict(gauge, taken);
  const isOutside = verdict?.is === "below" || verdict?.is === "above";
  const hint =
    value.value === null
      ? bandWords(gauge, locale, unit)
      : last === undefined
        ? ""
        : words.screens.walk.lastRead(`${last.typed} ${unit}`, timeSeenFrom(now_ms, last.at_ms, locale));
  const whyNot =
    taken === null || conditions.isMissing ? null : whyNotComparable(gauge, taken, conditions.minutes);
  const fields = (
    <>
      <Stepper
        label={label}
        typed={typed}
        onTyped={setTyped}
        scale={scale}
        step={gauge.step}
        startAt={middle(gauge)}
        unit={unit}
        hint={hint}
        issue={isOutside ? words.screens.walk.outside : null}
      />
      <Meant
        meant={meant}
        typed={typed.trim()}
        unit={unit}
        gauge={gauge}
        confirmed={confirmed === typed.trim()}
        onTake={(number) => setTyped(typedText(number, scale.decimals, locale.language))}
        onConfirm={() => setConfirmed(typed.trim())}
      />
      {conditions.fields}
      {whyNot !== null && gauge.trend !== undefined && (
        <p className="small quiet" aria-live="polite">
          {whyNot.length === 0
            ? levels.conditions.comparable
            : levels.conditions.notComparable(whyNot.map((why) => levels.whyNot[why]).join(", "))}
        </p>
      )}
    </>
  );
  const whyNotYet = (): string | null => {
    if (isRead) return conditions.isMissing ? levels.entry.needsConditions : null;
    return meant.is === "number" && meant.asked !== null ? levels.entry.needsAnswer : levels.entry.needsValue;
  };
  return {
    fields,
    reading: taken === null || conditions.isMissing ? null : { ...taken, typed: typed.trim() },
    why: whyNotYet(),
    isOutside,
  };
}

type MeantProps = {
  readonly meant: TypedReading;
  readonly typed: string;
  readonly unit: string;
  readonly gauge: Gauge;
  readonly confirmed: boolean;
  readonly onTake: (value: number) => void;
  readonly onConfirm: () => void;
};

/** What the typed text may have been meant as, asked; nothing is changed before somebody says so. */
function Meant({ meant, typed, unit, gauge, confirmed, onTake, onConfirm }: MeantProps) {
  const levels = useLevelsWords();
  const allWords = useWords();
  const { language } = useLocale();
  const decimals = decimalsOf(gauge);
  const amount = (value: number) => `${displayNumber(value, decimals, "both", language)} ${unit}`;
  if (meant.is === "empty" || (meant.is === "number" && (meant.asked === null || confirmed))) return null;
  if (meant.is === "number") {
    return (
      <div className="stack" role="alert">
        <p>{levels.typed.aboveCapacity(amount(gauge.capacity ?? 0))}</p>
        <Button onPress={onConfirm}>{levels.typed.asRead}</Button>
      </div>
    );
  }
  switch (meant.why) {
    case "share":
      return (
        <p role="alert">
          {meant.value === null
            ? levels.typed.shareOnly(typed)
            : levels.typed.share(typed, amount(meant.value))}
        </p>
      );
    case "negative":
      return <p role="alert">{levels.typed.negative}</p>;
    case "implausible": {
      const other = meant.meant;
      if (other === null) return <p role="alert">{levels.typed.implausible}</p>;
      return (
        <div className="stack" role="alert">
          <p>{levels.typed.otherUnit(typed, unitOf(other.unit, allWords), amount(other.value))}</p>
          <Button onPress={() => onTake(other.value)}>{levels.typed.take(amount(other.value))}</Button>
        </div>
      );
    }
    default:
      // What is no number, or two, the field itself says.
      return null;
  }
}

type Conditions = {
  readonly fields: ReactNode;
  readonly said: ReadingFact["conditions"];
  readonly minutes: number | null;
  readonly isMissing: boolean;
};

function useConditions(craft: CraftView, gauge: Gauge): Conditions {
  const { now_ms } = useSnapshot();
  const { conditions: words } = useLevelsWords();
  const locale = useLocale();
  const [state, setState] = useState<"hot" | "cold" | null>(null);
  const [level, setLevel] = useState<"yes" | "no" | null>(() => groundSaid(craft, now_ms));
  const [minutesTyped, setMinutesTyped] = useState("");
  const [air, setAir] = useState("");
  const [bottle, setBottle] = useState("");
  const { afterShutdownMin_min: soonest, afterShutdownMax_min: latest } = gauge.conditions;
  const asksMinutes = soonest !== undefined || latest !== undefined;
  const logged = asksMinutes ? shutdownClock(craft.state.flights)(now_ms) : null;
  const asked = readTypedNumber(minutesTyped, minutesScale, locale.language);
  const minutes = logged === null ? asked.value : Math.floor(logged);
  const oat = readTypedNumber(air, airScale, locale.language);
  const bottled = readTypedNumber(bottle, airScale, locale.language);
  const asksState = gauge.conditions.state !== "any";
  const asksLevel = gauge.conditions.levelGround;
  const asksBottle = needsBottle(gauge);
  const asksAir = gauge.conditions.temperatureNeeded && !asksBottle;
  const isMissing =
    (asksState && state === null) ||
    (asksLevel && level === null) ||
    (asksAir && !isWhole(oat)) ||
    (asksBottle && !isWhole(bottled));
  const wanted =
    soonest === undefined
      ? words.wantedUntil(String(latest))
      : latest === undefined
        ? words.wantedFrom(String(soonest))
        : words.wanted(String(soonest), String(latest));
  const fields = (
    <>
      {asksMinutes &&
        (logged === null ? (
          <Stepper
            label={words.afterShutdownAsk}
            typed={minutesTyped}
            onTyped={setMinutesTyped}
            scale={minutesScale}
            step={5}
            startAt={soonest ?? 0}
            unit="min"
            hint={wanted}
          />
        ) : (
          <p>
            {words.afterShutdown(displayNumber(Math.floor(logged), 0, "both", locale.language))}
            <span className="small quiet"> {wanted}</span>
          </p>
        ))}
      {asksState && (
        <ChoiceRow
          name={words.state}
          choices={[
            { value: "hot", label: words.hot },
            { value: "cold", label: words.cold },
          ]}
          value={state}
          onChoose={setState}
        />
      )}
      {asksLevel && (
        <ChoiceRow
          name={words.level}
          choices={[
            { value: "yes", label: words.yes },
            { value: "no", label: words.no },
          ]}
          value={level}
          onChoose={setLevel}
        />
      )}
      {asksAir && (
        <Stepper
          label={words.oat}
          typed={air}
          onTyped={setAir}
          scale={airScale}
          step={1}
          startAt={0}
          unit="°C"
        />
      )}
      {asksBottle && (
        <Stepper
          label={words.bottle}
          typed={bottle}
          onTyped={setBottle}
          scale={airScale}
          step={1}
          startAt={0}
          unit="°C"
        />
      )}
    </>
  );
  return {
    fields,
    minutes,
    isMissing,
    said: {
      // What the record says itself is not said again.
      ...(logged === null && asked.value !== null ? { minutesAfterShutdown: asked.value } : {}),
      ...(state === null ? {} : { hot: state === "hot" }),
      ...(level === null ? {} : { level: level === "yes" }),
      ...(oat.value === null ? {} : { oat_C: oat.value }),
      ...(bottled.value === null ? {} : { bottle_C: bottled.value }),
    },
  };
}

/** What was said of the ground a short time ago: the machine has not moved since, unless it has flown. */
function groundSaid({ state, draft }: CraftView, now_ms: number): "yes" | "no" | null {
  const landed_ms = Math.max(0, ...state.flights.map(({ on_ms }) => on_ms));
  const drafted = Object.values(draft?.readings ?? {}).map(({ conditions }) => conditions.level);
  const taken = Object.values(state.readings)
    .flatMap((readings) => readings.slice(-2))
    .filter(({ at_ms }) => at_ms > Math.max(landed_ms, now_ms - sameStand_ms))
    .toSorted((a, b) => a.at_ms - b.at_ms)
    .map(({ conditions }) => conditions.level);
  const said = [...taken, ...drafted].findLast((level) => level !== undefined);
  return said === undefined ? null : said ? "yes" : "no";
}

function bandWords({ low, high, band }: Gauge, locale: Locale, unit: string): string {
  const { walk } = wordsIn(locale.language).screens;
  if (band !== undefined || (low === undefined && high === undefined)) return "";
  const decimals = (value: number) => (String(value).split(".")[1] ?? "").length;
  const amount = (value: number) =>
    `${displayNumber(value, decimals(value), "both", locale.language)} ${unit}`;
  if (low === undefined) return walk.atMost(amount(high?.value ?? 0));
  return high === undefined
    ? walk.atLeast(amount(low.value))
    : walk.band(amount(low.value), amount(high.value));
}

function isWhole({ value, issue }: TypedNumber): boolean {
  return value !== null && issue === null;
}

/** The middle of the scale, on the gauge's own step: where the first press begins, never the last reading. */
function middle({ plausible, step }: Gauge): number {
  return Math.round((plausible.low + plausible.high) / 2 / step) * step;
}
