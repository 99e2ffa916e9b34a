// Who has the machine and why, giving it to maintenance or out of service, and what brings it back: a release to service,
// with limitations, and a second person's inspection where the sheet asks for one.
import { useState } from "react";
import { latestInstantOfTime } from "../../core/facts/calendar.ts";
import { hour_ms } from "../../core/facts/instant.ts";
import type { Custody } from "../../core/facts/craft.ts";
import {
  countingCustody,
  standingLimitations,
  stopsToInspect,
  unreleasedWork,
  uninspected,
} from "../../core/standing/custody.ts";
import { reasonWords } from "../../present/reasons.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { phraseText } from "../../present/words/phrase.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { Signature } from "./signature.tsx";
import { TakeOver } from "./take-over.tsx";
import { useRoundWords } from "./use-round-words.ts";

type CraftProps = { readonly craft: CraftView };
const day_ms = 24 * hour_ms;

export function CustodyScreen({ craft }: CraftProps) {
  const { now_ms, me } = useSnapshot();
  const { screens } = useWords();
  const { custody: words } = useRoundWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [taking, setTaking] = useState(false);
  const [giving, setGiving] = useState(false);
  const [releasing, setReleasing] = useState(false);
  const custody = countingCustody(craft.state);
  const engineer = me?.roles.includes("engineer") === true;
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  const reasons = craft.standing.reasons.filter(
    ({ code, effect }) => code.startsWith("custody.") && effect !== "advises",
  );
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${words.title}`}
      nameAs="h1"
      foot={
        <TwoButtons
          left={{ children: words.give, onPress: () => setGiving(true) }}
          right={
            engineer
              ? { children: words.release, onPress: () => setReleasing(true) }
              : {
                  children: screens.standing.takeOver,
                  note: screens.standing.takeOverNote,
                  onPress: () => setTaking(true),
                }
          }
        />
      }
    >
      <div className="columns">
        <div className="stack-wide">
          <div>
            <h2 className="head">{custody === null ? words.nobody : words[custody.custody]}</h2>
            {custody !== null && (
              <p className="quiet">
                {[
                  words.since(time(custody.at_ms), names.person(custody.by)),
                  custody.words,
                  custody.expectedEnd_ms === null ? "" : words.expected(time(custody.expectedEnd_ms)),
                ]
                  .filter((part) => part !== "")
                  .join(", ")}
              </p>
            )}
          </div>
          {reasons.map((reason) => {
            const { title, detail } = reasonWords({ reason, names, locale, now_ms });
            return (
              <Notice key={JSON.stringify(reason.evidence) + reason.code} title={phraseText(title)}>
                <p className="small">{detail}</p>
              </Notice>
            );
          })}
          <section>
            <h2 className="heading-small">{words.history}</h2>
            <ul className="rows life">
              {craft.state.handovers
                .toReversed()
                .slice(0, 12)
                .map(({ entry, custody: to, by, at_ms, words: said }) => (
                  <li key={entry}>
                    {words[to]}
                    <span className="reason-detail">
                      {" "}
                      {[names.person(by), time(at_ms), said].filter((part) => part !== "").join(", ")}
                    </span>
                  </li>
                ))}
            </ul>
          </section>
        </div>
        <Releases craft={craft} />
      </div>
      <TakeOver craft={craft} open={taking} onClose={() => setTaking(false)} />
      <Give craft={craft} open={giving} onClose={() => setGiving(false)} onTake={() => setTaking(true)} />
      <ReleaseSheet craft={craft} open={releasing} onClose={() => setReleasing(false)} />
    </Frame>
  );
}

function Releases({ craft }: CraftProps) {
  const { device } = useApp();
  const { now_ms, me } = useSnapshot();
  const { custody: words } = useRoundWords();
  const locale = useLocale();
  const names = useNames(craft);
  const { state, sheet } = craft;
  const [inspecting, setInspecting] = useState<string | null>(null);
  const [licence, setLicence] = useState("");
  const missing = new Set(sheet === null ? [] : uninspected(sheet, state).map(({ entry }) => entry));
  const standing = new Set(standingLimitations(state).map(({ entry }) => entry));
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  const engineer = me?.roles.includes("engineer") === true;
  return (
    <section className="stack">
      <h2 className="heading-small">{words.released}</h2>
      {state.releases.length === 0 && <p className="quiet">{words.none}</p>}
      <ul className="rows life">
        {state.releases
          .toReversed()
          .slice(0, 12)
          .map((release) => {
            const inspection = state.inspections.find(({ release: of }) => of === release.entry);
            const stops = sheet === null ? [] : stopsToInspect(sheet, release);
            return (
              <li key={release.entry} className="stack">
                <p>
                  <b>{release.words}</b>{" "}
                  <span className="reason-detail">
                    {[
                      names.person(release.by),
                      time(release.at_ms),
                      release.licence,
                      release.dataRevision,
                    ].join(", ")}
                  </span>
                </p>
                {standing.has(release.entry) && (
                  <p>
                    {words.limits}: {release.limitations}
                  </p>
                )}
                {inspection !== undefined && (
                  <p className="small">
                    {words.inspectedBy(names.person(inspection.by), time(inspection.at_ms))}
                  </p>
                )}
                {missing.has(release.entry) && (
                  <>
                    <p>
                      <b>{words.inspectMissing}</b>: {stops.map((stop) => names.of("stop", stop)).join(", ")}
                    </p>
                    {engineer && (
                      <Button
                        onPress={() => setInspecting(release.entry)}
                        {...(release.by === me?.id ? { why: words.inspectSelf } : {})}
                      >
                        {words.inspect}
                      </Button>
                    )}
                  </>
                )}
              </li>
            );
          })}
      </ul>
      <Sheet title={words.inspect} open={inspecting !== null} onClose={() => setInspecting(null)}>
        <Field label={words.licence} value={licence} onChange={setLicence} />
        <div className="sheet-foot">
          <Button
            look="filled"
            onPress={() =>
              void device
                .inspectWork(craft.ledger, inspecting ?? "", licence.trim(), "")
                .then(() => setInspecting(null))
            }
            {...(licence.trim() === "" ? { why: words.licence } : {})}
          >
            {words.inspect}
          </Button>
        </div>
      </Sheet>
    </section>
  );
}

type SheetProps = CraftProps & { readonly open: boolean; readonly onClose: () => void };

function Give(props: SheetProps & { readonly onTake: () => void }) {
  const { custody: words } = useRoundWords();
  return (
    <Sheet title={`${words.give}: ${props.craft.name}`} open={props.open} onClose={props.onClose}>
      <GiveInside {...props} />
    </Sheet>
  );
}

function GiveInside({ craft, onClose, onTake }: SheetProps & { readonly onTake: () => void }) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const { custody: words } = useRoundWords();
  const [to, setTo] = useState<Custody>("maintenance");
  const [reason, setReason] = useState("");
  const [until, setUntil] = useState("");
  // The next time of day that reads so: the latest one before this time tomorrow.
  const until_ms = until.trim() === "" ? null : latestInstantOfTime(until, now_ms + day_ms, zone);
  const untilIssue = until.trim() !== "" && until_ms === null ? words.until : null;
  const why = to === "crew" ? null : reason.trim() === "" ? words.needsReason : untilIssue;
  const save = () => {
    if (to === "crew") {
      onClose();
      onTake();
      return;
    }
    void device
      .handOver(craft.ledger, { custody: to, words: reason.trim(), expectedEnd_ms: until_ms })
      .then(onClose);
  };
  return (
    <div className="stack">
      <ChoiceRow<Custody>
        name={words.give}
        nameHidden
        width="long"
        choices={[
          { value: "maintenance", label: words.toMaintenance },
          { value: "outOfService", label: words.toOutOfService },
          { value: "crew", label: words.toCrew },
        ]}
        value={to}
        onChoose={setTo}
      />
      {to !== "crew" && (
        <>
          <Field label={words.reason} value={reason} onChange={setReason} />
          <Field
            label={words.until}
            value={until}
            onChange={setUntil}
            hint={words.untilHint}
            issue={untilIssue}
          />
        </>
      )}
      <div className="sheet-foot">
        <Button look="filled" onPress={save} {...(why === null ? {} : { why })}>
          {words.save}
        </Button>
      </div>
    </div>
  );
}

function ReleaseSheet(props: SheetProps) {
  const { custody: words } = useRoundWords();
  return (
    <Sheet title={`${words.release}: ${props.craft.name}`} open={props.open} onClose={props.onClose}>
      <ReleaseInside {...props} />
    </Sheet>
  );
}

function ReleaseInside({ craft, onClose }: SheetProps) {
  const { device } = useApp();
  const { custody: words } = useRoundWords();
  const names = useNames(craft);
  const [said, setSaid] = useState(() => unreleasedWork(craft.state)?.words ?? "");
  const [licence, setLicence] = useState("");
  const [data, setData] = useState("");
  const [limits, setLimits] = useState("");
  const [takesAway, setTakesAway] = useState<readonly string[]>([]);
  const [worked, setWorked] = useState<readonly string[]>([]);
  const [opened, setOpened] = useState<readonly string[]>([]);
  const [lifts, setLifts] = useState<readonly string[]>([]);
  const [signing, setSigning] = useState(false);
  const { sheet, state } = craft;
  if (sheet === null) return null;
  const why = licence.trim() === "" || data.trim() === "" ? words.needsData : null;
  const save = () =>
    void device
      .releaseWork(craft.ledger, {
        licence: licence.trim(),
        dataRevision: data.trim(),
        limitations: limits.trim(),
        takesAway: limits.trim() === "" ? [] : takesAway,
        lifts,
        worked,
        opened,
        words: said.trim(),
      })
      .then(onClose);
  return (
    <div className="stack">
      <Field label={words.words} value={said} onChange={setSaid} />
      <Field label={words.licence} value={licence} onChange={setLicence} />
      <Field label={words.data} value={data} onChange={setData} />
      <Several
        name={words.worked}
        hint={words.workedHint}
        choices={sheet.stops.map(({ id, independentInspection }) => ({
          id,
          name: names.title("stop", id),
          ...(independentInspection === true ? { note: words.workedInspect } : {}),
        }))}
        chosen={worked}
        onChosen={setWorked}
      />
      <Several
        name={words.left}
        choices={sheet.closures
          .filter(({ stop }) => worked.includes(stop))
          .map(({ id }) => ({ id, name: names.title("closure", id) }))}
        chosen={opened}
        onChosen={setOpened}
      />
      <Field label={words.limits} value={limits} onChange={setLimits} hint={words.limitsHint} />
      {limits.trim() !== "" && (
        <Several
          name={words.takesAway}
          choices={sheet.operations.map(({ id }) => ({ id, name: names.title("operation", id) }))}
          chosen={takesAway}
          onChosen={setTakesAway}
        />
      )}
      <Several
        name={words.lifts}
        choices={standingLimitations(state).map(({ entry, limitations }) => ({
          id: entry,
          name: limitations,
        }))}
        chosen={lifts}
        onChosen={setLifts}
      />
      <div className="sheet-foot">
        <Button look="filled" onPress={() => setSigning(true)} {...(why === null ? {} : { why })}>
          {words.sign}
        </Button>
      </div>
      <Signature title={words.sign} open={signing} onClose={() => setSigning(false)} onSigned={save} />
    </div>
  );
}

type SeveralProps = {
  readonly name: string;
  readonly hint?: string;
  readonly choices: readonly { readonly id: string; readonly name: string; readonly note?: string }[];
  readonly chosen: readonly string[];
  readonly onChosen: (chosen: readonly string[]) => void;
};

/** Any number of a list, each a word to press. */
function Several({ name, hint, choices, chosen, onChosen }: SeveralProps) {
  const { custody: words } = useRoundWords();
  if (choices.length === 0) return null;
  const toggle = (id: string) =>
    onChosen(chosen.includes(id) ? chosen.filter((other) => other !== id) : [...chosen, id]);
  return (
    <details className="several" open={chosen.length > 0}>
      <summary className="field-label">
        {name} <span className="several-choose">{words.choose(chosen.length)}</span>
      </summary>
      {hint !== undefined && <p className="field-hint">{hint}</p>}
      <ul className="people">
        {choices.map(({ id, name: label, note }) => (
          <li key={id}>
            <button
              type="button"
              className="button person"
              aria-pressed={chosen.includes(id)}
              onClick={() => toggle(id)}
            >
              <span className="button-label">{label}</span>
              {note !== undefined && <span className="button-note">{note}</span>}
            </button>
          </li>
        ))}
      </ul>
    </details>
  );
}
