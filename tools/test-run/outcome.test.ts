import { describe, expect, test } from "vitest";
import { outcomeOfCheck, outcomeOfPlaywright, outcomeOfVitest, sumOf } from "./outcome.ts";

const vitestReport = (change: object = {}): string =>
  JSON.stringify({
    success: true,
    numPassedTests: 5,
    numFailedTests: 0,
    numPendingTests: 0,
    numTodoTests: 0,
    testResults: [{ status: "passed", assertionResults: [{}] }],
    ...change,
  });

const playwrightReport = (change: object = {}, errors: readonly object[] = []): string =>
  JSON.stringify({ stats: { expected: 4, unexpected: 0, flaky: 0, skipped: 0, ...change }, errors });

const well = { code: 0, output: "said" };
const ill = { code: 1, output: "said" };

describe("Counting a run", () => {
  test("takes passed and failed from the report", () => {
    expect(outcomeOfVitest(well, vitestReport())).toEqual({ passed: 5, failed: 0, output: "said" });
    expect(outcomeOfVitest(ill, vitestReport({ numFailedTests: 2 }))).toMatchObject({ passed: 5, failed: 2 });
    expect(outcomeOfPlaywright(well, playwrightReport())).toMatchObject({ passed: 4, failed: 0 });
    expect(outcomeOfPlaywright(ill, playwrightReport({ unexpected: 3 }))).toMatchObject({
      passed: 4,
      failed: 3,
    });
  });

  test("counts a file that could not be loaded as failed", () => {
    const testResults = [{ status: "failed", assertionResults: [] }];
    expect(outcomeOfVitest(ill, vitestReport({ testResults }))).toMatchObject({ passed: 5, failed: 1 });
    expect(outcomeOfPlaywright(ill, playwrightReport({}, [{}]))).toMatchObject({ passed: 4, failed: 1 });
  });

  test("counts a test that passed only at the second try as failed", () => {
    expect(outcomeOfPlaywright(well, playwrightReport({ flaky: 1 }))).toMatchObject({ failed: 1 });
  });

  test("fails when nothing ran, when there is no report, and when the report is no JSON", () => {
    expect(outcomeOfVitest(well, vitestReport({ numPassedTests: 0 }))).toMatchObject({
      passed: 0,
      failed: 1,
    });
    expect(outcomeOfPlaywright(well, playwrightReport({ expected: 0 }))).toMatchObject({
      passed: 0,
      failed: 1,
    });
    expect(outcomeOfPlaywright(well, playwrightReport({ expected: 0, skipped: 9 }))).toMatchObject({
      failed: 1,
    });
    for (const report of [null, "", "{"]) {
      expect(outcomeOfVitest(well, report)).toMatchObject({ passed: 0, failed: 1 });
      expect(outcomeOfPlaywright(well, report)).toMatchObject({ passed: 0, failed: 1 });
    }
  });

  test("fails when the runner ends with an error although no test failed", () => {
    expect(outcomeOfVitest(ill, vitestReport())).toMatchObject({ passed: 5, failed: 1 });
    expect(outcomeOfPlaywright(ill, playwrightReport())).toMatchObject({ passed: 4, failed: 1 });
  });

  test("tells how many did not run", () => {
    expect(outcomeOfVitest(well, vitestReport({ numPendingTests: 2 })).note).toBe("2 not run");
    expect(outcomeOfPlaywright(well, playwrightReport({ skipped: 1 })).note).toBe("1 not run");
  });

  test("adds checks up and keeps the output of those that failed", () => {
    const sum = sumOf([outcomeOfCheck(well), outcomeOfCheck({ code: 2, output: "broken" })]);
    expect(sum).toEqual({ passed: 1, failed: 1, output: "broken" });
  });
});
