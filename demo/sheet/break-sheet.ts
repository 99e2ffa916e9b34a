// Breaks a sheet on purpose, for tests: sets or takes away parts by their path.

/** Takes the part away. */
export const gone: unique symbol = Symbol("gone");

/** A copy of any JSON with these parts changed, in order; `items[9]` behind the last one appends. */
export function withEdits(json: unknown, edits: Readonly<Record<string, unknown>>): unknown {
  const copy: unknown = JSON.parse(JSON.stringify(json));
  for (const [path, value] of Object.entries(edits)) setAt(copy, stepsOf(path), value);
  return copy;
}

export const stepsOf = (path: string): readonly string[] =>
  path.split(/[.[\]]+/).filter((step) => step !== "");

export function valueAt(json: unknown, steps: readonly string[]): unknown {
  let value = json;
  for (const step of steps) value = (value as Record<string, unknown>)[step];
  return value;
}

function setAt(json: unknown, steps: readonly string[], value: unknown): void {
  const parent = valueAt(json, steps.slice(0, -1)) as Record<string, unknown> | unknown[];
  const last = steps.at(-1) ?? "";
  if (value !== gone) (parent as Record<string, unknown>)[last] = structuredClone(value);
  else if (Array.isArray(parent)) parent.splice(Number(last), 1);
  else delete parent[last];
}
