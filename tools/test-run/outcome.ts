// What a phase of the tests comes to, and how the reports of the test runners are counted.
//
// Whatever is in doubt counts as failed: a report that is missing or cannot be read, a runner that ran nothing, one
// that ended with an error although no test failed.

export type Outcome = {
  readonly passed: number;
  readonly failed: number;
  /** Printed whole when something failed. */
  readonly output: string;
  /** Worth a word even when all is well. */
  readonly note?: string;
};

export type Ended = { readonly code: number; readonly output: string };

/** A command that is one check by itself. */
export function outcomeOfCheck({ code, output }: Ended): Outcome {
  return code === 0 ? { passed: 1, failed: 0, output } : { passed: 0, failed: 1, output };
}

/** Several checks as one phase. */
export function sumOf(outcomes: readonly Outcome[]): Outcome {
  return {
    passed: outcomes.reduce((sum, { passed }) => sum + passed, 0),
    failed: outcomes.reduce((sum, { failed }) => sum + failed, 0),
    output: outcomes
      .filter(({ failed }) => failed > 0)
      .map(({ output }) => output)
      .join("\n"),
  };
}

type VitestReport = {
  readonly success: boolean;
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numTodoTests: number;
  readonly testResults: readonly { readonly status: string; readonly assertionResults: readonly unknown[] }[];
};

/** `report` is the text of Vitest's JSON report, null when it wrote none. */
export function outcomeOfVitest(ended: Ended, report: string | null): Outcome {
  const read = parsed(report) as VitestReport | null;
  if (read === null) return ranNothing(ended, "no report");
  // A file that could not even be loaded has no tests that failed; it counts as one.
  const unloaded = read.testResults.filter(
    ({ status, assertionResults }) => status === "failed" && assertionResults.length === 0,
  ).length;
  return counted(ended, {
    passed: read.numPassedTests,
    failed: read.numFailedTests + unloaded,
    skipped: read.numPendingTests + read.numTodoTests,
  });
}

type PlaywrightReport = {
  readonly stats: {
    readonly expected: number;
    readonly unexpected: number;
    readonly flaky: number;
    readonly skipped: number;
  };
  readonly errors: readonly unknown[];
};

/** `report` is the text of Playwright's JSON report, null when it wrote none. */
export function outcomeOfPlaywright(ended: Ended, report: string | null): Outcome {
  const read = parsed(report) as PlaywrightReport | null;
  if (read === null) return ranNothing(ended, "no report");
  const { expected, unexpected, flaky, skipped } = read.stats;
  // One that passed only at the second try did not pass.
  return counted(ended, { passed: expected, failed: unexpected + flaky + read.errors.length, skipped });
}

function counted(
  ended: Ended,
  { passed, failed, skipped }: { readonly passed: number; readonly failed: number; readonly skipped: number },
): Outcome {
  if (passed + failed === 0) return ranNothing(ended, "no test ran");
  const note = skipped > 0 ? { note: `${skipped} not run` } : {};
  if (failed === 0 && ended.code !== 0)
    return {
      passed,
      failed: 1,
      output: `${ended.output}\nno test failed, but the runner ended with code ${ended.code}\n`,
      ...note,
    };
  return { passed, failed, output: ended.output, ...note };
}

function ranNothing({ output, code }: Ended, why: string): Outcome {
  return { passed: 0, failed: 1, output: `${output}\n${why} (the runner ended with code ${code})\n` };
}

function parsed(report: string | null): unknown {
  if (report === null) return null;
  try {
    return JSON.parse(report);
  } catch {
    return null;
  }
}
