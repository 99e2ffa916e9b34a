// Call in a real browser: the place alone gives a first answer; coordinates that cannot be right are asked about; a refused
// call says what would make it acceptable; pictures in every size and light.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

const where = (page: Page) => page.getByRole("textbox", { name: "Where", exact: true });
const verdict = (page: Page) => page.locator(".verdict-words");

test("a place alone gives a first answer, by way of every hospital, with the margin that binds first", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await expect(page.getByText("Say where: everything else is as usual")).toBeVisible();
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.35 12.9");
  await expect(verdict(page)).toHaveText(/^(Acceptable|Acceptable within limits|Not acceptable|Not known)$/u);
  await expect(page.locator(".verdict-then")).toContainText("binds first");
  await expect(page.locator(".margin").first()).toBeVisible();
  await expect(page.locator(".call-hospital")).toHaveCount(4);
  await expect(page.getByRole("table", { name: "Leg by leg" })).toContainText(/\d\.\d{3}/u);
});

test("a place is read in the forms in which it is called out, and one that cannot be is told why", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  const field = where(page);
  await field.fill("N70°21.0' E012°54.0'");
  await expect(page.getByText("read as 70.3500° N, 12.9000° E", { exact: false })).toBeVisible();
  await field.fill("70 61 N 12 54 E");
  await expect(page.getByText("Minutes and seconds go up to 59")).toBeVisible();
  await field.fill("12.9 70.35");
  await expect(page.getByText("Latitude and longitude look exchanged.")).toBeVisible();
  await page.getByRole("button", { name: /^Use 70\.3500° N, 12\.9000° E instead/u }).click();
  await expect(page.getByText("Latitude and longitude look exchanged.")).toHaveCount(0);
});

test("fuel that is missing is said by how much, and taking the remedy mends it", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  // Near enough to the base that its weather counts for the scene and the hospital: elsewhere no fuel makes it acceptable.
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  await page.getByRole("button", { name: /^Teistøy hospital/u }).click();
  await expect(verdict(page)).toHaveText(/^Acceptable/u);
  await page.getByRole("textbox", { name: "Fuel on board" }).fill("40");
  await expect(verdict(page)).toHaveText("Not acceptable");
  await expect(page.locator(".verdict-then")).toContainText(/Fuel binds first: \d+ kg short/u);
  const add = page.locator(".call-help").filter({ hasText: /^Add \d+ kg of fuel/u });
  await expect(add).toContainText("0 kg left");
  await add.getByRole("button", { name: /^Take this/u }).click();
  await expect(verdict(page)).toHaveText(/^Acceptable/u);
  await expect(page.getByRole("textbox", { name: "At most how high" })).toHaveValue("100");
  await expect(page.getByRole("textbox", { name: "Fuel on board" })).toHaveValue(/^2\d\d$/u);
});

test("by instruments the alternate is asked for, and its fuel is in the answer", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await where(page).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  const choose = async (field: RegExp, name: string) => {
    await page.getByRole("button", { name: field }).click();
    await page.getByRole("dialog").getByRole("button", { name, exact: true }).click();
  };
  const fuel = page.locator(".margin").filter({ hasText: /^Fuel/u }).first();
  const required = async () => Number(/(\d+) kg required/u.exec(await page.locator("main").innerText())?.[1]);
  await choose(/^Kind of flying/u, "IFR");
  await expect(verdict(page)).not.toHaveText(/^Acceptable/u);
  await expect(fuel).toContainText("not known: no alternate said");
  await choose(/^Alternate/u, "none required: the commander says so");
  await expect(fuel).toContainText(/\d+ kg left/u);
  const none_kg = await required();
  await choose(/^Alternate/u, "Store Lunde hospital");
  await expect.poll(required).toBeGreaterThan(none_kg + 20);
});

test("what no fuel mends is not offered fuel", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await page.getByRole("textbox", { name: "Where", exact: true }).fill("70.35 12.9");
  await page.getByRole("textbox", { name: "Fuel on board" }).fill("40");
  await expect(verdict(page)).toHaveText("Not acceptable");
  await expect(page.getByText("No change that is known here makes it acceptable.")).toBeVisible();
  await expect(page.getByText(/^Ceiling at 70\.3500° N, 12\.9000° E/u).first()).toBeVisible();
  await expect(page.locator(".call-help")).toHaveCount(0);
});

