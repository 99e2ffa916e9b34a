// A walk on paper: printed with its code, typed in afterwards under that code and no other, signed, and told as paper.
import { sizes } from "./harness/preen-test.ts";
import { enterAs } from "./harness/people.ts";
import { expect, goTo, openPage, signAs, test } from "./harness/walker.ts";
import type { Page } from "@playwright/test";

async function launchPaper(page: Page, craft: string, button: RegExp): Promise<void> {
  await goTo(page, craft, "walk");
  await page.getByRole("radio", { name: /^Launch walk/u }).check({ force: true });
  await page.getByRole("button", { name: button }).click();
  await expect(page.getByRole("heading", { name: /Launch walk on paper/u, level: 1 })).toBeVisible();
}

async function codeOf(page: Page, craft: string): Promise<string> {
  await launchPaper(page, craft, /^Print/u);
  return (await page.locator(".paper-code").textContent()) ?? "";
}

test("a walk is printed, walked, typed in under its code, and holds as walked on paper", async ({
  context,
}) => {
  test.setTimeout(120_000);
  const page = await openPage(context, sizes.tablet);
  await enterAs(page, "Ravn");
  const other = await codeOf(page, "myr");
  const code = await codeOf(page, "skjaer");
  expect(code).toMatch(/^[2-9A-Z]{4}-[2-9A-Z]{5}-[2-9A-Z]$/u);
  expect(code).not.toBe(other);
  await expect(page.locator(".paper-plan")).toHaveText(/^[0-9a-f]{64}$/u);

  // On the printed page stand the items with their boxes, the lines to write on, and nothing that can only be pressed.
  const items = await page.locator(".paper-items tr").count();
  expect(items).toBeGreaterThan(12);
  expect(await page.locator(".paper-box").count()).toBe(3 * items);
  await page.emulateMedia({ media: "print" });
  await expect(page.getByText("Begun at")).toBeVisible();
  await expect(page.getByText("The operator's approved documents prevail")).toBeVisible();
  await expect(page.getByRole("button", { name: "Print", exact: true })).toBeHidden();
  await page.emulateMedia({ media: "screen" });

  await launchPaper(page, "skjaer", /^Type a paper in/u);
  const field = (name: string) => page.getByRole("textbox", { name });
  const sign = page.getByRole("button", { name: /^Sign as walked on paper/u });
  await field("Code").fill(other);
  await expect(page.getByText(/This is not the plan of now/u).first()).toBeVisible();
  await field("Code").fill(`${code.slice(0, -1)}${code.endsWith("2") ? "3" : "2"}`);
  await expect(page.getByText("One of the signs is not what was printed").first()).toBeVisible();
  await field("Code").fill(code.slice(0, 5));
  await expect(page.getByText("Ten signs are needed").first()).toBeVisible();
  await field("Code").fill(code.toLowerCase().replaceAll("-", " "));
  await expect(sign).toContainText("Say on which day it was walked");
  await page.getByRole("radio", { name: "today" }).check({ force: true });
  await field("Begun at").fill("09:25");
  await field("Ended at").fill("09:50");
  await expect(
    page.getByText("The end comes after the beginning, and neither lies ahead").first(),
  ).toBeVisible();
  await field("Ended at").fill("09:35");
  await expect(sign).toContainText(`${items} items are not marked`);
  for (const all of await page.getByRole("button", { name: "all good here" }).all()) await all.click();
  await sign.click();
  await signAs(page, "Ravn");
  await expect(page.getByRole("heading", { level: 1, name: /^Ready/u })).toBeVisible({ timeout: 20_000 });
  await goTo(page, "skjaer", "walk");
  await expect(page.getByText(/^Launch walk holds until/u)).toContainText("Launch walk holds until");
  await expect(page.getByText(/signed 09:35 by Ravn, on paper/u)).toBeVisible();
});

test("what was found on paper is a finding like any other, and a paper of yesterday holds no more", async ({
  context,
}) => {
  test.setTimeout(120_000);
  const page = await openPage(context, sizes.phone);
  await enterAs(page, "Lind");
  const code = await codeOf(page, "tinde");
  await launchPaper(page, "tinde", /^Type a paper in/u);
  await page.getByRole("textbox", { name: "Code" }).fill(code);
  await page.getByRole("radio", { name: "yesterday" }).check({ force: true });
  await page.getByRole("textbox", { name: "Begun at" }).fill("23:50");
  await page.getByRole("textbox", { name: "Ended at" }).fill("00:05");
  await expect(page.getByText(/The time of this walk is over/u)).toBeVisible();
  for (const all of await page.getByRole("button", { name: "all good here" }).all()) await all.click();
  const first = page.locator(".paper-item").first();
  await first.getByRole("radio", { name: "finding" }).check({ force: true });
  const sign = page.getByRole("button", { name: /^Sign as walked on paper/u });
  await expect(sign).toContainText("Say in words what was found");
  await first.getByRole("textbox", { name: "In words" }).fill("ice under the left skid");
  await sign.click();
  await signAs(page, "Lind");
  await expect(page.getByRole("heading", { level: 1, name: "Not ready" })).toBeVisible({ timeout: 20_000 });
  await goTo(page, "tinde", "findings");
  await expect(page.getByText(/ice under the left skid/u).first()).toBeVisible({ timeout: 15_000 });
  await goTo(page, "tinde", "walk");
  await expect(page.getByText(/on paper/u)).toHaveCount(0);
});
