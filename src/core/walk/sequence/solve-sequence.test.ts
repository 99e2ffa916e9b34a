// The solver against trying every order, over small questions of every kind; and what it refuses. Larger instances with
// published optima stand in published/sequence.test.ts.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Refusal } from "../../quantity/refusal.ts";
import { Arborescence } from "./arborescence.ts";
import { mostPlaces, solveSequence } from "./solve-sequence.ts";
import type { SequenceQuestion } from "./solve-sequence.ts";

function costOf({ cost, closed }: SequenceQuestion, order: readonly number[]): number {
  let total = 0;
  for (let at = 1; at < order.length; at += 1) total += cost[order[at - 1]!]![order[at]!]!;
  return closed && order.length > 1 ? total + cost[order.at(-1)!]![order[0]!]! : total;
}

function isLawful({ cost, before, start, end, closed }: SequenceQuestion, order: readonly number[]): boolean {
  const place = new Map(order.map((node, at) => [node, at]));
  const last = closed && end === start ? null : end;
  return (
    place.size === cost.length &&
    (start === null || order[0] === start) &&
    (last === null || order.at(-1) === last) &&
    before.every(([a, b]) => place.get(a)! < place.get(b)!)
  );
}

/** The least cost over every lawful order; Infinity where there is none. */
function bruteForce(question: SequenceQuestion): number {
  const n = question.cost.length;
  let least = Infinity;
  const visit = (order: readonly number[]): void => {
    if (order.length === n) {
      if (isLawful(question, order)) least = Math.min(least, costOf(question, order));
      return;
    }
    for (let node = 0; node < n; node += 1) if (!order.includes(node)) visit([...order, node]);
  };
  visit([]);
  return least;
}

const anyCost = fc.oneof(
  fc.integer({ min: 0, max: 9 }),
  fc.integer({ min: -5, max: 1000 }),
  fc.double({ min: 0, max: 50, noNaN: true }),
);

const question: fc.Arbitrary<SequenceQuestion> = fc.integer({ min: 1, max: 7 }).chain((n) => {
  const place = fc.nat(n - 1);
  return fc.record({
    cost: fc.array(fc.array(anyCost, { minLength: n, maxLength: n }), { minLength: n, maxLength: n }),
    // Mostly few pairs and mostly forwards, so that contradictions stay the exception.
    before: fc.array(
      fc
        .tuple(place, place)
        .filter(([a, b]) => a !== b)
        .map(([a, b]): [number, number] => [Math.min(a, b), Math.max(a, b)]),
      { maxLength: n > 1 ? 5 : 0 },
    ),
    start: fc.option(place, { freq: 2 }),
    end: fc.option(place, { freq: 2 }),
    closed: fc.boolean(),
  });
});

describe("the cheapest lawful order", () => {
  test("is the one that trying every order finds, with proof", () => {
    let answered = 0;
    fc.assert(
      fc.property(question, (asked) => {
        const least = bruteForce(asked);
        if (least === Infinity) {
          expect(() => solveSequence(asked)).toThrow(Refusal);
          return;
        }
        const { order, cost, bound, proven } = solveSequence(asked);
        answered += 1;
        expect(isLawful(asked, order)).toBe(true);
        expect(cost).toBeCloseTo(costOf(asked, order), 9);
        expect(cost).toBeCloseTo(least, 6);
        expect([proven, bound]).toEqual([true, cost]);
      }),
      { numRuns: 250 },
    );
    expect(answered).toBeGreaterThan(150);
  });

  test("is the same every time it is asked", () => {
    const cost = Array.from({ length: 12 }, (_, a) =>
      Array.from({ length: 12 }, (__, b) => (a * 37 + b * 53 + a * b * 7) % 101),
    );
    const asked = { cost, before: [[3, 1]], start: null, end: null, closed: true } as const;
    expect(solveSequence(asked)).toEqual(solveSequence(asked));
  });

  test("of more places than are proved ends at a fixed count, with a bound under its cost", () => {
    const at = (node: number): number => ((node * 7919) % 104_729) / 1000;
    const points = Array.from({ length: 34 }, (_, node) => [at(node + 3), at(node * node + 11)] as const);
    const cost = points.map(([ax, ay]) => points.map(([bx, by]) => Math.hypot(ax - bx, ay - by)));
    const before = Array.from({ length: 9 }, (_, pair): [number, number] => [33 - pair * 3, pair * 2 + 1]);
    const asked = { cost, before, start: 0, end: null, closed: true };
    const { order, cost: total, bound, proven } = solveSequence(asked);
    expect(isLawful(asked, order)).toBe(true);
    expect(total).toBeCloseTo(costOf(asked, order), 9);
    expect(bound).toBeGreaterThan(0.6 * total);
    expect(proven ? bound : bound < total).toBe(proven ? total : true);
  });
});

