// The findings of one machine: what is open, how it stands, what happened to the machine; and the map of all that was found.
import { useState } from "react";
import type { FindingFacts } from "../../core/facts/craft.ts";
import { isClosed } from "../../core/finding/judgement.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Glyph } from "../parts/glyph.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { EventSheet, Events } from "./finding-events.tsx";
import { OneFinding } from "./finding-one.tsx";
import { FindingSheet } from "./finding-sheet.tsx";
import { FoundMap } from "./findings-map.tsx";
import { type Found, measureText, partOf, standsAs } from "./findings-view.ts";
import { Frame } from "./frame.tsx";
import { useFindingsWords } from "./use-findings-words.ts";
import "../look/findings.css";

export function FindingsScreen({ craft }: { readonly craft: CraftView }) {
  const { app } = useWords();
  const words = useFindingsWords();
  const snapshot = useSnapshot();
  const [raising, setRaising] = useState(false);
  const [noting, setNoting] = useState(false);
  const [opened, setOpened] = useState<{ readonly ledger: string; readonly finding: string } | null>(null);
  const onOpen = ({ craft: { ledger }, finding: { finding } }: Found) => setOpened({ ledger, finding });
  const shown = snapshot.craft.find(({ ledger }) => ledger === opened?.ledger) ?? null;
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${app.screens.findings}`}
      nameAs="h1"
      foot={
        <TwoButtons
          left={{
            children: words.events.button,
            note: words.events.buttonNote,
            onPress: () => setNoting(true),
          }}
          right={{ children: words.capture.title, onPress: () => setRaising(true) }}
        />
      }
    >
      <div className="columns">
        <div className="stack">
          <OpenFindings craft={craft} onOpen={onOpen} />
          <Events craft={craft} />
        </div>
        <FoundMap craft={craft} onOpen={onOpen} />
      </div>
      <FindingSheet
        craft={craft}
        at={{ stop: null, item: null, walk: null }}
        open={raising}
        onClose={() => setRaising(false)}
        onDone={() => undefined}
      />
      <EventSheet craft={craft} open={noting} onClose={() => setNoting(false)} />
      {shown !== null && (
        <OneFinding
          craft={shown}
          finding={shown.state.findings[opened?.finding ?? ""] ?? null}
          onClose={() => setOpened(null)}
        />
      )}
    </Frame>
  );
}

type OpenFindingsProps = { readonly craft: CraftView; readonly onOpen: (found: Found) => void };

function OpenFindings({ craft, onOpen }: OpenFindingsProps) {
  const { finding: common, screens } = useWords();
  const open = Object.values(craft.state.findings)
    .filter((finding) => !isClosed(craft.sheet, finding))
    .toSorted((a, b) => b.raised.at_ms - a.raised.at_ms);
  return (
    <section>
      <h2 className="heading-small">{screens.findings.open}</h2>
      {open.length === 0 && (
        <p className="quiet">
          {common.none}. {common.noneBody}
        </p>
      )}
      <ul className="rows">
        {open.map((finding) => (
          <li key={finding.finding}>
            <FindingRow craft={craft} finding={finding} onOpen={() => onOpen({ craft, finding })} />
          </li>
        ))}
      </ul>
    </section>
  );
}

type FindingRowProps = {
  readonly craft: CraftView;
  readonly finding: FindingFacts;
  readonly onOpen: () => void;
};

function FindingRow({ craft, finding, onOpen }: FindingRowProps) {
  const common = useWords();
  const words = useFindingsWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const { raised, measured } = finding;
  const measure = measured.at(-1)?.measure ?? raised.measure;
  const details = [
    partOf(craft.sheet, finding, locale.language),
    measure === null ? null : measureText(measure, words, locale.language),
    raised.words === "" ? null : raised.words,
    common.finding.seenAt(timeSeenFrom(now_ms, raised.at_ms, locale), names.person(raised.by)),
  ];
  return (
    <button type="button" className="reason" onClick={onOpen}>
      <Glyph name="finding" />
      <span>
        <b>{common.finding.kind[raised.kind]}</b>, {names.of("stop", raised.stop)}
        <span className="reason-detail" style={{ display: "block" }}>
          {details.filter((part) => part !== null).join("; ")}
        </span>
      </span>
      <span className="reason-clears">{standsAs(craft.sheet, finding, words, common)}</span>
    </button>
  );
}
