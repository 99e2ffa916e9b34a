// A refusal on its way to the caller: thrown anywhere in a route, answered as a problem of the wire.
import type { Problem, ProblemCode, WireIssue } from "../wire/problem.ts";
import { problems } from "../wire/problem.ts";

export class ProblemError extends Error {
  readonly code: ProblemCode;
  readonly issues: readonly WireIssue[];
  readonly retryAfter_ms: number | null;

  constructor(
    code: ProblemCode,
    {
      issues = [],
      retryAfter_ms = null,
    }: { issues?: readonly WireIssue[]; retryAfter_ms?: number | null } = {},
  ) {
    super(problems[code][1]);
    this.name = "ProblemError";
    this.code = code;
    this.issues = issues;
    this.retryAfter_ms = retryAfter_ms;
  }

  get status(): number {
    return problems[this.code][0];
  }

  get body(): Problem {
    const { code, message, issues, retryAfter_ms } = this;
    return {
      code,
      message,
      ...(issues.length === 0 ? {} : { issues: [...issues] }),
      ...(retryAfter_ms === null ? {} : { retryAfter_s: Math.max(1, Math.ceil(retryAfter_ms / 1_000)) }),
    };
  }
}
