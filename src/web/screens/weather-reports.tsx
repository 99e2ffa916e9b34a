// Reports as they were issued, each beside its decoding group by group, with its age, its distance and the height of its
// station against the ground; what could not be read is marked. Those that do not count here stand after, with why.
import { useState } from "react";
import type { BaseSky, ReportFact } from "../../core/facts/sky.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { hour_ms, minute_ms } from "../../core/facts/instant.ts";
import type { WeatherReport } from "../../core/sky/report.ts";
import { unreadGroups } from "../../core/sky/report.ts";
import type { SkyOver } from "../../core/standing/sky.ts";
import { reportOf } from "../../core/sky/report-of.ts";
import type { WeatherWords } from "../../present/weather/words-en.ts";
import { timePassed, timeSeenFrom } from "../../present/words/formats.ts";
import { Button } from "../parts/button.tsx";
import { Glyph } from "../parts/glyph.tsx";
import { Empty } from "../parts/whole-screen.tsx";
import { useLocale } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Decoding } from "./weather-decoding.tsx";
import { ReportEntry, TakeBack } from "./weather-entry.tsx";

const day_ms = 24 * hour_ms;

type Props = { readonly sky: SkyOver; readonly base: BaseSky; readonly words: WeatherWords };

type Shown = { readonly fact: ReportFact; readonly report: WeatherReport; readonly why: string | null };

export function WeatherReports({ sky, base, words }: Props) {
  const { usable, elsewhere } = sorted(sky, base);
  const say = words.screen;
  return (
    <section className="stack" aria-labelledby="weather-reports">
      <h2 id="weather-reports" className="title">
        {say.reports}
      </h2>
      {usable.length === 0 && <Empty title={say.noReports}>{say.noReportsBody}</Empty>}
      {usable.length > 0 && <ReportList shown={usable} sky={sky} base={base} words={words} />}
      {elsewhere.length > 0 && (
        <>
          <h3 className="quiet">{say.elsewhere}</h3>
          <ReportList shown={elsewhere} sky={sky} base={base} words={words} />
        </>
      )}
      <TakenBack base={base} words={words} />
    </section>
  );
}

/** Those that speak for the base, and the newest of each sort of every other station. */
function sorted(
  sky: SkyOver,
  base: BaseSky,
): { readonly usable: readonly Shown[]; readonly elsewhere: readonly Shown[] } {
  const facts = new Map(base.state.reports.map((fact) => [fact.entry, fact]));
  const shown = (entry: string, why: string | null): readonly Shown[] => {
    const fact = facts.get(entry);
    return fact === undefined ? [] : [{ fact, report: reportOf(fact), why }];
  };
  const usable = [
    ...sky.usable.flatMap(({ entry }) => shown(entry, null)),
    ...sky.aside.flatMap(({ entry, why }) => shown(entry, why)),
  ];
  const here = new Set(usable.map(({ report }) => report.station));
  const newest = new Map<string, Shown>();
  for (const fact of base.state.reports) {
    const report = reportOf(fact);
    if (here.has(report.station)) continue;
    const key = `${report.station} ${report.kind === "TAF"}`;
    const held = newest.get(key);
    if (held === undefined || (report.issued_ms ?? 0) > (held.report.issued_ms ?? 0))
      newest.set(key, { fact, report, why: null });
  }
  return { usable, elsewhere: [...newest.values()] };
}

function ReportList({ shown, ...rest }: Props & { readonly shown: readonly Shown[] }) {
  return (
    <ul className="rows">
      {shown.map((each) => (
        <li key={each.fact.entry} className="report">
          <Report {...rest} {...each} />
        </li>
      ))}
    </ul>
  );
}

