// What offices sign, in a real browser: each form by its role, new counters with a reason, work done, a deferral in words and
// extended once, papers with the last day that follows, minima confirmed and replaced by a person.
import { choose, citeField, setWorksheet } from "./harness/forms.ts";
import { enterAs } from "./harness/people.ts";
import { demoClock, expect as plainly, takePictures, test } from "./harness/preen-test.ts";

// A page that is loaded anew folds fourteen months first, beside whatever else the machine does.
const expect = plainly.configure({ timeout: 30_000 });

test("a pilot signs nothing of the office; the airworthiness office signs new counters with a reason", async ({
  context,
}) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(20_000);
  await enterAs(page, "Ravn", "/craft/tinde/office");
  await expect(page.getByRole("button", { name: /^Sign new counters/u })).toHaveAttribute(
    "aria-disabled",
    "true",
  );
  await enterAs(page, "Sund", "/craft/tinde/office");
  await page.getByRole("button", { name: /^Sign new counters/u }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("textbox", { name: "Flight hours" }).fill("1300.5");
  for (const name of ["Landings", "Engine starts", "Hoist cycles"])
    await dialog.getByRole("textbox", { name }).fill("5000");
  await expect(dialog.getByText("State what is missing")).toBeVisible();
  await dialog.getByRole("textbox", { name: "Reason" }).fill("hour meter changed");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(dialog).toBeHidden();
  await expect(page.getByText("hour meter changed")).toBeVisible();
  await page.goto("/craft/tinde/flights");
  await expect(page.getByText("1,300.5").first()).toBeVisible();
});

test("an engineer records work with its date; a date ahead is not taken, and what was typed stands", async ({
  context,
}) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(20_000);
  await enterAs(page, "Brekke", "/craft/skjaer/office");
  await page.getByRole("button", { name: /^Work done/u }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: /^Task/u }).click();
  await page.getByRole("button", { name: "Compressor wash" }).click();
  await dialog.getByRole("textbox", { name: "Done on" }).fill("2026-11-31");
  await expect(dialog.getByText("is no date", { exact: false })).toBeVisible();
  await dialog.getByRole("textbox", { name: "Done on" }).fill("2026-12-24");
  await dialog.getByRole("textbox", { name: "Licence or authorisation" }).fill("invented 66-1");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(dialog.getByText("done in the future", { exact: false })).toBeVisible();
  await expect(dialog.getByRole("textbox", { name: "Done on" })).toHaveValue("2026-12-24");
  await dialog.getByRole("textbox", { name: "Done on" }).fill("2026-11-25");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(dialog).toBeHidden();
});

test("a deferral says its last day in words with the rule, and is extended once", async ({ context }) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(20_000);
  await enterAs(page, "Sund", "/craft/skjaer/office");
  await page.getByRole("button", { name: /^Extend a deferral/u }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("button", { name: /^Which deferral/u }).click();
  await page.getByRole("button", { name: "Landing light" }).click();
  await expect(dialog.getByText("New last day 10 December 2026, by ORO.MLR.105(f)")).toBeVisible();
  for (const group of [
    "Beyond the operator's control",
    "The authority was notified",
    "A plan for the repair is made",
  ])
    await choose(page, group, "yes");
  await dialog.getByRole("textbox", { name: "Remarks" }).fill("part on its way");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(dialog).toBeHidden();
  await page.goto("/craft/skjaer/runsOut");
  await expect(page.getByText("extended once", { exact: false })).toBeVisible();
  await page.goto("/craft/skjaer/office");
  await page.getByRole("button", { name: /^Extend a deferral/u }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /^Which deferral/u })
    .click();
  await page.getByRole("button", { name: "Landing light" }).click();
  await expect(page.getByText("It was extended once already").first()).toBeVisible();
});

test("the administrator replaces the minima by the operator's own figures, with their citation", async ({
  context,
}) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(20_000);
  await enterAs(page, "Vik", "/operator");
  await expect(page.getByText("this is the table of 2012", { exact: false })).toBeVisible();
  await page.getByRole("button", { name: "Put the operator's own figures in its place" }).click();
  const dialog = page.getByRole("dialog");
  await choose(page, "Light", "night");
  await choose(page, "Pilots", "1");
  await dialog.getByRole("textbox", { name: "Ceiling from, step 1 (ft)" }).fill("1500");
  await dialog.getByRole("textbox", { name: "Visibility at least, step 1 (m)" }).fill("5000");
  await expect(dialog.getByText("State every figure and its citation")).toBeVisible();
  await dialog
    .getByRole("textbox", { name: "By which paragraph of which manual" })
    .fill("OM A 8.1 (invented)");
  await dialog.getByRole("textbox", { name: "Edition" }).fill("7");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(page.getByText("replaced: OM A 8.1 (invented), edition 7")).toBeVisible();
  await expect(page.getByText("this is the table of 2012", { exact: false })).toBeHidden();

  await page.getByRole("button", { name: "Record a paper" }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /^Person/u })
    .click();
  await page.getByRole("button", { name: "Lind", exact: true }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /^Paper/u })
    .click();
  await page.getByRole("button", { name: "hoist check" }).click();
  await page.getByRole("textbox", { name: "Issued or passed on" }).fill("2026-11-20");
  await page.getByRole("textbox", { name: "Last day it states, if it does" }).fill("2026-11-19");
  await page.getByRole("dialog").getByRole("button", { name: "Sign it" }).click();
  await expect(page.getByText("expires before it was issued", { exact: false })).toBeVisible();
  await page.getByRole("textbox", { name: "Last day it states, if it does" }).fill("2027-11-30");
  await page.getByRole("dialog").getByRole("button", { name: "Sign it" }).click();
  await expect(page.getByText("30 November 2027")).toBeVisible();
});

