// The published classes of fuel leaks, by size and by return, each with its source. Names only: nothing follows from them.
import type { Measure } from "../../core/facts/craft.ts";
import {
  byReturnSource,
  bySizeSource,
  classByReturn,
  classBySize,
  returns,
  sizeClasses,
} from "../../core/finding/leak-class.ts";
import { convert } from "../../core/quantity/units.ts";
import type { Inches, Millimetres } from "../../core/quantity/units.ts";
import { useLocale } from "../parts/words.tsx";
import { numberText } from "./findings-view.ts";
import { useFindingsWords } from "./use-findings-words.ts";

export function LeakNames({ measure }: { readonly measure: Pick<Measure, "value" | "unit"> | null }) {
  const { leak } = useFindingsWords();
  const { language } = useLocale();
  const both = (size_in: number) =>
    `${numberText(size_in, language)} in (${numberText(convert(size_in as Inches, "in", "mm"), language, 1)} mm)`;
  const diameter_in = measure?.unit === "mm" ? convert(measure.value as Millimetres, "mm", "in") : null;
  return (
    <details className="leak-names">
      <summary>{leak.heading}</summary>
      <p className="small">{leak.note}</p>
      {diameter_in !== null && (
        <p className="small">{leak.thisOne(leak.classes[classBySize(diameter_in, false)])}</p>
      )}
      <p className="small quiet">
        {leak.bySize(bySizeSource.after_min)} ({leak.source(bySizeSource.document, bySizeSource.part)})
      </p>
      <dl className="facts small">
        {sizeClasses.map(({ name, from_in, to_in }) => (
          <div key={name}>
            <dt>{leak.classes[name]}</dt>
            <dd>
              {to_in === null
                ? leak.running
                : from_in === 0
                  ? leak.under(both(to_in))
                  : leak.between(both(from_in), both(to_in))}
            </dd>
          </div>
        ))}
      </dl>
      <p className="small quiet">
        {leak.byReturn} ({leak.source(byReturnSource.document, byReturnSource.part)})
      </p>
      <dl className="facts small">
        {returns.map((how) => {
          const { name, hazard } = classByReturn(how);
          return (
            <div key={how}>
              <dt>{leak.returnClasses[name]}</dt>
              <dd>{hazard ? `${leak.returns[how]}: ${leak.hazard}` : leak.returns[how]}</dd>
            </div>
          );
        })}
      </dl>
    </details>
  );
}
