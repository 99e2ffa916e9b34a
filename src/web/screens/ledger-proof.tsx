// Proof of the whole record on this device, its export to a file, and how long the rule set wants records kept.
import { useState } from "react";
import { dateAt } from "../../core/facts/calendar.ts";
import { retentionIn } from "../../core/rules/retention.ts";
import type { CraftView, RecordProof } from "../device/model.ts";
import { Notice } from "../parts/notice.tsx";
import { Table } from "../parts/table.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { useLedgerWords } from "./use-ledger-words.ts";

export function Proof({ craft }: { readonly craft: CraftView }) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const { proof: words } = useLedgerWords();
  const [proof, setProof] = useState<RecordProof | "running" | null>(null);
  const verify = async () => {
    setProof("running");
    setProof(await device.prove(craft.ledger));
  };
  const save = async () => {
    const text = await device.exportRecord(craft.ledger);
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "application/x-ndjson" }));
    link.download = `record-${craft.ledger.replace("craft:", "")}-${dateAt(now_ms, zone)}.ndjson`;
    link.click();
    URL.revokeObjectURL(link.href);
  };
  return (
    <section className="stack">
      <h2 className="heading-small">{words.name}</h2>
      <TwoButtons
        left={{ note: words.saveNote, onPress: () => void save(), children: words.save }}
        right={{ note: words.verifyNote, onPress: () => void verify(), children: words.verify }}
      />
      {proof === "running" && <output>{words.running}</output>}
      {proof !== null && proof !== "running" && <Proven proof={proof} />}
    </section>
  );
}

function Proven({ proof }: { readonly proof: RecordProof }) {
  const { proof: words, aside } = useLedgerWords();
  const { proven, entries, faults, doubts, photos } = proof;
  const title = proven ? words.proven(entries) : words.notProven(faults.length);
  return (
    <Notice title={title} kind={proven ? "note" : "problem"}>
      <ul className="rows">
        {faults.slice(0, 20).map(({ kind, code, id }, index) => (
          <li key={`${index} ${code}`} className="mono small">
            {words.fault[kind as keyof typeof words.fault]} {id ?? ""}
          </li>
        ))}
        {photos.proven + photos.missing > 0 && <li>{words.photos(photos.proven, photos.missing)}</li>}
        {photos.erased > 0 && <li>{words.photosErased(photos.erased)}</li>}
        {doubts.length > 0 && <li>{words.doubts(doubts.length)}</li>}
        {doubts.slice(0, 20).map(({ id, code }) => (
          <li key={id} className="small">
            {aside.code[code] ?? code} <span className="mono">{id.slice(0, 16)}</span>
          </li>
        ))}
      </ul>
    </Notice>
  );
}

export function Retention() {
  const { ruleSet } = useSnapshot();
  const { retention: words } = useLedgerWords();
  return (
    <section className="stack">
      <Table
        caption={words.name}
        columns={[
          {
            id: "record",
            head: words.head.record,
            kind: "name",
            cell: ({ record }) => words.record[record] ?? record,
          },
          {
            id: "kept",
            head: words.head.kept,
            cell: ({ keep, from }) => `${words.kept(keep)} ${words.from[from]}`,
          },
          {
            id: "source",
            head: words.head.source,
            cell: ({ cite, status }) => (status === "text" ? cite : `${cite}; ${words.unsure}`),
          },
        ]}
        rows={retentionIn(ruleSet)}
        rowId={({ record }) => record}
      />
      <p className="small quiet">{words.note}</p>
    </section>
  );
}
