// What a person does in the app, step by step, found by role and name as a screen reader finds it. Names come from the
// app's own catalogue of words, so that the same steps walk in every language.
import { expect, type Locator, type Page } from "@playwright/test";
import type { Language } from "../../src/present/words/language.ts";
import { findingsWordsIn } from "../../src/present/words/findings-words.ts";
import { levelsWordsIn } from "../../src/present/words/levels-words.ts";
import { wordsIn } from "../../src/present/words/words.ts";
import { hold_ms } from "../../src/web/parts/use-hold.ts";
import { type Named, pins } from "./people.ts";
import { gaugeIn, usualReading } from "./usual-readings.ts";

/** The air at the demo's base when the specs walk. */
const outside_C = -4;

const person = (name: Named) => ({ name, pin: pins[name] });

/** The people of the demo that these steps need, by what they do. */
export const people = {
  pilot: person("Ravn"),
  otherPilot: person("Holm"),
  crewMember: person("Lind"),
  engineer: person("Brekke"),
};

export type DemoPerson = (typeof people)[keyof typeof people];

/** Checks a radio whose face lies over it; again where the sheet that it stands in was still on its way. */
const pick = (radio: Locator): Promise<void> =>
  expect(async () => {
    await radio.evaluate((element) => element.scrollIntoView({ block: "center" }));
    await radio.check({ force: true, timeout: 1_000 });
  }).toPass({ timeout: 10_000 });

export type Steps = ReturnType<typeof stepsOn>;

/** Escapes a text for use inside a pattern. */
const literally = (text: string): string => text.replace(/[$()*+.?[\\\]^{|}]/gu, "\\$&");

