// What a person adds to the weather: a report typed or pasted, decoded while it is written; and what they see themselves,
// with an end. Nothing is prefilled; what was not looked at stays not said.
import { useState } from "react";
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
import { Decoding } from "./weather-reports.tsx";

type SheetProps = { readonly open: boolean; readonly onClose: () => void; readonly words: WeatherWords };

export function ReportEntry({ open, onClose, words }: SheetProps) {
  return (
    <Sheet title={words.screen.add} open={open} onClose={onClose}>
      {open && <ReportForm onClose={onClose} words={words} />}
    </Sheet>
  );
}

/** What keeps a text from being a report; null when it is one. */
function missingIn(text: string, report: WeatherReport, say: WeatherWords["screen"]): string | null {
  if (text.trim() === "") return say.empty;
  if (!report.groups.some(({ as, isRead }) => as === "kind" && isRead)) return say.noKind;
  return report.station === null ? say.noStation : null;
}

function ReportForm({ onClose, words }: Omit<SheetProps, "open">) {
  const { device } = useApp();
  const { now_ms, sky } = useSnapshot();
  const [text, setText] = useState("");
  const [source, setSource] = useState<"typed" | "pasted">("typed");
  const report = readReport(text, now_ms);
  const missing = missingIn(text, report, words.screen);
  const station = sky?.state.stations.find((each) => each.station === report.station);
  const keep = async () => {
    await device.hearReport(text.trim(), source);
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

export function OwnObservationEntry({ open, onClose, words }: SheetProps) {
  return (
    <Sheet title={words.screen.ownTitle} open={open} onClose={onClose}>
      {open && <ObservationForm onClose={onClose} words={words} />}
    </Sheet>
  );
}

const minutes = [15, 30, 60] as const;

type Typed = {
  readonly ceiling: string;
  readonly visibility: string;
  readonly codes: string;
  readonly from: string;
  readonly speed: string;
  readonly gust: string;
};

const nothing: Typed = { ceiling: "", visibility: "", codes: "", from: "", speed: "", gust: "" };

function ObservationForm({ onClose, words }: Omit<SheetProps, "open">) {
  const { device } = useApp();
  const { language } = useLocale();
  const say = words.screen;
  const [ceilingIs, setCeilingIs] = useState<"height" | "clear" | "none" | null>(null);
  const [fallsIs, setFallsIs] = useState<"nothing" | "something" | "none" | null>(null);
  const [typed, setTyped] = useState<Typed>(nothing);
  const [counts, setCounts] = useState<string | null>(null);
  const number = (text: string, highest: number): TypedNumber =>
    readTypedNumber(text, { decimals: 0, lowest: 0, highest }, language);
  const read = {
    ceiling: number(ceilingIs === "height" ? typed.ceiling : "", 20_000),
    visibility: number(typed.visibility, 100_000),
    from: number(typed.from, 360),
    speed: number(typed.speed, 150),
    gust: number(typed.gust, 150),
  };
  const codes =
    fallsIs === "something"
      ? typed.codes
          .toUpperCase()
          .split(/\s+/u)
          .filter((code) => code !== "")
      : [];
  const codesWrong = codes.some((code) => !/^[+-]?[A-Z]{2,8}$/u.test(code));
  const seen: Omit<NewObservation, "minutes"> = {
    ceiling_ft: ceilingIs === "clear" ? "clear" : read.ceiling.value,
    visibility_m: read.visibility.value,
    weather: fallsIs === "nothing" ? [] : codes.length > 0 ? codes : null,
    temperature_C: null,
    wind:
      read.speed.value === null
        ? null
        : { from_deg: read.from.value, speed_kt: read.speed.value, gust_kt: read.gust.value },
  };
  const isEmpty = [seen.ceiling_ft, seen.visibility_m, seen.weather, seen.wind].every(
    (part) => part === null,
  );
  const isWrong = Object.values(read).some(({ issue }) => issue !== null);
  const missing = isWrong
    ? say.badNumber
    : codesWrong
      ? say.badCode
      : isEmpty || counts === null
        ? say.empties
        : null;
  const save = async () => {
    await device.observe({ ...seen, minutes: Number(counts) });
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
