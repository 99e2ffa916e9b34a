// The next hours of the sky as four rows over one time: ceiling, visibility and wind with what is needed drawn in, and
// the light. Each row says its spans in words as well, for who does not see the drawing.
import { displayNumber } from "../../core/quantity/display.ts";
import type { Worse } from "../../core/quantity/display.ts";
import type { SkyBand, Worst } from "../../core/sky/sky-bands.ts";
import type { WeatherNeed } from "../../core/sky/weather-question.ts";
import type { SkyOver } from "../../core/standing/sky.ts";
import { bandOf } from "../../present/weather/bands.ts";
import type { BandScale, BandSpan, Demand } from "../../present/weather/bands.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { Locale } from "../../present/words/language.ts";
import type { WeatherWords } from "../../present/weather/words-en.ts";
import { RibbonTicks } from "../parts/ribbon.tsx";
import type { RibbonTime } from "../parts/ribbon.tsx";
import { useWidth } from "../parts/use-width.ts";
import { useLocale } from "../parts/words.tsx";

const height = 54;

type Row = {
  readonly id: string;
  readonly name: string;
  readonly now: string;
  readonly spans: readonly BandSpan[];
  readonly demands: readonly Demand[];
  readonly scale: BandScale;
  readonly unit: string;
  readonly demandWords: (value: string) => string;
};

type Props = {
  readonly sky: SkyOver;
  /** What the chosen kind of flying needs, span by span, and what else would do. */
  readonly needs: readonly WeatherNeed[];
  /** The strictest mean wind of the sheet that counts for every flight; null where the sheet has none. */
  readonly windLimit_kt: number | null;
  readonly time: RibbonTime;
  readonly words: WeatherWords;
};

