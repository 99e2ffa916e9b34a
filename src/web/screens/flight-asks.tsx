// What a flight asks besides its figures: the risk worksheet where the rule set wants one, sea and suits over water.
import { useState } from "react";
import { worksheetNow } from "../../core/due/assess-flights.ts";
import type { Worksheet } from "../../core/facts/craft.ts";
import type { FlightRules } from "../../core/facts/flight-rules.ts";
import { own } from "../../core/facts/own.ts";
import { displayNumber } from "../../core/quantity/display.ts";
import { readTypedNumber } from "../../present/typed-number.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { Button } from "../parts/button.tsx";
import { ChoiceRow } from "../parts/choice-row.tsx";
import { Field } from "../parts/field.tsx";
import { Sheet } from "../parts/sheet.tsx";
import { Stepper } from "../parts/stepper.tsx";
import { useLocale } from "../parts/words.tsx";
import { useApp, useNames, useSnapshot } from "./app-context.tsx";
import { SignFoot } from "./sign-foot.tsx";
import { useOfficeWords } from "./use-office-words.ts";

type CraftProps = { readonly craft: CraftView };

export function FlightAsks({ craft }: CraftProps) {
  const { operator } = useSnapshot();
  const rules = operator.state.flightRules;
  const [asking] = rules.filter(({ worksheet }) => worksheet !== null);
  return (
    <>
      {asking !== undefined && <RiskWorksheet craft={craft} rules={asking} />}
      {rules.some(({ overWater }) => overWater !== null) && <Water craft={craft} />}
    </>
  );
}

function RiskWorksheet({ craft, rules }: CraftProps & { readonly rules: FlightRules }) {
  const { device } = useApp();
  const { flights: words } = useOfficeWords();
  const { now_ms, me } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const [filling, setFilling] = useState(false);
  const landed_ms = Math.max(...craft.state.flights.map(({ on_ms }) => on_ms));
  const [latest] = craft.state.worksheets
    .filter(({ at_ms }) => at_ms >= landed_ms)
    .toSorted((a, b) => b.at_ms - a.at_ms);
  return (
    <section className="stack">
      <h2 className="heading-small">{words.worksheet}</h2>
      {latest !== undefined && (
        <>
          <p>
            {words.worksheetSigned(timeSeenFrom(now_ms, latest.at_ms, locale), names.person(latest.by))},{" "}
            {words.worksheetSum(String(sumOf(craft, latest, rules)), String(rules.worksheet?.releaseAbove))}
            {latest.released === null ? "" : `, ${words.released(names.person(latest.released.by))}`}
          </p>
          {me?.roles.includes("administrator") === true && latest.released === null && (
            <Button
              onPress={() =>
                void device.sign(craft.ledger, "worksheet.released", {
                  worksheet: latest.entry,
                  words: words.release,
                })
              }
            >
              {words.release}
            </Button>
          )}
        </>
      )}
      <Button onPress={() => setFilling(true)}>{words.fillWorksheet}</Button>
      <Sheet title={words.fillWorksheet} open={filling} onClose={() => setFilling(false)}>
        <FillWorksheet craft={craft} rules={rules} onDone={() => setFilling(false)} />
      </Sheet>
    </section>
  );
}

function sumOf(craft: CraftView, sheet: Worksheet, rules: FlightRules): number {
  return Object.values(worksheetNow(craft.state, sheet, rules).scores).reduce((sum, score) => sum + score, 0);
}

type FillProps = CraftProps & { readonly rules: FlightRules; readonly onDone: () => void };