test("the administrator says what a kind of flying asks, what the table binds, the factors of the worksheet, hours and rest", async ({
  context,
}) => {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(20_000);
  await enterAs(page, "Vik", "/operator");
  const dialog = page.getByRole("dialog").first();
  const pick = async (label: RegExp, name: string | RegExp): Promise<void> => {
    await dialog.getByRole("button", { name: label }).click();
    await page.getByRole("dialog").last().getByRole("button", { name, exact: true }).click();
  };
  const type = (name: string, text: string): Promise<void> =>
    dialog.getByRole("textbox", { name, exact: true }).fill(text);
  const sign = async (): Promise<void> => {
    await dialog.getByRole("button", { name: "Sign it" }).click();
    await expect(page.getByRole("dialog")).toHaveCount(0);
  };
  await page.getByRole("button", { name: "Set what a kind of flying asks of its crew" }).click();
  await pick(/^Kind of flying/u, /^Transfer/u);
  await dialog.getByRole("checkbox", { name: "minutes by instruments" }).check({ force: true });
  await dialog.getByRole("checkbox", { name: "instrument rating" }).check({ force: true });
  await sign();
  await expect(page.getByText("minutes by instruments, instrument rating").last()).toBeVisible();

  await page.getByRole("button", { name: "Ask more recent flying than the rule set" }).click();
  await pick(/^Recent flying/u, "landings");
  await type("How many are needed", "2");
  await type("within days", "200");
  await type(citeField, "OM D 2 (invented)");
  await sign();
  await expect(page.getByText("2 landings within 200 days")).toBeVisible();

  await setWorksheet(page);
  await expect(
    page.getByText("Worksheet of risk: 3 factors, released by the management above 8"),
  ).toBeVisible();

  await page.getByRole("button", { name: "Say what the table of minima binds" }).click();
  await pick(/^Kind of flying/u, /^Transfer/u);
  await choose(page, "The table binds it", "yes");
  await choose(page, "Performance class", "1");
  await type("Visibility of the airspace (m)", "5000");
  await type(citeField, "OM A 8.1 (invented)");
  await sign();
  await expect(page.getByText(/^The table binds: .*transfer/iu)).toBeVisible();

  await page.getByRole("button", { name: "State hours in command" }).click();
  await pick(/^Person/u, "Ravn");
  await type("On, or until", "2026-11-20");
  await type("In command, all", "1200");
  await type("In command of helicopters", "1300");
  await type("In an environment like this one", "700");
  await type("In command by night and by sight", "90");
  await choose(page, "Came to command as a co-pilot of HEMS flights", "no");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(dialog.getByText("more hours of a part than of the whole", { exact: false })).toBeVisible();
  await expect(dialog.getByRole("textbox", { name: "In command of helicopters" })).toHaveValue("1300");
  await type("In command of helicopters", "1100");
  await sign();
  await expect(page.getByText("Ravn: hours as of 20 November 2026")).toBeVisible();

  await page.getByRole("button", { name: "Record a rest" }).click();
  await pick(/^Person/u, "Ravn");
  await type("Rest from, date", "2026-11-23");
  await type("Rest from, time", "24:00");
  await type("Rest until, date", "2026-11-24");
  await type("Rest until, time", "20:00");
  await expect(dialog.getByText("“24:00” is no time of day", { exact: false })).toBeVisible();
  await type("Rest from, time", "18:00");
  await type("Rest until, date", "2026-12-24");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(dialog.getByText("the rest is not over", { exact: false })).toBeVisible();
  await type("Rest until, date", "2026-11-24");
  await sign();
});

test("office and operator fit every size in every light", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/skjaer/office");
  await takePictures(page, "office", async (shown) => {
    await expect(shown.getByRole("heading", { name: "Opening balance" })).toBeVisible();
  });
  await page.goto("/operator");
  await takePictures(page, "operator", async (shown) => {
    await expect(shown.getByRole("heading", { name: "Weather minima" })).toBeVisible();
  });
});
