// Every point of a chart with the steps to its neighbours; what stands out first, everything on demand.
import { useMemo, useState } from "react";
import type { ReactNode } from "react";
import type { PlainChartBlock } from "../../core/chart/chart-schema.ts";
import {
  type Neighbouring,
  neighbourDifferences,
  type PointDifferences,
} from "../../core/chart/neighbour-differences.ts";
import { Button } from "../parts/button.tsx";
import { type Column, Table } from "../parts/table.tsx";
import { amountText, numberText, placeText, quantityName, type Telling } from "./charts-view.ts";

type ChartPointsProps = { readonly block: PlainChartBlock; readonly telling: Telling };

export function ChartPoints({ block, telling }: ChartPointsProps) {
  const { charts, language } = telling;
  const { differences: words } = charts;
  const points = useMemo(() => neighbourDifferences(block), [block]);
  const [all, setAll] = useState(false);
  const doubtful = points.filter((point) => standsOut(point));
  const inputs = Object.keys(points[0]?.by ?? {});
  const columns: Column<PointDifferences>[] = [
    { id: "at", head: charts.points, kind: "name", cell: ({ at }) => placeText(at, telling) },
    {
      id: "value",
      head: quantityName(block.output, telling),
      kind: "number",
      cell: ({ value }) => amountText(value, block.output, telling),
    },
    ...inputs.flatMap((input): Column<PointDifferences>[] => [
      {
        id: `step ${input}`,
        head: words.step(quantityName(input, telling)),
        kind: "number",
        cell: ({ by }) => signed(by[input]?.step ?? null, language),
      },
      {
        id: `off ${input}`,
        head: words.off(quantityName(input, telling)),
        kind: "number",
        cell: ({ by }) => departureCell(by[input], language),
      },
    ]),
    { id: "look", head: words.hint, cell: (point) => lookAgainCell(point, words.standsOut) },
  ];
  const rows = all ? points : doubtful;
  return (
    <section className="stack">
      <h3 className="heading-small">{words.name}</h3>
      <p className="small quiet">{words.note}</p>
      {rows.length > 0 ? (
        <Table
          caption={words.found(doubtful.length)}
          columns={columns}
          rows={rows}
          rowId={({ path }) => path}
        />
      ) : (
        <p>{words.found(0)}</p>
      )}
      <Button look="plain" onPress={() => setAll((before) => !before)}>
        {all ? words.only : words.all}
      </Button>
    </section>
  );
}

const standsOut = ({ by }: PointDifferences): boolean => Object.values(by).some((near) => near.standsOut);

function departureCell(near: Neighbouring | undefined, language: Telling["language"]): ReactNode {
  const text = signed(near?.departure ?? null, language);
  return near?.standsOut === true ? <b>{text}</b> : text;
}

function lookAgainCell(point: PointDifferences, words: string): ReactNode {
  return standsOut(point) ? <b>{words}</b> : "";
}

function signed(value: number | null, language: Telling["language"]): string {
  if (value === null) return "–";
  const text = numberText(Math.round(value * 100) / 100 + 0, language);
  return value > 0 ? `+${text}` : text;
}
