// Sites and notices in a real browser: a site changed with its sides held against the type, proposed by one person and
// released by another who saw every difference; a file taken in whole or refused with everything that is wrong in it; a
// notice given, seen by a call, and ended.
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "@playwright/test";
import sitesFile from "../demo/sites.json" with { type: "json" };
import { expect, ledgerOf, test } from "./harness/fresh-test.ts";
import { enterAs, type Named, typePin } from "./harness/people.ts";

const address = "/craft/skjaer/sites";
const field = (page: Page, name: string) => page.getByRole("textbox", { name, exact: true });
const choose = (page: Page, group: string, name: string | RegExp) =>
  page.getByRole("group", { name: group }).getByRole("radio", { name }).check({ force: true });
const sheet = (page: Page) => page.locator("dialog[open]").last();

async function handTo(page: Page, name: Named): Promise<void> {
  await page.goto("/enter");
  await page.getByRole("button", { name: new RegExp(`^${name}`, "u") }).click();
  await typePin(page, name);
  await expect(page.getByRole("link", { name: /Tinde/u })).toBeVisible({ timeout: 30_000 });
  await page.goto(address);
}

async function propose(page: Page, edition: string): Promise<void> {
  await page.getByRole("button", { name: "Propose as an edition" }).click();
  await field(page, "Edition").fill(edition);
  await field(page, "What was changed, and why").fill("measured with a tape");
  await page.getByRole("button", { name: /^Propose$/u }).click();
}

test("a site is changed, proposed, and released by another person who sees what differs", async ({
  page,
}) => {
  await enterAs(page, "Sund", address);
  await page.getByRole("button", { name: /Alkeholmen north point/u }).click();
  await field(page, "Smaller side, metres").fill("27");
  await expect(sheet(page)).toContainText("large enough by day, not by night");
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await field(page, "Larger side, metres").fill("54");
  await expect(sheet(page)).toContainText("large enough by day and by night");
  await field(page, "Larger side, metres").fill("20");
  await expect(page.getByRole("button", { name: /Keep the change/u })).toContainText("less than the smaller");
  await field(page, "Larger side, metres").fill("54");
  await page.getByRole("button", { name: "Keep the change" }).click();
  await expect(page.getByText("1 change, not proposed yet")).toBeVisible();
  await expect(page.getByText("smaller side, m: not said → 27")).toBeVisible();
  await propose(page, "2");
  await expect(page.getByText(/Edition 2, proposed/u)).toBeVisible();
  await expect(page.getByRole("button", { name: /^Release/u })).toContainText("Another person than you");
  await expect(page.getByText(/^Edition 1, released/u)).toBeVisible();
  await handTo(page, "Vik");
  await expect(page.getByText("larger side, m: not said → 54")).toBeVisible();
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await page.getByRole("button", { name: "Release", exact: true }).click();
  await expect(page.getByText(/^Edition 2, released/u)).toBeVisible();
  await expect(page.getByRole("button", { name: /Alkeholmen north point/u })).toContainText("27 m by 54 m");
});

test("a new site is placed in any form, and a name without a place says what is missing", async ({
  page,
}) => {
  await enterAs(page, "Holm", address);
  await page.getByRole("button", { name: /^Add a site/u }).click();
  const keep = page.getByRole("button", { name: /Keep the change/u });
  await field(page, "Name").fill("Skarvøy pier");
  await choose(page, "What it is", "landing site");
  await expect(keep).toContainText("Say where it is");
  await field(page, "Position").fill("N70°61' E012°30'");
  await expect(sheet(page).locator(".field-issue")).toBeVisible();
  await expect(field(page, "Position")).toHaveValue("N70°61' E012°30'");
  await field(page, "Position").fill("N70°11.5' E012°27.0'");
  await expect(sheet(page)).toContainText("70.1917° N, 12.4500° E");
  await keep.click();
  await expect(page.getByRole("button", { name: /Skarvøy pier/u })).toContainText("size not known");
  await page.goto("/craft/skjaer");
  await page.goBack();
  await page.getByRole("button", { name: "Let them go" }).click();
  await expect(page.getByRole("button", { name: /Skarvøy pier/u })).toHaveCount(0);
});

test("a file is refused with everything that is wrong in it, and taken in whole with what nobody reads", async ({
  page,
}) => {
  await enterAs(page, "Sund", address);
  const give = (text: string) =>
    page
      .locator("input[type=file]")
      .setInputFiles({ name: "sites.geojson", mimeType: "application/geo+json", buffer: Buffer.from(text) });
  await give("{ not json");
  await expect(page.getByRole("alert")).toContainText("This is no JSON");
  const [land, , , , , , , , first, ...rest] = sitesFile.features;
  const wrong = {
    ...sitesFile,
    features: [
      { ...first, properties: { ...first!.properties, kind: "field" } },
      { ...rest[0], geometry: { type: "Point", coordinates: [70, 120] } },
    ],
  };
  await give(JSON.stringify(wrong));
  await expect(page.getByRole("alert")).toContainText("2 things in it are wrong");
  await expect(page.getByRole("alert")).toContainText("features[0].properties.kind");
  await expect(page.getByRole("alert")).toContainText("features[1].geometry.coordinates");
  const whole = {
    ...sitesFile,
    note: "another",
    features: [land, { ...first, properties: { ...first!.properties, owner: "the port" } }],
  };
  await give(JSON.stringify(whole));
  await expect(page.getByRole("alert")).toHaveCount(0);
  await expect(page.getByText("owner: not said → the port")).toBeVisible();
  await expect(page.getByText("the file itself", { exact: false })).toBeVisible();
  await propose(page, "2");
  await expect(page.getByText(/Edition 2, proposed/u)).toBeVisible();
});

test("a notice closes a pad for a call from then until it is ended, and needs its day and time together", async ({
  page,
  preen,
}) => {
  await enterAs(page, "Holm", address);
  await expect(page.locator(".site-notice")).toHaveCount(2);
  await page.getByRole("button", { name: /^Add a notice/u }).click();
  await page.getByRole("button", { name: /^About/u }).click();
  await sheet(page).getByRole("button", { name: "Teistøy hospital" }).click();
  await choose(page, "What it says", /^Closed/u);
  const sign = page.getByRole("button", { name: /Sign the notice/u });
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await field(page, "Until, day").fill("2026-11-25");
  await expect(sign).toContainText("day and time, or neither");
  await field(page, "Until, time").fill("08:00");
  await expect(sign).toContainText("It ends before it begins");
  await field(page, "Until, time").fill("16:00");
  await field(page, "In words").fill("crane beside the pad");
  await sign.click();
  const mine = page.locator(".site-notice", { hasText: "Teistøy hospital" });
  await expect(mine).toContainText("until 16:00");
  await page.goto("/craft/skjaer/call");
  await field(page, "Where").fill("70.05 11.6");
  await page
    .getByRole("button", { name: /Teistøy hospital/u })
    .first()
    .click();
  await expect(page.getByRole("list", { name: "Notices" })).toContainText("crane beside the pad");
  await expect(page.locator(".verdict")).toHaveAttribute("data-verdict", "notReady");
  await page.goto(address);
  await mine.getByRole("button", { name: "End it" }).click();
  await expect(mine).toHaveCount(0);
  await expect(page.locator(".site-notice")).toHaveCount(2);
  expect(ledgerOf(preen, "craft:skjaer").aside).toEqual([]);
});
