// One stop of the walk: the item at hand large, the others below, two buttons at the thumb.
//
// Good marks the item; holding it marks the rest of the stop where the sheet and the record allow (core/walk/sweep). An
// item that reads a gauge is marked by its reading. The rarer button leads to a finding, or to why the item was not reached.
import { useState } from "react";
import type { PlannedStop } from "../../core/walk/plan.ts";
import { sweepable } from "../../core/walk/sweep.ts";
import type { CraftView } from "../device/model.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { TwoButtons } from "../parts/two-buttons.tsx";
import type { BigButton } from "../parts/two-buttons.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { type Asking, ItemSheets, WalkAtHand } from "./walk-at-hand.tsx";
import { asksMe, itemsAt } from "./walk-view.ts";
import type { WalkView } from "./walk-view.ts";
import { CurrentItem, ItemButtons, ItemList, LastMark, SealedMark, useFocusOnCome } from "./walk-item.tsx";

type WalkStopProps = { readonly craft: CraftView; readonly view: WalkView; readonly here: PlannedStop };

export function WalkStop({ craft, view, here }: WalkStopProps) {
  const { device } = useApp();
  const { me } = useSnapshot();
  const { walk } = useWords();
  const { language } = useLocale();
  const [chosen, setChosen] = useState<string | null>(null);
  const [asking, setAsking] = useState<Asking>(null);
  const items = itemsAt(view, here.stop.id);
  const current =
    items.find(({ row }) => row.item.id === chosen) ?? items.find((item) => asksMe(item, view, me)) ?? null;
  const leave = () => setChosen(null);
  const together = sweepable(items, view.facts, craft.state);
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
    <WalkAtHand
      craft={craft}
      view={view}
      name={asTitle(here.stop.name[language], language)}
      under={`${walk.stopOf(view.position + 1, view.plan.stops.length)} · ${walk.access[here.stop.access]}`}
      buttons={buttons}
      item={
        current === null ? (
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
        )
      }
      list={<ItemList craft={craft} items={items} current={current} onChoose={setChosen} />}
      sheets={
        current !== null && (
          <ItemSheets
            craft={craft}
            view={view}
            current={current}
            asking={asking}
            onClose={() => setAsking(null)}
            onDone={leave}
          />
        )
      }
    />
  );
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
