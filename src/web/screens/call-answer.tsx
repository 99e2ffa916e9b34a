// The answer to a call on one screen: the verdict in large words, what binds first, every margin as a bar from its limit
// inwards, what stands against it, and what would make it acceptable.
import { useDeferredValue, useMemo } from "react";
import { minute_ms } from "../../core/facts/instant.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Reason } from "../../core/facts/reason.ts";
import type { CallAnswer, CallKnown, Margin } from "../../core/reach/call.ts";
import { latestDeparture } from "../../core/reach/call-window.ts";
import { remediesFor } from "../../core/reach/call-remedies.ts";
import type { CallChange, CallRemedy } from "../../core/reach/call-remedies.ts";
import { compareReasons } from "../../core/standing/combine.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { boardingPlaceName, kitName } from "./call-view.ts";
import { marginName, type MarginTeller, roomText } from "./margin-words.ts";
import { clearsBy, reasonLine, type Teller } from "./told.ts";
import { useCallWords } from "./use-call-words.ts";
import { useMarginTeller } from "./use-margin-teller.ts";

type AnswerProps = { readonly craft: CraftView; readonly answer: CallAnswer };

export function CallVerdict({ craft, known, answer }: AnswerProps & { readonly known: CallKnown }) {
  const teller = useMarginTeller(craft);
  const { words } = teller;
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  const [binding] = answer.margins;
  const call = useDeferredValue(answer.call);
  const latest = useMemo(() => latestDeparture(known, call), [known, call]);
  const hospital = answer.call.stops.find(({ role }) => role === "hospital")?.place.name ?? null;
  const parts = [
    binding === undefined
      ? null
      : `${words.binds(marginName(binding, answer.stops, teller))}: ${roomText(binding, teller)}`,
    [
      hospital === null ? null : words.via(hospital),
      answer.ends_ms === null ? null : words.back(timeSeenFrom(now_ms, answer.ends_ms, locale)),
    ]
      .filter((part) => part !== null)
      .join(", "),
  ];
  return (
    <div className="verdict" data-verdict={answer.verdict} aria-live="polite">
      <h1 className="verdict-words">{words.verdict[answer.verdict]}</h1>
      <p className="verdict-then">{parts.filter((part) => part !== null && part !== "").join("; ")}</p>
      {latest !== null && answer.isAcceptable === true && (
        <p className="call-until">
          {words.by(
            timeSeenFrom(now_ms, floorMinute(latest.depart_ms), locale),
            timeSeenFrom(now_ms, floorMinute(latest.ends_ms), locale),
            endsBecause(latest.because, answer, teller, known, { names: teller.names, locale, now_ms }),
          )}
        </p>
      )}
    </div>
  );
}

/** A time to be kept is told by its whole minute before. */
const floorMinute = (at_ms: number): number => Math.floor(at_ms / minute_ms) * minute_ms;

/** What ends it: the reason behind the margin in its own words, or else the margin. */
function endsBecause(
  because: Margin,
  answer: CallAnswer,
  margins: MarginTeller,
  known: CallKnown,
  teller: Teller,
): string {
  const reason = reasonBehind(known, answer, because);
  if (reason !== null) return reasonLine(reason, teller);
  return `${marginName(because, answer.stops, margins)}: ${roomText(because, margins)}`;
}

/** The reason of the record, or of the sky at the place, from which a margin comes; null for one that is computed. */
function reasonBehind(
  known: CallKnown,
  answer: CallAnswer,
  { what, stop, room, met }: Margin,
): Reason | null {
  const { call, stops, ends_ms } = answer;
  const place = stop === null ? null : stop < 0 ? call.from : (call.stops[stop]?.place ?? null);
  const at = stop === null ? null : (stops[stop + 1] ?? null);
  const until_ms = stop === null ? ends_ms : (at?.leave_ms ?? at?.arrive_ms ?? null);
  if (until_ms === null) return null;
  const reasons = place === null ? known.reasons : (known.skyAt?.(place, call.depart_ms, until_ms) ?? []);
  const weighing = reasons.filter(
    ({ code, effect }) => code === what && (effect === "blocks" || effect === "unknown"),
  );
  const begins_ms = room === null ? null : until_ms + room * minute_ms;
  const timed =
    begins_ms === null
      ? undefined
      : weighing.find(({ from_ms }) => from_ms !== null && Math.abs(from_ms - begins_ms) < 1_000);
  return timed ?? (met === true ? null : (weighing[0] ?? null));
}

