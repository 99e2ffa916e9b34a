// The real app with the real server: once opened, it opens again in aeroplane mode, at any of its addresses.
import { expect, test } from "./harness/preen-test.ts";

test("the app opens without a network once it has been opened with one", async ({ page, context }) => {
  await page.goto("/");
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await context.setOffline(true);
  for (const path of ["/", "/a/page/somewhere/inside"]) {
    await page.goto(path);
    await expect(page).toHaveTitle(/Preen/u);
    await expect(page.getByRole("main")).not.toBeEmpty();
  }
});

test("the server answers every address of the app with its page, and a missing file as missing", async ({
  request,
}) => {
  expect((await request.get("/a/page/somewhere/inside")).status()).toBe(200);
  expect((await request.get("/assets/no-such-script.js")).status()).toBe(404);
  expect((await request.get("/api/no-such-thing")).status()).toBe(404);
  const worker = await request.get("/sw.js");
  expect(worker.status()).toBe(200);
  expect(worker.headers()["cache-control"]).toMatch(/no-cache|no-store|max-age=0/u);
});
