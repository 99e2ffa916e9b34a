// What happened to the machine, by the register of its sheet: noted by whoever was there, and on the ground (or not known)
// until somebody in the role that the register names has written what was found.
import { useState } from "react";
import type { EventFact } from "../../core/facts/craft.ts";
import { isCleared, mayClear } from "../../core/finding/assess-events.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { judgingRole } from "./findings-view.ts";
import { Signature } from "./signature.tsx";
import { useFindingsWords } from "./use-findings-words.ts";

type EventSheetProps = {
  readonly craft: CraftView;
  readonly open: boolean;
  readonly onClose: () => void;
};

export function EventSheet({ craft, open, onClose }: EventSheetProps) {
  const words = useFindingsWords();
  return (
    <Sheet title={words.events.title} open={open} onClose={onClose}>
      {open && <Note craft={craft} onClose={onClose} />}
    </Sheet>
  );
}

function Note({ craft, onClose }: Omit<EventSheetProps, "open">) {
  const { device } = useApp();
  const words = useFindingsWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const [event, setEvent] = useState<string | null>(null);
  const [said, setSaid] = useState("");
  const listed = craft.sheet?.events ?? [];
  const save = () => {
    if (event !== null) void device.noteEvent(craft.ledger, event, said.trim()).then(onClose);
  };
  return (
    <div className="stack">
      <ChoiceRow
        name={words.events.which}
        width="long"
        choices={listed.map(({ id, check, effect, clearedBy }) => ({
          value: id,
          label: names.title("event", id),
          note: `${asTitle(check[language], language)}. ${words.events.by[clearedBy]}; ${words.events[effect]}.`,
        }))}
        value={event}
        onChoose={setEvent}
      />
      <Field label={words.events.words} value={said} onChange={setSaid} lines="many" />
      <div className="sheet-foot">
        <Button look="filled" onPress={save} {...(event === null ? { why: words.events.needsEvent } : {})}>
          {words.events.record}
        </Button>
      </div>
    </div>
  );
}

/** What waits to be cleared, and what was cleared before; nothing where nothing ever happened. */
export function Events({ craft }: { readonly craft: CraftView }) {
  const words = useFindingsWords();
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  const names = useNames(craft);
  const { events } = craft.state;
  const open = events.filter((event) => !isCleared(craft.sheet, event));
  const cleared = events.filter((event) => isCleared(craft.sheet, event)).toReversed();
  if (events.length === 0) return null;
  return (
    <section className="stack">
      <h2 className="heading-small">{words.events.open}</h2>
      <ul className="rows">
        {open.map((event) => (
          <li key={event.entry}>
            <OpenEvent craft={craft} event={event} />
          </li>
        ))}
        {cleared.map((event) => (
          <li key={event.entry}>
            {names.title("event", event.event)}
            <span className="reason-detail">
              {" "}
              {timeSeenFrom(now_ms, event.at_ms, locale)}
              {event.cleared.map(
                ({ at_ms, by, words: said }) =>
                  `; ${words.events.clearedBy(timeSeenFrom(now_ms, at_ms, locale), names.person(by))}: ${said}`,
              )}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function OpenEvent({ craft, event }: { readonly craft: CraftView; readonly event: EventFact }) {
  const { device } = useApp();
  const words = useFindingsWords();
  const locale = useLocale();
  const { now_ms, me } = useSnapshot();
  const names = useNames(craft);
  const [said, setSaid] = useState("");
  const [signing, setSigning] = useState(false);
  const { language } = locale;
  const listed = craft.sheet?.events.find(({ id }) => id === event.event);
  const role = judgingRole(me);
  const may = mayClear(craft.sheet, event, role);
  const save = () => void device.clearEvent(craft.ledger, event.entry, role, said.trim());
  return (
    <div className="stack event-open">
      <p>
        <Glyph name={listed?.effect === "asks" ? "unknown" : "notReached"} />{" "}
        <b>{names.title("event", event.event)}</b>
        <span className="reason-detail">
          {" "}
          {[timeSeenFrom(now_ms, event.at_ms, locale), names.person(event.by), event.words]
            .filter((part) => part !== "")
            .join(", ")}
        </span>
      </p>
      <p className="small">
        {listed === undefined ? words.events.notListed : words.events.check(listed.check[language])}
      </p>
      {event.cleared.map(({ entry, by, words: told }) => (
        <p key={entry} className="small quiet">
          {names.person(by)}: {told} ({words.events.notCounted})
        </p>
      ))}
      {may ? (
        <>
          <Field label={words.events.clearWords} value={said} onChange={setSaid} lines="many" />
          <Button
            onPress={() => setSigning(true)}
            {...(said.trim() === "" ? { why: words.act.needsWords } : {})}
          >
            {words.events.cleared}
          </Button>
          <Signature
            title={words.events.clear}
            open={signing}
            onClose={() => setSigning(false)}
            onSigned={save}
          />
        </>
      ) : (
        listed !== undefined && (
          <p className="small quiet">{words.events.notYours(words.events.by[listed.clearedBy])}</p>
        )
      )}
    </div>
  );
}
