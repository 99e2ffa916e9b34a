// What the app costs a person with a slow tablet: the JavaScript to open it, and how long a tap at the aircraft takes until
// its mark is seen. A real Chromium at the size of a phone, its processor slowed down four times (DevTools protocol,
// Emulation.setCPUThrottlingRate), against the real server with the demo.
//
// A tap is timed from the finger's leaving the glass (the event's own time) to the frame that shows the next item, after it
// is painted: in this app that is after the mark is on the disk. JavaScript is counted by what the page has asked for when the screen stands.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { chromium, type BrowserContext, type Page } from "@playwright/test";
import { launchSettings } from "../e2e/harness/launch-settings.ts";
import { moveClock } from "../e2e/harness/fresh-test.ts";
import { demoClock, sizes } from "../e2e/harness/preen-test.ts";
import { startPreen } from "../e2e/harness/preen-server.ts";
import { people, type Steps, stepsOn } from "../e2e/harness/walk-steps.ts";
import type { Bench } from "./rows.ts";

const built = join(import.meta.dirname, "..", "dist", "web");
const slower = 4;

const bench: Bench = async (size) => {
  const preen = await startPreen(demoClock);
  const { launchOptions, channel } = launchSettings();
  const browser = await chromium.launch({ ...launchOptions, ...(channel === undefined ? {} : { channel }) });
  try {
    const context = await browser.newContext({
      baseURL: preen.url,
      viewport: sizes.phone,
      hasTouch: true,
      isMobile: true,
      deviceScaleFactor: 2,
    });
    await moveClock(context);
    const page = await context.newPage();
    const steps = stepsOn(page);

    const stands = await whenShown(page, ".person");
    await page.goto("/");
    const first = await scriptsOf(page, await stands());
    await steps.enter(people.pilot);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));

    const standing = await untilStanding(context, size === "tiny" ? 1 : 5);
    await steps.openCraft("Tinde");
    await steps.beginFullWalk();
    const taps = await timeTaps(page, steps, size === "tiny" ? 3 : 120);
    return [
      {
        name: "JavaScript of the first screen, gzip",
        value: first.gzip_kB,
        unit: "kB",
        budget: 200,
        better: "lower",
        peer: { name: "as the server sends it (brotli)", value: first.sent_kB },
      },
      {
        name: "JavaScript until a standing is shown, gzip",
        value: standing.gzip_kB,
        unit: "kB",
        better: "lower",
      },
      {
        name: `open the installed app to the machines' standing, ${slower}x slower`,
        value: standing.median_ms,
        unit: "ms",
        better: "lower",
      },
      {
        name: `tap to paint of a mark, p95, ${slower}x slower`,
        value: quantile(taps.marks_ms, 0.95),
        unit: "ms",
        budget: 50,
        better: "lower",
      },
      {
        name: `tap to paint of a mark, median, ${slower}x slower`,
        value: quantile(taps.marks_ms, 0.5),
        unit: "ms",
        better: "lower",
      },
      {
        name: `tap to the next stop, p95, ${slower}x slower`,
        value: quantile(taps.stops_ms, 0.95),
        unit: "ms",
        better: "lower",
      },
    ];
  } finally {
    await browser.close();
    await preen.stop();
  }
};

export default bench;

type Scripts = { readonly gzip_kB: number; readonly sent_kB: number };

/** The scripts that a page asked for until an instant of its own, compressed alike, and as they came. */
async function scriptsOf(page: Page, until_ms: number): Promise<Scripts> {
  const all = await page.evaluate(
    (last_ms) =>
      performance
        .getEntriesByType("resource")
        .filter(({ name, startTime }) => name.endsWith(".js") && startTime <= last_ms)
        .map((entry) => ({
          path: new URL(entry.name).pathname,
          sent: (entry as PerformanceResourceTiming).encodedBodySize,
        })),
    until_ms,
  );
  // A file that is asked for a second time, by the worker's answer to a preload, is still one file.
  const loaded = [...new Map(all.map((each) => [each.path, each])).values()];
  if (loaded.length < 5) throw new Error(`the page loaded only ${loaded.length} scripts`);
  const bytes = loaded.map(({ path }) => gzipSync(readFileSync(join(built, path)), { level: 9 }).length);
  return {
    gzip_kB: bytes.reduce((sum, each) => sum + each, 0) / 1_000,
    sent_kB: loaded.reduce((sum, { sent }) => sum + sent, 0) / 1_000,
  };
}

