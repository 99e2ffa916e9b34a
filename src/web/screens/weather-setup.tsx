// Stations that speak for a base, and the operator's limits for judging its weather: shown to everybody, set by the office.
import { useState } from "react";
import type { BaseSky, StationFact, WeatherSettings } from "../../core/facts/sky.ts";
import { stationGives } from "../../core/facts/sky.ts";
import { limitsAsTyped, minimaFields, needField, readLimits } from "../../present/weather/limits-form.ts";
import type { TypedLimits } from "../../present/weather/limits-form.ts";
import { readStation, stationAsTyped } from "../../present/weather/station-form.ts";
import type { WeatherWords } from "../../present/weather/words-en.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";

type Props = { readonly base: BaseSky; readonly craft: CraftView; readonly words: WeatherWords };

export function WeatherSetup({ base, craft, words }: Props) {
  const { me } = useSnapshot();
  const [doing, setDoing] = useState<"limits" | StationFact | "station" | null>(null);
  const say = words.limits;
  const isOffice = me?.roles.some((role) => role === "administrator" || role === "airworthiness") === true;
  const blocked = isOffice ? {} : { why: say.onlyOffice };
  const close = () => setDoing(null);
  return (
    <section className="stack" aria-labelledby="weather-setup">
      <h2 id="weather-setup" className="title">
        {say.title}
      </h2>
      <ul className="rows">
        {base.state.stations.map((station) => (
          <li key={station.entry} className="report report-foot">
            <span>
              <b className="mono">{station.station}</b> {station.name}
            </span>
            <Button look="plain" onPress={() => setDoing(station)} {...blocked}>
              {say.change}
            </Button>
          </li>
        ))}
      </ul>
      <div className="weather-setup">
        <Button onPress={() => setDoing("station")} {...blocked}>
          {say.addStation}
        </Button>
        <Button onPress={() => setDoing("limits")} {...blocked}>
          {say.limits}
        </Button>
      </div>
      <Sheet title={say.limits} open={doing === "limits"} onClose={close}>
        <LimitsForm base={base} craft={craft} words={words} onDone={close} />
      </Sheet>
      <Sheet title={say.stations} open={doing !== null && doing !== "limits"} onClose={close}>
        <StationForm
          base={base}
          words={words}
          stands={doing === null || typeof doing === "string" ? null : doing}
          onDone={close}
        />
      </Sheet>
    </section>
  );
}

/** Fields by name, each with what is wrong with it once somebody tried to save. */
function useFields(first: TypedLimits) {
  const [typed, setTyped] = useState(first);
  const [isTried, setTried] = useState(false);
  return {
    typed,
    isTried,
    try: () => setTried(true),
    set: (name: string) => (text: string) => setTyped((before) => ({ ...before, [name]: text })),
  };
}

type LineProps = {
  readonly fields: ReturnType<typeof useFields>;
  readonly wrong: ReadonlySet<string>;
  readonly words: WeatherWords;
};

function Line({
  fields,
  wrong,
  words,
  name,
  label,
}: LineProps & { readonly name: string; readonly label: string }) {
  return (
    <Field
      label={label}
      value={fields.typed[name] ?? ""}
      onChange={fields.set(name)}
      issue={fields.isTried && wrong.has(name) ? words.limits.wrong : null}
    />
  );
}

function Choices<Value extends string>({
  fields,
  wrong,
  words,
  name,
  label,
  of,
  width = "long",
}: LineProps & {
  readonly name: string;
  readonly label: string;
  readonly width?: "short" | "long";
  readonly of: Readonly<Record<Value, string>>;
}) {
  const values = Object.keys(of) as Value[];
  const held = values.find((value) => value === fields.typed[name]) ?? null;
  return (
    <div>
      <ChoiceRow
        name={label}
        width={width}
        choices={values.map((value) => ({ value, label: of[value] }))}
        value={held}
        onChoose={fields.set(name)}
      />
      {fields.isTried && wrong.has(name) && <p className="field-issue">{words.limits.wrong}</p>}
    </div>
  );
}

function Save({ fields, wrong, words, onSave }: LineProps & { readonly onSave: () => void }) {
  const isMissing = fields.isTried && wrong.size > 0;
  return (
    <>
      {isMissing && <p role="alert">{words.limits.missing(wrong.size)}</p>}
      <Button look="filled" onPress={wrong.size > 0 ? fields.try : onSave}>
        {words.limits.save}
      </Button>
    </>
  );
}

/** Settings made apart stand side by side; the newest is what the form begins with, and saving takes the place of all. */
function newestOf(all: readonly WeatherSettings[]): WeatherSettings | null {
  return all.toSorted((a, b) => b.at_ms - a.at_ms)[0] ?? null;
}

