// The parts of the app, one by one and in every state, as the gallery shows them: accessibility, the four lights, reflow,
// targets, and the behaviour that only a browser has.
//
// Held against: WCAG 2.2 AA through axe-core (rules tagged wcag2a to wcag22aa, and axe's best practices); for the lights,
// against the pixels themselves; targets against the app's own 80 px at the aircraft and 48 px elsewhere.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { AxeBuilder } from "@axe-core/playwright";
import { expect, type Page, test as base } from "@playwright/test";
import { brightestOf } from "./harness/colours.ts";
import { serveFolder } from "./harness/folder-server.ts";
import { buildGallery, type PlateName, plateNames } from "./harness/gallery.ts";
import { launchSettings } from "./harness/launch-settings.ts";

type Light = "day" | "dark" | "red" | "goggles";
type Show = (plate: PlateName, light?: Light, language?: "en" | "de") => Promise<void>;

const test = base.extend<{ show: Show }, { gallery: string }>({
  gallery: [
    // oxlint-disable-next-line no-empty-pattern
    async ({}, use) => {
      const folder = mkdtempSync(join(tmpdir(), "preen-gallery-"));
      await buildGallery(folder);
      const server = await serveFolder(folder);
      await use(`${server.url}/gallery/index.html`);
      await server.stop();
      rmSync(folder, { recursive: true, force: true });
    },
    { scope: "worker" },
  ],
  show: async ({ page, gallery }, use) => {
    await use(async (plate, light = "day", language = "en") => {
      await page.goto(`${gallery}?plate=${plate}&light=${light}&language=${language}`);
      await page.evaluate(() => document.fonts.ready);
    });
  },
});

// Scrollbars are part of the light that a screen gives.
test.use({
  launchOptions: { ...launchSettings().launchOptions, ignoreDefaultArgs: ["--hide-scrollbars"] },
  viewport: { width: 390, height: 844 },
});

test("the gallery shows every plate that these specs look at", async ({ page, gallery }) => {
  await page.goto(gallery);
  expect(await page.getByRole("link").allTextContents()).toEqual([...plateNames]);
});

for (const light of ["day", "dark", "red", "goggles"] as const) {
  test(`axe finds nothing to object to in the ${light} light, contrast included`, async ({ page, show }) => {
    test.slow();
    const found: string[] = [];
    for (const plate of plateNames) {
      await show(plate, light);
      const axe = new AxeBuilder({ page });
      // A light changes colours and nothing else.
      if (light !== "day") axe.withRules("color-contrast");
      const { violations, passes } = await axe.analyze();
      expect(passes.some(({ id }) => id === "color-contrast")).toBe(true);
      for (const { id, nodes } of violations) found.push(`${plate}: ${id} ${nodes[0]?.html ?? ""}`);
    }
    expect(found).toEqual([]);
  });
}

async function mostOf(page: Page, show: Show, light: Light) {
  const most = { red: 0, green: 0, blue: 0 };
  const look = async () => {
    const seen = await brightestOf(page);
    for (const channel of ["red", "green", "blue"] as const)
      most[channel] = Math.max(most[channel], seen[channel]);
  };
  for (const plate of plateNames) {
    await show(plate, light);
    await look();
  }
  await show("entry", light);
  const scrollbar = await page.evaluate(() => window.innerWidth - document.documentElement.clientWidth);
  expect(scrollbar, "a scrollbar must be seen to be judged").toBeGreaterThan(0);
  await page.getByRole("textbox").first().fill("12");
  await page.getByRole("textbox").first().selectText();
  await look();
  await page.getByRole("button", { name: /Choose/u }).click();
  await page.keyboard.press("Tab");
  await look();
  await show("press", light);
  await page.keyboard.press("Tab");
  await look();
  const filled = await page.getByRole("button", { name: "Filled" }).boundingBox();
  await page.mouse.move((filled?.x ?? 0) + 20, (filled?.y ?? 0) + 20);
  await page.mouse.down();
  await look();
  await page.mouse.up();
  return most;
}

