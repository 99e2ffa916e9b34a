// Weather and light in a real browser: what is held is shown as issued and decoded, a report can be pasted, a pilot's own
// look stands with its end, and nothing runs out of the screen in any size and light.
import type { Page } from "@playwright/test";
import { enterAs, type Named } from "./harness/people.ts";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

async function openWeather(page: Page, who: Named = "Ravn"): Promise<void> {
  await enterAs(page, who);
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
  const dialog = page.getByRole("dialog", { name: "What you see" });
  await dialog.getByRole("radio", { name: "a ceiling" }).check({ force: true });
  await dialog.getByLabel("Height of the ceiling, ft").fill("400");
  await dialog.getByRole("radio", { name: "30 min" }).check({ force: true });
  await dialog.getByRole("button", { name: "This is what I see" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByText("Ceiling 400 ft")).toBeVisible();
  await expect(page.getByText(/Ravn, 09:4\d, counts until 10:1\d/u)).toBeVisible();
});

test("a look at a valley stands for that valley, and not for the base", async ({ page }) => {
  await openWeather(page);
  await page.getByRole("button", { name: /I looked myself/u }).click();
  const dialog = page.getByRole("dialog", { name: "What you see" });
  await dialog.getByLabel("Seen at").fill("Dypedal");
  await dialog.getByLabel("Visibility, m").fill("600");
  await dialog.getByRole("radio", { name: "30 min" }).check({ force: true });
  await dialog.getByRole("button", { name: "This is what I see" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByRole("heading", { name: "Own observation · Dypedal" })).toBeVisible();
  await page.getByRole("link", { name: "Standing" }).click();
  await expect(page.getByText(/Dypedal/u)).toHaveCount(0);
});

test("a mistyped report is taken back with why, and that it was written stays to be seen", async ({
  page,
}) => {
  await openWeather(page);
  await page.getByRole("button", { name: /Write a report/u }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("textbox").fill("SPECI ZZSK 250838Z 24030KT 0300 FG VV001 M01/M01 Q0999");
  await dialog.getByRole("button", { name: "Keep this report" }).click();
  await expect(dialog).toBeHidden();
  const kept = page.getByRole("listitem").filter({ hasText: "SPECI ZZSK" });
  await kept.getByRole("button", { name: "Write it anew" }).click();
  await dialog.getByRole("textbox").fill("SPECI ZZSK 250838Z 24030KT 3000 BR BKN011 M01/M01 Q0999");
  await dialog.getByRole("button", { name: "Keep this report" }).click();
  await expect(dialog).toBeHidden();
  await expect(kept).toHaveCount(1);
  await expect(kept).toContainText("BKN011");
  await kept.getByRole("button", { name: "Take it back" }).click();
  const button = dialog.getByRole("button", { name: "Take it back" });
  await expect(button).toHaveAttribute("aria-disabled", "true");
  await dialog.getByRole("textbox").fill("of another day");
  await button.click();
  await expect(dialog).toBeHidden();
  await expect(page.getByText(/Ravn, 09:4\d: of another day/u)).toBeVisible();
  await expect(kept).toHaveCount(1);
  await expect(kept.getByRole("button")).toHaveCount(0);
});

test("an arrival is told its worst hour either side, and the group that makes it", async ({ page }) => {
  await openWeather(page);
  const arrival = page.getByRole("region", { name: "Arriving here" });
  const isVisible = arrival.getByText(/Visibility/u).locator("..");
  await arrival.getByRole("radio", { name: "4 h" }).check({ force: true });
  await expect(isVisible).toContainText("10 km or more, by the forecast's base");
  await arrival.getByRole("radio", { name: "8 h" }).check({ force: true });
  await expect(isVisible).toContainText(/1,200 m, by TEMPO/u);
  await expect(arrival).toContainText("snow showers, by TEMPO");
  await expect(arrival).toContainText("night");
  await expect(arrival).toContainText("Every change group counts");
});

test("a pilot reads who sets the limits", async ({ page }) => {
  await openWeather(page);
  const limits = page.getByRole("button", { name: /^Limits/u });
  await expect(limits).toHaveAttribute("aria-disabled", "true");
  await expect(limits).toContainText("the airworthiness office sets these");
});

test("the office describes stations and sets limits", async ({ page }) => {
  await openWeather(page, "Vik");
  await page.getByRole("button", { name: "Describe a station" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog.getByRole("alert")).toContainText("5 entries are missing or wrong.");
  await dialog.getByLabel("Station, four letters").fill("zzno");
  await dialog.getByLabel("Name").fill("Nordholmen");
  await dialog.getByLabel(/^Latitude/u).fill("70.1");
  await dialog.getByLabel(/^Longitude/u).fill("12.2");
  await dialog.getByRole("radio", { name: "everything" }).check({ force: true });
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByText("ZZNO Nordholmen")).toBeVisible();
  await page.getByRole("button", { name: "Limits", exact: true }).click();
  await dialog.getByLabel("A report counts for, min").fill("an hour");
  await dialog.getByLabel("Heading of the machine on its pad, degrees true").fill("240");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog.getByRole("alert")).toContainText("2 entries are missing or wrong.");
  await dialog.getByLabel("A report counts for, min").fill("75");
  await dialog.getByLabel("Heading of the machine on its pad, degrees true").fill("");
  await dialog.getByLabel(/^At most colder/u).fill("7");
  await dialog.getByRole("button", { name: "Save" }).click();
  await expect(dialog).toBeHidden();
  await page.getByRole("button", { name: "Limits", exact: true }).click();
  await expect(dialog.getByLabel(/^At most colder/u)).toHaveValue("7");
  await expect(dialog.getByLabel("A report counts for, min")).toHaveValue("75");
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
