// Fuel in a real browser: a filling with its balance and sample, what does not agree said and kept, the base's tank sampled,
// shut and counted, and what it says of machines that took from it.
import { AxeBuilder } from "@axe-core/playwright";
import { expect, test } from "./harness/fresh-test.ts";
import { enterAs, typePin } from "./harness/people.ts";
import type { Page } from "@playwright/test";

const field = (page: Page, name: string | RegExp) =>
  page.getByRole("textbox", { name, exact: typeof name === "string" });
const choose = (page: Page, name: string | RegExp) =>
  page.getByRole("radio", { name, exact: true }).check({ force: true });
const sheet = (page: Page) => page.locator("dialog[open]").last();

async function from(page: Page, tank: string): Promise<void> {
  await page.getByRole("button", { name: /From which tank/u }).click();
  await sheet(page).getByRole("button", { name: tank }).click();
}

/** Everything but the amount and its unit. */
async function fillRest(page: Page, after: string, sample: string): Promise<void> {
  await field(page, /In the tanks before/u).fill("180");
  await field(page, "Density at 15 °C").fill("0.8");
  await field(page, /In the tanks after/u).fill(after);
  await choose(page, "Jet A-1");
  await choose(page, sample);
}

test("a filling agrees or is asked about with the unit that would fit, and what is open says what is missing", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/fuel");
  await expect(page.getByText("Nothing speaks against the fuel aboard")).toBeVisible();
  await page.getByRole("button", { name: /^Fill fuel/u }).click();
  const save = page.getByRole("button", { name: /Record the filling/u });
  await expect(save).toContainText("Say from where it came");
  await from(page, "north tank");
  await field(page, "Filled").fill("250");
  await fillRest(page, "380", "clear and bright");
  await expect(save).toContainText("Say in which unit");
  await choose(page, "kg");
  await expect(page.getByText("50 kg apart, at most", { exact: false })).toBeVisible();
  await expect(page.getByText("It would agree in L.")).toBeVisible();
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await choose(page, "L");
  await expect(page.getByText("0 kg apart, within", { exact: false })).toBeVisible();
  await field(page, "Filled").fill("2x0");
  await expect(save).toContainText("Say how much was filled");
  await expect(field(page, "Filled")).toHaveValue("2x0");
  await field(page, "Filled").fill("250");
  await choose(page, "kg");
  await save.click();
  await expect(page.getByText("before, filled in and after do not agree", { exact: false })).toBeVisible();
  await page.goto("/craft/skjaer");
  await expect(page.getByText("Not known", { exact: true }).first()).toBeVisible();
});

test("a filling without a sample stands as not known until the machine's own drains are sampled clear", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/fuel");
  await page.getByRole("button", { name: /^Fill fuel/u }).click();
  await from(page, "Elsewhere");
  await field(page, "Filled").fill("250");
  await choose(page, "L");
  await fillRest(page, "380", "not taken yet");
  await page.getByRole("button", { name: /Record the filling/u }).click();
  await expect(page.getByText("was filled in and not sampled", { exact: false })).toBeVisible();
  await page.getByRole("button", { name: /^Sample the machine/u }).click();
  await choose(page, "clear and bright");
  await page.getByRole("button", { name: /Record the sample/u }).click();
  await expect(page.getByText("Nothing speaks against the fuel aboard")).toBeVisible();
});

test("water in the base's tank bars it, says so at the next filling and on the machines filled from it", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/fuel");
  const tank = page.getByRole("article", { name: "north tank" });
  await expect(tank).toContainText("Gives fuel");
  await tank.getByRole("button", { name: "Sample and dip" }).click();
  await choose(page, "water in it");
  await choose(page, "none found");
  await expect(sheet(page)).toContainText("The tank gives no fuel from now on");
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await field(page, "Dipped, litres").fill("1500");
  await sheet(page).getByRole("button", { name: /^Sign/u }).click();
  await expect(tank).toContainText("Gives no fuel");
  await expect(tank).toContainText("1,440 L to 1,560 L left");
  await expect(tank).toContainText("Low: at or under 2,000 L");
  // Filled yesterday, and the tank's samples were clear until now: the next one after that was.
  await page.getByRole("button", { name: /^Fill fuel/u }).click();
  await from(page, "north tank");
  await expect(sheet(page)).toContainText("No fuel from north tank");
  await field(page, "Filled").fill("250");
  await choose(page, "L");
  await fillRest(page, "380", "clear and bright");
  await page.getByRole("button", { name: /Record the filling/u }).click();
  await expect(page.getByText("was taken from north tank", { exact: false })).toBeVisible();
  await page.goto("/craft/skjaer");
  await expect(page.getByText("Not ready", { exact: true }).first()).toBeVisible();
});

test("a delivery settles and is sampled anew; a tank is shut by anybody and opened by who may", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/fuel");
  const tank = page.getByRole("article", { name: "north tank" });
  await tank.getByRole("button", { name: "Delivery" }).click();
  await field(page, "Docket number").fill("5001");
  await field(page, "Batch or certificate").fill("invented-9");
  await field(page, "Grade").fill("Jet A-1");
  await field(page, "Filled").fill("3000");
  await choose(page, "L");
  await field(page, "Density at 15 °C").fill("0.802");
  await sheet(page).getByRole("button", { name: /^Sign/u }).click();
  await expect(tank).toContainText("still settling");
  await expect(tank).toContainText("docket 5001");
  await tank.getByText("More", { exact: true }).click();
  await tank.getByRole("button", { name: "Shut it" }).click();
  await field(page, "Why").fill("smells of something else");
  await sheet(page).getByRole("button", { name: /^Sign/u }).click();
  await expect(tank).toContainText("It was shut");
  await expect(tank.getByRole("button", { name: /Open it again/u })).toHaveAttribute("aria-disabled", "true");
  await page.goto("/enter");
  await page.getByRole("button", { name: /^Brekke/u }).click();
  await typePin(page, "Brekke");
  await expect(page.getByRole("link", { name: /Tinde/u })).toBeVisible({ timeout: 30_000 });
  await page.goto("/craft/skjaer/fuel");
  await tank.getByRole("button", { name: /Open it again/u }).click();
  await field(page, "Why").fill("tanker's hose, cleaned");
  await sheet(page).getByRole("button", { name: /^Sign/u }).click();
  await expect(tank).not.toContainText("It was shut");
});

test("the office sets what a flight carries beyond the rule set, and every call follows it", async ({
  page,
}) => {
  await enterAs(page, "Sund", "/craft/skjaer/fuel");
  const scheme = page.getByRole("region", { name: "What a flight carries beyond the rule set" });
  await expect(scheme).toContainText("10 % of the trip as contingency, 5 kg extra");
  await scheme.getByRole("button", { name: "Set it" }).click();
  await field(page, "Extra, kg").fill("4O");
  await expect(page.getByRole("button", { name: /^Sign/u })).toContainText("Fill in what is open above");
  await field(page, "Extra, kg").fill("40");
  await choose(page, "local, 30 min");
  await field(page, "By which page of the manual").fill("part A 8.1.7");
  await page.getByRole("button", { name: /^Sign/u }).click();
  await expect(scheme).toContainText("40 kg extra");
  await expect(scheme).toContainText("30 min at cruise");
  await expect(scheme).toContainText("part A 8.1.7");
});
