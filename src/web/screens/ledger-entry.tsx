// One entry whole: what it says, what stands behind it, how long it is to be kept, and its erasure by who may.
import { useEffect, useState } from "react";
import { dateLater } from "../../core/facts/calendar.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { retentionOf } from "../../core/rules/retention.ts";
import { photosIn } from "../../ledger/photos.ts";
import type { Words } from "../../present/words/words.ts";
import { dateLong, timeBoth, timeSeenFrom } from "../../present/words/formats.ts";
import { erasingRoles } from "../device/model.ts";
import type { CraftView, ErasingRole, Evidence, LedgerLine } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { HoldButton } from "../parts/hold-button.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { KeptPhoto } from "./finding-photos.tsx";
import { useFindingsWords } from "./use-findings-words.ts";
import { useLedgerWords } from "./use-ledger-words.ts";

type EntryProps = {
  readonly craft: CraftView;
  readonly line: LedgerLine;
  readonly onOpen: (id: string) => void;
};

/** As many links as a person reads; an entry may be named by hundreds. */
const mostLinks = 12;

export function statusWords({ status, type }: LedgerLine, words: Words["screens"]["ledger"]): string {
  const { statusOf } = words;
  // A receipt has no receipt: it came from the server, and is not one of ours that has not gone up.
  if (type === "receipt" && status === "pending") return statusOf.byServer;
  return status in statusOf ? statusOf[status as keyof typeof statusOf] : `${statusOf.aside}: ${status}`;
}

export function LedgerEntry({ craft, line, onOpen }: EntryProps) {
  const { screens, ledger: words } = useWords();
  const names = useNames(craft);
  const locale = useLocale();
  return (
    <div className="stack">
      <dl className="facts">
        <dt>{screens.ledger.what}</dt>
        <dd>
          {screens.ledger.type[line.type] ?? line.type} <span className="mono small">{line.type}</span>
        </dd>
        <dt>{screens.ledger.who}</dt>
        <dd>{names.person(line.by)}</dd>
        <dt>{screens.ledger.time}</dt>
        <dd className="mono">{timeBoth(line.at_ms, locale)}</dd>
        <dt>{screens.ledger.status}</dt>
        <dd>{statusWords(line, screens.ledger)}</dd>
        <dt>{screens.ledger.id}</dt>
        <dd className="mono small">{line.id}</dd>
        <dt>{screens.ledger.key}</dt>
        <dd className="mono small">{line.key}</dd>
        <dt>{screens.ledger.place}</dt>
        <dd className="mono">{line.seq}</dd>
        <dt>{screens.ledger.body}</dt>
        <dd>
          {line.body === null ? (
            words.erased
          ) : (
            <pre className="entry-body mono small">{JSON.stringify(line.body, null, 1)}</pre>
          )}
        </dd>
      </dl>
      <Photos line={line} />
      <Behind key={line.status} craft={craft} line={line} onOpen={onOpen} />
      <Kept line={line} />
      <Erase craft={craft} line={line} />
    </div>
  );
}

function Photos({ line }: { readonly line: LedgerLine }) {
  const { capture } = useFindingsWords();
  const hashes = photosIn(line.body);
  if (hashes.length === 0) return null;
  return (
    <ul className="photo-row">
      {hashes.map((hash, index) => (
        <li key={hash}>
          <KeptPhoto hash={hash} says={capture.photoOf(index + 1)} />
        </li>
      ))}
    </ul>
  );
}

function Behind({ craft, line, onOpen }: EntryProps) {
  const { device } = useApp();
  const { evidence: words } = useLedgerWords();
  const [evidence, setEvidence] = useState<Evidence | null>(null);
  const { ledger } = craft;
  const { id } = line;
  useEffect(() => {
    let wanted = true;
    void device.evidence(ledger, id).then((found) => wanted && setEvidence(found));
    return () => void (wanted = false);
  }, [device, ledger, id]);
  return (
    <section className="stack">
      <h3 className="heading-small">{words.name}</h3>
      {evidence === null ? (
        <output>{words.proving}</output>
      ) : (
        <>
          <Chain evidence={evidence} />
          <Links name={words.before} ids={evidence.before} craft={craft} onOpen={onOpen} />
          <Links name={words.namedBy} ids={evidence.namedBy} craft={craft} onOpen={onOpen} />
        </>
      )}
    </section>
  );
}

function Chain({ evidence }: { readonly evidence: Evidence }) {
  const { evidence: words } = useLedgerWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const { hashes, signed, voucher, revoked_ms, receipt } = evidence;
  const when = (at_ms: number): string => timeSeenFrom(now_ms, at_ms, locale);
  const vouched =
    voucher === null
      ? words.uncertified
      : voucher.kind === "root"
        ? words.root
        : words.certified(voucher.roles.join(", "));
  const received =
    receipt === null
      ? words.notReceived
      : receipt.verdict === "accepted"
        ? words.received(when(receipt.received_ms))
        : words.refused(when(receipt.received_ms));
  const steps: readonly (readonly [holds: boolean, said: string])[] = [
    [hashes, hashes ? words.hashes.yes : words.hashes.no],
    [signed, signed ? words.signed.yes : words.signed.no],
    [voucher !== null, vouched],
    ...(revoked_ms === null ? [] : [[false, words.revoked(when(revoked_ms))] as const]),
    [receipt?.verdict === "accepted", received],
  ];
  return (
    <ul className="rows">
      {steps.map(([holds, said]) => (
        <li key={said} className="evidence-step">
          <Glyph name={holds ? "good" : "finding"} />
          <span>{said}</span>
        </li>
      ))}
    </ul>
  );
}

