// A report group by group: each as it was issued beside what it means, those that were not read marked.
import type { WeatherReport } from "../../core/sky/report.ts";
import { groupsSaid } from "../../present/weather/group-words.ts";
import type { WeatherWords } from "../../present/weather/words-en.ts";
import { Glyph } from "../parts/glyph.tsx";
import { useLocale } from "../parts/words.tsx";

export function Decoding({
  report,
  stationName,
  words,
}: {
  readonly report: WeatherReport;
  readonly stationName: string | null;
  readonly words: WeatherWords;
}) {
  const locale = useLocale();
  return (
    <dl className="decoding" aria-label={words.screen.groupByGroup}>
      {groupsSaid(report, stationName, locale).map((group, index) => (
        // oxlint-disable-next-line react/no-array-index-key
        <div
          key={index}
          data-change={group.beginsChange || undefined}
          data-unread={!group.isRead || undefined}
        >
          <dt className="mono">{group.text}</dt>
          <dd>
            {!group.isRead && <Glyph name="finding" />} {group.words}
          </dd>
        </div>
      ))}
    </dl>
  );
}
