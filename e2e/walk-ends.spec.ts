// What ends a walk and who may make one: begun yesterday, frost, somebody whose role walks round no machine; marks taken
// back; what a launch walk adds and why.
import { sizes } from "./harness/preen-test.ts";
import { enterAs } from "./harness/people.ts";
import {
  beginWalk,
  expect,
  goTo,
  left,
  markGood,
  openPage,
  signAs,
  walkStop,
  test,
} from "./harness/walker.ts";

const tomorrow = "2026-11-26T07:10:00.000Z";

test("a walk begun yesterday says that its day is over, and gives way to a new one", async ({ context }) => {
  test.setTimeout(120_000);
  const page = await openPage(context, sizes.phone);
  await enterAs(page, "Ravn");
  await beginWalk(page, "myr", /^Full walk/u);
  await markGood(page);
  const before = await left(page);
  await page.clock.setFixedTime(tomorrow);
  await page.reload();
  await expect(page.getByText(/Its day is over: it can no longer hold/u)).toBeVisible({ timeout: 15_000 });
  // Nobody touched it for a night: it stands still, and nothing of it is lost.
  await expect(page.getByRole("heading", { name: "The walk stands still" })).toBeVisible({ timeout: 20_000 });
  await expect(page.getByText("Nobody touched the walk for ten minutes.")).toBeVisible();
  await expect.poll(() => left(page)).toBe(before);
  await page.getByRole("button", { name: /^Void it/u }).click();
  await expect(page.getByRole("button", { name: /^Begin/u })).toBeVisible();
  await page.getByRole("radio", { name: /^Full walk/u }).check({ force: true });
  await page.getByRole("button", { name: /^Begin/u }).click();
  await expect(page.getByRole("button", { name: /^Good/u })).toBeVisible();
  expect(await left(page)).toBe(before + 1);
});

test("frost after the walk ends it: by a person's word, held down, and the standing says so", async ({
  context,
}) => {
  test.setTimeout(120_000);
  const page = await openPage(context, sizes.phone);
  await enterAs(page, "Ravn");
  await goTo(page, "skjaer", "walk");
  await expect(page.getByText(/Full walk holds until/u)).toBeVisible();
  await expect(page.getByText(/Ends before that with .*frost after freezing/u)).toBeVisible();
  const froze = page.getByRole("button", { name: /^It froze/u });
  // A short press ends nothing.
  await froze.click();
  await expect(page.getByText(/Full walk holds until/u)).toBeVisible();
  await froze.hover();
  await page.mouse.down();
  await page.waitForTimeout(1_200);
  await page.mouse.up();
  await expect(page.getByText(/Full walk holds until/u)).toBeHidden();
  await goTo(page, "skjaer");
  await expect(page.getByText(/it froze since/u).first()).toBeVisible();
});

test("who may not walk round a machine cannot begin a walk nor mark in one, and is told why", async ({
  context,
}) => {
  test.setTimeout(120_000);
  const page = await openPage(context, sizes.tablet);
  await enterAs(page, "Sund");
  await goTo(page, "tinde", "walk");
  const begin = page.getByRole("button", { name: /^Begin/u });
  await expect(begin).toContainText("Pilots, crew members and engineers walk round a machine");
  await expect(begin).toBeDisabled();
  await enterAs(page, "Holm");
  await beginWalk(page, "tinde", /^Parking walk/u);
  await enterAs(page, "Sund");
  await goTo(page, "tinde", "walk");
  await expect(page.getByRole("heading", { level: 1, name: "Parking walk" })).toBeVisible();
  await expect(page.getByText(/\d+ items left/u).first()).toBeVisible();
  await expect(page.getByRole("button", { name: /^(Good|Read|Finding|Call-out)/u })).toHaveCount(0);
});

test("the launch walk is one circuit that stays what it was, and says why what was added is there", async ({
  context,
}) => {
  test.setTimeout(120_000);
  const page = await openPage(context, sizes.phone);
  await enterAs(page, "Holm");
  await beginWalk(page, "skjaer", /^Launch walk/u);
  const all = await left(page);
  expect(all).toBeLessThan(30);
  // A mark in hand is taken back with one tap, and what it said was shut is open to question again.
  await markGood(page);
  await expect.poll(() => left(page)).toBe(all - 1);
  await page.getByRole("button", { name: /^Take back/u }).click();
  await expect.poll(() => left(page)).toBe(all);
  await walkStop(page);
  expect(await left(page)).toBe(0);
  expect(await page.locator(".walk-other").count()).toBe(all);
  await page.getByRole("button", { name: /^To the end/u }).click();
  await expect(page.getByText("Every item is marked and nothing is open.")).toBeVisible();
  await page.getByRole("button", { name: /^Sign the walk/u }).click();
  await signAs(page, "Holm");
  await expect(page.getByRole("heading", { level: 1, name: /^(Not r|R)eady/u })).toBeVisible({
    timeout: 20_000,
  });
  await goTo(page, "skjaer", "walk");
  await expect(page.getByText(/Launch walk holds until/u)).toBeVisible();
});
