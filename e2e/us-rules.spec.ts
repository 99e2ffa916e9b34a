// Under the US rules a call asks for what no standing can know: the worksheet of risk signed since the last landing, and the
// highest obstacle of the route written down, which the height of cruise has to clear.
import type { Page } from "@playwright/test";
import { choose, citeField, setWorksheet } from "./harness/forms.ts";
import { enterAs } from "./harness/people.ts";
import { demoClock, expect as plainly, test } from "./harness/preen-test.ts";

const expect = plainly.configure({ timeout: 30_000 });
const margin = (page: Page, name: string) => page.locator(".margin", { hasText: name });

test("a call is held to its worksheet and to the obstacle of its route", async ({ context }) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(20_000);
  await enterAs(page, "Vik", "/operator");
  const dialog = page.getByRole("dialog").first();
  await setWorksheet(page);
  await page.getByRole("button", { name: "Set the crew rules" }).click();
  await choose(page, "Rule set", "US");
  await choose(page, "Duty counts by", "14 CFR 135.267");
  await choose(page, "One pilot by night in defined areas", "no");
  await dialog.getByRole("textbox", { name: citeField }).fill("OM A 7 (invented)");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(page.getByText("US: the built-in figures")).toBeVisible();

  await enterAs(page, "Holm", "/craft/skjaer/call");
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.25 12.4");
  await expect(margin(page, "Worksheet of risk")).toContainText("not met: not signed");
  await expect(margin(page, "Highest obstacle")).toContainText("not known: not written down");
  await page.getByRole("textbox", { name: "Highest obstacle of the route, above the sea" }).fill("900");
  await expect(margin(page, "Highest obstacle")).toContainText("met");
  await page.getByText("Leave later, another height, another seat").click();
  await page.getByRole("textbox", { name: "Height of cruise above the sea" }).fill("1000");
  await expect(margin(page, "Highest obstacle")).toContainText("200 ft short");

  await page.goto("/craft/skjaer/flights");
  await page.getByRole("button", { name: /worksheet/iu }).click();
  for (const name of ["Terrain", "Sleep", "Cloud"]) await page.getByRole("textbox", { name }).fill("1");
  await choose(page, "Did another operator refuse this flight?", "no");
  await page.getByRole("dialog").getByRole("button", { name: "Sign it" }).click();
  await expect(page.getByRole("dialog")).toHaveCount(0);
  await page.goto("/craft/skjaer/call");
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.25 12.4");
  await expect(margin(page, "Highest obstacle")).toBeVisible();
  await expect(margin(page, "Worksheet of risk")).toHaveCount(0);
});