/** How much of its bar a margin fills; a share of one is all that was needed once more. */
const shownShare = (share: number): number => Math.min(1, Math.max(0, Math.abs(share)));

/** So many stand open at once, and whatever is not met or not known; the others, all of them met, one press further. */
const atOnce = 6;

export function MarginBars({ craft, known, answer }: AnswerProps & { readonly known: CallKnown }) {
  const { words } = useMarginTeller(craft);
  const { margins } = answer;
  const first = margins.filter(({ met }, index) => index < atOnce || met !== true);
  const others = margins.slice(first.length);
  const rows = (which: readonly Margin[]) => (
    <MarginRows craft={craft} known={known} answer={answer} margins={which} />
  );
  return (
    <section className="opens">
      <h2 className="heading-small">{words.margins}</h2>
      {rows(first)}
      {others.length > 0 && (
        <details className="margins-others">
          <summary>{words.othersMet(others.length)}</summary>
          {rows(others)}
        </details>
      )}
    </section>
  );
}

type MarginRowsProps = AnswerProps & { readonly known: CallKnown; readonly margins: readonly Margin[] };

function MarginRows({ craft, known, answer, margins }: MarginRowsProps) {
  const teller = useMarginTeller(craft);
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  return (
    <ul className="rows margins">
      {margins.map((margin, index) => (
        <li key={`${margin.kind} ${margin.stop} ${margin.leg} ${margin.what} ${index}`} className="margin">
          <span className="margin-name">
            {marginName(margin, answer.stops, teller)}
            <MarginReason
              reason={reasonBehind(known, answer, margin)}
              teller={{ names: teller.names, locale, now_ms }}
            />
          </span>
          <span className="margin-room">{roomText(margin, teller)}</span>
          <MarginBar margin={margin} />
        </li>
      ))}
    </ul>
  );
}

/** Which entry of the record, or which report, it is: several margins bear the same name. */
function MarginReason({ reason, teller }: { readonly reason: Reason | null; readonly teller: Teller }) {
  return reason === null ? null : <span className="reason-detail">{reasonLine(reason, teller)}</span>;
}

const barHeight = 12;

/** A full bar inwards from the limit; beyond it hatched; dots where nothing is known. */
function MarginBar({ margin: { met, share } }: { readonly margin: Margin }) {
  const width = 200;
  const filled = share === null ? (met === null ? 0 : 1) : shownShare(share);
  const state = met === null ? "unknown" : met ? "met" : "broken";
  return (
    <svg
      className="margin-bar"
      viewBox={`0 0 ${width} ${barHeight}`}
      preserveAspectRatio="none"
      aria-hidden="true"
    >
      <line className="margin-limit" x1={1} x2={1} y1={0} y2={barHeight} />
      <line className="margin-base" x1={0} x2={width} y1={barHeight - 0.75} y2={barHeight - 0.75} />
      {state === "met" && (
        <rect
          className="margin-fill"
          x={1}
          y={2}
          width={Math.max(1, filled * (width - 1))}
          height={barHeight - 2}
        />
      )}
      {state === "broken" && (
        <path
          className="margin-cross"
          d={Array.from(
            { length: Math.max(2, Math.round(filled * 24)) },
            (_, at) => `M${4 + at * 8} ${barHeight - 1}l6 -${barHeight - 3}`,
          ).join("")}
        />
      )}
      {state === "unknown" && (
        <path
          className="margin-dots"
          d={Array.from({ length: 20 }, (_, at) => `M${6 + at * 10} ${barHeight / 2}h2`).join("")}
        />
      )}
    </svg>
  );
}

