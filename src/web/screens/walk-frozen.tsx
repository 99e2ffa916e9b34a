// The walk stands still: how much is left, what is open, and one way back. It cannot be mistaken for a walk that is done.
import { reopenedOnResume, standingInterruption } from "../../core/walk/resume.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useWide } from "../parts/use-wide.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { OldDay, StopList } from "./walk-stops.tsx";
import type { WalkView } from "./walk-view.ts";
import { WalkMap, WhatIsOpen } from "./walk-map.tsx";

export function WalkFrozen({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { device, goTo } = useApp();
  const { now_ms } = useSnapshot();
  const { walk, screens, app } = useWords();
  const locale = useLocale();
  const names = useNames(craft);
  const round = useRoundWords();
  const wide = useWide();
  const interruption = standingInterruption(view.facts);
  if (interruption === null) return null;
  // What was never marked does not come again: it is among what is left.
  const blank = new Set(view.progress.blank.map(({ row }) => row.item.id));
  const again = reopenedOnResume(view.plan, view.facts, craft.state, interruption).filter(
    (item) => !blank.has(item),
  );
  const buttons = (
    <TwoButtons
      left={{
        children: app.screens.standing,
        onPress: () => goTo({ screen: "standing", craft: craft.ledger.replace("craft:", "") }),
      }}
      right={{
        children: walk.doing.resume,
        note: screens.walk.resumeNote(again.length),
        onPress: () => void device.resume(craft.ledger, view.facts.walk),
      }}
    />
  );
  return (
    <Frame craft={craft} name={craft.name} {...(wide ? {} : { foot: buttons })}>
      <div className="walk-columns">
        <WalkMap craft={craft} view={view} />
        <div className="stack">
          <h1 className="head">{screens.walk.interrupted}</h1>
          <p className="lead">
            {walk.frozen(
              view.progress.blank.length,
              view.progress.open.length,
              Math.ceil(view.progress.left_s / 60),
            )}
          </p>
          <p className="quiet">
            {names.person(interruption.by)} {timeSeenFrom(now_ms, interruption.at_ms, locale)}
          </p>
          {interruption.cause === "walkAway" && <p>{round.left}</p>}
          <OldDay craft={craft} view={view} />
          {wide && buttons}
          <WhatIsOpen craft={craft} view={view} />
          <StopList craft={craft} view={view} />
        </div>
      </div>
    </Frame>
  );
}
