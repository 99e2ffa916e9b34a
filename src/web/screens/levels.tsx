// Levels: all gauges of a craft in small pictures, worst first, and one of them in full: its picture, what it does in a
// sentence, what does not add up, the method by name, and every reading as a table.
import { useMemo, useState } from "react";
import type { ReadingFact } from "../../core/facts/craft.ts";
import { craftLevels, type CraftLevels, type GaugeLevels } from "../../core/level/craft-levels.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { type LookBack, lookBacks, recent_h } from "../../present/plots/level-plot.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useWide } from "../parts/use-wide.ts";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { ReadingForm, UpliftForm } from "./levels-entry.tsx";
import { LevelFile } from "./levels-file.tsx";
import { LevelPlot, SmallLevels } from "./levels-plot.tsx";
import { LevelQuestions, StartAnew } from "./levels-questions.tsx";
import { unitOf, useLevelsWords } from "./levels-reading.tsx";
import { LevelTable } from "./levels-table.tsx";
import { WithdrawSheet } from "./levels-withdraw.tsx";
import { methodTexts, scatterText, sentenceOf, stateText, type Telling, worstFirst } from "./levels-view.ts";
import "../look/levels.css";

const nothing: CraftLevels = { hours_h: null, gauges: [] };

export function LevelsScreen({ craft }: { readonly craft: CraftView }) {
  const { now_ms } = useSnapshot();
  const words = useWords();
  const levels = useLevelsWords();
  const locale = useLocale();
  const wide = useWide();
  const { sheet, state } = craft;
  const of = sheet === null ? nothing : craftLevels(sheet, state, now_ms);
  const sorted = useMemo(() => worstFirst(of.gauges), [of]);
  const [id, setId] = useState<string | null>(null);
  const [entering, setEntering] = useState<"reading" | "uplift" | null>(null);
  const telling: Telling = { words, levels, locale };
  const chosen = sorted.find(({ gauge }) => gauge.id === id) ?? (wide ? (sorted[0] ?? null) : null);
  const hours =
    of.hours_h === null
      ? levels.airframeNotKnown
      : levels.airframe(displayNumber(of.hours_h, 1, "both", locale.language));
  const form = {
    craft,
    gauges: of.gauges,
    chosen: id === null ? null : chosen,
    telling,
    onDone: () => setEntering(null),
  };
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${words.app.screens.levels}`}
      nameAs="h1"
      foot={
        <TwoButtons
          left={{ children: levels.fill, note: levels.fillNote, onPress: () => setEntering("uplift") }}
          right={{ children: levels.read, note: levels.readNote, onPress: () => setEntering("reading") }}
        />
      }
    >
      {of.gauges.length === 0 ? (
        <Empty title={levels.none}>{levels.noneBody}</Empty>
      ) : (
        <div className="level-columns">
          {(wide || chosen === null) && (
            <div className="stack-wide">
              <p className="quiet small">{hours}</p>
              <Gauges gauges={sorted} chosen={chosen} telling={telling} onChoose={setId} />
              <LevelFile craft={craft} levels={of} />
            </div>
          )}
          {chosen !== null && (
            <div className="stack">
              {!wide && (
                <Button look="plain" onPress={() => setId(null)}>
                  {levels.all}
                </Button>
              )}
              <OneGauge
                craft={craft}
                one={chosen}
                now_h={of.hours_h}
                telling={telling}
                key={chosen.gauge.id}
              />
            </div>
          )}
        </div>
      )}
      <Sheet title={levels.read} open={entering === "reading"} onClose={() => setEntering(null)}>
        <ReadingForm {...form} />
      </Sheet>
      <Sheet title={levels.uplift.title} open={entering === "uplift"} onClose={() => setEntering(null)}>
        <UpliftForm {...form} />
      </Sheet>
    </Frame>
  );
}

type GaugesProps = {
  readonly gauges: readonly GaugeLevels[];
  readonly chosen: GaugeLevels | null;
  readonly telling: Telling;
  readonly onChoose: (id: string) => void;
};

function Gauges({ gauges, chosen, telling, onChoose }: GaugesProps) {
  const { levels } = telling;
  const followed = gauges.filter(({ trend }) => trend !== null);
  const others = gauges.filter(({ trend }) => trend === null);
  return (
    <>
      {[
        { name: levels.followed, note: null, list: followed },
        { name: levels.others, note: levels.othersNote, list: others },
      ]
        .filter(({ list }) => list.length > 0)
        .map(({ name, note, list }) => (
          <section key={name} className="stack">
            <h2 className="heading-small">{name}</h2>
            {note !== null && <p className="small quiet">{note}</p>}
            <ul className="level-gauges">
              {list.map((one) => (
                <li key={one.gauge.id}>
                  <GaugeButton
                    one={one}
                    telling={telling}
                    isChosen={one === chosen}
                    onChoose={() => onChoose(one.gauge.id)}
                  />
                </li>
              ))}
            </ul>
          </section>
        ))}
    </>
  );
}

type GaugeButtonProps = {
  readonly one: GaugeLevels;
  readonly telling: Telling;
  readonly isChosen: boolean;
  readonly onChoose: () => void;
};

function GaugeButton({ one, telling, isChosen, onChoose }: GaugeButtonProps) {
  const { words, levels, locale } = telling;
  const { gauge, trend, series } = one;
  const newest = series.points.at(-1)?.reading;
  const isLoud = trend?.watch?.alarm != null || trend?.rise != null || one.questions.length > 0;
  return (
    <button type="button" className="level-gauge" aria-current={isChosen || undefined} onClick={onChoose}>
      <span className="level-gauge-name">{asTitle(gauge.name[locale.language], locale.language)}</span>
      {trend !== null && <SmallLevels one={one} />}
      <span className="level-gauge-value mono">
        {newest === undefined ? levels.notRead : `${newest.typed} ${unitOf(newest.unit, words)}`}
      </span>
      {trend !== null && (
        <span className="level-gauge-state small" data-loud={isLoud || undefined}>
          {stateText(one, telling)}
        </span>
      )}
    </button>
  );
}

type OneProps = {
  readonly craft: CraftView;
  readonly one: GaugeLevels;
  readonly now_h: number | null;
  readonly telling: Telling;
};

function OneGauge({ craft, one, now_h, telling }: OneProps) {
  const { now_ms } = useSnapshot();
  const { words, levels, locale } = telling;
  const names = useNames(craft);
  const [back, setBack] = useState<LookBack>("recent");
  const [mistyped, setMistyped] = useState<ReadingFact | null>(null);
  const { gauge, series } = one;
  const newest = series.points.at(-1)?.reading;
  const [first, ...others] = sentenceOf(one, now_h, telling);
  const scatter = scatterText(one, telling);
  const lookBackNames = {
    recent: levels.lastHours(String(recent_h)),
    change: levels.change,
    whole: levels.whole,
  };
  return (
    <article className="stack">
      <header>
        <h2 className="head">{asTitle(gauge.name[locale.language], locale.language)}</h2>
        <p className="quiet">
          {newest === undefined
            ? levels.notRead
            : `${newest.typed} ${unitOf(newest.unit, words)}, ${timeSeenFrom(now_ms, newest.at_ms, locale)}`}
        </p>
      </header>
      {first !== undefined && <p className="lead level-sentence">{first}</p>}
      {others.map((sentence) => (
        <p key={sentence} className="level-sentence">
          {sentence}
        </p>
      ))}
      <LevelPlot one={one} now_h={now_h} back={back} telling={telling} />
      <ChoiceRow
        name={levels.show}
        nameHidden
        choices={lookBacks
          .filter((value) => value !== "change" || one.trend?.watch?.alarm != null)
          .map((value) => ({ value, label: lookBackNames[value] }))}
        value={back}
        onChoose={setBack}
      />
      {scatter !== null && <p className="small">{scatter}</p>}
      <LevelQuestions craft={craft} one={one} />
      {one.trend !== null && (
        <section className="stack">
          <h3 className="heading-small">{levels.method.name}</h3>
          {methodTexts(one, telling).map((text) => (
            <p key={text} className="small quiet">
              {text}
            </p>
          ))}
          <StartAnew craft={craft} one={one} />
        </section>
      )}
      <LevelTable one={one} names={names} telling={telling} onWithdraw={setMistyped} />
      <WithdrawSheet craft={craft} reading={mistyped} telling={telling} onClose={() => setMistyped(null)} />
    </article>
  );
}
