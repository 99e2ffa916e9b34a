// A topic of `preen calc`: one element of JSON in, one result out.
//
// A topic is one file beside this one whose default export is a Topic, and one line in topics.ts. Its input shape is
// built from fields.ts, which gives the JSON Schema and the reader from one statement.

import type { JsonSchema } from "./fields.ts";

export type Topic = {
  /** The word after `preen calc`. */
  readonly topic: string;
  /** One line for the list of topics. */
  readonly summary: string;
  /** JSON Schema (draft 2020-12) of one element and of one result. */
  readonly inputSchema: JsonSchema;
  readonly outputSchema: JsonSchema;
  /**
   * The result for one element: a JSON value without a non-finite number. Throws a CalcIssue, or a Refusal of the core,
   * when the element cannot be answered; anything else that it throws is a fault of ours.
   */
  compute(element: unknown): unknown;
};

/** Why one element cannot be answered, and where in it. */
export class CalcIssue extends Error {
  readonly path: string;

  constructor(path: string, message: string) {
    super(message);
    this.name = "CalcIssue";
    this.path = path;
  }
}
