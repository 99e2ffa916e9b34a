// The record in a real browser: found by kind, writer and words; one entry with what stands behind it; proven and exported on
// the device, and the export proven outside; a flight written twice decided by a person; an entry erased by who may.
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { enterAs, type Named } from "./harness/people.ts";
import { demoClock, expect, takePictures, test } from "./harness/preen-test.ts";

const root = join(import.meta.dirname, "..");

async function enterLedger(page: Page, who: Named): Promise<void> {
  await enterAs(page, who, "/craft/tinde/ledger");
  await expect(page.getByText("State hash")).toBeVisible({ timeout: 30_000 });
}

const rows = (page: Page) => page.locator("main .ledger-line");

test("entries are found by kind, by writer and by words, and one is shown with what stands behind it", async ({
  page,
}) => {
  await enterLedger(page, "Ravn");
  const all = await rows(page).count();
  await page.getByRole("button", { name: "Show everything" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "findings" }).click();
  await expect.poll(() => rows(page).count()).toBeLessThan(all);
  await page.getByRole("textbox", { name: /Words, or the beginning/u }).fill("hose touches");
  await rows(page).first().click();
  const entry = page.getByRole("dialog");
  await expect(entry.getByText("The signature is this key's own")).toBeVisible();
  await expect(entry.getByText("Envelope and content are what their hashes say")).toBeVisible();
  await expect(entry.getByText("The operator certified the key as", { exact: false })).toBeVisible();
  await expect(entry.getByText("The server received it", { exact: false })).toBeVisible();
  await expect(entry.getByText("Kept at least")).toBeVisible();
  // Along the chain to the entry before it.
  await entry
    .getByRole("button", { name: /^Show / })
    .first()
    .click();
  await expect(entry.getByText("finding.judged")).toHaveCount(0);
  await expect(entry.getByRole("button", { name: "Erase what it says" })).toHaveCount(0);
});

test("the record is proven on the device, and its export proves itself outside", async ({ page }) => {
  await enterLedger(page, "Ravn");
  await page.getByRole("button", { name: /^Verify on this device/u }).click();
  await expect(page.getByText(/\d+ entries proven, nothing altered/u)).toBeVisible({ timeout: 60_000 });
  const saved = page.waitForEvent("download");
  await page.getByRole("button", { name: /^Export to a file/u }).click();
  const file = await (await saved).path();
  const said = execFileSync(process.execPath, [join(root, "bin/preen.mjs"), "verify", file], {
    encoding: "utf8",
  });
  expect(said).toContain("proven");
});

test("a photo goes with the export of who holds it, is erased by itself, and then nobody has it", async ({
  browser,
  preen,
}) => {
  test.setTimeout(180_000);
  const open = async (who: Named, path: string): Promise<Page> => {
    const context = await browser.newContext({ baseURL: preen.url });
    const page = await context.newPage();
    await page.clock.setFixedTime(demoClock);
    await enterAs(page, who, path);
    return page;
  };
  const exported = async (page: Page): Promise<string> => {
    const saved = page.waitForEvent("download");
    await page.getByRole("button", { name: /^Export to a file/u }).click();
    const file = await (await saved).path();
    return execFileSync(process.execPath, [join(root, "bin/preen.mjs"), "verify", file], {
      encoding: "utf8",
    });
  };
  const pilot = await open("Ravn", "/craft/tinde/findings");
  const picture = await pilot.screenshot({ type: "jpeg" });
  await pilot.getByRole("button", { name: /^New finding/u }).click();
  const capture = pilot.getByRole("dialog").last();
  await capture.getByRole("button", { name: "Left boom" }).click({ force: true });
  await capture.getByRole("radio", { name: "Tail boom, skin between frames" }).check({ force: true });
  await capture
    .locator("input[type=file]")
    .last()
    .setInputFiles({ name: "strap.jpg", mimeType: "image/jpeg", buffer: picture });
  await expect(capture.getByRole("img", { name: "Photo 1 of this finding" })).toBeVisible();
  const sent = pilot.waitForResponse((response) => response.url().endsWith("/api/photos"), {
    timeout: 60_000,
  });
  await capture.getByRole("button", { name: /^Record the finding/u }).click();
  const { hash } = (await (await sent).json()) as { hash: string };

  // Another device has not seen it, and says that it is missing; once it is looked at it is here, and goes with the export.
  const office = await open("Vik", "/craft/tinde/ledger");
  await office.getByRole("textbox", { name: /Words, or the beginning/u }).fill(hash.slice(0, 20));
  await expect(rows(office)).toHaveCount(1, { timeout: 30_000 });
  await office.getByRole("button", { name: /^Verify on this device/u }).click();
  await expect(office.getByText("0 photos proven, 1 not on this device")).toBeVisible({ timeout: 60_000 });
  await rows(office).first().click();
  const entry = office.getByRole("dialog");
  const shown = entry.getByRole("img", { name: "Photo 1 of this finding" });
  await expect(shown).toBeVisible();
  await entry.getByRole("button", { name: "Erase what it says, or a photo" }).click();
  await entry.getByRole("radio", { name: "photo 1" }).check({ force: true });
  await expect(entry.getByText("the photo is gone for good", { exact: false })).toBeVisible();
  await entry.getByRole("textbox", { name: "Legal reason" }).fill("shows a face");
  await office.keyboard.press("Escape");
  expect(await exported(office)).toContain("photos  1 proven, 0 missing, 0 erased by right");

  await rows(office).first().click();
  await entry.getByRole("button", { name: "Erase what it says, or a photo" }).click();
  await entry.getByRole("radio", { name: "photo 1" }).check({ force: true });
  await entry.getByRole("textbox", { name: "Legal reason" }).fill("shows a face");
  const hold = entry.getByRole("button", { name: /Erase the photo|Hold to erase this photo/u }).first();
  await hold.focus();
  await office.keyboard.down("Enter");
  await office.waitForTimeout(3_000);
  await office.keyboard.up("Enter");
  await expect(entry.getByText("This photo was erased by order")).toBeVisible({ timeout: 20_000 });
  await expect(shown).toHaveCount(0);
  await office.keyboard.press("Escape");
  expect(await exported(office)).toContain("photos  0 proven, 0 missing, 1 erased by right");

  // And on the device that took it, once it has heard.
  await pilot.goto(`/craft/tinde/ledger`);
  await pilot.getByRole("textbox", { name: /Words, or the beginning/u }).fill(hash.slice(0, 20));
  await expect(rows(pilot)).toHaveCount(2, { timeout: 60_000 });
  expect(await exported(pilot)).toContain("photos  0 proven, 0 missing, 1 erased by right");
  for (const page of [pilot, office]) await page.context().close();
});