export function Against({ craft, answer }: AnswerProps) {
  const words = useCallWords();
  const locale = useLocale();
  const names = useNames(craft);
  const { now_ms } = useSnapshot();
  const { standing } = useWords();
  const teller = { names, locale, now_ms };
  const list = answer.reasons.filter(({ effect }) => effect !== "advises").toSorted(compareReasons);
  if (list.length === 0) return null;
  return (
    <section className="opens">
      <h2 className="heading-small">{words.against}</h2>
      <ul className="rows">
        {list.map((reason, index) => (
          <li key={`${reason.code} ${index}`} className="helping">
            <span>
              {reasonLine(reason, teller)}
              <span className="reason-detail">{standing.effect[reason.effect]}</span>
            </span>
            <span className="reason-clears">{clearsBy(reason, locale)}</span>
          </li>
        ))}
      </ul>
    </section>
  );
}

type HelpsProps = {
  readonly craft: CraftView;
  readonly known: CallKnown;
  readonly answer: CallAnswer;
  readonly onTake: (remedy: CallRemedy) => void;
};

/** What would make a refused call acceptable, solved; computed beside what a finger does. */
export function CallHelps({ craft, known, answer, onTake }: HelpsProps) {
  const told = useMarginTeller(craft);
  const { words, names, amounts } = told;
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  const { standing } = useWords();
  const call = useDeferredValue(answer.call);
  const remedies = useMemo(() => remediesFor(known, call), [known, call]);
  if (answer.isAcceptable === true) return null;
  const mass = (value: number | null, worse: "lower" | "higher") =>
    value === null ? "?" : amounts.mass(Math.abs(value), worse);
  const site = (id: string | null) => known.sites.find((one) => one.id === id)?.name ?? id ?? "";
  const say = ({
    kind,
    by_kg,
    to_kg,
    kit,
    hospital,
    depart_ms,
    stay_min,
    at,
    engines,
  }: CallChange): string => {
    switch (kind) {
      case "lessFuel":
        return words.help.lessFuel(mass(by_kg, "higher"));
      case "addFuel":
        return words.help.addFuel(mass(by_kg, "higher"));
      case "refuel":
        return words.help.refuel(mass(to_kg, "higher"), hospital ?? "", engines === "running");
      case "leaveKit":
        return words.help.leaveKit(kit.map((id) => kitName(craft, id)).join(", "));
      case "lighterPatient":
        return words.help.lighterPatient(mass(to_kg, "lower"));
      case "otherHospital":
        return words.help.otherHospital(site(hospital));
      case "otherPlace":
        return words.help.otherPlace(at === null ? "?" : boardingPlaceName(names, at));
      case "shorterStay":
        return words.help.shorterStay(
          stay_min === null ? "?" : displayNumber(stay_min, 0, "lower", locale.language),
        );
      case "leaveEarlier":
        return words.help.leaveEarlier(depart_ms === null ? "?" : timeSeenFrom(now_ms, depart_ms, locale));
      case "wait":
        return words.help.wait(depart_ms === null ? "?" : timeSeenFrom(now_ms, depart_ms, locale));
      default:
        return kind satisfies never;
    }
  };
  return (
    <section className="opens">
      <h2 className="heading-small">{words.helps}</h2>
      {remedies.length === 0 ? (
        <p>{words.noHelp}</p>
      ) : (
        <ul className="rows">
          {remedies.map((remedy) => {
            const what = asTitle(remedy.changes.map(say).join(words.help.join), locale.language);
            const [binding] = remedy.answer.margins;
            return (
              <li key={what} className="call-help">
                <span>
                  <b>{what}</b>
                  {binding !== undefined && (
                    <span className="reason-detail">
                      {words.binds(marginName(binding, remedy.answer.stops, told))}: {roomText(binding, told)}
                    </span>
                  )}
                </span>
                <Button note={standing.clearance[remedy.clearance]} onPress={() => onTake(remedy)}>
                  {words.take}
                </Button>
              </li>
            );
          })}
        </ul>
      )}
    </section>
  );
}
