// The launch walk: one circuit on one screen. Every item in the order in which one comes by, with where it is and why it
// is there; the stop changes by itself with the item.
import { useState } from "react";
import type { ItemProgress } from "../../core/walk/progress.ts";
import { sweepable } from "../../core/walk/sweep.ts";
import type { CraftView } from "../device/model.ts";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { type Asking, ItemSheets, WalkAtHand } from "./walk-at-hand.tsx";
import { asksMe, itemsAt } from "./walk-view.ts";
import type { WalkView } from "./walk-view.ts";
import { CurrentItem, ItemButtons, ItemList, LastMark, SealedMark, useFocusOnCome } from "./walk-item.tsx";
import { OwnPace } from "./walk-stop.tsx";

export function WalkLaunch({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { device } = useApp();
  const { me } = useSnapshot();
  const { walk, screens } = useWords();
  const round = useRoundWords();
  const names = useNames(craft);
  const [chosen, setChosen] = useState<string | null>(null);
  const [asking, setAsking] = useState<Asking>(null);
  const { items } = view.progress;
  const current =
    items.find(({ row }) => row.item.id === chosen) ?? items.find((item) => asksMe(item, view, me)) ?? null;
  const leave = () => setChosen(null);
  const placeOf = ({ row }: ItemProgress) => names.title("stop", row.item.stop);
  /** Whatever is tapped is tapped at the item's own stop; the page of another is sealed on the way. */
  const at = (item: ItemProgress, what: () => Promise<void> | void) =>
    void device.arriveAt(craft.ledger, view.facts.walk, item.row.item.stop).then(what);
  const together =
    current === null ? [] : sweepable(itemsAt(view, current.row.item.stop), view.facts, craft.state);
  const buttons = (
    <div className="stack">
      <LastMark craft={craft} items={items} onTakenBack={setChosen} />
      {current === null ? (
        <TwoButtons
          right={{
            children: screens.walk.summaryButton,
            onPress: () => void device.leaveStop(craft.ledger).then(() => setChosen(null)),
          }}
        />
      ) : (
        <ItemButtons
          view={view}
          current={current}
          together={together}
          onMark={(item, mark) => at(current, () => device.markItem(craft.ledger, item, mark).then(leave))}
          onTogether={() => at(current, () => device.sweep(craft.ledger, together).then(leave))}
          onFinding={() => at(current, () => setAsking("finding"))}
          onReading={() => at(current, () => setAsking("reading"))}
        />
      )}
    </div>
  );
  return (
    <WalkAtHand
      craft={craft}
      view={view}
      name={walk.kind.launch}
      under={craft.name}
      buttons={buttons}
      item={
        current === null ? (
          <AllDone craft={craft} view={view} />
        ) : (
          <>
            <CurrentItem
              craft={craft}
              progress={current}
              position={items.indexOf(current) + 1}
              count={items.length}
              place={`${placeOf(current)}, ${walk.access[accessOf(view, current)]}`}
              key={current.row.item.id}
            />
            <SealedMark craft={craft} view={view} progress={current} />
          </>
        )
      }
      list={
        <ItemList
          craft={craft}
          items={items}
          current={current}
          onChoose={setChosen}
          heading={round.circuit}
          aside={placeOf}
        />
      }
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

function accessOf({ plan }: WalkView, { row }: ItemProgress) {
  return plan.stops.find(({ stop }) => stop.id === row.item.stop)?.stop.access ?? "floor";
}

function AllDone({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { screens } = useWords();
  const round = useRoundWords();
  const heading = useFocusOnCome();
  const waiting = view.progress.items.filter(({ wants }) => wants === "secondPerson").length;
  return (
    <div className="walk-item">
      <h2 className="head" tabIndex={-1} ref={heading}>
        {screens.walk.allStopsDone}
      </h2>
      {waiting > 0 && <p>{round.waits(waiting)}</p>}
      <OwnPace craft={craft} />
    </div>
  );
}
