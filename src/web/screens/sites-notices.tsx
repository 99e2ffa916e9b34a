// Notices about sites and areas: those that hold or are to come, who gave them, and how one is given and ended.
import { useState } from "react";
import { instantOfTime } from "../../core/facts/calendar.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import type { NoticeKind, Site, SiteNotice } from "../../core/facts/site.ts";
import { noticeKinds } from "../../core/facts/site.ts";
import type { BaseSky } from "../../core/facts/sky.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Picker } from "../parts/picker.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { positionText } from "./call-view.ts";
import { DateField, dateOf } from "./date-field.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { usePlace } from "./sites-form.tsx";
import { useNumbers } from "./use-numbers.ts";
import { useSitesWords } from "./use-sites-words.ts";

type NoticesProps = {
  readonly base: BaseSky;
  readonly sites: readonly Site[];
  readonly may: boolean;
};

export function Notices({ base, sites, may }: NoticesProps) {
  const { device } = useApp();
  const { now_ms } = useSnapshot();
  const words = useSitesWords();
  const locale = useLocale();
  const names = useNames(null);
  const standing = base.state.notices
    .filter(({ lifted, until_ms }) => !lifted && (until_ms ?? Number.POSITIVE_INFINITY) > now_ms)
    .toSorted((a, b) => a.from_ms - b.from_ms);
  const time = (at_ms: number) => timeSeenFrom(now_ms, at_ms, locale);
  const about = ({ about: what }: SiteNotice): string => {
    if ("site" in what) return sites.find(({ id }) => id === what.site)?.name ?? what.site;
    const radius = `${displayNumber(what.radius_nm, 1, "both", locale.language)} nm`;
    return words.area(radius, positionText(what));
  };
  const end = (notice: SiteNotice) =>
    device.sign(base.base, "site.noticed", {
      notice: notice.notice,
      about: notice.about,
      kind: notice.kind,
      from: msToInstant(notice.from_ms),
      until: notice.until_ms === null ? null : msToInstant(notice.until_ms),
      words: notice.words,
      lifted: true,
      replaces: [notice.entry],
    });
  return (
    <section>
      <h2 className="heading-small">{words.noticesNow}</h2>
      {standing.length === 0 ? (
        <p className="quiet">{words.noNotices}</p>
      ) : (
        <ul className="rows">
          {standing.map((notice) => (
            <li key={notice.entry} className="site-notice">
              <div>
                <p>
                  <b>{about(notice)}</b>: {words.noticeKinds[notice.kind]}
                  {notice.from_ms > now_ms && `, ${words.begins(time(notice.from_ms))}`}
                  {", "}
                  {notice.until_ms === null ? words.open : words.until(time(notice.until_ms))}
                </p>
                <p className="small quiet">
                  {[notice.words, words.noticeDoes[notice.kind], words.by(names.person(notice.by))]
                    .filter((part) => part !== "")
                    .join("; ")}
                </p>
              </div>
              <Button onPress={() => void end(notice)} {...(may ? {} : { why: words.needsRole })}>
                {words.end}
              </Button>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

const area = "area";

/** Both parts typed: an instant; none: `left`; else, or no such time: undefined. */
function instantTyped(
  day: string,
  time: string,
  zone: string,
  left: number | null,
): number | null | undefined {
  if (day.trim() === "" && time.trim() === "") return left;
  const date = dateOf(day);
  return date === null ? undefined : (instantOfTime(date, time.trim(), zone) ?? undefined);
}

type NoticeFormProps = {
  readonly base: BaseSky;
  readonly sites: readonly Site[];
  readonly onDone: () => void;
};

export function NoticeForm({ base, sites, onDone }: NoticeFormProps) {
  const { device } = useApp();
  const { now_ms, zone } = useSnapshot();
  const words = useSitesWords();
  const { noticeForm: form } = words;
  const [about, setAbout] = useState<string | null>(null);
  const place = usePlace(null);
  const number = useNumbers({ radius: { decimals: 1, lowest: 0.1, highest: 500 } });
  const [kind, setKind] = useState<NoticeKind | null>(null);
  const [[fromDay, fromTime, untilDay, untilTime], setTimes] = useState<readonly string[]>(["", "", "", ""]);
  const [said, setSaid] = useState("");
  const [made] = useState(() => `notice-${crypto.randomUUID()}`);
  const set = (at: number) => (text: string) => setTimes((before) => before.with(at, text));
  const from_ms = instantTyped(fromDay ?? "", fromTime ?? "", zone, now_ms) ?? null;
  const until_ms = instantTyped(untilDay ?? "", untilTime ?? "", zone, null);
  const radius_nm = number.value("radius");
  const missing: readonly (readonly [boolean, string])[] = [
    [about === null, form.needs.about],
    [about === area && place.position === null, words.form.needs.position],
    [about === area && radius_nm === null, form.needs.radius],
    [kind === null, form.needs.kind],
    [from_ms === null, form.needs.from],
    [until_ms === undefined, form.needs.until],
    [from_ms !== null && until_ms != null && until_ms <= from_ms, form.needs.order],
  ];
  const why = missing.find(([isMissing]) => isMissing)?.[1] ?? null;
  return (
    <div className="stack">
      <Picker
        label={form.about}
        choices={[...sites.map(({ id, name }) => ({ id, name })), { id: area, name: form.area }]}
        value={about}
        onChoose={setAbout}
      />
      {about === area && (
        <>
          {place.field}
          <Field
            label={form.radius}
            value={number.text("radius")}
            onChange={number.set("radius")}
            inputMode="decimal"
          />
        </>
      )}
      <ChoiceRow
        name={form.kind}
        width="long"
        choices={noticeKinds.map((value) => ({
          value,
          label: words.noticeKinds[value],
          note: words.noticeDoes[value],
        }))}
        value={kind}
        onChoose={setKind}
      />
      <DateField label={form.fromDay} value={fromDay ?? ""} onChange={set(0)} />
      <Field label={form.fromTime} value={fromTime ?? ""} onChange={set(1)} hint={form.fromHint} />
      <DateField label={form.untilDay} value={untilDay ?? ""} onChange={set(2)} />
      <Field label={form.untilTime} value={untilTime ?? ""} onChange={set(3)} hint={form.untilHint} />
      <Field label={form.words} value={said} onChange={setSaid} lines="many" />
      <SignFoot
        label={form.save}
        why={why}
        onSign={() =>
          device.sign(base.base, "site.noticed", {
            notice: made,
            about: about === area ? { ...place.position, radius_nm } : { site: about },
            kind,
            from: msToInstant(from_ms ?? now_ms),
            until: until_ms == null ? null : msToInstant(until_ms),
            words: said.trim(),
            lifted: false,
            replaces: [],
          })
        }
        onDone={onDone}
      />
    </div>
  );
}
