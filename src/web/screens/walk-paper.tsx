// A walk on paper: printed with the plan's code, and typed in afterwards by who walked it, in one piece, marked as paper.
import { useEffect, useEffectEvent, useState } from "react";
import type { Conditions, WalkKind } from "../../core/facts/craft.ts";
import type { Gauge } from "../../core/sheet/gauge-blocks.ts";
import type { PlannedStop, WalkPlan } from "../../core/walk/plan.ts";
import { readPaperCode } from "../../core/walk/paper-code.ts";
import { paperDays, paperTimes } from "../../core/walk/paper-times.ts";
import type { PaperDay } from "../../core/walk/paper-times.ts";
import { lapseOf } from "../../core/walk/validity.ts";
import type { DraftMark, PaperStop } from "../../ledger/craft/recorder.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { dayShort } from "../../present/words/formats.ts";
import type { CraftView, NewReading } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { unitOf, useReadingEntry } from "./levels-reading.tsx";
import { Signature } from "./signature.tsx";
import { useRoundWords } from "./use-round-words.ts";

export type PaperProps = {
  readonly craft: CraftView;
  readonly kind: WalkKind;
  readonly plan: WalkPlan;
  readonly said: Conditions;
  readonly onBack: () => void;
};

/** The page as it is printed: boxes to mark, lines to write on, the code at its head. */
export function PaperPage({ craft, kind, plan, said, onBack }: PaperProps) {
  const { device } = useApp();
  const { now_ms } = useSnapshot();
  const words = useWords();
  const { walk, app, screens } = words;
  const { paper } = useRoundWords();
  const locale = useLocale();
  const names = useNames(craft);
  const head = device.paperHead(craft.ledger, kind, said);
  const gaugeOf = (id: string | undefined) => craft.sheet?.gauges.find((gauge) => gauge.id === id);
  const answers = Object.entries(said).map(([name, value]) => {
    const answer = value === null ? screens.walk.notKnown : value ? screens.walk.yes : screens.walk.no;
    return `${screens.walk.condition[name as "frost"]}: ${answer}`;
  });
  return (
    <Frame
      craft={craft}
      name={craft.name}
      foot={
        <TwoButtons
          left={{ children: app.doing.back, onPress: onBack }}
          right={{ children: app.doing.print, onPress: () => print() }}
        />
      }
    >
      <article className="paper stack">
        <div>
          <h1 className="head">{`${craft.name}: ${paper.title(walk.kind[kind])}`}</h1>
          <p>
            {dayShort(now_ms, locale)} · {paper.code} <b className="mono paper-code">{head?.code}</b>
          </p>
          <p className="small">
            {paper.plan} <span className="mono paper-plan">{head?.plan}</span>
          </p>
          <p className="small">{paper.how}</p>
          <p className="small">
            {paper.conditions}: {answers.join("; ")}
          </p>
          <p className="paper-lines">
            <span>{paper.date}</span>
            <span>{paper.begun}</span>
            <span>{paper.ended}</span>
            <span>{paper.signature}</span>
          </p>
        </div>
        {plan.stops.map(({ stop, rows }) => (
          <section key={stop.id} className="paper-stop">
            <h2 className="heading-small">
              {names.title("stop", stop.id)} · {walk.access[stop.access]}
            </h2>
            <table className="paper-items">
              <tbody>
                {rows.map(({ item }) => {
                  const gauge = gaugeOf(item.reads);
                  return (
                    <tr key={item.id}>
                      <td>{asTitle(item.text[locale.language], locale.language)}</td>
                      <td className="paper-reading">
                        {gauge === undefined ? "" : unitOf(gauge.unit, words)}
                      </td>
                      {[paper.good, paper.finding, paper.notReached].map((mark) => (
                        <td key={mark} className="paper-box">
                          {mark}
                        </td>
                      ))}
                    </tr>
                  );
                })}
              </tbody>
            </table>
          </section>
        ))}
        <p className="small">{app.approvedDocumentsPrevail}</p>
      </article>
    </Frame>
  );
}

type PaperReading = { readonly reading: NewReading; readonly isOutside: boolean };
type Typed = {
  readonly marks: Readonly<Record<string, DraftMark["mark"]>>;
  readonly words: Readonly<Record<string, string>>;
  /** By gauge; null while it is not whole. */
  readonly readings: Readonly<Record<string, PaperReading | null>>;
};
const nothingTyped: Typed = { marks: {}, words: {}, readings: {} };

