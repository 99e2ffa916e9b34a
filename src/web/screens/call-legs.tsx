// A call leg by leg, with the light at each take-off and landing; and for each of them by which report its weather was
// judged. What was seen at a place oneself is said from here.
import { Suspense, lazy, useState } from "react";
import { displayNumber } from "../../core/quantity/display.ts";
import type { CallAnswer } from "../../core/reach/call.ts";
import { convert, inUnit } from "../../core/quantity/units.ts";
import { callSky } from "../../core/standing/call-sky.ts";
import type { SkyInstant, Speaking, StopSky } from "../../core/standing/call-sky.ts";
import { weatherWordsIn } from "../../present/weather/group-words.ts";
import { timeOfDay } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { Table } from "../parts/table.tsx";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames } from "./app-context.tsx";
import { deskOf } from "./call-view.ts";
import { useAmounts } from "./use-amounts.ts";
import { useCallWords } from "./use-call-words.ts";

const OwnObservationEntry = lazy(async () => ({
  default: (await import("./weather-entry.tsx")).OwnObservationEntry,
}));

type AnswerProps = { readonly craft: CraftView; readonly answer: CallAnswer };

export function Legs({ craft, answer }: AnswerProps) {
  const words = useCallWords();
  const locale = useLocale();
  const amounts = useAmounts();
  const { units } = useWords();
  const made = deskOf(craft);
  const sky = made === null ? null : callSky(made.desk, answer);
  const { column } = words;
  const [mass, distance] = [units[amounts.units.mass], units[amounts.units.distance]];
  const inKg = (value: number | null, worse: "lower" | "higher") =>
    value === null ? "?" : amounts.bare(value, "mass", worse);
  const metres = (value_m: number) => displayNumber(value_m, 3, "both", locale.language);
  const timeAt = (at_ms: number | null | undefined) => (at_ms == null ? "?" : timeOfDay(at_ms, locale));
  const light = (instant: SkyInstant | null | undefined) =>
    instant == null ? "?" : words.light[instant.light];
  const rows = answer.legs.map((leg, index) => ({ leg, index }));
  return (
    <div className="stack">
      <Table
        caption={words.legs}
        rows={rows}
        rowId={({ index }) => `${index}`}
        columns={[
          { id: "leg", head: column.leg, kind: "name", cell: ({ leg }) => words.leg(leg.from, leg.to) },
          {
            id: "distance",
            head: column.distance(distance),
            kind: "number",
            cell: ({ leg }) => amounts.bare(leg.distance_nm, "distance", "higher", 1),
          },
          {
            id: "min",
            head: column.time,
            kind: "number",
            cell: ({ leg }) =>
              leg.time_min === null ? "?" : displayNumber(leg.time_min, 0, "higher", locale.language),
          },
          {
            id: "used",
            head: column.fuel(mass),
            kind: "number",
            cell: ({ leg }) => inKg(leg.fuel_kg, "higher"),
          },
          {
            id: "left",
            head: column.left(mass),
            kind: "number",
            cell: ({ leg }) =>
              leg.fuelAtEnd_kg !== null && leg.fuelAtEnd_kg < 0
                ? words.noFuel
                : inKg(leg.fuelAtEnd_kg, "lower"),
          },
          {
            id: "mass",
            head: column.mass(mass),
            kind: "number",
            cell: ({ leg }) => inKg(leg.takeoffMass_kg, "higher"),
          },
          {
            id: "centre",
            head: column.centre,
            kind: "number",
            cell: ({ leg: { balance } }) =>
              balance === null ? "?" : words.alongLeg(metres(balance.start.x_m), metres(balance.end.x_m)),
          },
          {
            id: "leave",
            head: column.leave,
            kind: "number",
            cell: ({ index }) => timeAt(answer.stops[index]?.leave_ms),
          },
          {
            id: "at",
            head: column.arrive,
            kind: "number",
            cell: ({ index }) => timeAt(answer.stops[index + 1]?.arrive_ms),
          },
          {
            id: "light",
            head: column.light,
            cell: ({ index }) =>
              words.lightOfLeg(light(sky?.[index]?.takeoff), light(sky?.[index + 1]?.landing)),
          },
        ]}
      />
      {answer.fuel !== null && (
        <p className="quiet small">
          {words.fuelRequired(
            amounts.mass(answer.fuel.required_kg, "higher"),
            amounts.mass(answer.fuel.fuel_kg, "lower"),
          )}
          {"; "}
          {words.spare(displayNumber(answer.fuel.spare_min, 0, "lower", locale.language))}; {answer.fuel.cite}
        </p>
      )}
    </div>
  );
}

