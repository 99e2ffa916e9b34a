import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { keepsBudget, linesOf, type Row } from "./rows.ts";

const row = (value: number, peerValue: number, change: Partial<Row> = {}): Row => ({
  name: "fold",
  value,
  unit: "ms",
  better: "lower",
  peer: { name: "peer", value: peerValue },
  ...change,
});

describe("The lines of a benchmark", () => {
  test("are medians over the rounds, the ratio to the peer taken within each round", () => {
    const [line] = linesOf([[row(10, 20)], [row(40, 44)], [row(20, 60)]]);
    expect(line).toMatchObject({ value: 20, peer: { value: 44, ratio: 2 } });
    const [even] = linesOf([[row(10, 20)], [row(20, 40)]]);
    expect(even?.value).toBe(15);
  });

  test("say a ratio above one when ours is the better one, whichever way is better", () => {
    expect(linesOf([[row(10, 30)]])[0]?.peer?.ratio).toBe(3);
    expect(linesOf([[row(30, 10, { better: "higher" })]])[0]?.peer?.ratio).toBe(3);
  });

  test("keep a budget up to and including it", () => {
    const kept = (change: Partial<Row>): unknown => linesOf([[row(10, 1, change)]]).map(keepsBudget);
    expect(kept({})).toEqual([null]);
    expect(kept({ budget: 10 })).toEqual([true]);
    expect(kept({ budget: 9.9 })).toEqual([false]);
    expect(kept({ budget: 10, better: "higher" })).toEqual([true]);
    expect(kept({ budget: 11, better: "higher" })).toEqual([false]);
  });

  test("are refused when a round yields nothing, other rows, no number or one name twice", () => {
    expect(() => linesOf([])).toThrow("no rows");
    expect(() => linesOf([[]])).toThrow("no rows");
    expect(() => linesOf([[row(1, 1)], [row(1, 1, { name: "other" })]])).toThrow("rounds differ");
    expect(() => linesOf([[row(1, 1)], []])).toThrow("rounds differ");
    expect(() => linesOf([[row(Number.NaN, 1)]])).toThrow("positive numbers");
    expect(() => linesOf([[row(1, 0)]])).toThrow("positive numbers");
    expect(() => linesOf([[row(1, 1), row(1, 1)]])).toThrow("one name");
  });
});

test("A benchmark runs from the command line and prints its rows", () => {
  const words = [join(import.meta.dirname, "run.ts"), "--tiny", "--rounds", "1", "start-up"];
  const printed = execFileSync(process.execPath, words, { encoding: "utf8" });
  expect(printed).toMatch(
    /preen calc air, one question +[\d.,]+ ms +(?:met|missed) \(≤ 300\) +[\d.]+× Node doing nothing/u,
  );
});
