// Control points: what the printed chart says, what the copied points give there, and the error.
import { useMemo } from "react";
import { chartOf } from "../../core/chart/chart.ts";
import type { Control } from "../../core/chart/chart-schema.ts";
import { readChart } from "../../core/chart/read-chart.ts";
import type { SheetChart } from "../../core/sheet/chart-blocks.ts";
import { type Column, Table } from "../parts/table.tsx";
import { amountText, placeText, type Telling } from "./charts-view.ts";

export function ChartControls({ block, telling }: { readonly block: SheetChart; readonly telling: Telling }) {
  const { controls: words, points } = telling.charts;
  const chart = useMemo(() => chartOf(block), [block]);
  const amount = (value: number) => amountText(value, chart.output, telling);
  const given = ({ at }: Control): number | null => {
    const reading = readChart(chart, at);
    return reading.is === "read" ? reading.value : null;
  };
  const columns: Column<Control>[] = [
    { id: "at", head: points, kind: "name", cell: ({ at }) => placeText(at, telling) },
    { id: "read", head: words.read, kind: "number", cell: ({ value }) => amount(value) },
    {
      id: "gives",
      head: words.gives,
      kind: "number",
      cell: (control) => {
        const value = given(control);
        return value === null ? words.outside : amount(value);
      },
    },
    {
      id: "error",
      head: words.error,
      kind: "number",
      cell: (control) => {
        const value = given(control);
        return value === null ? "–" : amount(value - control.value);
      },
    },
    { id: "within", head: words.allowed, kind: "number", cell: ({ within }) => `± ${amount(within)}` },
  ];
  const controls = block.controls ?? [];
  return (
    <section className="stack">
      {controls.length === 0 ? (
        <>
          <h3 className="heading-small">{words.name}</h3>
          <p className="small quiet">{words.none}</p>
        </>
      ) : (
        <Table
          caption={words.name}
          columns={columns}
          rows={controls}
          rowId={({ at, value }) => `${JSON.stringify(at)} ${value}`}
        />
      )}
    </section>
  );
}
