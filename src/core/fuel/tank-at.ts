// Whether fuel may be taken from a tank of the base at an instant, and what stands against it.
//
// The daily sample and water check count as long as the operator says; after a delivery the fuel settles as long as the
// operator says, and is sampled anew. What failed, what is shut, what settles, a filter past its time and a delivery of
// another grade block; what was not looked at, or too long ago, is not known. Descriptions made apart: the stricter of each.
// Checks of one instant each count. Only what happened up to the instant is looked at, so that it can be asked of the past.
// Source: the operator's manual, which each description cites (common practice: daily drain, water test, after delivery).
import type { SampleSeen, TankDescribed, TankFacts } from "../facts/base-tank.ts";
import { hour_ms } from "../facts/instant.ts";

export const tankBars = [
  "notDescribed",
  "notInUse",
  "sampleFailed",
  "shut",
  "otherGrade",
  "settling",
  "filterOver",
  "filterNotKnown",
  "neverSampled",
  "notSampledSinceDelivery",
  "sampleOld",
] as const;
export type TankBarCode = (typeof tankBars)[number];

export type TankBar = {
  readonly code: TankBarCode;
  readonly effect: "blocks" | "unknown";
  /** When it passes by itself; null where it does not. */
  readonly until_ms: number | null;
  readonly evidence: readonly string[];
};

export type TankAt = {
  readonly tank: string;
  /** The strictest of what was described; null where nothing was. */
  readonly rules: Omit<TankDescribed, "entry" | "by" | "at_ms"> | null;
  readonly bars: readonly TankBar[];
  readonly checked_ms: number | null;
  readonly sampled: readonly SampleSeen[];
  /** From when a new sample is needed; null where there is none to speak of. */
  readonly sampleEnds_ms: number | null;
  readonly delivered_ms: number | null;
};

const newestOf = <Fact extends { readonly at_ms: number }>(facts: readonly Fact[]): readonly Fact[] => {
  const newest_ms = Math.max(...facts.map(({ at_ms }) => at_ms));
  return facts.filter(({ at_ms }) => at_ms === newest_ms);
};

const entriesOf = (facts: readonly { readonly entry: string }[]): readonly string[] =>
  facts.map(({ entry }) => entry);

/** The stricter of each figure; null where nobody described it. */
export function tankRules({ described }: TankFacts, tank: string): TankAt["rules"] {
  const all = described.filter((one) => one.tank === tank);
  const [first] = all;
  if (first === undefined) return null;
  const { entry: _entry, by: _by, at_ms: _at, ...rules } = first;
  const filters = all.flatMap(({ filterEvery_days }) => filterEvery_days ?? []);
  return {
    ...rules,
    capacity_L: Math.min(...all.map(({ capacity_L }) => capacity_L)),
    low_L: Math.max(...all.map(({ low_L }) => low_L)),
    dipWithin_L: Math.max(...all.map(({ dipWithin_L }) => dipWithin_L)),
    sampleEvery_h: Math.min(...all.map(({ sampleEvery_h }) => sampleEvery_h)),
    settle_h: Math.max(...all.map(({ settle_h }) => settle_h)),
    filterEvery_days: filters.length === 0 ? null : Math.min(...filters),
    inUse: all.every(({ inUse }) => inUse),
  };
}

export function tankAt(facts: TankFacts, tank: string, at_ms: number): TankAt {
  const until = <Fact extends { readonly tank: string; readonly at_ms: number }>(all: readonly Fact[]) =>
    all.filter((one) => one.tank === tank && one.at_ms <= at_ms);
  const rules = tankRules(facts, tank);
  const checks = newestOf(until(facts.checked));
  const deliveries = until(facts.delivered);
  const checked_ms = checks[0]?.at_ms ?? null;
  const delivered = newestOf(deliveries);
  const delivered_ms = delivered[0]?.at_ms ?? null;
  const seen = { tank, rules, checked_ms, sampled: checks.map(({ sample }) => sample), delivered_ms };
  const described = facts.described.filter((one) => one.tank === tank);
  if (rules === null) {
    const bar: TankBar = { code: "notDescribed", effect: "unknown", until_ms: null, evidence: [] };
    return { ...seen, bars: [bar], sampleEnds_ms: null };
  }
  const bars: TankBar[] = [];
  const say = (
    code: TankBarCode,
    effect: TankBar["effect"],
    evidence: readonly string[],
    until_ms: number | null = null,
  ) => bars.push({ code, effect, until_ms, evidence });

  if (!rules.inUse) say("notInUse", "blocks", entriesOf(described));
  const failed = checks.filter(({ sample, waterFound }) => sample !== "clear" || waterFound);
  if (failed.length > 0) say("sampleFailed", "blocks", entriesOf(failed));
  const opened = until(facts.opened);
  const ended = new Set(opened.flatMap(({ ends }) => ends));
  const shut = until(facts.shut).filter(({ entry }) => !ended.has(entry));
  if (shut.length > 0) say("shut", "blocks", entriesOf(shut));
  const opened_ms = Math.max(...opened.map((one) => one.at_ms));
  const wrong = [
    ...deliveries.filter(({ grade, at_ms: then_ms }) => grade !== rules.grade && then_ms > opened_ms),
    ...described.filter(({ grade }) => grade !== rules.grade),
  ];
  if (wrong.length > 0) say("otherGrade", "blocks", entriesOf(wrong));
  const settled_ms = delivered_ms === null ? null : delivered_ms + rules.settle_h * hour_ms;
  if (settled_ms !== null && at_ms < settled_ms) say("settling", "blocks", entriesOf(delivered), settled_ms);
  if (rules.filterEvery_days !== null) {
    const changed = newestOf(until(facts.filters));
    const changed_ms = changed[0]?.at_ms ?? null;
    if (changed_ms === null) say("filterNotKnown", "unknown", entriesOf(described));
    else if (at_ms >= changed_ms + rules.filterEvery_days * 24 * hour_ms)
      say("filterOver", "blocks", entriesOf(changed));
  }
  const sampleEnds_ms = checked_ms === null ? null : checked_ms + rules.sampleEvery_h * hour_ms;
  if (checked_ms === null) say("neverSampled", "unknown", entriesOf(described));
  else if (settled_ms !== null && checked_ms < settled_ms)
    say("notSampledSinceDelivery", "unknown", [...entriesOf(checks), ...entriesOf(delivered)]);
  else if (sampleEnds_ms !== null && at_ms >= sampleEnds_ms) say("sampleOld", "unknown", entriesOf(checks));
  return { ...seen, bars, sampleEnds_ms };
}
