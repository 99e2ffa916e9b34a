// The people of the demo as browser tests need them: who they are by their PINs, and how one of them comes in.
import { expect, type Locator, type Page } from "@playwright/test";

/** As the server prints them. */
export const pins = {
  Ravn: "2580",
  Holm: "1470",
  Lind: "3690",
  Brekke: "7412",
  Foss: "6280",
  Sund: "8520",
  Vik: "9630",
} as const;
export type Named = keyof typeof pins;

export async function typePin(within: Page | Locator, name: Named): Promise<void> {
  for (const digit of pins[name]) await within.getByRole("button", { name: digit, exact: true }).click();
  await within.getByRole("button", { name: "Enter", exact: true }).click();
}

/** Chooses a person, types their PIN, waits until the record is there, and goes to `path` where one is given. */
export async function enterAs(page: Page, name: Named, path?: string): Promise<void> {
  await page.goto("/enter");
  await page.getByRole("button", { name: new RegExp(`^${name}`, "u") }).click();
  await typePin(page, name);
  await expect(page.getByRole("link", { name: /Tinde/u })).toBeVisible({ timeout: 30_000 });
  if (path !== undefined) await page.goto(path);
}
