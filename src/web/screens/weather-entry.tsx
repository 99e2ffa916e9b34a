// What a person adds to the weather: a report typed or pasted, decoded while it is written; and what they see themselves,
// with an end. Nothing is prefilled; what was not looked at stays not said.
import { useState } from "react";
import type { BaseSky, ReportFact } from "../../core/facts/sky.ts";
import { readReport } from "../../core/sky/read-report.ts";
import type { WeatherReport } from "../../core/sky/report.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import type { TypedNumber } from "../../present/typed-number.ts";
import type { WeatherWords } from "../../present/weather/words-en.ts";
import type { NewObservation } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useSnapshot } from "./app-context.tsx";
import { Decoding } from "./weather-decoding.tsx";

type SheetProps = {
  readonly base: BaseSky;
  readonly open: boolean;
  readonly onClose: () => void;
  readonly words: WeatherWords;
};
type FormProps = Omit<SheetProps, "open">;

/** `instead`: a report that was mistyped, and whose place the new one takes. */
export function ReportEntry({ open, instead, ...form }: SheetProps & { readonly instead?: ReportFact }) {
  const title = instead === undefined ? form.words.screen.add : form.words.more.againTitle;
  return (
    <Sheet title={title} open={open} onClose={form.onClose}>
      {open && <ReportForm {...form} {...(instead === undefined ? {} : { instead })} />}
    </Sheet>
  );
}

/** What keeps a text from being a report; null when it is one. */
function missingIn(text: string, report: WeatherReport, say: WeatherWords["screen"]): string | null {
  if (text.trim() === "") return say.empty;
  if (!report.groups.some(({ as, isRead }) => as === "kind" && isRead)) return say.noKind;
  return report.station === null ? say.noStation : null;
}

function ReportForm({ base, onClose, words, instead }: FormProps & { readonly instead?: ReportFact }) {
  const { device } = useApp();
  const { now_ms } = useSnapshot();
  const [text, setText] = useState(instead?.text ?? "");
  const [source, setSource] = useState<"typed" | "pasted">("typed");
  const report = readReport(text, now_ms);
  const missing = missingIn(text, report, words.screen);
  const station = base.state.stations.find((each) => each.station === report.station);
  const keep = async () => {
    await device.hearReport(base.base, text.trim(), source, instead === undefined ? [] : [instead.entry]);
    onClose();
  };
  return (
    <div className="stack">
      <div onPaste={() => setSource("pasted")}>
        <Field
          label={words.screen.text}
          value={text}
          onChange={setText}
          hint={words.screen.textHint}
          lines="many"
        />
      </div>
      {text.trim() !== "" && <Decoding report={report} stationName={station?.name ?? null} words={words} />}
      <Button look="filled" onPress={() => void keep()} {...(missing === null ? {} : { why: missing })}>
        {words.screen.keep}
      </Button>
    </div>
  );
}

/** Takes back a typed report or one's own observation; why is said, and that it was said stays. */
export function TakeBack({
  base,
  entry,
  what,
  open,
  onClose,
  words,
}: SheetProps & { readonly entry: string; readonly what: string }) {
  const { device } = useApp();
  const [why, setWhy] = useState("");
  const save = async () => {
    await device.withdrawWeather(base.base, entry, why.trim());
    onClose();
  };
  return (
    <Sheet title={words.more.takeBack} open={open} onClose={onClose}>
      <div className="stack">
        <p className="report-text mono">{what}</p>
        <Field label={words.more.why} value={why} onChange={setWhy} />
        <Button
          look="filled"
          onPress={() => void save()}
          {...(why.trim() === "" ? { why: words.more.why } : {})}
        >
          {words.more.takeBack}
        </Button>
      </div>
    </Sheet>
  );
}

/** `place`: where it was seen, if not at the base. */
export function OwnObservationEntry({ open, ...form }: SheetProps & { readonly place?: string }) {
  return (
    <Sheet title={form.words.screen.ownTitle} open={open} onClose={form.onClose}>
      {open && <ObservationForm {...form} />}
    </Sheet>
  );
}

const minutes = [15, 30, 60] as const;

type Typed = {
  readonly place: string;
  readonly ceiling: string;
  readonly visibility: string;
  readonly codes: string;
  readonly from: string;
  readonly speed: string;
  readonly gust: string;
  readonly temperature: string;
};

const nothing: Typed = {
  place: "",
  ceiling: "",
  visibility: "",
  codes: "",
  from: "",
  speed: "",
  gust: "",
  temperature: "",
};

