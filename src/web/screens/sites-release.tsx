// The file of sites as a whole: changes that wait to be proposed, proposals that wait for a second person with every
// difference, and files taken in and out. A file that cannot be read is refused with everything that is wrong in it.
import { useEffect, useRef, useState } from "react";
import type { SitesProposed } from "../../core/facts/site.ts";
import type { BaseSky } from "../../core/facts/sky.ts";
import { describe, type Issue, Refusal } from "../../core/quantity/refusal.ts";
import { sitesDiff, type SiteChange } from "../../core/reach/sites-edit.ts";
import { readSites } from "../../core/reach/sites-geojson.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useSitesWords } from "./use-sites-words.ts";

/** Every difference, site by site, property by property. */
function Diff({ changes }: { readonly changes: readonly SiteChange[] }) {
  const words = useSitesWords();
  const value = (one: unknown): string => {
    if (one === undefined || one === null) return words.nothing;
    if (typeof one === "boolean") return one ? words.yes : words.no;
    return typeof one === "string" ? one : JSON.stringify(one).slice(0, 120);
  };
  if (changes.length === 0) return <p className="quiet">{words.sameAsReleased}</p>;
  return (
    <ul className="rows sites-diff">
      {changes.map(({ id, name, what, how, fields }, index) => (
        // A piece of land has no id of its own, and several may have one name.
        // oxlint-disable-next-line react/no-array-index-key
        <li key={`${what} ${id} ${index}`}>
          <b>{what === "file" ? words.whatIs.file : name}</b>
          {what === "land" && ` (${words.whatIs.land})`}, {words.how[how]}
          <ul className="small">
            {fields.map(({ key, before, after }) => (
              <li key={key}>
                {words.fieldChange(words.properties[key] ?? key, value(before), value(after))}
              </li>
            ))}
          </ul>
        </li>
      ))}
    </ul>
  );
}

type DraftProps = {
  readonly base: BaseSky;
  readonly before: unknown;
  readonly copy: unknown;
  readonly onDone: () => void;
};

export function Draft({ base, before, copy, onDone }: DraftProps) {
  const { device } = useApp();
  const words = useSitesWords();
  const { proposeForm: form } = words;
  const [open, setOpen] = useState(false);
  const [edition, setEdition] = useState("");
  const [said, setSaid] = useState("");
  const changes = sitesDiff(before, copy);
  const top = useRef<HTMLElement>(null);
  useEffect(() => {
    // In newer browsers it answers with a promise, which is nothing to undo.
    top.current?.scrollIntoView({ block: "nearest" });
  }, []);
  return (
    <section className="sites-draft" ref={top}>
      <Notice title={words.draft(changes.length)}>
        <p className="small">{words.draftBody}</p>
      </Notice>
      <Diff changes={changes} />
      <div className="sites-buttons">
        <Button onPress={onDone}>{words.discard}</Button>
        <Button look="filled" onPress={() => setOpen(true)}>
          {words.propose}
        </Button>
      </div>
      <Sheet title={words.propose} open={open} onClose={() => setOpen(false)}>
        <div className="stack">
          <Field label={form.edition} value={edition} onChange={setEdition} />
          <Field label={form.words} value={said} onChange={setSaid} lines="many" />
          <SignFoot
            label={form.save}
            why={edition.trim() === "" || said.trim() === "" ? form.needs : null}
            onSign={() =>
              device.sign(base.base, "sites.proposed", {
                edition: edition.trim(),
                geojson: copy,
                words: said.trim(),
                replaces: [],
              })
            }
            onDone={onDone}
          />
        </div>
      </Sheet>
    </section>
  );
}

export function Proposals({ base, before }: { readonly base: BaseSky; readonly before: unknown }) {
  const words = useSitesWords();
  const waiting = base.state.sitesProposed.filter(({ ended }) => ended === null);
  if (waiting.length === 0) return null;
  return (
    <section className="opens">
      <h2 className="heading-small">{words.proposals}</h2>
      {waiting.map((one) => (
        <Proposal key={one.entry} base={base} before={before} proposal={one} />
      ))}
    </section>
  );
}

type ProposalProps = {
  readonly base: BaseSky;
  readonly before: unknown;
  readonly proposal: SitesProposed;
};