function FillWorksheet({ craft, rules, onDone }: FillProps) {
  const { device } = useApp();
  const { flights: words, office } = useOfficeWords();
  const { language } = useLocale();
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const [refused, setRefused] = useState<"yes" | "no" | null>(null);
  const [mitigation, setMitigation] = useState("");
  const factors = rules.worksheet?.factors ?? [];
  const scoreOf = (id: string, most: number): number | null => {
    const { value, issue } = readTypedNumber(
      typed[id] ?? "",
      { decimals: 0, lowest: 0, highest: most },
      language,
    );
    return issue === null ? value : null;
  };
  const scores = Object.fromEntries(
    factors.flatMap(({ id, most }) => {
      const score = scoreOf(id, most);
      return score === null ? [] : [[id, score] as const];
    }),
  );
  const isWhole = factors.every(({ id }) => own(scores, id) !== undefined) && refused !== null;
  return (
    <div className="stack">
      {factors.map(({ id, words: said, most }) => (
        <Stepper
          key={id}
          label={`${said} (0–${most})`}
          typed={typed[id] ?? ""}
          onTyped={(text) => setTyped((held) => ({ ...held, [id]: text }))}
          scale={{ decimals: 0, lowest: 0, highest: most }}
          step={1}
          startAt={0}
          unit=""
        />
      ))}
      <ChoiceRow
        name={words.refused}
        choices={[
          { value: "no", label: office.no },
          { value: "yes", label: office.yes },
        ]}
        value={refused}
        onChoose={setRefused}
      />
      <Field label={words.mitigation} value={mitigation} onChange={setMitigation} lines="many" />
      <SignFoot
        label={words.sign}
        why={isWhole ? null : office.missing}
        onSign={() =>
          device.sign(craft.ledger, "worksheet.signed", {
            scores,
            refusedElsewhere: refused === "yes",
            mitigation,
          })
        }
        onDone={onDone}
      />
    </div>
  );
}

function Water({ craft }: CraftProps) {
  const { flights: words } = useOfficeWords();
  const { now_ms } = useSnapshot();
  const locale = useLocale();
  const [saying, setSaying] = useState(false);
  const [latest] = craft.state.water.toSorted((a, b) => b.at_ms - a.at_ms);
  return (
    <section className="stack">
      <h2 className="heading-small">{words.water}</h2>
      {latest !== undefined && (
        <p>
          {words.waterSaid(
            String(latest.seaState),
            displayNumber(latest.water_C, 0, "both", locale.language),
            String(latest.suits),
            timeSeenFrom(now_ms, latest.at_ms, locale),
          )}
        </p>
      )}
      <Button onPress={() => setSaying(true)}>{words.sayWater}</Button>
      <Sheet title={words.sayWater} open={saying} onClose={() => setSaying(false)}>
        <SayWater craft={craft} onDone={() => setSaying(false)} />
      </Sheet>
    </section>
  );
}

const waterScales = {
  seaState: { decimals: 0, lowest: 0, highest: 9 },
  water_C: { decimals: 0, lowest: -2, highest: 40 },
  suits: { decimals: 0, lowest: 0, highest: 30 },
} as const;

function SayWater({ craft, onDone }: CraftProps & { readonly onDone: () => void }) {
  const { device } = useApp();
  const { flights: words, office } = useOfficeWords();
  const { language } = useLocale();
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const valueOf = (name: keyof typeof waterScales): number | null => {
    const { value, issue } = readTypedNumber(typed[name] ?? "", waterScales[name], language);
    return issue === null ? value : null;
  };
  const [seaState, water_C, suits] = [valueOf("seaState"), valueOf("water_C"), valueOf("suits")];
  const fields = [
    ["seaState", words.seaState, ""],
    ["water_C", words.waterC, "°C"],
    ["suits", words.suits, ""],
  ] as const;
  return (
    <div className="stack">
      {fields.map(([name, label, unit]) => (
        <Stepper
          key={name}
          label={label}
          typed={typed[name] ?? ""}
          onTyped={(text) => setTyped((held) => ({ ...held, [name]: text }))}
          scale={waterScales[name]}
          step={1}
          startAt={0}
          unit={unit}
        />
      ))}
      <SignFoot
        label={office.save}
        why={seaState === null || water_C === null || suits === null ? office.missing : null}
        onSign={() => device.sign(craft.ledger, "water.said", { seaState, water_C, suits })}
        onDone={onDone}
      />
    </div>
  );
}
