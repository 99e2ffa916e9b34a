// Readings as a file: saved as comma-separated values, and taken in whole or not at all, with every error by its line.
import { useRef, useState } from "react";
import { type Imported, levelsFromCsv, levelsToCsv, type RowError } from "../../core/level/level-csv.ts";
import type { CraftLevels } from "../../core/level/craft-levels.ts";
import { dateAt } from "../../core/facts/calendar.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { useLevelsWords } from "./levels-reading.tsx";

const errorsShown = 20;

type Chosen = { readonly name: string; readonly read: Imported };

export function LevelFile({ craft, levels }: { readonly craft: CraftView; readonly levels: CraftLevels }) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const { file: words } = useLevelsWords();
  const [chosen, setChosen] = useState<Chosen | null>(null);
  const input = useRef<HTMLInputElement>(null);
  const { sheet, state } = craft;
  const save = () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([levelsToCsv(levels)], { type: "text/csv" }));
    link.download = `levels-${craft.ledger.replace("craft:", "")}-${dateAt(now_ms, zone)}.csv`;
    link.click();
    URL.revokeObjectURL(link.href);
  };
  const take = async (files: FileList | null) => {
    const [file] = files ?? [];
    if (file === undefined || sheet === null) return;
    setChosen({ name: file.name, read: levelsFromCsv(await file.text(), sheet, state, now_ms) });
  };
  const read = chosen?.read;
  return (
    <section className="stack">
      <h2 className="heading-small">{words.name}</h2>
      <div className="level-file">
        <Button onPress={save}>{words.out}</Button>
        <Button onPress={() => input.current?.click()}>{words.in}</Button>
        <input
          ref={input}
          className="hidden-but-said"
          type="file"
          accept=".csv,text/csv"
          aria-hidden="true"
          tabIndex={-1}
          onChange={(event) => void take(event.target.files)}
        />
      </div>
      <p className="small quiet">{words.columns}</p>
      {read !== undefined &&
        ("readings" in read ? (
          <div className="stack">
            <p>
              {chosen!.name}: {words.whole(read.readings.length, read.uplifts.length)}
            </p>
            <Button
              look="filled"
              onPress={() =>
                void device
                  .importLevels(craft.ledger, {
                    from: chosen!.name,
                    readings: read.readings,
                    uplifts: read.uplifts,
                  })
                  .then(() => setChosen(null))
              }
            >
              {words.take}
            </Button>
          </div>
        ) : (
          <Notice title={words.wrong(read.errors.length)} kind="problem">
            <ol className="rows">
              {read.errors.slice(0, errorsShown).map((error, index) => (
                // Errors of one file stand in a fixed order.
                // oxlint-disable-next-line react/no-array-index-key
                <li key={index}>
                  <ErrorLine error={error} />
                </li>
              ))}
            </ol>
            {read.errors.length > errorsShown && <p>{words.more(read.errors.length - errorsShown)}</p>}
          </Notice>
        ))}
    </section>
  );
}

function ErrorLine({ error }: { readonly error: RowError }) {
  const { file: words } = useLevelsWords();
  const { line, column, code, found, wanted } = error;
  return (
    <>
      <b>{line === 0 ? words.fileItself : words.line(line, column)}</b>: {words.code[code]}
      <span className="reason-detail">
        {" "}
        {[found === "" ? "" : words.found(found), wanted === "" ? "" : words.wanted(wanted)]
          .filter((part) => part !== "")
          .join("; ")}
      </span>
    </>
  );
}