/** What was walked on paper, typed in: the code and the times first, then stop by stop. */
export function PaperEntry({ craft, kind, plan, said, onBack }: PaperProps) {
  const { device, goTo } = useApp();
  const { now_ms, zone } = useSnapshot();
  const { walk, app } = useWords();
  const { paper } = useRoundWords();
  const names = useNames(craft);
  const [code, setCode] = useState("");
  const [day, setDay] = useState<PaperDay | null>(null);
  const [begun, setBegun] = useState("");
  const [ended, setEnded] = useState("");
  const [typed, setTyped] = useState<Typed>(nothingTyped);
  const [signing, setSigning] = useState(false);
  const read = readPaperCode(code);
  const fits = "ok" in read && read.ok === device.paperHead(craft.ledger, kind, said)?.code;
  const codeIssue =
    code === "" || fits
      ? null
      : "ok" in read
        ? paper.codeOther
        : read.issue === "short"
          ? paper.codeShort
          : paper.codeMistyped;
  const times = day === null ? null : paperTimes({ day, begun, ended }, now_ms, zone);
  const lapses_ms =
    times === null || craft.sheet === null
      ? null
      : lapseOf(craft.sheet, { kind, begun_ms: times.begun_ms, finished_ms: times.ended_ms }, zone).lapses_ms;
  const isOver = lapses_ms !== null && lapses_ms <= now_ms;
  const gaugeOf = (id: string | undefined) => craft.sheet?.gauges.find((gauge) => gauge.id === id);
  const rows = plan.rows.map(({ item }) => item);
  const unmarked = rows.filter(({ id }) => typed.marks[id] === undefined).length;
  const wordless = rows.some(
    ({ id }) =>
      typed.marks[id] !== undefined && typed.marks[id] !== "good" && (typed.words[id] ?? "").trim() === "",
  );
  const unread = rows.filter(({ id, reads }) => {
    const gauge = gaugeOf(reads);
    return typed.marks[id] === "good" && gauge !== undefined && (typed.readings[gauge.id] ?? null) === null;
  }).length;
  const why = !fits
    ? (codeIssue ?? paper.codeHint)
    : times === null
      ? day === null
        ? paper.needsDay
        : paper.timesIssue
      : unmarked > 0
        ? paper.needsMarks(unmarked)
        : wordless
          ? paper.needsWords
          : unread > 0
            ? paper.needsReadings(unread)
            : null;
  const save = async () => {
    if (times === null) return;
    const stops: PaperStop[] = [];
    for (const { stop, rows: here } of plan.stops) {
      const marks: Record<string, DraftMark> = {};
      const readings: Record<string, PaperStop["readings"][string]> = {};
      for (const { item } of here) {
        const stated = typed.marks[item.id];
        if (stated === undefined) continue;
        const gauge = gaugeOf(item.reads);
        const taken = gauge === undefined ? null : (typed.readings[gauge.id] ?? null);
        if (gauge !== undefined && stated === "good" && taken !== null)
          readings[gauge.id] = { ...taken.reading, hours_h: null };
        const isOutside = stated === "good" && taken?.isOutside === true && gauge?.ifOutside !== "note";
        const mark = isOutside ? "finding" : stated;
        const words = isOutside
          ? `${names.title("gauge", gauge?.id ?? "")}: ${taken.reading.typed}`
          : (typed.words[item.id] ?? "").trim();
        // A finding on paper is a finding like any other: raised first, then named by its mark.
        const finding =
          mark === "finding"
            ? await device.raiseFinding(craft.ledger, {
                kind: isOutside ? "outOfBand" : "other",
                stop: stop.id,
                item: item.id,
                walk: null,
                measure: null,
                words,
              })
            : null;
        marks[item.id] = { mark, why: mark === "notReached" ? words : null, finding };
      }
      stops.push({ stop: stop.id, marks, readings });
    }
    await device.typeWalk(craft.ledger, { kind, conditions: said, ...times, stops });
    goTo({ screen: "standing", craft: craft.ledger.replace("craft:", "") });
  };
  return (
    <Frame
      craft={craft}
      name={craft.name}
      foot={
        <TwoButtons
          left={{ children: app.doing.back, onPress: onBack }}
          right={{
            children: paper.save,
            note: paper.saveNote,
            onPress: () => setSigning(true),
            ...(why === null ? {} : { why }),
          }}
        />
      }
    >
      <div className="stack-wide">
        <h1 className="head">{paper.title(walk.kind[kind])}</h1>
        <div className="paper-head">
          <Field label={paper.code} value={code} onChange={setCode} hint={paper.codeHint} issue={codeIssue} />
          <ChoiceRow
            name={paper.day}
            choices={paperDays.map((value) => ({ value, label: paper.days[value] }))}
            value={day}
            onChoose={setDay}
          />
          <Field label={paper.begun} value={begun} onChange={setBegun} hint={paper.times} />
          <Field
            label={paper.ended}
            value={ended}
            onChange={setEnded}
            issue={day !== null && begun !== "" && ended !== "" && times === null ? paper.timesIssue : null}
          />
        </div>
        {fits &&
          plan.stops.map((planned) => (
            <PaperStopRows
              key={planned.stop.id}
              craft={craft}
              planned={planned}
              typed={typed}
              onTyped={setTyped}
            />
          ))}
        {!fits && codeIssue === paper.codeOther && <Notice title={paper.codeOther} />}
        {fits && isOver && <Notice title={paper.over} />}
      </div>
      <Signature
        title={paper.save}
        open={signing}
        onClose={() => setSigning(false)}
        onSigned={() => void save()}
      />
    </Frame>
  );
}

