// Loading in a real browser: the load of the morning as it was said, changed by tapping a place, its numbers at once, said
// again; and pictures of it in every size and light.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, takePictures, test } from "./harness/preen-test.ts";

async function enterLoading(page: Page): Promise<void> {
  await enterAs(page, "Ravn", "/craft/tinde/loading");
  await expect(page.getByRole("status").first()).toContainText("Inside all limits");
}

test("a load is changed on the aircraft, answers at once, and is said", async ({ page }) => {
  await enterLoading(page);
  await expect(page.getByRole("button", { name: "Say this load" })).toBeVisible();

  await page.getByRole("button", { name: /^Stretcher, left/u }).click();
  const patient = page.getByRole("textbox", { name: "Heaviest patient to expect" });
  await patient.fill("185");
  await expect(page.getByText("or were 185 lb meant", { exact: false })).toBeVisible();
  await patient.fill("0");
  await expect(page.getByText("Nobody has no mass", { exact: false })).toBeVisible();
  await patient.fill("120");
  await page.getByRole("button", { name: "Done" }).click();
  await expect(page.getByText("Changed here, not said yet", { exact: false })).toBeVisible();
  await expect(page.getByRole("status").first()).toContainText("up to 120");

  await page.getByRole("button", { name: /^Rear bay/u }).click();
  await page.getByRole("textbox", { name: "What it is" }).fill("avalanche kit");
  await page.getByRole("textbox", { name: "Its mass" }).fill("95");
  await page.getByRole("button", { name: "Add a piece" }).click();
  await page.getByRole("button", { name: "Done" }).click();
  await expect(page.getByRole("status").first()).toContainText("Outside the limits");
  await page.getByRole("button", { name: "Take it: Leave avalanche kit (95 kg) behind" }).click();
  await expect(page.getByRole("status").first()).toContainText("Inside all limits");

  await page.getByRole("button", { name: "Say this load" }).click();
  await expect(page.getByText("Changed here, not said yet", { exact: false })).toBeHidden();
  await page.reload();
  await expect(page.getByRole("status").first()).toContainText("up to 120");
});

test("left behind is recorded and asked about", async ({ page }) => {
  await enterLoading(page);
  await page.getByRole("button", { name: "rescue bag: left behind" }).click();
  await expect(page.getByRole("button", { name: "rescue bag: back aboard" })).toBeVisible();
  await page.goto("/craft/tinde");
  await expect(page.getByText("Rescue bag was left behind", { exact: false })).toBeVisible();
  await page.goto("/craft/tinde/loading");
  await page.getByRole("button", { name: "rescue bag: back aboard" }).click();
  await expect(page.getByRole("button", { name: "rescue bag: left behind" })).toBeVisible();
});

test("litres typed as kilograms are asked about, and taken only when somebody says so", async ({ page }) => {
  await enterLoading(page);
  await page.getByRole("button", { name: /^Fuel/u }).click();
  const fuel = page.getByRole("textbox", { name: "Fuel at the start" });
  await fuel.fill("640");
  await expect(page.getByText("640 kg: or were 640 L meant?")).toBeVisible();
  await page.getByRole("button", { name: "Take 512" }).click();
  await expect(fuel).toHaveValue(/^512/u);
  await expect(page.getByText("640 L", { exact: false })).toBeHidden();
});

test("the kit is held against its list: what is missing, what is there twice, and loaded as listed", async ({
  page,
}) => {
  await enterLoading(page);
  await expect(page.getByText("The kit is as the list says.")).toBeVisible();
  await page.getByRole("button", { name: /^Cabin floor/u }).click();
  await page.getByRole("button", { name: "child bag: take out of the load" }).click();
  await page.getByRole("textbox", { name: "What it is" }).fill("Medical bag");
  await page.getByRole("textbox", { name: "Its mass" }).fill("14.2");
  await page.getByRole("button", { name: "Add a piece" }).click();
  await page.getByRole("button", { name: "Done" }).click();
  await expect(page.getByText("Child bag (7", { exact: false })).toContainText("is missing");
  await expect(page.getByText("Medical bag is there 2 times")).toBeVisible();
  await page.getByRole("radio", { name: "Transfer" }).check({ force: true });
  await expect(page.getByText("Ventilator (10", { exact: false })).toBeVisible();
  await page.getByRole("button", { name: "Load as listed" }).click();
  await expect(page.getByText("The kit is as the list says.")).toBeVisible();
});