test("the red light has no green and no blue in any pixel, with focus, selection, lists and photographs", async ({
  page,
  show,
}) => {
  test.slow();
  const { red, green, blue } = await mostOf(page, show, "red");
  expect({ green, blue }).toEqual({ green: 0, blue: 0 });
  expect(red).toBe(255);
});

test("the goggle light has no red in any pixel and stays dim", async ({ page, show }) => {
  test.slow();
  const { red, green, blue } = await mostOf(page, show, "goggles");
  expect(red).toBe(0);
  expect(green).toBeGreaterThan(0);
  expect(Math.max(green, blue)).toBeLessThanOrEqual(0x90);
});

test("the day light would be found out by the same look at its pixels", async ({ page, show }) => {
  await show("standing", "day");
  const { green, blue } = await brightestOf(page);
  expect(Math.min(green, blue)).toBeGreaterThan(200);
});

test("the light that was left is there before any of the app's script has run", async ({ page, show }) => {
  await show("type", "red");
  await page.route(/\/assets\/.*\.js$/u, (route) => route.abort());
  await page.reload({ waitUntil: "commit" });
  await expect(page.locator("html")).toHaveAttribute("data-light", "red");
  await expect(page.locator("html")).toHaveCSS("background-color", "rgb(0, 0, 0)");
  await expect(page.locator("#app")).toBeEmpty();
});

for (const [name, viewport] of [
  ["a narrow phone", { width: 320, height: 640 }],
  ["a phone", { width: 390, height: 844 }],
  ["a phone at 200 %", { width: 195, height: 422 }],
  ["a tablet at 200 %", { width: 410, height: 590 }],
] as const) {
  test(`nothing is wider than the screen on ${name}, in either language`, async ({ page, show }) => {
    await page.setViewportSize(viewport);
    const wide: string[] = [];
    for (const plate of plateNames) {
      for (const [light, language] of [
        ["day", "en"],
        ["day", "de"],
        ["goggles", "en"],
      ] as const) {
        await show(plate, light, language);
        const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
        if (over > 0) wide.push(`${plate} ${light} ${language}: ${over} px`);
      }
    }
    expect(wide).toEqual([]);
  });
}

test("targets are 80 px with 16 px between them at the aircraft, 48 px elsewhere", async ({ page, show }) => {
  const small: string[] = [];
  let measured = 0;
  for (const plate of plateNames) {
    await show(plate);
    const found = await page.evaluate(() =>
      [...document.querySelectorAll("button, a[href], input, textarea")]
        .filter((element) => !element.matches(".hold-instead, .skip"))
        .map((element) => {
          const shown = element.matches(".choice-one input")
            ? (element.nextElementSibling ?? element)
            : element;
          const { width, height } = shown.getBoundingClientRect();
          const craft = element.closest('[data-place="craft"], .two-buttons, .pin') !== null;
          // The stops of the drawing lie as near to each other as on the aircraft; the nearest to the finger is meant.
          const least = craft && !element.matches(".drawing-stop") ? 80 : 48;
          return {
            name: element.textContent || element.getAttribute("aria-label") || element.tagName,
            width,
            height,
            least,
          };
        })
        // Hidden from the eye: for screen readers alone.
        .filter(({ width }) => width > 1),
    );
    measured += found.length;
    for (const { name, width, height, least } of found) {
      // Whole pixels: a row shared by three may be a third of a pixel short.
      if (Math.round(Math.min(width, height)) < least)
        small.push(`${plate}: ${name} ${width}×${height}, wanted ${least}`);
    }
  }
  expect(measured).toBeGreaterThan(100);
  expect(small).toEqual([]);
  await show("walk");
  const [left, right] = await page.locator(".two-buttons .button:not(.hold-instead)").all();
  const [a, b] = [await left?.boundingBox(), await right?.boundingBox()];
  expect((b?.x ?? 0) - (a?.x ?? 0) - (a?.width ?? 0)).toBeGreaterThanOrEqual(16);
});

