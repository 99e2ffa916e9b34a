// Two people on one walk, each with a tablet, one of them without a network: what each marked is there once and the worse
// wins, both see who has been where, and a call-out on one freezes the other without losing a tap.
import type { Page } from "@playwright/test";
import { sizes } from "./harness/preen-test.ts";
import { enterAs } from "./harness/people.ts";
import { beginWalk, expect, goTo, left, markGood, openPage, walkStop, test } from "./harness/walker.ts";

const stopRow = (page: Page, stop: string) =>
  page.getByRole("list").getByRole("button", { name: new RegExp(`^${stop}`, "u") });

/** Stands at a stop, from the end of the walk or from another stop on a wide screen. */
async function standAt(page: Page, stop: string): Promise<void> {
  await stopRow(page, stop).click();
  await expect(page.getByRole("heading", { level: 1, name: stop })).toBeVisible();
}

/** What is left at each stop, as the list of stops tells it. */
async function stopsTold(page: Page): Promise<Readonly<Record<string, string>>> {
  const rows = await page.locator("section", { hasText: "Stop by stop" }).getByRole("listitem").all();
  const told = await Promise.all(
    rows.map(async (row): Promise<[string, string]> => {
      const text = (await row.textContent()) ?? "";
      const name = /^(.*?)(?: (?:Ravn|Holm|nobody))/u.exec(text)?.[1] ?? text;
      return [name, text.slice(name.length).trim()];
    }),
  );
  return Object.fromEntries(told);
}

/** Has the device exchange now instead of at the next full minute. */
const exchange = (page: Page): Promise<boolean> => page.evaluate(() => dispatchEvent(new Event("online")));

/** What the page tells once it has heard from the other device. */
const heard =
  <Told>(page: Page, tell: (page: Page) => Promise<Told>): (() => Promise<Told>) =>
  async () => {
    await exchange(page);
    await page.waitForTimeout(400);
    return tell(page);
  };

test("two tablets walk one walk, one of them offline: merged, nothing is lost, nothing counts twice, the worse wins", async ({
  browser,
  baseURL,
}) => {
  test.setTimeout(240_000);
  const contexts = await Promise.all(
    [0, 1].map(() => browser.newContext({ baseURL: baseURL!, locale: "en-GB", timezoneId: "Europe/Oslo" })),
  );
  const [ravn, holm] = await Promise.all(contexts.map((context) => openPage(context, sizes.desk)));
  await enterAs(ravn!, "Ravn");
  await enterAs(holm!, "Holm");
  await beginWalk(ravn!, "tinde", /^Parking walk/u);
  const all = await left(ravn!);
  expect(all).toBeGreaterThan(12);

  // The other has it on the screen before the network goes.
  await goTo(holm!, "tinde", "walk");
  await expect.poll(heard(holm!, left), { timeout: 20_000 }).toBe(all);
  await holm!.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
  await contexts[1]!.setOffline(true);

  // One begins at the cockpit, the other at the tail; both come to the rear bay and differ there.
  await walkStop(ravn!);
  await standAt(ravn!, "Rear bay");
  const rear = await ravn!.locator(".walk-item h2").textContent();
  await walkStop(ravn!);
  await ravn!.getByRole("button", { name: /^To the end/u }).click();
  await standAt(holm!, "Tail rotor");
  await walkStop(holm!);
  await standAt(holm!, "Rear bay");
  await holm!.getByRole("button", { name: /^Finding/u }).click();
  const dialog = holm!.getByRole("dialog");
  // The rear bay has a finding already; this one is not that.
  await dialog.getByRole("radio", { name: "None of these, it is another one" }).check({ force: true });
  await dialog.getByRole("radio", { name: "Scratch" }).check({ force: true });
  await dialog.getByRole("button", { name: "Record the finding" }).click();
  await expect(dialog).toBeHidden();
  await standAt(holm!, "Nose left");
  await walkStop(holm!);
  await holm!.getByRole("button", { name: /^To the end/u }).click();
  const [leftByRavn, leftByHolm] = [await left(ravn!), await left(holm!)];
  const told = await stopsTold(holm!);
  expect(told["Tail rotor"]).toContain("Holm");

  // Merged: each device has both, and the same.
  await contexts[1]!.setOffline(false);
  const toldOf = (stop: string) => async (page: Page) => (await stopsTold(page))[stop] ?? "";
  await expect.poll(heard(holm!, toldOf("Cockpit")), { timeout: 30_000 }).toContain("Ravn");
  await expect.poll(heard(ravn!, toldOf("Tail rotor")), { timeout: 30_000 }).toContain("Holm");
  expect(await stopsTold(ravn!)).toEqual(await stopsTold(holm!));
  const rearBay = (await stopsTold(ravn!))["Rear bay"] ?? "";
  expect(rearBay).toContain("Ravn");
  expect(rearBay).toContain("Holm");
  // Marked by either: what each did apart, less what both did.
  const rearItems = 1;
  const merged = leftByRavn + leftByHolm - all + rearItems;
  expect([await left(ravn!), await left(holm!)]).toEqual([merged, merged]);
  // The worse wins on both: the item that one marked good and the other with a finding is a finding.
  for (const page of [ravn!, holm!]) {
    await standAt(page, "Rear bay");
    await expect(page.locator(".walk-other", { hasText: rear! })).toContainText(/finding/iu);
  }
  // The record tells every page once, and none was set aside.
  await goTo(ravn!, "tinde");
  await expect(ravn!.getByText(/set aside/u)).toHaveCount(0);
  await Promise.all(contexts.map((context) => context.close()));
});

test("a call-out on one tablet freezes the other, keeps what was tapped there, and starts both stops again", async ({
  browser,
  baseURL,
}) => {
  test.setTimeout(180_000);
  const contexts = await Promise.all(
    [0, 1].map(() => browser.newContext({ baseURL: baseURL!, locale: "en-GB", timezoneId: "Europe/Oslo" })),
  );
  const [ravn, holm] = await Promise.all(contexts.map((context) => openPage(context, sizes.desk)));
  await enterAs(ravn!, "Ravn");
  await enterAs(holm!, "Holm");
  await beginWalk(ravn!, "myr", /^Parking walk/u);
  const all = await left(ravn!);
  await goTo(holm!, "myr", "walk");
  await expect.poll(heard(holm!, left), { timeout: 20_000 }).toBe(all);
  await markGood(ravn!);
  await standAt(holm!, "Tail rotor");
  await markGood(holm!);
  expect(await left(holm!)).toBe(all - 1);

  await ravn!.getByRole("button", { name: /^Call-out/u }).click();
  await expect(ravn!.getByRole("heading", { name: "The walk stands still" })).toBeVisible();
  const frozen = (page: Page) => page.getByRole("heading", { name: "The walk stands still" }).count();
  await expect.poll(heard(holm!, frozen), { timeout: 20_000 }).toBe(1);
  // The tap of before is there, and is said to come again.
  await expect.poll(() => left(holm!)).toBe(all - 2);
  await holm!.getByRole("button", { name: /^Resume/u }).click();
  await expect(holm!.getByRole("button", { name: /^(Good|Read)/u })).toBeVisible();
  await expect.poll(() => left(holm!)).toBe(all);
  await holm!.getByRole("button", { name: /^Call-out/u }).click();
  await expect(holm!.getByRole("heading", { name: "The walk stands still" })).toBeVisible();
  await expect(holm!.getByText(/Tail rotor Holm/u)).toBeVisible();
  await Promise.all(contexts.map((context) => context.close()));
});
