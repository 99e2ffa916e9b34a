// Orders against the instances of sequence.json: round trips, directed round trips, and paths with precedence.
//
// Tolerance: none; the costs are whole numbers and the optimum is proved. Where an optimal order was published it costs what
// was published, so that a misread table would be noticed. Times are budgets and stand in bench/.
import { describe, expect, test } from "vitest";
import { answer } from "../src/cli/calc/answer.ts";
import topic from "../src/cli/calc/sequence.ts";
import { solveSequence } from "../src/core/walk/sequence/solve-sequence.ts";
import type { SequenceQuestion } from "../src/core/walk/sequence/solve-sequence.ts";
import data from "./sequence.json" with { type: "json" };

type Instance = {
  readonly name: string;
  readonly kind: string;
  readonly optimum: number;
  readonly order?: readonly number[];
  readonly cost: readonly (readonly number[])[];
};
const instances: readonly Instance[] = data.instances;

function questionOf({ kind, cost }: Instance): SequenceQuestion {
  if (kind !== "sop") return { cost, before: [], start: null, end: null, closed: true };
  const before = cost.flatMap((row, later) =>
    row.flatMap((value, earlier): [number, number][] => (value === -1 ? [[earlier, later]] : [])),
  );
  return { cost, before, start: 0, end: cost.length - 1, closed: false };
}

function costOf({ cost, kind, order = [] }: Instance): number {
  const legs = order.slice(1).map((node, at) => cost[order[at]!]![node]!);
  const back = kind === "sop" ? 0 : cost[order.at(-1)!]![order[0]!]!;
  return legs.reduce((sum, leg) => sum + leg, back);
}

describe("published instances", () => {
  test("all are here", () => {
    expect(instances.map(({ name }) => name)).toEqual([
      "burma14",
      "ulysses16",
      "gr17",
      "gr24",
      "fri26",
      "br17",
      "ESC07",
      "ESC11",
      "br17.10",
      "ESC25",
    ]);
  });

  test.each(instances)("$name is solved to its optimum, $optimum, with proof", (instance) => {
    const found = solveSequence(questionOf(instance));
    expect(found).toMatchObject({ cost: instance.optimum, bound: instance.optimum, proven: true });
    expect(costOf({ ...instance, order: found.order })).toBe(instance.optimum);
  });

  test("the published orders cost the published optima in these tables", () => {
    const given = instances.filter(({ order }) => order !== undefined);
    expect(given).toHaveLength(9);
    for (const instance of given)
      expect([instance.name, costOf(instance)]).toEqual([instance.name, instance.optimum]);
  });

  test("preen calc sequence answers the same, in one call for all", () => {
    const { text, isComplete } = answer(topic, JSON.stringify(instances.map(questionOf)));
    expect(isComplete).toBe(true);
    const results = JSON.parse(text) as readonly { cost: number; proven: boolean }[];
    expect(results.map(({ cost, proven }) => [cost, proven])).toEqual(
      instances.map(({ optimum }) => [optimum, true]),
    );
  });

  test("a table that is changed in one place of the best order has another optimum", () => {
    const [burma] = instances;
    const cost = burma!.cost.map((row, tail) =>
      row.map((value, head) => (tail < 2 && head < 2 ? value / 3 : value)),
    );
    expect(solveSequence({ ...questionOf(burma!), cost }).cost).not.toBe(burma!.optimum);
  });
});
