// `test` for specs that change the record, kill the server or cut the network: each has a server with a new demo of its
// own. `ledgerOf` reads what the server holds, by the command that an operator would use.
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { type BrowserContext, expect, type Page, test as base } from "@playwright/test";
import { startPreen, type PreenServer } from "./preen-server.ts";
import { demoClock, sizes } from "./preen-test.ts";

/**
 * Every page of the context takes the demo's time for its own, from now on, and it runs. Only the date is moved: a clock
 * that is played in the page's place makes hundreds of taps slow, and what is timed wrong.
 */
export async function moveClock(context: BrowserContext): Promise<void> {
  await context.addInitScript(
    (ahead_ms) => {
      const Real = Date;
      globalThis.Date = class extends Real {
        constructor(...given: unknown[]) {
          super(...((given.length === 0 ? [Real.now() + ahead_ms] : given) as [number]));
        }

        static override now(): number {
          return Real.now() + ahead_ms;
        }
      } as DateConstructor;
    },
    Date.parse(demoClock) - Date.now(),
  );
}

export const test = base.extend<{ preen: PreenServer }>({
  // oxlint-disable-next-line no-empty-pattern
  preen: async ({}, use) => {
    const preen = await startPreen(demoClock);
    await use(preen);
    await preen.stop();
  },
  baseURL: async ({ preen }, use) => {
    await use(preen.url);
  },
  context: async ({ context }, use) => {
    await moveClock(context);
    await use(context);
  },
  viewport: sizes.phone,
});

export { expect };

export type ServerLedger = {
  readonly stateHash: string;
  readonly aside: readonly { readonly id: string; readonly code: string }[];
  readonly entries: readonly {
    readonly id: string;
    readonly type: string;
    readonly by: string;
    readonly at: string;
    readonly seq: number;
    readonly status: string;
  }[];
};

const root = join(import.meta.dirname, "..", "..");

export function ledgerOf({ data }: PreenServer, craft: string): ServerLedger {
  const words = [join(root, "bin", "preen.mjs"), "ledger", craft, "--json"];
  const text = execFileSync(process.execPath, words, {
    encoding: "utf8",
    env: { ...process.env, PREEN_DATA: data },
    maxBuffer: 64 * 1024 * 1024,
  });
  return JSON.parse(text) as ServerLedger;
}

/** The state hash that the Ledger screen shows, whole. */
export async function shownStateHash(page: Page): Promise<string> {
  const shown = page.getByText(/^[0-9a-f]{16}$/u);
  return (await shown.getAttribute("title")) ?? "";
}