export function WeatherBands({ sky, needs, windLimit_kt, time, words }: Props) {
  const locale = useLocale();
  const say = words.screen;
  const whole = { from_ms: time.now_ms, until_ms: time.until_ms };
  const valueWords = (worst: Worst | undefined, unit: string, worse: Worse): string =>
    worst === undefined || worst.value === null
      ? say.notKnown
      : [
          Number.isFinite(worst.value) ? shownAmount(worst.value, unit, worse) : say.noCeiling,
          worst.isSure ? null : say.mayBeWorse,
        ]
          .filter((part) => part !== null)
          .join(", ");
  // Reports count no farther than ten kilometres.
  const shownAmount = (value: number, unit: string, worse: Worse): string =>
    unit === "m" && value >= 10_000
      ? words.group.atLeast(amount(10, "km", worse, locale))
      : amount(value, unit, worse, locale);
  const [now] = sky.weather;
  const spansOf = (pick: (band: SkyBand) => Worst): readonly BandSpan[] =>
    sky.weather.map((band) => ({ ...band, ...pick(band) }));
  // Where the table has steps, the first is drawn and the others are said.
  const minima = (pick: (need: WeatherNeed) => number | null): readonly Demand[] =>
    needs.flatMap((need) => {
      const value = pick(need);
      const [from_ms, until_ms] = [need.from_ms ?? time.now_ms, need.until_ms ?? time.until_ms];
      if (value === null || from_ms >= time.until_ms) return [];
      return [{ from_ms, until_ms: Math.min(until_ms, time.until_ms), value }];
    });
  const nowNeeds = needs.filter(
    ({ from_ms, until_ms }) => (from_ms ?? -Infinity) <= time.now_ms && time.now_ms < (until_ms ?? Infinity),
  );
  const steps = nowNeeds
    .flatMap(({ or = [] }) => or)
    .map(({ ceiling_ft, visibility_m }) =>
      words.more.orElse(amount(ceiling_ft, "ft", "both", locale), amount(visibility_m, "m", "both", locale)),
    );
  const rows: readonly Row[] = [
    {
      id: "ceiling",
      name: say.ceiling,
      now: valueWords(now?.ceiling, "ft", "lower"),
      spans: spansOf(({ ceiling }) => ceiling),
      demands: minima(({ ceiling_ft }) => ceiling_ft),
      scale: { top: 5_000, worse: "lower" },
      unit: "ft",
      demandWords: say.needs,
    },
    {
      id: "visibility",
      name: say.visibility,
      now: valueWords(now?.visibility, "m", "lower"),
      spans: spansOf(({ visibility }) => visibility),
      demands: minima(({ visibility_m }) => visibility_m),
      scale: { top: 10_000, worse: "lower" },
      unit: "m",
      demandWords: say.needs,
    },
    {
      id: "wind",
      name: say.wind,
      now: [
        valueWords(now?.wind, "kt", "higher"),
        now !== undefined && now.gust.value !== null && now.gust.value !== now.wind.value
          ? words.group.gusts(amount(now.gust.value, "kt", "higher", locale))
          : null,
      ]
        .filter((part) => part !== null)
        .join(", "),
      spans: spansOf(({ gust }) => gust),
      demands: windLimit_kt === null ? [] : [{ ...whole, value: windLimit_kt }],
      scale: { top: 60, worse: "higher" },
      unit: "kt",
      demandWords: say.limit,
    },
  ];
  return (
    <div className="bands">
      <ul className="rows">
        {rows.map((row) => (
          <li key={row.id} className="band-row">
            <div>
              <div className="standing-row-name">{row.name}</div>
              <div className="standing-row-note">{[row.now, ...neededNow(row, time, locale)].join("; ")}</div>
            </div>
            <BandDrawing row={row} time={time} words={words} />
          </li>
        ))}
        <li className="band-row">
          <div>
            <div className="standing-row-name">{say.light}</div>
            <div className="standing-row-note">
              {sky.light[0] === undefined ? say.notKnown : say[sky.light[0].light]}
            </div>
          </div>
          <LightDrawing sky={sky} time={time} words={words} />
        </li>
      </ul>
      <div className="band-row" data-ticks="">
        <span />
        <RibbonTicks time={time} />
      </div>
      <p className="small quiet">
        {[say.forecastNote, ...(steps.length === 0 ? [] : [`${say.needs(steps.join("; "))}.`])].join(" ")}
      </p>
    </div>
  );
}

/** What holds now, in words: on a narrow screen the line has no room for its name. */
function neededNow(
  { demands, unit, demandWords }: Row,
  { now_ms }: RibbonTime,
  locale: Locale,
): readonly string[] {
  return demands
    .filter(({ from_ms, until_ms }) => from_ms <= now_ms && now_ms < until_ms)
    .map(({ value }) => demandWords(amount(value, unit, "both", locale)));
}

function amount(value: number, unit: string, worse: Worse, { language }: Locale): string {
  return `${displayNumber(value, 0, worse, language)} ${unit}`;
}

/** The spans of a row in one sentence. */
function sentence(
  { name, spans, unit, scale }: Row,
  time: RibbonTime,
  words: WeatherWords,
  locale: Locale,
): string {
  const said = spans.map(({ from_ms, value, isSure }) => {
    const what =
      value === null
        ? words.screen.notKnown
        : Number.isFinite(value)
          ? amount(value, unit, scale.worse, locale)
          : words.screen.noCeiling;
    const from = words.group.from(timeSeenFrom(time.now_ms, from_ms, locale));
    return `${from} ${what}${value === null || isSure ? "" : `, ${words.screen.mayBeWorse}`}`;
  });
  return `${name}: ${said.join("; ")}.`;
}