function Report({ sky, base, words, fact, report, why }: Props & Shown) {
  const [open, setOpen] = useState(false);
  const { now_ms } = useSnapshot();
  const names = useNames(null);
  const locale = useLocale();
  const say = words.screen;
  const described = base.state.stations.find(({ station }) => station === report.station);
  const station = sky.stations.find((each) => each.station === report.station);
  const figure = (value: number, unit: string, decimals = 0): string =>
    `${displayNumber(value, decimals, "both", locale.language)} ${unit}`;
  const age =
    report.issued_ms === null
      ? null
      : report.issued_ms > now_ms
        ? say.ahead
        : say.age(timePassed(now_ms - report.issued_ms, locale));
  const isStale =
    report.kind !== "TAF" &&
    report.issued_ms !== null &&
    report.issued_ms + sky.settings.reportAge_min * minute_ms <= now_ms;
  const above_ft = station?.elevation_ft == null ? null : station.elevation_ft - sky.settings.ground_ft;
  const facts = [
    age,
    isStale ? say.stale(figure(sky.settings.reportAge_min, "min")) : null,
    station === undefined
      ? null
      : station.distance_km < 0.5
        ? say.here
        : say.away(figure(station.distance_km, "km")),
    above_ft === null ? null : (above_ft < 0 ? say.lower : say.higher)(figure(Math.abs(above_ft), "ft")),
  ].filter((part) => part !== null);
  const by = fact.by === "server" ? say.server : names.person(fact.by);
  const unread = unreadGroups(report).length;
  return (
    <>
      <div className="report-head">
        <b>{described?.name ?? report.station ?? say.notKnown}</b>
        <span className="quiet small">{facts.join(" · ")}</span>
      </div>
      <p className="report-text mono">
        {report.groups.map((group, index) => (
          // A report has no two groups in one place.
          // oxlint-disable-next-line react/no-array-index-key
          <span key={index} data-unread={!group.isRead || undefined}>
            {group.text}{" "}
          </span>
        ))}
      </p>
      {why !== null && (
        <p className="small report-why">
          <Glyph name="unknown" /> {say.others}: {words.aside[why as keyof WeatherWords["aside"]] ?? why}
        </p>
      )}
      <div className="report-foot">
        <span className="small quiet">
          {unread > 0 && <Glyph name="finding" />} {say.unreadCount(unread)};{" "}
          {say.heardBy(say.source[fact.source], by, timeSeenFrom(now_ms, fact.at_ms, locale))}
        </span>
        <span className="report-doing">
          {fact.source !== "fetched" && <Mend fact={fact} base={base} words={words} />}
          <Button onPress={() => setOpen((was) => !was)} look="plain">
            {say.groupByGroup}
          </Button>
        </span>
      </div>
      {open && <Decoding report={report} stationName={described?.name ?? null} words={words} />}
    </>
  );
}

/** A mistyped report is written anew, or taken back with why; a fetched one is nobody's slip. */
function Mend({ fact, base, words }: Pick<Props, "base" | "words"> & { readonly fact: ReportFact }) {
  const [doing, setDoing] = useState<"again" | "back" | null>(null);
  const close = () => setDoing(null);
  return (
    <>
      <Button onPress={() => setDoing("again")} look="plain">
        {words.more.again}
      </Button>
      <Button onPress={() => setDoing("back")} look="plain">
        {words.more.takeBack}
      </Button>
      <ReportEntry base={base} open={doing === "again"} onClose={close} words={words} instead={fact} />
      <TakeBack
        base={base}
        entry={fact.entry}
        what={fact.text}
        open={doing === "back"}
        onClose={close}
        words={words}
      />
    </>
  );
}

/** What was taken back within the day: that it was said stays to be seen. */
function TakenBack({ base, words }: Pick<Props, "base" | "words">) {
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const names = useNames(null);
  const lately = base.state.withdrawn.filter(({ at_ms }) => at_ms > now_ms - day_ms);
  if (lately.length === 0) return null;
  return (
    <>
      <h3 className="quiet">{words.more.takenBack}</h3>
      <ul className="rows">
        {lately.map(({ entry, by, at_ms, what, why }) => (
          <li key={entry} className="report">
            <p className="report-text mono">
              <s>{what}</s>
            </p>
            <p className="small quiet">
              {words.more.takenBackBy(names.person(by), timeSeenFrom(now_ms, at_ms, locale), why)}
            </p>
          </li>
        ))}
      </ul>
    </>
  );
}