type StopRowsProps = {
  readonly craft: CraftView;
  readonly planned: PlannedStop;
  readonly typed: Typed;
  readonly onTyped: (change: (held: Typed) => Typed) => void;
};

function PaperStopRows({ craft, planned, typed, onTyped }: StopRowsProps) {
  const { walk } = useWords();
  const { paper } = useRoundWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const say = <Part extends keyof Typed>(part: Part, id: string, value: Typed[Part][string]) =>
    onTyped((held) => ({ ...held, [part]: { ...held[part], [id]: value } }));
  const allGood = () =>
    onTyped((held) => ({
      ...held,
      marks: {
        ...Object.fromEntries(planned.rows.map(({ item }) => [item.id, "good" as const])),
        ...held.marks,
      },
    }));
  return (
    <section className="stack">
      <div className="paper-stop-head">
        <h2 className="title">{names.title("stop", planned.stop.id)}</h2>
        <Button look="plain" onPress={allGood}>
          {paper.stopGood}
        </Button>
      </div>
      <ul className="rows">
        {planned.rows.map(({ item }) => {
          const gauge = craft.sheet?.gauges.find(({ id }) => id === item.reads);
          const mark = typed.marks[item.id] ?? null;
          return (
            <li key={item.id} className="stack paper-item">
              <ChoiceRow
                name={asTitle(item.text[language], language)}
                choices={(["good", "finding", "notReached"] as const).map((value) => ({
                  value,
                  label: walk.mark[value],
                }))}
                value={mark}
                onChoose={(value) => say("marks", item.id, value)}
              />
              {mark === "good" && gauge !== undefined && (
                <TypedReading
                  craft={craft}
                  gauge={gauge}
                  onRead={(taken) => say("readings", gauge.id, taken)}
                />
              )}
              {mark !== null && mark !== "good" && (
                <Field
                  label={paper.words}
                  value={typed.words[item.id] ?? ""}
                  onChange={(value) => say("words", item.id, value)}
                />
              )}
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** A reading as it stands on the paper, typed under the same questions as at the aircraft. */
function TypedReading(props: {
  readonly craft: CraftView;
  readonly gauge: Gauge;
  readonly onRead: (taken: PaperReading | null) => void;
}) {
  const { craft, gauge, onRead } = props;
  const { language } = useLocale();
  const { fields, reading, isOutside } = useReadingEntry(
    craft,
    gauge,
    asTitle(gauge.name[language], language),
  );
  const text = JSON.stringify(reading);
  const tell = useEffectEvent((read: string) =>
    onRead(read === "null" ? null : { reading: JSON.parse(read) as NewReading, isOutside }),
  );
  useEffect(() => tell(text), [text]);
  return <div className="stack">{fields}</div>;
}
