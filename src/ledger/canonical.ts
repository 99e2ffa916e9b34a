// Canonical JSON: one text for one value, so that a hash or a signature over it means the value.
//
// `canonicalText` writes the form of RFC 8785 (keys by UTF-16 code units, numbers as ECMAScript prints them, the
// shortest escapes). `readCanonical` reads a text back only if it is exactly that form, which rules out duplicate keys,
// spare white space and odd numbers at one stroke, and refuses what no entry may hold: U+0000, lone surrogates,
// integers beyond 2^53, nesting deeper than 64. Refusals name path, found and wanted.
// Checked against the vectors of RFC 8785 (published/crypto.test.ts).

export type CanonicalRefusal = {
  readonly code: "notJson" | "notCanonical" | "badValue";
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

const deepest = 64;
const largestInteger = 2 ** 53;

// Strings without these are their own canonical form between quotes: control characters, quote, backslash, surrogates.
// oxlint-disable-next-line no-control-regex -- the control characters are what is looked for
const needsCare = /[\u0000-\u001f"\\\ud800-\udfff]/u;
const plainKey = /^[A-Za-z0-9_.:-]*$/u;

function stringText(value: string, path: string, strict: boolean): string {
  if (!needsCare.test(value)) return `"${value}"`;
  if (!value.isWellFormed()) throw new NotCanonicalError(path, "a lone surrogate", "whole characters");
  if (strict && value.includes("\0")) throw new NotCanonicalError(path, "U+0000", "text without it");
  return JSON.stringify(value);
}

function numberText(value: number, path: string, strict: boolean): string {
  if (!Number.isFinite(value)) throw new NotCanonicalError(path, String(value), "a finite number");
  if (strict && Number.isInteger(value) && Math.abs(value) > largestInteger) {
    throw new NotCanonicalError(path, String(value), "an integer within 2^53");
  }
  // ECMAScript's own printing is the one that RFC 8785 §3.2.2.3 asks for; −0 prints as 0.
  return String(value);
}

function objectText(value: object, path: string, strict: boolean, depth: number): string {
  const prototype: unknown = Object.getPrototypeOf(value);
  if (prototype !== Object.prototype && prototype !== null) {
    throw new NotCanonicalError(path, "an object of a class", "a plain object or a list");
  }
  const record = value as Readonly<Record<string, unknown>>;
  const keys = Object.keys(record).sort();
  let text = "{";
  for (const key of keys) {
    const part = record[key];
    // A property that is undefined is one that is not there, as in JSON.
    if (part === undefined) continue;
    const keyText = plainKey.test(key) ? `"${key}"` : stringText(key, path, strict);
    text += `${text === "{" ? "" : ","}${keyText}:${valueText(part, `${path}.${key}`, strict, depth + 1)}`;
  }
  return `${text}}`;
}

function valueText(value: unknown, path: string, strict: boolean, depth: number): string {
  if (depth > deepest) throw new NotCanonicalError(path, `nesting deeper than ${deepest}`, "less");
  switch (typeof value) {
    case "string":
      return stringText(value, path, strict);
    case "number":
      return numberText(value, path, strict);
    case "boolean":
      return value ? "true" : "false";
    case "object": {
      if (value === null) return "null";
      if (!Array.isArray(value)) return objectText(value, path, strict, depth);
      let text = "[";
      for (let index = 0; index < value.length; index += 1) {
        text += `${index === 0 ? "" : ","}${valueText(value[index], `${path}[${index}]`, strict, depth + 1)}`;
      }
      return `${text}]`;
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

/** The RFC 8785 form of a value. Throws NotCanonicalError at what JSON cannot say. */
export function canonicalText(value: unknown): string {
  return valueText(value, "", false, 0);
}

/** As canonicalText, and refuses besides what no entry may hold. */
export function entryText(value: unknown): string {
  return valueText(value, "", true, 0);
}

/** Reads a text that must be the canonical form of an entry's part. */
export function readCanonical(
  text: string,
): { readonly value: unknown } | { readonly refusal: CanonicalRefusal } {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    return {
      refusal: {
        code: "notJson",
        path: "",
        found: error instanceof Error ? error.message : "?",
        wanted: "JSON",
      },
    };
  }
  try {
    const again = entryText(value);
    if (again === text) return { value };
    let at = 0;
    while (at < text.length && text[at] === again[at]) at += 1;
    return {
      refusal: {
        code: "notCanonical",
        path: `character ${at}`,
        found: JSON.stringify(text.slice(at, at + 24)),
        wanted: JSON.stringify(again.slice(at, at + 24)),
      },
    };
  } catch (error) {
    if (error instanceof NotCanonicalError) return { refusal: error.refusal };
    throw error;
  }
}
