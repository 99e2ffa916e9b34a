// Reads JSON strictly: what JSON.parse lets through without a word is refused here with its path.
//
// Refused: keys that stand twice in one object, U+0000, lone surrogates (also as escapes), integers beyond 2^53,
// numbers too large to be finite, nesting deeper than 64; every such fault of the text is told, not the first alone. A
// text that is not JSON (RFC 8259) has one fault, where it ends to be JSON. Besides the value, the reader says whether
// the text was canonical (RFC 8785).
// `readCanonical` is for texts that must be: it lets the engine parse and compares, which is several times faster, and
// asks parseStrict only to name what was wrong. Vectors: published/crypto.test.ts.
import { deepestNesting, entryText, largestInteger } from "./canonical.ts";
import type { CanonicalRefusal } from "./canonical.ts";

export type Strict =
  | { readonly value: unknown; readonly canonical: boolean }
  | { readonly refusals: readonly CanonicalRefusal[] };

export function parseStrict(text: string): Strict {
  const reader = new Reader(text);
  let value: unknown;
  try {
    value = reader.whole();
  } catch (error) {
    if (error instanceof NotJsonError) return { refusals: [error.refusal] };
    throw error;
  }
  if (reader.refusals.length > 0) return { refusals: reader.refusals };
  return { value, canonical: entryText(value) === text };
}

/** Reads a text that must be the canonical form of an entry's part. */
export function readCanonical(
  text: string,
): { readonly value: unknown } | { readonly refusal: CanonicalRefusal } {
  let value: unknown;
  let again: string;
  try {
    value = JSON.parse(text);
    again = entryText(value);
    if (again === text) return { value };
  } catch {
    // Not JSON, without a canonical form, or too deep for this engine's parser: the strict reader says what it is.
    again = "";
  }
  const strict = parseStrict(text);
  if ("refusals" in strict) return { refusal: strict.refusals[0]! };
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
}

class NotJsonError extends Error {
  readonly refusal: CanonicalRefusal;
  constructor(refusal: CanonicalRefusal) {
    super(refusal.wanted);
    this.refusal = refusal;
  }
}

// One token from where the reader stands (sticky).
const blank = /[ \t\n\r]*/uy;
const number = /-?(?:0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?/y;
// oxlint-disable-next-line no-control-regex -- control characters are what a JSON text may not hold bare
const string = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const literals: Readonly<Record<string, unknown>> = { true: true, false: false, null: null };
const literal = /true|false|null/uy;

class Reader {
  readonly refusals: CanonicalRefusal[] = [];
  readonly #text: string;
  #at = 0;

  constructor(text: string) {
    this.#text = text;
  }

  whole(): unknown {
    const value = this.#value("", 0);
    this.#take(blank);
    if (this.#at < this.#text.length) this.#stop("", "the end of the text");
    return value;
  }

  #value(path: string, depth: number): unknown {
    this.#take(blank);
    const first = this.#text[this.#at];
    if (first === "{" || first === "[") {
      if (depth > deepestNesting) {
        this.#refuse("badValue", path, `nesting deeper than ${deepestNesting}`, "less");
        throw new NotJsonError(this.refusals.at(-1)!);
      }
      return first === "{" ? this.#object(path, depth) : this.#list(path, depth);
    }
    if (first === '"') return this.#string(path);
    const word = this.#take(literal);
    if (word !== null) return literals[word];
    return this.#number(path);
  }

  #object(path: string, depth: number): unknown {
    const record: Record<string, unknown> = {};
    this.#at += 1;
    this.#take(blank);
    if (this.#skip("}")) return record;
    do {
      this.#take(blank);
      const key = this.#string(path, "a key in quotes");
      const at = `${path}.${key}`;
      this.#take(blank);
      if (!this.#skip(":")) this.#stop(at, "a colon");
      const value = this.#value(at, depth + 1);
      if (Object.hasOwn(record, key))
        this.#refuse("duplicateKey", at, "the key a second time", "each key once");
      // Never by assignment: `__proto__` would be taken for something else.
      Object.defineProperty(record, key, { value, enumerable: true, configurable: true, writable: true });
      this.#take(blank);
    } while (this.#skip(","));
    if (!this.#skip("}")) this.#stop(path, "a comma or a closing brace");
    return record;
  }

  #list(path: string, depth: number): unknown {
    const list: unknown[] = [];
    this.#at += 1;
    this.#take(blank);
    if (this.#skip("]")) return list;
    do list.push(this.#value(`${path}[${list.length}]`, depth + 1));
    while ((this.#take(blank), this.#skip(",")));
    if (!this.#skip("]")) this.#stop(path, "a comma or a closing bracket");
    return list;
  }

  #string(path: string, wanted = "a text in quotes"): string {
    const token = this.#take(string);
    if (token === null) return this.#stop(path, wanted);
    const value = JSON.parse(token) as string;
    if (!value.isWellFormed()) this.#refuse("badValue", path, "a lone surrogate", "whole characters");
    if (value.includes("\0")) this.#refuse("badValue", path, "U+0000", "text without it");
    return value;
  }

  #number(path: string): number {
    const token = this.#take(number);
    if (token === null || token === "") return this.#stop(path, "a value");
    const value = Number(token);
    if (!Number.isFinite(value)) this.#refuse("badValue", path, brief(token), "a finite number");
    // From 2^53 on a text may mean an integer that no number is; only 2^53 itself is sure.
    else if (
      Number.isInteger(value) &&
      Math.abs(value) >= largestInteger &&
      !/^-?9007199254740992(?:\.0+)?$/u.test(token)
    )
      this.#refuse("badValue", path, brief(token), "an integer within 2^53");
    return value;
  }

  #take(token: RegExp): string | null {
    token.lastIndex = this.#at;
    const [found] = token.exec(this.#text) ?? [null];
    if (found !== null) this.#at += found.length;
    return found;
  }

  #skip(character: string): boolean {
    if (this.#text[this.#at] !== character) return false;
    this.#at += 1;
    return true;
  }

  #refuse(code: CanonicalRefusal["code"], path: string, found: string, wanted: string): void {
    this.refusals.push({ code, path, found, wanted });
  }

  #stop(path: string, wanted: string): never {
    const rest = this.#text.slice(this.#at, this.#at + 24);
    throw new NotJsonError({
      code: "notJson",
      path: path === "" ? `character ${this.#at}` : `${path} at character ${this.#at}`,
      found: rest === "" ? "the end of the text" : JSON.stringify(rest),
      wanted,
    });
  }
}

function brief(token: string): string {
  return token.length > 40 ? `${token.slice(0, 40)}…` : token;
}
