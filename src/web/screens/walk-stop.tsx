// One stop of the walk: the item at hand large, the others below, two buttons at the thumb.
//
// Good marks the item; holding it marks the rest of the stop where the sheet allows. An item that reads a gauge is
// marked by its reading. The rarer button leads to a finding, or to why the item was not reached.
//
// After each mark another item stands here: its count changes, a bar grows beside it and the focus goes to it, and the
// mark just made can be taken back with one tap. The list is a queue: what comes next at its head, in walking order, what
// is marked at its end; on a phone only a few lines of it are in sight, and those are the ones still to do.
import { useEffect, useRef, useState } from "react";
import type { ItemProgress } from "../../core/walk/progress.ts";
import type { PlannedStop } from "../../core/walk/plan.ts";
import type { CraftView } from "../device/model.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { Button } from "../parts/button.tsx";
import { MarkRow } from "../parts/mark-row.tsx";
import { Screen } from "../parts/screen.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import type { BigButton } from "../parts/two-buttons.tsx";
import { useWide } from "../parts/use-wide.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames } from "./app-context.tsx";
import { FindingSheet } from "./finding-sheet.tsx";
import { ReadingSheet } from "./reading-sheet.tsx";
import { itemsAt, sweepable } from "./walk-view.ts";
import type { WalkView } from "./walk-view.ts";
import { WalkMap, WhatIsOpen } from "./walk-map.tsx";

type WalkStopProps = { readonly craft: CraftView; readonly view: WalkView; readonly here: PlannedStop };

export function WalkStop({ craft, view, here }: WalkStopProps) {
  const { device } = useApp();
  const { walk, screens } = useWords();
  const { language } = useLocale();
  const [chosen, setChosen] = useState<string | null>(null);
  const [asking, setAsking] = useState<"finding" | "reading" | null>(null);
  const items = itemsAt(view, here.stop.id);
  const current =
    items.find(({ row }) => row.item.id === chosen) ?? items.find(({ mark }) => mark === null) ?? null;
  const leave = () => setChosen(null);
  const walkId = view.facts.walk;
  const wide = useWide();

  const callOut = async () => {
    await device.interrupt(craft.ledger, walkId, "callOut", "");
  };
  const buttons = (
    <div className="stack">
      <LastMark craft={craft} items={items} onTakenBack={setChosen} />
      <StopButtons
        craft={craft}
        view={view}
        current={current}
        items={items}
        onFinding={() => setAsking("finding")}
        onReading={() => setAsking("reading")}
        onDone={leave}
      />
    </div>
  );
  return (
    <Screen
      name={asTitle(here.stop.name[language], language)}
      place="craft"
      nameAs="h1"
      aside={
        <p className="exchange">
          {walk.stopOf(view.position + 1, view.plan.stops.length)} · {walk.access[here.stop.access]}
        </p>
      }
      {...(wide ? {} : { foot: buttons })}
    >
      <div className="walk-columns">
        <div className="walk-map">
          <WalkMap craft={craft} view={view} />
          <div className="walk-call-out">
            <Button onPress={() => void callOut()} note={screens.walk.callOutNote}>
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
        </div>
        <div className="stack">
          {current === null ? (
            <StopDone view={view} />
          ) : (
            <CurrentItem
              craft={craft}
              progress={current}
              position={items.indexOf(current) + 1}
              count={items.length}
              key={current.row.item.id}
            />
          )}
          {wide && buttons}
          <WhatIsOpen craft={craft} view={view} />
          <ItemList craft={craft} items={items} current={current} onChoose={setChosen} />
        </div>
      </div>
      {current !== null && (
        <>
          <ReadingSheet
            craft={craft}
            item={current.row.item}
            walk={walkId}
            open={asking === "reading"}
            onClose={() => setAsking(null)}
            onDone={leave}
          />
          <FindingSheet
            craft={craft}
            at={{ stop: here.stop.id, item: current.row.item.id, walk: walkId }}
            open={asking === "finding"}
            onClose={() => setAsking(null)}
            onDone={leave}
          />
        </>
      )}
    </Screen>
  );
}

type CurrentItemProps = {
  readonly craft: CraftView;
  readonly progress: ItemProgress;
  readonly position: number;
  readonly count: number;
};

/** The heading that stands at hand has the focus, so that keyboard and screen reader follow the walk. */
function useFocusOnCome() {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  return heading;
}

