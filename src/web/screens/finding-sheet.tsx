// A finding, captured where one stands: the place on the drawing, the part, what kind; then record. Size, photo, another
// time and one's own words may follow. What is known at the place is shown first: the same matter is seen again, never
// written twice. Or, on a walk: the item was not reached, and why.
import { useState } from "react";
import { findingKinds } from "../../core/facts/craft.ts";
import type { FindingFacts, FindingKind, PhotoRef } from "../../core/facts/craft.ts";
import { unitsOf } from "../../core/finding/bands.ts";
import type { MeasureUnit } from "../../core/finding/bands.ts";
import { isClosed } from "../../core/finding/judgement.ts";
import { readMeasure } from "../../core/finding/typed-measure.ts";
import { readWhen } from "../../core/finding/typed-when.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { dateLong, timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { PhotosTaken } from "./finding-photos.tsx";
import { StopChoice, ZoneChoice } from "./finding-place.tsx";
import { SizeField } from "./finding-size.tsx";
import { kindUnder, knownAt, partOf, type Zone } from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";
import "../look/findings.css";

export type FindingPlace = {
  readonly stop: string | null;
  readonly item: string | null;
  readonly walk: string | null;
};

type FindingSheetProps = {
  readonly craft: CraftView;
  readonly at: FindingPlace;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly onDone: () => void;
};

export function FindingSheet(props: FindingSheetProps) {
  const { walk } = useWords();
  const words = useFindingsWords();
  const { craft, at } = props;
  const names = useNames(craft);
  const title =
    at.stop === null ? words.capture.title : `${walk.doing.finding}: ${names.of("stop", at.stop)}`;
  return (
    <Sheet title={title} open={props.open} onClose={props.onClose}>
      {props.open && <Inside {...props} />}
    </Sheet>
  );
}

/** On a walk it may be that the item was not reached; elsewhere there is only the finding. */
function Inside(props: FindingSheetProps) {
  const { walk, screens } = useWords();
  const [what, setWhat] = useState<"finding" | "notReached">("finding");
  return (
    <div className="stack">
      {props.at.item !== null && (
        <ChoiceRow
          name={screens.walk.somethingElse}
          nameHidden
          choices={[
            { value: "finding", label: walk.doing.finding },
            { value: "notReached", label: walk.doing.notReached },
          ]}
          value={what}
          onChoose={setWhat}
        />
      )}
      {what === "finding" ? <Capture {...props} /> : <NotReached {...props} />}
    </div>
  );
}

function NotReached({ craft, at, onClose, onDone }: FindingSheetProps) {
  const { device } = useApp();
  const { walk, screens } = useWords();
  const words = useFindingsWords();
  const [said, setSaid] = useState("");
  const save = async () => {
    if (at.item === null) return;
    await device.markItem(craft.ledger, at.item, { mark: "notReached", why: said.trim(), finding: null });
    onClose();
    onDone();
  };
  return (
    <>
      <Field label={screens.walk.whyNotReached} value={said} onChange={setSaid} lines="many" />
      <div className="sheet-foot">
        <Button
          look="filled"
          onPress={() => void save()}
          {...(said.trim() === "" ? { why: words.capture.needsWords } : {})}
        >
          {walk.doing.notReached}
        </Button>
      </div>
    </>
  );
}

/** Everything typed so far, as it stands; what it means is read from it anew each time. */
type Typed = {
  readonly stop: string | null;
  readonly zone: Zone | null | undefined;
  readonly kind: FindingKind | null;
  /** The known finding that it is; "another" where it is none of them; null while that is not said. */
  readonly known: string | null;
  readonly size: string;
  readonly unit: MeasureUnit | null;
  readonly when: string;
  readonly written: "now" | "then" | null;
  readonly photos: readonly PhotoRef[];
  readonly said: string;
};

const another = "another";
const usualKinds: readonly FindingKind[] = findingKinds.filter((kind) => kind !== "outOfBand");

