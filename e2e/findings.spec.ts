// Findings in a real browser: one captured with a photo while the network is cut, kept through a kill and a reload, then on
// the server; what is typed badly is asked about by name; a growing finding and an event as people meet them.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "@playwright/test";
import type { BrowserContext, Page } from "@playwright/test";
import { launchSettings } from "./harness/launch-settings.ts";
import { enterAs, typePin } from "./harness/people.ts";
import { demoClock, expect, takePictures, test } from "./harness/preen-test.ts";

async function newPage(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.clock.setFixedTime(demoClock);
  page.setDefaultTimeout(15_000);
  return page;
}

const dialog = (page: Page) => page.getByRole("dialog").last();
const pick = (page: Page, name: string | RegExp) =>
  dialog(page).getByRole("radio", { name }).check({ force: true });

/** A JPEG as a camera writes it: drawn here, with an Exif segment that names a place. */
async function cameraPicture(page: Page): Promise<Buffer> {
  const base64 = await page.evaluate(async () => {
    const canvas = new OffscreenCanvas(2_400, 1_800);
    const context = canvas.getContext("2d")!;
    context.fillStyle = "#777";
    context.fillRect(0, 0, 2_400, 1_800);
    context.fillStyle = "#222";
    context.fillRect(900, 700, 500, 60);
    const blob = await canvas.convertToBlob({ type: "image/jpeg", quality: 0.9 });
    const bytes = new Uint8Array(await blob.arrayBuffer());
    return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
  });
  const plain = Buffer.from(base64, "base64");
  const place = Buffer.from("Exif\0\0GPSLatitude 70.2 GPSLongitude 12.5");
  const head = Buffer.from([0xff, 0xe1, 0, place.length + 2]);
  return Buffer.concat([plain.subarray(0, 2), head, place, plain.subarray(2)]);
}

async function openCapture(page: Page): Promise<void> {
  await page.getByRole("button", { name: /^New finding/u }).click();
  await expect(dialog(page).getByText("Where is it? Tap the drawing")).toBeVisible();
}

test("a finding with a photo, taken offline, is there after a kill and a reload, and then on the server", async ({
  preen,
}) => {
  test.setTimeout(180_000);
  const profile = mkdtempSync(join(tmpdir(), "preen-findings-"));
  const { launchOptions, channel } = launchSettings();
  const launch = () =>
    chromium.launchPersistentContext(profile, {
      ...launchOptions,
      ...(channel === undefined ? {} : { channel }),
      baseURL: preen.url,
      viewport: { width: 390, height: 844 },
    });
  try {
    let context = await launch();
    let page = await newPage(context);
    await enterAs(page, "Lind");
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await page.goto("/craft/tinde/findings");
    await page.getByRole("heading", { level: 1 }).waitFor();
    const picture = await cameraPicture(page);
    expect(picture.includes("GPSLatitude")).toBe(true);
    await context.setOffline(true);

    // Three taps: the place on the drawing, the part, record; the kind follows from the part.
    await openCapture(page);
    // A tap goes to the place nearest to it, whichever button it hits.
    await dialog(page).getByRole("button", { name: "Left boom" }).click({ force: true });
    await pick(page, "Tail boom, skin between frames");
    await expect(dialog(page).getByRole("radio", { name: "Dent" })).toBeChecked();
    await dialog(page).getByRole("textbox", { name: "Size with its unit" }).fill("0.9 mm");
    await dialog(page)
      .locator("input[type=file]")
      .last()
      .setInputFiles({ name: "dent.jpg", mimeType: "image/jpeg", buffer: picture });
    await expect(dialog(page).getByRole("img", { name: "Photo 1 of this finding" })).toBeVisible();
    await dialog(page)
      .getByRole("button", { name: /^Record the finding/u })
      .click();
    const row = () => page.getByRole("button", { name: /^Dent, left boom/u });
    await expect(row()).toBeVisible();
    await expect(row()).toContainText("0.9 mm");

    // Killed, not closed.
    const gone = new Promise<void>((done) => context.once("close", () => done()));
    const session = await context.newCDPSession(page);
    void session.send("Browser.crash").catch(() => undefined);
    await gone;

    context = await launch();
    await context.setOffline(true);
    page = await newPage(context);
    await page.goto("/craft/tinde/findings");
    await expect(row()).toBeVisible({ timeout: 30_000 });
    await page.reload();
    await row().click();
    await expect(dialog(page).getByRole("img", { name: "Photo 1 of this finding" })).toBeVisible();
    await expect(dialog(page).getByText("the sheet leaves this", { exact: false })).toBeHidden();
    await expect(dialog(page).getByText("engineer", { exact: true }).first()).toBeVisible();

    // Back in reach: the entry and the photo go up.
    const sent = page.waitForResponse((response) => response.url().endsWith("/api/photos"), {
      timeout: 60_000,
    });
    await context.setOffline(false);
    await page.reload();
    const { hash } = (await (await sent).json()) as { hash: string };
    await expect(page.getByText("all sent", { exact: false }).first()).toBeVisible({ timeout: 30_000 });
    const stored = await page.evaluate(async (wanted) => {
      const open = indexedDB.open("preen-keys");
      const db = await new Promise<IDBDatabase>((done) => {
        open.onsuccess = () => done(open.result);
      });
      const all = db.transaction("enrolment").objectStore("enrolment").getAll();
      const [enrolment] = await new Promise<{ token: string }[]>((done) => {
        all.onsuccess = () => done(all.result as { token: string }[]);
      });
      const response = await fetch(`/api/photos/${wanted}`, {
        headers: { authorization: `Bearer ${enrolment!.token}` },
      });
      return ((await response.json()) as { data: string }).data;
    }, hash);
    const bytes = Buffer.from(stored, "base64");
    expect(bytes.subarray(0, 2).toString("hex")).toBe("ffd8");
    // Nothing of the place is left, and the picture is smaller than the camera's.
    expect(bytes.includes("GPS")).toBe(false);
    expect(bytes.includes("Exif")).toBe(false);
    expect(bytes.length).toBeLessThan(picture.length * 2);
    await context.close();
  } finally {
    rmSync(profile, { recursive: true, force: true });
  }
});

