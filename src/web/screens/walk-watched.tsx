// A walk under way as it looks to somebody who may not walk it: how far it has come, and who has been where.
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { WhatIsOpen } from "./walk-map.tsx";
import { StopList } from "./walk-stops.tsx";
import type { WalkView } from "./walk-view.ts";

export function WalkWatched({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { now_ms } = useSnapshot();
  const { walk, screens } = useWords();
  const round = useRoundWords();
  const locale = useLocale();
  const names = useNames(craft);
  const { facts, progress } = view;
  const begun = timeSeenFrom(now_ms, facts.begun.at_ms, locale);
  return (
    <Frame craft={craft} name={craft.name}>
      <div className="stack">
        <h1 className="head">{walk.kind[facts.kind]}</h1>
        <p className="lead">
          {walk.frozen(progress.blank.length, progress.open.length, Math.ceil(progress.left_s / 60))}
        </p>
        <p className="quiet">{screens.walk.begunBy(names.person(facts.begun.by), begun)}</p>
        <p>{round.notYours}</p>
        <WhatIsOpen craft={craft} view={view} />
        <StopList craft={craft} view={view} watched />
      </div>
    </Frame>
  );
}