type LinksProps = {
  readonly name: string;
  readonly ids: readonly string[];
  readonly craft: CraftView;
  readonly onOpen: (id: string) => void;
};

function Links({ name, ids, craft, onOpen }: LinksProps) {
  const { screens } = useWords();
  const { evidence: words } = useLedgerWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  if (ids.length === 0) return null;
  const wanted = new Set(ids.slice(0, mostLinks));
  const lines = (craft.lines ?? []).filter(({ id }) => wanted.has(id));
  return (
    <div>
      <p className="small quiet">{name}</p>
      <ul className="rows">
        {lines.map(({ id, type, at_ms }) => {
          const what = screens.ledger.type[type] ?? type;
          return (
            <li key={id}>
              <button
                type="button"
                className="ledger-line"
                aria-label={words.open(`${what} ${timeSeenFrom(now_ms, at_ms, locale)}`)}
                onClick={() => onOpen(id)}
              >
                <span>{what}</span>
                <span className="mono small">{timeSeenFrom(now_ms, at_ms, locale)}</span>
              </button>
            </li>
          );
        })}
      </ul>
      {ids.length > mostLinks && <p className="small quiet">{words.more(ids.length - mostLinks)}</p>}
    </div>
  );
}

/** The last day of the longest period of the rule set for such a record; null where there is none. */
function keptUntil({ type, at_ms }: LedgerLine, ruleSet: Parameters<typeof retentionOf>[1]): string | null {
  const from = msToInstant(at_ms).slice(0, 10);
  const ends = retentionOf(type, ruleSet).map(({ keep }) => dateLater(from, keep));
  return ends.toSorted().at(-1) ?? null;
}

function Kept({ line }: { readonly line: LedgerLine }) {
  const { retention: words } = useLedgerWords();
  const { ruleSet } = useSnapshot();
  const rows = retentionOf(line.type, ruleSet);
  if (rows.length === 0) return null;
  return (
    <section className="stack">
      <h3 className="heading-small">{words.ofEntry}</h3>
      <ul className="rows">
        {rows.map(({ record, keep, from, cite }) => (
          <li key={record}>
            {words.record[record] ?? record}: {words.kept(keep)} {words.from[from]}{" "}
            <span className="small quiet">{cite}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Entries that speak about others cannot be erased: they make and unmake. */
const system = ["receipt", "fork.decided", "aside.settled", "erase", "photo.erased"];

function Erase({ craft, line }: Omit<EntryProps, "onOpen">) {
  const { device } = useApp();
  const { me, ruleSet } = useSnapshot();
  const { erase: words } = useLedgerWords();
  const locale = useLocale();
  const roles = erasingRoles.filter((role) => me?.roles.includes(role));
  const [asked, setAsked] = useState(false);
  const [role, setRole] = useState<ErasingRole | null>(roles[0] ?? null);
  const [reason, setReason] = useState("");
  /** The hash of a photo; null: what the entry says. */
  const [photo, setPhoto] = useState<string | null>(null);
  if (role === null || line.body === null || system.includes(line.type)) return null;
  const photos = photosIn(line.body);
  const left = photos.filter((hash) => !device.isPhotoErased(hash));
  if (!asked)
    return <Button onPress={() => setAsked(true)}>{left.length > 0 ? words.nameOrPhoto : words.name}</Button>;
  const until = keptUntil(line, ruleSet);
  const isSaid = reason.trim() !== "";
  const name = photo === null ? words.name : words.namePhoto;
  const erase = async () => {
    const said = [role, reason.trim()] as const;
    if (photo === null) await device.eraseEntry(craft.ledger, line.id, ...said);
    else await device.erasePhoto(craft.ledger, photo, ...said);
    setAsked(false);
    setPhoto(null);
    setReason("");
  };
  return (
    <section className="stack">
      <h3 className="heading-small">{name}</h3>
      {left.length > 0 && (
        <ChoiceRow
          name={words.what}
          choices={[
            { value: "", label: words.whole },
            ...left.map((hash) => ({ value: hash, label: words.photo(photos.indexOf(hash) + 1) })),
          ]}
          value={photo ?? ""}
          onChoose={(value) => setPhoto(value === "" ? null : value)}
        />
      )}
      <p>
        {photo !== null
          ? words.notePhoto
          : left.length > 0
            ? `${words.note} ${words.notePhotos}`
            : words.note}
      </p>
      {photo === null && line.critical && <p>{words.noteAside}</p>}
      <p>{until === null ? words.notKept : words.keptUntil(dateLong(until, locale))}</p>
      <ChoiceRow
        name={words.role}
        choices={roles.map((value) => ({ value, label: words.roleOf[value] }))}
        value={role}
        onChoose={setRole}
      />
      <Field label={words.reason} value={reason} onChange={setReason} lines="many" />
      {isSaid ? (
        <HoldButton
          holdFor={words.hold}
          holdForLong={photo === null ? words.holdLong : words.holdPhotoLong}
          onHeld={() => void erase()}
        >
          {name}
        </HoldButton>
      ) : (
        <Button why={words.needsReason} onPress={() => {}}>
          {name}
        </Button>
      )}
    </section>
  );
}
