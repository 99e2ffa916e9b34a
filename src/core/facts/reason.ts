// What an assessor says: one reason, one line of why. Combined into a standing by core/standing.
//
// A reason carries no words: `code` names them in present/words, `facts` fills them. Instants are milliseconds since
// 1970-01-01T00:00Z. `from` and `until` are half open: active at t when from ≤ t < until; null means no bound.

import type { ReasonCode, RemedyCode } from "./reason-codes.ts";

/** Id of a kind of flying as the sheet names it: `dayVfr`, `hoist`, … */
export type OperationId = string;

/** Worse last. `unknown` forbids like `blocks`, but tells what to find out. */
export const effects = ["advises", "limits", "unknown", "blocks"] as const;
export type Effect = (typeof effects)[number];

/** How soon, and by whom, a reason can be cleared. */
export const clearances = ["minute", "ten", "someone", "time", "notToday"] as const;
export type Clearance = (typeof clearances)[number];

/** A number that narrows what may be done; combined by the stricter. `stricter` says which way that is. */
export type Limit = {
  readonly quantity: string;
  readonly value: number;
  readonly stricter: "lower" | "higher";
};

/** Where a reason comes from: a line of the sheet, a rule's paragraph, or the program's own law. */
export type Source =
  | { readonly kind: "sheet"; readonly path: string; readonly cite: string | null }
  | { readonly kind: "rule"; readonly rule: string; readonly edition: string; readonly cite: string }
  | { readonly kind: "setting"; readonly name: string }
  | { readonly kind: "law"; readonly law: string };

export type Reason = {
  readonly code: ReasonCode;
  readonly effect: Effect;
  /** The operations it touches; `all` for every one. */
  readonly operations: "all" | readonly OperationId[];
  readonly from_ms: number | null;
  readonly until_ms: number | null;
  readonly source: Source;
  /** Entry ids that it rests on, oldest first. */
  readonly evidence: readonly string[];
  /** What would clear it: a code with words of its own, and how soon. */
  readonly remedy: { readonly code: RemedyCode; readonly clearance: Clearance };
  /** Values for the words; texts are ids or the sheet's own names, numbers carry their unit in the key. */
  readonly facts: Readonly<Record<string, string | number | boolean | null>>;
  /** Present exactly when the effect is `limits`. */
  readonly limit?: Limit;
};
