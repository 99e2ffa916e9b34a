// Reach in a real browser: the map is drawn in a worker, says what is not in it, follows the fuel, and stands in a table too.
import type { Page } from "@playwright/test";
import { enterAs } from "./harness/people.ts";
import { expect, sizes, takePictures, test } from "./harness/preen-test.ts";

const drawn = async (page: Page): Promise<number> =>
  Number((await page.locator(".reach-map").getAttribute("data-drawn")) ?? 0);

test("the map is drawn, says what is not in it, and is drawn anew with other fuel", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/reach");
  await expect.poll(() => drawn(page), { timeout: 30_000 }).toBeGreaterThan(0);
  await expect(page.getByText("Terrain and obstacles are not in it", { exact: false })).toBeVisible();
  await expect(page.locator(".reach-legend li").first()).toBeVisible();
  await expect(page.getByRole("table")).toContainText("000°");
  const legend = await page.locator(".reach-legend").textContent();
  const before = await drawn(page);
  await page.getByRole("textbox", { name: "Fuel on board" }).fill("120");
  await expect.poll(() => drawn(page)).toBeGreaterThan(before);
  await expect(page.locator(".reach-legend")).not.toHaveText(legend ?? "");
  await expect(page.locator(".reach-legend")).toContainText("Fuel");
});

test("a held minus goes on while the map and its legend change", async ({ page }) => {
  await page.setViewportSize(sizes.tablet);
  await enterAs(page, "Holm", "/craft/skjaer/reach");
  await expect.poll(() => drawn(page), { timeout: 30_000 }).toBeGreaterThan(0);
  const fuel = page.getByRole("textbox", { name: "Fuel on board" });
  await fuel.fill("550");
  const legend = await page.locator(".reach-legend").textContent();
  await page
    .getByRole("button", { name: /Fuel on board/u })
    .first()
    .hover();
  await page.mouse.down();
  await expect.poll(async () => Number(await fuel.inputValue()), { timeout: 20_000 }).toBeLessThan(150);
  await page.mouse.up();
  await expect(page.locator(".reach-legend")).not.toHaveText(legend ?? "");
});

test("a map of another call does not stay beside the word that there is none", async ({ page }) => {
  await page.addInitScript(() => {
    const Real = Worker;
    globalThis.Worker = class extends Real {
      override postMessage(told: { readonly kind: string }) {
        const breaks = document.documentElement.hasAttribute("data-breaks");
        if (breaks && told.kind === "ask") this.dispatchEvent(new Event("error"));
        else super.postMessage(told);
      }
    };
  });
  await enterAs(page, "Holm", "/craft/skjaer/reach");
  await expect(page.locator(".reach-map")).toBeVisible({ timeout: 30_000 });
  await expect.poll(() => drawn(page), { timeout: 30_000 }).toBeGreaterThan(0);
  await page.evaluate(() => document.documentElement.setAttribute("data-breaks", ""));
  await page.getByRole("textbox", { name: "Fuel on board" }).fill("120");
  await expect(page.getByText("The map cannot be drawn")).toBeVisible();
  await expect(page.locator(".reach-map")).toHaveCount(0);
  await expect(page.locator(".reach-legend")).toHaveCount(0);
});

test("it fits every size in every light", async ({ page }) => {
  await enterAs(page, "Holm", "/craft/skjaer/reach");
  await takePictures(page, "reach", async (shown) => {
    await expect.poll(() => drawn(shown), { timeout: 30_000 }).toBeGreaterThan(0);
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const width = await shown.evaluate(() => document.documentElement.scrollWidth);
      expect(width).toBeLessThanOrEqual(viewport.width);
    }
  });
});
