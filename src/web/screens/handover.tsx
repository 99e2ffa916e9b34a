// Handover: one page from one crew to the next. What changed since the other's last shift, what ends in the one to come, what
// is open; every flight logged, or the open one named; both sign the same words, and the page prints on one sheet.
import { useState } from "react";
import { hour_ms } from "../../core/facts/instant.ts";
import type { HandoverFact } from "../../core/facts/craft.ts";
import { handoverPage } from "../../core/standing/handover.ts";
import { handoverLines } from "../../present/handover-lines.ts";
import type { HandoverLines } from "../../present/handover-lines.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { timeBoth, timeSeenFrom } from "../../present/words/formats.ts";
import { handoverWordsIn } from "../../present/words/handover-words.ts";
import type { HandoverWords } from "../../present/words/handover-words.ts";
import type { CraftView } from "../device/model.ts";
import "../look/handover.css";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { PersonPick } from "../parts/person-pick.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { Signature } from "./signature.tsx";
import { TakeOver } from "./take-over.tsx";

type CraftProps = { readonly craft: CraftView };

const useHandoverWords = (): HandoverWords => handoverWordsIn(useLocale().language);

export function HandoverScreen({ craft }: CraftProps) {
  const { me } = useSnapshot();
  const forMe = craft.state.pagesHanded.findLast(
    ({ to, taken, at_ms }) => to === me?.id && taken.length === 0 && !isFollowed(craft, at_ms),
  );
  // Asked here: once the page is signed, it is no longer the one that waits.
  const [taking, setTaking] = useState(false);
  return (
    <>
      {forMe === undefined ? (
        <Give craft={craft} />
      ) : (
        <Take craft={craft} page={forMe} onTaken={() => setTaking(true)} />
      )}
      <TakeOver craft={craft} open={taking} onClose={() => setTaking(false)} />
    </>
  );
}

/** A page that another one came after is history. */
function isFollowed({ state }: CraftView, at_ms: number): boolean {
  return state.pagesHanded.some((other) => other.at_ms > at_ms);
}

const hours = { decimals: 0, lowest: 1, highest: 72 } as const;

function useLines(craft: CraftView, person: string | null, shiftEnds_ms: number) {
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  if (person === null) return null;
  const page = handoverPage(craft.state, craft.standing.reasons, person, now_ms, shiftEnds_ms);
  return { page, lines: handoverLines(page, { names, locale, now_ms, sheet: craft.sheet }) };
}

