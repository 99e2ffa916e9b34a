// The app in a real browser. The specs stand in this folder; harness/ holds what they share.
import { availableParallelism } from "node:os";
import { join } from "node:path";
import { defineConfig } from "@playwright/test";
import { launchSettings } from "./harness/launch-settings.ts";

const results = join(import.meta.dirname, "..", "test-results");

export default defineConfig({
  testDir: import.meta.dirname,
  // Emptied before every run; pictures for people lie beside it and stay.
  outputDir: join(results, "runs"),
  forbidOnly: true,
  retries: 0,
  // Generous: a slow machine is no defect; what must be quick is measured in bench/.
  timeout: 90_000,
  expect: { timeout: 10_000 },
  workers: Math.max(2, Math.floor(availableParallelism() / 2)),
  use: {
    ...launchSettings(),
    locale: "en-GB",
    timezoneId: "Europe/Oslo",
    // A step that cannot be done says so, and not only when the whole test has run out of time.
    actionTimeout: 10_000,
    screenshot: "only-on-failure",
    serviceWorkers: "allow",
  },
});
