// Fuel: what was filled into the machine and whether it agrees and was clear, and what the base where it stands stores.
import { useState } from "react";
import type { FuelFilled } from "../../core/facts/call.ts";
import { displayNumber, type Worse } from "../../core/quantity/display.ts";
import { reasonWords } from "../../present/reasons.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import "../look/fuel.css";
import { ReasonList } from "../parts/reasons.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Table } from "../parts/table.tsx";
import { TwoButtons } from "../parts/two-buttons.tsx";
import { useWide } from "../parts/use-wide.ts";
import { useLocale, useWords } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { Frame } from "./frame.tsx";
import { balanceOf, FillForm, nameOf, SampleForm } from "./fuel-fill.tsx";
import { BaseFuel } from "./fuel-tanks.tsx";
import { clearsBy } from "./told.ts";
import { useFuelWords } from "./use-fuel-words.ts";

type Doing = "fill" | "sample";
const shown = 12;
const shownNarrow = 4;

export function FuelScreen({ craft }: { readonly craft: CraftView }) {
  const { app } = useWords();
  const words = useFuelWords();
  const [doing, setDoing] = useState<Doing | null>(null);
  const close = () => setDoing(null);
  return (
    <Frame
      craft={craft}
      name={`${craft.name} · ${app.screens.fuel}`}
      nameAs="h1"
      foot={
        <TwoButtons
          left={{ children: words.sampleHere, note: words.sampleNote, onPress: () => setDoing("sample") }}
          right={{ children: words.fill, note: words.fillNote, onPress: () => setDoing("fill") }}
        />
      }
    >
      <div className="fuel-columns">
        <Aboard craft={craft} />
        <BaseFuel craft={craft} />
      </div>
      <Sheet title={words.fill} open={doing === "fill"} onClose={close}>
        {doing === "fill" && <FillForm craft={craft} onDone={close} />}
      </Sheet>
      <Sheet title={words.sampleHere} open={doing === "sample"} onClose={close}>
        {doing === "sample" && <SampleForm craft={craft} onDone={close} />}
      </Sheet>
    </Frame>
  );
}

function Aboard({ craft }: { readonly craft: CraftView }) {
  const { now_ms } = useSnapshot();
  const words = useFuelWords();
  const all = useWords();
  const locale = useLocale();
  const names = useNames(craft);
  const kg = (value: number, worse: Worse) => `${displayNumber(value, 0, worse, locale.language)} kg`;
  const newest = craft.state.fuelFilled.toSorted((a, b) => b.at_ms - a.at_ms);
  const [last] = newest;
  const against = craft.standing.reasons.filter(
    ({ code }) => code.startsWith("fuel.") && code !== "fuel.tankNotForUse" && code !== "fuel.tankLow",
  );
  return (
    <section className="stack" aria-labelledby="fuel-aboard">
      <h2 id="fuel-aboard" className="heading-small">
        {words.aboard}
      </h2>
      {last === undefined ? (
        <>
          <p className="lead">{words.neverFilled}</p>
          <p className="quiet">{words.neverFilledBody}</p>
        </>
      ) : (
        <p className="lead">
          {words.after(
            kg(last.after_kg, "lower"),
            timeSeenFrom(now_ms, last.at_ms, locale),
            names.person(last.by),
          )}
        </p>
      )}
      {against.length === 0 ? (
        last !== undefined && <p>{words.noDoubt}</p>
      ) : (
        <ReasonList
          heading={all.standing.whatCanChange}
          reasons={against.map((reason, index) => {
            const { title, detail, remedy } = reasonWords({ reason, now_ms, names, locale });
            return {
              id: `${reason.code}-${index}`,
              effect: reason.effect,
              title,
              detail: [detail, remedy].filter((part) => part !== "").join("; "),
              clears: clearsBy(reason, locale),
            };
          })}
        />
      )}
      {newest.length > 0 && <Fillings craft={craft} newest={newest} />}
    </section>
  );
}

type FillingsProps = { readonly craft: CraftView; readonly newest: readonly FuelFilled[] };

/** As a table where there is room, as lines on a phone. */
function Fillings({ craft, newest }: FillingsProps) {
  const { now_ms } = useSnapshot();
  const words = useFuelWords();
  const locale = useLocale();
  const wide = useWide();
  const kg = (value: number, worse: Worse) => `${displayNumber(value, 0, worse, locale.language)} kg`;
  const balanced = (filled: FuelFilled): string => {
    const { before_kg: before, after_kg: after, density_kgL: density, amount, unit, fuel_C } = filled;
    const balance = balanceOf(craft, { before, amount, unit, density, fuel_C, after });
    return balance === null ? "?" : kg(Math.abs(balance.difference_kg), "higher");
  };
  const filled = ({ amount, unit }: FuelFilled): string =>
    `${displayNumber(amount, Number.isInteger(amount) ? 0 : 1, "both", locale.language)} ${words.units[unit]}`;
  const from = ({ baseTank }: FuelFilled): string =>
    baseTank === null ? words.elsewhere : nameOf(craft.situation.tanks ?? null, baseTank);
  const sampled = ({ sample }: FuelFilled): string =>
    sample === null ? words.noSample : words.samples[sample];
  if (!wide)
    return (
      <section>
        <h3 className="title">{words.fillings}</h3>
        <ul className="rows">
          {newest.slice(0, shownNarrow).map((one) => (
            <li key={one.entry} className="fuel-filling">
              <span>
                <b>{timeSeenFrom(now_ms, one.at_ms, locale)}</b>, {from(one)}
              </span>
              <span className="mono">
                {kg(one.before_kg, "both")} + {filled(one)} → {kg(one.after_kg, "both")}
              </span>
              <span className="small quiet">
                {words.column.apart} {balanced(one)}; {words.column.sample} {sampled(one)}
              </span>
            </li>
          ))}
        </ul>
      </section>
    );
  return (
    <Table
      caption={words.fillings}
      rows={newest.slice(0, shown)}
      rowId={({ entry }) => entry}
      columns={[
        {
          id: "when",
          head: words.column.when,
          kind: "name",
          cell: ({ at_ms }) => timeSeenFrom(now_ms, at_ms, locale),
        },
        {
          id: "before",
          head: words.column.before,
          kind: "number",
          cell: ({ before_kg }) => kg(before_kg, "both"),
        },
        {
          id: "filled",
          head: words.column.filled,
          kind: "number",
          cell: filled,
        },
        {
          id: "after",
          head: words.column.after,
          kind: "number",
          cell: ({ after_kg }) => kg(after_kg, "both"),
        },
        { id: "apart", head: words.column.apart, kind: "number", cell: balanced },
        {
          id: "from",
          head: words.column.from,
          cell: from,
        },
        {
          id: "sample",
          head: words.column.sample,
          cell: sampled,
        },
      ]}
    />
  );
}