function Give({ craft }: CraftProps) {
  const { device } = useApp();
  const { me, people, now_ms } = useSnapshot();
  const { app } = useWords();
  const words = useHandoverWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [to, setTo] = useState<string | null>(null);
  const [shift, setShift] = useState("12");
  const [all, setAll] = useState<"yes" | "no" | null>(null);
  const [flightsOpen, setFlightsOpen] = useState("");
  const [promises, setPromises] = useState("");
  const [asked, setAsked] = useState(false);
  const [signing, setSigning] = useState(false);
  const read = readTypedNumber(shift, hours, locale.language);
  const shift_h = read.issue === null ? read.value : null;
  const shiftEnds_ms = now_ms + (shift_h ?? 12) * hour_ms;
  const made = useLines(craft, to, shiftEnds_ms);
  const mayGive = me?.roles.some((role) => role === "pilot" || role === "crewMember") === true;
  const others = people.filter(
    ({ id, roles }) => id !== me?.id && roles.some((role) => role === "pilot" || role === "crewMember"),
  );
  const flightsSaid = all === "yes" || (all === "no" && flightsOpen.trim() !== "");
  const isWhole = to !== null && shift_h !== null && flightsSaid;
  const last = craft.state.pagesHanded.at(-1);
  const sign = async () => {
    if (to === null || made === null) return;
    setSigning(false);
    await device.givePage(craft.ledger, {
      to,
      since_ms: made.page.since_ms,
      shiftEnds_ms,
      ...made.lines,
      flightsOpen: all === "yes" ? "" : flightsOpen.trim(),
      words: promises.trim(),
    });
    setTo(null);
  };
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${words.title}`}
      nameAs="h1"
      foot={
        <TwoButtons
          left={{ children: app.doing.print, onPress: () => print() }}
          right={{
            children: words.sign,
            note: words.signNote,
            onPress: () => (isWhole ? setSigning(true) : setAsked(true)),
          }}
        />
      }
    >
      {!mayGive && <Notice title={words.onlyCrew} />}
      <div className="stack-wide handover">
        <div className="columns handover-asks">
          <section className="stack">
            <h2 className="heading-small">{words.chooseWho}</h2>
            <PersonPick
              people={others.map(({ id, name, roles }) => ({
                id,
                name,
                role: words.role[roles.includes("pilot") ? "pilot" : "crewMember"],
              }))}
              chosen={to}
              onPick={setTo}
            />
            {asked && to === null && <p role="alert">{words.chooseWho}</p>}
          </section>
          <section className="stack">
            <Field
              label={words.shift}
              value={shift}
              onChange={setShift}
              inputMode="numeric"
              issue={shift_h === null ? words.shiftIssue : null}
            />
            <ChoiceRow
              name={words.flights}
              choices={[
                { value: "yes", label: words.flightsAll },
                { value: "no", label: words.flightsNot },
              ]}
              value={all}
              onChoose={setAll}
            />
            {all === "no" && (
              <Field label={words.flightsOpen} value={flightsOpen} onChange={setFlightsOpen} />
            )}
            {asked && !flightsSaid && <p role="alert">{words.flightsNeeded}</p>}
            <Field label={words.promises} value={promises} onChange={setPromises} lines="many" />
          </section>
        </div>
        {made === null && <p className="quiet">{words.pageComes}</p>}
        {made !== null && to !== null && (
          <Page
            craft={craft}
            title={`${words.to}: ${names.person(to)}`}
            since={
              made.page.since_ms === null
                ? `${names.person(to)} ${words.never}`
                : words.since(names.person(to), timeSeenFrom(now_ms, made.page.since_ms, locale))
            }
            shiftEnds_ms={shiftEnds_ms}
            lines={made.lines}
            flights={all === null ? null : all === "yes" ? words.allLogged : words.notLogged(flightsOpen)}
            promises={promises}
            signatures={[names.person(me?.id ?? ""), names.person(to)]}
          />
        )}
        {last !== undefined && <Signed craft={craft} page={last} />}
        <Earlier craft={craft} />
      </div>
      <Signature
        title={words.signTitle}
        open={signing}
        onClose={() => setSigning(false)}
        onSigned={() => void sign()}
      />
    </Frame>
  );
}

type TakeProps = CraftProps & { readonly page: HandoverFact; readonly onTaken: () => void };

function Take({ craft, page, onTaken }: TakeProps) {
  const { device } = useApp();
  const { app } = useWords();
  const words = useHandoverWords();
  const names = useNames(craft);
  const [said, setSaid] = useState("");
  const [signing, setSigning] = useState(false);
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${words.title}`}
      nameAs="h1"
      foot={
        <TwoButtons
          left={{ children: app.doing.print, onPress: () => print() }}
          right={{ children: words.take, note: words.signNote, onPress: () => setSigning(true) }}
        />
      }
    >
      <div className="stack-wide handover">
        <p className="lead">{words.for(names.person(page.by))}</p>
        <Signed craft={craft} page={page} />
        <Field label={words.takeWords} value={said} onChange={setSaid} lines="many" />
      </div>
      <Signature
        title={words.signTitle}
        open={signing}
        onClose={() => setSigning(false)}
        onSigned={() => {
          setSigning(false);
          void device.takePage(craft.ledger, page.entry, said.trim()).then(onTaken);
        }}
      />
    </Frame>
  );
}

