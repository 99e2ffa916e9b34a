// How a finding grows: its measures as points, the line through them dotted, its limit as a full line with its name, and in
// words the rate and when it would pass the limit, with the interval.
import { forecastUse } from "../../core/due/forecast-use.ts";
import { dateAt } from "../../core/facts/calendar.ts";
import type { CraftState, FindingFacts } from "../../core/facts/craft.ts";
import { hour_ms } from "../../core/facts/instant.ts";
import { isClosed, judgementBy } from "../../core/finding/judgement.ts";
import { measureDue } from "../../core/watched/assess-watched.ts";
import { type Growth, growthOf, growthPoints } from "../../core/watched/growth.ts";
import { dateLong } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { useLocale } from "../parts/words.tsx";
import { useSnapshot } from "./app-context.tsx";
import { numberText, sizeText } from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";

type GrowthOfProps = { readonly craft: CraftView; readonly finding: FindingFacts };

export function GrowthOf({ craft, finding }: GrowthOfProps) {
  const words = useFindingsWords();
  const { sheet, state } = craft;
  if (sheet === null || growthPoints(sheet, state, finding).length === 0) return null;
  const growth = growthOf(sheet, state, finding);
  return (
    <section className="stack">
      <h3 className="heading-small">{words.growth.heading}</h3>
      {growth === null ? (
        <p className="small quiet">{words.growth.tooFew}</p>
      ) : (
        <Told craft={craft} growth={growth} />
      )}
      {growth !== null && <Plot growth={growth} />}
      <Due craft={craft} finding={finding} />
    </section>
  );
}

/** Flight hours of each of the last thirty days, zeros included: the use by which hours become a date. */
function dailyUse({ flights }: CraftState, now_ms: number): readonly number[] {
  const days = Array.from({ length: 30 }, () => 0);
  for (const { on_ms, flight_h } of flights) {
    const back = Math.floor((now_ms - on_ms) / (24 * hour_ms));
    if (back >= 0 && back < days.length) days[back] = days[back]! + flight_h;
  }
  return days;
}

function Told({ craft, growth }: { readonly craft: CraftView; readonly growth: Growth }) {
  const words = useFindingsWords();
  const locale = useLocale();
  const { now_ms, zone } = useSnapshot();
  const { language } = locale;
  const { rate, unit, by, expected, earliest, latest, limit, last } = growth;
  const size = (value: number, decimals = 2) =>
    `${numberText(value, language, decimals, "higher")} ${words.unitName[unit]}`;
  const per = by === "days" ? words.growth.perDay : words.growth.perHour;
  // Whole milliseconds, the earlier ones.
  const day = (days: number) => dateLong(dateAt(Math.floor(last.at_ms + days * 24 * hour_ms), zone), locale);
  if (!(rate.value > 0)) return <p>{words.growth.still}</p>;
  const spread =
    rate.low === null || rate.high === null
      ? ""
      : ` (${words.growth.between(size(rate.low, 4), size(rate.high, 4))})`;
  const when = (amount: number): string => {
    if (by === "days") return words.growth.days(day(amount));
    const hours = numberText(amount, language, 1, "lower");
    if (last.hours_h === null) return words.growth.hoursOnly(hours);
    const at = words.growth.hours(hours, numberText(last.hours_h + amount, language, 1, "lower"));
    const use = forecastUse(dailyUse(craft.state, now_ms), amount);
    const days = use === null ? null : (now_ms - last.at_ms) / (24 * hour_ms) + use.expected_d;
    return days === null || days > 3_000 ? at : `${at}${words.growth.about(day(days))}`;
  };
  const short = (amount: number | null): string =>
    amount === null
      ? words.growth.never
      : by === "days"
        ? day(amount)
        : last.hours_h === null
          ? words.growth.h(numberText(amount, language, 1, "lower"))
          : words.growth.h(numberText(last.hours_h + amount, language, 1, "lower"));
  return (
    <>
      <p>{`${words.growth.rate(size(rate.value, 4), per)}${spread}`}</p>
      {limit !== null && expected !== null && (
        <p>
          <b>{words.growth.passes(size(limit), when(expected))}</b>
          <span className="reason-detail">
            {" "}
            {rate.low === null
              ? words.growth.noInterval
              : words.growth.interval(short(earliest), short(latest))}
          </span>
        </p>
      )}
    </>
  );
}

const [width, height, edge] = [340, 120, 14] as const;

/** The picture of what the words say: hidden from a screen reader, which has the words. */
function Plot({ growth }: { readonly growth: Growth }) {
  const words = useFindingsWords();
  const { language } = useLocale();
  const { points, limit, by, expected, rate, last, unit } = growth;
  const x = (point: (typeof points)[number]) =>
    by === "days" ? point.at_ms / (24 * hour_ms) : point.hours_h!;
  const [first_x, last_x] = [Math.min(...points.map(x)), Math.max(...points.map(x))];
  const end_x = last_x + Math.min(expected ?? 0, 2 * (last_x - first_x));
  const top = Math.max(limit ?? 0, ...points.map(({ value }) => value)) * 1.15;
  const px = (at: number) => edge + ((at - first_x) / (end_x - first_x || 1)) * (width - 2 * edge);
  const py = (value: number) => height - edge - (value / top) * (height - 2 * edge);
  const ends = last.value + rate.value * (end_x - last_x);
  return (
    <svg className="growth-plot" viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      <path className="growth-base" d={`M${edge} ${height - edge}H${width - edge}`} />
      {limit !== null && (
        <>
          <path className="growth-limit" d={`M${edge} ${py(limit)}H${width - edge}`} />
          <text x={edge} y={py(limit) - 5}>
            {sizeText(limit, unit, words, language)}
          </text>
        </>
      )}
      <path className="growth-ahead" d={`M${px(last_x)} ${py(last.value)}L${px(end_x)} ${py(ends)}`} />
      {points.map((point) => (
        <circle key={`${point.at_ms}-${point.value}`} cx={px(x(point))} cy={py(point.value)} r={4} />
      ))}
    </svg>
  );
}

function Due({ craft, finding }: GrowthOfProps) {
  const words = useFindingsWords();
  const locale = useLocale();
  const { now_ms, zone } = useSnapshot();
  const { sheet, state } = craft;
  const judgement = sheet === null || isClosed(sheet, finding) ? null : judgementBy(sheet, finding);
  if (sheet === null || judgement?.outcome !== "watch") return null;
  const settings = { zone, exchangeLimit_min: 1 };
  const due = measureDue(sheet, state, finding, judgement, { now_ms, settings });
  const parts = [
    ...(due.lastDay === null ? [] : [dateLong(due.lastDay, locale)]),
    ...(due.left_h === null ? [] : [words.bands.hours(numberText(due.left_h, locale.language, 1, "lower"))]),
  ];
  const isOver = due.left_h === 0 || due.hoursUnknown || (due.lapses_ms !== null && due.lapses_ms <= now_ms);
  if (parts.length === 0 && !isOver) return null;
  return <p>{isOver ? words.growth.dueNow : words.growth.due(parts.join(words.bands.or))}</p>;
}
