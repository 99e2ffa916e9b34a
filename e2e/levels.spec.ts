// Levels in a real browser: the demo's leak told at a glance and in full; a reading that asks what was meant; what was
// filled; a file out and in, refused by its lines; pictures in every size and light.
import { readFileSync } from "node:fs";
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, takePictures, test } from "./harness/preen-test.ts";

async function enterLevels(page: Page): Promise<void> {
  await enterAs(page, "Ravn", "/craft/tinde/levels");
  await expect(page.getByRole("button", { name: /^Engine oil, left/u })).toBeVisible();
}

test("the demo's leak stands first, and is told in a sentence, a picture and a table", async ({ page }) => {
  await enterLevels(page);
  await expect(page.locator(".level-gauge").first()).toContainText("Engine oil, left");
  await page.getByRole("button", { name: /^Engine oil, left/u }).click();
  await expect(
    page.getByText(/Faster since 1,0\d\d h: 0\.0\d\d L per flight hour, before 0\.03\d L/u),
  ).toBeVisible();
  await expect(page.getByText("If it were only reading scatter", { exact: false })).toBeVisible();
  await expect(page.getByText("Rate: least squares through", { exact: false })).toBeVisible();
  await expect(page.getByRole("img", { name: "Engine oil, left against airframe hours" })).toBeVisible();
  const table = page.getByRole("table");
  await expect(table).toContainText("comparable");
  const before = await table.getByRole("row").count();
  await page.getByRole("button", { name: "Show older" }).click();
  expect(await table.getByRole("row").count()).toBeGreaterThan(before * 2);
});

test("a reading asks what was meant, keeps what was typed, and says whether it compares", async ({
  page,
}) => {
  await enterLevels(page);
  await page.getByRole("button", { name: /^Float bottle/u }).click();
  await page.getByRole("button", { name: /^Read/u }).click();
  const field = page.getByRole("textbox", { name: "Float bottle" });
  await expect(field).toHaveValue("");
  await field.fill("1/2");
  await expect(page.getByText("“1/2” is no reading", { exact: false })).toBeVisible();
  await field.fill("3480");
  await expect(page.getByText("3480 psi would be 240 bar", { exact: false })).toBeVisible();
  await page.getByRole("button", { name: "Take 240 bar" }).click();
  await expect(field).toHaveValue("240");
  await page.getByRole("textbox", { name: "Temperature of the bottle" }).fill("-4");
  await expect(page.getByText("Comparable with the readings before")).toBeVisible();
  await page.getByRole("button", { name: "Save the reading" }).click();
  await expect(page.getByRole("table").getByRole("row").nth(1)).toContainText("240 bar");
});

test("a mistyped reading is taken back with its reason, stays in the table, and is asked for again", async ({
  page,
}) => {
  await enterLevels(page);
  await page.getByRole("button", { name: /^Float bottle/u }).click();
  await page.getByRole("button", { name: /^Read/u }).click();
  await page.getByRole("textbox", { name: "Float bottle" }).fill("231");
  await page.getByRole("textbox", { name: "Temperature of the bottle" }).fill("-4");
  await page.getByRole("button", { name: "Save the reading" }).click();
  const newest = page.getByRole("table").getByRole("row").nth(1);
  await newest.getByRole("button", { name: "Take back 231 bar" }).click();
  const sheet = page.getByRole("dialog");
  await sheet.getByRole("textbox", { name: "What went wrong" }).fill("read the other bottle");
  await sheet.getByRole("button", { name: "Take back", exact: true }).click();
  await expect(newest).toContainText("taken back by Ravn: read the other bottle");
  await expect(newest).toContainText("taken back as mistyped");
  await page.goto("/craft/tinde");
  await expect(page.getByText("Float bottle is to be read again", { exact: false }).first()).toBeVisible();
});