describe("what is refused", () => {
  const table = (n: number): number[][] =>
    Array.from({ length: n }, () => Array.from({ length: n }, () => 1));
  const free = { before: [], start: null, end: null, closed: false } as const;
  const issueOf = (asked: SequenceQuestion) => {
    try {
      solveSequence(asked);
    } catch (error) {
      if (error instanceof Refusal) return error.issues[0];
    }
    throw new Error("nothing was refused");
  };

  test("a contradiction names one of its circles", () => {
    const asked = { ...free, cost: table(5) };
    const issue = issueOf({
      ...asked,
      before: [
        [0, 1],
        [1, 3],
        [3, 4],
        [4, 1],
      ],
    });
    expect(issue).toMatchObject({
      path: "before",
      code: "contradiction",
      found: "1 before 3 before 4 before 1",
    });
    expect(issueOf({ ...asked, before: [[2, 2]] }).found).toBe("2 before 2");
  });

  test("a pair that a given start or end forbids", () => {
    expect(issueOf({ ...free, cost: table(3), start: 1, before: [[0, 1]] }).found).toMatch(/before/u);
    expect(issueOf({ ...free, cost: table(3), end: 1, before: [[1, 0]] }).code).toBe("contradiction");
    expect(issueOf({ ...free, cost: table(3), start: 1, end: 1 }).path).toBe("end");
  });

  test.each([
    ["no places", { ...free, cost: [] }, "cost"],
    ["too many places", { ...free, cost: table(mostPlaces + 1) }, "cost"],
    ["a table that is not square", { ...free, cost: [[0, 1], [1]] }, "cost[1]"],
    [
      "a cost that is not finite",
      {
        ...free,
        cost: [
          [0, Infinity],
          [1, 0],
        ],
      },
      "cost[0][1]",
    ],
    ["a start outside", { ...free, cost: table(2), start: 2 }, "start"],
    ["a pair outside", { ...free, cost: table(2), before: [[0, 5]] as const }, "before[0]"],
  ])("%s", (_, asked, path) => {
    expect(issueOf(asked as SequenceQuestion).path).toBe(path);
  });

  test("what stands on the diagonal is not looked at", () => {
    const cost = [
      [Number.NaN, 1],
      [1, Infinity],
    ];
    expect(solveSequence({ ...free, cost }).cost).toBe(1);
  });
});

describe("the cheapest arborescence", () => {
  /** Over every choice of one arc into each node but the root. */
  function leastByChoice(n: number, cost: readonly number[]): number {
    let least = Infinity;
    const tails: number[] = [0];
    const reaches = (node: number): boolean => {
      let at = node;
      for (let steps = 0; steps <= n; steps += 1) {
        if (at === 0) return true;
        at = tails[at]!;
      }
      return false;
    };
    const choose = (head: number, total: number): void => {
      if (head === n) {
        if (Array.from({ length: n }, (_, node) => node).every(reaches)) least = Math.min(least, total);
        return;
      }
      for (let tail = 0; tail < n; tail += 1) {
        if (tail === head) continue;
        tails[head] = tail;
        choose(head + 1, total + cost[tail * n + head]!);
      }
    };
    choose(1, 0);
    return least;
  }

  test("costs what trying every choice of arcs finds, and its arcs add up to that", () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 2, max: 6 })
          .chain((n) => fc.tuple(fc.constant(n), fc.array(anyCost, { minLength: n * n, maxLength: n * n }))),
        ([n, cost]) => {
          const tree = new Arborescence(n);
          tree.cost.set(cost);
          const total = tree.run(n);
          expect(total).toBeCloseTo(leastByChoice(n, cost), 6);
          tree.expand();
          let sum = 0;
          for (let head = 1; head < n; head += 1) sum += cost[tree.tail[head]! * n + head]!;
          expect(sum).toBeCloseTo(total, 6);
          // An arc that is demanded costs at least its own excess over the duals.
          for (let head = 1; head < n; head += 1) {
            for (let tail = 0; tail < n; tail += 1) {
              if (tail === head) continue;
              const demanded = cost.map((value, at) =>
                at % n === head && at !== tail * n + head ? Infinity : value,
              );
              const rise = cost[tail * n + head]! - tree.dualOf(tail, head);
              expect(leastByChoice(n, demanded)).toBeGreaterThanOrEqual(total + rise - 1e-6);
            }
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});
