// One gauge against airframe hours: points as read, what was filled, the line of the rate, the forecast as a fan, the marks
// by name, and the finding as a sentence on the picture. The table beside it says the same to a screen reader.
import { useId, useMemo } from "react";
import type { GaugeLevels } from "../../core/level/craft-levels.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import {
  type LookBack,
  plotLevels,
  type SmallPlot,
  smallPlot,
  spanToShow,
} from "../../present/plots/level-plot.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { useWidth } from "../parts/use-width.ts";
import { amountText, markTexts, type Telling } from "./levels-view.ts";

type LevelPlotProps = {
  readonly one: GaugeLevels;
  readonly now_h: number | null;
  readonly back: LookBack;
  readonly telling: Telling;
};

/** Room that a label needs beside or under what it names. */
const labelRoom = 16;

export function LevelPlot({ one, now_h, back, telling }: LevelPlotProps) {
  const id = useId();
  const [ref, width] = useWidth<HTMLElement>(358);
  const height = Math.round(Math.min(420, Math.max(230, width * 0.56)));
  const plot = useMemo(
    () => plotLevels({ levels: one, hours: spanToShow(one, now_h, back), now_h, width, height }),
    [one, now_h, back, width, height],
  );
  const { words, levels, locale } = telling;
  const { language } = locale;
  const marks = markTexts(one, telling);
  const ticks = (value: number): string =>
    displayNumber(value, Math.max(0, (String(value).split(".")[1] ?? "").length), "both", language);
  return (
    <figure ref={ref} className="level-plot">
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={levels.plot.name(asTitle(one.gauge.name[language], language))}
      >
        <defs>
          <pattern id={id} width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <path d="M0 0V7" className="level-hatch" />
          </pattern>
        </defs>
        {plot.inside !== null && (
          <rect
            className="level-inside"
            x={plot.left}
            width={plot.right - plot.left}
            y={plot.inside.top}
            height={Math.max(0, plot.inside.bottom - plot.inside.top)}
          />
        )}
        <path className="level-scatter" d={plot.scatter} fill={`url(#${id})`} />
        <path className="level-fan" d={plot.fan} />
        {plot.values.map(({ at, value }) => (
          <text key={value} className="level-tick" x={plot.left - 8} y={at + 4} textAnchor="end">
            {ticks(value)}
          </text>
        ))}
        {plot.hours.map(({ at, value }) => (
          <g key={value}>
            <path className="level-tick-line" d={`M${at} ${plot.bottom}v5`} />
            <text className="level-tick" x={at} y={plot.bottom + 19} textAnchor="middle">
              {ticks(value)}
            </text>
          </g>
        ))}
        <path className="level-axis" d={`M${plot.left} ${plot.bottom}H${plot.right}`} />
        {plot.limits.map(({ y, side }) => (
          <g key={side}>
            <path className="level-limit" d={`M${plot.left} ${y}H${plot.right}`} />
            <text
              className="level-limit-name"
              x={plot.left + 6}
              y={side === "low" && y + labelRoom < plot.bottom ? y + 14 : y - 5}
            >
              {marks[side]}
            </text>
          </g>
        ))}
        {plot.uplifts.map(({ x, top, bottom, rise }) => (
          <g key={`${x} ${top}`}>
            <path className="level-filled" d={`M${x} ${bottom}V${top}m-3.5 5l3.5-5l3.5 5`} />
            {plot.uplifts.length < 3 && (
              <text className="level-filled-name" x={x - 5} y={top + 4} textAnchor="end">
                {levels.plot.filled(amountText(one, rise, telling, 2))}
              </text>
            )}
          </g>
        ))}
        {plot.sinceX !== null && (
          <path className="level-since" d={`M${plot.sinceX} ${plot.top}V${plot.bottom}`} />
        )}
        <path className="level-others" d={plot.others} />
        <path className="level-points" d={plot.comparable} />
        <path className="level-line" d={plot.line} />
        <path className="level-expected" d={plot.expected} />
        {plot.nowX !== null && (
          <>
            <path className="level-now" d={`M${plot.nowX} ${plot.top - 6}V${plot.bottom}`} />
            <text className="level-now-name" x={plot.nowX - 5} y={plot.top + 4} textAnchor="end">
              {levels.plot.now}
            </text>
          </>
        )}
      </svg>
      <figcaption className="level-key small quiet">
        <span>
          {levels.plot.hours} · {words.units[one.gauge.unit as "L"] ?? one.gauge.unit}
        </span>
        <Key path="M8 7h0" look="level-points" name={levels.plot.keyDot} />
        {plot.others !== "" && (
          <Key
            path="M5.6 7a2.4 2.4 0 1 0 4.8 0a2.4 2.4 0 1 0 -4.8 0"
            look="level-others"
            name={levels.plot.keyRing}
          />
        )}
        {plot.fan !== "" && <Key path="M1 7H15" look="level-expected" name={levels.plot.keyFan} />}
        {plot.scatter !== "" && (
          <Key path="M1 2H15V12H1Z" look="level-scatter" fill={`url(#${id})`} name={levels.plot.keyScatter} />
        )}
        {plot.uplifts.length > 0 && (
          <Key path="M8 12V2m-3.5 5l3.5-5l3.5 5" look="level-filled" name={levels.plot.keyFilled} />
        )}
      </figcaption>
    </figure>
  );
}

type KeyProps = {
  readonly path: string;
  readonly look: string;
  readonly name: string;
  readonly fill?: string;
};

function Key({ path, look, name, fill }: KeyProps) {
  return (
    <span className="level-key-one">
      <svg width="16" height="14" viewBox="0 0 16 14" aria-hidden="true">
        <path className={look} d={path} {...(fill === undefined ? {} : { fill })} />
      </svg>
      {name}
    </span>
  );
}

const small = { width: 132, height: 52 } as const;

/** The whole history of a gauge in little; drawn once, since it changes with an entry only. */
export function SmallLevels({ one }: { readonly one: GaugeLevels }) {
  const plot: SmallPlot = useMemo(() => smallPlot(one, small.width, small.height), [one]);
  return (
    <svg className="level-small" viewBox={`0 0 ${small.width} ${small.height}`} aria-hidden="true">
      {plot.limits.map((y) => (
        <path key={y} className="level-limit" d={`M0 ${y}H${small.width}`} />
      ))}
      {plot.sinceX !== null && <path className="level-since" d={`M${plot.sinceX} 0V${small.height}`} />}
      <path className="level-points" d={plot.points} />
      {plot.newest !== null && (
        <circle className="level-newest" cx={plot.newest[0]} cy={plot.newest[1]} r="3.2" />
      )}
    </svg>
  );
}