test("where ballast brings the balance back, how much and where is told, and can be taken", async ({
  page,
}) => {
  await enterLoading(page);
  await page.getByRole("button", { name: /^Pilot, right/u }).click();
  await page.getByRole("textbox", { name: "Mass, dressed" }).fill("130");
  await page.getByRole("button", { name: "Done" }).click();
  await page.getByRole("button", { name: /^Front left/u }).click();
  await page.getByRole("textbox", { name: "Mass, dressed" }).fill("130");
  await page.getByRole("button", { name: "Done" }).click();
  await page.getByRole("button", { name: /^Rear bay/u }).click();
  for (const piece of ["rescue bag", "ropes"])
    await page.getByRole("button", { name: `${piece}: take out of the load` }).click();
  await page.getByRole("button", { name: "Done" }).click();
  await page.getByRole("button", { name: /^Cabin rack/u }).click();
  await page.getByRole("button", { name: "monitor: take out of the load" }).click();
  await page.getByRole("button", { name: "Done" }).click();
  await page.getByRole("button", { name: /^Medic, right, facing aft/u }).click();
  await page.getByRole("textbox", { name: "Mass, dressed" }).fill("90");
  await page.getByRole("button", { name: "Done" }).click();
  await page.getByRole("button", { name: /^Nose bay/u }).click();
  await page.getByRole("textbox", { name: "What it is" }).fill("tools");
  await page.getByRole("textbox", { name: "Its mass" }).fill("12");
  await page.getByRole("button", { name: "Add a piece" }).click();
  await page.getByRole("button", { name: "Done" }).click();
  await expect(page.getByRole("status").first()).toContainText("Furthest outside fore and aft");
  const ballast = page.getByRole("button", { name: /^Take it: Ballast of/u }).first();
  await ballast.click();
  await expect(page.getByRole("status").first()).toContainText("Inside all limits");
});

test("the screen fits every size in every light, with targets large enough", async ({ page }) => {
  await enterLoading(page);
  await takePictures(page, "loading", async (shown) => {
    await expect(shown.getByRole("figure").first()).toBeVisible();
    const width = await shown.evaluate(() => document.documentElement.scrollWidth);
    expect(width).toBeLessThanOrEqual(await shown.evaluate(() => innerWidth));
  });
  await page.setViewportSize({ width: 390, height: 844 });
  for (const field of await page.locator(".load-field").all()) {
    const box = await field.boundingBox();
    expect(Math.min(box?.width ?? 0, box?.height ?? 0)).toBeGreaterThanOrEqual(80);
  }
});

test("everything is reached by keyboard, in German and in pounds, and a screen reader hears the margins", async ({
  page,
}) => {
  await enterLoading(page);
  await page.evaluate(() => localStorage.setItem("preen.language", "de"));
  await page.reload();
  const verdict = page.getByRole("status").first();
  await expect(verdict).toContainText("Innerhalb aller Grenzen");
  await expect(verdict).toContainText(
    /Am knappsten (?:seitlich|in Längsrichtung): \d+\smm, bei \d+\skg Restkraftstoff/u,
  );
  await page.getByRole("radio", { name: "lb" }).focus();
  await page.keyboard.press("Space");
  await expect(verdict).toContainText("lb");
  const seat = page.getByRole("button", { name: /^Vorn links/u });
  await seat.focus();
  await page.keyboard.press("Enter");
  const mass = page.getByRole("textbox", { name: /^Masse, bekleidet/u });
  await mass.focus();
  const before = await mass.inputValue();
  await page.keyboard.press("ArrowUp");
  expect(await mass.inputValue()).not.toBe(before);
  await page.keyboard.press("Escape");
  await expect(seat).toBeFocused();
  await expect(page.getByText("Hier geändert", { exact: false })).toBeVisible();
  const margins = page.getByRole("listitem").filter({ hasText: "zur Nase" });
  await expect(margins).toContainText(/\d+\smm/u);
  await expect(page.getByText(/^Längs: von/u)).toContainText("durchweg innerhalb");
  await takePictures(page, "loading-german-lb", async (shown) => {
    await expect(shown.getByRole("figure").first()).toBeVisible();
  });
});

test("an engineer records a weighing, and every load rests on it at once", async ({ page }) => {
  await enterAs(page, "Brekke", "/craft/tinde/loading");
  await page.getByRole("button", { name: "Record a weighing" }).click();
  await page.getByRole("textbox", { name: "Mass as weighed, empty" }).fill("2900");
  await page.getByRole("textbox", { name: "Arm from the datum, aft positive" }).fill("4.55");
  await page.getByRole("textbox", { name: "Arm from the centre line, right positive" }).fill("0.03");
  await page.getByRole("textbox", { name: "Weighing report" }).fill("W-9");
  const sign = page.getByRole("button", { name: /Sign the weighing/u });
  await sign.focus();
  await page.keyboard.down("Enter");
  await expect(page.getByRole("dialog")).toBeHidden();
  await page.keyboard.up("Enter");
  await expect(page.getByRole("status").first()).toContainText("Outside the limits");
  await expect(page.getByText("W-9", { exact: false })).toBeVisible();
});
