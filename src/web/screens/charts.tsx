// The page for the author of a sheet: every chart with its points, the lines that the program draws through them, what a
// reading gives and from which points, neighbours, control points, and where the chart answers. A file of points is
// looked at in place of the sheet's; the sheet itself is changed by nothing here.
import { useState } from "react";
import { type PlainChart, plainChartOf } from "../../core/chart/chart.ts";
import { coverageOf, pointCount } from "../../core/chart/neighbour-differences.ts";
import type { SheetChart } from "../../core/sheet/chart-blocks.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { chartsWordsIn } from "../../present/words/charts-words.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Notice } from "../parts/notice.tsx";
import { Picker } from "../parts/picker.tsx";
import { useWide } from "../parts/use-wide.ts";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { ChartControls } from "./charts-controls.tsx";
import { ChartFile } from "./charts-file.tsx";
import { ChartPicture } from "./charts-plot.tsx";
import { ChartPoints } from "./charts-points.tsx";
import { ChartReading } from "./charts-reading.tsx";
import {
  amountText,
  type ChartEntry,
  chartEntries,
  placeText,
  quantityName,
  sheetKey,
  stepsOf,
  type Telling,
} from "./charts-view.ts";
import { Frame } from "./frame.tsx";
import "../look/charts.css";

export function ChartsScreen({
  sheet: key,
  chart: id,
}: {
  readonly sheet: string | null;
  readonly chart: string | null;
}) {
  const { craft } = useSnapshot();
  const words = useWords();
  const { language } = useLocale();
  const { goTo } = useApp();
  const wide = useWide();
  const telling: Telling = { words, charts: chartsWordsIn(language), language };
  const sheets = new Map(
    craft.flatMap(({ sheet }) => (sheet === null ? [] : [[sheetKey(sheet), sheet] as const])),
  );
  const [first] = sheets.values();
  const sheet = (key === null ? undefined : sheets.get(key)) ?? first;
  const frame = { craft: null, name: words.app.screens.sheets, nameAs: "h1" } as const;
  if (sheet === undefined) {
    return (
      <Frame {...frame}>
        <Empty title={telling.charts.none}>{telling.charts.noneBody}</Empty>
      </Frame>
    );
  }
  const entries = chartEntries(sheet, telling);
  const chosen = entries.find((entry) => entry.id === id) ?? (wide ? (entries[0] ?? null) : null);
  const show = (chart: string | null) => goTo({ screen: "sheets", sheet: sheetKey(sheet), chart });
  return (
    <Frame {...frame}>
      <div className="chart-columns">
        {(wide || chosen === null) && (
          <div className="stack-wide">
            <SheetChoice
              sheet={sheet}
              sheets={[...sheets.values()]}
              telling={telling}
              onChoose={(other) => goTo({ screen: "sheets", sheet: other, chart: null })}
            />
            <EntryList entries={entries} chosen={chosen} telling={telling} onChoose={show} />
          </div>
        )}
        {chosen !== null && (
          <div className="stack-wide chart-one">
            {!wide && (
              <Button look="plain" onPress={() => show(null)}>
                {telling.charts.all}
              </Button>
            )}
            <OneChart entry={chosen} telling={telling} key={`${sheetKey(sheet)} ${chosen.id}`} />
          </div>
        )}
      </div>
    </Frame>
  );
}

type SheetChoiceProps = {
  readonly sheet: Sheet;
  readonly sheets: readonly Sheet[];
  readonly telling: Telling;
  readonly onChoose: (key: string) => void;
};

function SheetChoice({ sheet, sheets, telling, onChoose }: SheetChoiceProps) {
  const { charts, language } = telling;
  const nameOf = ({ title, revision }: Sheet) => charts.of(title[language], revision);
  return (
    <section className="stack">
      <h2 className="heading-small">{charts.title}</h2>
      {sheets.length === 1 ? (
        <p>{nameOf(sheet)}</p>
      ) : (
        <Picker
          label={charts.sheet}
          choices={sheets.map((one) => ({ id: sheetKey(one), name: nameOf(one) }))}
          value={sheetKey(sheet)}
          onChoose={onChoose}
        />
      )}
      <p className="small quiet">{charts.intro}</p>
    </section>
  );
}

type EntryListProps = {
  readonly entries: readonly ChartEntry[];
  readonly chosen: ChartEntry | null;
  readonly telling: Telling;
  readonly onChoose: (id: string) => void;
};

