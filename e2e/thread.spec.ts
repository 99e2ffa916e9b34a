// The thread of the whole program, in one sitting: a machine whose full walk is due is not ready; two people walk it, with
// a call in the middle, half of it without network or server; it is signed, ready, and the server's record says the same.
import { join } from "node:path";
import { expect, ledgerOf, shownStateHash, test } from "./harness/fresh-test.ts";
import { people, stepsOn } from "./harness/walk-steps.ts";

const pictureOfWalk = join(import.meta.dirname, "..", "test-results", "pictures", "walk-phone.png");

test("a machine is walked whole, through a call and without a network, signed, and ready on device and server alike", async ({
  page,
  context,
  preen,
}) => {
  test.setTimeout(300_000);
  const steps = stepsOn(page);
  const { words, button } = steps;
  const { walk, screens, standing, app } = words;
  await page.goto("/");

  await test.step("three people make themselves known to this device; a wrong PIN takes nobody in", async () => {
    await steps.enter(people.crewMember);
    await steps.handOver();
    await steps.enter(people.engineer);
    await steps.handOver();
    await button(people.pilot.name).click();
    await steps.typePin("0000");
    await expect(page.getByText(words.entry.pin.wrong)).toBeVisible();
    // The server makes a guesser wait; the first time a second.
    await page.waitForTimeout(1_100);
    await steps.typePin(people.pilot.pin);
    await expect(page.getByRole("link", { name: /Tinde/u })).toBeVisible();
  });

  await test.step("the machine is not ready, and says why", async () => {
    await steps.openCraft("Tinde");
    await expect(page.getByRole("heading", { name: standing.verdict.notReady, exact: true })).toBeVisible();
    await expect(page.getByText("The full walk is due").first()).toBeVisible();
  });

  let left = 0;
  await test.step("a walk begins; what is marked survives a reload, and a mark can be taken back", async () => {
    await steps.learnHours("tinde");
    await page.goto("/craft/tinde");
    await steps.beginFullWalk();
    left = await steps.itemsLeft();
    expect(left).toBeGreaterThan(150);
    await steps.markGood();
    await steps.markGood();
    expect(await steps.itemsLeft()).toBe(left - 2);
    await page.reload();
    await expect.poll(steps.itemsLeft).toBe(left - 2);
    await button(app.doing.undo).click();
    await expect.poll(steps.itemsLeft).toBe(left - 1);
    await steps.markStop();
    await steps.goOn();
  });

  await test.step("an item is not reached, and reached later; another has a finding", async () => {
    const name = await steps.itemName();
    await steps.markNotReached("ladder is away");
    await expect(steps.markOf(name)).toContainText(walk.mark.notReached);
    await steps.choose(name);
    await steps.markGood();
    await expect(steps.markOf(name)).toContainText(walk.mark.good);
    const found = await steps.itemName();
    await steps.raiseFinding("Scratch", "hand wide, paint only");
    await expect(steps.markOf(found)).toContainText(walk.mark.finding);
    await steps.markStop();
    await steps.goOn();
  });

  await test.step("a walk with blank items and something open cannot be signed, and says what", async () => {
    const opened = await steps.walkUntilSomethingIsOpen();
    const place = await steps.stopName();
    // The picture in README.md.
    await page.screenshot({ path: pictureOfWalk, animations: "disabled" });
    await steps.visit("approach");
    await steps.toTheEnd.click();
    await expect(button(screens.walk.sign)).toContainText(/\d+ items not marked, [1-9]\d* things? open/u);
    await button(screens.walk.sign).click({ force: true });
    await expect(steps.sheetOf()).toHaveCount(0);
    await expect(
      steps.main.getByRole("listitem").filter({ hasText: new RegExp(`^${opened}`, "iu") }),
    ).toBeVisible();
    const line = steps.main.getByRole("button", { name: new RegExp(`^${place} `, "u") });
    await expect(line).toContainText(/\d+ items? left/u);
    await steps.visit(place);
  });

  await test.step("a call freezes the walk, which says what is left, and asks for the last three items again", async () => {
    await steps.markGood();
    left = await steps.itemsLeft();
    await button(walk.doing.callOut).click();
    await expect(page.getByRole("heading", { name: screens.walk.interrupted })).toBeVisible();
    await expect(
      steps.main.getByText(/^\d+ items left, [1-9]\d* things? open, about \d+ min$/u),
    ).toBeVisible();
    expect(await steps.itemsLeft()).toBe(left);
    await expect(steps.good).toHaveCount(0);
    await page.reload();
    await expect(page.getByRole("heading", { name: screens.walk.interrupted })).toBeVisible();
    const again = Number(/\d+/u.exec(await button(walk.doing.resume).innerText())?.[0]);
    expect(again).toBeGreaterThanOrEqual(3);
    await button(walk.doing.resume).click();
    await expect(steps.good.or(steps.read).first()).toBeVisible();
    await expect.poll(steps.itemsLeft).toBe(left + again);
  });

  await test.step("with the network cut and the server killed the app opens and the walk goes on", async () => {
    // At a stop the exchange is told only where it fails.
    await page.goto("/craft/tinde");
    await steps.sentAll();
    await context.setOffline(true);
    await preen.kill();
    await page.goto("/craft/tinde/walk");
    await steps.markStop();
    await steps.goOn();
    await page.reload();
    do await steps.markStop();
    while (await steps.goOn());
    expect(await steps.itemsLeft(), "what wants a second person").toBe(1);
    await expect(page.getByText(app.exchange.noConnection).first()).toBeVisible();
  });

  await test.step("what wants two people waits for the second, who comes to the same device", async () => {
    await page.goto("/setup");
    await steps.handOver();
    await steps.enter(people.crewMember);
    await page.goto("/craft/tinde/walk");
    await steps.nextStop.click();
    await steps.markGood();
    // The stop is not left: to give the device away leaves it.
    await steps.handOver();
    await steps.enter(people.pilot);
    await page.goto("/craft/tinde/walk");
    await steps.leaveForTheEnd();
  });

  await test.step("a wrong PIN signs nothing; the right one signs, and the finding alone still blocks", async () => {
    await expect(page.getByText(screens.walk.nothingLeft)).toBeVisible();
    await steps.sign("1111");
    await expect(page.getByText(words.entry.pin.wrong)).toBeVisible();
    await steps.sign(people.pilot.pin);
    await expect(page).toHaveURL(/\/craft\/tinde$/u);
    await expect(page.getByRole("heading", { name: standing.verdict.notReady, exact: true })).toBeVisible();
    await expect(page.getByText(/is not judged/u).first()).toBeVisible();
  });

  await test.step("an engineer judges it on the same device, and the machine is ready until the walk lapses", async () => {
    await steps.handOver();
    await steps.enter(people.engineer);
    await page.goto("/craft/tinde/findings");
    await steps.judge("Scratch", words.finding.outcome.accept);
    await steps.goToScreen("standing");
    await expect(page.getByRole("heading", { name: /^Ready/u, level: 1 })).toBeVisible();
    await expect(page.getByText(/The full walk lapses/u).first()).toBeVisible();
  });

  await test.step("the page says when it last exchanged and how much is kept here", async () => {
    const line = page.getByText(/last exchanged \d\d:\d\d/u).first();
    await expect(line).toContainText(app.exchange.noConnection);
    const kept = Number(/(\d+) not sent, kept here/u.exec(await line.innerText())?.[1]);
    // A page for each stop walked without a network, the judgement, the signature.
    expect(kept).toBeGreaterThan(20);
  });

  await test.step("when the network is back it goes up, and the server's record is the device's", async () => {
    await preen.startAgain();
    await context.setOffline(false);
    await steps.sentAll();
    await steps.goToScreen("ledger");
    const ledger = ledgerOf(preen, "tinde");
    await expect.poll(() => shownStateHash(page)).toBe(ledger.stateHash);
    expect(ledger.aside).toEqual([]);
    const types = ledger.entries.filter(({ type }) => type !== "receipt").map(({ type }) => type);
    expect(types).toContain("walk.interrupted");
    expect(types.slice(-2)).toEqual(["walk.finished", "finding.judged"]);
  });
});
