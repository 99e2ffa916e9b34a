// The page on charts in a real browser: a chart read and not read, a mistyped point found, a file out and in, refused by
// its lines, the sheet never changed; pictures in every size and light.
import { readFileSync } from "node:fs";
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, takePictures, test } from "./harness/preen-test.ts";

async function enterCharts(page: Page, chart = ""): Promise<void> {
  await enterAs(page, "Ravn", `/sheets/quill@1${chart}`);
  await expect(page.getByRole("heading", { name: "Sheets" })).toBeVisible();
}

const hover = "/hoverOutOfGroundEffect2H";

test("a chart of steps is read through all of them, and outside it is not known", async ({ page }) => {
  await enterCharts(page, hover);
  await page.getByRole("textbox", { name: "Pressure altitude, ft" }).fill("2000");
  await page.getByRole("textbox", { name: "Temperature, °C" }).fill("20");
  await page.getByRole("textbox", { name: "Headwind, kt" }).fill("0");
  await expect(page.getByText("Reads 3,280 kg")).toBeVisible();
  await page.getByRole("textbox", { name: "Temperature, °C" }).fill("41");
  await expect(
    page.getByText("Not known: temperature 41 °C is outside −40 °C … 40 °C.", { exact: false }),
  ).toBeVisible();
});

test("points, neighbours, control points and coverage stand beside the picture", async ({ page }) => {
  await enterCharts(page, hover);
  await page.getByRole("radio", { name: "1. mass in calm air" }).check({ force: true });
  await expect(page.getByRole("img", { name: /^Mass in calm air: the copied points/u })).toBeVisible();
  await page.getByRole("button", { name: "Show every point" }).click();
  const points = page.getByRole("table", { name: /stand/u });
  expect(await points.getByRole("row").count()).toBe(43);
  await expect(page.getByRole("table", { name: "Control points" })).toContainText("2,880 kg");
  await expect(page.getByText("pressure altitude 0 ft to 10,000 ft", { exact: false })).toBeVisible();
});

test("a file goes out and in; a mistyped digit stands out, a fault is told by its line, the sheet stays", async ({
  page,
}) => {
  await enterCharts(page, "/hoverInGroundEffect2H");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as CSV" }).click(),
  ]);
  const csv = readFileSync(await download.path(), "utf8");
  expect(csv.split("\r\n")[0]).toBe(
    "curve pressureAltitude_ft falling,along temperature_C pchip falling,result mass_kg",
  );
  const file = page.locator('input[type="file"]');
  await file.setInputFiles({
    name: "typo.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(csv.replace("10000,-20,2875", "10000,-20,2785")),
  });
  await expect(page.getByText("Shown is typo.csv, not the sheet")).toBeVisible();
  await expect(page.getByRole("table", { name: /stand/u })).toContainText("10,000 ft, −20 °C");
  await page.getByRole("button", { name: "Back to the sheet" }).click();
  await expect(page.getByText("Shown is typo.csv", { exact: false })).toBeHidden();
  await file.setInputFiles({
    name: "wrong.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(csv.replace("4000,20,3235", "4000,20,3535").replace("2000,30,3405", "2000,30,x")),
  });
  await expect(page.getByText("wrong.csv: 1 error; the file is not shown")).toBeVisible();
  await expect(page.getByText("Line 15, column 3")).toBeVisible();
  await file.setInputFiles({
    name: "up.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(csv.replace("4000,20,3235", "4000,20,3535")),
  });
  await expect(page.getByText("breaks the declared direction", { exact: false }).first()).toBeVisible();
  await expect(page.getByText("Line 22", { exact: false }).first()).toBeVisible();
});

test("the page is usable by keyboard and screen reader, in German too, and shown in every size and light", async ({
  page,
}) => {
  await enterCharts(page, "/climbOneEngine");
  await expect(page.getByRole("img", { name: /^Climb with one engine/u })).toBeVisible();
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations).toEqual([]);
  await takePictures(page, "charts-grid", async (shown) => {
    await expect(shown.getByRole("img", { name: /^Climb with one engine/u })).toBeVisible();
  });
  await page.goto("/sheets/quill@1/hoverInGroundEffect2H");
  await takePictures(page, "charts-family", async (shown) => {
    await expect(shown.getByRole("img", { name: /^Hover in ground effect/u })).toBeVisible();
  });
  await page.goto("/sheets");
  await takePictures(page, "charts-list", async (shown) => {
    await expect(shown.getByText("Performance charts")).toBeVisible();
  });
  await page.evaluate(() => localStorage.setItem("preen.language", "de"));
  await page.goto("/sheets/quill@1/climbOneEngine");
  await expect(page.getByRole("heading", { name: "Steigen mit einem Triebwerk" })).toBeVisible();
  await expect(page.getByText("Kontrollpunkte", { exact: true })).toBeVisible();
});
