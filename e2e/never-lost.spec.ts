// What was shown as marked is never lost: the browser is killed at once after a mark, two windows mark side by side, and two
// devices walk one machine, one of them without a network. Each test has a server with a demo of its own.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Page } from "@playwright/test";
import { expect, ledgerOf, moveClock, shownStateHash, test } from "./harness/fresh-test.ts";
import { launchSettings } from "./harness/launch-settings.ts";
import { sizes } from "./harness/preen-test.ts";
import { people, stepsOn } from "./harness/walk-steps.ts";

type Killable = { readonly page: Page; kill(): Promise<void> };

/** A Chromium of its own on a profile that stays; `kill` is SIGKILL, as when the battery is gone. */
async function startBrowser(profile: string, url: string): Promise<Killable> {
  const { executablePath = chromium.executablePath(), args = [], env } = launchSettings().launchOptions;
  const child = spawn(
    executablePath,
    [...args, "--headless", "--remote-debugging-port=0", `--user-data-dir=${profile}`, "about:blank"],
    { env, stdio: ["ignore", "ignore", "pipe"], detached: true },
  );
  const browser = await chromium.connectOverCDP(await debuggerOf(child));
  const context = browser.contexts()[0] ?? (await browser.newContext());
  await moveClock(context);
  const page = await context.newPage();
  await page.setViewportSize(sizes.phone);
  await page.goto(url);
  return {
    page,
    kill: async () => {
      const gone = once(child, "exit");
      // The whole group: a browser is several processes.
      if (child.pid !== undefined) process.kill(-child.pid, "SIGKILL");
      await gone;
      await browser.close().catch(() => undefined);
    },
  };
}

function debuggerOf(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let printed = "";
    child.once("exit", (code) => reject(new Error(`the browser ended with code ${code}:\n${printed}`)));
    child.stderr?.setEncoding("utf8").on("data", (part: string) => {
      printed += part;
      const url = /DevTools listening on (ws:\/\/\S+)/u.exec(printed)?.[1];
      if (url !== undefined) resolve(url);
    });
  });
}

test("the browser is killed at once after a mark, a reading and a closure, and every one of them is there", async ({
  preen,
}) => {
  test.setTimeout(180_000);
  const profile = mkdtempSync(join(tmpdir(), "preen-profile-"));
  try {
    let browser = await startBrowser(profile, preen.url);
    let steps = stepsOn(browser.page);
    await steps.enter(people.pilot);
    await steps.openCraft("Tinde");
    await steps.beginFullWalk();
    for (const marks of [1, 4, 2]) {
      for (let mark = 0; mark < marks; mark += 1) {
        const what = await steps.atHand();
        if (what === "done") await steps.goOn();
        else if (what === "read") await steps.readUsual();
        else await steps.markGood();
      }
      const shown = {
        left: await steps.itemsLeft(),
        stop: await steps.stopName(),
        state: await saidOpen(steps.main),
      };
      await browser.kill();
      browser = await startBrowser(profile, `${preen.url}/craft/tinde/walk`);
      steps = stepsOn(browser.page);
      await expect.poll(steps.itemsLeft, { timeout: 20_000 }).toBe(shown.left);
      expect(await steps.stopName()).toBe(shown.stop);
      expect(await saidOpen(steps.main)).toBe(shown.state);
    }
    await browser.kill();
  } finally {
    rmSync(profile, { recursive: true, force: true });
  }
});

/** `… 1 thing open …` as the walk says it beside the call-out. */
async function saidOpen(main: ReturnType<typeof stepsOn>["main"]): Promise<string> {
  const said = await main
    .getByText(/things? open/u)
    .first()
    .innerText();
  return /\d+ things? open/u.exec(said)?.[0] ?? "";
}

test("two windows of one device mark at one stop: each shows the other's marks, and nothing is written twice", async ({
  context,
  preen,
}) => {
  test.setTimeout(120_000);
  const one = await context.newPage();
  const first = stepsOn(one);
  await one.goto("/");
  await first.enter(people.pilot);
  await first.openCraft("Tinde");
  await first.beginFullWalk();
  const two = await context.newPage();
  const second = stepsOn(two);
  await two.goto("/craft/tinde/walk");
  const left = await first.itemsLeft();
  await expect.poll(second.itemsLeft).toBe(left);
  await first.markGood();
  await expect.poll(second.itemsLeft).toBe(left - 1);
  await second.markGood();
  await expect.poll(first.itemsLeft).toBe(left - 2);
  // Both at once.
  await Promise.all([first.good.click(), second.good.click()]);
  await expect.poll(first.itemsLeft).toBeLessThan(left - 2);
  // One may not have heard of the other's yet.
  await expect.poll(async () => (await second.itemsLeft()) - (await first.itemsLeft())).toBe(0);
  await first.markStop();
  await first.goOn();
  await one.goto("/craft/tinde");
  await first.sentAll();
  const { entries, aside } = ledgerOf(preen, "tinde");
  expect(aside).toEqual([]);
  const pages = entries.filter(
    ({ type, by, at }) => type === "walk.page" && by === "p-ravn" && at > "2026-11-25T08",
  );
  expect(pages, "one stop, one page").toHaveLength(1);
});

test("two devices walk one machine, one of them without a network; then both know everything, the worst mark holds", async ({
  browser,
  context,
  preen,
}) => {
  test.setTimeout(180_000);
  const here = await context.newPage();
  const pilot = stepsOn(here);
  await here.goto("/");
  await pilot.enter(people.pilot);
  await pilot.openCraft("Tinde");
  await pilot.beginFullWalk();
  await here.goto("/craft/tinde");
  await pilot.sentAll();

  const elsewhere = await browser.newContext({ baseURL: preen.url, viewport: sizes.phone });
  await moveClock(elsewhere);
  const there = await elsewhere.newPage();
  const crew = stepsOn(there);
  await there.goto("/");
  await crew.enter(people.crewMember);
  await there.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await there.goto("/craft/tinde/walk");
  await crew.visit("nose");
  await elsewhere.setOffline(true);

  // The same stop on both: here all is good, there one item has a finding.
  await here.goto("/craft/tinde/walk");
  await pilot.visit("nose");
  const item = await crew.itemName();
  expect(await pilot.itemName()).toBe(item);
  await crew.raiseFinding("Crack", "two fingers long");
  await expect(crew.markOf(item)).toContainText(crew.words.walk.mark.finding);
  await pilot.markStop();
  await pilot.goOn();
  await expect(pilot.markOf(item)).toHaveCount(0);
  await there.goto("/craft/tinde");
  await expect(there.getByText(crew.words.app.exchange.noConnection).first()).toBeVisible({
    timeout: 20_000,
  });
  await crew.handOver();

  await elsewhere.setOffline(false);
  await crew.enter(people.crewMember);
  await there.goto("/craft/tinde");
  await crew.sentAll();
  await here.goto("/craft/tinde");
  await expect(here.getByText(/crack/iu).first()).toBeVisible({ timeout: 30_000 });
  await here.goto("/craft/tinde/ledger");
  await there.goto("/craft/tinde/ledger");
  await expect
    .poll(
      async () => {
        const { stateHash } = ledgerOf(preen, "tinde");
        return [await shownStateHash(here), await shownStateHash(there)].map((shown) => shown === stateHash);
      },
      { timeout: 60_000 },
    )
    .toEqual([true, true]);
  expect(ledgerOf(preen, "tinde").aside).toEqual([]);
  await here.goto("/craft/tinde/walk");
  await pilot.visit("nose");
  await expect(pilot.markOf(item)).toContainText(pilot.words.walk.mark.finding);
  await elsewhere.close();
});