function Proposal({ base, before, proposal }: ProposalProps) {
  const { device } = useApp();
  const { now_ms, me } = useSnapshot();
  const words = useSitesWords();
  const locale = useLocale();
  const names = useNames(null);
  const [declining, setDeclining] = useState(false);
  const [why, setWhy] = useState("");
  const { entry, edition, at_ms, by, words: said, geojson } = proposal;
  const changes = sitesDiff(before, geojson);
  const isOffice = me?.roles.some((role) => role === "administrator" || role === "airworthiness") === true;
  const hindrance = !isOffice ? words.needsOffice : me?.id === by ? words.ownProposal : null;
  return (
    <article className="sites-proposal">
      <p>
        <b>{words.proposed(edition, timeSeenFrom(now_ms, at_ms, locale), names.person(by))}</b>
      </p>
      {said !== "" && <p>{said}</p>}
      <p className="small quiet">{words.differs(changes.length)}</p>
      <Diff changes={changes} />
      <div className="sites-buttons">
        <Button onPress={() => setDeclining(true)} {...(isOffice ? {} : { why: words.needsOffice })}>
          {words.decline}
        </Button>
        <Button
          look="filled"
          onPress={() =>
            void device.sign(base.base, "sites.released", {
              proposal: entry,
              replaces: base.state.sites.map((one) => one.entry),
            })
          }
          {...(hindrance === null ? {} : { why: hindrance })}
        >
          {words.release}
        </Button>
      </div>
      <Sheet title={words.decline} open={declining} onClose={() => setDeclining(false)}>
        <div className="stack">
          <Field label={words.declineWhy} value={why} onChange={setWhy} lines="many" />
          <SignFoot
            label={words.decline}
            why={why.trim() === "" ? words.declineNeeds : null}
            onSign={() => device.sign(base.base, "sites.declined", { proposal: entry, words: why.trim() })}
            onDone={() => setDeclining(false)}
          />
        </div>
      </Sheet>
    </article>
  );
}

type Refused = { readonly notJson: string } | { readonly issues: readonly Issue[] };

type FileRowProps = {
  readonly file: unknown;
  readonly may: boolean;
  readonly onTake: (file: unknown) => void;
};

export function FileRow({ file, may, onTake }: FileRowProps) {
  const words = useSitesWords();
  const input = useRef<HTMLInputElement>(null);
  const [refused, setRefused] = useState<Refused | null>(null);
  const take = async (given: File) => {
    setRefused(null);
    try {
      const parsed: unknown = JSON.parse(await given.text());
      readSites(parsed);
      onTake(parsed);
    } catch (error) {
      if (error instanceof Refusal) setRefused({ issues: error.issues });
      else if (error instanceof SyntaxError) setRefused({ notJson: error.message });
      else throw error;
    }
  };
  return (
    <section className="stack">
      {may && (
        <div>
          <Button onPress={() => input.current?.click()}>{words.file.take}</Button>
          <input
            ref={input}
            type="file"
            className="hidden-but-said"
            accept=".geojson,.json,application/geo+json,application/json"
            aria-hidden="true"
            tabIndex={-1}
            onChange={({ currentTarget }) => {
              const [given] = currentTarget.files ?? [];
              if (given !== undefined) void take(given);
              // The same file may be chosen again once it is mended.
              currentTarget.value = "";
            }}
          />
          <p className="small quiet">{words.file.takeHint}</p>
        </div>
      )}
      {refused !== null && (
        <Notice
          kind="problem"
          title={
            "notJson" in refused
              ? words.file.notJson(refused.notJson)
              : words.file.refused(refused.issues.length)
          }
        >
          {"issues" in refused && (
            <ul className="small">
              {refused.issues.map(({ path, found, wanted }) => (
                <li key={`${path} ${wanted}`}>
                  {words.file.issue(path, found ?? describe(null), wanted ?? "")}
                </li>
              ))}
            </ul>
          )}
        </Notice>
      )}
      {file !== null && (
        <p>
          <a
            className="button"
            data-plain
            download="sites.geojson"
            href={`data:application/geo+json;charset=utf-8,${encodeURIComponent(JSON.stringify(file, null, 1))}`}
          >
            {words.file.save}
          </a>
        </p>
      )}
    </section>
  );
}