function ObservationForm({
  base,
  onClose,
  words,
  place: at = base.name,
}: FormProps & { readonly place?: string }) {
  const { device } = useApp();
  const { language } = useLocale();
  const say = words.screen;
  const [ceilingIs, setCeilingIs] = useState<"height" | "clear" | "none" | null>(null);
  const [fallsIs, setFallsIs] = useState<"nothing" | "something" | "none" | null>(null);
  const [typed, setTyped] = useState<Typed>({ ...nothing, place: at });
  const [counts, setCounts] = useState<string | null>(null);
  const number = (text: string, highest: number): TypedNumber =>
    readTypedNumber(text, { decimals: 0, lowest: 0, highest }, language);
  const read = {
    ceiling: number(ceilingIs === "height" ? typed.ceiling : "", 20_000),
    visibility: number(typed.visibility, 100_000),
    from: number(typed.from, 360),
    speed: number(typed.speed, 150),
    gust: number(typed.gust, 150),
    temperature: readTypedNumber(typed.temperature, { decimals: 0, lowest: -60, highest: 50 }, language),
  };
  const codes =
    fallsIs === "something"
      ? typed.codes
          .toUpperCase()
          .split(/\s+/u)
          .filter((code) => code !== "")
      : [];
  const codesWrong = codes.some((code) => !/^[+-]?[A-Z]{2,8}$/u.test(code));
  const place = typed.place.trim();
  const seen: Omit<NewObservation, "minutes"> = {
    place,
    ceiling_ft: ceilingIs === "clear" ? "clear" : read.ceiling.value,
    visibility_m: read.visibility.value,
    weather: fallsIs === "nothing" ? [] : codes.length > 0 ? codes : null,
    temperature_C: read.temperature.value,
    wind:
      read.speed.value === null
        ? null
        : { from_deg: read.from.value, speed_kt: read.speed.value, gust_kt: read.gust.value },
  };
  const { ceiling_ft, visibility_m, weather, wind, temperature_C } = seen;
  const isEmpty = [ceiling_ft, visibility_m, weather, wind, temperature_C].every((part) => part === null);
  const isWrong = Object.values(read).some(({ issue }) => issue !== null);
  const missing = isWrong
    ? say.badNumber
    : codesWrong
      ? say.badCode
      : isEmpty || counts === null || place === "" || place.length > 80
        ? say.empties
        : null;
  const save = async () => {
    await device.observe(base.base, { ...seen, minutes: Number(counts) });
    onClose();
  };
  const field = (key: keyof Typed, label: string, issue: TypedNumber["issue"]) => (
    <Field
      label={label}
      value={typed[key]}
      onChange={(text) => setTyped((before) => ({ ...before, [key]: text }))}
      inputMode="numeric"
      issue={issue === null ? null : say.badNumber}
    />
  );
  return (
    <div className="stack">
      <Field
        label={words.more.place}
        value={typed.place}
        onChange={(text) => setTyped((before) => ({ ...before, place: text }))}
        hint={words.more.placeHint}
      />
      <ChoiceRow
        name={say.ceilingAbove}
        choices={(["height", "clear", "none"] as const).map((value) => ({
          value,
          label: say.ceilingIs[value],
        }))}
        value={ceilingIs}
        onChoose={setCeilingIs}
      />
      {ceilingIs === "height" && field("ceiling", say.feet, read.ceiling.issue)}
      {field("visibility", say.metres, read.visibility.issue)}
      <ChoiceRow
        name={say.falls}
        choices={(["nothing", "something", "none"] as const).map((value) => ({
          value,
          label: say.fallsIs[value],
        }))}
        value={fallsIs}
        onChoose={setFallsIs}
      />
      {fallsIs === "something" && (
        <Field
          label={say.codes}
          value={typed.codes}
          onChange={(text) => setTyped((before) => ({ ...before, codes: text }))}
          issue={codesWrong ? say.badCode : null}
        />
      )}
      <div className="observation-wind">
        {field("from", say.windFrom, read.from.issue)}
        {field("speed", say.windSpeed, read.speed.issue)}
        {field("gust", say.windGust, read.gust.issue)}
        {field("temperature", words.more.temperature, read.temperature.issue)}
      </div>
      <ChoiceRow
        name={say.counts}
        choices={minutes.map((count) => ({ value: String(count), label: say.minutes(count) }))}
        value={counts}
        onChoose={setCounts}
      />
      <Button look="filled" onPress={() => void save()} {...(missing === null ? {} : { why: missing })}>
        {say.save}
      </Button>
    </div>
  );
}
