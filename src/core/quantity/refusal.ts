// A refusal: what the core says about an argument that it will not compute with.
//
// Carries every issue found, each with where it stands, a stable code, what was found and what was wanted. `wanted` and
// `found` are plain technical facts for a log or a command line; sentences for people belong to the words of each
// language, keyed by `code`.

export type Issue = {
  /** Where in the input: `legs[1].distance_nm`; empty for the input as a whole. */
  readonly path: string;
  readonly code: IssueCode;
  readonly found: string;
  readonly wanted: string;
};

export const issueCodes = [
  "missing",
  "unknownKey",
  "givenTwice",
  "notANumber",
  "notFinite",
  "wrongKind",
  "outsideDomain",
  "contradiction",
  "impossible",
] as const;
export type IssueCode = (typeof issueCodes)[number];

/** Thrown where a value is outside what the function is valid for. Never empty. */
export class Refusal extends RangeError {
  readonly issues: readonly [Issue, ...Issue[]];

  constructor(issues: readonly [Issue, ...Issue[]]) {
    super(issues.map((issue) => issueText(issue)).join("; "));
    this.name = "Refusal";
    this.issues = issues;
  }
}

/** One issue as one line, without its path: "expected 900 … 1100 hPa, found 90". */
export function issueLine(issue: Issue): string {
  return `expected ${issue.wanted}, found ${issue.found}`;
}

function issueText(issue: Issue): string {
  return issue.path === "" ? issueLine(issue) : `${issue.path}: ${issueLine(issue)}`;
}

/** Throws a refusal with one issue. */
export function refuse(path: string, code: IssueCode, found: string, wanted: string): never {
  throw new Refusal([{ path, code, found, wanted }]);
}

/** A found value for an issue: short, on one line, whatever it is. */
export function describe(value: unknown): string {
  if (value === undefined) return "nothing";
  if (typeof value === "number") return String(value);
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === "object" && value !== null) return "an object";
  if (typeof value === "boolean" || typeof value === "bigint" || value === null) return `${value}`;
  if (typeof value !== "string") return `a ${typeof value}`;
  const text = JSON.stringify(value);
  return text.length <= 40 ? text : `${text.slice(0, 39)}…`;
}

/** Joins a key to a path: `legs[1]` and `tas_kt` give `legs[1].tas_kt`. */
export function atKey(path: string, key: string): string {
  return path === "" ? key : `${path}.${key}`;
}

/** Joins a position to a path: `legs` and 1 give `legs[1]`. */
export function atIndex(path: string, index: number): string {
  return `${path}[${index}]`;
}
