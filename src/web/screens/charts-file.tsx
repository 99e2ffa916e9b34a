// A chart's points as a file: saved as CSV, saved as the block of a sheet, and a file looked at in the sheet's place, whole or
// with every error by its line.
import { useRef, useState } from "react";
import { chartToCsv } from "../../core/chart/chart-csv.ts";
import type { SheetChart } from "../../core/sheet/chart-blocks.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { type ChartEntry, type FileFault, readChartFile, type Telling } from "./charts-view.ts";

const faultsShown = 20;

type ChartFileProps = {
  readonly entry: ChartEntry;
  readonly block: SheetChart;
  readonly telling: Telling;
  readonly onShow: (shown: { readonly file: string; readonly block: SheetChart }) => void;
};

export function ChartFile({ entry, block, telling, onShow }: ChartFileProps) {
  const { file: words } = telling.charts;
  const [faults, setFaults] = useState<{ readonly file: string; readonly list: readonly FileFault[] } | null>(
    null,
  );
  const input = useRef<HTMLInputElement>(null);
  const save = (text: string, type: string, ending: string) => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type }));
    link.download = `${entry.id}.${ending}`;
    link.click();
    URL.revokeObjectURL(link.href);
  };
  const look = async (chosen: HTMLInputElement) => {
    const [file] = chosen.files ?? [];
    if (file === undefined) return;
    const read = readChartFile(await file.text(), entry.block, telling);
    // So that the same file, mended, can be chosen again.
    chosen.value = "";
    if (read.is === "refused") setFaults({ file: file.name, list: read.faults });
    else {
      setFaults(null);
      onShow({ file: file.name, block: read.block });
      scrollTo(0, 0);
    }
  };
  return (
    <section className="stack">
      <h3 className="heading-small">{words.name}</h3>
      <div className="chart-file">
        <Button onPress={() => save(chartToCsv(block), "text/csv", "csv")}>{words.out}</Button>
        <Button onPress={() => input.current?.click()}>{words.in}</Button>
        <Button onPress={() => save(`${JSON.stringify(block, null, 1)}\n`, "application/json", "json")}>
          {words.block}
        </Button>
        <input
          ref={input}
          className="hidden-but-said"
          type="file"
          accept=".csv,text/csv"
          aria-hidden="true"
          tabIndex={-1}
          onChange={(event) => void look(event.currentTarget)}
        />
      </div>
      <p className="small quiet">{words.columns}</p>
      {faults !== null && (
        <Notice title={`${faults.file}: ${words.wrong(faults.list.length)}`} kind="problem">
          <ol className="rows">
            {faults.list.slice(0, faultsShown).map((fault, index) => (
              // Faults of one file stand in a fixed order.
              // oxlint-disable-next-line react/no-array-index-key
              <li key={index}>
                <b>{fault.line === null ? words.whole : words.line(fault.line, fault.column)}</b>:{" "}
                {fault.what}
                <span className="reason-detail"> {words.found(fault.found, fault.wanted)}</span>
              </li>
            ))}
          </ol>
          {faults.list.length > faultsShown && <p>{words.more(faults.list.length - faultsShown)}</p>}
        </Notice>
      )}
    </section>
  );
}