function LimitsForm({ base, craft, words, onDone }: Props & { readonly onDone: () => void }) {
  const { device } = useApp();
  const { language } = useLocale();
  const names = useNames(craft);
  const say = words.limits;
  const operations = operationsOf(base, craft);
  const fields = useFields(limitsAsTyped(newestOf(base.state.settings), operations, language));
  const { limits, wrong } = readLimits(fields.typed, operations, language);
  const parts = { fields, wrong, words };
  const save = async () => {
    if (limits === null) return;
    await device.setWeatherLimits(base.base, limits);
    onDone();
  };
  return (
    <div className="stack-wide">
      <section className="stack">
        <Choices {...parts} name="ruleSet" label={say.ruleSet} of={say.ruleSets} width="short" />
        <div className="weather-fields">
          <Line {...parts} name="reportAge" label={say.reportAge} />
          <Line {...parts} name="distance" label={say.distance} />
          <Line {...parts} name="ground" label={say.ground} />
        </div>
      </section>
      <p className="small quiet">{say.emptyMinima}</p>
      {operations.map((operation) => (
        <section key={operation} className="stack" aria-label={names.title("operation", operation)}>
          <h3 className="heading-small">{names.title("operation", operation)}</h3>
          <Choices {...parts} name={needField(operation, "light")} label={say.needsLight} of={say.light} />
          <div className="weather-fields">
            {minimaFields.map((field) => (
              <Line key={field} {...parts} name={needField(operation, field)} label={say[field]} />
            ))}
          </div>
          <Line {...parts} name={needField(operation, "cite")} label={say.cite} />
        </section>
      ))}
      <section className="stack">
        <Line {...parts} name="listed" label={say.listed} />
        <Line {...parts} name="listedCite" label={say.cite} />
      </section>
      <section className="stack">
        <Choices {...parts} name="ncd" label={say.ncd} of={say.ncdIs} />
        {fields.typed["ncd"] === "NSC" && <Line {...parts} name="ncdCite" label={say.cite} />}
      </section>
      <section className="stack">
        <Choices {...parts} name="planning" label={say.planning} of={say.planningIs} />
        {fields.typed["planning"] === "ruleSet" && <Line {...parts} name="planningCite" label={say.cite} />}
      </section>
      <p className="small quiet">{say.optional}</p>
      <div className="weather-fields">
        <Line {...parts} name="moisture" label={say.moisture} />
        <Line {...parts} name="moistureCite" label={say.cite} />
        <Line {...parts} name="cooling" label={say.cooling} />
        <Line {...parts} name="coolingCite" label={say.cite} />
        <Line {...parts} name="heading" label={say.heading} />
        <Line {...parts} name="tailwind" label={say.tailwind} />
        <Line {...parts} name="padCite" label={say.cite} />
      </div>
      <Save {...parts} onSave={() => void save()} />
    </div>
  );
}

/** Every kind of flying of the sheet, and those that something is stated of already. */
function operationsOf(base: BaseSky, { sheet }: CraftView): readonly string[] {
  const stated = base.state.settings.flatMap(({ needs }) => needs.map(({ operation }) => operation));
  return [...new Set([...(sheet?.operations ?? []).map(({ id }) => id), ...stated])];
}

type StationProps = Omit<Props, "craft"> & {
  readonly stands: StationFact | null;
  readonly onDone: () => void;
};

function StationForm({ base, words, stands, onDone }: StationProps) {
  const { device } = useApp();
  const { language } = useLocale();
  const say = words.limits;
  const fields = useFields(stationAsTyped(stands, language));
  const { station, wrong } = readStation(fields.typed, language);
  const parts = { fields, wrong, words };
  const save = async () => {
    if (station === null) return;
    await device.describeStation(base.base, station);
    onDone();
  };
  return (
    <div className="stack">
      <Line {...parts} name="station" label={say.station} />
      <Line {...parts} name="name" label={say.name} />
      <div className="weather-fields">
        <Line {...parts} name="lat" label={say.lat} />
        <Line {...parts} name="lon" label={say.lon} />
        <Line {...parts} name="elevation" label={say.elevation} />
      </div>
      <Choices {...parts} name="gives" label={say.gives} of={{ all: say.givesAll, some: say.givesSome }} />
      {fields.typed["gives"] === "some" &&
        stationGives.map((quantity) => (
          <Choices
            key={quantity}
            {...parts}
            name={quantity}
            label={say.quantity[quantity]}
            of={{ yes: say.yes, no: say.no }}
            width="short"
          />
        ))}
      <Save {...parts} onSave={() => void save()} />
    </div>
  );
}
