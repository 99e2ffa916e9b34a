// One reason, opened: what it rests on, where it comes from, what clears it, and the thing to do about it, if it is ours.
import type { Reason, Source } from "../../core/facts/reason.ts";
import { reasonWords } from "../../present/reasons.ts";
import { rowOf } from "../../core/standing/sky-row.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { HoldButton } from "../parts/hold-button.tsx";
import { PhraseText } from "../parts/phrase-text.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { Loading } from "../parts/whole-screen.tsx";
import { useLines } from "./use-lines.ts";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";

type ReasonSheetProps = {
  readonly craft: CraftView;
  readonly reason: Reason | null;
  readonly onClose: () => void;
};

export function ReasonSheet({ craft, reason, onClose }: ReasonSheetProps) {
  const { standing } = useWords();
  return (
    <Sheet
      title={reason === null ? standing.asOfNow : standing.effect[reason.effect]}
      open={reason !== null}
      onClose={onClose}
    >
      {reason !== null && <ReasonInside craft={craft} reason={reason} onClose={onClose} />}
    </Sheet>
  );
}

function ReasonInside({ craft, reason, onClose }: { craft: CraftView; reason: Reason; onClose: () => void }) {
  const { standing, screens } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const { title, detail, remedy } = reasonWords({ reason, names, locale, now_ms });
  const lines = useLines(craft);
  const entries = (lines ?? []).filter(({ id }) => reason.evidence.includes(id));
  return (
    <div className="stack">
      <p className="lead">
        <PhraseText of={title} />
      </p>
      {detail !== "" && <p className="quiet">{detail}</p>}
      <dl className="facts">
        <dt>{standing.reasons.remedy}</dt>
        <dd>{remedy}</dd>
        <dt>{standing.reasons.source}</dt>
        <dd>{sourceWords(reason.source, screens.standing)}</dd>
        <dt>{standing.reasons.evidence}</dt>
        <dd>
          {lines === null ? (
            <Loading />
          ) : entries.length === 0 ? (
            "–"
          ) : (
            <ul>
              {entries.map(({ id, type, at_ms, by }) => (
                <li key={id}>
                  {screens.ledger.type[type] ?? type}, {names.person(by)}{" "}
                  {timeSeenFrom(now_ms, at_ms, locale)}
                </li>
              ))}
            </ul>
          )}
        </dd>
      </dl>
      <WhatToDo craft={craft} reason={reason} onClose={onClose} />
    </div>
  );
}

type SourceWords = {
  readonly rule: string;
  readonly sheetLine: string;
  readonly law: string;
  readonly setting: string;
};

function sourceWords(source: Source, words: SourceWords): string {
  switch (source.kind) {
    case "sheet":
      return `${words.sheetLine}: ${source.path}${source.cite === null ? "" : ` (${source.cite})`}`;
    case "rule":
      return `${words.rule}: ${source.rule}, ${source.edition}`;
    case "setting":
      return `${words.setting}: ${source.name}`;
    case "law":
      return words.law;
    default:
      return source satisfies never;
  }
}

function WhatToDo({ craft, reason, onClose }: { craft: CraftView; reason: Reason; onClose: () => void }) {
  const { device, goTo } = useApp();
  const { app, screens } = useWords();
  const done = (work: Promise<void>) => void work.then(onClose);
  const { closure } = reason.facts;
  if (reason.remedy.code === "closure.close" && typeof closure === "string") {
    return (
      <HoldButton
        holdFor={screens.standing.close}
        onHeld={() => done(device.setClosure(craft.ledger, closure, "closed"))}
      >
        {screens.standing.close}
      </HoldButton>
    );
  }
  if (reason.remedy.code === "record.exchangeOrConfirm") {
    return (
      <div className="stack">
        <Button onPress={() => done(device.exchangeNow())}>{screens.standing.exchange}</Button>
        <HoldButton
          holdFor={screens.standing.confirmNote}
          onHeld={() => done(device.confirmExchange(craft.ledger, screens.standing.confirm))}
        >
          {screens.standing.confirm}
        </HoldButton>
      </div>
    );
  }
  if (rowOf(reason) === "sky") {
    const name = craft.ledger.replace("craft:", "");
    return <Button onPress={() => goTo({ screen: "weather", craft: name })}>{app.screens.weather}</Button>;
  }
  if (reason.code.startsWith("finding.") || reason.code.startsWith("event.")) {
    const name = craft.ledger.replace("craft:", "");
    return (
      <Button onPress={() => goTo({ screen: "findings", craft: name })}>
        {reason.remedy.code === "finding.judge" ? screens.standing.judge : app.screens.findings}
      </Button>
    );
  }
  return null;
}
