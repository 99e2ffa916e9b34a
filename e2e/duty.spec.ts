// What runs out, and who is on duty, in a real browser: the list with its ends, a shift declared anew, and pictures of
// both in every size and light.
import { enterAs } from "./harness/people.ts";
import { expect, takePictures, test } from "./harness/preen-test.ts";

test("what runs out stands in one list, deferrals with their last day and its rule", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/skjaer/runsOut");
  await expect(page.getByText("50-hour inspection", { exact: false })).toBeVisible();
  await expect(page.getByText("Landing light, deferred", { exact: false })).toBeVisible();
  await expect(page.getByText("last day 30 November 2026, by", { exact: false })).toBeVisible();
});

test("a shift is declared, and says what is missing until it is whole", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/tinde/crew");
  await expect(page.getByRole("heading", { name: /^On duty/u })).toBeVisible();
  await page.getByRole("button", { name: "Declare the shift" }).click();
  await expect(page.getByText("Choose who is on duty")).toBeVisible();
  await page.getByRole("textbox", { name: "Hours from now" }).fill("10");
  await page
    .getByRole("group", { name: "Ravn as" })
    .getByRole("radio", { name: "pilot" })
    .check({ force: true });
  await expect(page.getByText("Say until when, and how long each has rested")).toBeVisible();
  await page.getByRole("textbox", { name: "Hours of rest before, Ravn" }).fill("8");
  await page.getByRole("button", { name: "Declare", exact: true }).click();
  await expect(page.getByText("Ravn has not rested enough", { exact: false })).toBeVisible();
  await expect(page.getByText("Technical crew member missing on duty", { exact: false })).toBeVisible();
});

test("both screens fit every size in every light", async ({ page }) => {
  await enterAs(page, "Ravn", "/craft/skjaer/runsOut");
  await takePictures(page, "runs-out", async (shown) => {
    await expect(shown.getByText("50-hour inspection", { exact: false })).toBeVisible();
  });
  await page.goto("/craft/skjaer/crew");
  await takePictures(page, "crew", async (shown) => {
    await expect(shown.getByRole("heading", { name: /^On duty/u })).toBeVisible();
  });
});
