// Every screen of the app with real content, in every light and size: axe finds no barrier, nothing is wider than the screen.
// Axe's rules for WCAG 2.2 AA and its best practices; a light changes colours and nothing else, so the others are held to
// the rule about contrast. A screen that is added to the app's addresses is looked at by itself.
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import { craftScreens } from "../src/web/screens/route.ts";
import { moveClock } from "./harness/fresh-test.ts";
import { enterAs } from "./harness/people.ts";
import { expect, lights, sizes, test } from "./harness/preen-test.ts";
import { people, stepsOn } from "./harness/walk-steps.ts";

const addresses: readonly string[] = [
  "/enter",
  "/",
  "/setup",
  "/operator",
  "/sheets",
  ...craftScreens.map((screen) => (screen === "standing" ? "/craft/tinde" : `/craft/tinde/${screen}`)),
];

/** What axe and the size of the page object to, each in a line; empty when nothing. */
async function objections(page: Page, name: string): Promise<readonly string[]> {
  const found: string[] = [];
  // What is still coming in is paler than it will be.
  await page.evaluate(() => Promise.all(document.getAnimations().map(({ finished }) => finished)));
  for (const light of lights) {
    await page.evaluate((wanted) => (document.documentElement.dataset["light"] = wanted), light);
    const axe = new AxeBuilder({ page });
    if (light !== "day") axe.withRules("color-contrast");
    const { violations, passes } = await axe.analyze();
    if (passes.length === 0) found.push(`${name}, ${light}: axe looked at nothing`);
    for (const { id, nodes } of violations)
      found.push(`${name}, ${light}: ${id} at ${nodes.map(({ target }) => target.join(" ")).join("; ")}`);
  }
  await page.evaluate(() => (document.documentElement.dataset["light"] = "day"));
  return found;
}

async function tooWide(page: Page, name: string): Promise<readonly string[]> {
  const found: string[] = [];
  for (const [size, viewport] of Object.entries(sizes)) {
    await page.setViewportSize(viewport);
    const over = await page.evaluate(
      () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
    );
    if (over > 0) found.push(`${name}, ${size}: ${over} px wider than the screen`);
  }
  await page.setViewportSize(sizes.phone);
  return found;
}

test("no screen has a barrier that axe knows, in any light, or is wider than the screen", async ({
  context,
}) => {
  test.setTimeout(300_000);
  await moveClock(context);
  const page = await context.newPage();
  await page.setViewportSize(sizes.phone);
  const steps = stepsOn(page);
  await page.goto("/");
  await steps.enter(people.pilot);
  const found: string[] = [];
  for (const address of addresses) {
    await page.goto(address);
    await expect(page.locator("h1").first()).toBeVisible({ timeout: 15_000 });
    await expect(page.locator(".loading")).toHaveCount(0);
    found.push(...(await objections(page, address)), ...(await tooWide(page, address)));
  }
  expect(found).toEqual([]);
});

test("nor has any face of a walk, a finding, a reading or a signature", async ({ context }) => {
  test.setTimeout(300_000);
  await moveClock(context);
  const page = await context.newPage();
  await page.setViewportSize(sizes.phone);
  const steps = stepsOn(page);
  const found: string[] = [];
  const look = async (name: string) =>
    found.push(...(await objections(page, name)), ...(await tooWide(page, name)));
  await page.goto("/");
  await steps.button(people.otherPilot.name).click();
  await look("PIN");
  await steps.typePin(people.otherPilot.pin);
  await steps.openCraft("Tinde");
  await page.getByRole("listitem").getByRole("button").first().click();
  await expect(steps.sheetOf()).toBeVisible();
  await look("a reason opened");
  await page.keyboard.press("Escape");
  await steps.beginFullWalk();
  await look("a stop");
  await steps.button(steps.words.walk.doing.finding).click();
  await look("a finding");
  await page.keyboard.press("Escape");
  while ((await steps.atHand()) !== "read") {
    await steps.markGood();
    if ((await steps.atHand()) === "done") await steps.goOn();
  }
  await steps.read.click();
  await look("a reading");
  await page.keyboard.press("Escape");
  await steps.button(steps.words.walk.doing.callOut).click();
  await expect(page.getByRole("heading", { name: steps.words.screens.walk.interrupted })).toBeVisible();
  await look("a walk that stands still");
  await steps.button(steps.words.walk.doing.resume).click();
  await steps.atHand();
  await steps.visit("approach");
  await steps.leaveForTheEnd();
  await look("the end of a walk");
  expect(found).toEqual([]);
});

test("nor has a call that is answered, kept, opened or flown", async ({ context }) => {
  test.setTimeout(300_000);
  await moveClock(context);
  const page = await context.newPage();
  await page.setViewportSize(sizes.phone);
  const found: string[] = [];
  const look = async (name: string) =>
    found.push(...(await objections(page, name)), ...(await tooWide(page, name)));
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  await page.getByRole("button", { name: /^Teistøy hospital/u }).click();
  await expect(page.locator(".margin").first()).toBeVisible();
  await look("an answer");
  await page.getByRole("button", { name: /^Keep/u }).click();
  await page.locator(".call-kept-one").first().click();
  await look("a kept call");
  await page.getByRole("button", { name: "In flight" }).click();
  await page.getByRole("textbox", { name: "Fuel now" }).fill("380");
  for (const face of ["Fuel", "Divert", "Second", "Reload"]) {
    await page.getByRole("radio", { name: face, exact: true }).check({ force: true });
    await look(`in flight, ${face}`);
  }
  expect(found).toEqual([]);
});
