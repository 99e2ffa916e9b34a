// Every stop of a walk with how it stands and who has been there when, for whoever shares the walk; and what is said of a
// walk whose day is over.
import { walkValidity } from "../../core/walk/validity.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { StopMark } from "./walk-map.tsx";
import { itemsAt } from "./walk-view.ts";
import type { WalkView } from "./walk-view.ts";

type WalkProps = { readonly craft: CraftView; readonly view: WalkView };

/** `watched`: told only, nowhere to go to. */
export function StopList({ craft, view, watched = false }: WalkProps & { readonly watched?: boolean }) {
  const { device } = useApp();
  const { now_ms } = useSnapshot();
  const { walk } = useWords();
  const round = useRoundWords();
  const locale = useLocale();
  const names = useNames(craft);
  const been = (stop: string): string => {
    const visits = view.facts.visits.filter((visit) => visit.stop === stop);
    const latest = new Map(visits.map(({ by, left_ms }) => [by, left_ms]));
    return latest.size === 0
      ? round.nobodyYet
      : [...latest]
          .map(([by, left_ms]) => round.been(names.person(by), timeSeenFrom(now_ms, left_ms, locale)))
          .join(", ");
  };
  return (
    <section>
      <h2 className="heading-small">{round.stops}</h2>
      <ul className="rows">
        {view.plan.stops.map(({ stop }) => {
          const items = itemsAt(view, stop.id);
          const blank = items.filter(({ mark }) => mark === null).length;
          return (
            <li key={stop.id}>
              <button
                type="button"
                className="reason"
                disabled={watched}
                aria-current={stop.id === view.here?.stop.id ? "location" : undefined}
                onClick={() => void device.arriveAt(craft.ledger, view.facts.walk, stop.id)}
              >
                <StopMark items={items} />
                <span>
                  {names.title("stop", stop.id)}
                  <span className="reason-detail"> {been(stop.id)}</span>
                </span>
                <span className="reason-clears">{blank === 0 ? "" : walk.itemsLeft(blank)}</span>
              </button>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** A walk whose day is over, or that maintenance ended, holds no more however it is finished: begin anew. */
export function OldDay({ craft, view }: WalkProps) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const round = useRoundWords();
  const locale = useLocale();
  const settings = { zone, exchangeLimit_min: 1 };
  const { status } = walkValidity(view.sheet, craft.state, view.facts, { now_ms, settings });
  if (status !== "lapsed" && status !== "void") return null;
  const begun = timeSeenFrom(now_ms, view.facts.begun.at_ms, locale);
  const why = status === "void" ? round.ended : round.old(begun);
  return (
    <Notice title={why} kind="problem">
      <Button
        onPress={() => void device.voidWalk(craft.ledger, view.facts.walk, "other", why)}
        note={round.anewNote}
      >
        {round.anew}
      </Button>
    </Notice>
  );
}
