// One stop of the walk: the item at hand large, the others below, two buttons at the thumb.
//
// Good marks the item; holding it marks the rest of the stop where the sheet allows. An item that reads a gauge is
// marked by its reading. The rarer button leads to a finding, or to why the item was not reached.
import { useState } from "react";
import type { ItemProgress } from "../../core/walk/progress.ts";
import type { PlannedStop } from "../../core/walk/plan.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { MarkRow } from "../parts/mark-row.tsx";
import { Screen } from "../parts/screen.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import type { BigButton } from "../parts/two-buttons.tsx";
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

  const callOut = async () => {
    await device.interrupt(craft.ledger, walkId, "callOut", "");
  };
  return (
    <Screen
      name={here.stop.name[language]}
      place="craft"
      nameAs="h1"
      aside={
        <p className="exchange">
          {walk.stopOf(view.position + 1, view.plan.stops.length)} · {walk.access[here.stop.access]}
        </p>
      }
      foot={
        <StopButtons
          craft={craft}
          view={view}
          current={current}
          items={items}
          onFinding={() => setAsking("finding")}
          onReading={() => setAsking("reading")}
          onDone={leave}
        />
      }
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
          {current === null ? <StopDone view={view} /> : <CurrentItem craft={craft} progress={current} />}
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

function CurrentItem({ craft, progress }: { readonly craft: CraftView; readonly progress: ItemProgress }) {
  const { screens } = useWords();
  const { language } = useLocale();
  const names = useNames(craft);
  const { item } = progress.row;
  const closures = [
    ...(item.opens ?? []).map((id) => screens.walk.opensHere(names.of("closure", id))),
    ...(item.closes ?? []).map((id) => screens.walk.closesHere(names.of("closure", id))),
  ];
  return (
    <div className="walk-item" aria-live="polite">
      <h2 className="head">{item.text[language]}</h2>
      {item.detail !== undefined && <p className="quiet lead">{item.detail[language]}</p>}
      {closures.length > 0 && <p className="quiet">{closures.join(", ")}</p>}
      {progress.wants === "secondPerson" && <p>{screens.walk.secondPerson}</p>}
    </div>
  );
}

function StopDone({ view }: { readonly view: WalkView }) {
  const { screens } = useWords();
  const { language } = useLocale();
  const [next] = view.ahead;
  return (
    <div className="walk-item" aria-live="polite">
      <h2 className="head">{next === undefined ? screens.walk.allStopsDone : screens.walk.stopDone}</h2>
      {next !== undefined && (
        <p className="quiet lead">{screens.walk.stopDoneNext(next.stop.name[language])}</p>
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
  const others = items.filter((item) => item !== current);
  if (others.length === 0) return null;
  return (
    <section>
      <h2 className="heading-small">{screens.walk.otherItems}</h2>
      <ul className="rows">
        {others.map(({ row: { item }, mark }) => (
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
  return sheet.gauges.find(({ id }) => id === gauge)?.name[language] ?? gauge;
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
        note: next.stop.name[language],
        onPress: () => void device.arriveAt(craft.ledger, view.facts.walk, next.stop.id),
      }}
    />
  );
}