test("a filling written twice is asked about, decided, and stays in the record", async ({ page }) => {
  await enterLedger(page, "Ravn");
  for (let time = 0; time < 2; time += 1) {
    await page.goto("/craft/tinde/levels");
    await page.getByRole("button", { name: /^Engine oil, left/u }).click();
    await page
      .getByRole("button", { name: /^Write an uplift|^Uplift|^Fill/u })
      .first()
      .click();
    const dialog = page.getByRole("dialog");
    await dialog.getByRole("textbox").first().fill("0.5");
    for (const choice of await dialog.getByRole("group").all())
      await choice.getByRole("radio").first().check({ force: true });
    await dialog.getByRole("button", { name: /^Save/u }).click();
    await expect(dialog).toHaveCount(0);
    await page.clock.runFor(60_000);
  }
  await page.goto("/craft/tinde/ledger");
  await expect(page.getByRole("heading", { name: "Looks the same" })).toBeVisible();
  await page.getByRole("button", { name: /^One, written twice/u }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /Uplift/u })
    .first()
    .click();
  await expect(page.getByRole("heading", { name: "Looks the same" })).toHaveCount(0);
  await expect(rows(page).filter({ hasText: "Look-alikes decided" })).toHaveCount(1);
});

test("an administrator erases what an entry says, for a reason, and it says so for good", async ({
  page,
}) => {
  await enterLedger(page, "Vik");
  await page.getByRole("textbox", { name: /Words, or the beginning/u }).fill("hose touches");
  await rows(page).first().click();
  const entry = page.getByRole("dialog");
  await entry.getByRole("button", { name: "Erase what it says" }).click();
  await expect(entry.getByText(/to be kept until .* at least/u)).toBeVisible();
  await entry.getByRole("textbox", { name: "Legal reason" }).fill("names a person; erased on request");
  const hold = entry.getByRole("button", { name: /Erase what it says|Hold to erase/u }).first();
  await hold.focus();
  await page.keyboard.down("Enter");
  await page.clock.runFor(3_000);
  await page.keyboard.up("Enter");
  await expect(entry.getByText("erased by order")).toBeVisible({ timeout: 10_000 });
  await page.reload();
  await expect(page.getByText("State hash")).toBeVisible({ timeout: 30_000 });
  await page.getByRole("textbox", { name: /Words, or the beginning/u }).fill("hose touches");
  // The finding itself says it no more; what others wrote of it stands.
  await expect(rows(page).filter({ hasText: /^Finding\b/u })).toHaveCount(0);
});

test("the screen is reachable by everybody and is seen in every size and light", async ({ context }) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  await enterLedger(page, "Ravn");
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await takePictures(page, "ledger", async (shown) => {
    await expect(shown.getByText("State hash")).toBeVisible({ timeout: 30_000 });
  });
});
