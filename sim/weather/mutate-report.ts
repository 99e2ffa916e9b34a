// Damages real weather reports the way keyboards, lines and careless copying do, from a seed.
//
// The seed reports are the published ones; a mutation changes letters, drops, doubles, swaps, splits, glues or borrows
// groups, or puts slashes or figures where they do not belong.

import type { Random } from "../../demo/random.ts";
import data from "../../published/weather-reports.json" with { type: "json" };

export const seedReports: readonly { readonly text: string; readonly near_ms: number }[] = data.rows.map(
  ({ text, near }) => ({ text, near_ms: Date.parse(near) }),
);

const characters = [
  ..."ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789/+-=$. ".split(""),
  "\t",
  "\n",
  "å",
  "\u{1f681}",
  "\0",
];

type Mutation = (random: Random, words: string[]) => string[];

function spot(random: Random, words: readonly string[]): number {
  return random.whole(0, Math.max(0, words.length - 1));
}

function changeWord(random: Random, words: readonly string[], change: (word: string) => string): string[] {
  const at = spot(random, words);
  return words.map((word, index) => (index === at ? change(word) : word));
}

function cut(random: Random, word: string): [string, string] {
  const at = random.whole(0, word.length);
  return [word.slice(0, at), word.slice(at)];
}

function borrow(random: Random): string {
  return random.pick(random.pick(seedReports).text.split(" "));
}

const mutations: readonly Mutation[] = [
  (random, words) =>
    changeWord(random, words, (word) => {
      const [before, after] = cut(random, word);
      return before + random.pick(characters) + after;
    }),
  (random, words) =>
    changeWord(random, words, (word) => {
      const [before, after] = cut(random, word);
      return before + random.pick(characters) + after.slice(1);
    }),
  (random, words) =>
    changeWord(random, words, (word) => {
      const [before, after] = cut(random, word);
      return before + after.slice(1);
    }),
  (random, words) =>
    changeWord(random, words, (word) => word.replaceAll(/\d/gu, () => String(random.whole(0, 9)))),
  (random, words) =>
    changeWord(random, words, (word) => "/".repeat(random.whole(1, 9)) + word.slice(random.whole(0, 9))),
  (random, words) => changeWord(random, words, () => borrow(random)),
  (random, words) => words.toSpliced(spot(random, words), 1),
  (random, words) => words.toSpliced(spot(random, words), 0, borrow(random)),
  (random, words) => {
    const at = spot(random, words);
    return words.toSpliced(at, 0, words[at] ?? "");
  },
  (random, words) => {
    const at = spot(random, words);
    return words.toSpliced(at, 2, `${words[at] ?? ""}${words[at + 1] ?? ""}`);
  },
  (random, words) => {
    const [a, b] = [spot(random, words), spot(random, words)];
    const swapped = [...words];
    [swapped[a], swapped[b]] = [words[b] ?? "", words[a] ?? ""];
    return swapped;
  },
  (random, words) => words.slice(0, spot(random, words)),
  (random, words) => [...words, ...random.pick(seedReports).text.split(" ").slice(random.whole(0, 6))],
  (random, words) => changeWord(random, words, (word) => word.repeat(random.whole(1, 40))),
];

/** A seed report after one to six mutations. */
export function mutatedReport(random: Random): { text: string; near_ms: number } {
  const { text, near_ms } = random.pick(seedReports);
  let words = text.split(" ");
  for (let left = random.whole(1, 6); left > 0; left -= 1) words = random.pick(mutations)(random, words);
  return { text: words.join(" "), near_ms };
}
