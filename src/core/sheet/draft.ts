// A document on its way to becoming a sheet: the parts that have the right shape, and the errors of those that have not.
//
// One broken element must not hide what is wrong elsewhere. So when the whole does not fit the schema, each element is
// read on its own; the sound ones go on to the cross rules with the path they really have. Ids of broken elements are
// kept too, so that a reference to one of them is not reported as a second error.

import type * as z from "zod";
import { abbreviated, pathText } from "./issue.ts";
import type { Json, SheetIssue } from "./issue.ts";
import { chartSchema } from "./chart-blocks.ts";
import type { SheetChart } from "./chart-blocks.ts";
import { elementSchemas, sheetSchema, singleSchemas } from "./schema.ts";
import type { ListBlock, Sheet, SingleBlock } from "./schema.ts";

export type At<T> = { readonly path: string; readonly value: T };
export type ListDraft<T> = {
  readonly elements: readonly At<T>[];
  /** Id to path, broken elements included. */
  readonly ids: ReadonlyMap<string, string>;
  /** False: something here could not be read, so nothing can be said about what is missing. */
  readonly whole: boolean;
};
export type ChartsDraft = {
  /** Those of the right shape. */
  readonly elements: readonly At<SheetChart>[];
  /** False: one or all could not be read, so nothing can be said about what is missing. */
  readonly whole: boolean;
};
export type Draft = { readonly [Block in ListBlock]: ListDraft<Sheet[Block][number]> } & {
  readonly [Block in Exclude<SingleBlock, "charts">]: Sheet[Block] | null;
} & {
  readonly charts: ChartsDraft;
  readonly hoist: NonNullable<Sheet["hoist"]> | null;
  readonly ice: NonNullable<Sheet["ice"]> | null;
  readonly sources: Sheet["sources"] | null;
};

/** Reads what can be read. `sheet` is there when the whole fits the schema. */
export function draftOf(json: unknown): { draft: Draft; sheet: Sheet | null; issues: readonly SheetIssue[] } {
  const parsed = sheetSchema.safeParse(json, { reportInput: false });
  const issues = parsed.success ? [] : parsed.error.issues.flatMap((issue) => shapeIssues(issue, json, []));
  const document: Readonly<Record<string, unknown>> = isObject(parsed.success ? parsed.data : json)
    ? ((parsed.success ? parsed.data : json) as Record<string, unknown>)
    : {};
  const draft: Record<string, unknown> = {};
  for (const block of Object.keys(elementSchemas) as ListBlock[]) {
    draft[block] = listDraft(block, document[block], parsed.success);
  }
  for (const block of Object.keys(singleSchemas) as SingleBlock[]) {
    draft[block] = parsed.success ? document[block] : dataOf(singleSchemas[block].safeParse(document[block]));
  }
  draft["charts"] = chartsDraft(document["charts"]);
  for (const block of ["hoist", "ice"] as const) {
    const read = parsed.success
      ? document[block]
      : dataOf(sheetSchema.shape[block].safeParse(document[block]));
    draft[block] = read ?? null;
  }
  draft["sources"] = parsed.success
    ? document["sources"]
    : dataOf(sheetSchema.shape.sources.safeParse(document["sources"]));
  // Built key by key from the same two lists of blocks that make up the type.
  return { draft: draft as unknown as Draft, sheet: parsed.success ? parsed.data : null, issues };
}

function listDraft(block: ListBlock, value: unknown, sound: boolean): ListDraft<unknown> {
  if (!Array.isArray(value)) return { elements: [], ids: new Map(), whole: false };
  const elements: At<unknown>[] = [];
  const ids = new Map<string, string>();
  value.forEach((element: unknown, index) => {
    const path = `${block}[${index}]`;
    if (isObject(element) && typeof element["id"] === "string" && !ids.has(element["id"]))
      ids.set(element["id"], path);
    const read = sound ? element : dataOf(elementSchemas[block].safeParse(element));
    if (read !== null) elements.push({ path, value: read });
  });
  return { elements, ids, whole: elements.length === value.length };
}

function chartsDraft(value: unknown): ChartsDraft {
  if (!isObject(value)) return { elements: [], whole: false };
  const charts = Object.entries(value);
  const elements = charts.flatMap(([id, json]) => {
    const chart = chartSchema.safeParse(json);
    return chart.success ? [{ path: pathText(["charts", id]), value: chart.data }] : [];
  });
  return { elements, whole: elements.length === charts.length };
}

