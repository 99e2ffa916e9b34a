// The shape of an envelope, one rule per name. Both who seals and who opens hold an envelope to it, so that nobody signs
// what nobody could read.
import { isInstantText } from "../core/facts/instant.ts";
import type { Envelope } from "./entry.ts";

export type EnvelopeFault = {
  readonly code: "shapeWrong" | "envelopeNewer";
  readonly path: string;
  readonly found: string;
  readonly wanted: string;
};

/** As many parents as an entry may name: enough for every device of a base, and small. */
export const mostParents = 32;

type Rule = readonly [name: keyof Envelope, wanted: string, holds: (value: unknown) => boolean];

const hash = /^[0-9a-f]{64}$/u;
const ledger = /^(?:craft|person|base|operator):[a-z0-9-]{1,64}$/u;
const type = /^[a-z][A-Za-z0-9]*(?:\.[A-Za-z0-9]+)*$/u;
const person = /^[a-z0-9][a-z0-9-]{0,63}$/u;
const basisParts: ReadonlySet<string> = new Set(["sheet", "rules", "settings"]);

const isText =
  (form: RegExp, longest: number) =>
  (value: unknown): boolean =>
    typeof value === "string" && value.length <= longest && form.test(value);
const isHash = isText(hash, 64);
const isCount = (value: unknown): value is number => Number.isSafeInteger(value) && (value as number) >= 0;
const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

function isParents(value: unknown): boolean {
  if (!Array.isArray(value) || value.length > mostParents) return false;
  return value.every(
    (id: unknown, index) => isHash(id) && (index === 0 || (value[index - 1] as string) < (id as string)),
  );
}

const rules: readonly Rule[] = [
  ["ledger", "craft:, person:, base: or operator: and a name", isText(ledger, 80)],
  ["type", "an entry type, as walk.page", isText(type, 64)],
  ["tv", "a version, 1 or more", (value) => isCount(value) && value !== 0],
  ["key", "64 hex digits", isHash],
  ["seq", "a whole number from 0", isCount],
  ["prev", "null or 64 hex digits", (value) => value === null || isHash(value)],
  ["at", "an instant YYYY-MM-DDTHH:MM:SS.mmmZ", (value) => typeof value === "string" && isInstantText(value)],
  ["by", "the id of a person", isText(person, 64)],
  ["after", `at most ${mostParents} ids, sorted, each once`, isParents],
  ["critical", "true or false", (value) => typeof value === "boolean"],
  [
    "basis",
    "hashes of sheet, rules or settings",
    (value) =>
      isRecord(value) && Object.entries(value).every(([name, held]) => basisParts.has(name) && isHash(held)),
  ],
  ["bodyHash", "64 hex digits", isHash],
];
const names: ReadonlySet<string> = new Set(["v", ...rules.map(([name]) => name)]);

/** What was found, short enough to show. */
export function brief(value: unknown): string {
  return value === undefined ? "nothing" : (JSON.stringify(value) ?? typeof value).slice(0, 80);
}

/** Every breach of the shape; none for an envelope. A newer envelope version is told alone: its shape is not known. */
export function envelopeFaults(value: unknown): readonly EnvelopeFault[] {
  if (!isRecord(value))
    return [{ code: "shapeWrong", path: "envelope", found: brief(value), wanted: "an object" }];
  const fault = (name: string, wanted: string): EnvelopeFault => ({
    code: "shapeWrong",
    path: `envelope.${name}`,
    found: brief(value[name]),
    wanted,
  });
  const version = value["v"];
  if (version !== 1) {
    const newer = isCount(version) && version > 1;
    return [{ ...fault("v", "1"), code: newer ? "envelopeNewer" : "shapeWrong" }];
  }
  const faults = Object.keys(value)
    .filter((name) => !names.has(name))
    .map((name) => fault(name, "nothing of this name"));
  for (const [name, wanted, holds] of rules) if (!holds(value[name])) faults.push(fault(name, wanted));
  if (faults.length === 0 && (value["seq"] === 0) !== (value["prev"] === null))
    faults.push(fault("prev", "null exactly at seq 0"));
  return faults;
}
