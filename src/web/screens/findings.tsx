// The findings of one machine: what is open, how it is judged and by whom; what was closed. Judged here, too.
import { useState } from "react";
import { outcomes } from "../../core/facts/craft.ts";
import type { FindingFacts, Outcome } from "../../core/facts/craft.ts";
import { countingJudgement, isClosed, mayClose, whyNotJudge } from "../../core/finding/judgement.ts";
import type { JudgingRole } from "../../core/finding/judgement.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView, Person } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { Picker } from "../parts/picker.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { FindingSheet } from "./finding-sheet.tsx";
import { Frame } from "./frame.tsx";

/** The role in which a person judges: the one with the most authority that they hold. */
function judgingRole(me: Person | null): JudgingRole {
  for (const role of ["engineer", "airworthiness", "pilot"] as const)
    if (me?.roles.includes(role) === true) return role;
  return "crewMember";
}

export function FindingsScreen({ craft }: { readonly craft: CraftView }) {
  const { app, finding: words, screens } = useWords();
  const [raising, setRaising] = useState(false);
  const [opened, setOpened] = useState<string | null>(null);
  const all = Object.values(craft.state.findings).toSorted((a, b) => b.raised.at_ms - a.raised.at_ms);
  const open = all.filter((finding) => !isClosed(craft.sheet, finding));
  const closed = all.filter((finding) => isClosed(craft.sheet, finding));
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${app.screens.findings}`}
      nameAs="h1"
      foot={<TwoButtons right={{ children: screens.findings.raise, onPress: () => setRaising(true) }} />}
    >
      {all.length === 0 ? (
        <Empty title={words.none}>{words.noneBody}</Empty>
      ) : (
        <div className="columns">
          <FindingList craft={craft} heading={screens.findings.open} findings={open} onOpen={setOpened} />
          <FindingList craft={craft} heading={screens.findings.closed} findings={closed} onOpen={setOpened} />
        </div>
      )}
      <FindingSheet
        craft={craft}
        at={{ stop: null, item: null, walk: null }}
        open={raising}
        onClose={() => setRaising(false)}
        onDone={() => undefined}
      />
      <OneFinding
        craft={craft}
        finding={all.find(({ finding }) => finding === opened) ?? null}
        onClose={() => setOpened(null)}
      />
    </Frame>
  );
}

type FindingListProps = {
  readonly craft: CraftView;
  readonly heading: string;
  readonly findings: readonly FindingFacts[];
  readonly onOpen: (finding: string) => void;
};

function FindingList({ craft, heading, findings, onOpen }: FindingListProps) {
  const { finding: words } = useWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  return (
    <section>
      <h2 className="heading-small">{heading}</h2>
      {findings.length === 0 && <p className="quiet">{words.none}</p>}
      <ul className="rows">
        {findings.map((finding) => {
          const judgement = countingJudgement(finding);
          return (
            <li key={finding.finding}>
              <button type="button" className="reason" onClick={() => onOpen(finding.finding)}>
                <Glyph name="finding" />
                <span>
                  <b>{words.kind[finding.raised.kind]}</b>, {names.of("stop", finding.raised.stop)}
                  <span className="reason-detail" style={{ display: "block" }}>
                    {[
                      finding.raised.words,
                      words.seenAt(
                        timeSeenFrom(now_ms, finding.raised.at_ms, locale),
                        names.person(finding.raised.by),
                      ),
                    ]
                      .filter((part) => part !== "")
                      .join("; ")}
                  </span>
                </span>
                <span className="reason-clears">
                  {judgement === null ? words.notJudged : words.outcome[judgement.outcome]}
                </span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

type OneFindingProps = {
  readonly craft: CraftView;
  readonly finding: FindingFacts | null;
  readonly onClose: () => void;
};

function OneFinding({ craft, finding, onClose }: OneFindingProps) {
  const { finding: words } = useWords();
  const names = useNames(craft);
  const title =
    finding === null
      ? words.none
      : `${words.kind[finding.raised.kind]}, ${names.of("stop", finding.raised.stop)}`;
  return (
    <Sheet title={title} open={finding !== null} onClose={onClose}>
      {finding !== null && <FindingLife craft={craft} finding={finding} onClose={onClose} />}
    </Sheet>
  );
}

type LifeProps = { readonly craft: CraftView; readonly finding: FindingFacts; readonly onClose: () => void };

function FindingLife({ craft, finding, onClose }: LifeProps) {
  const { finding: words, screens } = useWords();
  const { now_ms, me } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const role = judgingRole(me);
  const { raised, judgements, closed, seenAgain } = finding;
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  return (
    <div className="stack">
      <ol className="rows life">
        <li>
          {words.seenAt(time(raised.at_ms), names.person(raised.by))}
          {raised.measure !== null && `, ${raised.measure.typed} ${raised.measure.unit}`}
          {raised.words !== "" && <span className="reason-detail"> {raised.words}</span>}
        </li>
        {seenAgain.map(({ entry, at_ms, by, words: said }) => (
          <li key={entry}>
            {screens.findings.seenAgain}, {names.person(by)} {time(at_ms)}
            <span className="reason-detail"> {said}</span>
          </li>
        ))}
        {judgements.map(({ entry, outcome, at_ms, by, words: said, deferral }) => (
          <li key={entry}>
            {screens.findings.judgedBy(words.outcome[outcome], names.person(by), time(at_ms))}
            <span className="reason-detail">
              {" "}
              {[deferral === null ? "" : names.of("deferral", deferral), said]
                .filter((part) => part !== "")
                .join("; ")}
            </span>
          </li>
        ))}
        {closed.map(({ entry, at_ms, by, words: said }) => (
          <li key={entry}>
            {screens.findings.closedBy(time(at_ms), names.person(by))}
            <span className="reason-detail"> {said}</span>
          </li>
        ))}
      </ol>
      {!isClosed(craft.sheet, finding) && (
        <Judge craft={craft} finding={finding} role={role} onClose={onClose} />
      )}
      {!isClosed(craft.sheet, finding) && mayClose(craft.sheet, finding, role) && (
        <Close craft={craft} finding={finding} role={role} onClose={onClose} />
      )}
    </div>
  );
}

type RoleProps = LifeProps & { readonly role: JudgingRole };

function Judge({ craft, finding, role, onClose }: RoleProps) {
  const { device } = useApp();
  const { finding: words, screens } = useWords();
  const names = useNames(craft);
  const [outcome, setOutcome] = useState<Outcome | null>(null);
  const [deferral, setDeferral] = useState<string | null>(null);
  const [said, setSaid] = useState("");
  const why =
    outcome === null
      ? words.notJudged
      : outcome === "defer" && deferral === null
        ? screens.findings.needsDeferral
        : undefined;
  const save = async () => {
    if (outcome === null) return;
    const judgement = { outcome, role, words: said.trim(), deferral: outcome === "defer" ? deferral : null };
    await device.judgeFinding(craft.ledger, finding.finding, judgement);
    onClose();
  };
  return (
    <section className="stack">
      <ChoiceRow
        name={screens.findings.judgeNow}
        width="long"
        choices={outcomes.map((value) => ({
          value,
          label: words.outcome[value],
          note:
            whyNotJudge(craft.sheet, finding, role, value) === null
              ? words.outcomeMeans[value]
              : screens.findings.notYours,
          disabled: whyNotJudge(craft.sheet, finding, role, value) !== null,
        }))}
        value={outcome}
        onChoose={setOutcome}
      />
      {outcome === "defer" && (
        <Picker
          label={screens.findings.deferTo}
          choices={(craft.sheet?.deferrals ?? []).map(({ id, number }) => ({
            id,
            name: `${number} ${names.title("deferral", id)}`,
          }))}
          value={deferral}
          onChoose={setDeferral}
        />
      )}
      <Field label={words.words} value={said} onChange={setSaid} lines="many" />
      <Button look="filled" onPress={() => void save()} {...(why === undefined ? {} : { why })}>
        {screens.findings.judgeSave}
      </Button>
    </section>
  );
}

function Close({ craft, finding, role, onClose }: RoleProps) {
  const { device } = useApp();
  const { screens } = useWords();
  const [said, setSaid] = useState("");
  const save = () => void device.closeFinding(craft.ledger, finding.finding, role, said.trim()).then(onClose);
  return (
    <section className="stack">
      <Field label={screens.findings.closeWords} value={said} onChange={setSaid} />
      <Button onPress={save} {...(said.trim() === "" ? { why: screens.findings.needsWords } : {})}>
        {screens.findings.close}
      </Button>
    </section>
  );
}
