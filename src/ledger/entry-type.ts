// What a kind of entry is: its name and version, the shape of its body, and the pure reducer that folds it.
//
// A reducer gets a body that has passed its schema and gives the new state, or a refusal when the entry makes no sense
// on the state before it (a page of a walk that never began). A refused entry is kept, shown as set aside, and makes
// *not known*; it never stops the fold.
import type { z } from "zod";
import type { Basis, Hash, InstantText, LedgerId, PersonId } from "./entry.ts";

export type EntryMeta = {
  readonly id: Hash;
  readonly ledger: LedgerId;
  readonly type: string;
  readonly by: PersonId;
  /** When it was recorded: the writer's claim. */
  readonly at: InstantText;
  readonly at_ms: number;
  readonly seq: number;
  /** When the server received it; null while no receipt is held. */
  readonly receivedAt_ms: number | null;
  readonly basis: Basis;
  readonly status: "accepted" | "pending";
};

export type Refusal = {
  readonly refused: {
    readonly code: string;
    readonly path: string;
    readonly found: string;
    readonly wanted: string;
  };
};

/** What a reducer gives back when the entry makes no sense on the state before it. */
export function refuse(code: string, path: string, found: string, wanted: string): Refusal {
  return { refused: { code, path, found, wanted } };
}

export type EntryType<State, Body> = {
  /** For example `walk.page`. */
  readonly type: string;
  /** Version of the body's shape. */
  readonly tv: number;
  /** True: a reader that does not understand it must not call the craft ready. */
  readonly critical: boolean;
  readonly body: z.ZodType<Body>;
  reduce(state: State, body: Body, meta: EntryMeta): State | Refusal;
};
