// Reads the whole chart at inputs that the author types: the value and the points it came from, or why it is not known.
import { useMemo, useState } from "react";
import { chartOf } from "../../core/chart/chart.ts";
import { type Reading, readChart } from "../../core/chart/read-chart.ts";
import type { SheetChart } from "../../core/sheet/chart-blocks.ts";
import { readTypedNumber, type TypedIssue } from "../../present/typed-number.ts";
import { asTitle } from "../../present/sentence-case.ts";
import { Field } from "../parts/field.tsx";
import { useWords } from "../parts/words.tsx";
import { amountText, placeText, quantityName, stepsOf, type Telling, unitName } from "./charts-view.ts";

const scale = { decimals: 3 } as const;

export function ChartReading({ block, telling }: { readonly block: SheetChart; readonly telling: Telling }) {
  const { charts, language } = telling;
  const chart = useMemo(() => chartOf(block), [block]);
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>({});
  const { entry } = useWords();
  const numbers = chart.inputs.map(
    (input) => [input, readTypedNumber(typed[input] ?? "", scale, language)] as const,
  );
  const given = numbers.flatMap(([input, { value }]) => (value === null ? [] : [[input, value] as const]));
  const reading = given.length === numbers.length ? readChart(chart, Object.fromEntries(given)) : null;
  return (
    <section className="stack">
      <h3 className="heading-small">{charts.read.name}</h3>
      <div className="chart-inputs">
        {numbers.map(([input, { issue }]) => {
          const unit = unitName(input, telling);
          return (
            <Field
              key={input}
              label={`${asTitle(quantityName(input, telling), language)}${unit === "" ? "" : `, ${unit}`}`}
              value={typed[input] ?? ""}
              inputMode="decimal"
              issue={issue === null ? null : faultText(issue, entry.issue)}
              onChange={(value) => setTyped((before) => ({ ...before, [input]: value }))}
            />
          );
        })}
      </div>
      <output className="stack">
        {reading === null ? (
          <p className="small quiet">{charts.read.missing}</p>
        ) : (
          <ReadingText reading={reading} block={block} telling={telling} />
        )}
      </output>
    </section>
  );
}

/** A number without a scale can only be none, two at once, or finer than anything is read. */
function faultText(issue: TypedIssue, say: Telling["words"]["entry"]["issue"]): string {
  if (issue.kind === "ambiguous") return say.ambiguous(issue.typed, ...issue.readings);
  return issue.kind === "notANumber" ? say.notANumber(issue.typed) : say.tooManyDecimals(scale.decimals);
}

type ReadingTextProps = { readonly reading: Reading; readonly block: SheetChart; readonly telling: Telling };

function ReadingText({ reading, block, telling }: ReadingTextProps) {
  const { charts } = telling;
  const steps = stepsOf(block);
  if (reading.is === "notKnown") {
    return reading.lacks.map(({ input, asked, range, step }) => (
      <p key={input}>
        <b>
          {charts.read.outside(
            quantityName(input, telling),
            asked === null ? "–" : amountText(asked, input, telling),
            range === null ? "–" : amountText(range[0], input, telling),
            range === null ? "–" : amountText(range[1], input, telling),
          )}
        </b>
        {step !== null && ` ${charts.read.inStep(step + 1)}`}
      </p>
    ));
  }
  const { output } = steps.at(-1)!;
  const used = reading.used.map(({ at, value, step }) => {
    const result = steps[step ?? 0]!.output;
    return `${amountText(value, result, telling)} (${placeText(at, telling)})`;
  });
  return (
    <>
      <p className="chart-result">
        {charts.read.result} <b className="mono">{amountText(reading.value, output, telling)}</b>
      </p>
      <p className="small quiet">{charts.read.used(used.join("; "))}</p>
    </>
  );
}
