// A standing over time as one strip, the hours under it, and rows that carry a name beside their ribbon.
//
// One drawing says it to the eye; one sentence says the same spans to a screen reader.
import type { ReactNode } from "react";
import { keptOutline, ribbonHeight, ribbonOf } from "../../present/ribbon.ts";
import type { RibbonSpan } from "../../present/ribbon.ts";
import { ribbonTicks } from "../../present/ribbon-ticks.ts";
import { ribbonSentence } from "../../present/ribbon-words.ts";
import { dayShort, timeOfDay } from "../../present/words/formats.ts";
import { useWidth } from "./use-width.ts";
import { useLocale } from "./words.tsx";

export type RibbonTime = { readonly from_ms: number; readonly until_ms: number; readonly now_ms: number };

type RibbonProps = {
  readonly name: string;
  readonly spans: readonly RibbonSpan[];
  /** The spans if everything that falls due were renewed in time; left out where nobody asks. */
  readonly kept?: readonly RibbonSpan[];
  readonly time: RibbonTime;
};

export function Ribbon({ name, spans, kept = spans, time }: RibbonProps) {
  const locale = useLocale();
  const [ref, width] = useWidth<HTMLDivElement>(220);
  const window = { from_ms: time.from_ms, until_ms: time.until_ms, width };
  const ribbon = ribbonOf(spans, window, time.now_ms);
  return (
    <div ref={ref} className="ribbon">
      <svg
        role="img"
        aria-label={ribbonSentence(name, spans, time.now_ms, locale, kept)}
        width={width}
        height={ribbonHeight}
        viewBox={`0 0 ${width} ${ribbonHeight}`}
      >
        <path className="ribbon-fill" d={ribbon.fill} />
        <path className="ribbon-kept" d={keptOutline(spans, kept, window)} />
        <path className="ribbon-crosses" d={ribbon.crosses} />
        {ribbon.nowX !== null && (
          <>
            <line className="ribbon-now-gap" x1={ribbon.nowX} x2={ribbon.nowX} y1={3} y2={ribbonHeight - 3} />
            <line className="ribbon-now" x1={ribbon.nowX} x2={ribbon.nowX} y1={0} y2={ribbonHeight} />
          </>
        )}
      </svg>
    </div>
  );
}

const tickDistance = 52;

/** The hours of a ribbon of the same width and time; for the eye only, since every ribbon says its own times. */
export function RibbonTicks({ time }: { readonly time: RibbonTime }) {
  const locale = useLocale();
  const [ref, width] = useWidth<HTMLDivElement>(220);
  const window = { from_ms: time.from_ms, until_ms: time.until_ms, width };
  return (
    <div ref={ref} className="ribbon-ticks" aria-hidden="true">
      {ribbonTicks(window, locale.zone, tickDistance).map(({ at_ms, x, day }) => (
        <span
          key={at_ms}
          style={{ insetInlineStart: x }}
          data-edge={x < 20 ? "start" : x > width - 20 ? "end" : undefined}
          data-day={day || undefined}
        >
          {day ? dayShort(at_ms, locale).split(" ")[0] : timeOfDay(at_ms, locale).slice(0, 2)}
        </span>
      ))}
    </div>
  );
}

export type StandingRowSpec = {
  readonly id: string;
  readonly name: string;
  /** What ends first, or what stands against it, in few words. */
  readonly note: ReactNode;
  readonly spans: readonly RibbonSpan[];
  readonly kept?: readonly RibbonSpan[];
  /** Opens the whole line of it. */
  readonly onOpen?: () => void;
};

/** Rows of name, note and ribbon over one common time. */
export function StandingRows({
  rows,
  time,
}: {
  readonly rows: readonly StandingRowSpec[];
  readonly time: RibbonTime;
}) {
  return (
    <div className="standing-rows">
      <ul className="rows">
        {rows.map(({ id, name, note, spans, kept, onOpen }) => (
          <li key={id} className="standing-row">
            <RowName name={name} note={note} {...(onOpen === undefined ? {} : { onOpen })} />
            <Ribbon name={name} spans={spans} {...(kept === undefined ? {} : { kept })} time={time} />
          </li>
        ))}
      </ul>
      <div className="standing-row" data-ticks="">
        <span />
        <RibbonTicks time={time} />
      </div>
    </div>
  );
}

function RowName({ name, note, onOpen }: Pick<StandingRowSpec, "name" | "note" | "onOpen">) {
  const inside = (
    <>
      <span className="standing-row-name">{name}</span>
      <span className="standing-row-note">{note}</span>
    </>
  );
  if (onOpen === undefined) return <div className="standing-row-words">{inside}</div>;
  return (
    <button type="button" className="standing-row-words" data-opens="" onClick={onOpen}>
      {inside}
    </button>
  );
}
