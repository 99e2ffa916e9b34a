// Call in a real browser: the place alone gives a first answer; a place is read as it is called out, or told why not; a tap on
// the map is a place.
import type { Page } from "@playwright/test";
import { expect, test } from "./harness/preen-test.ts";

async function enterAt(page: Page, path: string): Promise<void> {
  await page.goto("/");
  await page.getByRole("button", { name: /^Holm/u }).click();
  for (const digit of "1470") await page.getByRole("button", { name: digit, exact: true }).click();
  await page.getByRole("button", { name: "Enter", exact: true }).click();
  await expect(page.getByRole("navigation")).toBeVisible({ timeout: 30_000 });
  await page.goto(path);
}

const verdict = (page: Page) => page.locator(".verdict-words");

test("a place alone gives a first answer, by way of every hospital, with the margin that binds first", async ({
  page,
}) => {
  await enterAt(page, "/craft/skjaer/call");
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
  await enterAt(page, "/craft/skjaer/call");
  const where = page.getByRole("textbox", { name: "Where", exact: true });
  await where.fill("N70°21.0' E012°54.0'");
  await expect(page.getByText("read as 70.3500° N, 12.9000° E", { exact: false })).toBeVisible();
  await where.fill("70 61 N 12 54 E");
  await expect(page.getByText("Minutes and seconds go up to 59")).toBeVisible();
});

test("a tap on the map is a place", async ({ page }) => {
  await enterAt(page, "/craft/skjaer/call");
  await page.locator(".call-map svg").click({ position: { x: 150, y: 120 } });
  await expect(page.locator(".verdict-then")).toContainText("binds first");
});