function EntryList({ entries, chosen, telling, onChoose }: EntryListProps) {
  const { charts } = telling;
  if (entries.length === 0) return <p className="quiet">{charts.empty}</p>;
  return (["charts", "bands"] as const).map((group) => {
    const list = entries.filter((entry) => entry.group === group);
    return list.length === 0 ? null : (
      <section key={group} className="stack">
        <h3 className="heading-small">{charts[group]}</h3>
        <ul className="rows">
          {list.map((entry) => (
            <li key={entry.id}>
              <button
                type="button"
                className="chart-entry"
                aria-current={entry === chosen ? "true" : undefined}
                onClick={() => onChoose(entry.id)}
              >
                <b>{entry.name}</b>
                <span className="small quiet">
                  {[entry.applies, charts.count(pointsIn(entry.block))]
                    .filter((part) => part !== null)
                    .join(" · ")}
                </span>
              </button>
            </li>
          ))}
        </ul>
      </section>
    );
  });
}

const pointsIn = (block: SheetChart): number =>
  stepsOf(block).reduce((sum, step) => sum + pointCount(step), 0);

type Shown = { readonly file: string; readonly block: SheetChart };

function OneChart({ entry, telling }: { readonly entry: ChartEntry; readonly telling: Telling }) {
  const { charts, language } = telling;
  const [shown, setShown] = useState<Shown | null>(null);
  const block = shown?.block ?? entry.block;
  const steps = stepsOf(block);
  const [at, setAt] = useState(steps.length - 1);
  const step = steps[Math.min(at, steps.length - 1)]!;
  const chart = plainChartOf(step);
  const { document, revision, page } = entry.source;
  const { use } = entry.block;
  const about = [entry.applies, use === undefined ? null : charts.use[use.for]]
    .filter((part) => part !== null)
    .join(" · ");
  const between = step.kind === "grid" ? null : charts.between[step.between];
  return (
    <>
      <header className="stack">
        <h2 className="head">{entry.name}</h2>
        {about !== "" && <p>{about}</p>}
        <p className="small quiet">{charts.source(document, revision, page ?? "")}</p>
        <p className="small quiet">
          {[charts.kind[block.kind], block.kind === "chain" ? charts.kind[step.kind] : null, between]
            .filter((part) => part !== null)
            .join("; ")}
        </p>
      </header>
      {shown !== null && (
        <Notice title={charts.file.shown(shown.file)}>
          <p>{charts.file.shownBody}</p>
          <Button onPress={() => setShown(null)}>{charts.file.back}</Button>
        </Notice>
      )}
      {steps.length > 1 && (
        <ChoiceRow
          name={charts.steps}
          choices={steps.map(({ output }, i) => ({
            value: String(i),
            label: charts.step(i + 1, quantityName(output, telling)),
          }))}
          value={String(Math.min(at, steps.length - 1))}
          onChoose={(value) => setAt(Number(value))}
          width="long"
        />
      )}
      <section className="stack">
        <ChartPicture
          chart={chart}
          name={block.kind === "chain" ? asTitle(quantityName(step.output, telling), language) : entry.name}
          telling={telling}
          key={`${at} ${chart.inputs.join(" ")}`}
        />
      </section>
      <ChartReading block={block} telling={telling} key={`read ${shown?.file ?? ""}`} />
      <ChartPoints block={step} telling={telling} key={`points ${at} ${shown?.file ?? ""}`} />
      <ChartControls block={block} telling={telling} />
      <ChartCoverage chart={chart} telling={telling} />
      <ChartFile entry={entry} block={block} telling={telling} onShow={setShown} />
    </>
  );
}

function ChartCoverage({ chart, telling }: { readonly chart: PlainChart; readonly telling: Telling }) {
  const { charts } = telling;
  return (
    <section className="stack">
      <h3 className="heading-small">{charts.coverage.name}</h3>
      <p className="small quiet">{charts.coverage.note}</p>
      <ul className="chart-coverage">
        {coverageOf(chart).map(({ at, ranges }) => (
          <li key={JSON.stringify(at)}>
            {Object.keys(at).length > 0 && <b>{charts.coverage.at(placeText(at, telling))}: </b>}
            {Object.entries(ranges)
              .map(([input, [low, high]]) =>
                charts.coverage.range(
                  quantityName(input, telling),
                  amountText(low, input, telling),
                  amountText(high, input, telling),
                ),
              )
              .join("; ")}
          </li>
        ))}
      </ul>
    </section>
  );
}
