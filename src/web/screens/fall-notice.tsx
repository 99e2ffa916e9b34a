// What fell of the machines that this person has: over every screen, in words, with its sound where that is allowed, until
// somebody says that they have seen it. It takes nothing away from under the finger: it stands above and is no dialog.
import { useEffect, useState } from "react";
import type { CraftFall } from "../device/fall-watch.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { isSoundOn, maySound, openAtTouch, startAlarm, stopAlarm } from "../look/alarm.ts";
import "../look/line.css";
import { Button } from "../parts/button.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { reasonLine } from "./told.ts";
import { useLineWords } from "./use-line-words.ts";

export function FallNotice() {
  const { falls } = useSnapshot();
  useEffect(openAtTouch, []);
  return falls.length === 0 ? null : <Fallen falls={falls} />;
}

function Fallen({ falls }: { readonly falls: readonly CraftFall[] }) {
  const { device, goTo } = useApp();
  const { fall: words } = useLineWords();
  const { app } = useWords();
  const sound = useAlarm();
  const byCraft = [...Map.groupBy(falls, ({ ledger }) => ledger)];
  const [first] = falls;
  return (
    <section className="fall" role="alert" data-sound={sound}>
      {byCraft.map(([ledger, its]) => (
        <FallenCraft key={ledger} ledger={ledger} falls={its} />
      ))}
      <p className="small">
        {{ sounds: words.sounds, off: words.mute, blocked: words.blocked }[sound]}{" "}
        {app.approvedDocumentsPrevail}
      </p>
      <div className="two-buttons">
        <Button
          look="outlined"
          onPress={() => {
            if (first !== undefined) goTo({ screen: "standing", craft: first.ledger.replace("craft:", "") });
          }}
        >
          {words.show}
        </Button>
        <Button look="filled" onPress={() => device.acknowledgeFalls()}>
          {words.seen}
        </Button>
      </div>
    </section>
  );
}

/** Sounds as long as it is shown; says whether it does. */
function useAlarm(): "sounds" | "off" | "blocked" {
  const [may, setMay] = useState(maySound);
  const isOn = isSoundOn();
  useEffect(() => {
    if (!isOn) return undefined;
    startAlarm();
    // A touch may open the way at any time.
    const timer = setInterval(() => setMay(maySound()), 500);
    return () => {
      clearInterval(timer);
      stopAlarm();
    };
  }, [isOn]);
  return isOn ? (may ? "sounds" : "blocked") : "off";
}

type FallenCraftProps = { readonly ledger: string; readonly falls: readonly CraftFall[] };

function FallenCraft({ ledger, falls }: FallenCraftProps) {
  const { craft, now_ms } = useSnapshot();
  const view = craft.find((one) => one.ledger === ledger) ?? null;
  const names = useNames(view);
  const locale = useLocale();
  const { standing } = useWords();
  const { fall: words } = useLineWords();
  const [some] = falls;
  return (
    <div>
      <h2 className="title">{words.heading(some?.craft ?? ledger)}</h2>
      <ul className="rows">
        {falls.map(({ operation, to, at_ms, reasons }) => {
          const now = view?.standing.operations.find((one) => one.operation === operation)?.verdict ?? to;
          const [cause] = reasons;
          return (
            <li key={operation} className="fall-line">
              <b>
                {words.line(
                  names.title("operation", operation),
                  standing.verdictLow[to],
                  timeSeenFrom(now_ms, at_ms, locale),
                )}
              </b>
              {cause !== undefined && <span> {reasonLine(cause, { names, locale, now_ms })}</span>}
              {now !== to && <span>, {words.now(standing.verdictLow[now])}</span>}
            </li>
          );
        })}
      </ul>
    </div>
  );
}
