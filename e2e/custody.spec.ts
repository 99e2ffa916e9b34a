// Custody: a machine given to maintenance is not ready and its walks are over; it comes back by a release, inspected by a
// second person where work was done at controls, and what was worked on is looked at again item by item.
import { sizes } from "./harness/preen-test.ts";
import { enterAs } from "./harness/people.ts";
import { expect, goTo, openPage, quill, signAs, test } from "./harness/walker.ts";
import type { Page } from "@playwright/test";

/** The machine's standing lists a reason with these words, or does not. */
async function tellsWhy(page: Page, words: RegExp, is: boolean): Promise<void> {
  await goTo(page, "skjaer");
  const reasons = page.getByRole("main").getByText(words);
  if (is) await expect(reasons.first()).toBeVisible({ timeout: 15_000 });
  else await expect(reasons).toHaveCount(0);
}

test("a machine goes to maintenance and comes back with a release, a second person's inspection and a new walk", async ({
  context,
}) => {
  test.setTimeout(180_000);
  const page = await openPage(context, sizes.phone);
  await enterAs(page, "Ravn");
  await goTo(page, "skjaer");
  await expect(page.getByRole("heading", { level: 1, name: /^Ready/u })).toBeVisible();

  // Given away, with a reason and an expected end.
  await goTo(page, "skjaer", "custody");
  await page.getByRole("button", { name: /^Give it to/u }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("radio", { name: "Maintenance" }).check({ force: true });
  const record = dialog.getByRole("button", { name: /^Record it/u });
  await expect(record).toContainText("Say why");
  await dialog.getByRole("textbox", { name: /^Why/u }).fill("tail rotor pitch link stiff");
  await dialog.getByRole("textbox", { name: /^Expected end/u }).fill("25:00");
  await expect(record).toBeDisabled();
  await dialog.getByRole("textbox", { name: /^Expected end/u }).fill("14:30");
  await record.click();
  await expect(page.getByRole("heading", { name: "Maintenance has it" })).toBeVisible();
  await tellsWhy(page, /Maintenance has the machine/u, true);
  await expect(page.getByRole("heading", { level: 1, name: "Not ready" })).toBeVisible();
  await tellsWhy(page, /expected until 14:30/u, true);
  // Its walk is over, and a crew member cannot release it.
  await tellsWhy(page, /maintenance had the machine/u, true);
  await goTo(page, "skjaer", "custody");
  await expect(page.getByRole("button", { name: /^Release work/u })).toHaveCount(0);

  // Taken back without a release it is not ready.
  await page.getByRole("button", { name: /^Take over/u }).click();
  await dialog.getByRole("button", { name: /^Take over/u }).click();
  await expect(page.getByRole("heading", { name: "The crew has it" })).toBeVisible();
  await tellsWhy(page, /The work is not released to service/u, true);

  // The engineer's release: where work was done, what was left open, and the data it was done by.
  await enterAs(page, "Brekke");
  await goTo(page, "skjaer", "custody");
  await page.getByRole("button", { name: /^Release work/u }).click();
  await expect(dialog.getByRole("button", { name: /^Sign the release/u })).toContainText(
    "Licence and data revision",
  );
  await dialog.getByRole("textbox", { name: "Your licence" }).fill("invented 66-1");
  await dialog
    .getByRole("textbox", { name: /^Maintenance data/u })
    .fill("maintenance manual (invented), revision 14");
  await dialog.getByText("Where work was done").click();
  const tail = quill.stops.find(({ id }) => id === "tailRotor")!.name.en;
  await dialog.getByRole("button", { name: new RegExp(`^${tail}`, "iu") }).click();
  await dialog.getByText("Left open").click();
  const open = quill.closures.find(({ stop }) => stop === "tailRotor")!.name.en;
  await dialog.getByRole("button", { name: new RegExp(`^${open}`, "iu") }).click();
  await dialog.getByRole("button", { name: /^Sign the release/u }).click();
  await signAs(page, "Brekke");
  await expect(page.getByText("Not inspected by a second person")).toBeVisible();
  // Nobody inspects their own work.
  await expect(page.getByRole("button", { name: /^Inspect and sign/u })).toBeDisabled();
  await tellsWhy(page, /The work is not released to service/u, false);
  await tellsWhy(page, /needs a second person.s inspection/u, true);

  await enterAs(page, "Foss");
  await goTo(page, "skjaer", "custody");
  await page.getByRole("button", { name: /^Inspect and sign/u }).click();
  await dialog.getByRole("textbox", { name: "Your licence" }).fill("invented 66-2");
  await dialog.getByRole("button", { name: /^Inspect and sign/u }).click();
  await expect(page.getByText(/inspected .* by Foss/u)).toBeVisible();
  await tellsWhy(page, /needs a second person.s inspection/u, false);

  // What is left is the walk and what was left open; where work was done, each item says so.
  await enterAs(page, "Ravn");
  await tellsWhy(page, new RegExp(open, "iu"), true);
  await expect(page.getByRole("heading", { level: 1, name: "Not ready" })).toBeVisible();
  await goTo(page, "skjaer", "walk");
  await page.getByRole("button", { name: /^Begin/u }).click();
  await page.setViewportSize(sizes.desk);
  const stops = page.getByRole("listitem").filter({ hasText: /nobody yet|\d\d:\d\d/u });
  await stops.getByRole("button", { name: new RegExp(`^${tail}`, "iu") }).click();
  await expect(page.locator(".walk-why").first()).toContainText("worked on, released");
  await expect(page.getByRole("button", { name: /^Good/u })).not.toContainText("hold");
});
