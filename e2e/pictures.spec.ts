// Pictures of the first screen for people to look at (test-results/pictures), and what a test can see in them: nothing
// runs out of the screen sideways, in any size and light.
import { statSync } from "node:fs";
import { expect, lights, sizes, takePictures, test } from "./harness/preen-test.ts";

test("the first screen fits every size in every light", async ({ page }) => {
  await page.goto("/");
  const paths = await takePictures(page, "first-screen", async (shown) => {
    await expect(shown.getByRole("main")).not.toBeEmpty();
    for (const viewport of Object.values(sizes)) {
      await shown.setViewportSize(viewport);
      const width = await shown.evaluate(() => document.documentElement.scrollWidth);
      expect(width, `width of the page on ${viewport.width} px`).toBeLessThanOrEqual(viewport.width);
    }
  });
  expect(paths).toHaveLength(lights.length * Object.keys(sizes).length);
  for (const path of paths) expect(statSync(path).size).toBeGreaterThan(1000);
});
