// One stop of the walk: the item at hand large, the others below, two buttons at the thumb.
//
// Good marks the item; holding it marks the rest of the stop where the sheet and the record allow (core/walk/sweep). An
// item that reads a gauge is marked by its reading. The rarer button leads to a finding, or to why the item was not reached.
import { useState } from "react";
import type { PlannedStop } from "../../core/walk/plan.ts";
import { sweepable } from "../../core/walk/sweep.ts";
import type { CraftView } from "../device/model.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { Screen } from "../parts/screen.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import type { BigButton } from "../parts/two-buttons.tsx";
import { useWide } from "../parts/use-wide.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { FindingSheet } from "./finding-sheet.tsx";
import { Exchange } from "./frame.tsx";
import { ReadingSheet } from "./reading-sheet.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { asksMe, itemsAt } from "./walk-view.ts";
import type { WalkView } from "./walk-view.ts";
import {
  CallOut,
  CurrentItem,
  ItemButtons,
  ItemList,
  LastMark,
  SealedMark,
  useFocusOnCome,
} from "./walk-item.tsx";
import { WalkMap, WhatIsOpen } from "./walk-map.tsx";
import { OldDay, StopList } from "./walk-stops.tsx";

type WalkStopProps = { readonly craft: CraftView; readonly view: WalkView; readonly here: PlannedStop };

export function WalkStop({ craft, view, here }: WalkStopProps) {
  const { device } = useApp();
  const { me } = useSnapshot();
  const { walk } = useWords();
  const { language } = useLocale();
  const [chosen, setChosen] = useState<string | null>(null);
  const [asking, setAsking] = useState<"finding" | "reading" | null>(null);
  const items = itemsAt(view, here.stop.id);
  const current =
    items.find(({ row }) => row.item.id === chosen) ?? items.find((item) => asksMe(item, view, me)) ?? null;
  const leave = () => setChosen(null);
  const together = sweepable(items, view.facts, craft.state);
  const wide = useWide();
  const buttons = (
    <div className="stack">
      <LastMark craft={craft} items={items} onTakenBack={setChosen} />
      {current === null ? (
        <MoveOn craft={craft} view={view} />
      ) : (
        <ItemButtons
          view={view}
          current={current}
          together={together}
          onMark={(item, mark) => void device.markItem(craft.ledger, item, mark).then(leave)}
          onTogether={() => void device.sweep(craft.ledger, together).then(leave)}
          onFinding={() => setAsking("finding")}
          onReading={() => setAsking("reading")}
        />
      )}
    </div>
  );
  return (
    <Screen
      name={asTitle(here.stop.name[language], language)}
      place="craft"
      nameAs="h1"
      aside={
        <div>
          <p className="exchange">
            {walk.stopOf(view.position + 1, view.plan.stops.length)} · {walk.access[here.stop.access]}
          </p>
          <NotSent craft={craft} />
        </div>
      }
      {...(wide ? {} : { foot: buttons })}
    >
      <div className="walk-columns">
        <div className="walk-map">
          <WalkMap craft={craft} view={view} />
          <CallOut craft={craft} view={view} />
          {wide && <StopList craft={craft} view={view} />}
        </div>
        <div className="stack">
          <OldDay craft={craft} view={view} />
          {current === null ? (
            <StopDone craft={craft} view={view} here={here} />
          ) : (
            <>
              <CurrentItem
                craft={craft}
                progress={current}
                position={items.indexOf(current) + 1}
                count={items.length}
                key={current.row.item.id}
              />
              <SealedMark craft={craft} view={view} progress={current} />
            </>
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
            walk={view.facts.walk}
            open={asking === "reading"}
            onClose={() => setAsking(null)}
            onDone={leave}
          />
          <FindingSheet
            craft={craft}
            at={{ stop: here.stop.id, item: current.row.item.id, walk: view.facts.walk }}
            open={asking === "finding"}
            onClose={() => setAsking(null)}
            onDone={leave}
          />
        </>
      )}
    </Screen>
  );
}

/** On a walk the exchange is told only where it failed or is behind. */
export function NotSent({ craft }: { readonly craft: CraftView }) {
  const { exchange } = useSnapshot();
  return exchange.failed === null ? null : <Exchange craft={craft} />;
}

/** How fast this person marked, where that is faster than hands move: told to nobody else. */
export function OwnPace({ craft }: { readonly craft: CraftView }) {
  const { device } = useApp();
  const round = useRoundWords();
  const pace = device.pace(craft.ledger);
  if (pace === null) return null;
  return (
    <p className="quiet">{round.pace(pace.marks, Math.round(pace.took_s), Math.round(pace.reckoned_s))}</p>
  );
}

function StopDone({ craft, view, here }: WalkStopProps) {
  const { screens } = useWords();
  const round = useRoundWords();
  const heading = useFocusOnCome();
  const { language } = useLocale();
  const [next] = view.ahead;
  const waiting = itemsAt(view, here.stop.id).filter(({ wants }) => wants === "secondPerson").length;
  return (
    <div className="walk-item">
      <h2 className="head" tabIndex={-1} ref={heading}>
        {next === undefined ? screens.walk.allStopsDone : screens.walk.stopDone}
      </h2>
      {next !== undefined && (
        <p className="quiet lead">{screens.walk.stopDoneNext(asTitle(next.stop.name[language], language))}</p>
      )}
      {waiting > 0 && <p>{round.waits(waiting)}</p>}
      <OwnPace craft={craft} />
    </div>
  );
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
