// What the faces of a walk share: the item at hand, large, with why it is there; the mark just made and its taking back;
// the queue of the others; the two buttons.
//
// After each mark another item stands here: its count changes, a bar grows beside it and the focus goes to it, and the
// mark just made can be taken back with one tap. The list is a queue: what comes next at its head, in walking order, what
// is marked at its end; on a phone only a few lines of it are in sight, and those are the ones still to do.
import { useEffect, useRef } from "react";
import type { ReactNode } from "react";
import type { DraftMark } from "../../ledger/craft/recorder.ts";
import type { ItemProgress } from "../../core/walk/progress.ts";
import type { Because } from "../../core/walk/plan.ts";
import type { CraftView } from "../device/model.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { Button } from "../parts/button.tsx";
import { MarkRow } from "../parts/mark-row.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import type { BigButton } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useRoundWords } from "./use-round-words.ts";
import type { WalkView } from "./walk-view.ts";

/** The heading that stands at hand has the focus, so that keyboard and screen reader follow the walk. */
export function useFocusOnCome() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    // After what was tapped is seen: to move the focus costs a slow tablet as much as the tap.
    let later: ReturnType<typeof setTimeout> | undefined;
    const frame = requestAnimationFrame(() => (later = setTimeout(() => heading.current?.focus())));
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(later);
    };
  }, []);
  return heading;
}

/** Why an item is in the plan beyond the sheet, in words; empty for what the sheet alone asks. */
function useWhy(craft: CraftView): (because: readonly Because[]) => readonly string[] {
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const { why } = useRoundWords();
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  return (because) =>
    because.flatMap((one): readonly string[] => {
      switch (one.kind) {
        case "sheet":
          return [];
        case "closure":
          return [why.closure(names.title("closure", one.closure), time(one.at_ms), names.person(one.by))];
        case "finding":
          return [why.finding];
        case "uplift":
          return [why.uplift(time(one.at_ms))];
        case "equipment":
          return [why.equipment(names.title("equipment", one.equipment), time(one.at_ms))];
        case "worked":
          return [why.worked(time(one.at_ms))];
        default:
          return one satisfies never;
      }
    });
}

type CurrentItemProps = {
  readonly craft: CraftView;
  readonly progress: ItemProgress;
  readonly position: number;
  readonly count: number;
  /** Where it is, on a face that shows more than one stop. */
  readonly place?: string;
};

export function CurrentItem({ craft, progress, position, count, place }: CurrentItemProps) {
  const { walk, screens } = useWords();
  const heading = useFocusOnCome();
  const { language } = useLocale();
  const names = useNames(craft);
  const whyOf = useWhy(craft);
  const { item, because } = progress.row;
  const closures = [
    ...(item.opens ?? []).map((id) => screens.walk.opensHere(names.of("closure", id))),
    ...(item.closes ?? []).map((id) => screens.walk.closesHere(names.of("closure", id))),
  ];
  return (
    <div className="walk-item">
      <p className="walk-item-count mono small">
        {walk.itemOf(position, count)}
        {place !== undefined && ` · ${place}`}
        {progress.mark !== null && `, ${walk.mark[progress.mark]}`}
      </p>
      <h2 className="head" tabIndex={-1} ref={heading}>
        {asTitle(item.text[language], language)}
      </h2>
      {item.detail !== undefined && <p className="quiet lead">{item.detail[language]}</p>}
      {whyOf(because).map((why) => (
        <p key={why} className="walk-why">
          {why}
        </p>
      ))}
      {closures.length > 0 && <p className="quiet">{closures.join(", ")}</p>}
      {progress.wants === "secondPerson" && <p>{screens.walk.secondPerson}</p>}
    </div>
  );
}

type LastMarkProps = {
  readonly craft: CraftView;
  readonly items: readonly ItemProgress[];
  /** The item that is asked again. */
  readonly onTakenBack: (item: string) => void;
};

/** The mark made last at this stop, and one tap to take it back. */
export function LastMark({ craft, items, onTakenBack }: LastMarkProps) {
  const { device } = useApp();
  const { walk, app } = useWords();
  const { language } = useLocale();
  const last = Object.keys(craft.draft?.marks ?? {}).at(-1);
  const marked = items.find(({ row }) => row.item.id === last);
  if (last === undefined || marked?.mark == null) return null;
  const takeBack = () => device.markItem(craft.ledger, last, null).then(() => onTakenBack(last));
  return (
    <div className="walk-last">
      <MarkRow mark={marked.mark}>{marked.row.item.text[language]}</MarkRow>
      <Button
        look="plain"
        label={`${app.doing.undo}: ${walk.mark[marked.mark]}, ${marked.row.item.text[language]}`}
        onPress={() => void takeBack()}
      >
        {app.doing.undo}
      </Button>
    </div>
  );
}

