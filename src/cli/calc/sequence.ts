// `preen calc sequence`: the cheapest lawful order of places (core/walk/sequence).

import { mostPlaces, solveSequence } from "../../core/walk/sequence/solve-sequence.ts";
import { flag, list, number, object, orNull, tuple } from "./fields.ts";
import type { Topic } from "./topic.ts";

const place = number({ integer: true, min: 0, max: mostPlaces - 1 }, "an index of the table");

const input = object({
  cost: list(list(number()), { min: 1, max: mostPlaces }, "row: from, column: to; the diagonal is not used"),
  before: list(tuple([place, place], "the first comes before the second")),
  start: orNull(place),
  end: orNull(place),
  closed: flag("the way leads back from the last place to the first"),
});

const output = object({
  order: list(place),
  cost: number(),
  bound: number({}, "no lawful order costs less"),
  proven: flag("the order is the cheapest; always true up to 25 places"),
});

const topic: Topic = {
  topic: "sequence",
  summary: "the cheapest order of places with precedence, and a bound that proves how good it is",
  inputSchema: input.schema,
  outputSchema: output.schema,
  compute(element) {
    return solveSequence(input.read(element, ""));
  },
};

export default topic;
