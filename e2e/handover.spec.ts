// Handover in a real browser: a page for the next crew, signed by both; printed on one sheet; pictures in every size and light.
import { enterAs, typePin } from "./harness/people.ts";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

test("one crew signs the page, the next signs the same words, and takes the machine over", async ({
  page,
}) => {
  await enterAs(page, "Ravn", "/craft/tinde/handover");
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
  await typePin(page.getByRole("dialog"), "Ravn");
  await expect(page.getByText("Not yet signed by Holm")).toBeVisible();

  await enterAs(page, "Holm", "/craft/tinde/handover");
  await expect(page.getByText("Ravn hands this page to you")).toBeVisible({ timeout: 15_000 });
  const given = page.locator(".handover-page").first();
  await expect(given).toContainText("the key is with the porter");
  await expect(given).toContainText("Every flight is logged.");
  await page.getByRole("button", { name: /^Sign as read/u }).click();
  await typePin(page.getByRole("dialog"), "Holm");
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Take over", exact: true }).click();
  await expect(dialog).toHaveCount(0);
  await expect(page.getByText(/Read and taken by Holm/u)).toBeVisible();
});

test("the page prints on one sheet", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/skjaer/handover");
  await page.getByRole("button", { name: /^Lind/u }).click();
  await expect(page.locator(".handover-page").first()).toBeVisible();
  const pdf = (await page.pdf({ format: "A4" })).toString("latin1");
  expect(pdf.match(/\/Type\s*\/Page[^s]/gu)).toHaveLength(1);
});

test("it fits every size in every light", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/skjaer/handover");
  await takePictures(page, "handover", async (shown) => {
    await shown.getByRole("button", { name: /^Lind/u }).click();
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const width = await shown.evaluate(() => document.documentElement.scrollWidth);
      expect(width).toBeLessThanOrEqual(viewport.width);
    }
  });
});
