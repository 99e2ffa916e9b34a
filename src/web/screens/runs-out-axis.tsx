// The one axis of what runs out: days, with the hours that the craft's own use flies in them. A row holds up to where its
// line ends, may end anywhere on the dashes, and is over where it is hatched; hatched throughout where that is not known.
import { useId } from "react";
import { displayNumber } from "../../core/quantity/display.ts";
import { dayOnAxis } from "../../present/words/formats.ts";
import { useLocale, useWords } from "../parts/words.tsx";

const day_ms = 86_400_000;

/** How far the axis goes, and where it is marked. */
export const axis_d = 60;
const ticks_d = [0, 20, 40, 60] as const;

type AxisProps = { readonly now_ms: number; readonly perDay_h: number | null };

export function EndsAxis({ now_ms, perDay_h }: AxisProps) {
  const words = useWords().duty.runsOut;
  const locale = useLocale();
  const hours = (days: number): string => displayNumber(days * (perDay_h ?? 0), 0, "both", locale.language);
  return (
    <div className="ends-axis" aria-hidden="true">
      {ticks_d.map((days) => (
        <p key={days} className="ends-tick">
          <b>{days === 0 ? words.now : dayOnAxis(now_ms + days * day_ms, locale)}</b>
          {days > 0 && perDay_h !== null && <span>{words.flown(hours(days))}</span>}
        </p>
      ))}
    </div>
  );
}

/** Until when a matter surely holds, and from when it surely does not; null where that is not known. */
export type Ends = { readonly holds_ms: number; readonly over_ms: number };

const width = 300;
const step = 6;

export function EndsBar({ ends, now_ms }: { readonly ends: Ends | null; readonly now_ms: number }) {
  const id = useId();
  const at = (end_ms: number): number =>
    width * Math.min(1, Math.max(0, (end_ms - now_ms) / (axis_d * day_ms)));
  const [holds, over] = ends === null ? [0, 0] : [at(ends.holds_ms), at(ends.over_ms)];
  return (
    <svg className="ends-bar" viewBox={`0 0 ${width} 14`} preserveAspectRatio="none" aria-hidden="true">
      <defs>
        <pattern
          id={id}
          width={step}
          height={step}
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <path d={`M0 0V${step}`} className="ends-hatch" />
        </pattern>
      </defs>
      {ticks_d.map((days) => (
        <path key={days} className="ends-rule" d={`M${(width * days) / axis_d} 0V14`} />
      ))}
      <rect x="0" y="5" width={holds} height="4" className="ends-holds" />
      {over > holds && <path className="ends-perhaps" d={`M${holds} 7H${over}`} />}
      {over < width && <rect x={over} y="0" width={width - over} height="14" fill={`url(#${id})`} />}
    </svg>
  );
}