test("a tap on the map is a place", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await page.locator(".call-map svg").click({ position: { x: 150, y: 120 } });
  await expect(page.locator(".verdict-then")).toContainText("binds first");
});

test("all hospitals stand side by side, with answer, what binds, when one is there and with how much fuel", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await where(page).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  const table = page.getByRole("table", { name: "Hospitals, the best first" });
  await expect(table.getByRole("row")).toHaveCount(5);
  await expect(table.getByRole("row").nth(1)).toContainText(
    /Acceptable within limits.*left.*\d\d:\d\d.*\d+/u,
  );
});

test("each landing and take-off is told with its light and the report that counts; what is seen there counts first", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await where(page).fill("70.9 14.9");
  const scene = page.locator(".call-sky").nth(1);
  await expect(scene).toContainText("no report speaks for it then: the weather there is not known");
  await expect(scene).toContainText(/lands \d\d:\d\d, (?:day|civil twilight|night)/u);
  await scene.getByRole("button", { name: /^Seen there/u }).click();
  const sheet = page.getByRole("dialog");
  await expect(sheet.getByRole("textbox").first()).toHaveValue("70.9000° N, 14.9000° E");
  await sheet.getByRole("radio", { name: /no ceiling|clear/iu }).check({ force: true });
  await sheet.getByRole("radio", { name: "60 min" }).check({ force: true });
  await sheet.getByRole("button").last().click();
  await expect(scene).toContainText(/seen by Holm at 09:40/u);
});

test("a place in the craft that somebody has is noticed, and a free one proposed", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await where(page).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  await page.getByText("Leave later, another height, another seat").click();
  await page.getByRole("button", { name: /The patient goes on/u }).click();
  await page
    .getByRole("dialog")
    .getByRole("button", { name: /, taken$/u })
    .first()
    .click();
  await expect(verdict(page)).toHaveText("Not acceptable");
  await expect(page.locator(".verdict-then")).toContainText("taken");
  const help = page.locator(".call-help").filter({ hasText: /Board on .*, which is free/u });
  await help.getByRole("button", { name: /^Take this/u }).click();
  await expect(verdict(page)).toHaveText(/^Acceptable/u);
});

test("a call that leaves too late is told until when it may leave, and taking that mends it", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await where(page).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("100");
  await page.getByRole("button", { name: /^Teistøy hospital/u }).click();
  const until = page.locator(".call-until");
  await expect(until).toContainText(/^Leave by \d\d:\d\d, back by \d\d:\d\d\. After that: /u);
  const time = /Leave by (\d\d:\d\d)/u.exec((await until.textContent()) ?? "")?.[1];
  await page.getByText("Leave later, another height, another seat").click();
  await page.getByRole("textbox", { name: "Leaves in" }).fill("90");
  await expect(verdict(page)).not.toHaveText(/^Acceptable/u);
  const help = page.locator(".call-help").filter({ hasText: `Leave by ${time}` });
  await help.getByRole("button", { name: /^Take this/u }).click();
  await expect(verdict(page)).toHaveText(/^Acceptable/u);
});

test("what is typed and told is in the units of this device", async ({ page }) => {
  await enterAs(page, "Holm", "/setup");
  for (const name of ["lb", "m", "km"])
    await page.getByRole("radio", { name, exact: true }).check({ force: true });
  await page.goto("/craft/skjaer/call");
  await where(page).fill("70.25 12.4");
  await page.getByRole("textbox", { name: "At most how high" }).fill("30");
  await expect(page.getByRole("textbox", { name: "Fuel on board" })).toHaveValue("925");
  await expect(page.locator(".margin").filter({ hasText: "Mass" }).first()).toContainText(/\d lb left/u);
  await expect(page.getByRole("columnheader", { name: "lb on landing" })).toBeVisible();
  await expect(page.getByText("99 ft;", { exact: false })).toBeVisible();
  await page.getByRole("button", { name: /^Reach/u }).click();
  await expect(page.getByRole("columnheader", { name: "km", exact: true })).toBeVisible({ timeout: 30_000 });
});

test("it fits every size in every light", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/call");
  await takePictures(page, "call", async (shown) => {
    await shown.getByRole("textbox", { name: "Where", exact: true }).fill("70.35 12.9");
    await expect(shown.locator(".margin").first()).toBeVisible();
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const width = await shown.evaluate(() => document.documentElement.scrollWidth);
      expect(width).toBeLessThanOrEqual(viewport.width);
    }
  });
});