/** Each stop with the light of its landing and its take-off, and what speaks for its weather then. */
export function CallSky({ craft, answer }: AnswerProps) {
  const words = useCallWords();
  const [seeing, setSeeing] = useState<string | null>(null);
  const { language } = useLocale();
  const made = deskOf(craft);
  const sky = made === null ? null : callSky(made.desk, answer);
  const base = made?.desk.base ?? null;
  if (sky === null || base === null) return null;
  return (
    <section className="opens">
      <h2 className="heading-small">{words.sky.heading}</h2>
      <ul className="rows">
        {answer.stops.map(({ name, role }, index) => (
          // A place can be called at twice: its order in the call is what it is.
          // oxlint-disable-next-line react/no-array-index-key
          <li key={`${name} ${index}`} className="call-sky">
            <div>
              <b>{name}</b>
              <StopLines craft={craft} stop={sky[index]!} />
            </div>
            {role !== "base" && index > 0 && (
              <Button note={name} onPress={() => setSeeing(name)}>
                {words.sky.observeThere}
              </Button>
            )}
          </li>
        ))}
      </ul>
      {seeing !== null && (
        <Suspense fallback={null}>
          <OwnObservationEntry
            open
            base={base}
            place={seeing}
            onClose={() => setSeeing(null)}
            words={weatherWordsIn(language)}
          />
        </Suspense>
      )}
    </section>
  );
}

function StopLines({
  craft,
  stop: { landing, takeoff },
}: {
  readonly craft: CraftView;
  readonly stop: StopSky;
}) {
  const { sky: words } = useCallWords();
  if (landing === null && takeoff === null) return <span className="reason-detail">{words.notTimed}</span>;
  const said = (instant: SkyInstant | null) => JSON.stringify(instant?.speaks ?? null);
  // What speaks for both is said once.
  const isSame = said(landing) === said(takeoff);
  return (
    <>
      {landing !== null && <StopLine craft={craft} at={landing} say={words.landing} isBare={isSame} />}
      {takeoff !== null && <StopLine craft={craft} at={takeoff} say={words.takeoff} isBare={false} />}
    </>
  );
}

type LineProps = {
  readonly craft: CraftView;
  readonly at: SkyInstant;
  readonly say: (time: string, light: string) => string;
  readonly isBare: boolean;
};

function StopLine({ craft, at, say, isBare }: LineProps) {
  const words = useCallWords();
  const locale = useLocale();
  const amounts = useAmounts();
  const names = useNames(craft);
  const source = (one: Speaking): string => {
    if (one.kind === "seen") return words.sky.seen(names.person(one.by), timeOfDay(one.at_ms, locale));
    const time = one.issued_ms === null ? "?" : timeOfDay(one.issued_ms, locale);
    const away = amounts.distance(convert(inUnit(one.distance_km, "km"), "km", "nm"), "higher");
    return words.sky[one.kind](one.station, time, away);
  };
  const by = at.speaks.length === 0 ? words.sky.silent : words.sky.by(at.speaks.map(source).join("; "));
  return (
    <span className="reason-detail">
      {say(timeOfDay(at.at_ms, locale), words.light[at.light])}
      {!isBare && `; ${by}`}
    </span>
  );
}
