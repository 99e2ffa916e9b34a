// Weather and light in a real browser: what is held is shown as issued and decoded, a report can be pasted, a pilot's own
// look stands with its end, and nothing runs out of the screen in any size and light.
import type { Page } from "@playwright/test";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

async function openWeather(page: Page): Promise<void> {
  await page.goto("/");
  await page.getByText("Ravn").first().click();
  for (const digit of "2580") await page.getByRole("button", { name: digit, exact: true }).click();
  await page.getByRole("button", { name: "Enter", exact: true }).click();
  await page.getByRole("link", { name: /Tinde/u }).click();
  // On a phone it stands behind "More".
  const more = page.getByRole("button", { name: "More", exact: true });
  if (await more.isVisible()) await more.click();
  await page.getByRole("link", { name: "Weather and light" }).locator("visible=true").click();
  await expect(page.getByRole("heading", { name: "Reports" })).toBeVisible();
}

test("what is held is shown as it was issued, and group by group", async ({ page }) => {
  await openWeather(page);
  const reports = page.getByRole("region", { name: "Reports" }).getByRole("listitem");
  await expect(reports.filter({ hasText: "METAR ZZSK" })).toContainText("min old");
  const far = reports.filter({ hasText: "ZZTE" });
  await expect(far).toContainText("43 km away");
  await far.getByRole("button", { name: "Group by group" }).click();
  await expect(far).toContainText("broken at");
  await expect(page.getByRole("img", { name: /^Ceiling: from 09:4\d/u })).toBeVisible();
  await expect(page.getByRole("img", { name: /^Light: from 09:4\d day; from 14:50 night/u })).toBeVisible();
});

test("a pasted report is decoded while it is written, and what is not read is marked", async ({ page }) => {
  await openWeather(page);
  await page.getByRole("button", { name: /Write a report/u }).click();
  const dialog = page.getByRole("dialog", { name: "Write a report" });
  await dialog
    .getByRole("textbox")
    .fill("METAR ZZSK 250835Z 24030G45KT 0800 +SHSN WHATEVER VV003 M01/M01 Q0999");
  await expect(dialog).toContainText("heavy snow showers");
  await expect(dialog.locator("[data-unread]")).toContainText("WHATEVER");
  await dialog.getByRole("button", { name: "Keep this report" }).click();
  await expect(dialog).toBeHidden();
  const kept = page.getByRole("listitem").filter({ hasText: "WHATEVER" });
  await expect(kept).toContainText("1 group not read");
  await expect(kept).toContainText("typed by Ravn");
  await page.getByRole("link", { name: "Standing" }).click();
  await expect(page.getByText(/Visibility at Skarvøy 800 m/u).first()).toBeVisible();
});

test("a pilot's own look stands with its author and its end", async ({ page }) => {
  await openWeather(page);
  await page.getByRole("button", { name: /I looked myself/u }).click();
  const dialog = page.getByRole("dialog", { name: "What you see at the base" });
  await dialog.getByRole("radio", { name: "a ceiling" }).check({ force: true });
  await dialog.getByLabel("Height of the ceiling, ft").fill("400");
  await dialog.getByRole("radio", { name: "30 min" }).check({ force: true });
  await dialog.getByRole("button", { name: "This is what I see" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByText("Ceiling 400 ft")).toBeVisible();
  await expect(page.getByText(/Ravn, 09:4\d, counts until 10:1\d/u)).toBeVisible();
});

test("the screen fits every size in every light", async ({ page }) => {
  await openWeather(page);
  await takePictures(page, "weather", async (shown) => {
    await expect(shown.getByRole("heading", { name: "Reports" })).toBeVisible();
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      await expect
        .poll(() => shown.evaluate(() => document.documentElement.scrollWidth))
        .toBeLessThanOrEqual(viewport.width);
    }
  });
});
