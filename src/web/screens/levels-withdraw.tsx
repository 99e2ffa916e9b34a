// Taking a mistyped reading back: why, in words; the number stays in the record, and the gauge is to be read again.
import { useState } from "react";
import type { ReadingFact } from "../../core/facts/craft.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useApp } from "./app-context.tsx";
import { unitOf } from "./levels-reading.tsx";
import type { Telling } from "./levels-view.ts";

type WithdrawProps = {
  readonly craft: CraftView;
  /** Null: nothing is being taken back. */
  readonly reading: ReadingFact | null;
  readonly telling: Telling;
  readonly onClose: () => void;
};

export function WithdrawSheet({ craft, reading, telling, onClose }: WithdrawProps) {
  const { table } = telling.levels;
  const title =
    reading === null ? "" : table.withdrawThis(`${reading.typed} ${unitOf(reading.unit, telling.words)}`);
  return (
    <Sheet title={title} open={reading !== null} onClose={onClose}>
      {reading !== null && (
        <Why craft={craft} reading={reading} telling={telling} onClose={onClose} key={reading.entry} />
      )}
    </Sheet>
  );
}

type WhyProps = Omit<WithdrawProps, "reading"> & { readonly reading: ReadingFact };

function Why({ craft, reading, telling, onClose }: WhyProps) {
  const { device } = useApp();
  const { table } = telling.levels;
  const [words, setWords] = useState("");
  const said = words.trim();
  const takeBack = () => {
    void device.withdrawReading(craft.ledger, reading.gauge, reading.entry, said).then(onClose);
  };
  return (
    <div className="stack">
      <p>{table.withdrawNote}</p>
      <Field label={table.withdrawWhy} value={words} onChange={setWords} />
      <div className="sheet-foot">
        <Button look="filled" onPress={takeBack} {...(said === "" ? { why: table.withdrawWhy } : {})}>
          {table.withdrawShort}
        </Button>
      </div>
    </div>
  );
}
