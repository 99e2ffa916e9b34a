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
  readonly key: string;
  readonly by: PersonId;
  /** When it was recorded: the writer's claim. */
  readonly at: InstantText;
  readonly at_ms: number;
  readonly seq: number;
  readonly basis: Basis;
  /**
   * Records that this run of the fold made itself and that nobody else has seen: they may be changed in place
   * (`withKey`). Absent: none.
   */
  readonly owned?: WeakSet<object>;
};

/**
 * The record with one key set. Copied, so that whoever holds the old one still holds what it was; in place where this run
 * of the fold made it, because a record of thousands would be copied for every entry. Only as a reducer's last step, when
 * nothing can be refused any more.
 */
export function withKey<Value>(
  record: Readonly<Record<string, Value>>,
  key: string,
  value: Value,
  { owned }: Pick<EntryMeta, "owned">,
): Readonly<Record<string, Value>> {
  if (owned?.has(record) === true) {
    (record as Record<string, Value>)[key] = value;
    return record;
  }
  const copy = { ...record, [key]: value };
  owned?.add(copy);
  return copy;
}

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

export function isRefusal(result: object): result is Refusal {
  return "refused" in result;
}

/** One kind and version of entry, ready to fold: the schema is checked inside. */
export type EntryType<State extends object> = {
  /** For example `walk.page`. */
  readonly type: string;
  /** Version of the body's shape. */
  readonly tv: number;
  /** True: a reader that does not understand it must not call the craft ready. */
  readonly critical: boolean;
  /** Any of these roles may write it; the operator's own key always may. */
  readonly roles: readonly string[];
  readonly schema: z.ZodType;
  /** The role in which a body says that it was written, where it says one: its key must be certified for it. */
  readonly claims?: (body: unknown) => string | null;
  fold(state: State, body: unknown, meta: EntryMeta): State | Refusal;
};

function schemaRefusal(error: z.ZodError, body: unknown): Refusal {
  const [issue] = error.issues;
  const path = issue === undefined ? "" : issue.path.map(String).join(".");
  let found: unknown = body;
  for (const step of issue?.path ?? []) {
    found =
      typeof found === "object" && found !== null ? (found as Record<PropertyKey, unknown>)[step] : undefined;
  }
  return refuse(
    "schema",
    path,
    (JSON.stringify(found) ?? "nothing").slice(0, 120),
    issue?.message ?? "another shape",
  );
}

/** Binds a schema and a reducer into an entry type. */
export function entryType<State extends object, Body>(
  kind: Pick<EntryType<State>, "type" | "tv" | "critical" | "roles" | "claims">,
  schema: z.ZodType<Body>,
  reduce: (state: State, body: Body, meta: EntryMeta) => State | Refusal,
): EntryType<State> {
  return {
    ...kind,
    schema,
    fold(state, body, meta) {
      const parsed = schema.safeParse(body);
      return parsed.success ? reduce(state, parsed.data, meta) : schemaRefusal(parsed.error, body);
    },
  };
}
