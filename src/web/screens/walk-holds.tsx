// The walks that hold now: until when, what would end them before that, and a person's word that it has.
import { holdingWalk, recentWalks } from "../../core/walk/assess.ts";
import type { WalkValidity } from "../../core/walk/validity.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { HoldButton } from "../parts/hold-button.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { useRoundWords } from "./use-round-words.ts";
import { mayWalk } from "./walk-view.ts";

export function WalksThatHold({ craft }: { readonly craft: CraftView }) {
  const { now_ms, zone } = useSnapshot();
  const { holds } = useRoundWords();
  const { sheet, state } = craft;
  if (sheet === null) return null;
  const situation = { now_ms, settings: { zone, exchangeLimit_min: 1 } };
  const holding = (["full", "launch"] as const).flatMap((kind) => {
    const walk = holdingWalk(recentWalks(sheet, state, kind, situation));
    return walk === null ? [] : [walk];
  });
  if (holding.length === 0) return null;
  return (
    <section className="stack">
      <h2 className="heading-small">{holds.title}</h2>
      <ul className="rows">
        {holding.map((walk) => (
          <li key={walk.walk.walk}>
            <Holding craft={craft} validity={walk} />
          </li>
        ))}
      </ul>
    </section>
  );
}

function Holding({ craft, validity }: { readonly craft: CraftView; readonly validity: WalkValidity }) {
  const { device } = useApp();
  const { now_ms, me } = useSnapshot();
  const { walk: words } = useWords();
  const { holds } = useRoundWords();
  const locale = useLocale();
  const names = useNames(craft);
  const { walk, lapses_ms, endsBy, finished_ms } = validity;
  const name = words.kind[walk.kind];
  const [signed] = walk.finished.filter(({ at_ms }) => at_ms === finished_ms);
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  return (
    <div className="stack walk-holds">
      <p>
        <b>{lapses_ms === null ? holds.open(name) : holds.until(name, time(lapses_ms))}</b>
        {signed !== undefined && (
          <span className="reason-detail">
            {" "}
            {[
              holds.signed(names.person(signed.by), time(signed.at_ms)),
              ...(walk.paper ? [holds.onPaper] : []),
            ].join(", ")}
          </span>
        )}
      </p>
      <p className="quiet small">{holds.before(endsBy.map((by) => holds.by[by]).join(", "))}</p>
      <div className="walk-holds-ends">
        {(["frostAfterFreezing", "storm"] as const)
          .filter((cause) => endsBy.includes(cause) && mayWalk(me))
          .map((cause) => (
            <HoldButton
              key={cause}
              holdFor={holds.ends}
              onHeld={() => void device.voidWalk(craft.ledger, walk.walk, cause, "")}
            >
              {cause === "storm" ? holds.stormed : holds.froze}
            </HoldButton>
          ))}
      </div>
    </div>
  );
}
