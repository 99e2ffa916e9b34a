// A power check: conditions and the measured value in, the margin against the chart and its place among those before out,
// recorded under the engine's gauge with what was measured beside it.
import { useState } from "react";
import { chartOf } from "../../core/chart/chart.ts";
import type { Lack } from "../../core/chart/read-chart.ts";
import { own } from "../../core/facts/own.ts";
import { placeInTrend, powerCheck } from "../../core/power/power-check.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { evaluateApplicability } from "../../core/sheet/applicability.ts";
import type { ChartUse, SheetChart } from "../../core/sheet/chart-blocks.ts";
import type { Gauge } from "../../core/sheet/gauge-blocks.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { craftConfigOf } from "../../core/walk/craft-config.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { chartsWordsIn } from "../../present/words/charts-words.ts";
import { powerWordsIn } from "../../present/words/power-words.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp } from "./app-context.tsx";
import { amountText, quantityName, type Telling, unitName } from "./charts-view.ts";
import { decimalsOf, unitOf } from "./levels-reading.tsx";
import { chartLackText } from "./power-view.ts";

type CheckUse = Extract<ChartUse, { readonly for: "powerCheck" }>;
type Check = { readonly id: string; readonly block: SheetChart; readonly use: CheckUse };

/** The sheet's power checks that this craft may have. */
function checksOf({ charts }: Sheet, { state }: CraftView): readonly Check[] {
  return Object.entries(charts).flatMap(([id, block]) => {
    if (block.use?.for !== "powerCheck") return [];
    const applies = evaluateApplicability(block.applies, craftConfigOf(state), {}).value !== false;
    return applies ? [{ id, block, use: block.use }] : [];
  });
}

export function PowerCheck({ craft, sheet }: { readonly craft: CraftView; readonly sheet: Sheet }) {
  return checksOf(sheet, craft).map((check) => (
    <OneCheck key={check.id} craft={craft} sheet={sheet} check={check} />
  ));
}

type OneCheckProps = { readonly craft: CraftView; readonly sheet: Sheet; readonly check: Check };

function OneCheck({ craft, sheet, check: { block, use } }: OneCheckProps) {
  const { language } = useLocale();
  const { check: words } = powerWordsIn(language);
  const gauges = use.gauges.flatMap((id) => sheet.gauges.filter((gauge) => gauge.id === id));
  const [chosen, setChosen] = useState<string | null>(null);
  const gauge = gauges.find(({ id }) => id === chosen) ?? null;
  return (
    <section className="stack">
      <h2 className="heading-small">{words.name}</h2>
      <ChoiceRow
        name={words.engine}
        width="long"
        choices={gauges.map(({ id, name }) => ({ value: id, label: asTitle(name[language], language) }))}
        value={chosen}
        onChoose={setChosen}
      />
      {gauge !== null && <Measured key={gauge.id} craft={craft} gauge={gauge} block={block} use={use} />}
    </section>
  );
}

const scale = { decimals: 1 } as const;

type MeasuredProps = {
  readonly craft: CraftView;
  readonly gauge: Gauge;
  readonly block: SheetChart;
  readonly use: CheckUse;
};

function Measured({ craft, gauge, block, use }: MeasuredProps) {
  const { device } = useApp();
  const { language } = useLocale();
  const allWords = useWords();
  const words = powerWordsIn(language);
  const telling: Telling = { words: allWords, charts: chartsWordsIn(language), language };
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const [recorded, setRecorded] = useState<string | null>(null);
  const chart = chartOf(block);
  const keys = [...chart.inputs, chart.output];
  const numbers = keys.map((key) => [key, readTypedNumber(typed[key] ?? "", scale, language)] as const);
  const given = Object.fromEntries(
    numbers.flatMap(([key, { value, issue }]) => (value === null || issue !== null ? [] : [[key, value]])),
  ) as Readonly<Record<string, number>>;
  const isWhole = keys.every((key) => key in given);
  const measured = given[chart.output];
  const found =
    isWhole && measured !== undefined ? powerCheck({ chart, worse: use.worse }, given, measured) : null;
  const amount = (value: number, decimals = decimalsOf(gauge)) =>
    `${displayNumber(value, decimals, "lower", language)} ${unitOf(gauge.unit, allWords)}`;
  const record = async (margin: number) => {
    const said = keys.map((key) => `${key} ${typed[key]?.trim() ?? ""}`).join(", ");
    const oat_C = given["temperature_C"];
    await device.read(craft.ledger, gauge.id, {
      value: margin,
      unit: gauge.unit,
      typed: said,
      conditions: oat_C === undefined ? {} : { oat_C },
    });
    setRecorded(amount(margin, 1));
    setTyped({});
  };
  return (
    <>
      {keys.map((key) => {
        const unit = unitName(key, telling);
        const name = asTitle(quantityName(key, telling), language);
        const label = key === chart.output ? words.check.measured(name) : name;
        return (
          <Field
            key={key}
            label={unit === "" ? label : `${label}, ${unit}`}
            value={typed[key] ?? ""}
            inputMode="decimal"
            onChange={(value) => {
              setRecorded(null);
              setTyped((before) => ({ ...before, [key]: value }));
            }}
          />
        );
      })}
      <output className="power-answers">
        {recorded !== null && <p>{words.check.recorded(recorded)}</p>}
        {found?.is === "notKnown" && <Lacks lacks={found.lacks} telling={telling} />}
        {found?.is === "known" && (
          <>
            <p>{words.check.expected(amountText(found.expected, chart.output, telling))}</p>
            <p className="power-margin">{words.check.margin(amount(found.margin, 1))}</p>
            {!found.givesFullPower && <p role="alert">{words.check.below}</p>}
            <PlaceAmong craft={craft} gauge={gauge} margin={found.margin} amount={amount} />
          </>
        )}
      </output>
      <Button
        look="filled"
        onPress={() => {
          if (found?.is === "known") void record(found.margin);
        }}
        {...(found?.is === "known" ? {} : { why: words.check.needs })}
      >
        {words.check.record}
      </Button>
    </>
  );
}

function Lacks({ lacks, telling }: { readonly lacks: readonly Lack[]; readonly telling: Telling }) {
  const words = powerWordsIn(telling.language);
  return lacks.map((lack) => (
    <p key={lack.input}>
      <b>{words.notKnown}</b>: {chartLackText(lack, words, telling)}
    </p>
  ));
}

type PlaceAmongProps = {
  readonly craft: CraftView;
  readonly gauge: Gauge;
  readonly margin: number;
  readonly amount: (value: number, decimals?: number) => string;
};

/** Where the margin stands among those of this engine before it. */
function PlaceAmong({ craft, gauge, margin, amount }: PlaceAmongProps) {
  const { language } = useLocale();
  const { check: words } = powerWordsIn(language);
  const before = (own(craft.state.readings, gauge.id) ?? [])
    .filter(({ withdrawn }) => withdrawn === undefined)
    .toSorted((a, b) => a.at_ms - b.at_ms)
    .map(({ value }) => value);
  const place = placeInTrend(before, margin);
  if (place.sinceLast === null) return <p className="small quiet">{words.first}</p>;
  const change = `${place.sinceLast < 0 ? "" : "+"}${amount(place.sinceLast, 1)}`;
  return (
    <p className="small quiet">
      {words.sinceLast(change)};{" "}
      {place.isLowest ? words.isLowest(before.length + 1) : words.notLowest(place.lowerBefore, before.length)}
    </p>
  );
}
