// The answer to a call on one screen: the verdict in large words, what binds first, every margin as a bar from its limit
// inwards, the legs, what stands against it, and what would make it acceptable.
import { useDeferredValue, useMemo } from "react";
import { own } from "../../core/facts/own.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { CallAnswer, CallKnown, Margin } from "../../core/reach/call.ts";
import { remediesFor } from "../../core/reach/call-remedies.ts";
import type { CallChange, CallRemedy } from "../../core/reach/call-remedies.ts";
import { compareReasons } from "../../core/standing/combine.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { timeOfDay, timeSeenFrom } from "../../present/words/formats.ts";
import type { CallWords } from "../../present/words/call-words.ts";
import type { Locale } from "../../present/words/language.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Table } from "../parts/table.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { boardingPlaceName, kitName } from "./call-view.ts";
import { clearsBy, reasonLine } from "./told.ts";
import { useCallWords } from "./use-call-words.ts";

/** A number with its unit, never made to look better than it is. */
function amountOf(
  value: number,
  unit: Margin["unit"],
  worse: "lower" | "higher",
  locale: Locale,
  words: CallWords,
) {
  const decimals = unit === "h" ? 1 : 0;
  return `${displayNumber(value, decimals, worse, locale.language)} ${words.unit[unit]}`.trim();
}

/** `112 kg left`, `9 kg short`, `not known`. */
function roomText({ met, room, unit, what }: Margin, locale: Locale, words: CallWords): string {
  const why = room === null && met !== true ? own(words.why, what ?? "") : undefined;
  if (why !== undefined) return `${met === null ? words.notKnown : words.notMet}: ${why}`;
  if (met === null) return words.notKnown;
  if (room === null) return met ? words.met : words.notMet;
  // What was solved to the last bit may lie a bit beyond its limit and is met: nothing is left, and nothing is short.
  if (room < 0 && !met) return words.short(amountOf(-room, unit, "higher", locale, words));
  return words.left(amountOf(Math.max(0, room), unit, "lower", locale, words));
}

function marginName({ kind, stop }: Margin, answer: CallAnswer, words: CallWords): string {
  const place = stop === null ? null : stop < 0 ? words.start : (answer.stops[stop + 1]?.name ?? null);
  return place === null ? words.margin[kind] : words.marginAt(words.margin[kind], place);
}

export function CallVerdict({ answer }: { readonly answer: CallAnswer }) {
  const words = useCallWords();
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  const [binding] = answer.margins;
  const parts = [
    binding === undefined
      ? null
      : `${words.binds(marginName(binding, answer, words))}: ${roomText(binding, locale, words)}`,
    answer.ends_ms === null ? null : words.back(timeSeenFrom(now_ms, answer.ends_ms, locale)),
  ];
  return (
    <div className="verdict" data-verdict={answer.verdict} aria-live="polite">
      <h1 className="verdict-words">{words.verdict[answer.verdict]}</h1>
      <p className="verdict-then">{parts.filter((part) => part !== null).join("; ")}</p>
    </div>
  );
}

/** How much of its bar a margin fills; a share of one is all that was needed once more. */
const shownShare = (share: number): number => Math.min(1, Math.max(0, Math.abs(share)));

export function MarginBars({ answer }: { readonly answer: CallAnswer }) {
  const words = useCallWords();
  const locale = useLocale();
  return (
    <section className="opens">
      <h2 className="heading-small">{words.margins}</h2>
      <ul className="rows margins">
        {answer.margins.map((margin, index) => (
          <li key={`${margin.kind} ${margin.stop} ${margin.leg} ${margin.what} ${index}`} className="margin">
            <span className="margin-name">{marginName(margin, answer, words)}</span>
            <span className="margin-room">{roomText(margin, locale, words)}</span>
            <MarginBar margin={margin} />
          </li>
        ))}
      </ul>
    </section>
  );
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

export function Legs({ answer }: { readonly answer: CallAnswer }) {
  const words = useCallWords();
  const locale = useLocale();
  const number = (value: number | null, decimals: number, worse: "lower" | "higher" | "both") =>
    value === null ? "?" : displayNumber(value, decimals, worse, locale.language);
  const rows = answer.legs.map((leg, index) => ({ leg, stop: answer.stops[index + 1] }));
  const { column } = words;
  return (
    <div className="stack">
      <Table
        caption={words.legs}
        rows={rows}
        rowId={({ leg }) => `${leg.from} ${leg.to}`}
        columns={[
          { id: "leg", head: column.leg, kind: "name", cell: ({ leg }) => words.leg(leg.from, leg.to) },
          {
            id: "nm",
            head: column.distance,
            kind: "number",
            cell: ({ leg }) => number(leg.distance_nm, 1, "higher"),
          },
          {
            id: "min",
            head: column.time,
            kind: "number",
            cell: ({ leg }) => number(leg.time_min, 0, "higher"),
          },
          {
            id: "kg",
            head: column.fuel,
            kind: "number",
            cell: ({ leg }) => number(leg.fuel_kg, 0, "higher"),
          },
          {
            id: "left",
            head: column.left,
            kind: "number",
            cell: ({ leg }) => number(leg.fuelAtEnd_kg, 0, "lower"),
          },
          {
            id: "mass",
            head: column.mass,
            kind: "number",
            cell: ({ leg }) => number(leg.takeoffMass_kg, 0, "higher"),
          },
          {
            id: "at",
            head: column.arrive,
            kind: "number",
            cell: ({ stop }) => (stop?.arrive_ms == null ? "?" : timeOfDay(stop.arrive_ms, locale)),
          },
          {
            id: "light",
            head: column.light,
            cell: ({ stop }) => (stop?.light == null ? "?" : words.light[stop.light]),
          },
        ]}
      />
      {answer.fuel !== null && (
        <p className="quiet small">
          {words.fuelRequired(
            number(answer.fuel.required_kg, 0, "higher"),
            number(answer.fuel.fuel_kg, 0, "lower"),
          )}
          {"; "}
          {words.spare(number(answer.fuel.spare_min, 0, "lower"))}; {answer.fuel.cite}
        </p>
      )}
    </div>
  );
}

export function Against({ craft, answer }: { readonly craft: CraftView; readonly answer: CallAnswer }) {
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
  const words = useCallWords();
  const locale = useLocale();
  const { now_ms } = useSnapshot();
  const { standing } = useWords();
  const names = useNames(craft);
  const call = useDeferredValue(answer.call);
  const remedies = useMemo(() => remediesFor(known, call), [known, call]);
  if (answer.isAcceptable === true) return null;
  const number = (value: number | null) =>
    value === null ? "?" : displayNumber(Math.abs(value), 0, "higher", locale.language);
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
        return words.help.lessFuel(number(by_kg));
      case "addFuel":
        return words.help.addFuel(number(by_kg));
      case "refuel":
        return words.help.refuel(number(to_kg), hospital ?? "", engines === "running");
      case "leaveKit":
        return words.help.leaveKit(kit.map((id) => kitName(craft, id)).join(", "));
      case "lighterPatient":
        return words.help.lighterPatient(
          to_kg === null ? "?" : displayNumber(to_kg, 0, "lower", locale.language),
        );
      case "otherHospital":
        return words.help.otherHospital(hospital ?? "");
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
                      {words.binds(marginName(binding, remedy.answer, words))}:{" "}
                      {roomText(binding, locale, words)}
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

export { marginName, roomText };
