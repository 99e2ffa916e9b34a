// A device that has kept snapshots of its record: it opens from them, shows what the server holds and what a device without
// any shows, and reads the older entries when somebody asks for them. A damaged one is thrown away without a word.
import type { Page } from "@playwright/test";
import { damageSnapshots, heldByDevice } from "./harness/device-store.ts";
import { expect, ledgerOf, moveClock, shownStateHash, test } from "./harness/fresh-test.ts";
import { people, stepsOn } from "./harness/walk-steps.ts";

const craft = ["craft:myr", "craft:skjaer", "craft:tinde"];

async function hashOn(page: Page): Promise<string> {
  await page.goto("/craft/tinde/ledger");
  await expect(page.getByText("State hash")).toBeVisible({ timeout: 30_000 });
  return shownStateHash(page);
}

test("a device opens from its snapshots with what came after them, as the server and a new device have it", async ({
  context,
  browser,
  preen,
  baseURL,
}) => {
  test.setTimeout(240_000);
  const page = await context.newPage();
  const steps = stepsOn(page);
  await page.goto("/");
  await steps.enter(people.pilot);
  // Kept beside the page, once nobody waits for it.
  await expect.poll(async () => (await heldByDevice(page)).snapshots, { timeout: 90_000 }).toEqual(craft);
  await steps.openCraft("Tinde");
  await steps.beginFullWalk();
  await steps.markStop();
  await steps.goOn();
  await page.goto("/craft/tinde");
  await steps.sentAll();

  const { stateHash } = ledgerOf(preen, "tinde");
  await expect.poll(() => hashOn(page)).toBe(stateHash);
  expect((await heldByDevice(page)).snapshots, "none was thrown away").toEqual(craft);

  // The older entries are read for those who list, explain and prove them.
  await page.getByRole("textbox", { name: /Words, or the beginning/u }).fill("hose touches");
  await page.locator("main .ledger-line").first().click();
  const entry = page.getByRole("dialog");
  await expect(entry.getByText("The server received it", { exact: false })).toBeVisible();
  await expect(entry.getByText("The signature is this key's own")).toBeVisible();
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: /^Verify on this device/u }).click();
  await expect(page.getByText(/\d+ entries proven, nothing altered/u)).toBeVisible({ timeout: 90_000 });

  const another = await browser.newContext({ baseURL: baseURL! });
  await moveClock(another);
  const fresh = await another.newPage();
  await fresh.goto("/");
  await stepsOn(fresh).enter(people.pilot);
  expect(await hashOn(fresh)).toBe(stateHash);
  await another.close();

  await damageSnapshots(page);
  expect(await hashOn(page)).toBe(stateHash);
  expect((await heldByDevice(page)).snapshots, "thrown away, and nothing said of it").toEqual([]);
});
