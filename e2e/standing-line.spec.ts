// The standing line in a real browser: it falls by itself at its instant, shows what fell and sounds until somebody has seen
// it; the whole line by keyboard and for a screen reader; what would help; pictures of it in every size and light.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

/** Counts what the page sounds, since nobody hears it here. */
async function listen(page: Page): Promise<void> {
  await page.addInitScript(() => {
    const counted = window as unknown as { tones: number };
    counted.tones = 0;
    const make = AudioContext.prototype.createOscillator;
    AudioContext.prototype.createOscillator = function (this: AudioContext) {
      counted.tones += 1;
      return make.call(this);
    };
  });
}

const tones = (page: Page): Promise<number> =>
  page.evaluate(() => (window as unknown as { tones: number }).tones);

test("an open page falls at its instant, says so over every screen, and sounds until somebody has seen it", async ({
  page,
}) => {
  await listen(page);
  await enterAs(page, "Holm", "/craft/skjaer");
  const verdict = page.getByRole("heading", { level: 1 });
  await expect(verdict).toHaveText("Ready within limits");
  // Somewhere else, so that nothing but the clock brings it back.
  await page.goto("/setup");
  await page.getByRole("button", { name: "Try the sound" }).click();
  const tried = await tones(page);
  expect(tried).toBeGreaterThan(0);
  // The last report of the weather is too old from then on; a minute before, nothing is said.
  await page.clock.fastForward("00:54:00");
  await expect(page.getByRole("alert")).toHaveCount(0);
  await page.clock.runFor("00:04:00");
  const alert = page.getByRole("alert");
  await expect(alert).toContainText("Skjær has changed");
  await expect(alert).toContainText(/Day VFR: not known since \d\d:\d\d/u);
  await expect(alert).toContainText("has not been observed lately");
  await expect(alert).toHaveAttribute("data-sound", "sounds");
  const first = await tones(page);
  expect(first).toBeGreaterThan(tried);
  await page.clock.runFor(10_000);
  expect(await tones(page)).toBeGreaterThan(first);
  await page.getByRole("button", { name: "Seen", exact: true }).click();
  await expect(alert).toHaveCount(0);
  const seen = await tones(page);
  await page.clock.runFor(20_000);
  expect(await tones(page)).toBe(seen);
  await page.goto("/craft/skjaer");
  await expect(verdict).toHaveText("Not known");
});

test("the whole line goes by arrow keys from change to change and says each span with what makes it", async ({
  page,
}) => {
  await enterAs(page, "Holm", "/craft/skjaer");
  await page.getByRole("button", { name: /^Day VFR/u }).click();
  const dialog = page.getByRole("dialog");
  await expect(dialog.getByRole("heading", { name: "Day VFR" })).toBeVisible();
  const slider = dialog.getByRole("slider", { name: "A time on the line" });
  await expect(slider).toHaveAttribute("aria-valuetext", /^now to \d\d:\d\d: ready within limits$/u);
  await slider.focus();
  await page.keyboard.press("ArrowRight");
  await expect(slider).toHaveAttribute("aria-valuetext", /: not known$/u);
  await page.keyboard.press("End");
  await expect(slider).toHaveAttribute("aria-valuetext", /as far as is known: not ready$/u);
  await expect(dialog.getByText("Night at Skarvøy", { exact: false }).first()).toBeVisible();
  // Each change with what makes it and what would move it.
  await expect(dialog.getByRole("listitem").filter({ hasText: "wait for day" }).first()).toBeVisible();
  for (const name of ["All together", "Machine and crew", "Weather"])
    await expect(dialog.getByText(name, { exact: true })).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(page.getByRole("dialog")).toHaveCount(0);
});

test("a machine that is not ready says the fewest things that would make it so", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/tinde");
  const helps = page.locator(".helps");
  await expect(helps).toContainText("What would make it ready");
  await expect(helps).toContainText(/One thing to do|\d things to do/u);
  await expect(helps).toContainText("Do the full walk");
  await expect(helps).toContainText("10 min");
});

test("it fits every size in every light", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer");
  await takePictures(page, "standing-line", async (shown) => {
    await expect(shown.getByRole("heading", { level: 1 })).toHaveText("Ready within limits");
    await shown.getByRole("button", { name: /^Day VFR/u }).click();
    await expect(shown.getByRole("dialog")).toBeVisible();
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const wide = await shown.getByRole("dialog").evaluate((one) => one.scrollWidth - one.clientWidth);
      expect(wide).toBeLessThanOrEqual(0);
    }
  });
  await page.goto("/craft/tinde");
  await takePictures(page, "standing", async (shown) => {
    await expect(shown.locator(".ribbon").first()).toBeVisible();
  });
});

test("a sheet that gets narrower holds its line before anything has been measured anew", async ({ page }) => {
  await page.addInitScript(() => {
    const asked = window as unknown as { isHeld: boolean };
    const Real = window.ResizeObserver;
    window.ResizeObserver = class extends Real {
      constructor(tell: ResizeObserverCallback) {
        super((entries, observer) => {
          if (!asked.isHeld) tell(entries, observer);
        });
      }
    };
  });
  await page.setViewportSize(sizes.desk);
  await enterAs(page, "Holm", "/craft/skjaer");
  await page.getByRole("button", { name: /^Day VFR/u }).click();
  const dialog = page.getByRole("dialog");
  const strip = dialog.locator(".ribbon svg").first();
  await expect(strip).toBeVisible();
  expect(Number(await strip.getAttribute("width"))).toBeGreaterThan(sizes.phone.width);
  await page.evaluate(() => {
    (window as unknown as { isHeld: boolean }).isHeld = true;
  });
  await page.setViewportSize(sizes.phone);
  expect(await dialog.evaluate((one) => one.scrollWidth - one.clientWidth)).toBeLessThanOrEqual(0);
});

// Last, since the server keeps what is recorded.
test("what somebody records here is not told back to them as a fall", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/custody");
  await page.getByRole("button", { name: "Give it to" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("radio", { name: "Maintenance" }).check({ force: true });
  await dialog.getByRole("textbox", { name: "Why, in few words" }).fill("a line to be changed");
  await dialog.getByRole("button", { name: "Record it" }).click();
  await expect(dialog).toHaveCount(0);
  await page.goto("/craft/skjaer");
  await expect(page.getByRole("heading", { level: 1 })).toHaveText("Not ready");
  await expect(page.getByRole("alert")).toHaveCount(0);
});
