// A call that is kept and flown, in a real browser: one press keeps the answer with its inputs, without a network too; it can be
// opened and says what the same gives now; in flight the four questions are answered under one thumb.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

const verdict = (page: Page) => page.locator(".verdict-words");
const where = (page: Page) => page.getByRole("textbox", { name: "Where", exact: true });
const button = (page: Page, name: RegExp) => page.getByRole("button", { name });

/** Near enough to the base that its weather counts, by way of a hospital that has weather too. */
async function nearCall(page: Page): Promise<void> {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await where(page).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  await button(page, /^Teistøy hospital/u).click();
  await expect(verdict(page)).toHaveText(/^Acceptable/u);
}

async function fly(page: Page): Promise<void> {
  await nearCall(page);
  await button(page, /^Accept/u).click();
  await expect(page).toHaveURL(/\/inFlight$/u);
}

const face = (page: Page, name: string) =>
  page.getByRole("radio", { name, exact: true }).check({ force: true });
const fuelNow = (page: Page) => page.getByRole("textbox", { name: "Fuel now" });

test("in flight there is nothing to ask of until a call is kept", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/inFlight");
  await expect(page.getByText("No call is being flown")).toBeVisible();
  await button(page, /^Call$/u).click();
  await expect(page).toHaveURL(/\/call$/u);
});

test("one press keeps the answer with its inputs, also without a network, and it outlives the page", async ({
  page,
}) => {
  await nearCall(page);
  await page.context().setOffline(true);
  await button(page, /^Keep/u).click();
  await expect(button(page, /^Keep.*Kept at \d\d:\d\d/u)).toBeVisible();
  const kept = page.locator(".call-kept-one");
  const count = await kept.count();
  await expect(kept.first()).toContainText("asked about");
  await page.context().setOffline(false);
  await page.reload();
  await expect(kept).toHaveCount(count);
});

test("a kept call opened says what was asked, what was answered, and what the same gives now", async ({
  page,
}) => {
  await nearCall(page);
  await button(page, /^Keep/u).click();
  await page.locator(".call-kept-one").first().click();
  const paper = page.locator(".call-paper");
  await expect(paper).toContainText("70.25 12.4");
  await expect(paper).toContainText("420 kg");
  await expect(paper).toContainText("Nothing in the answer has changed.");
  await button(page, /^Back/u).click();
  // A bag that is left behind changes every mass from then on.
  await page.goto("/craft/skjaer/loading");
  await button(page, /: left behind$/u)
    .first()
    .click();
  await expect(button(page, /: back aboard$/u)).toBeVisible();
  await page.goto("/craft/skjaer/call");
  await page.locator(".call-kept-one").first().click();
  const changed = page.locator(".call-paper").getByRole("table", { name: "What has changed" });
  await expect(changed).toContainText("Mass");
});

test("a refused call is declined and kept; its words say so", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await where(page).fill("70.35 12.9");
  await expect(verdict(page)).toHaveText("Not acceptable");
  await button(page, /^Decline/u).click();
  await expect(page.locator(".call-kept-one").first()).toContainText("Not acceptable, declined");
});

test("fuel against the plan: kept, no longer kept, and land or divert; the check is recorded without a network", async ({
  page,
}) => {
  await fly(page);
  await expect(verdict(page)).toHaveText("Fuel on board?");
  await page.context().setOffline(true);
  await fuelNow(page).fill("420");
  await expect(verdict(page)).toHaveText("The plan is kept");
  await expect(page.locator(".flight-table tbody tr")).toHaveCount(3);
  await fuelNow(page).fill("240");
  await expect(verdict(page)).toHaveText("The plan is no longer kept");
  await expect(page.getByText(/kg less than planned here/u)).toBeVisible();
  await fuelNow(page).fill("150");
  await expect(verdict(page)).toHaveText("Land or divert");
  await expect(page.getByText(/below alternate and final reserve/u)).toBeVisible();
  await button(page, /^Record the check/u).click();
  await expect(button(page, /^Record the check.*recorded/u)).toBeVisible();
  await expect(page.getByText("Checks recorded")).toBeVisible();
  await button(page, /^Landed, the scene/u).click();
  await expect(page.locator(".flight-where")).toHaveText("at the scene");
  await expect(verdict(page)).toHaveText("Fuel on board?");
  await page.context().setOffline(false);
  await page.reload();
  await expect(page.locator(".flight-where")).toHaveText("at the scene");
  await expect(fuelNow(page)).toHaveValue("");
});

test("landing elsewhere is ranked by the whole answer, with the fuel at each landing", async ({ page }) => {
  await fly(page);
  await face(page, "Divert");
  const first = page.locator(".flight-landing").first();
  await expect(first).toContainText("Acceptable");
  await expect(first).toContainText(/\d+ kg/u);
  await expect(page.getByText(/as planned: nobody has measured it/u)).toBeVisible();
  await fuelNow(page).fill("90");
  await expect(page.getByText("With 90 kg as measured")).toBeVisible();
  await expect(page.locator(".flight-landing").last()).toContainText(/Not acceptable|Not known/u);
});

test("a second patient goes onto a free place or not, and the one unknown mass is told on each place", async ({
  page,
}) => {
  await fly(page);
  await face(page, "Second");
  await expect(verdict(page)).toHaveText(/^(It goes|No free place takes that mass)/u);
  await page.getByRole("textbox", { name: "Second patient, at most" }).fill("200");
  await expect(verdict(page)).toHaveText("No free place takes that mass");
  await face(page, "Reload");
  const places = page.locator(".flight-place");
  await expect(places.first()).toContainText(/Open: up to \d+ kg/u);
  await places.first().getByRole("textbox").fill("95");
  await expect(places.first()).toContainText("Acceptable");
});

test("everything that is pressed in flight is 80 px large, 16 px apart, and in the lower half of a phone", async ({
  page,
}) => {
  await page.setViewportSize(sizes.phone);
  await fly(page);
  await fuelNow(page).fill("400");
  const foot = page.locator(".flight-foot");
  const boxes: { x: number; y: number; width: number; height: number }[] = [];
  for (const target of await foot.locator(".choice-face, button").all()) {
    const box = await target.boundingBox();
    if (box !== null) boxes.push(box);
  }
  expect(boxes).toHaveLength(10);
  for (const { width, height, y } of boxes) {
    expect(Math.min(width, height)).toBeGreaterThanOrEqual(80);
    expect(y).toBeGreaterThan(sizes.phone.height * 0.45);
  }
  for (const [index, a] of boxes.entries())
    for (const b of boxes.slice(index + 1)) {
      const apart = Math.max(
        Math.max(a.x, b.x) - Math.min(a.x + a.width, b.x + b.width),
        Math.max(a.y, b.y) - Math.min(a.y + a.height, b.y + b.height),
      );
      expect(apart).toBeGreaterThanOrEqual(15.5);
    }
});

test("it fits every size in every light", async ({ page }) => {
  await fly(page);
  await takePictures(page, "in-flight", async (shown) => {
    await fuelNow(shown).fill("300");
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const width = await shown.evaluate(() => document.documentElement.scrollWidth);
      expect(width).toBeLessThanOrEqual(viewport.width);
    }
  });
});
