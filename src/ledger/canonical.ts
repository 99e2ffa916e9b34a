// Writes canonical JSON: one text for one value, so that a hash or a signature over it means the value.
//
// The form is that of RFC 8785: keys by UTF-16 code units, numbers as ECMAScript prints them, the shortest escapes. It is
// what JSON.stringify writes of a value whose keys stand in order, so the fast way walks the value once, copies objects
// whose keys do not, and lets the engine write. What that way cannot do (a fault to be named with its path, keys that
// look like array indices) goes the slow way, which writes every part itself; both give the same text (property test).
// `entryText` refuses besides what no entry may hold: U+0000 and integers beyond 2^53. The reader is parse-strict.ts.
// Checked against the vectors of RFC 8785 (published/crypto.test.ts).

export type CanonicalRefusal = {
  readonly code: "notJson" | "notCanonical" | "badValue" | "duplicateKey";
  readonly path: string;
  readonly found: string;
  readonly wanted: string;
};

/** Thrown by the writer at a value that has no canonical form; carries the refusal. */
export class NotCanonicalError extends TypeError {
  override readonly name = "NotCanonicalError";
  readonly refusal: CanonicalRefusal;
  constructor(path: string, found: string, wanted: string) {
    super(`${path === "" ? "value" : path}: found ${found}, wanted ${wanted}`);
    this.refusal = { code: "badValue", path, found, wanted };
  }
}

/** Deeper than any entry or sheet, and far from where an engine's stack ends. */
export const deepestNesting = 64;
export const largestInteger = 2 ** 53;

/** The RFC 8785 form of a value. Throws NotCanonicalError at what JSON cannot say. */
export function canonicalText(value: unknown): string {
  return fastText(value, false) ?? slowText(value, false);
}

/** As canonicalText, and refuses besides what no entry may hold. */
export function entryText(value: unknown): string {
  return fastText(value, true) ?? slowText(value, true);
}

/** Given back by the walk when the value has to go the slow way. */
const slowly = Symbol("slowly");

function fastText(value: unknown, strict: boolean): string | null {
  const ordered = inOrder(value, strict, 0);
  if (ordered === slowly) return null;
  const text = JSON.stringify(ordered);
  // The engine writes half a character and U+0000 as escapes; a backslash before "ud" may also be one that was there.
  return text.includes("\\ud") || (strict && text.includes("\\u0000")) ? null : text;
}

/** The value with the keys of every object in order, itself where they already are. */
function inOrder(value: unknown, strict: boolean, depth: number): unknown {
  switch (typeof value) {
    case "string":
    case "boolean":
      return value;
    case "number":
      return isWritable(value, strict) ? value : slowly;
    case "object":
      if (value === null) return null;
      if (depth > deepestNesting) return slowly;
      return Array.isArray(value) ? listInOrder(value, strict, depth) : objectInOrder(value, strict, depth);
    case "undefined":
    case "function":
    case "symbol":
    case "bigint":
    default:
      return slowly;
  }
}

function isWritable(value: number, strict: boolean): boolean {
  return Number.isFinite(value) && !(strict && Number.isInteger(value) && Math.abs(value) > largestInteger);
}

function listInOrder(list: readonly unknown[], strict: boolean, depth: number): unknown {
  let copy: unknown[] | null = null;
  for (let index = 0; index < list.length; index += 1) {
    const part = list[index];
    const ordered = inOrder(part, strict, depth + 1);
    if (ordered === slowly) return slowly;
    if (ordered !== part) {
      copy ??= list.slice();
      copy[index] = ordered;
    }
  }
  return copy ?? list;
}

function objectInOrder(value: object, strict: boolean, depth: number): unknown {
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) return slowly;
  const record = value as Readonly<Record<string, unknown>>;
  const keys = Object.keys(record);
  const sorted = sortKeys(keys);
  let copy: Record<string, unknown> | null = sorted ? null : {};
  for (const key of keys) {
    const part = record[key];
    // A property that is undefined is one that is not there, as in JSON.
    if (part === undefined) continue;
    const ordered = inOrder(part, strict, depth + 1);
    if (ordered === slowly) return slowly;
    // An engine lists keys that look like array indices first, whatever their place; and `__proto__` is no plain name.
    if (!sorted && (isLikeIndex(key) || key === "__proto__")) return slowly;
    if (ordered !== part) copy ??= { ...record };
    if (copy !== null) copy[key] = ordered;
  }
  return copy ?? value;
}

/** Sorts by code units, in place; true when nothing had to move. By insertion: objects are small and half in order. */
function sortKeys(keys: string[]): boolean {
  let sorted = true;
  for (let index = 1; index < keys.length; index += 1) {
    const key = keys[index]!;
    let at = index;
    while (at > 0 && keys[at - 1]! > key) {
      keys[at] = keys[at - 1]!;
      at -= 1;
    }
    if (at === index) continue;
    keys[at] = key;
    sorted = false;
    // Many keys out of order: the engine's own sort does not grow with the square.
    if (index > 24) {
      keys.sort();
      return false;
    }
  }
  return sorted;
}

function isLikeIndex(key: string): boolean {
  const first = key.charCodeAt(0);
  return first >= 0x30 && first <= 0x39;
}

/** Writes every part itself, and names the path of the first fault. Exported as the plain version for tests. */
export function slowText(value: unknown, strict: boolean, path = "", depth = 0): string {
  switch (typeof value) {
    case "string":
      return stringText(value, path, strict);
    case "number":
      return numberText(value, path, strict);
    case "boolean":
      return value ? "true" : "false";
    case "object": {
      if (value === null) return "null";
      if (depth > deepestNesting)
        throw new NotCanonicalError(path, `nesting deeper than ${deepestNesting}`, "less");
      if (!Array.isArray(value)) return objectText(value, path, strict, depth);
      const parts: string[] = [];
      for (let index = 0; index < value.length; index += 1)
        parts.push(slowText(value[index], strict, `${path}[${index}]`, depth + 1));
      return `[${parts.join(",")}]`;
    }
    case "undefined":
    case "function":
    case "symbol":
    case "bigint":
    default:
      throw new NotCanonicalError(
        path,
        typeof value,
        "null, true, false, a number, a text, a list or an object",
      );
  }
}

function stringText(value: string, path: string, strict: boolean): string {
  if (!value.isWellFormed()) throw new NotCanonicalError(path, "a lone surrogate", "whole characters");
  if (strict && value.includes("\0")) throw new NotCanonicalError(path, "U+0000", "text without it");
  return JSON.stringify(value);
}

function numberText(value: number, path: string, strict: boolean): string {
  if (!Number.isFinite(value)) throw new NotCanonicalError(path, String(value), "a finite number");
  if (!isWritable(value, strict)) throw new NotCanonicalError(path, String(value), "an integer within 2^53");
  // ECMAScript's own printing is the one that RFC 8785 §3.2.2.3 asks for; −0 prints as 0.
  return String(value);
}

function objectText(value: object, path: string, strict: boolean, depth: number): string {
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) {
    throw new NotCanonicalError(path, "an object of a class", "a plain object or a list");
  }
  const record = value as Readonly<Record<string, unknown>>;
  const parts: string[] = [];
  for (const key of Object.keys(record).sort()) {
    const part = record[key];
    if (part === undefined) continue;
    const at = `${path}.${key}`;
    parts.push(`${stringText(key, at, strict)}:${slowText(part, strict, at, depth + 1)}`);
  }
  return `{${parts.join(",")}}`;
}
