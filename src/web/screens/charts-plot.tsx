// The picture of a chart: its lines with the value of each at its end, the copied points on them. Which input runs across
// and at which nodes the others stand is the reader's choice. The table of points says the same to a screen reader.
import { useMemo, useState } from "react";
import type { PlainChart } from "../../core/chart/chart.ts";
import { type ChartView, firstView, plotChart } from "../../present/plots/chart-plot.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { useWidth } from "../parts/use-width.ts";
import { amountText, numberText, quantityName, type Telling, unitName } from "./charts-view.ts";

type ChartPictureProps = { readonly chart: PlainChart; readonly name: string; readonly telling: Telling };

export function ChartPicture({ chart, name, telling }: ChartPictureProps) {
  const { charts, language } = telling;
  const [view, setView] = useState<ChartView>(() => firstView(chart));
  const [ref, width] = useWidth<HTMLElement>(358);
  const height = Math.round(Math.min(480, Math.max(250, width * 0.62)));
  const plot = useMemo(() => plotChart(chart, view, width, height), [chart, view, width, height]);
  const withUnit = (key: string) => {
    const unit = unitName(key, telling);
    return `${quantityName(key, telling)}${unit === "" ? "" : `, ${unit}`}`;
  };
  return (
    <div className="stack">
      <figure ref={ref} className="chart-plot">
        <p className="chart-axis-name small quiet">{asTitle(withUnit(chart.output), language)}</p>
        <svg
          width={width}
          height={height}
          viewBox={`0 0 ${width} ${height}`}
          role="img"
          aria-label={charts.picture(name)}
        >
          {plot.outputTicks.map(({ at, value }) => (
            <g key={value}>
              <path className="chart-rule" d={`M${plot.left} ${at}H${plot.right}`} />
              <text className="chart-tick" x={plot.left - 8} y={at + 4} textAnchor="end">
                {numberText(value, language)}
              </text>
            </g>
          ))}
          {plot.alongTicks.map(({ at, value }) => (
            <g key={value}>
              <path className="chart-rule" d={`M${at} ${plot.top}V${plot.bottom}`} />
              <text className="chart-tick" x={at} y={plot.bottom + 20} textAnchor="middle">
                {numberText(value, language)}
              </text>
            </g>
          ))}
          {plot.lines.map(({ path, value }) => (
            <path key={value ?? "only"} className="chart-line" d={path} />
          ))}
          {plot.lines.map(({ points, value }) => (
            <path key={value ?? "only"} className="chart-points" d={points} />
          ))}
          {plot.lines.map(({ value, label }) =>
            value === null ? null : (
              <text key={value} className="chart-label" x={label[0] + 7} y={label[1] + 4}>
                {numberText(value, language)}
              </text>
            ),
          )}
        </svg>
        <figcaption className="small quiet">
          {asTitle(withUnit(view.along), language)}
          {view.across !== null && ` · ${charts.lines}: ${withUnit(view.across)}`}
        </figcaption>
      </figure>
      {chart.kind === "grid" && chart.axes.length > 1 && (
        <GridChoices chart={chart} view={view} telling={telling} onView={setView} />
      )}
    </div>
  );
}

type GridChoicesProps = {
  readonly chart: Extract<PlainChart, { kind: "grid" }>;
  readonly view: ChartView;
  readonly telling: Telling;
  readonly onView: (view: ChartView) => void;
};

function GridChoices({ chart, view, telling, onView }: GridChoicesProps) {
  const { charts, language } = telling;
  const inputs = chart.axes.map(({ input }) => input);
  const choices = inputs.map((input) => ({ value: input, label: quantityName(input, telling) }));
  const withFixed = (along: string, across: string): ChartView => ({
    along,
    across,
    fixed: Object.fromEntries(
      chart.axes
        .filter(({ input }) => input !== along && input !== across)
        .map(({ input, at }) => [input, view.fixed[input] ?? at[at.length >> 1]!]),
    ),
  });
  const other = (not: string) => inputs.find((input) => input !== not)!;
  return (
    <div className="stack">
      <ChoiceRow
        name={charts.across}
        choices={choices}
        value={view.along}
        width="long"
        onChoose={(along) =>
          onView(withFixed(along, view.across === null || view.across === along ? other(along) : view.across))
        }
      />
      {inputs.length > 2 && (
        <ChoiceRow
          name={charts.lines}
          choices={choices.filter(({ value }) => value !== view.along)}
          value={view.across}
          width="long"
          onChoose={(across) => onView(withFixed(view.along, across))}
        />
      )}
      {Object.entries(view.fixed).map(([input, node]) => (
        <ChoiceRow
          key={input}
          name={asTitle(charts.stands(quantityName(input, telling)), language)}
          choices={chart.axes
            .find((axis) => axis.input === input)!
            .at.map((value) => ({ value: String(value), label: amountText(value, input, telling) }))}
          value={String(node)}
          onChoose={(value) => onView({ ...view, fixed: { ...view.fixed, [input]: Number(value) } })}
        />
      ))}
    </div>
  );
}