/** A page as it was signed, and what was recorded after. */
function Signed({ craft, page }: CraftProps & { readonly page: HandoverFact }) {
  const { now_ms } = useSnapshot();
  const words = useHandoverWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [taken] = page.taken;
  const after = handoverPage(craft.state, [], page.to, now_ms, now_ms).changed.filter(
    ({ at_ms }) => at_ms > page.at_ms,
  );
  const { changed } = handoverLines(
    { since_ms: null, changed: after, ending: [], asked: [], structure: [] },
    { names, locale, now_ms, sheet: craft.sheet },
  );
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  return (
    <div className="stack">
      <Page
        craft={craft}
        title={words.given(names.person(page.by), time(page.at_ms))}
        since={
          page.since_ms === null
            ? `${names.person(page.to)} ${words.never}`
            : words.since(names.person(page.to), time(page.since_ms))
        }
        shiftEnds_ms={page.shiftEnds_ms}
        lines={page}
        flights={page.flightsOpen === "" ? words.allLogged : words.notLogged(page.flightsOpen)}
        promises={page.words}
        signatures={null}
        signed={
          taken === undefined
            ? words.notTaken(names.person(page.to))
            : [words.taken(names.person(taken.by), time(taken.at_ms)), taken.words]
                .filter((part) => part !== "")
                .join(": ")
        }
      />
      {changed.length > 0 && <Lines heading={words.after} lines={changed} none="" />}
    </div>
  );
}

type PageProps = CraftProps & {
  readonly title: string;
  readonly since: string;
  readonly shiftEnds_ms: number;
  readonly lines: HandoverLines;
  readonly flights: string | null;
  readonly promises: string;
  /** Lines to sign on, for a page that is printed before it is signed. */
  readonly signatures: readonly string[] | null;
  readonly signed?: string;
};

function Page({
  craft,
  title,
  since,
  shiftEnds_ms,
  lines,
  flights,
  promises,
  signatures,
  signed,
}: PageProps) {
  const { now_ms } = useSnapshot();
  const { standing, app } = useWords();
  const words = useHandoverWords();
  const locale = useLocale();
  const names = useNames(craft);
  return (
    <article className="handover-page stack opens">
      <div>
        <h2 className="head">
          {craft.name}: {title}
        </h2>
        <p className="quiet">
          {timeBoth(now_ms, locale)}; {since}
        </p>
      </div>
      <p>
        <b>{words.standing}: </b>
        {craft.standing.operations
          .map(
            ({ operation, verdict }) => `${names.of("operation", operation)} ${standing.verdictLow[verdict]}`,
          )
          .join("; ")}
      </p>
      <Lines heading={words.open} lines={lines.open} none={words.openNothing} />
      <Lines
        heading={words.ending(timeSeenFrom(now_ms, shiftEnds_ms, locale))}
        lines={lines.ending}
        none={words.endingNothing}
      />
      <Lines heading={words.changed} lines={lines.changed} none={words.changedNothing} />
      {flights !== null && <p>{flights}</p>}
      {promises.trim() !== "" && <p>{promises}</p>}
      {signed !== undefined && (
        <p>
          <b>{signed}</b>
        </p>
      )}
      {signatures !== null && (
        <div className="handover-signatures">
          {signatures.map((name) => (
            <span key={name}>
              {words.signature}, {name}
            </span>
          ))}
        </div>
      )}
      <p className="quiet small">{app.approvedDocumentsPrevail}</p>
    </article>
  );
}

type LinesProps = { readonly heading: string; readonly lines: readonly string[]; readonly none: string };

function Lines({ heading, lines, none }: LinesProps) {
  return (
    <section>
      <h3 className="heading-small">{heading}</h3>
      {lines.length === 0 ? (
        <p className="quiet">{none}</p>
      ) : (
        <ul className="rows handover-lines">
          {lines.map((line, index) => (
            <li key={`${index} ${line}`}>{line}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

function Earlier({ craft }: CraftProps) {
  const { now_ms } = useSnapshot();
  const words = useHandoverWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [shown, setShown] = useState<string | null>(null);
  const pages = craft.state.pagesHanded.slice(0, -1).toReversed().slice(0, 10);
  if (pages.length === 0)
    return craft.state.pagesHanded.length === 0 ? <p className="quiet">{words.none}</p> : null;
  return (
    <section className="stack handover-earlier">
      <h2 className="heading-small">{words.earlier}</h2>
      {pages.map((page) => (
        <div key={page.entry}>
          <Button look="plain" onPress={() => setShown(shown === page.entry ? null : page.entry)}>
            {words.given(names.person(page.by), timeSeenFrom(now_ms, page.at_ms, locale))}
          </Button>
          {shown === page.entry && <Signed craft={craft} page={page} />}
        </div>
      ))}
    </section>
  );
}
