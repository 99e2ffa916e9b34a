// The app on the record that `npm start` tells: fourteen months of three craft. What only a long record has (a forecast by
// the craft's own use, hundreds of flights, tanks that were filled and filtered for a year) is drawn here and nowhere else.
import { craftScreens } from "../src/web/screens/route.ts";
import { moveClock } from "./harness/fresh-test.ts";
import { typePin } from "./harness/people.ts";
import { startPreen } from "./harness/preen-server.ts";
import { demoClock, expect, test } from "./harness/preen-test.ts";

test("every screen of every craft stands on fourteen months, and the demo's story holds", async ({
  browser,
}) => {
  test.setTimeout(240_000);
  const preen = await startPreen(demoClock, { PREEN_DEMO: "months" });
  try {
    const context = await browser.newContext({ baseURL: preen.url });
    await moveClock(context);
    const page = await context.newPage();
    const failed: string[] = [];
    page.on("pageerror", ({ message }) => failed.push(`${page.url()}: ${message}`));
    await page.goto("/enter");
    await page.getByRole("button", { name: /^Ravn/u }).click();
    await typePin(page, "Ravn");
    await expect(page.getByRole("link", { name: /Skjær/u })).toBeVisible({ timeout: 90_000 });
    // Within the page, as a link does it: opened anew, the app would read the whole record each time.
    const goTo = (path: string) =>
      page.evaluate((to) => {
        history.pushState(null, "", to);
        dispatchEvent(new PopStateEvent("popstate"));
      }, path);
    await goTo("/craft/skjaer");
    await expect(page.getByText("Ready within limits").first()).toBeVisible();
    for (const craft of ["skjaer", "tinde", "myr"]) {
      for (const screen of craftScreens) {
        await goTo(screen === "standing" ? `/craft/${craft}` : `/craft/${craft}/${screen}`);
        const broken = page.getByText("This could not be read");
        await expect(page.locator("h1").or(broken).first()).toBeVisible();
        // A screen's own code comes when it is opened, and what it works out a moment later.
        await page.waitForTimeout(250);
        if (await broken.isVisible())
          failed.push(`${craft} ${screen}: ${await page.locator("body").innerText()}`);
      }
    }
    expect(failed).toEqual([]);
    await goTo("/craft/skjaer/runsOut");
    await expect(page.getByText(/by its own use about/u).first()).toBeVisible();
    await expect(page.getByText(/≈ \d+ h/u).first()).toBeVisible();
  } finally {
    await preen.stop();
  }
});
