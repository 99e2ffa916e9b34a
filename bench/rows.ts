// What a benchmark yields, and how rounds of it become one line.

export type Row = {
  /** Unique in its file. */
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  /** In the same unit; printed as met or missed, never a failure. */
  readonly budget?: number;
  readonly better: "lower" | "higher";
  /** Another way to the same result, measured beside it in the same run, in the same unit. */
  readonly peer?: { readonly name: string; readonly value: number };
};

/** Tiny only shows that a benchmark still works; its numbers mean nothing. */
export type Size = "full" | "tiny";

/** The default export of a `*.bench.ts` file. It checks that its results are right before it times them. */
export type Bench = (size: Size) => Promise<readonly Row[]>;

export type Line = Omit<Row, "peer"> & {
  readonly peer?: { readonly name: string; readonly value: number; readonly ratio: number };
};

/**
 * Medians over rounds of one benchmark. `ratio` is the median of the rounds' own ratios, above 1 when ours is the
 * better one. Throws when a round has other rows than the first, or a number that is none.
 */
export function linesOf(rounds: readonly (readonly Row[])[]): readonly Line[] {
  const [first = []] = rounds;
  if (first.length === 0) throw new Error("the benchmark yielded no rows");
  const names = first.map(({ name }) => name);
  if (new Set(names).size !== names.length) throw new Error(`two rows have one name: ${names.join(", ")}`);
  for (const round of rounds) {
    if (round.map(({ name }) => name).join("\n") !== names.join("\n"))
      throw new Error(`rounds differ: ${names.join(", ")} and ${round.map(({ name }) => name).join(", ")}`);
    for (const { name, value, peer } of round) {
      if (![value, peer?.value ?? 1].every((number) => Number.isFinite(number) && number > 0))
        throw new Error(`${name}: found ${value} and ${peer?.value}, wanted positive numbers`);
    }
  }
  return first.map((row, index) => {
    const same = rounds.flatMap((round) => round[index] ?? []);
    const { peer, ...rest } = row;
    const line = { ...rest, value: median(same.map(({ value }) => value)) };
    if (peer === undefined) return line;
    const peers = same.map((one) => one.peer?.value ?? Number.NaN);
    const ratios = same.map(({ value, peer: other }) =>
      row.better === "lower" ? (other?.value ?? Number.NaN) / value : value / (other?.value ?? Number.NaN),
    );
    return { ...line, peer: { name: peer.name, value: median(peers), ratio: median(ratios) } };
  });
}

/** Whether a line keeps its budget; null when it has none. */
export function keepsBudget({ value, budget, better }: Line): boolean | null {
  if (budget === undefined) return null;
  return better === "lower" ? value <= budget : value >= budget;
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  const [low, high] = [sorted[middle - 1 + (sorted.length % 2)], sorted[middle]];
  if (low === undefined || high === undefined) throw new Error("the median of nothing");
  return (low + high) / 2;
}
