// Call in a real browser: the place alone gives a first answer; coordinates that cannot be right are asked about; a refused
// call says what would make it acceptable; pictures in every size and light.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

const verdict = (page: Page) => page.locator(".verdict-words");

test("a place alone gives a first answer, by way of every hospital, with the margin that binds first", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await expect(page.getByText("Say where: everything else is as usual")).toBeVisible();
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.35 12.9");
  await expect(verdict(page)).toHaveText(/^(Acceptable|Acceptable within limits|Not acceptable|Not known)$/u);
  await expect(page.locator(".verdict-then")).toContainText("binds first");
  await expect(page.locator(".margin").first()).toBeVisible();
  await expect(page.locator(".call-hospital")).toHaveCount(4);
  await expect(page.getByRole("table")).toBeVisible();
});

test("a place is read in the forms in which it is called out, and one that cannot be is told why", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  const where = page.getByRole("textbox", { name: "Where", exact: true });
  await where.fill("N70°21.0' E012°54.0'");
  await expect(page.getByText("read as 70.3500° N, 12.9000° E", { exact: false })).toBeVisible();
  await where.fill("70 61 N 12 54 E");
  await expect(page.getByText("Minutes and seconds go up to 59")).toBeVisible();
  await where.fill("12.9 70.35");
  await expect(page.getByText("Latitude and longitude look exchanged.")).toBeVisible();
  await page.getByRole("button", { name: /^Use 70\.3500° N, 12\.9000° E instead/u }).click();
  await expect(page.getByText("Latitude and longitude look exchanged.")).toHaveCount(0);
});

test("fuel that is missing is said by how much, and taking the remedy mends it", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  // Near enough to the base that its weather counts for the scene and the hospital: elsewhere no fuel makes it acceptable.
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  await page.getByRole("button", { name: /^Teistøy hospital/u }).click();
  await expect(verdict(page)).toHaveText(/^Acceptable/u);
  await page.getByRole("textbox", { name: "Fuel on board" }).fill("40");
  await expect(verdict(page)).toHaveText("Not acceptable");
  await expect(page.locator(".verdict-then")).toContainText(/Fuel binds first: \d+ kg short/u);
  const add = page.locator(".call-help").filter({ hasText: /^Add \d+ kg of fuel/u });
  await expect(add).toContainText("0 kg left");
  await add.getByRole("button", { name: /^Take this/u }).click();
  await expect(verdict(page)).toHaveText(/^Acceptable/u);
  await expect(page.getByRole("textbox", { name: "At most how high" })).toHaveValue("100");
  await expect(page.getByRole("textbox", { name: "Fuel on board" })).toHaveValue(/^2\d\d$/u);
});

test("what no fuel mends is not offered fuel", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.35 12.9");
  await page.getByRole("textbox", { name: "Fuel on board" }).fill("40");
  await expect(verdict(page)).toHaveText("Not acceptable");
  await expect(page.getByText("No change that is known here makes it acceptable.")).toBeVisible();
  await expect(page.getByText(/^Ceiling at 70\.3500° N, 12\.9000° E/u)).toBeVisible();
  await expect(page.locator(".call-help")).toHaveCount(0);
});

test("a tap on the map is a place", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await page.locator(".call-map svg").click({ position: { x: 150, y: 120 } });
  await expect(page.locator(".verdict-then")).toContainText("binds first");
});

test("it fits every size in every light", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await takePictures(page, "call", async (shown) => {
    await shown.getByRole("textbox", { name: "Where", exact: true }).fill("70.35 12.9");
    await expect(shown.locator(".margin").first()).toBeVisible();
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const width = await shown.evaluate(() => document.documentElement.scrollWidth);
      expect(width).toBeLessThanOrEqual(viewport.width);
    }
  });
});
