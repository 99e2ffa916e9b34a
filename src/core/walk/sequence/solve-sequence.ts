// The cheapest lawful order of places: a sequential ordering problem, solved exactly where it is small.
//
// In: a square table of costs (row: from, column: to; the diagonal is not used), pairs that say what must come before
// what, where to begin and end, and whether the way leads back to its beginning. Out: an order, its cost, a lower bound
// that no lawful order can beat, and whether the two meet. Up to 25 places are answered with proof whatever it takes;
// above, the work ends at a fixed count, never by a clock. Two costs within a relative 1e−9 count as equal.
// In a closed round without a given start the order begins where precedence allows; it is kept as listed, and the last
// leg leads back to its first place.
// Refuses (Refusal): no places or more than 40, a table that is not square, costs that are not finite, ends and pairs
// outside it, a contradiction (its circle is named). Check values: published/sequence.test.ts.
import { atIndex, describe, refuse } from "../../quantity/refusal.ts";
import { pathProblem } from "./path-problem.ts";
import { closePrecedence } from "./precedence.ts";
import { searchPath } from "./search.ts";
import type { Found } from "./search.ts";

export const mostPlaces = 40;
const provedPlaces = 25;
/** Counts of bounds, about a hundred thousand a second. */
const limitAbove = 300_000;

export type SequenceQuestion = {
  readonly cost: readonly (readonly number[])[];
  readonly before: readonly (readonly [number, number])[];
  readonly start: number | null;
  readonly end: number | null;
  readonly closed: boolean;
};

export type SequenceAnswer = {
  readonly order: readonly number[];
  readonly cost: number;
  readonly bound: number;
  readonly proven: boolean;
};

export function solveSequence(question: SequenceQuestion): SequenceAnswer {
  const { cost, closed } = question;
  const n = cost.length;
  checkTable(cost);
  const { start, end, before } = checkEnds(question);
  if (n === 1) return { order: [0], cost: 0, bound: 0, proven: true };
  const limit = n <= provedPlaces ? Infinity : limitAbove;
  const starts =
    closed && start === null ? possibleStarts(n, before, end, question.before.length > 0) : [start];
  let best: SequenceAnswer | null = null;
  let bound = Infinity;
  for (const first of starts) {
    const problem = pathProblem(cost, before, { start: first, end, closed });
    const found = searchPath(problem, Math.ceil(limit / starts.length));
    bound = Math.min(bound, found.bound);
    if (best === null || found.cost < best.cost) best = answerOf(problem.origin, found);
  }
  if (best === null) throw new Error("a question without a possible start passed its checks");
  const proven = bound >= best.cost - 1e-9 * Math.max(1, Math.abs(best.cost));
  return { ...best, bound: proven ? best.cost : bound, proven };
}

function answerOf(origin: readonly number[], { order, ...found }: Found): SequenceAnswer {
  const places = [0, ...order, origin.length - 1]
    .map((node) => origin[node]!)
    .filter((place) => place !== -1);
  return { ...found, order: places };
}

function checkTable(cost: readonly (readonly number[])[]): void {
  const n = cost.length;
  if (n < 1 || n > mostPlaces) refuse("cost", "outsideDomain", `${n} places`, `1 … ${mostPlaces} places`);
  cost.forEach((row, tail) => {
    const path = atIndex("cost", tail);
    if (row.length !== n) refuse(path, "wrongKind", describe(row), `a list of ${n}`);
    row.forEach((value, head) => {
      if (tail !== head && !Number.isFinite(value))
        refuse(atIndex(path, head), "notFinite", describe(value), "a finite number");
    });
  });
}

type Checked = { readonly start: number | null; readonly end: number | null; readonly before: Uint8Array };

function checkEnds({ cost, before, start, end, closed }: SequenceQuestion): Checked {
  const n = cost.length;
  const check = (place: number, path: string): void => {
    if (!Number.isInteger(place) || place < 0 || place >= n)
      refuse(path, "outsideDomain", describe(place), `a place from 0 to ${n - 1}`);
  };
  if (start !== null) check(start, "start");
  if (end !== null) check(end, "end");
  before.forEach((pair, index) => pair.forEach((place) => check(place, atIndex("before", index))));
  // A round that ends where it begins says no more than that it is closed.
  const last = closed && start !== null && end === start ? null : end;
  if (n > 1 && start !== null && last === start)
    refuse("end", "contradiction", `${last}`, "another place than the start, or a closed round");
  const implied: [number, number][] = [];
  for (let place = 0; place < n; place += 1) {
    if (start !== null && place !== start) implied.push([start, place]);
    if (last !== null && place !== last) implied.push([place, last]);
  }
  const closure = closePrecedence(n, before);
  const whole = "circle" in closure ? closure : closePrecedence(n, [...before, ...implied]);
  if ("circle" in whole) {
    const { circle } = whole;
    const said = [...circle, circle[0]].join(" before ");
    refuse("before", "contradiction", said, "pairs that some order can keep");
  }
  return { start, end: last, before: whole.ok };
}

/** Where a closed round may begin: with precedence each place that waits for nothing, else any one, so the first. */
function possibleStarts(
  n: number,
  before: Uint8Array,
  end: number | null,
  hasPairs: boolean,
): readonly number[] {
  const places = Array.from({ length: n }, (_, place) => place);
  const free = places.filter(
    (place) => place !== end && places.every((other) => before[other * n + place] === 0),
  );
  return hasPairs || end !== null ? free : free.slice(0, 1);
}
