// What runs out on one machine: maintenance, parts, obligations and deferrals on one axis, what ends first on top.
import { useState } from "react";
import { hoursPerDay } from "../../core/due/forecast-use.ts";
import { dailyHours, runsOut } from "../../core/due/runs-out.ts";
import type { RunsOut } from "../../core/due/runs-out.ts";
import { dateAt } from "../../core/facts/calendar.ts";
import { own } from "../../core/facts/own.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import type { Names } from "../../present/names.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { dateLong } from "../../present/words/formats.ts";
import type { Locale } from "../../present/words/language.ts";
import type { Words } from "../../present/words/words.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { matterName } from "./matter-name.ts";
import { axis_d, EndsAxis, EndsBar } from "./runs-out-axis.tsx";
import type { Ends } from "./runs-out-axis.tsx";
import { ConfirmSheet } from "./runs-out-confirm.tsx";
import type { Confirmed } from "./runs-out-confirm.tsx";

const day_ms = 86_400_000;

type Line = {
  readonly key: string;
  readonly name: string;
  readonly detail: readonly string[];
  readonly ends: Ends | null;
  /** By which the list is sorted; null where the end is not known. */
  readonly ends_ms: number | null;
  readonly confirms: Confirmed | null;
};

export function RunsOutScreen({ craft }: { readonly craft: CraftView }) {
  const { app, duty } = useWords();
  const words = duty.runsOut;
  const { now_ms, zone } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const { goTo } = useApp();
  const name = craft.ledger.replace("craft:", "");
  const [confirming, setConfirming] = useState<Confirmed | null>(null);
  const due = craft.sheet === null ? [] : runsOut(craft.sheet, craft.state, now_ms, zone);
  const perDay_h = hoursPerDay(dailyHours(craft.state.flights, now_ms, zone));
  const lines = [
    ...due.map((row) => dueLine(row, { names, words, locale, now_ms })),
    ...deferralLines(craft.standing.reasons, { names, words, locale, now_ms }),
  ].toSorted((a, b) => {
    const [one, other] = [a.ends_ms ?? -Infinity, b.ends_ms ?? -Infinity];
    // Infinite ends are alike: those lines keep the order in which they came.
    return one === other ? 0 : one - other;
  });
  const axisEnds_ms = now_ms + axis_d * day_ms;
  const soon = lines.filter(({ ends }) => ends === null || ends.holds_ms < axisEnds_ms);
  const later = lines.filter((line) => !soon.includes(line));
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${app.screens.runsOut}`}
      nameAs="h1"
      foot={
        <TwoButtons
          right={{ children: app.screens.flights, onPress: () => goTo({ screen: "flights", craft: name }) }}
        />
      }
    >
      {lines.length === 0 ? (
        <Empty title={words.none}>{words.noneBody}</Empty>
      ) : (
        <div className="stack-wide">
          <section className="stack">
            <div className="ends-row ends-head">
              <div>
                <h2 className="heading-small">
                  {words.first}, {words.axis(String(axis_d))}
                </h2>
                {perDay_h !== null && (
                  <p className="small quiet">
                    {words.perDay(displayNumber(perDay_h, 1, "higher", locale.language))}
                  </p>
                )}
              </div>
              <EndsAxis now_ms={now_ms} perDay_h={perDay_h} />
            </div>
            {soon.length === 0 && <p className="quiet">{words.nothingSoon}</p>}
            <ul className="rows">
              {soon.map((line) => (
                <li key={line.key} className="ends-row">
                  <div>
                    <b>{line.name}</b>
                    <p className="small quiet">{line.detail.join("; ")}</p>
                    {line.confirms !== null && (
                      <Button onPress={() => setConfirming(line.confirms)}>{words.confirm}</Button>
                    )}
                  </div>
                  <EndsBar ends={line.ends} now_ms={now_ms} />
                </li>
              ))}
            </ul>
          </section>
          {later.length > 0 && (
            <section className="stack">
              <h2 className="heading-small">{words.later}</h2>
              <ul className="rows ends-later">
                {later.map((line) => (
                  <li key={line.key}>
                    <b>{line.name}</b>
                    <p className="small quiet">{line.detail.join("; ")}</p>
                  </li>
                ))}
              </ul>
            </section>
          )}
        </div>
      )}
      <ConfirmSheet craft={craft} of={confirming} onClose={() => setConfirming(null)} />
    </Frame>
  );
}

type Telling = {
  readonly names: Names;
  readonly words: Words["duty"]["runsOut"];
  readonly locale: Locale;
  readonly now_ms: number;
};

function dueLine(row: RunsOut, { names, words, locale, now_ms }: Telling): Line {
  const dateIn = (days: number): string =>
    dateLong(dateAt(Math.round(now_ms + days * day_ms), locale.zone), locale);
  const left = row.left.map(({ name, left: value }) =>
    value === null
      ? words.counterNotKnown
      : words.left[name](displayNumber(value, Number.isInteger(value) ? 0 : 1, "lower", locale.language)),
  );
  const { forecast, lastDay } = row;
  const part = own(words.ofPart, String(row.facts["ends"]));
  const detail = [
    ...(row.known ? [] : [words.notKnown]),
    ...(part === undefined ? [] : [part]),
    ...left,
    ...(lastDay === null ? [] : [words.lastDay(dateLong(lastDay, locale))]),
    ...(forecast === null || forecast.late_d > 3650
      ? []
      : [words.forecast(dateIn(forecast.expected_d), dateIn(forecast.early_d), dateIn(forecast.late_d))]),
  ];
  return {
    key: row.key,
    name: asTitle(matterName(row.facts, names), locale.language),
    detail,
    ends: endsOf(row, now_ms),
    ends_ms: row.ends_ms,
    confirms: null,
  };
}

/** By date it ends at one instant; by flying, somewhere between the early and the late end of its forecast. */
function endsOf({ known, over_ms, forecast, ends_ms }: RunsOut, now_ms: number): Ends | null {
  if (!known || ends_ms === null) return null;
  const byDate_ms = over_ms ?? Number.POSITIVE_INFINITY;
  if (forecast === null || ends_ms <= now_ms)
    return { holds_ms: Math.min(ends_ms, byDate_ms), over_ms: Math.min(ends_ms, byDate_ms) };
  return {
    holds_ms: Math.min(byDate_ms, now_ms + forecast.early_d * day_ms),
    over_ms: Math.min(byDate_ms, now_ms + forecast.late_d * day_ms),
  };
}

/** Deferrals, from the reasons that they give: what the standing says and what stands here are the same. */
function deferralLines(reasons: readonly Reason[], { names, words, locale }: Telling): Line[] {
  return reasons
    .filter(({ code }) => code === "finding.deferred")
    .map(({ facts, until_ms, source }) => {
      const [finding, deferral] = [String(facts["finding"]), String(facts["deferral"])];
      const { lastDay } = facts;
      const cite = "cite" in source ? source.cite : null;
      const isOpen = reasons.some(
        (one) => one.code === "finding.deferralUnconfirmed" && one.facts["finding"] === finding,
      );
      const date = typeof lastDay === "string" ? dateLong(lastDay, locale) : null;
      return {
        key: `deferral#${finding}`,
        name: words.deferral(names.title("deferral", deferral)),
        detail: [
          String(facts["number"]),
          ...(date === null ? [] : [cite === null ? words.lastDay(date) : words.lastDayBy(date, cite)]),
          ...(facts["extended"] === true ? [words.extended] : []),
        ],
        ends: until_ms === null ? null : { holds_ms: until_ms, over_ms: until_ms },
        ends_ms: until_ms,
        confirms: isOpen ? { finding, deferral } : null,
      };
    });
}
