// Power in a real browser: what the charts give at a place, not known outside them, and a power check that is recorded.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, takePictures, test } from "./harness/preen-test.ts";

async function enterPower(page: Page): Promise<void> {
  await enterAs(page, "Ravn", "/craft/tinde/power");
  await expect(page.getByRole("heading", { name: "What the charts give there" })).toBeVisible();
}

async function askAt(page: Page, elevation_ft: number, temperature_C: number): Promise<void> {
  await page.getByRole("textbox", { name: "Elevation" }).fill(String(elevation_ft));
  await page.getByRole("textbox", { name: "QNH" }).fill("1013");
  await page.getByRole("textbox", { name: "Air temperature there" }).fill(String(temperature_C));
  await page.getByRole("button", { name: /^Take .* the load as said/u }).click();
}

test("power is not known until everything was said, then told with its room and what would just be met", async ({
  page,
}) => {
  await enterPower(page);
  await expect(page.getByText("what is not given is not known", { exact: false })).toBeVisible();
  await askAt(page, 6000, 20);
  const hover = page.getByRole("listitem").filter({ hasText: "Hover out of ground effect" });
  await expect(hover).toContainText("not met");
  await expect(hover).toContainText("too much");
  await page.getByRole("textbox", { name: "Air temperature there" }).fill("-10");
  await page.getByRole("textbox", { name: "Elevation" }).fill("200");
  await expect(hover).toContainText(/(?<!not )met/u);
  await expect(hover).toContainText("Largest mass there");
  await page.getByRole("textbox", { name: "Elevation" }).fill("15000");
  await expect(hover).toContainText("not known");
  await expect(hover).toContainText("is outside the chart");
});

test("a headwind counts only in part and only where it was measured", async ({ page }) => {
  await enterPower(page);
  await askAt(page, 4000, 10);
  const hover = page.getByRole("listitem").filter({ hasText: "Hover out of ground effect" });
  await expect(hover).toContainText("read without wind");
  await page.getByRole("radio", { name: "Measured, from ahead" }).check({ force: true });
  await expect(page.getByText("what is not given is not known", { exact: false })).toBeVisible();
  await page.getByRole("textbox", { name: "Component along the nose" }).fill("20");
  await expect(hover).toContainText("counted headwind 10.0 kt");
});

test("a power check tells its margin and its place, and is kept with what was measured", async ({ page }) => {
  await enterPower(page);
  await page.getByRole("radio", { name: "Power check margin, left engine" }).check({ force: true });
  await page.getByRole("textbox", { name: "Torque" }).fill("70");
  await page.getByRole("textbox", { name: "Temperature, °C", exact: true }).fill("0");
  const measured = page.getByRole("textbox", { name: "Gas temperature, as measured" });
  await measured.fill("590");
  // The chart has 574 °C at 70 % and 0 °C.
  await expect(page.getByText("Margin −16.0 °C")).toBeVisible();
  await expect(page.getByRole("alert")).toContainText("does not give full power");
  await measured.fill("560");
  await expect(page.getByText("Margin 14.0 °C")).toBeVisible();
  await page.getByRole("button", { name: "Record the margin" }).click();
  await expect(page.getByText("Recorded: 14.0 °C")).toBeVisible();
  await page.goto("/craft/tinde/levels");
  await page.getByRole("button", { name: /^Power check margin, left engine/u }).click();
  await expect(page.getByText("gasTemperature_C 560", { exact: false }).first()).toBeVisible();
});

test("the screen fits every size in every light", async ({ page }) => {
  await enterPower(page);
  await takePictures(page, "power", async (shown) => {
    await askAt(shown, 4000, 10);
    await expect(shown.getByText("Pressure altitude 4,0", { exact: false })).toBeVisible();
  });
});
