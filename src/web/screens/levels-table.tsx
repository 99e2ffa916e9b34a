// Every reading of a gauge as a table: what the picture shows, in words and numbers, for a screen reader and for a desk.
import { useState } from "react";
import type { ReactNode } from "react";
import type { ReadingFact } from "../../core/facts/craft.ts";
import type { GaugeLevels } from "../../core/level/craft-levels.ts";
import type { SeriesPoint } from "../../core/level/gauge-series.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Names } from "../../present/names.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { Button } from "../parts/button.tsx";
import { type Column, Table } from "../parts/table.tsx";
import { useSnapshot } from "./app-context.tsx";
import { unitOf } from "./levels-reading.tsx";
import { amountText, type Telling } from "./levels-view.ts";

const atFirst = 12;

type Row = SeriesPoint & { readonly filled: number; readonly key: string };

export function LevelTable({
  one,
  names,
  telling,
  onWithdraw,
}: {
  readonly one: GaugeLevels;
  readonly names: Names;
  readonly telling: Telling;
  readonly onWithdraw: (reading: ReadingFact) => void;
}) {
  const { now_ms } = useSnapshot();
  const [shown, setShown] = useState(atFirst);
  const { levels, words, locale } = telling;
  const { table } = levels;
  const rows = rowsOf(one).slice(0, shown);
  const isBrought = one.gauge.gas !== undefined || one.gauge.band !== undefined;
  const columns: Column<Row>[] = [
    {
      id: "time",
      head: table.time,
      kind: "name",
      cell: ({ reading }) => timeSeenFrom(now_ms, reading.at_ms, locale),
    },
    {
      id: "hours",
      head: table.hours,
      kind: "number",
      cell: ({ hours_h }) => (hours_h === null ? "–" : displayNumber(hours_h, 1, "both", locale.language)),
    },
    {
      id: "read",
      head: table.read,
      kind: "number",
      cell: ({ reading }) => `${reading.typed} ${unitOf(reading.unit, words)}`,
    },
    ...(isBrought
      ? [
          {
            id: "at",
            head: table.at,
            kind: "number" as const,
            cell: ({ value }: Row) => (value === null ? "–" : amountText(one, value, telling)),
          },
        ]
      : []),
    {
      id: "filled",
      head: table.filled,
      kind: "number",
      cell: ({ filled }) => (filled === 0 ? "" : levels.plot.filled(amountText(one, filled, telling, 2))),
    },
    {
      id: "compares",
      head: table.compares,
      cell: ({ whyNot }) => compared(whyNot, levels),
    },
    { id: "by", head: table.by, cell: ({ reading }) => names.person(reading.by) },
    {
      id: "withdraw",
      head: table.withdraw,
      cell: ({ reading }) => withdrawCell(reading, names, telling, onWithdraw),
    },
  ];
  return (
    <div className="stack">
      <Table caption={table.name} columns={columns} rows={rows} rowId={({ key }) => key} />
      {one.series.points.length > shown && (
        <Button onPress={() => setShown((count) => count * 4)}>{table.older}</Button>
      )}
    </div>
  );
}

/** The way to take it back, or that it was, by whom and why. */
function withdrawCell(
  reading: ReadingFact,
  names: Names,
  { words, levels: { table } }: Telling,
  onWithdraw: (reading: ReadingFact) => void,
): ReactNode {
  if (reading.withdrawn !== undefined) {
    return table.withdrawnBy(names.person(reading.withdrawn.by), reading.withdrawn.words);
  }
  const label = table.withdrawThis(`${reading.typed} ${unitOf(reading.unit, words)}`);
  return (
    <Button onPress={() => onWithdraw(reading)} label={label}>
      {table.withdrawShort}
    </Button>
  );
}

/** Yes, or everything that keeps it from being compared. */
function compared(whyNot: Row["whyNot"], { table, whyNot: words }: Telling["levels"]): ReactNode {
  if (whyNot.length === 0) return table.yes;
  return <span className="level-why">{whyNot.map((why) => words[why]).join(", ")}</span>;
}

/** Newest first, each with what was filled between the reading before it and itself. */
function rowsOf({ series }: GaugeLevels): readonly Row[] {
  return series.points
    .map((point, index) => ({
      ...point,
      filled: point.added - (series.points[index - 1]?.added ?? 0),
      key: `${point.reading.entry} ${index}`,
    }))
    .toReversed();
}