test.describe("a long press", () => {
  const good = (page: Page) => page.getByRole("button", { name: /^Good/u }).first();
  const said = (page: Page) => page.locator("main > p[aria-live]");

  test("is told from a tap, and ends when the finger slides away", async ({ page, show }) => {
    await show("press");
    await good(page).click();
    await expect(said(page)).toHaveText("good");
    await good(page).click({ delay: 1100 });
    await expect(said(page)).toHaveText("rest of stop");
    await page.reload();
    const box = await good(page).boundingBox();
    await page.mouse.move((box?.x ?? 0) + 30, (box?.y ?? 0) + 30);
    await page.mouse.down();
    await page.mouse.move((box?.x ?? 0) + 30, (box?.y ?? 0) + 300, { steps: 5 });
    await page.waitForTimeout(1100);
    await page.mouse.up();
    await expect(said(page)).toHaveText("nothing pressed");
  });

  test("works by key: held, and by a button of its own that the keyboard reaches", async ({ page, show }) => {
    await show("press");
    await good(page).focus();
    await page.keyboard.press("Enter", { delay: 1100 });
    await expect(said(page)).toHaveText("rest of stop");
    await page.keyboard.press(" ");
    await expect(said(page)).toHaveText("good");
    await page.keyboard.press("Tab");
    await expect(page.getByRole("button", { name: "The rest of this stop is good" })).toBeFocused();
    await page.keyboard.press("Enter");
    await expect(said(page)).toHaveText("rest of stop");
  });

  test("asks once more where a screen reader's click cannot last", async ({ page, show }) => {
    await show("press");
    const callOut = page.getByRole("button", { name: /^Call-out/u });
    const click = () => callOut.evaluate((button: HTMLButtonElement) => button.click());
    await click();
    await expect(page.getByText("Press again to confirm: Call-out")).toBeAttached();
    await expect(said(page)).toHaveText("nothing pressed");
    await click();
    await expect(said(page)).toHaveText("call-out");
  });

  test("a button that cannot be used says why and does nothing", async ({ page, show }) => {
    await show("press");
    await page.getByRole("button", { name: "Finish the walk 3 items left" }).click({ force: true });
    await expect(said(page)).toHaveText("nothing pressed");
  });
});

test.describe("a stepper", () => {
  const first = (page: Page) => page.getByRole("textbox", { name: "Engine 1 oil" }).first();

  test("keeps what was typed, outside the scale too, and says what is wrong", async ({ page, show }) => {
    await show("entry");
    await first(page).fill("12.3");
    await first(page).blur();
    await expect(first(page)).toHaveValue("12.3");
    await expect(first(page)).toHaveAttribute("aria-invalid", "true");
    await expect(page.getByText("Above the highest that can be read, 7.5 L").first()).toBeVisible();
  });

  test("begins where it is told, steps past the end, and leaves a text alone that is no number", async ({
    page,
    show,
  }) => {
    await show("entry");
    const more = page.getByRole("button", { name: "Engine 1 oil, 0.1 L more" }).first();
    await expect(first(page)).toHaveValue("");
    await more.click();
    await expect(first(page)).toHaveValue("5.5");
    await first(page).fill("7.5");
    await more.click();
    await expect(first(page)).toHaveValue("7.6");
    await first(page).press("ArrowDown");
    await expect(first(page)).toHaveValue("7.5");
    await first(page).fill("half");
    await more.click({ force: true });
    await expect(first(page)).toHaveValue("half");
  });
});

