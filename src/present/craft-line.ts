// One craft in one line, for a terminal: what it is ready for and what not.
import type { CraftStanding } from "../core/standing/assess.ts";
import { compareVerdicts } from "../core/standing/combine.ts";
import type { Verdict } from "../core/standing/combine.ts";
import type { Language } from "./words/language.ts";
import { wordsIn } from "./words/words.ts";

/** `Skjær  Ready (dayVfr, ifr), not ready (hoist)`: the best standing, and the others with their operations. */
export function craftLine(name: string, { operations }: CraftStanding, language: Language): string {
  const { verdict: words, verdictLow } = wordsIn(language).standing;
  const found = [...new Set(operations.map(({ verdict }) => verdict))].toSorted(compareVerdicts);
  const [best] = found;
  if (best === undefined) return `${name}  ${words.notKnown}`;
  if (found.length === 1) return `${name}  ${words[best]}`;
  const those = (verdict: Verdict): string =>
    operations
      .filter((operation) => operation.verdict === verdict)
      .map(({ operation }) => operation)
      .join(", ");
  const parts = found.map(
    (verdict) => `${verdict === best ? words[verdict] : verdictLow[verdict]} (${those(verdict)})`,
  );
  return `${name}  ${parts.join(", ")}`;
}
