// The contracts of every store, on the browser's own IndexedDB with a profile on the disk: in the window and in a
// worker. The cases of src/store/contract.ts count one by one; those that only IndexedDB has count together.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, expect, test as base } from "@playwright/test";
import { build } from "vite";
import { draftContract, storeContract } from "../src/store/contract.ts";
import type { ContractResult } from "../src/store/indexeddb-contract.ts";
import { serveFolder } from "./harness/folder-server.ts";
import { launchSettings } from "./harness/launch-settings.ts";

type Where = "window" | "worker";

type ResultsIn = (where: Where) => Promise<readonly ContractResult[]>;

const test = base.extend<object, { resultsIn: ResultsIn }>({
  resultsIn: [
    // oxlint-disable-next-line no-empty-pattern
    async ({}, use) => {
      const folder = mkdtempSync(join(tmpdir(), "preen-contract-"));
      const server = await serveFolder(await buildPage(folder));
      const { channel, launchOptions } = launchSettings();
      const context = await chromium.launchPersistentContext(join(folder, "profile"), {
        ...launchOptions,
        ...(channel === undefined ? {} : { channel }),
      });
      const page = await context.newPage();
      await page.goto(server.url);
      const known = new Map<Where, Promise<readonly ContractResult[]>>();
      await use(async (where) => {
        const running = known.get(where) ?? page.evaluate((place) => window.runContracts[place](), where);
        known.set(where, running);
        return running;
      });
      await context.close();
      await server.stop();
      rmSync(folder, { recursive: true, force: true });
    },
    { scope: "worker", timeout: 120_000 },
  ],
});

/** The page that carries the contracts, built like the app. */
async function buildPage(folder: string): Promise<string> {
  const entry = join(import.meta.dirname, "harness", "contract-page.ts");
  writeFileSync(join(folder, "index.html"), `<!doctype html><script type="module" src="/page.ts"></script>`);
  writeFileSync(join(folder, "page.ts"), `import ${JSON.stringify(entry)};`);
  const outDir = join(folder, "dist");
  await build({
    configFile: false,
    root: folder,
    logLevel: "warn",
    build: { outDir, target: "esnext" },
    worker: { format: "es" },
  });
  return outDir;
}

/** Titles in the order in which the page answers; the same title may stand in both contracts. */
const shared = [
  ...storeContract.map(({ title }) => ({ title, kind: "the store" })),
  ...draftContract.map(({ title }) => ({ title, kind: "drafts" })),
];

for (const where of ["window", "worker"] as const) {
  // Running all cases is the first test's; the others only look at what came out.
  test.describe(`IndexedDB in the ${where}`, () => {
    test.describe.configure({ mode: "default", timeout: 120_000 });

    for (const [index, { title, kind }] of shared.entries()) {
      test(`${kind} ${title}`, async ({ resultsIn }) => {
        expect((await resultsIn(where))[index]).toEqual({ title, error: null });
      });
    }

    test("lives with what browsers do to a database", async ({ resultsIn }) => {
      const own = (await resultsIn(where)).slice(shared.length);
      expect(own.length).toBeGreaterThan(0);
      expect(own.filter(({ error }) => error !== null)).toEqual([]);
    });
  });
}
