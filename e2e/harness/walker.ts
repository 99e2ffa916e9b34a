// A person with a device in a browser: comes in with the PIN, walks round a machine and marks what stands at hand.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { BrowserContext, Page } from "@playwright/test";
import type { Sheet } from "../../src/core/sheet/schema.ts";
import type { Gauge } from "../../src/core/sheet/gauge-blocks.ts";
import { type Named, typePin } from "./people.ts";
import { demoClock, expect, test } from "./preen-test.ts";

export const quill = JSON.parse(
  readFileSync(join(import.meta.dirname, "..", "..", "demo", "sheet", "quill.json"), "utf8"),
) as Sheet;

export { expect, test };

/** A page of the context whose hour stands still while its timers run. */
export async function openPage(
  context: BrowserContext,
  size: { readonly width: number; readonly height: number },
  at = demoClock,
): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  page.setDefaultNavigationTimeout(45_000);
  await page.clock.setFixedTime(at);
  await page.setViewportSize(size);
  return page;
}

/** Signs what the open dialog asks to be signed. */
export async function signAs(page: Page, name: Named): Promise<void> {
  const pad = page
    .getByRole("dialog")
    .filter({ has: page.getByRole("button", { name: "Enter", exact: true }) })
    .last();
  await expect(pad).toBeVisible();
  await typePin(pad, name);
}

/** The screen of a machine, once everything has been exchanged. */
export async function goTo(page: Page, craft: string, screen = ""): Promise<void> {
  await page.goto(`/craft/${craft}${screen === "" ? "" : `/${screen}`}`);
  await expect(page.getByRole("main").getByRole("heading").first()).toBeVisible({ timeout: 15_000 });
}

export async function beginWalk(page: Page, craft: string, kind: RegExp): Promise<void> {
  await goTo(page, craft, "walk");
  await page.getByRole("radio", { name: kind }).check({ force: true });
  await page.getByRole("button", { name: /^Begin/u }).click();
  await expect(page.getByRole("button", { name: /^(Good|Read)/u })).toBeVisible();
}

/** How many items are left, as the walk says it. */
export async function left(page: Page): Promise<number> {
  const text = (await page.getByRole("main").textContent()) ?? "";
  return Number(/(\d+) items? left/u.exec(text)?.[1] ?? "0");
}

/** A value inside a gauge's limits, on its own step, and the temperature to type beside it. */
export function inside({ low, high, band, gas, plausible, step }: Gauge): {
  readonly value: string;
  readonly at_C: number;
} {
  const point = band?.points[1];
  const bottom = point?.low ?? low?.value ?? plausible.low;
  const top = point?.high ?? high?.value ?? plausible.high;
  const decimals = (String(step).split(".")[1] ?? "").length;
  const middle = Math.round((bottom + top) / 2 / step) * step;
  return { value: middle.toFixed(decimals), at_C: gas?.reference_C ?? point?.temperature_C ?? 5 };
}

/** Reads the gauge that stands on the button, as a person would: types, then says that this is what was read. */
async function readGauge(page: Page): Promise<void> {
  await page.getByRole("button", { name: /^Read/u }).click();
  const dialog = page.getByRole("dialog");
  const title = (await dialog.getByRole("heading").first().textContent()) ?? "";
  const gauge = quill.gauges.find(({ name }) => name.en.toLowerCase() === title.toLowerCase());
  if (gauge === undefined) throw new Error(`no gauge is called ${title}`);
  const { value, at_C } = inside(gauge);
  const fields = dialog.getByRole("textbox");
  await fields.first().fill(value);
  if ((await fields.count()) > 1) await fields.nth(1).fill(String(at_C));
  for (const asked of await dialog.getByRole("group").all())
    await asked.getByRole("radio").first().check({ force: true });
  await dialog.getByRole("button", { name: "This is what I read" }).click();
  await expect(dialog).toBeHidden();
}

const atHand = (page: Page): Promise<string> =>
  page.evaluate(() => document.querySelector("main .walk-item")?.textContent ?? "");

/** Marks what stands at hand good: one item, its reading, or with a long press the rest of the stop. */
export async function markGood(page: Page, most: "one" | "rest" = "one"): Promise<void> {
  const before = await atHand(page);
  const good = page.getByRole("button", { name: /^Good/u });
  if (await page.getByRole("button", { name: /^Read/u }).isVisible()) await readGauge(page);
  else if (most === "rest" && ((await good.textContent()) ?? "").includes("hold")) {
    await good.hover();
    await page.mouse.down();
    await page.waitForTimeout(900);
    await page.mouse.up();
  } else await good.click();
  await page.waitForFunction(
    (was) => (document.querySelector("main .walk-item")?.textContent ?? "") !== was,
    before,
    { timeout: 10_000, polling: "raf" },
  );
}

const done = /^(This stop is done|Every stop is done)$/u;

/** Marks whatever stands at hand until the stop is done, on a launch walk the whole circuit. */
export async function walkStop(page: Page): Promise<void> {
  for (let tries = 0; tries < 120; tries += 1) {
    const text = await page.locator(".walk-item h2").textContent();
    if (done.test(text ?? "")) return;
    await markGood(page, "rest");
  }
  throw new Error("the stop is never done");
}
