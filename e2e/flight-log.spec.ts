// The flight log in a real browser: a flight begun blocks until it is logged from its draft, what is missing is asked, an
// exceedance stands as an event, a series that would pass a limit has to be split, a correction takes its reason.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { demoClock, expect as plainly, takePictures, test } from "./harness/preen-test.ts";

// A page that is loaded anew folds fourteen months first, beside whatever else the machine does.
const expect = plainly.configure({ timeout: 30_000 });

/** The foot of a sheet covers what lies at its edge, so that a choice is brought to the middle first. */
async function choose(page: Page, group: string, choice: string): Promise<void> {
  const radio = page.getByRole("group", { name: group }).getByRole("radio", { name: choice });
  await radio.evaluate((element) => element.closest("fieldset")?.scrollIntoView({ block: "center" }));
  await radio.check({ force: true });
}

async function stateFigures(page: Page, landings: string): Promise<void> {
  await page.getByRole("textbox", { name: "Landings", exact: true }).fill(landings);
  await page.getByRole("textbox", { name: "Engine starts", exact: true }).fill("1");
  for (const figure of ["Of these by night", "Minutes by instruments"])
    await page.getByRole("textbox", { name: figure, exact: true }).fill("0");
  for (const figure of ["Hoist cycles", "Hoist cycles by night"]) {
    const box = page.getByRole("textbox", { name: figure, exact: true });
    if ((await box.count()) > 0) await box.fill("0");
  }
  await choose(page, "With goggles", "no");
}

test("a flight under way blocks until it is logged, and asks whether a limit was exceeded", async ({
  context,
}) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(15_000);
  await enterAs(page, "Ravn", "/craft/skjaer/runsOut");
  const inspection = page.getByRole("listitem").filter({ hasText: "50-hour inspection" });
  const left = async () =>
    Number(/([\d.]+) flight hours left/u.exec((await inspection.textContent()) ?? "")?.[1]);
  await expect(inspection).toBeVisible();
  const leftBefore = await left();
  await page.getByRole("button", { name: "Flight log" }).click();
  const hours = page.locator("dt", { hasText: "Flight hours" }).locator("xpath=following-sibling::dd[1]");
  const before = Number((await hours.textContent())?.replace(",", ""));
  await page.getByRole("button", { name: "Took off" }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /^Kind of flying/u })
    .click();
  await page.getByRole("button", { name: "day VFR" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Took off" }).click();
  await expect(page.getByText("A flight took off and is not logged")).toBeVisible();
  await page.goto("/craft/skjaer");
  await expect(page.getByText("A flight took off and is not logged").first()).toBeVisible();

  // Half an hour later it is back.
  await page.clock.setFixedTime(new Date(Date.parse(demoClock) + 40 * 60_000));
  await page.goto("/craft/skjaer/flights");
  await page.getByRole("button", { name: "Log a flight" }).click();
  await expect(page.getByText("as it was begun").first()).toBeVisible();
  await page.getByRole("textbox", { name: "Landing", exact: true }).fill("10:10");
  await expect(page.getByText("State every figure", { exact: false })).toBeVisible();
  await stateFigures(page, "2");
  await expect(page.getByText("Say whether a limit was exceeded")).toBeVisible();
  await choose(page, "Was a limit exceeded?", "yes");
  await page.getByRole("button", { name: /What happened/u }).click();
  await page.getByRole("button", { name: "something else" }).click();
  await page
    .getByRole("textbox", { name: "What was exceeded, by how much, how long" })
    .fill("torque 112 %, 2 s");
  await page.getByRole("button", { name: "Record the flight" }).click();
  await expect(page.getByText("A flight took off and is not logged")).toBeHidden();
  await expect(page.getByText("limit exceeded").first()).toBeVisible();
  expect(Number((await hours.textContent())?.replace(",", ""))).toBeCloseTo(before + 0.5, 5);
  await page.goto("/craft/skjaer/runsOut");
  await expect(inspection).toBeVisible();
  expect(await left()).toBeCloseTo(leftBefore - 0.5, 5);
  await page.goto("/craft/skjaer/findings");
  await expect(page.getByText("torque 112 %, 2 s", { exact: false }).first()).toBeVisible({
    timeout: 30_000,
  });
});

test("a landing before the take-off is said, a series over a limit must be split, a correction takes its reason", async ({
  context,
}) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(15_000);
  await enterAs(page, "Ravn", "/craft/tinde/flights");
  await page.getByRole("button", { name: "Log a flight" }).click();
  await page.getByRole("textbox", { name: "Take-off" }).fill("24:00");
  await expect(page.getByText("is no time of day", { exact: false })).toBeVisible();
  await page.getByRole("textbox", { name: "Take-off" }).fill("07:00");
  await page.getByRole("textbox", { name: "Landing", exact: true }).fill("09:30");
  await page.getByRole("textbox", { name: "Flights in this series" }).fill("3");
  await expect(page.getByText("Say how many flights, and how long in the air")).toBeVisible();
  await page.getByRole("textbox", { name: "Time in the air, all flights" }).fill("24");
  await stateFigures(page, "3");
  await page.getByRole("button", { name: /^Kind of flying/u }).click();
  await page.getByRole("button", { name: "day VFR" }).click();
  await choose(page, "Was a limit exceeded?", "no");
  await expect(page.getByText("Log each flight by itself", { exact: false })).toBeVisible();
  // Longer than it lasted: not taken, and said; what was typed stands.
  await page.getByRole("textbox", { name: "Time in the air, all flights" }).fill("2.7");
  await page.getByRole("button", { name: "Record the flight" }).click();
  await expect(page.getByText("flown longer than it lasted", { exact: false })).toBeVisible();
  await expect(page.getByRole("textbox", { name: "Time in the air, all flights" })).toHaveValue("2.7");
  await page.getByRole("textbox", { name: "Time in the air, all flights" }).fill("1.6");
  await page.getByRole("button", { name: "Record the flight" }).click();
  await expect(page.getByText("series of 3", { exact: false })).toBeVisible();

  await page.getByRole("button", { name: "Withdraw it" }).first().click();
  await expect(page.getByText("Give the reason")).toBeVisible();
  await page.getByRole("textbox", { name: "Why" }).fill("entered for another machine");
  await page.getByRole("dialog").getByRole("button", { name: "Withdraw it" }).click();
  await expect(page.getByText("series of 3", { exact: false })).toBeHidden();
});

test("an hour meter that shows less than before makes the standing not known", async ({ context }) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(15_000);
  await enterAs(page, "Ravn", "/craft/tinde/flights");
  await page.getByRole("button", { name: "Read the hour meter" }).click();
  await page.getByRole("textbox", { name: "Hour meter shows" }).fill("900");
  await page.getByRole("button", { name: "Record the reading" }).click();
  await expect(page.getByText("The hour meter shows less than before")).toBeVisible();
  await expect(page.getByText("The hour meter and the flight log differ")).toBeVisible();
});

test("the flight log fits every size in every light", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/skjaer/flights");
  await takePictures(page, "flights", async (shown) => {
    await expect(shown.getByRole("heading", { name: "Counters" })).toBeVisible();
  });
});
