// Answers one JSON text for a topic: the element or each element of the array, in order, independently of each other.
//
// Returns the text to print and whether every element was answered. Throws InvalidText, with one line, when the text is
// no JSON at all. A duplicate key is an error of its element, since JSON itself would silently keep the last one.

import { atIndex, issueLine, Refusal } from "../../core/quantity/refusal.ts";
import { duplicateKeys } from "./duplicate-keys.ts";
import { CalcIssue, type Topic } from "./topic.ts";

export class InvalidText extends Error {}

export type Answer = { readonly text: string; readonly isComplete: boolean };

export function answer(topic: Topic, text: string): Answer {
  const input = parse(text);
  const duplicates = duplicateKeys(text);
  if (!Array.isArray(input)) {
    const result = answerOne(topic, input, duplicates.get("") ?? null);
    return { text: `${JSON.stringify(result)}\n`, isComplete: !isError(result) };
  }
  const results = input.map((element, index) =>
    answerOne(topic, element, duplicates.get(atIndex("", index)) ?? null),
  );
  const lines = results.map((result) => JSON.stringify(result));
  return {
    text: lines.length === 0 ? "[]\n" : `[\n${lines.join(",\n")}\n]\n`,
    isComplete: !results.some((result) => isError(result)),
  };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch (error) {
    const why = (error as Error).message.replaceAll(/\s+/g, " ");
    throw new InvalidText(`the input is not valid JSON: ${why}`);
  }
}

type ElementError = { readonly error: { readonly path: string; readonly message: string } };

class Unanswered {
  readonly error: { readonly path: string; readonly message: string };

  constructor(path: string, message: string) {
    this.error = { path, message };
  }
}

function isError(result: unknown): result is ElementError {
  return result instanceof Unanswered;
}

function answerOne(topic: Topic, element: unknown, duplicate: string | null): unknown {
  if (duplicate !== null)
    return new Unanswered(duplicate, "expected each key once, found the same key twice");
  try {
    const result = topic.compute(element);
    assertFinite(result, "");
    return result;
  } catch (error) {
    if (error instanceof CalcIssue) return new Unanswered(error.path, error.message);
    if (error instanceof Refusal) {
      const [first, ...rest] = error.issues;
      const more =
        rest.length === 0 ? "" : ` (and ${rest.length} more: ${rest.map((issue) => issue.path).join(", ")})`;
      return new Unanswered(first.path, issueLine(first) + more);
    }
    return new Unanswered(
      "",
      `a fault in preen, not in the input: ${error instanceof Error ? error.message : "unknown"}`,
    );
  }
}

/** JSON would print a non-finite number as null, and null means something else here. */
function assertFinite(value: unknown, path: string): void {
  if (typeof value === "number") {
    if (!Number.isFinite(value)) throw new TypeError(`${path} came out as ${value}`);
  } else if (Array.isArray(value)) {
    value.forEach((element, index) => assertFinite(element, atIndex(path, index)));
  } else if (typeof value === "object" && value !== null) {
    for (const key in value)
      assertFinite((value as Record<string, unknown>)[key], path === "" ? key : `${path}.${key}`);
  }
}