/** When an element first stood in the page, by the page's own clock; to be called before the page is loaded. */
async function whenShown(page: Page, selector: string): Promise<() => Promise<number>> {
  await page.addInitScript((wanted) => {
    const shown = new Promise<number>((resolve) => {
      new MutationObserver((_changes, watcher) => {
        if (document.querySelector(wanted) === null) return;
        watcher.disconnect();
        resolve(performance.now());
      }).observe(document, { subtree: true, childList: true });
    });
    Object.assign(globalThis, { shown });
  }, selector);
  return () => page.evaluate(() => (globalThis as unknown as { readonly shown: Promise<number> }).shown);
}

async function slowDown(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: slower });
}

/** Opens the app again where somebody has the device, by the service worker, until the first machine's verdict stands. */
async function untilStanding(
  context: BrowserContext,
  times: number,
): Promise<Scripts & { readonly median_ms: number }> {
  const shown_ms: number[] = [];
  let scripts: Scripts | null = null;
  for (let turn = 0; turn < times; turn += 1) {
    const page = await context.newPage();
    await slowDown(page);
    const stands = await whenShown(page, ".machine-now");
    await page.goto("/", { waitUntil: "commit" });
    const at_ms = await stands();
    shown_ms.push(at_ms);
    scripts ??= await scriptsOf(page, at_ms);
    await page.close();
  }
  if (scripts === null) throw new Error("the app was not opened");
  return { ...scripts, median_ms: quantile(shown_ms, 0.5) };
}

type Taps = { readonly marks_ms: readonly number[]; readonly stops_ms: readonly number[] };

/** Walks on tap by tap until so many marks have been made; readings are taken, but not timed. */
async function timeTaps(page: Page, steps: Steps, marks: number): Promise<Taps> {
  await slowDown(page);
  const marks_ms: number[] = [];
  const stops_ms: number[] = [];
  while (marks_ms.length < marks || stops_ms.length === 0) {
    const what = await steps.atHand();
    if (what === "read") await steps.readUsual();
    else if (what === "good") marks_ms.push(await timed(page, "h2", () => steps.good.tap()));
    else stops_ms.push(await timed(page, "h1", () => steps.nextStop.tap()));
  }
  return { marks_ms, stops_ms };
}

/** From the end of the touch to the frame in which the heading says something else, painted. */
async function timed(page: Page, heading: "h1" | "h2", tap: () => Promise<void>): Promise<number> {
  const shown = await page.evaluateHandle((what) => {
    const found = () => document.querySelector(what === "h2" ? "main h2" : "h1")?.textContent;
    const before = found();
    let touched_ms = Number.NaN;
    addEventListener("pointerup", ({ timeStamp }) => (touched_ms = timeStamp), {
      capture: true,
      once: true,
    });
    return {
      result: new Promise<number>((resolve) => {
        const watcher = new MutationObserver(() => {
          if (found() === before || found() === undefined) return;
          watcher.disconnect();
          requestAnimationFrame(() => {
            // A message that is sent in a frame comes when that frame has been painted.
            const { port1, port2 } = new MessageChannel();
            port1.addEventListener("message", () => resolve(performance.now() - touched_ms));
            port1.start();
            port2.postMessage(null);
          });
        });
        watcher.observe(document.body, { subtree: true, childList: true, characterData: true });
      }),
    };
  }, heading);
  await tap();
  const took_ms = await shown.evaluate(({ result }) => result);
  await shown.dispose();
  // A person looks at the next item; what the tap left behind is done by then.
  await page.waitForTimeout(400);
  return took_ms;
}

/** By nearest rank, so that it is one of the values. */
function quantile(values: readonly number[], share: number): number {
  const sorted = values.toSorted((a, b) => a - b);
  const value = sorted[Math.max(0, Math.ceil(sorted.length * share) - 1)];
  if (value === undefined) throw new Error("the quantile of nothing");
  return value;
}