function CurrentItem({ craft, progress, position, count }: CurrentItemProps) {
  const { walk, screens } = useWords();
  const heading = useFocusOnCome();
  const { language } = useLocale();
  const names = useNames(craft);
  const { item } = progress.row;
  const closures = [
    ...(item.opens ?? []).map((id) => screens.walk.opensHere(names.of("closure", id))),
    ...(item.closes ?? []).map((id) => screens.walk.closesHere(names.of("closure", id))),
  ];
  return (
    <div className="walk-item">
      <p className="walk-item-count mono small">
        {walk.itemOf(position, count)}
        {progress.mark !== null && `, ${walk.mark[progress.mark]}`}
      </p>
      <h2 className="head" tabIndex={-1} ref={heading}>
        {item.text[language]}
      </h2>
      {item.detail !== undefined && <p className="quiet lead">{item.detail[language]}</p>}
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
function LastMark({ craft, items, onTakenBack }: LastMarkProps) {
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

function StopDone({ view }: { readonly view: WalkView }) {
  const { screens } = useWords();
  const heading = useFocusOnCome();
  const { language } = useLocale();
  const [next] = view.ahead;
  return (
    <div className="walk-item">
      <h2 className="head" tabIndex={-1} ref={heading}>
        {next === undefined ? screens.walk.allStopsDone : screens.walk.stopDone}
      </h2>
      {next !== undefined && (
        <p className="quiet lead">{screens.walk.stopDoneNext(asTitle(next.stop.name[language], language))}</p>
      )}
    </div>
  );
}

type ItemListProps = {
  readonly craft: CraftView;
  readonly items: readonly ItemProgress[];
  readonly current: ItemProgress | null;
  readonly onChoose: (item: string) => void;
};

function ItemList({ craft, items, current, onChoose }: ItemListProps) {
  const { screens } = useWords();
  const { language } = useLocale();
  const after = current === null ? 0 : items.indexOf(current) + 1;
  const others = [...items.slice(after), ...items.slice(0, after)].filter((item) => item !== current);
  const queue = [
    ...others.filter(({ mark }) => mark === null),
    ...items.filter((item) => item.mark !== null && item !== current),
  ];
  if (queue.length === 0) return null;
  return (
    <section>
      <h2 className="heading-small">{screens.walk.otherItems}</h2>
      <ul className="rows">
        {queue.map(({ row: { item }, mark }) => (
          <li key={item.id}>
            <button type="button" className="walk-other" onClick={() => onChoose(item.id)}>
              <MarkRow mark={mark} aside={readAs(craft, item.reads)}>
                {item.text[language]}
              </MarkRow>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The reading that was taken at this stop, letter for letter. */
function readAs({ draft }: CraftView, gauge: string | undefined): string | undefined {
  const reading = gauge === undefined ? undefined : draft?.readings[gauge];
  return reading === undefined ? undefined : `${reading.typed} ${reading.unit}`;
}

type StopButtonsProps = {
  readonly craft: CraftView;
  readonly view: WalkView;
  readonly current: ItemProgress | null;
  readonly items: readonly ItemProgress[];
  readonly onFinding: () => void;
  readonly onReading: () => void;
  readonly onDone: () => void;
};

function StopButtons({ craft, view, current, items, onFinding, onReading, onDone }: StopButtonsProps) {
  const { device } = useApp();
  const { walk, screens } = useWords();
  const { language } = useLocale();
  if (current === null) return <MoveOn craft={craft} view={view} />;
  const { item } = current.row;
  const good = () => {
    void device.markItem(craft.ledger, item.id, { mark: "good", why: null, finding: null }).then(onDone);
  };
  const rest = sweepable(items);
  const right: BigButton =
    item.reads !== undefined && current.mark !== "good"
      ? { children: screens.walk.read, note: gaugeName(view, item.reads, language), onPress: onReading }
      : item.sweep && rest.length > 1
        ? {
            children: walk.doing.good,
            onTap: good,
            holdFor: walk.doing.restOfStop,
            holdForLong: walk.doing.restOfStopLong,
            onHeld: () => void device.sweep(craft.ledger, rest).then(onDone),
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

/** The stop is done: on to the next with something blank, or to the end. */
function MoveOn({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { device } = useApp();
  const { walk, screens } = useWords();
  const { language } = useLocale();
  const [next] = view.ahead;
  const end: BigButton = {
    children: screens.walk.summaryButton,
    onPress: () => void device.leaveStop(craft.ledger),
  };
  if (next === undefined) return <TwoButtons right={end} />;
  return (
    <TwoButtons
      left={end}
      right={{
        children: walk.doing.nextStop,
        note: asTitle(next.stop.name[language], language),
        onPress: () => void device.arriveAt(craft.ledger, view.facts.walk, next.stop.id),
      }}
    />
  );
}
