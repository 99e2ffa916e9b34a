// The first things that a person does with it in a real browser: a launch walk is made and signed, a finding judged, the
// network cut; each changes the standing. The whole walk of a machine is in thread.spec.ts.
import { type BrowserContext, expect } from "@playwright/test";
import { moveClock } from "./harness/fresh-test.ts";
import { sizes, test } from "./harness/preen-test.ts";
import { people, stepsOn } from "./harness/walk-steps.ts";

/** A phone whose hour is the demo's, with a pilot who has the device. */
async function pilotOnPhone(context: BrowserContext, language: "en" | "de" = "en") {
  await moveClock(context);
  await context.addInitScript((kept) => localStorage.setItem("preen.language", kept), language);
  const page = await context.newPage();
  await page.setViewportSize(sizes.phone);
  const steps = stepsOn(page, language);
  await page.goto("/");
  await steps.enter(people.pilot);
  return { page, steps };
}

test("a launch walk is made and signed with the PIN, and the standing no longer asks for one", async ({
  context,
}) => {
  test.setTimeout(180_000);
  const { page, steps } = await pilotOnPhone(context);
  const { words, button } = steps;
  await steps.openCraft("Skjær");
  await button(words.walk.kind.launch).click();
  await page.getByText(words.walk.kind.launch, { exact: true }).first().click();
  await button(words.walk.doing.begin).click();
  do await steps.markStop();
  while (await steps.goOn());
  await steps.leaveForTheEnd();
  await expect(page.getByText(words.screens.walk.nothingLeft)).toBeVisible();
  await steps.sign("1111");
  await expect(page.getByText(words.entry.pin.wrong)).toBeVisible({ timeout: 15_000 });
  await steps.sign(people.pilot.pin);
  await expect(page.getByRole("heading", { name: /^Ready/u, level: 1 })).toBeVisible({ timeout: 20_000 });
  await expect(page.getByText("it has flown since")).toBeHidden();
});

test("with the network cut the app opens, records and says what has not gone up, and sends it when there is one", async ({
  context,
}) => {
  test.setTimeout(120_000);
  const { page, steps } = await pilotOnPhone(context);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await steps.openCraft("Myr");
  await steps.sentAll();
  await context.setOffline(true);
  await page.goto("/craft/myr/walk");
  await steps.button(steps.words.walk.doing.begin).click();
  await expect(steps.good).toBeVisible();
  const before = await steps.itemsLeft();
  await steps.markGood();
  expect(await steps.itemsLeft()).toBe(before - 1);
  await page.reload();
  await expect.poll(steps.itemsLeft, { timeout: 15_000 }).toBe(before - 1);
  await page.goto("/craft/myr");
  await expect(page.getByText(/\d+ not sent/u).first()).toBeVisible({ timeout: 15_000 });
  await context.setOffline(false);
  await page.reload();
  await steps.sentAll();
});

test("in German the standing says the same", async ({ context }) => {
  test.setTimeout(120_000);
  const { page, steps } = await pilotOnPhone(context, "de");
  await steps.openCraft("Myr");
  await expect(page.getByRole("heading", { name: "Nicht einsatzklar" })).toBeVisible({ timeout: 20_000 });
});

test("a finding blocks until it is judged, and the judgement stands beside it", async ({ context }) => {
  test.setTimeout(90_000);
  const { page, steps } = await pilotOnPhone(context);
  const { words, button } = steps;
  await steps.openCraft("Skjær");
  await button(words.walk.kind.launch).click();
  await button(words.walk.doing.begin).click();
  await steps.raiseFinding("Scratch", "");
  await page.goto("/craft/skjaer");
  await expect(page.getByText(/is not judged/u).first()).toBeVisible({ timeout: 15_000 });
  // What it may be is an engineer's word: the sheet gives the pilot no limit for it.
  await steps.handOver();
  await steps.enter(people.engineer);
  await page.goto("/craft/skjaer/findings");
  await steps.judge("Scratch", words.finding.outcome.accept);
  await page.goto("/craft/skjaer");
  await expect(page.getByRole("heading", { level: 1 })).toBeVisible({ timeout: 15_000 });
  await expect(page.getByText(/is not judged/u)).toHaveCount(0);
});
