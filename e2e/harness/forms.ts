// What specs do in forms: one of a few chosen, the operator's worksheet of risk set.
import type { Page } from "@playwright/test";
import { expect } from "./preen-test.ts";

export const citeField = "By which paragraph of which manual";

/** A radio button under a face of ours. */
export async function choose(page: Page, group: string, choice: string): Promise<void> {
  const radio = page.getByRole("group", { name: group }).getByRole("radio", { name: choice, exact: true });
  await radio.evaluate((element) => element.closest("fieldset")?.scrollIntoView({ block: "center" }));
  await radio.check({ force: true });
}

/** On the screen Operator: a factor of each group, up to 5, released above 8. */
export async function setWorksheet(page: Page): Promise<void> {
  await page.getByRole("button", { name: "Set the worksheet of risk" }).click();
  const dialog = page.getByRole("dialog").first();
  const type = (name: string, text: string) => dialog.getByRole("textbox", { name, exact: true }).fill(text);
  for (const [group, words] of [
    ["the flight", "Terrain"],
    ["the people", "Sleep"],
    ["the weather", "Cloud"],
  ] as const) {
    await choose(page, "Group of the factor", group);
    await type("The factor in words", words);
    await type("Scored up to", "5O");
    await expect(dialog.getByText("“5O” is not a number", { exact: false })).toBeVisible();
    await type("Scored up to", "5");
    await dialog.getByRole("button", { name: "Add the factor" }).click();
  }
  await type("The management releases above a sum of", "8");
  await type(citeField, "OM A 8.9 (invented)");
  await dialog.getByRole("button", { name: "Sign it" }).click();
  await expect(page.getByRole("dialog")).toHaveCount(0, { timeout: 30_000 });
}