test("a tap on the drawing goes to the nearest stop, a key to its own", async ({ page, show }) => {
  await show("drawing");
  const drawing = page.getByRole("figure").first();
  const asked = page.locator("main > p b");
  const stop = drawing.getByRole("button", { name: /^tail rotor/u });
  const box = await stop.boundingBox();
  // Nine pixels off its middle, where the buttons of its neighbours lie on top.
  await page.mouse.click((box?.x ?? 0) + 24 + 9, (box?.y ?? 0) + 24);
  await expect(asked).toHaveText("tailRotor");
  await drawing.getByRole("button", { name: /^left skid/u }).press("Enter");
  await expect(asked).toHaveText("skidLeft");
});

test("the drawing says every stop, where one is, and what was found", async ({ page, show }) => {
  await show("walk");
  const stops = page.getByRole("figure").getByRole("button");
  await expect(stops).toHaveCount(24);
  await expect(page.getByRole("button", { name: "left engine, here" })).toHaveAttribute(
    "aria-current",
    "location",
  );
  await expect(page.getByRole("button", { name: "left cabin door, walked, 1 finding" })).toBeAttached();
});

test("no two names in a drawing lie on each other as the browser sets them", async ({ page, show }) => {
  for (const language of ["en", "de"] as const) {
    for (const width of [390, 820, 1440]) {
      await page.setViewportSize({ width, height: 900 });
      await show("drawing", "day", language);
      const touching = await page.evaluate(() =>
        [...document.querySelectorAll(".drawing")].flatMap((drawing) => {
          const names = [...drawing.querySelectorAll<SVGTextElement>(".drawing-name")].map((text) => ({
            said: text.textContent,
            box: text.getBBox(),
          }));
          const meet = (a: DOMRect, b: DOMRect) =>
            a.x < b.x + b.width &&
            a.x + a.width > b.x &&
            a.y + 2 < b.y + b.height - 2 &&
            a.y + a.height - 2 > b.y + 2;
          return names.flatMap((a, index) =>
            names.slice(index + 1).flatMap((b) => (meet(a.box, b.box) ? [`${a.said} on ${b.said}`] : [])),
          );
        }),
      );
      expect(touching).toEqual([]);
    }
  }
});

test("a ribbon says its spans", async ({ page, show }) => {
  await show("standing");
  await expect(
    page.getByRole("img", {
      name: "Day VFR: now ready within limits, not ready from 15:12, ready from tomorrow 08:20, as far as tomorrow 12:00.",
    }),
  ).toBeVisible();
});

test("digits of a keyboard reach the keys of the PIN", async ({ page, show }) => {
  await show("people");
  await page.getByRole("button", { name: "5" }).focus();
  await page.keyboard.type("98");
  await page.keyboard.press("Backspace");
  await expect(page.getByText("5 digits")).toBeAttached();
});

test("a sheet keeps the focus and gives it back", async ({ page, show }) => {
  await show("sheet");
  const sheet = page.getByRole("dialog", { name: "Judge" });
  await expect(sheet).toBeVisible();
  await page.keyboard.press("Escape");
  await expect(sheet).toBeHidden();
  await page.getByRole("button", { name: "Open" }).click();
  for (let index = 0; index < 12; index += 1) await page.keyboard.press("Tab");
  expect(await sheet.evaluate((element) => element.contains(document.activeElement))).toBe(true);
  await page.getByRole("button", { name: "Close" }).click();
  await expect(page.getByRole("button", { name: "Open" })).toBeFocused();
});

test("leaving red for a bright light is asked about, and can be refused", async ({ page, show }) => {
  await show("switches", "red");
  const html = page.locator("html");
  await page.getByRole("radio", { name: "Day" }).click();
  await expect(html).toHaveAttribute("data-light", "red");
  await page.getByRole("button", { name: "Stay" }).click();
  await page.getByRole("radio", { name: "Goggles" }).click();
  await expect(html).toHaveAttribute("data-light", "goggles");
  await page.getByRole("radio", { name: "Dark" }).click();
  await page.getByRole("button", { name: "Switch to Dark" }).click();
  await expect(html).toHaveAttribute("data-light", "dark");
  await page.getByRole("radio", { name: "Day" }).click();
  await expect(html).toHaveAttribute("data-light", "day");
});
