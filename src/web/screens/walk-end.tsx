// Between stops and at the end of a walk: what is not marked, what stands open, whether the weather changed meanwhile, who
// has been where, and the signature with the PIN.
import { useState } from "react";
import type { Conditions } from "../../core/facts/craft.ts";
import { outsidePlan } from "../../core/walk/plan.ts";
import { finishHindrances } from "../../core/walk/progress.ts";
import { weatherSaid } from "../../core/walk/since-last-look.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { HoldButton } from "../parts/hold-button.tsx";
import { Notice } from "../parts/notice.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useWide } from "../parts/use-wide.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { Signature } from "./signature.tsx";
import { useRoundWords } from "./use-round-words.ts";
import type { WalkView } from "./walk-view.ts";
import { WalkMap } from "./walk-map.tsx";
import { OldDay, StopList } from "./walk-stops.tsx";

type WalkProps = { readonly craft: CraftView; readonly view: WalkView };

export function WalkEnd({ craft, view }: WalkProps) {
  const { device, goTo } = useApp();
  const { now_ms } = useSnapshot();
  const { walk, screens } = useWords();
  const round = useRoundWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [signing, setSigning] = useState(false);
  const { blank, open } = finishHindrances(view.plan, view.progress);
  const outside = outsidePlan(view.plan, view.facts);
  const [next] = view.ahead;
  const wide = useWide();
  const hindered = blank.length > 0 || open.length > 0;
  const sign = () =>
    void device
      .finishWalk(craft.ledger, view.facts.walk)
      .then(() => goTo({ screen: "standing", craft: craft.ledger.replace("craft:", "") }));
  const buttons = (
    <TwoButtons
      {...(next === undefined
        ? {}
        : {
            left: {
              children: walk.doing.nextStop,
              note: names.title("stop", next.stop.id),
              onPress: () => void device.arriveAt(craft.ledger, view.facts.walk, next.stop.id),
            },
          })}
      right={{
        children: screens.walk.sign,
        note: screens.walk.signNote,
        onPress: () => setSigning(true),
        ...(hindered ? { why: screens.walk.cannotSign(blank.length, open.length) } : {}),
      }}
    />
  );
  return (
    <Frame craft={craft} name={craft.name} {...(wide ? {} : { foot: buttons })}>
      <div className="walk-columns">
        <WalkMap craft={craft} view={view} />
        <div className="stack-wide">
          <div>
            <h1 className="head">{hindered ? walk.kind[view.facts.kind] : screens.walk.summary}</h1>
            <p className="quiet">
              {screens.walk.begunBy(
                names.person(view.facts.begun.by),
                timeSeenFrom(now_ms, view.facts.begun.at_ms, locale),
              )}
            </p>
          </div>
          <OldDay craft={craft} view={view} />
          <p className="lead">
            {hindered
              ? walk.frozen(blank.length, open.length, Math.ceil(view.progress.left_s / 60))
              : screens.walk.nothingLeft}
          </p>
          {wide && buttons}
          {open.length > 0 && (
            <section className="stack">
              <h2 className="heading-small">{screens.walk.openThings}</h2>
              <ul className="rows">
                {open.map((closure) => (
                  <li key={closure} className="walk-open">
                    <span>{names.title("closure", closure)}</span>
                    <HoldButton
                      holdFor={screens.standing.close}
                      onHeld={() => void device.setClosure(craft.ledger, closure, "closed")}
                    >
                      {walk.doing.closed}
                    </HoldButton>
                  </li>
                ))}
              </ul>
            </section>
          )}
          {outside.items.length > 0 && <Notice title={round.outside(outside.items.length)} />}
          <WeatherChanged craft={craft} view={view} />
          <StopList craft={craft} view={view} />
        </div>
      </div>
      <Signature title={screens.walk.sign} open={signing} onClose={() => setSigning(false)} onSigned={sign} />
    </Frame>
  );
}

const weathers = ["frost", "snow", "rain", "dust", "saltWater"] as const;

/** What was not so when the walk began may be so now: one press adds what then applies. */
function WeatherChanged({ craft, view }: WalkProps) {
  const { device } = useApp();
  const round = useRoundWords();
  const said: Conditions = weatherSaid(view.facts);
  const possible = weathers.filter((name) => said[name] === false);
  if (possible.length === 0) return null;
  return (
    <section className="stack">
      <h2 className="title">{round.weather}</h2>
      <p className="quiet">{round.weatherNote}</p>
      <div className="weather-changed">
        {possible.map((name) => (
          <Button
            key={name}
            onPress={() => void device.weatherChanged(craft.ledger, view.facts.walk, { [name]: true })}
          >
            {round.weatherNow[name]}
          </Button>
        ))}
      </div>
    </section>
  );
}
