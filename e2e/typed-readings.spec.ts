// What is typed off a gauge in German: the comma is a comma, a mark that can mean two things is asked about and never
// dropped, a value that the gauge cannot show is asked about and never moved into range.
import { expect, ledgerOf, test } from "./harness/fresh-test.ts";
import { people, stepsOn } from "./harness/walk-steps.ts";

test("12,5 is twelve and a half; 1.250 is asked about; what cannot be is asked about and stays as typed", async ({
  page,
  preen,
}) => {
  test.setTimeout(90_000);
  await page.addInitScript(() => localStorage.setItem("preen.language", "de"));
  const steps = stepsOn(page, "de");
  const { entry } = steps.words;
  await page.goto("/");
  await steps.enter(people.pilot);
  await page.goto("/craft/tinde/levels");
  const openGauge = async (name: string) => {
    await page
      .getByRole("button", { name: new RegExp(`^${name}`, "u") })
      .first()
      .click();
    await page.getByRole("button", { name: /^Ablesen/u }).click();
    return page.getByRole("textbox", { name });
  };
  const save = page.getByRole("button", { name: /^Ablesung speichern/u });

  const bottle = await openGauge("Kabinenlöscher");
  for (const beyond of ["99", "-3"]) {
    await bottle.fill(beyond);
    await expect(
      page
        .getByRole("alert")
        .or(page.getByText(entry.issue.above("30")))
        .first(),
    ).toBeVisible();
    await expect(save).toBeDisabled();
    await bottle.blur();
    await expect(bottle).toHaveValue(beyond);
  }
  await bottle.fill("12,5");
  await expect(save).toBeEnabled();
  await save.click();
  await expect(page.getByRole("table").getByRole("row").nth(1)).toContainText("12,5 bar");

  await page.goto("/craft/tinde/levels");
  const hours = await openGauge("Zellenstunden");
  await hours.fill("1.250");
  await expect(page.getByText(entry.issue.ambiguous("1.250", 1250, 1.25))).toBeVisible();
  await expect(save).toBeDisabled();
  await expect(hours).toHaveValue("1.250");

  await page.goto("/craft/tinde");
  await steps.sentAll();
  const readings = ledgerOf(preen, "tinde").entries.filter(
    ({ type, by, at }) => type.startsWith("reading") && by === "p-ravn" && at > "2026-11-25T08:39",
  );
  expect(readings).toHaveLength(1);
});
