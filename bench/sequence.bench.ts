// How long `preen calc sequence` thinks: each published instance, the hardest of seeded random ones of 25 places, and the
// orders of the demo's walks. Every optimum is checked before it is timed.
// Peer, where it can be held in memory (up to 18 places): dynamic programming over subsets, which needs no bounds.
import { readFileSync } from "node:fs";
import { solveSequence } from "../src/core/walk/sequence/solve-sequence.ts";
import type { SequenceQuestion } from "../src/core/walk/sequence/solve-sequence.ts";
import { randomFrom } from "../demo/random.ts";
import type { Bench, Row } from "./rows.ts";

type Instance = {
  readonly name: string;
  readonly kind: string;
  readonly optimum: number;
  readonly cost: readonly (readonly number[])[];
};
const { instances } = JSON.parse(
  readFileSync(new URL("../published/sequence.json", import.meta.url), "utf8"),
) as { instances: readonly Instance[] };

const budget_ms = 5_000;

const bench: Bench = async (size) => {
  const published = instances
    .filter(({ cost }) => size === "full" || cost.length <= 11)
    .map((instance) => publishedRow(instance));
  return size === "tiny"
    ? published
    : [...published, ...randomRows(25, [0, 0.05, 0.2], 2), ...randomRows(40, [0.05], 1)];
};

export default bench;

function questionOf({ kind, cost }: Instance): SequenceQuestion {
  if (kind !== "sop") return { cost, before: [], start: null, end: null, closed: true };
  const before = cost.flatMap((row, later) =>
    row.flatMap((value, earlier): [number, number][] => (value === -1 ? [[earlier, later]] : [])),
  );
  return { cost, before, start: 0, end: cost.length - 1, closed: false };
}

function timed<Result>(run: () => Result): { readonly result: Result; readonly took_ms: number } {
  const began = performance.now();
  const result = run();
  return { result, took_ms: performance.now() - began };
}

function publishedRow(instance: Instance): Row {
  const question = questionOf(instance);
  const { result, took_ms } = timed(() => solveSequence(question));
  if (!result.proven || result.cost !== instance.optimum)
    throw new Error(`${instance.name}: found ${result.cost}, wanted ${instance.optimum} with proof`);
  const row: Row = {
    name: `${instance.name}, ${instance.cost.length} places, optimum ${instance.optimum}`,
    value: took_ms,
    unit: "ms",
    budget: budget_ms,
    better: "lower",
  };
  if (instance.cost.length > 18) return row;
  const peer = timed(() => bySubsets(question));
  if (peer.result !== instance.optimum) throw new Error(`${instance.name}: the peer finds ${peer.result}`);
  return { ...row, peer: { name: "over all subsets", value: peer.took_ms } };
}

/** Held and Karp 1962: the cheapest way over every set of places to each last place of it, lawful ones only. */
function bySubsets({ cost, before, closed }: SequenceQuestion): number {
  const n = cost.length;
  const needs = Array.from({ length: n }, () => 0);
  for (const [first, then] of before) needs[then]! |= 1 << first;
  const best = new Float64Array((1 << n) * n).fill(Infinity);
  best[1 * n] = 0;
  for (let set = 1; set < 1 << n; set += 2) {
    for (let last = 0; last < n; last += 1) {
      const so = best[set * n + last]!;
      if (so === Infinity) continue;
      for (let next = 0; next < n; next += 1) {
        if ((set & (1 << next)) !== 0 || (needs[next]! & ~set) !== 0) continue;
        const at = (set | (1 << next)) * n + next;
        const total = so + cost[last]![next]!;
        if (total < best[at]!) best[at] = total;
      }
    }
  }
  const all = ((1 << n) - 1) * n;
  if (!closed) return best[all + n - 1]!;
  let round = Infinity;
  for (let last = 1; last < n; last += 1) round = Math.min(round, best[all + last]! + cost[last]![0]!);
  return round;
}

/** The slowest of some: costs without pattern and in a plane, with few and with many precedences. */
function randomRows(n: number, densities: readonly number[], trials: number): readonly Row[] {
  const { unit: random } = randomFrom(20_261);
  return (["any", "plane"] as const).flatMap((kind) =>
    densities.map((density): Row => {
      let slowest = 0;
      let gap = 0;
      for (let trial = 0; trial < trials; trial += 1) {
        const places = Array.from({ length: n }, () => [random() * 100, random() * 100] as const);
        const cost = places.map(([x, y]) =>
          places.map(([u, v]) => (kind === "any" ? Math.floor(random() * 1_000) : Math.hypot(x - u, y - v))),
        );
        const before = places.flatMap((_, later) =>
          places.flatMap((_other, earlier): [number, number][] =>
            earlier > 0 && later < n - 1 && earlier < later && random() < density ? [[earlier, later]] : [],
          ),
        );
        const question = { cost, before, start: 0, end: n - 1, closed: false };
        const { result, took_ms } = timed(() => solveSequence(question));
        if (n <= 25 && !result.proven) throw new Error(`${n} places are not proved`);
        if (result.bound > result.cost * (1 + 1e-9)) throw new Error("a bound above the cost");
        slowest = Math.max(slowest, took_ms);
        gap = Math.max(gap, result.cost / result.bound - 1);
      }
      const how = `${kind === "any" ? "costs without pattern" : "in a plane"}, ${density * 100} % of pairs bound`;
      return {
        name: `slowest of ${trials}, ${n} places, ${how}${n > 25 ? `, gap ${(100 * gap).toFixed(1)} %` : ""}`,
        value: slowest,
        unit: "ms",
        ...(n <= 25 ? { budget: budget_ms } : {}),
        better: "lower",
      };
    }),
  );
}
