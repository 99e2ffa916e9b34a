// Whether the screen Reach keeps up with a finger: frames a second that a real Chromium shows while the fuel's minus is held,
// at the size of a tablet, against the same page left alone in the same run, which is all that the screen can give.
//
// A frame is what the browser itself asks for (requestAnimationFrame). Maps are counted by the number that the
// page wears when one is painted, presses by what the field shows: a map must follow each press.
import { chromium, expect, type Page } from "@playwright/test";
import { moveClock } from "../e2e/harness/fresh-test.ts";
import { launchSettings } from "../e2e/harness/launch-settings.ts";
import { enterAs } from "../e2e/harness/people.ts";
import { demoClock, sizes } from "../e2e/harness/preen-test.ts";
import { startPreen } from "../e2e/harness/preen-server.ts";
import type { Bench } from "./rows.ts";

const bench: Bench = async (size) => {
  const held_ms = size === "tiny" ? 600 : 2_800;
  const preen = await startPreen(demoClock);
  const { launchOptions, channel } = launchSettings();
  const browser = await chromium.launch({ ...launchOptions, ...(channel === undefined ? {} : { channel }) });
  try {
    const context = await browser.newContext({ baseURL: preen.url, viewport: sizes.tablet });
    await moveClock(context);
    const page = await context.newPage();
    await enterAs(page, "Holm", "/craft/skjaer/reach");
    await expect.poll(() => mapOf(page), { timeout: 60_000 }).toBeGreaterThan(0);
    // Full tanks, so that the map changes all the while that the fuel falls.
    await page.getByRole("textbox", { name: "Fuel on board" }).fill("550");
    const legend = await page.locator(".reach-legend").textContent();
    const alone = await watch(page, held_ms);
    const minus = page.getByRole("button", { name: /Fuel on board/u }).first();
    await minus.hover();
    await page.mouse.down();
    // The first repeat comes after a while: what is counted is the holding.
    await page.waitForTimeout(500);
    const held = await watch(page, held_ms);
    await page.mouse.up();
    await expect.poll(() => page.locator(".reach-legend").textContent()).not.toBe(legend);
    if (held.presses < 3 || held.maps < 1)
      throw new Error(`held for ${held_ms} ms: ${held.presses} presses and ${held.maps} maps`);
    const seconds = held.took_ms / 1_000;
    return [
      {
        name: "frames a second while the fuel is held",
        value: held.frames / seconds,
        unit: "/s",
        budget: 55,
        better: "higher",
        peer: { name: "the page left alone", value: alone.frames / (alone.took_ms / 1_000) },
      },
      {
        name: "longest wait between two frames meanwhile",
        value: held.longest_ms,
        unit: "ms",
        better: "lower",
        peer: { name: "the page left alone", value: alone.longest_ms },
      },
      {
        name: "maps a second meanwhile",
        value: held.maps / seconds,
        unit: "/s",
        better: "higher",
        peer: { name: "presses that the held button makes", value: held.presses / seconds },
      },
    ];
  } finally {
    await browser.close();
    await preen.stop();
  }
};

export default bench;

const mapOf = async (page: Page): Promise<number> => {
  const map = page.locator(".reach-map");
  return (await map.count()) === 0 ? 0 : Number(await map.getAttribute("data-drawn"));
};

type Watched = {
  readonly frames: number;
  readonly longest_ms: number;
  readonly maps: number;
  readonly presses: number;
  readonly took_ms: number;
};

/** Counts in the page itself: asking it from outside would take its time. */
async function watch(page: Page, for_ms: number): Promise<Watched> {
  return page.evaluate(
    (until_ms) =>
      new Promise<Watched>((resolve) => {
        const map = document.querySelector(".reach-map")!;
        const field = document.querySelector<HTMLInputElement>(".stepper-number")!;
        const began = performance.now();
        let [last, frames, longest_ms, maps, presses] = [began, 0, 0, 0, 0];
        let [drawn, typed] = [map.getAttribute("data-drawn"), field.value];
        requestAnimationFrame(function next() {
          const now = performance.now();
          frames += 1;
          longest_ms = Math.max(longest_ms, now - last);
          last = now;
          if (map.getAttribute("data-drawn") !== drawn) maps += 1;
          if (field.value !== typed) presses += 1;
          drawn = map.getAttribute("data-drawn");
          typed = field.value;
          if (now - began >= until_ms) resolve({ frames, longest_ms, maps, presses, took_ms: now - began });
          else requestAnimationFrame(next);
        });
      }),
    for_ms,
  );
}
