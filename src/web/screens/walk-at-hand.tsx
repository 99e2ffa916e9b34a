// What a stop and the launch circuit have alike: the drawing on one side, the item at hand with its list on the other, the
// buttons at the thumb, and the sheets in which the item is read or found wanting.
import type { ReactNode } from "react";
import type { ItemProgress } from "../../core/walk/progress.ts";
import type { CraftView } from "../device/model.ts";
import { Screen } from "../parts/screen.tsx";
import { useWide } from "../parts/use-wide.ts";
import { useSnapshot } from "./app-context.tsx";
import { FindingSheet } from "./finding-sheet.tsx";
import { Exchange } from "./frame.tsx";
import { ReadingSheet } from "./reading-sheet.tsx";
import { CallOut } from "./walk-item.tsx";
import { WalkMap, WhatIsOpen } from "./walk-map.tsx";
import { OldDay, StopList } from "./walk-stops.tsx";
import type { WalkView } from "./walk-view.ts";

type WalkAtHandProps = {
  readonly craft: CraftView;
  readonly view: WalkView;
  readonly name: string;
  /** In small, beside the name. */
  readonly under: string;
  readonly item: ReactNode;
  readonly buttons: ReactNode;
  readonly list: ReactNode;
  readonly sheets: ReactNode;
};

export function WalkAtHand({ craft, view, name, under, item, buttons, list, sheets }: WalkAtHandProps) {
  const wide = useWide();
  return (
    <Screen
      name={name}
      place="craft"
      nameAs="h1"
      aside={
        <div>
          <p className="exchange">{under}</p>
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
          {item}
          {wide && buttons}
          <WhatIsOpen craft={craft} view={view} />
          {list}
        </div>
      </div>
      {sheets}
    </Screen>
  );
}

/** On a walk the exchange is told only where it failed or is behind. */
export function NotSent({ craft }: { readonly craft: CraftView }) {
  const { exchange } = useSnapshot();
  return exchange.failed === null ? null : <Exchange craft={craft} />;
}

/** Which sheet of the item at hand is open. */
export type Asking = "finding" | "reading" | null;

type ItemSheetsProps = {
  readonly craft: CraftView;
  readonly view: WalkView;
  readonly current: ItemProgress;
  readonly asking: Asking;
  readonly onClose: () => void;
  readonly onDone: () => void;
};

export function ItemSheets({ craft, view, current, asking, onClose, onDone }: ItemSheetsProps) {
  const { item } = current.row;
  const { walk } = view.facts;
  return (
    <>
      <ReadingSheet
        craft={craft}
        item={item}
        walk={walk}
        open={asking === "reading"}
        onClose={onClose}
        onDone={onDone}
      />
      <FindingSheet
        craft={craft}
        at={{ stop: item.stop, item: item.id, walk }}
        open={asking === "finding"}
        onClose={onClose}
        onDone={onDone}
      />
    </>
  );
}
