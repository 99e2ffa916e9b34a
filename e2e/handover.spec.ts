// Handover in a real browser: a page for the next crew, signed by both; printed on one sheet; pictures in every size and light.
import type { Page } from "@playwright/test";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

async function enterAs(page: Page, name: string, pin: string, path: string): Promise<void> {
  await page.goto("/enter");
  await page.getByRole("button", { name: new RegExp(`^${name}`, "u") }).click();
  for (const digit of pin) await page.getByRole("button", { name: digit, exact: true }).click();
  await page.getByRole("button", { name: "Enter", exact: true }).click();
  await expect(page.getByRole("navigation")).toBeVisible({ timeout: 30_000 });
  await page.goto(path);
}

async function sign(page: Page, pin: string): Promise<void> {
  const dialog = page.getByRole("dialog");
  for (const digit of pin) await dialog.getByRole("button", { name: digit, exact: true }).click();
  await dialog.getByRole("button", { name: "Enter", exact: true }).click();
}

test("one crew signs the page, the next signs the same words, and takes the machine over", async ({
  page,
}) => {
  await enterAs(page, "Ravn", "2580", "/craft/tinde/handover");
  await expect(page.getByRole("heading", { name: "Who takes over?" })).toBeVisible();
  await page.getByRole("button", { name: /^Sign and hand over/u }).click();
  await expect(page.getByText("Say whether every flight is logged")).toBeVisible();
  await page.getByRole("button", { name: /^Holm/u }).click();
  const sheet = page.locator(".handover-page").first();
  await expect(sheet).toContainText("Open questions");
  await expect(sheet).toContainText("Ends in this shift");
  await expect(sheet).toContainText("night at Skarvøy");
  await expect(sheet).toContainText("Changed since then");
  await page.getByRole("radio", { name: "Yes, every one" }).check({ force: true });
  await page.getByRole("textbox", { name: /^What else/u }).fill("the key is with the porter");
  await page.getByRole("button", { name: /^Sign and hand over/u }).click();
  await sign(page, "2580");
  await expect(page.getByText("Not yet signed by Holm")).toBeVisible();

  await enterAs(page, "Holm", "1470", "/craft/tinde/handover");
  await expect(page.getByText("Ravn hands this page to you")).toBeVisible({ timeout: 15_000 });
  const given = page.locator(".handover-page").first();
  await expect(given).toContainText("the key is with the porter");
  await expect(given).toContainText("Every flight is logged.");
  await page.getByRole("button", { name: /^Sign as read/u }).click();
  await sign(page, "1470");
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Take over", exact: true }).click();
  await expect(dialog).toHaveCount(0);
  await expect(page.getByText(/Read and taken by Holm/u)).toBeVisible();
});

test("the page prints on one sheet", async ({ page }) => {
  await enterAs(page, "Ravn", "2580", "/craft/skjaer/handover");
  await page.getByRole("button", { name: /^Lind/u }).click();
  await expect(page.locator(".handover-page").first()).toBeVisible();
  const pdf = (await page.pdf({ format: "A4" })).toString("latin1");
  expect(pdf.match(/\/Type\s*\/Page[^s]/gu)).toHaveLength(1);
});

test("it fits every size in every light", async ({ page }) => {
  await enterAs(page, "Ravn", "2580", "/craft/skjaer/handover");
  await takePictures(page, "handover", async (shown) => {
    await shown.getByRole("button", { name: /^Lind/u }).click();
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const width = await shown.evaluate(() => document.documentElement.scrollWidth);
      expect(width).toBeLessThanOrEqual(viewport.width);
    }
  });
});