/** What JSON says, by a schema: the value, or every error of its shape with a path that starts at the value. */
export function readShape<T>(
  schema: z.ZodType<T>,
  json: unknown,
): { readonly value: T } | { readonly issues: readonly SheetIssue[] } {
  const parsed = schema.safeParse(json, { reportInput: false });
  if (parsed.success) return { value: parsed.data };
  return { issues: parsed.error.issues.flatMap((issue) => shapeIssues(issue, json, [])) };
}

const dataOf = (result: { success: boolean; data?: unknown }): unknown =>
  result.success ? (result.data ?? null) : null;

export const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/** Turns one complaint of the schema into ours. */
function shapeIssues(issue: z.core.$ZodIssue, json: unknown, above: readonly PropertyKey[]): SheetIssue[] {
  const steps = [...above, ...issue.path];
  const path = pathText(steps);
  const value = valueAt(json, steps);
  const say = (code: SheetIssue["code"], wanted: Json, found: Json = abbreviated(value)): SheetIssue[] => [
    { path, code, found, wanted },
  ];
  switch (issue.code) {
    case "invalid_type":
      return value === undefined ? say("missing", issue.expected) : say("type", issue.expected);
    case "invalid_value": {
      const options = issue.values.map((option) => abbreviated(option));
      return value === undefined ? say("missing", options) : say("oneOf", options);
    }
    case "too_small":
    case "too_big":
      return sizeIssue(issue, say, value);
    case "invalid_format":
      return say("pattern", issue.format === "regex" ? (issue.pattern ?? "another form") : issue.format);
    case "unrecognized_keys":
      return issue.keys.flatMap((key) => [
        {
          path: pathText([...steps, key]),
          code: "unknownKey" as const,
          found: abbreviated(key),
          wanted: null,
        },
      ]);
    case "invalid_union":
      return unionIssues(issue, json, steps, say);
    case "invalid_key":
      return issue.issues.flatMap((inner) => shapeIssues({ ...inner, path: [] }, json, steps));
    case "invalid_element":
      return issue.issues.flatMap((inner) => shapeIssues(inner, json, steps));
    default:
      return say("pattern", "another form");
  }
}

function sizeIssue(
  issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig,
  say: (code: SheetIssue["code"], wanted: Json, found?: Json) => SheetIssue[],
  value: unknown,
): SheetIssue[] {
  const bound = Number(issue.code === "too_small" ? issue.minimum : issue.maximum);
  const wanted = {
    [issue.code === "too_small" ? (issue.inclusive ? "at least" : "more than") : "at most"]: bound,
  };
  if (typeof value === "number") return say("range", wanted);
  const length =
    Array.isArray(value) || typeof value === "string" ? value.length : Object.keys(value ?? {}).length;
  return say("length", wanted, length);
}

/** Of the forms that a union allows, the one that was meant speaks; where none was, the forms are listed. */
function unionIssues(
  issue: z.core.$ZodIssueInvalidUnion,
  json: unknown,
  steps: readonly PropertyKey[],
  say: (code: SheetIssue["code"], wanted: Json) => SheetIssue[],
): SheetIssue[] {
  if (issue.errors.length === 0)
    return say("oneOf", "options" in issue ? (issue.options as Json) : "another form");
  const value = valueAt(json, steps);
  const branches = issue.errors.map((errors) => ({
    errors,
    // A form is meant when the value has its kind and its key.
    meant: !errors.some(
      (error) =>
        (error.path.length === 0 &&
          error.code !== "unrecognized_keys" &&
          error.code !== "too_small" &&
          error.code !== "too_big") ||
        (error.path.length === 1 && valueAt(value, error.path) === undefined),
    ),
  }));
  const meant = branches.find((branch) => branch.meant);
  if (meant !== undefined) return meant.errors.flatMap((error) => shapeIssues(error, json, steps));
  const kinds = issue.errors.map(([only, ...others]) =>
    only?.code === "invalid_type" && only.path.length === 0 && others.length === 0 ? only.expected : null,
  );
  // One of several kinds of value, and this is none of them.
  if (value !== undefined && new Set(kinds).size > 1 && !kinds.includes(null)) return say("type", kinds);
  const forms = issue.errors.flatMap((errors) =>
    errors.flatMap((error) =>
      error.path.length === 1
        ? [String(error.path[0])]
        : error.code === "invalid_type"
          ? [error.expected]
          : error.code === "invalid_value"
            ? error.values.map(String)
            : [],
    ),
  );
  return say(value === undefined ? "missing" : "form", [...new Set(forms)]);
}

function valueAt(json: unknown, steps: readonly PropertyKey[]): unknown {
  let value: unknown = json;
  for (const step of steps) {
    if (typeof value !== "object" || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}
