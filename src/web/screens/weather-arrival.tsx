// The worst that anything says of an arrival here, an hour to either side, quantity by quantity, with the group that makes
// it and the light there then. By the planning rule that the operator stated, or every change group.
import { useState } from "react";
import { displayNumber } from "../../core/quantity/display.ts";
import { hour_ms, minute_ms } from "../../core/facts/instant.ts";
import { worstOver } from "../../core/sky/taf-window.ts";
import type { Worst } from "../../core/sky/taf-window.ts";
import type { By } from "../../core/sky/weather-line.ts";
import type { SkyOver } from "../../core/standing/sky.ts";
import type { WeatherWords } from "../../present/weather/words-en.ts";
import { weatherCode } from "../../present/weather/group-words.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { useLocale } from "../parts/words.tsx";
import { useSnapshot } from "./app-context.tsx";

const hoursAhead = ["1", "2", "4", "8"] as const;

export function WeatherArrival({ sky, words }: { readonly sky: SkyOver; readonly words: WeatherWords }) {
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const [hours, setHours] = useState<(typeof hoursAhead)[number]>("1");
  const { more, screen: say } = words;
  const { planning } = sky;
  const at_ms = now_ms + Number(hours) * hour_ms;
  const [from_ms, until_ms] = [
    Math.max(now_ms, at_ms - planning.arrival.before_min * minute_ms),
    at_ms + planning.arrival.after_min * minute_ms,
  ];
  const worst = worstOver(sky.lines, from_ms, until_ms);
  const figure = (value: number, unit: string, worse: "lower" | "higher"): string =>
    `${displayNumber(value, 0, worse, locale.language)} ${unit}`;
  const groupOf = (by: By): string =>
    by.text !== "" ? by.text : by.change === "observed" ? more.observed : more.base;
  const doubt = (unknownBy: Worst<never>["unknownBy"]): string | null =>
    unknownBy === null
      ? null
      : unknownBy === "notCovered"
        ? more.notCovered
        : more.unknownBeside(groupOf(unknownBy));
  const line = <Value,>({ value, by, unknownBy }: Worst<Value>, shown: (value: Value) => string): string =>
    [
      value === null ? say.notKnown : shown(value),
      value === null || by === null ? null : more.by(groupOf(by)),
      doubt(unknownBy),
    ]
      .filter((part) => part !== null)
      .join(", ");
  const { codes, unknownBy } = worst.weather;
  const falls = [...new Map(codes.map(({ code, by }) => [code, by]))].map(
    ([code, by]) => `${words.code(weatherCode(code))}, ${more.by(groupOf(by))}`,
  );
  const lights = sky.light.filter((span) => span.from_ms <= until_ms && span.until_ms > from_ms);
  const rows: readonly [string, string][] = [
    [
      say.ceiling,
      line(worst.ceiling, ({ bound, ceiling_ft }) =>
        ceiling_ft === null
          ? say.noCeiling
          : bound === "atLeast"
            ? words.group.atLeast(figure(ceiling_ft, "ft", "lower"))
            : figure(ceiling_ft, "ft", "lower"),
      ),
    ],
    [
      say.visibility,
      line(worst.visibility, ({ value_m, bound }) => {
        const value = value_m >= 10_000 ? figure(10, "km", "lower") : figure(value_m, "m", "lower");
        if (bound === "below") return words.group.lessThan(value);
        return bound === "atLeast" ? words.group.atLeast(value) : value;
      }),
    ],
    [
      say.wind,
      line(worst.gust, ({ speed_kt, isAbove }) => {
        const value = figure(speed_kt, "kt", "higher");
        return isAbove ? words.group.moreThan(value) : value;
      }),
    ],
    [
      more.falls,
      [
        falls.length === 0 ? (unknownBy === null ? more.nothingFalls : null) : falls.join("; "),
        doubt(unknownBy),
      ]
        .filter((part) => part !== null)
        .join("; "),
    ],
    [
      say.light,
      lights
        .map((span) =>
          span.from_ms > from_ms
            ? `${words.group.from(timeSeenFrom(now_ms, span.from_ms, locale))} ${say[span.light]}`
            : say[span.light],
        )
        .join("; "),
    ],
  ];
  return (
    <section className="stack" aria-labelledby="weather-arrival">
      <h2 id="weather-arrival" className="title">
        {more.arrival}
      </h2>
      <ChoiceRow
        name={more.arrivalIn}
        choices={hoursAhead.map((value) => ({ value, label: more.hours(Number(value)) }))}
        value={hours}
        onChoose={setHours}
      />
      <p>{more.window(timeSeenFrom(now_ms, from_ms, locale), timeSeenFrom(now_ms, until_ms, locale))}</p>
      <dl className="decoding" aria-live="polite">
        {rows.map(([name, said]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{said}</dd>
          </div>
        ))}
      </dl>
      <p className="small quiet">
        {planning.id === "everyGroupCounts"
          ? more.everyGroup
          : more.ruleOf(`${planning.cite}, ${planning.edition}`)}
      </p>
    </section>
  );
}
