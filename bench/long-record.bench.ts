// What the demo's fourteen months of three craft cost a device and a server: the first time that a tablet fetches them, every
// opening after that, and a server that starts on them again.
//
// A real Chromium at the size of a tablet, as fast as the machine, against the real server. Each opening is a new page, timed
// by the page's own clock from its start to the first machine's verdict. The peer of an opening is the same with the device's
// snapshots thrown away. It is checked that device and server have the same state hash in both cases.
import { chromium, type BrowserContext, type Page } from "@playwright/test";
import { heldByDevice, throwSnapshotsAway } from "../e2e/harness/device-store.ts";
import { launchSettings } from "../e2e/harness/launch-settings.ts";
import { ledgerOf, moveClock, shownStateHash } from "../e2e/harness/fresh-test.ts";
import { demoClock, sizes } from "../e2e/harness/preen-test.ts";
import { startPreen, type PreenServer } from "../e2e/harness/preen-server.ts";
import { people, stepsOn } from "../e2e/harness/walk-steps.ts";
import type { Bench } from "./rows.ts";

const bench: Bench = async (size) => {
  const tiny = size === "tiny";
  const preen = await startPreen(demoClock, tiny ? {} : { PREEN_DEMO: "months" });
  const { launchOptions, channel } = launchSettings();
  const browser = await chromium.launch({ ...launchOptions, ...(channel === undefined ? {} : { channel }) });
  try {
    const first_ms = await firstAnswerAfterStart(preen);
    const context = await browser.newContext({ baseURL: preen.url, viewport: sizes.tablet, hasTouch: true });
    await moveClock(context);
    const page = await context.newPage();
    const enrolled_ms = await enrol(page);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    const { entries, snapshots } = await heldByDevice(page);
    if (!tiny && snapshots.length < 3) throw new Error("the device holds no snapshot of each craft");
    await page.close();
    const times = tiny ? 1 : 5;
    const opened = await openings(context, times);
    await assertSameState(context, preen);
    const bare = await openings(context, Math.min(times, 3), throwSnapshotsAway);
    await assertSameState(context, preen);
    return [
      {
        name: `enrol with ${entries} entries: from the PIN to the first machines, all of it here`,
        value: enrolled_ms,
        unit: "ms",
        budget: 15_000,
        better: "lower",
      },
      {
        name: `open again with ${entries} entries, to the first machine's verdict`,
        value: median(opened),
        unit: "ms",
        budget: 2_000,
        better: "lower",
        peer: { name: "the same without snapshots", value: median(bare) },
      },
      {
        name: "first answer of a server that has just said it listens, on a record that is there",
        value: first_ms,
        unit: "ms",
        budget: 500,
        better: "lower",
      },
    ];
  } finally {
    await browser.close();
    await preen.stop();
  }
};

export default bench;

/** Milliseconds until an answer that is asked for as soon as the server listens again, while it still greets. */
async function firstAnswerAfterStart(preen: PreenServer): Promise<number> {
  await preen.kill();
  await preen.startAgain();
  const began_ms = performance.now();
  const answer = await fetch(`${preen.url}/api/hello`);
  await answer.json();
  return performance.now() - began_ms;
}

async function enrol(page: Page): Promise<number> {
  await page.goto("/");
  const steps = stepsOn(page);
  await page.getByRole("button", { name: new RegExp(`^${people.pilot.name}`, "u") }).click();
  await steps.typePin(people.pilot.pin);
  const began_ms = performance.now();
  await page.locator(".machine-now").first().waitFor({ timeout: 180_000 });
  return performance.now() - began_ms;
}

async function openings(
  context: BrowserContext,
  times: number,
  before: (page: Page) => Promise<unknown> = async () => undefined,
): Promise<readonly number[]> {
  const shown_ms: number[] = [];
  for (let turn = 0; turn < times; turn += 1) {
    const aside = await context.newPage();
    await aside.goto("/light.js");
    await before(aside);
    await aside.close();
    const page = await context.newPage();
    await page.addInitScript(() => {
      const shown = new Promise<number>((resolve) => {
        new MutationObserver((_changes, watcher) => {
          if (document.querySelector(".machine-now") === null) return;
          watcher.disconnect();
          resolve(performance.now());
        }).observe(document, { subtree: true, childList: true });
      });
      Object.assign(globalThis, { shown });
    });
    await page.goto("/", { waitUntil: "commit" });
    shown_ms.push(
      await page.evaluate(() => (globalThis as unknown as { readonly shown: Promise<number> }).shown),
    );
    await page.close();
  }
  return shown_ms;
}

async function assertSameState(context: BrowserContext, preen: PreenServer): Promise<void> {
  const page = await context.newPage();
  await page.goto("/craft/tinde/ledger");
  await page.getByText(/^[0-9a-f]{16}$/u).waitFor({ timeout: 60_000 });
  const [shown, wanted] = [await shownStateHash(page), ledgerOf(preen, "tinde").stateHash];
  await page.close();
  if (shown !== wanted) throw new Error(`the device shows the state ${shown}, the server holds ${wanted}`);
}

function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1]!;
}
