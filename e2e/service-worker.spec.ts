// The service worker by itself, in a tiny app of two versions: what it keeps, when it gives way, what it leaves alone.
import { mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, type Page, test as base } from "@playwright/test";
import { type FolderServer, serveFolder } from "./harness/folder-server.ts";
import { buildSampleApp } from "./harness/sample-app.ts";

type Built = {
  readonly first: string;
  readonly second: string;
  readonly third: string;
  readonly broken: string;
};

const test = base.extend<{ server: FolderServer }, { built: Built }>({
  built: [
    // oxlint-disable-next-line no-empty-pattern
    async ({}, use) => {
      const folder = mkdtempSync(join(tmpdir(), "preen-worker-"));
      const first = await buildSampleApp(join(folder, "first"), "first version");
      const second = await buildSampleApp(join(folder, "second"), "second version");
      const third = await buildSampleApp(join(folder, "third"), "third version");
      // A server on which a new version has only half arrived: one script is not what the list says.
      const broken = await buildSampleApp(join(folder, "broken"), "broken version");
      const [script = ""] = readdirSync(join(broken, "assets")).filter((name) => name.endsWith(".js"));
      writeFileSync(join(broken, "assets", script), "// half");
      await use({ first, second, third, broken });
      rmSync(folder, { recursive: true, force: true });
    },
    { scope: "worker" },
  ],
  server: async ({ built }, use) => {
    const server = await serveFolder(built.first);
    await use(server);
    await server.stop();
  },
});

async function openInstalled(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
}

const lookForUpdate = (page: Page): Promise<void> =>
  page.evaluate(
    async () => void (await (await navigator.serviceWorker.ready).update().catch(() => undefined)),
  );

const cacheNames = (page: Page): Promise<readonly string[]> => page.evaluate(() => caches.keys());

const heading = (page: Page) => page.getByRole("heading");
const takeOver = (page: Page) => page.getByRole("button", { name: "Take the new version" });

test("the first visit is enough to open every page of the app without a network", async ({
  page,
  server,
}) => {
  await openInstalled(page, server.url);
  await server.stop();
  for (const path of ["/", "/craft/a/walk?stop=nose"]) {
    await page.goto(server.url + path);
    await expect(heading(page)).toHaveText("first version");
  }
  const fonts = await page.evaluate(async () => {
    const [name = ""] = await caches.keys();
    return (await (await caches.open(name)).keys()).filter(({ url }) => url.endsWith(".woff2")).length;
  });
  expect(fonts).toBe(1);
});

test("once installed, nothing but the server's interface is asked of the network", async ({
  page,
  server,
}) => {
  await openInstalled(page, server.url);
  const before = server.asked.length;
  await page.goto(`${server.url}/craft/a`);
  await expect(heading(page)).toHaveText("first version");
  const counted = await page.evaluate(async () => (await fetch("/api/entries")).text());
  expect(Number(counted)).toBeGreaterThan(0);
  // The browser itself looks for a newer worker after a navigation.
  const asked = server.asked.slice(before).filter((path) => path !== "/sw.js");
  expect(asked).toEqual(["/api/entries"]);
});

test("a missing file is missing, not the page of the app", async ({ page, server }) => {
  await openInstalled(page, server.url);
  const status = await page.evaluate(async () => (await fetch("/assets/gone.js")).status);
  expect(status).toBe(404);
});

/** Lets the version that the server has now take over, as the person does. */
async function letIn(page: Page, words: string): Promise<void> {
  await lookForUpdate(page);
  await takeOver(page).click();
  await expect(heading(page)).toHaveText(words);
  await expect(takeOver(page)).toHaveCount(0);
}

test("a newer version waits until it is let in, and the one before the last goes", async ({
  page,
  server,
  built,
}) => {
  await openInstalled(page, server.url);
  const [first] = await cacheNames(page);
  server.serve(built.second);
  await lookForUpdate(page);
  await expect(takeOver(page)).toBeVisible();
  await expect(heading(page)).toHaveText("first version");
  await page.reload();
  await expect(heading(page)).toHaveText("first version");
  await letIn(page, "second version");
  server.serve(built.third);
  await letIn(page, "third version");
  const now = await cacheNames(page);
  expect(now).toHaveLength(2);
  expect(now).not.toContain(first);
});

test("a window that still runs the version before loads its own late part, and not the newer one's", async ({
  page,
  context,
  server,
  built,
}) => {
  await openInstalled(page, server.url);
  const other = await context.newPage();
  await openInstalled(other, server.url);
  server.serve(built.second);
  await letIn(page, "second version");
  await server.stop();
  const late = (where: Page): Promise<string> =>
    where.evaluate(() => (globalThis as unknown as { loadLate: () => Promise<string> }).loadLate());
  await expect(heading(other)).toHaveText("first version");
  expect(await late(other)).toBe("late part of the first version");
  expect(await late(page)).toBe("late part of the second version");
});

test("a version that has only half arrived is not installed", async ({ page, server, built }) => {
  await openInstalled(page, server.url);
  server.serve(built.broken);
  await lookForUpdate(page);
  const left = await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    for (let turn = 0; turn < 100 && registration.installing !== null; turn++) {
      await new Promise((resolve) => setTimeout(resolve, 20));
    }
    return { installing: registration.installing !== null, waiting: registration.waiting !== null };
  });
  expect(left).toEqual({ installing: false, waiting: false });
  expect(await cacheNames(page), "what was fetched of it is gone").toHaveLength(1);
  await page.reload();
  await expect(heading(page)).toHaveText("first version");
  await expect(takeOver(page)).toHaveCount(0);
  // Seen to be tried: the broken script was really fetched.
  expect(server.asked.filter((path) => path.endsWith(".js") && path !== "/sw.js").length).toBeGreaterThan(1);
});
