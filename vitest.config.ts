// Unit, property, published and contract tests under Node. Browser tests are Playwright's (e2e/).
import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["{src,published,demo,sim,bench,tools}/**/*.test.{ts,tsx}"],
    environment: "node",
    setupFiles: ["tools/test-run/property-seed.ts"],
    pool: "threads",
    maxWorkers: Math.max(2, availableParallelism()),
    // Generous: a slow machine is no defect; what must be quick is measured in bench/.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // A file without a test, or a run without a file, is a mistake and not a success.
    passWithNoTests: false,
    coverage: { provider: "v8", include: ["src/**/*.{ts,tsx}"], exclude: ["**/*.test.*"] },
  },
});