test("what is typed badly is asked about or refused by its name", async ({ context }) => {
  test.setTimeout(120_000);
  const page = await newPage(context);
  await enterAs(page, "Ravn");
  await page.goto("/craft/myr/findings");
  await openCapture(page);
  const files = dialog(page).locator("input[type=file]").last();
  const record = dialog(page).getByRole("button", { name: /^Record the finding/u });

  // A file that is no picture, a photo of 40 MB, a photo without a place.
  await files.setInputFiles({
    name: "notes.txt",
    mimeType: "image/jpeg",
    buffer: Buffer.from("not a picture"),
  });
  await expect(dialog(page).getByText("notes.txt is not a picture that can be read here")).toBeVisible();
  const folder = mkdtempSync(join(tmpdir(), "preen-large-"));
  const large = join(folder, "wide.jpg");
  writeFileSync(large, Buffer.alloc(40_000_000, 1));
  await files.setInputFiles(large);
  await expect(dialog(page).getByText("wide.jpg has 40.0 MB; at most 25 MB", { exact: false })).toBeVisible();
  rmSync(folder, { recursive: true });
  await files.setInputFiles({ name: "dent.jpg", mimeType: "image/jpeg", buffer: await cameraPicture(page) });
  await expect(record).toContainText("A photo needs its place: tap where it is");

  await dialog(page).getByRole("button", { name: "Left boom" }).click();
  await pick(page, "Tail boom, skin between frames");
  const sized = dialog(page).getByRole("textbox", { name: "Size with its unit" });
  await sized.fill("small");
  await expect(dialog(page).getByText("“small” is no size", { exact: false })).toBeVisible();
  await expect(record).toContainText("Give the size with its unit");
  await sized.fill("as before");
  await expect(dialog(page).getByText("“as before”: as which one?", { exact: false })).toBeVisible();
  await sized.fill("0.4");
  await expect(dialog(page).getByText("0.4 of what? Choose the unit")).toBeVisible();
  await pick(page, "mm");
  await expect(dialog(page).getByText("0.4 mm", { exact: true })).toBeVisible();
  await sized.fill("2 L");
  await expect(dialog(page).getByText("“L” does not measure this", { exact: false })).toBeVisible();
  await sized.fill("1/64 in");
  await expect(dialog(page).getByText("1/64 in, used as 0.4 mm")).toBeVisible();

  // Yesterday: when was it written down?
  const when = dialog(page).getByRole("textbox", { name: "When was it seen?" });
  await when.fill("tomorrow");
  await expect(dialog(page).getByText("“tomorrow” is no time or date", { exact: false })).toBeVisible();
  await when.fill("yesterday 16:00");
  await expect(dialog(page).getByText("That is 24 November 2026, not today", { exact: false })).toBeVisible();
  await expect(record).toContainText("Say when it was written down");
  await pick(page, /^only now/u);
  await record.click();

  // Recorded: what was typed stands beside what was used.
  await page.getByRole("button", { name: /^Dent, left boom/u }).click();
  await expect(dialog(page).getByText("1/64 in, used as 0.4 mm", { exact: false })).toBeVisible();
  await expect(dialog(page).getByText("typed: yesterday 16:00", { exact: false })).toBeVisible();

  // An entry of the list that does not exist, and one about something else.
  await pick(page, "Judge it");
  await pick(page, /^Defer/u);
  const list = dialog(page).getByRole("textbox", { name: "Number in the operator's list" });
  await list.fill("99-99");
  await expect(dialog(page).getByText("“99-99” is no entry of the operator's list")).toBeVisible();
  await list.fill("33-01");
  await expect(dialog(page).getByText("that entry of the list is about something else")).toBeVisible();
  // The same matter again: it is shown first, and never written twice.
  await page.keyboard.press("Escape");
  await openCapture(page);
  await dialog(page)
    .getByRole("button", { name: /^Left boom/u })
    .click();
  await expect(dialog(page).getByText("Known here already")).toBeVisible();
  await expect(dialog(page).getByRole("button", { name: /^Record/u })).toContainText(
    "Say whether it is one of those",
  );
  await pick(page, /^Dent, Tail boom|^Dent, tail boom/u);
  await dialog(page).getByRole("button", { name: "Record: seen again" }).click();
  await expect(page.getByRole("button", { name: /^Dent, left boom/u })).toHaveCount(1);
});