test("what was filled is written with its grade, and asked about when it cannot be", async ({ page }) => {
  await enterLevels(page);
  await page.getByRole("button", { name: /^Engine oil, right/u }).click();
  await page.getByRole("button", { name: /^Filled/u }).click();
  const amount = page.getByRole("textbox", { name: "How much" });
  await amount.fill("9");
  await expect(page.getByText("Was it so much?", { exact: false })).toBeVisible();
  await amount.fill("0.25");
  await expect(page.getByText("Say the grade, or that it is not known")).toBeVisible();
  await page.getByRole("radio", { name: "synthetic turbine oil, 5 cSt" }).check();
  await expect(page.getByText("The gauge should read 0.25 L more")).toBeVisible();
  await page.getByRole("button", { name: "Save what was filled" }).click();
  await expect(page.getByRole("dialog")).toBeHidden();
  await page.goto("/craft/tinde/ledger");
  await expect(page.getByText("Uplift").first()).toBeVisible();
});

test("a file goes out, and comes in whole or not at all", async ({ page }) => {
  await enterLevels(page);
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save as CSV" }).click();
  const text = readFileSync(await (await download).path(), "utf8");
  const [header = ""] = text.split("\r\n");
  expect(header).toContain("kind,gauge,at,value,unit,hours_h");
  const input = page.locator('input[type="file"]');
  await input.setInputFiles({
    name: "held.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(text.slice(0, 3_000) + "\r\n"),
  });
  await expect(page.getByText("Nothing was imported.", { exact: false })).toBeVisible();
  const lines = ["kind,gauge,at,value,unit,hours_h", "reading,brakePads,2025-01-05T08:00Z,8.5,mm,600"];
  await input.setInputFiles({
    name: "old.csv",
    mimeType: "text/csv",
    buffer: Buffer.from(`${lines.join("\n")}\n`),
  });
  await expect(page.getByText("old.csv: 1 reading and 0 uplifts, nothing wrong.")).toBeVisible();
  await page.getByRole("button", { name: "Import them" }).click();
  await expect(page.getByText("old.csv", { exact: false })).toBeHidden();
});

test("a wrong grade is asked about until an engineer settles it; a pilot cannot", async ({ page }) => {
  await enterLevels(page);
  await page.getByRole("button", { name: /^Engine oil, right/u }).click();
  await page.getByRole("button", { name: /^Filled/u }).click();
  await page.getByRole("textbox", { name: "How much" }).fill("0.1");
  await page.getByRole("radio", { name: "another grade" }).check();
  await page.getByRole("textbox", { name: "Which grade" }).fill("olive oil");
  await expect(page.getByText("the sheet does not let grades mix", { exact: false })).toBeVisible();
  await page.getByRole("button", { name: "Save what was filled" }).click();
  await expect(page.getByRole("dialog")).toBeHidden();
  const question = page
    .getByText("filled with a grade that the sheet does not list", { exact: false })
    .first();
  await expect(question).toBeVisible();
  await expect(page.getByRole("button", { name: /^Settle it/u })).toBeHidden();
  await page.goto("/craft/tinde");
  await expect(question).toBeVisible();

  await enterAs(page, "Brekke", "/craft/tinde/levels");
  await page.getByRole("button", { name: /^Engine oil, right/u }).click();
  for (const _ of ["not listed", "mixed"]) {
    await page
      .getByRole("button", { name: /^Settle it/u })
      .first()
      .click();
    await page.getByRole("textbox", { name: "How it was settled" }).fill("drained, flushed, filled anew");
    await page.getByRole("button", { name: "Settle", exact: true }).click();
    await expect(page.getByRole("dialog")).toBeHidden();
  }
  await expect(question).toBeHidden();
  await expect(page.getByRole("button", { name: /^Settle it/u })).toBeHidden();
});

test("the screen fits every size in every light, without a barrier", async ({ page }) => {
  await enterLevels(page);
  await takePictures(page, "levels", async (shown) => {
    await expect(shown.locator(".level-gauge").first()).toBeVisible();
    const width = await shown.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(await shown.evaluate(() => innerWidth));
  });
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(
    violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join(", ")}`),
  ).toEqual([]);
});

test("one gauge fits every size in every light", async ({ page }) => {
  await enterLevels(page);
  await takePictures(page, "levels-one", async (shown) => {
    await shown.setViewportSize({ width: 390, height: 844 });
    await shown.getByRole("button", { name: /^Engine oil, left/u }).click();
    await expect(shown.getByRole("img", { name: /against airframe hours/u })).toBeVisible();
    const width = await shown.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(390);
  });
});