function BandDrawing({
  row,
  time,
  words,
}: {
  readonly row: Row;
  readonly time: RibbonTime;
  readonly words: WeatherWords;
}) {
  const locale = useLocale();
  const [ref, width] = useWidth<HTMLDivElement>(220);
  const window = { from_ms: time.from_ms, until_ms: time.until_ms, width, height };
  const band = bandOf(row.spans, row.demands, row.scale, window);
  const shown = labelled(band.demands);
  return (
    <div ref={ref} className="ribbon">
      <svg
        role="img"
        aria-label={sentence(row, time, words, locale)}
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
      >
        <path className="band-broken" d={band.broken} />
        {band.demands.map(({ x1, x2, y }) => (
          <line key={`${x1} ${y}`} className="band-demand" x1={x1} x2={x2} y1={y} y2={y} />
        ))}
        <path className="band-forecast" d={band.forecast} />
        <path className="band-observed" d={band.observed} />
        <path className="band-dots" d={band.dots} />
        {shown.map(({ x1, x2, y, value }) => (
          <text
            key={`${x1} ${y}`}
            className="band-label"
            x={x2 - 4}
            y={y > height / 2 ? y - 4 : y + 13}
            textAnchor="end"
          >
            {row.demandWords(amount(value, row.unit, "both", locale))}
          </text>
        ))}
        <NowLine time={time} width={width} />
      </svg>
    </div>
  );
}

/** The last of each value bears its name, where it is wide enough for it. */
function labelled<Line extends { readonly x1: number; readonly x2: number; readonly value: number }>(
  lines: readonly Line[],
): readonly Line[] {
  const widest = new Map<number, Line>();
  for (const line of lines) {
    const held = widest.get(line.value);
    if (held === undefined || line.x2 - line.x1 > held.x2 - held.x1) widest.set(line.value, line);
  }
  return [...widest.values()].filter(({ x1, x2 }) => x2 - x1 >= 96);
}

function NowLine({ time, width }: { readonly time: RibbonTime; readonly width: number }) {
  const x = ((time.now_ms - time.from_ms) / (time.until_ms - time.from_ms)) * width;
  return <line className="ribbon-now" x1={x} x2={x} y1={0} y2={height} />;
}

const lightHeight = 24;

/** Night is a full band, day an empty one between two lines. */
function LightDrawing({
  sky,
  time,
  words,
}: {
  readonly sky: SkyOver;
  readonly time: RibbonTime;
  readonly words: WeatherWords;
}) {
  const locale = useLocale();
  const [ref, width] = useWidth<HTMLDivElement>(220);
  const x = (at_ms: number): number =>
    Math.min(1, Math.max(0, (at_ms - time.from_ms) / (time.until_ms - time.from_ms))) * width;
  const spans = sky.light.filter(({ from_ms }) => from_ms < time.until_ms);
  const said = spans.map(
    ({ light, from_ms }) =>
      `${words.group.from(timeSeenFrom(time.now_ms, from_ms, locale))} ${words.screen[light]}`,
  );
  return (
    <div ref={ref} className="ribbon">
      <svg
        role="img"
        aria-label={`${words.screen.light}: ${said.join("; ")}.`}
        width={width}
        height={lightHeight}
        viewBox={`0 0 ${width} ${lightHeight}`}
      >
        <path className="band-demand" d={`M${x(time.now_ms)} 4H${width}M${x(time.now_ms)} 20H${width}`} />
        {spans.map(({ light, from_ms, until_ms }) => {
          const [x1, x2] = [x(from_ms), x(until_ms)];
          return (
            <g key={from_ms}>
              {light === "night" && <rect className="band-night" x={x1} y={4} width={x2 - x1} height={16} />}
              {x2 - x1 > 56 && (
                <text
                  className={light === "night" ? "band-label on-night" : "band-label"}
                  x={(x1 + x2) / 2}
                  y={16.5}
                  textAnchor="middle"
                >
                  {words.screen[light]}
                </text>
              )}
            </g>
          );
        })}
        <line className="ribbon-now" x1={x(time.now_ms)} x2={x(time.now_ms)} y1={0} y2={lightHeight} />
      </svg>
    </div>
  );
}