export function stepsOn(page: Page, language: Language = "en") {
  const words = wordsIn(language);
  const { walk, screens, entry, app } = words;
  const { conditions } = levelsWordsIn(language);
  const button = (name: string): Locator =>
    page.getByRole("button", { name: new RegExp(`^${literally(name)}`, "u") });
  const good = button(walk.doing.good);
  const read = button(screens.walk.read);
  const nextStop = button(walk.doing.nextStop);
  const toTheEnd = button(screens.walk.summaryButton);
  const stopIsDone = page.getByRole("heading", {
    name: new RegExp(`^(${screens.walk.stopDone}|${screens.walk.allStopsDone})$`, "u"),
  });
  const main = page.getByRole("main");
  /** Where in the stop one stands: `3 of 7`. Another item stands there once it has changed. */
  const count = main.getByText(new RegExp(walk.itemOf(1, 1).replaceAll("1", String.raw`\d+`), "u")).first();

  const typePin = async (pin: string, within: Page | Locator = page) => {
    for (const digit of pin) await within.getByRole("button", { name: digit, exact: true }).click();
    await within.getByRole("button", { name: entry.pin.enter, exact: true }).click();
  };

  const hold = async (target: Locator) => {
    await target.scrollIntoViewIfNeeded();
    const box = await target.boundingBox();
    if (box === null) throw new Error("what is to be held is not to be seen");
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.waitForTimeout(hold_ms + 150);
    await page.mouse.up();
  };

  const enter = async ({ name, pin }: DemoPerson) => {
    await button(name).click();
    await typePin(pin);
    await expect(page.getByRole("link", { name: /Tinde/u })).toBeVisible({ timeout: 15_000 });
  };

  const openCraft = async (name: string) => {
    await page.getByRole("link", { name: new RegExp(name, "u") }).click();
    await expect(page).toHaveURL(/\/craft\//u);
  };

  /** From the standing into a full walk. `known`: what is said of the conditions; the rest is not known. */
  const beginFullWalk = async (known: Readonly<Record<string, "yes" | "no">> = {}) => {
    await button(walk.kind.full).click();
    for (const [condition, answer] of Object.entries(known)) {
      const group = page.getByRole("group", {
        name: screens.walk.condition[condition as "frost"],
        exact: true,
      });
      await pick(group.getByRole("radio", { name: screens.walk[answer], exact: true }));
    }
    await button(walk.doing.begin).click();
    await expect(
      page.getByText(
        new RegExp(
          literally(walk.stopOf(1, 1))
            .replace("1", String.raw`1\b`)
            .replace(/1$/u, String.raw`\d+`),
          "u",
        ),
      ),
    ).toBeVisible();
  };

  /** What can be done with the item at hand; `done` when the stop has nothing blank left. */
  const atHand = async (): Promise<"good" | "read" | "done"> => {
    await expect(good.or(read).or(stopIsDone).first()).toBeVisible();
    if (await stopIsDone.isVisible()) return "done";
    return (await read.isVisible()) ? "read" : "good";
  };

  /** Waits until another item stands at hand than the one that `before` counted. */
  const movedOn = async (before: string) => {
    await expect(count.or(stopIsDone).first()).not.toHaveText(before);
  };

  const markGood = async () => {
    const before = await count.innerText();
    await good.click();
    await movedOn(before);
  };

  const markRest = async () => {
    const before = await count.innerText();
    await hold(good);
    await movedOn(before);
  };

  const frozenLine = new RegExp(
    walk
      .frozen(2, 2, 2)
      .replaceAll("2", String.raw`\d+`)
      .replaceAll(/items|things/gu, String.raw`\w+`),
    "u",
  );
  const lastRead = new RegExp(`^${screens.walk.lastRead("", "").split(",")[0]}[0-9.,]+ `, "u");
  const asTyped = (value: number) => (language === "de" ? String(value).replace(".", ",") : String(value));
  const sheetOf = () => page.getByRole("dialog");

  /** Types a reading and says the conditions that are asked for; leaves the sheet open. */
  const typeReading = async (value: string, temperature = String(outside_C)) => {
    await read.click();
    const sheet = sheetOf();
    await sheet.getByRole("textbox").first().fill(value);
    for (const [name, answer] of [
      [conditions.state, conditions.hot],
      [conditions.level, conditions.yes],
    ] as const) {
      const asked = sheet.getByRole("group", { name }).getByRole("radio", { name: answer, exact: true });
      if (await asked.isVisible()) await asked.check({ force: true });
    }
    for (const name of [conditions.oat, conditions.bottle]) {
      const asked = sheet.getByRole("textbox", { name, exact: true });
      if (await asked.isVisible()) await asked.fill(temperature);
    }
    return sheet;
  };

  const takeReading = async (value: string, temperature?: string) => {
    const before = await count.innerText();
    const sheet = await typeReading(value, temperature);
    await sheet
      .getByRole("button", { name: new RegExp(`^${literally(screens.walk.takeReading)}`, "u") })
      .click();
    await expect(sheet).toHaveCount(0);
    await movedOn(before);
  };

  let hours: string | null = null;

  /** Learns from the screen Levels what the hour meter shows if every flight was logged. */
  const learnHours = async (craft: string) => {
    await page.goto(`/craft/${craft}/levels`);
    const said = await main.getByText(/^(?:at|bei) [\d.,]+ h$/u).innerText();
    hours = (/[\d.,]*\d/u.exec(said)?.[0] ?? "").replace(language === "de" ? "." : ",", "");
  };

  /**
   * Reads the gauge at hand as it stands on a usual day; the hour meter shows what has been flown, once that was learnt,
   * another counter what it showed last.
   */
  const readUsual = async () => {
    const gauge = gaugeIn(await read.innerText(), language);
    if (gauge.id === "airframeHours" && hours !== null) return takeReading(hours);
    const value = usualReading(gauge, outside_C);
    if (value !== null) return takeReading(asTyped(value));
    const sheet = await typeReading("1");
    const [last = "1"] = /[\d.,]*\d/u.exec(await sheet.getByText(lastRead).innerText()) ?? [];
    await page.keyboard.press("Escape");
    return takeReading(last);
  };

  /** Marks everything at the stop good: what the sheet lets go together by one long press, the rest singly. */
  const markStop = async () => {
    let swept = false;
    for (;;) {
      const what = await atHand();
      if (what === "done") return;
      if (what === "read") await readUsual();
      else if (!swept && (await good.innerText()).includes(walk.doing.restOfStop)) {
        swept = true;
        await markRest();
      } else await markGood();
    }
  };

  /** From a stop that is done to the next one with something blank; false when there is none. */
  const goOn = async (): Promise<boolean> => {
    if (!(await nextStop.isVisible())) return false;
    const before = await stopName();
    await nextStop.click();
    await expect(page.getByRole("heading", { level: 1 })).not.toHaveText(before);
    return true;
  };

  /** The name of the stop at hand. */
  const stopName = () => page.getByRole("heading", { level: 1 }).innerText();

  /** What stands at hand, by its words. */
  const itemName = () => main.getByRole("heading", { level: 2 }).first().innerText();

  /** The line of an item in the list beside the one at hand: its mark, then its words. */
  const markOf = (name: string) =>
    main.getByRole("button", { name: new RegExp(`: ${literally(name)}`, "u") }).first();

  const choose = async (name: string) => {
    await markOf(name).click();
    await expect(main.getByRole("heading", { level: 2 }).first()).toHaveText(name);
  };

  /** How many items the walk has left, as it says beside the call-out. */
  const itemsLeft = async (): Promise<number> => {
    const said = main.getByText(frozenLine).first();
    return Number(/\d+/u.exec(await said.innerText())?.[0]);
  };

  const inFindingSheet = async () => {
    await button(walk.doing.finding).click();
    return sheetOf();
  };

  const markNotReached = async (why: string) => {
    const sheet = await inFindingSheet();
    await pick(sheet.getByRole("radio", { name: walk.doing.notReached }));
    await sheet.getByRole("textbox", { name: screens.walk.whyNotReached }).fill(why);
    await sheet.getByRole("button", { name: walk.doing.notReached, exact: true }).click();
    await expect(sheet).toHaveCount(0);
  };

  const raiseFinding = async (kind: string, said: string) => {
    const sheet = await inFindingSheet();
    await pick(sheet.getByRole("radio", { name: kind, exact: true }));
    await sheet.getByRole("textbox", { name: words.finding.words }).fill(said);
    await sheet.getByRole("button", { name: screens.findings.save, exact: true }).click();
    await expect(sheet).toHaveCount(0);
  };

  /** On the screen Findings: judges the first open finding of a kind. */
  const judge = async (kind: string, outcome: string) => {
    await main
      .getByRole("button", { name: new RegExp(literally(kind), "u") })
      .first()
      .click();
    const sheet = sheetOf();
    const findings = findingsWordsIn(language);
    await pick(sheet.getByRole("radio", { name: findings.act.judge, exact: true }));
    await pick(sheet.getByRole("radio", { name: new RegExp(`^${literally(outcome)}`, "u") }));
    await sheet.getByRole("button", { name: findings.act.record, exact: true }).click();
    await expect(sheet).toHaveCount(0);
  };

  /** Marks on until something stands open at a stop; returns its name. The stop is not done then. */
  const walkUntilSomethingIsOpen = async (): Promise<string> => {
    const open = page.getByRole("region", { name: walk.openHere });
    for (;;) {
      while ((await atHand()) !== "done") {
        if (await open.isVisible()) return open.getByRole("listitem").first().innerText();
        if ((await atHand()) === "read") await readUsual();
        else await markGood();
      }
      if (!(await goOn())) throw new Error("nothing was opened on the whole walk");
    }
  };

  /** Goes to a stop by tapping it on the drawing. */
  const visit = async (stop: string) => {
    const target = main
      .getByRole("figure")
      .getByRole("button", { name: new RegExp(`^${literally(stop)},`, "iu") });
    await target.focus();
    await page.keyboard.press("Enter");
    await expect(
      page.getByRole("heading", { level: 1, name: new RegExp(`^${literally(stop)}$`, "iu") }),
    ).toBeVisible();
  };

  /** From a stop to the summary at the end of the walk, whatever is left. */
  const leaveForTheEnd = async () => {
    await expect(button(screens.walk.sign).or(toTheEnd).first()).toBeVisible();
    if (await toTheEnd.isVisible()) await toTheEnd.click();
    await expect(button(screens.walk.sign)).toBeVisible();
  };

  const handOver = async () => {
    await page.goto("/setup");
    await button(screens.enter.leave).click();
    await expect(page.getByRole("heading", { name: screens.enter.title })).toBeVisible();
  };

  const sentAll = () =>
    expect(
      page
        .getByText(new RegExp(`${literally(app.exchange.last("").trim())}.*${app.exchange.allSent}`, "u"))
        .first(),
    ).toBeVisible({ timeout: 30_000 });

  const goToScreen = async (screen: keyof typeof app.screens) => {
    const link = page.getByRole("navigation").getByRole("link", { name: app.screens[screen], exact: true });
    if (!(await link.first().isVisible())) await button(app.moreScreens).click();
    await page.getByRole("link", { name: app.screens[screen], exact: true }).last().click();
  };

  /** Signs at the end of the walk; leaves the sheet open when the PIN does not fit. */
  const sign = async (pin: string) => {
    if ((await sheetOf().count()) === 0) await button(screens.walk.sign).click();
    await typePin(pin, sheetOf());
  };

  return {
    words,
    page,
    main,
    button,
    good,
    read,
    nextStop,
    toTheEnd,
    stopIsDone,
    count,
    typePin,
    hold,
    enter,
    openCraft,
    beginFullWalk,
    atHand,
    markGood,
    markRest,
    typeReading,
    takeReading,
    readUsual,
    learnHours,
    markStop,
    goOn,
    stopName,
    itemName,
    markOf,
    choose,
    itemsLeft,
    markNotReached,
    raiseFinding,
    judge,
    walkUntilSomethingIsOpen,
    visit,
    leaveForTheEnd,
    handOver,
    sentAll,
    goToScreen,
    sign,
    sheetOf,
  };
}
