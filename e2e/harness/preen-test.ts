// `test` for specs about the app: a server with the demo, one for each spec, and a page whose clock starts with the demo's. `takePictures` shows a screen in every size and light.
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { expect, type Page, test as base } from "@playwright/test";
import { type PreenServer, startPreen } from "./preen-server.ts";

/**
 * A winter morning at the beginning of the shift, everything of the day still to do. At the demo's 70° north the sun does
 * not rise on it: day is civil twilight, 08:06 to 13:50 UTC, so that a machine can be ready by day once it is walked.
 */
export const demoClock = "2026-11-25T08:40:00.000Z";

type Shelf = { readonly serverFor: (spec: string) => Promise<PreenServer> };

export const test = base.extend<{ preen: PreenServer }, { shelf: Shelf }>({
  // A walk left under way, or an event that grounds, would be in the way of another spec: each has a server of its own.
  shelf: [
    // Playwright reads from the pattern which fixtures this one needs: none.
    // oxlint-disable-next-line no-empty-pattern
    async ({}, use) => {
      let held: { readonly spec: string; readonly server: PreenServer } | null = null;
      await use({
        serverFor: async (spec) => {
          if (held?.spec !== spec) {
            await held?.server.stop();
            held = null;
            held = { spec, server: await startPreen(demoClock) };
          }
          return held.server;
        },
      });
      await (held as { readonly server: PreenServer } | null)?.server.stop();
    },
    { scope: "worker", timeout: 90_000 },
  ],
  preen: [
    async ({ shelf }, use, { file }) => {
      await use(await shelf.serverFor(file));
    },
    { timeout: 90_000 },
  ],
  baseURL: async ({ preen }, use) => {
    await use(preen.url);
  },
  page: async ({ page }, use) => {
    await page.clock.install({ time: demoClock });
    await use(page);
  },
});

export { expect };

export const sizes = {
  phone: { width: 390, height: 844 },
  tablet: { width: 820, height: 1180 },
  desk: { width: 1440, height: 900 },
} as const;

export const lights = ["day", "dark", "red", "goggles"] as const;

const pictures = join(import.meta.dirname, "..", "..", "test-results", "pictures");

/**
 * Writes test-results/pictures/NAME-SIZE-LIGHT.png for each size and light, and returns the paths. The page is loaded
 * again for every light; `settle` brings it back to what is to be shown.
 */
export async function takePictures(
  page: Page,
  name: string,
  settle: (page: Page) => Promise<void> = async () => {},
): Promise<readonly string[]> {
  mkdirSync(pictures, { recursive: true });
  const paths: string[] = [];
  for (const light of lights) {
    await page.evaluate((wanted) => localStorage.setItem("preen.light", wanted), light);
    await page.reload();
    await settle(page);
    for (const [size, viewport] of Object.entries(sizes)) {
      await page.setViewportSize(viewport);
      const path = join(pictures, `${name}-${size}-${light}.png`);
      await page.screenshot({ path, animations: "disabled" });
      paths.push(path);
    }
  }
  return paths;
}
