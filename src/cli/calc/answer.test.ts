import { describe, expect, test } from "vitest";
import { refuse, Refusal } from "../../core/quantity/refusal.ts";
import { answer, InvalidText } from "./answer.ts";
import { number, object, optional } from "./fields.ts";
import { CalcIssue, type Topic } from "./topic.ts";

const input = object({ x: number(), say: optional(number()) });

/** A topic that does what the element says, to see what the runner makes of it. */
const topic: Topic = {
  topic: "echo",
  summary: "says the number back",
  inputSchema: input.schema,
  outputSchema: {},
  compute(element) {
    const { x, say } = input.read(element, "");
    if (x === 1) throw new CalcIssue("x", "expected another number");
    if (x === 2) refuse("legs[1].tas_kt", "outsideDomain", "0", "above 0 kt");
    if (x === 3) throw new TypeError("oops");
    if (x === 4) return { y: [1, { z: 1 / 0 }] };
    if (x === 5)
      throw new Refusal([
        { path: "a", code: "missing", found: "nothing", wanted: "a" },
        { path: "b", code: "missing", found: "nothing", wanted: "b" },
      ]);
    return { y: say ?? x };
  },
};

describe("an answer", () => {
  test("to one object is one result, to an array an array of the same length in the same order", () => {
    expect(answer(topic, '{"x":0.1}')).toEqual({ text: '{"y":0.1}\n', isComplete: true });
    const many = answer(topic, '[{"x":10},{"x":20},{"x":30}]');
    expect(JSON.parse(many.text)).toEqual([{ y: 10 }, { y: 20 }, { y: 30 }]);
    expect(many.isComplete).toBe(true);
    expect(answer(topic, "[]")).toEqual({ text: "[]\n", isComplete: true });
  });

  test("keeps every bit of a number, and no minus zero", () => {
    const { text } = answer(topic, '[{"x":0.30000000000000004},{"x":-0},{"x":1e21},{"x":5e-324}]');
    expect(JSON.parse(text)).toEqual([{ y: 0.30000000000000004 }, { y: 0 }, { y: 1e21 }, { y: 5e-324 }]);
  });

  test("names what is wrong with one element and still answers the others", () => {
    const { text, isComplete } = answer(
      topic,
      '[{"x":1},{"x":10},{"x":2},{"x":5},7,null,[],{"x":1e999},{},{"x":0,"q":1},{"x":0,"x":9},{"x":20}]',
    );
    expect(isComplete).toBe(false);
    const results = JSON.parse(text) as { error?: { path: string; message: string } }[];
    expect(results.map((result) => result.error?.path ?? null)).toEqual([
      "x",
      null,
      "legs[1].tas_kt",
      "a",
      "",
      "",
      "",
      "x",
      "x",
      "q",
      "x",
      null,
    ]);
    expect(results[0]).toEqual({ error: { path: "x", message: "expected another number" } });
    expect(results[2]).toEqual({
      error: { path: "legs[1].tas_kt", message: "expected above 0 kt, found 0" },
    });
    expect(results[3]?.error?.message).toBe("expected a, found nothing (and 1 more: b)");
    expect(results[11]).toEqual({ y: 20 });
  });

  test("calls a fault a fault, and never prints null for a number that is none", () => {
    const faults = JSON.parse(answer(topic, '[{"x":3},{"x":4}]').text) as {
      error: { path: string; message: string };
    }[];
    expect(faults[0]?.error.message).toBe("a fault in preen, not in the input: oops");
    expect(faults[1]?.error.message).toBe("a fault in preen, not in the input: y[1].z came out as Infinity");
  });

  test.each(["", "{", '{"x":1', "{x:1}", '{"x":NaN}', "[1,]", '{"x":1}{"x":2}'])(
    "to %j is none, with one line why",
    (text) => {
      expect(() => answer(topic, text)).toThrow(InvalidText);
      try {
        answer(topic, text);
      } catch (error) {
        expect((error as Error).message).toMatch(/^the input is not valid JSON: [^\n]+$/);
      }
    },
  );
});