function Capture({ craft, at, onClose, onDone }: FindingSheetProps) {
  const { device } = useApp();
  const { finding: common } = useWords();
  const words = useFindingsWords();
  const locale = useLocale();
  const { language } = locale;
  const { now_ms, zone: clockZone } = useSnapshot();
  const names = useNames(craft);
  const [typed, setTyped] = useState<Typed>({
    stop: at.stop,
    zone: undefined,
    kind: null,
    known: null,
    size: "",
    unit: null,
    when: "",
    written: null,
    photos: [],
    said: "",
  });
  const change = (more: Partial<Typed>) => setTyped((before) => ({ ...before, ...more }));
  const { stop, zone, kind, photos } = typed;
  const limit = zone?.limits.find((candidate) => kindUnder(candidate) === kind) ?? null;
  const units = limit === null ? [] : unitsOf(limit.measure);
  const measured = readMeasure(typed.size, language, units, typed.unit);
  const when = readWhen(typed.when, now_ms, clockZone);
  const known = stop === null ? [] : knownAt(craft, stop, limit?.id ?? null, now_ms);
  const again = known.find(({ finding }) => finding === typed.known) ?? null;
  const missing = whatIsMissing();

  function whatIsMissing(): string | null {
    const say = words.capture;
    if (stop === null) return photos.length > 0 ? say.needsPlacePhoto : say.needsPlace;
    if (known.length > 0 && typed.known === null) return say.needsKnown;
    if (again === null && kind === null) return say.needsKind;
    if (again === null && kind === "other" && typed.said.trim() === "") return say.needsWords;
    if (measured.kind === "issue") return say.needsSize;
    if (when.kind === "ahead" || when.kind === "unread") return say.needsDay;
    return when.kind === "at" && !when.isToday && typed.written === null ? say.needsDay : null;
  }

  const save = async () => {
    const measure = measured.kind === "measure" ? measured.measure : null;
    const said = typed.said.trim();
    const seenOn = when.kind === "at" ? { at_ms: when.at_ms, typed: when.typed } : null;
    let finding: string;
    if (again !== null) {
      finding = again.finding;
      if (isClosed(craft.sheet, again))
        await device.reopenFinding(craft.ledger, finding, said === "" ? words.life.seenAgain : said);
      if (measure === null) await device.seenAgain(craft.ledger, finding, said, photos);
      else await device.measureFinding(craft.ledger, finding, { measure, photos, words: said });
    } else {
      if (kind === null || stop === null) return;
      finding = await device.raiseFinding(craft.ledger, {
        kind,
        stop,
        item: at.item,
        walk: at.walk,
        measure,
        words: said,
        damage: limit?.id ?? null,
        photos,
        seenOn,
        writtenThen: typed.written === "then",
      });
    }
    if (at.item !== null)
      await device.markItem(craft.ledger, at.item, { mark: "finding", why: null, finding });
    onClose();
    onDone();
  };

  return (
    <>
      {stop === null && <StopChoice craft={craft} onStop={(chosen) => change({ stop: chosen })} />}
      {stop !== null && at.stop === null && (
        <p className="place-chosen">
          <b>{names.title("stop", stop)}</b>
          <Button
            look="plain"
            onPress={() => change({ stop: null, zone: undefined, kind: null, known: null })}
          >
            {words.capture.otherStop}
          </Button>
        </p>
      )}
      {known.length > 0 && (
        <KnownHere
          craft={craft}
          known={known}
          value={typed.known}
          onKnown={(chosen) => change({ known: chosen })}
        />
      )}
      {stop !== null && again === null && (
        <>
          <ZoneChoice
            craft={craft}
            stop={stop}
            zone={zone}
            onZone={(chosen) =>
              change({
                zone: chosen,
                kind: chosen?.limits.length === 1 ? kindUnder(chosen.limits[0]!) : null,
              })
            }
          />
          <ChoiceRow
            name={common.what}
            choices={usualKinds.map((value) => ({ value, label: common.kind[value] }))}
            value={kind}
            onChoose={(chosen) => change({ kind: chosen })}
            width="even"
          />
        </>
      )}
      {stop !== null && (
        <>
          <SizeField
            typed={typed.size}
            unit={typed.unit}
            limit={again === null ? limit : limitOf(craft, again)}
            isLeak={(again?.raised.kind ?? kind) === "leak"}
            onTyped={(size) => change({ size, unit: null })}
            onUnit={(unit) => change({ unit })}
          />
          {again === null && (
            <Field
              label={words.capture.when}
              value={typed.when}
              onChange={(text) => change({ when: text, written: null })}
              hint={words.capture.whenHint}
              issue={
                when.kind === "ahead"
                  ? words.issue.ahead(when.typed)
                  : when.kind === "unread"
                    ? words.issue.unread(when.typed)
                    : null
              }
            />
          )}
          {again === null && when.kind === "at" && !when.isToday && (
            <ChoiceRow
              name={words.issue.otherDay(dateLong(when.date, locale))}
              width="long"
              choices={[
                { value: "now", label: words.issue.writtenNow, note: words.issue.writtenNowNote },
                { value: "then", label: words.issue.writtenThen, note: words.issue.writtenThenNote },
              ]}
              value={typed.written}
              onChoose={(written) => change({ written })}
            />
          )}
        </>
      )}
      <PhotosTaken photos={photos} onPhotos={(taken) => change({ photos: taken })} />
      <Field label={common.words} value={typed.said} onChange={(said) => change({ said })} lines="many" />
      <div className="sheet-foot">
        <Button look="filled" onPress={() => void save()} {...(missing === null ? {} : { why: missing })}>
          {again === null ? words.capture.save : words.capture.saveAgain}
        </Button>
      </div>
    </>
  );
}

function limitOf({ sheet }: CraftView, { raised }: FindingFacts) {
  return sheet?.damage.find(({ id }) => id === raised.damage) ?? null;
}

type KnownHereProps = {
  readonly craft: CraftView;
  readonly known: readonly FindingFacts[];
  readonly value: string | null;
  readonly onKnown: (finding: string) => void;
};

/** What is known at the place, before anything new is said. */
function KnownHere({ craft, known, value, onKnown }: KnownHereProps) {
  const { finding: common } = useWords();
  const words = useFindingsWords();
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  const names = useNames(craft);
  return (
    <ChoiceRow
      name={words.capture.knownHere}
      width="long"
      choices={[
        ...known.map((one) => ({
          value: one.finding,
          label: [
            common.kind[one.raised.kind],
            partOf(craft.sheet, one, locale.language),
            one.raised.words === "" ? null : one.raised.words,
            isClosed(craft.sheet, one) ? words.stage.closed : null,
          ]
            .filter((part) => part !== null)
            .join(", "),
          note: `${common.seenAt(timeSeenFrom(now_ms, one.raised.at_ms, locale), names.person(one.raised.by))}. ${
            isClosed(craft.sheet, one) ? words.capture.openAgain : words.capture.seenAgain
          }`,
        })),
        { value: another, label: asTitle(words.capture.another, locale.language) },
      ]}
      value={value}
      onChoose={onKnown}
    />
  );
}
