// Between stops and at the end of a walk: what is not marked, what stands open, and the signature with the PIN.
import { useState } from "react";
import { finishHindrances } from "../../core/walk/progress.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { HoldButton } from "../parts/hold-button.tsx";
import { PinPad } from "../parts/pin-pad.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useWide } from "../parts/use-wide.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { longestPin, usePinIssue } from "./enter.tsx";
import { Frame } from "./frame.tsx";
import { itemsAt } from "./walk-view.ts";
import type { WalkView } from "./walk-view.ts";
import { StopMark, WalkMap } from "./walk-map.tsx";

export function WalkEnd({ craft, view }: { readonly craft: CraftView; readonly view: WalkView }) {
  const { device } = useApp();
  const { now_ms } = useSnapshot();
  const { walk, screens } = useWords();
  const locale = useLocale();
  const names = useNames(craft);
  const [signing, setSigning] = useState(false);
  const { blank, open } = finishHindrances(view.plan, view.progress);
  const [next] = view.ahead;
  const goThere = (stop: string) => void device.arriveAt(craft.ledger, view.facts.walk, stop);
  const wide = useWide();
  const hindered = blank.length > 0 || open.length > 0;
  const buttons = (
    <TwoButtons
      {...(next === undefined
        ? {}
        : {
            left: {
              children: walk.doing.nextStop,
              note: names.title("stop", next.stop.id),
              onPress: () => goThere(next.stop.id),
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
          {!hindered && <p className="lead">{screens.walk.nothingLeft}</p>}
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
          {blank.length > 0 && <BlankStops view={view} onStop={goThere} />}
        </div>
      </div>
      <Signature craft={craft} view={view} open={signing} onClose={() => setSigning(false)} />
    </Frame>
  );
}

function BlankStops({ view, onStop }: { readonly view: WalkView; readonly onStop: (stop: string) => void }) {
  const { screens, walk } = useWords();
  const { language } = useLocale();
  return (
    <section>
      <h2 className="heading-small">{screens.walk.blankItems}</h2>
      <ul className="rows">
        {view.plan.stops
          .map(({ stop }) => ({ stop, items: itemsAt(view, stop.id) }))
          .filter(({ items }) => items.some(({ mark }) => mark === null))
          .map(({ stop, items }) => (
            <li key={stop.id}>
              <button type="button" className="reason" onClick={() => onStop(stop.id)}>
                <StopMark items={items} />
                <span>{asTitle(stop.name[language], language)}</span>
                <span className="reason-clears">
                  {walk.itemsLeft(items.filter(({ mark }) => mark === null).length)}
                </span>
              </button>
            </li>
          ))}
      </ul>
    </section>
  );
}

type SignatureProps = {
  readonly craft: CraftView;
  readonly view: WalkView;
  readonly open: boolean;
  readonly onClose: () => void;
};

/** The PIN, then the signature; the standing follows from it. */
function Signature({ craft, view, open, onClose }: SignatureProps) {
  const { device, goTo } = useApp();
  const { screens } = useWords();
  const [pin, setPin] = useState("");
  const [issue, setIssue] = useState<string | null>(null);
  const issueOf = usePinIssue();
  const sign = async () => {
    const answer = await device.checkPin(pin);
    setPin("");
    setIssue(issueOf(answer));
    if (!answer.ok) return;
    await device.finishWalk(craft.ledger, view.facts.walk);
    goTo({ screen: "standing", craft: craft.ledger.replace("craft:", "") });
  };
  return (
    <Sheet title={screens.walk.sign} open={open} onClose={onClose}>
      <PinPad pin={pin} onPin={setPin} onEnter={() => void sign()} longest={longestPin} issue={issue} />
      <Button look="plain" onPress={onClose}>
        {screens.walk.back}
      </Button>
    </Sheet>
  );
}
