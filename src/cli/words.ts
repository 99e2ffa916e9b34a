// Reading the words of a command line. Options are `--name` or `--name VALUE`; everything else is an argument.
import { parseArgs } from "node:util";
import { instantToMs, isInstantText } from "../core/facts/instant.ts";

export class UsageError extends Error {
  override readonly name = "UsageError";
}

export type CommandLine = {
  readonly args: readonly string[];
  readonly json: boolean;
  readonly at_ms: number;
};

/**
 * `--json`, `--at INSTANT`, and the options of a value each that the command has besides; the clock is read here alone,
 * once, where no instant was given.
 */
export function readCommandLine<Option extends string = never>(
  words: readonly string[],
  most: number,
  usage: string,
  own: readonly Option[] = [],
): CommandLine & Readonly<Partial<Record<Option, string>>> {
  const ownOptions = Object.fromEntries(own.map((name) => [name, { type: "string" as const }]));
  let parsed;
  try {
    parsed = parseArgs({
      args: [...words],
      allowPositionals: true,
      options: { ...ownOptions, json: { type: "boolean", default: false }, at: { type: "string" } },
    });
  } catch (error) {
    throw new UsageError(`${error instanceof Error ? error.message : String(error)}\nusage: ${usage}`);
  }
  const { positionals, values } = parsed;
  if (positionals.length > most)
    throw new UsageError(`unexpected ${JSON.stringify(positionals[most])}\nusage: ${usage}`);
  const { at } = values;
  if (at !== undefined && !isInstantText(at)) {
    throw new UsageError(`--at: found ${JSON.stringify(at)}, wanted an instant as 2026-11-25T06:40:00.000Z`);
  }
  const given = values as Readonly<Partial<Record<Option, string>>>;
  return {
    ...given,
    args: positionals,
    json: values.json,
    at_ms: at === undefined ? Date.now() : instantToMs(at),
  };
}

/** Runs a command and turns what it may throw on bad input into one clear message and exit code 2. */
export async function runCommand(name: string, body: () => Promise<number>): Promise<number> {
  try {
    return await body();
  } catch (error) {
    if (!(error instanceof UsageError) && !(error instanceof Error && error.name === "StoreError"))
      throw error;
    process.stderr.write(`preen ${name}: ${error.message}\n`);
    return error instanceof UsageError ? 2 : 1;
  }
}

/** JSON with sorted keys, so that the bytes depend on the facts alone. */
export function printJson(value: unknown): void {
  process.stdout.write(`${JSON.stringify(value, sortKeys, 2)}\n`);
}

function sortKeys(_key: string, value: unknown): unknown {
  if (typeof value !== "object" || value === null || Array.isArray(value)) return value;
  return Object.fromEntries(Object.entries(value).toSorted(([a], [b]) => (a < b ? -1 : 1)));
}