test("what the sheet leaves to an engineer a pilot can only keep on the ground", async ({ context }) => {
  const page = await newPage(context);
  await enterAs(page, "Ravn");
  await page.goto("/craft/myr/findings");
  await openCapture(page);
  await dialog(page).getByRole("button", { name: "Right boom" }).click();
  await pick(page, "Tail boom, skin between frames");
  await dialog(page).getByRole("textbox", { name: "Size with its unit" }).fill("1.1 mm");
  await dialog(page)
    .getByRole("button", { name: /^Record the finding/u })
    .click();
  await page.getByRole("button", { name: /^Dent, right boom/u }).click();
  await expect(dialog(page).getByText("measured again within 120 days or 100 flight hours")).toBeVisible();
  await pick(page, "Judge it");
  const outcome = (name: RegExp) => dialog(page).getByRole("radio", { name });
  await expect(outcome(/^Accept/u)).toBeDisabled();
  await expect(outcome(/^Watch/u)).toBeDisabled();
  await expect(outcome(/^Ground/u)).toBeEnabled();
  await pick(page, /^Ground/u);
  await dialog(page).getByRole("button", { name: "Record it" }).click();
  await expect(page.getByRole("button", { name: /^Dent, right boom/u })).toContainText("Ground");
});

test("an event keeps the machine on the ground until an engineer has written", async ({
  context,
  browser,
  baseURL,
}) => {
  test.setTimeout(120_000);
  const page = await newPage(context);
  await enterAs(page, "Holm");
  await page.goto("/craft/skjaer/findings");
  await page.getByRole("button", { name: /^It happened/u }).click();
  await pick(page, /^Bird strike/u);
  await dialog(page)
    .getByRole("button", { name: /^Record that it happened/u })
    .click();
  await expect(page.getByText("An engineer writes what was found")).toBeVisible();
  await page.goto("/craft/skjaer");
  await expect(page.getByRole("heading", { name: "Not ready" })).toBeVisible();
  await expect(page.getByText("Bird strike", { exact: false }).first()).toBeVisible();
  await expect(page.getByText("all sent", { exact: false }).first()).toBeVisible({ timeout: 30_000 });

  const hangar = await browser.newContext(baseURL === undefined ? {} : { baseURL });
  const engineer = await newPage(hangar);
  await enterAs(engineer, "Brekke");
  await engineer.goto("/craft/skjaer/findings");
  await engineer
    .getByRole("textbox", { name: "What was looked at, and what was found" })
    .fill("no trace, probes free");
  await engineer.getByRole("button", { name: "Clear it" }).click();
  await typePin(dialog(engineer), "Brekke");
  await expect(engineer.getByText("cleared", { exact: false }).first()).toBeVisible();
  await hangar.close();
});

test("all that was found is a map and a table, by time, kind and machine", async ({ context }) => {
  test.setTimeout(120_000);
  const page = await newPage(context);
  await enterAs(page, "Sund");
  await page.goto("/craft/tinde/findings");
  const table = page.getByRole("table").last();
  await expect(table).toContainText("Chafing, hose in the rear bay", { timeout: 20_000 });
  await page.getByRole("radio", { name: "14 months" }).check({ force: true });
  await page.getByRole("radio", { name: "all of this type" }).check({ force: true });
  const rows = table.getByRole("row");
  const all = await rows.count();
  expect(all).toBeGreaterThan(4);
  const place = page.getByRole("main").getByRole("button", { name: /^Rear bay, \d+ finding/u });
  await place.focus();
  await page.keyboard.press("Enter");
  await expect(page.getByText("Only rear bay")).toBeVisible();
  expect(await rows.count()).toBeLessThan(all);
  await table
    .getByRole("button", { name: /^Chafing/u })
    .first()
    .click();
  await expect(dialog(page).getByText("Reaches 0.6 mm", { exact: false })).toBeVisible();
  await expect(dialog(page).getByText("nine in ten:", { exact: false })).toBeVisible();
});

test("the screen of findings fits every size in every light", async ({ page }) => {
  await enterAs(page, "Brekke");
  await page.goto("/craft/tinde/findings");
  await takePictures(page, "findings", async (shown) => {
    await expect(shown.getByRole("heading", { name: "All that was found" })).toBeVisible();
  });
});