/** A mark that is sealed into a page already is taken back by an entry of its own. */
export function SealedMark({
  craft,
  view,
  progress,
}: {
  readonly craft: CraftView;
  readonly view: WalkView;
  readonly progress: ItemProgress;
}) {
  const { device } = useApp();
  const { me } = useSnapshot();
  const { app } = useWords();
  const { takenBack } = useRoundWords();
  const { id } = progress.row.item;
  const mine = (craft.state.walks[view.facts.walk]?.marks[id] ?? []).some(({ by }) => by === me?.id);
  if (progress.mark === null || !mine || craft.draft?.marks[id] !== undefined) return null;
  return (
    <Button
      look="plain"
      label={takenBack}
      onPress={() => void device.takeBack(craft.ledger, view.facts.walk, [id])}
    >
      {app.doing.undo}
    </Button>
  );
}

type ItemListProps = {
  readonly craft: CraftView;
  readonly items: readonly ItemProgress[];
  readonly current: ItemProgress | null;
  readonly onChoose: (item: string) => void;
  /** What the list is called; on a face of one stop, what else is there. */
  readonly heading?: string;
  /** What stands at the right of an item, beside its reading. */
  readonly aside?: (item: ItemProgress) => string;
};

export function ItemList({ craft, items, current, onChoose, heading, aside }: ItemListProps) {
  const { screens } = useWords();
  const { language } = useLocale();
  const after = current === null ? 0 : items.indexOf(current) + 1;
  const next = [...items.slice(after), ...items.slice(0, after)].filter(({ mark }) => mark === null);
  const queue = [...next, ...items.filter(({ mark }) => mark !== null)].filter((item) => item !== current);
  if (queue.length === 0) return null;
  return (
    <section>
      <h2 className="heading-small">{heading ?? screens.walk.otherItems}</h2>
      <ul className="rows">
        {queue.map((progress) => {
          const { item } = progress.row;
          return (
            <li key={item.id}>
              <button type="button" className="walk-other" onClick={() => onChoose(item.id)}>
                <MarkRow mark={progress.mark} aside={readAs(craft, item.reads) ?? aside?.(progress)}>
                  {asTitle(item.text[language], language)}
                </MarkRow>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** The reading that was taken at this stop, letter for letter. */
function readAs({ draft }: CraftView, gauge: string | undefined): string | undefined {
  const reading = gauge === undefined ? undefined : draft?.readings[gauge];
  return reading === undefined ? undefined : `${reading.typed} ${reading.unit}`;
}

type ItemButtonsProps = {
  readonly view: WalkView;
  readonly current: ItemProgress;
  /** Items that a long press marks together with this one; fewer than two for none. */
  readonly together: readonly string[];
  readonly onMark: (item: string, mark: DraftMark) => void;
  readonly onTogether: () => void;
  readonly onFinding: () => void;
  readonly onReading: () => void;
};

export function ItemButtons(props: ItemButtonsProps): ReactNode {
  const { view, current, together, onMark, onTogether, onFinding, onReading } = props;
  const { walk, screens } = useWords();
  const { language } = useLocale();
  const { item } = current.row;
  const good = () => onMark(item.id, { mark: "good", why: null, finding: null });
  const right: BigButton =
    item.reads !== undefined && current.mark !== "good"
      ? { children: screens.walk.read, note: gaugeName(view, item.reads, language), onPress: onReading }
      : together.length > 1 && together.includes(item.id)
        ? {
            children: walk.doing.good,
            onTap: good,
            holdFor: walk.doing.restOfStop,
            holdForLong: walk.doing.restOfStopLong,
            onHeld: onTogether,
          }
        : { children: walk.doing.good, onPress: good };
  return (
    <TwoButtons
      left={{ children: walk.doing.finding, note: walk.doing.notReached, onPress: onFinding }}
      right={right}
    />
  );
}

function gaugeName({ sheet }: WalkView, gauge: string, language: "en" | "de"): string {
  return asTitle(sheet.gauges.find(({ id }) => id === gauge)?.name[language] ?? gauge, language);
}

/** Call-out, and how much would be left behind. */
export function CallOut({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { device } = useApp();
  const { walk, screens } = useWords();
  return (
    <div className="walk-call-out">
      <Button
        onPress={() => void device.interrupt(craft.ledger, view.facts.walk, "callOut", "")}
        note={screens.walk.callOutNote}
      >
        {walk.doing.callOut}
      </Button>
      <p className="quiet small">
        {walk.frozen(
          view.progress.blank.length,
          view.progress.open.length,
          Math.ceil(view.progress.left_s / 60),
        )}
      </p>
    </div>
  );
}
