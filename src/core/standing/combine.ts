// Combines reasons into a standing per operation: now, and as a line of spans over the hours to come.
//
// In: reasons (src/core/facts/reason.ts), half open in time. Out: verdicts. The line is exact: it changes only at the
// reasons' own breakpoints and is never sampled. Worse wins: blocks → not ready, unknown → not known, limits → ready
// within limits, otherwise ready. Limits on one quantity combine by the stricter. Adding a reason never improves a
// verdict at any instant (law 2); both are held by the property tests beside this file.
// Refuses (RangeError) a line that ends before it begins, and a `limits` reason without its number.
import { clearances, effects } from "../facts/reason.ts";
import type { Effect, Limit, OperationId, Reason } from "../facts/reason.ts";

/** Better first. */
export const verdicts = ["ready", "withinLimits", "notKnown", "notReady"] as const;
export type Verdict = (typeof verdicts)[number];

const verdictOfEffect: Readonly<Record<Effect, Verdict>> = {
  advises: "ready",
  limits: "withinLimits",
  unknown: "notKnown",
  blocks: "notReady",
};

/** Positive when `a` is worse than `b`. */
export function compareVerdicts(a: Verdict, b: Verdict): number {
  return verdicts.indexOf(a) - verdicts.indexOf(b);
}

export type Standing = {
  readonly operation: OperationId;
  readonly verdict: Verdict;
  /** Every active reason that touches the operation, soonest to clear first. */
  readonly reasons: readonly Reason[];
  /** The stricter limit per quantity, by quantity name. */
  readonly limits: Readonly<Record<string, Limit>>;
};

export type Span = {
  readonly from_ms: number;
  readonly until_ms: number;
  readonly verdict: Verdict;
  readonly limits: Readonly<Record<string, Limit>>;
};

/** What changes the standing at an instant: the reasons that begin and those that lapse there. */
export type Change = {
  readonly at_ms: number;
  readonly from: Verdict;
  readonly to: Verdict;
  readonly begins: readonly Reason[];
  readonly lapses: readonly Reason[];
};

export function isActive(reason: Reason, at_ms: number): boolean {
  return (
    (reason.from_ms === null || reason.from_ms <= at_ms) &&
    (reason.until_ms === null || at_ms < reason.until_ms)
  );
}

export function touches(reason: Reason, operation: OperationId): boolean {
  return reason.operations === "all" || reason.operations.includes(operation);
}

/**
 * What forbids or limits comes before mere advice; then soonest to clear first; among equals the worse effect, then what
 * began first; the last keys only make it total.
 */
export function compareReasons(a: Reason, b: Reason): number {
  return (
    Number(a.effect === "advises") - Number(b.effect === "advises") ||
    clearances.indexOf(a.remedy.clearance) - clearances.indexOf(b.remedy.clearance) ||
    effects.indexOf(b.effect) - effects.indexOf(a.effect) ||
    (a.from_ms ?? -Infinity) - (b.from_ms ?? -Infinity) ||
    compareText(a.code, b.code) ||
    compareText(factsText(a), factsText(b))
  );
}

// Sorting asks for the same text again and again.
const texts = new WeakMap<Reason["facts"], string>();

function factsText({ facts }: Reason): string {
  const held = texts.get(facts) ?? JSON.stringify(facts);
  texts.set(facts, held);
  return held;
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function stricter(a: Limit, b: Limit): Limit {
  if (a.stricter !== b.stricter) {
    throw new RangeError(`limits on ${a.quantity} disagree about which way is stricter`);
  }
  return (a.stricter === "lower") === a.value <= b.value ? a : b;
}

function limitsOf(reasons: readonly Reason[]): Record<string, Limit> {
  const limits: Record<string, Limit> = {};
  for (const { effect, limit, code } of reasons) {
    if (effect !== "limits") continue;
    if (limit === undefined) throw new RangeError(`reason ${code} limits without a number`);
    const held = limits[limit.quantity];
    limits[limit.quantity] = held === undefined ? limit : stricter(held, limit);
  }
  return limits;
}

function verdictOf(reasons: readonly Reason[]): Verdict {
  let worst: Verdict = "ready";
  for (const { effect } of reasons) {
    const verdict = verdictOfEffect[effect];
    if (compareVerdicts(verdict, worst) > 0) worst = verdict;
  }
  return worst;
}

function activeAt(reasons: readonly Reason[], operation: OperationId, at_ms: number): readonly Reason[] {
  return reasons.filter((reason) => touches(reason, operation) && isActive(reason, at_ms));
}

/** The standing of one operation at one instant. */
export function standingAt(reasons: readonly Reason[], operation: OperationId, at_ms: number): Standing {
  const active = activeAt(reasons, operation, at_ms);
  return {
    operation,
    verdict: verdictOf(active),
    reasons: active.toSorted(compareReasons),
    limits: limitsOf(active),
  };
}

/** Instants strictly inside (from, until) at which a reason that touches the operation begins or lapses, ascending. */
export function breakpoints(
  reasons: readonly Reason[],
  operation: OperationId,
  from_ms: number,
  until_ms: number,
): readonly number[] {
  const instants = new Set<number>();
  for (const reason of reasons) {
    if (!touches(reason, operation)) continue;
    for (const at of [reason.from_ms, reason.until_ms]) {
      if (at !== null && from_ms < at && at < until_ms) instants.add(at);
    }
  }
  return [...instants].toSorted((a, b) => a - b);
}

function sameLimits(a: Readonly<Record<string, Limit>>, b: Readonly<Record<string, Limit>>): boolean {
  const names = Object.keys(a);
  return (
    names.length === Object.keys(b).length &&
    names.every((name) => b[name] !== undefined && a[name]?.value === b[name].value)
  );
}

/** The standing of one operation over [from, until) as touching spans; neighbours differ in verdict or limits. */
export function standingLine(
  reasons: readonly Reason[],
  operation: OperationId,
  from_ms: number,
  until_ms: number,
): readonly Span[] {
  if (!(from_ms < until_ms)) throw new RangeError(`a line must end after it begins: ${from_ms}, ${until_ms}`);
  const starts = [from_ms, ...breakpoints(reasons, operation, from_ms, until_ms)];
  const spans: Span[] = [];
  starts.forEach((start, index) => {
    const active = activeAt(reasons, operation, start);
    const [verdict, limits] = [verdictOf(active), limitsOf(active)];
    const end = starts[index + 1] ?? until_ms;
    const last = spans.at(-1);
    if (last !== undefined && last.verdict === verdict && sameLimits(last.limits, limits)) {
      spans[spans.length - 1] = { ...last, until_ms: end };
    } else {
      spans.push({ from_ms: start, until_ms: end, verdict, limits });
    }
  });
  return spans;
}

function changeAt(before: Span, next: Span, touching: readonly Reason[]): Change {
  return {
    at_ms: next.from_ms,
    from: before.verdict,
    to: next.verdict,
    begins: touching.filter((reason) => reason.from_ms === next.from_ms).toSorted(compareReasons),
    lapses: touching.filter((reason) => reason.until_ms === next.from_ms).toSorted(compareReasons),
  };
}

/** Every change along a line, with what makes it, in time; `touching` are the reasons that the line was drawn from. */
export function changesAlong(line: readonly Span[], touching: readonly Reason[]): readonly Change[] {
  return line.slice(1).map((next, index) => changeAt(line[index]!, next, touching));
}

/** The first change along a line; null when nothing changes. */
export function nextAlong(line: readonly Span[], touching: readonly Reason[]): Change | null {
  const [first, next] = line;
  return first === undefined || next === undefined ? null : changeAt(first, next, touching);
}
