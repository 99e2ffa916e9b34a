// Assesses the latest reading of every gauge: outside its limits it notes, asks or stops as the sheet says; missing, it
// is unknown for the operations that need it.
import type { CraftState, ReadingFact } from "../facts/craft.ts";
import { own } from "../facts/own.ts";
import type { Effect, OperationId, Reason } from "../facts/reason.ts";
import type { Gauge } from "../sheet/gauge-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import { craftConfigOf } from "../walk/craft-config.ts";
import { readingVerdict } from "./reading-verdict.ts";

const effectOutside: Readonly<Record<Gauge["ifOutside"], Effect>> = {
  note: "advises",
  ask: "unknown",
  stop: "blocks",
};

/** The readings that count now: those of the latest instant at which the gauge was read (two people may have read it apart). */
export function latestReadings(state: CraftState, gauge: string): readonly ReadingFact[] {
  const held = own(state.readings, gauge) ?? [];
  const latest_ms = Math.max(...held.map(({ at_ms }) => at_ms));
  return held.filter(({ at_ms }) => at_ms === latest_ms);
}

function readingReason(
  gauge: Gauge,
  index: number,
  needing: readonly OperationId[],
  reading: ReadingFact,
): Reason[] {
  const shared = {
    from_ms: null,
    until_ms: null,
    source: { kind: "sheet", path: `gauges[${index}]`, cite: gauge.source?.page ?? null },
    evidence: [reading.entry],
  } as const;
  const facts = { gauge: gauge.id, value: reading.value, unit: reading.unit, typed: reading.typed };
  const verdict = readingVerdict(gauge, reading);
  if (verdict.is === "inside") return [];
  if (verdict.is === "notKnown") {
    return [
      {
        ...shared,
        code: "level.notKnown",
        effect: "unknown",
        operations: needing.length > 0 ? needing : "all",
        remedy: { code: "level.readAgain", clearance: "minute" },
        facts: { ...facts, why: verdict.why },
      },
    ];
  }
  return [
    {
      ...shared,
      code: verdict.is === "below" ? "level.below" : "level.above",
      effect: effectOutside[gauge.ifOutside],
      operations: "all",
      remedy:
        gauge.ifOutside === "stop"
          ? { code: "level.toEngineer", clearance: "someone" }
          : { code: "level.fillOrAsk", clearance: "ten" },
      facts: { ...facts, compared: verdict.compared, limit: verdict.limit },
    },
  ];
}

/** Reasons from the gauges that this craft has. */
export function assessLevels(sheet: Sheet, state: CraftState): Reason[] {
  const craft = craftConfigOf(state);
  return sheet.gauges.flatMap((gauge, index) => {
    if (evaluateApplicability(gauge.applies, craft, {}).value === false) return [];
    const needing = sheet.operations
      .filter(({ needs }) => needs.gauges.includes(gauge.id))
      .map(({ id }) => id);
    const readings = latestReadings(state, gauge.id);
    if (readings.length > 0)
      return readings.flatMap((reading) => readingReason(gauge, index, needing, reading));
    if (needing.length === 0) return [];
    return [
      {
        code: "level.missing",
        effect: "unknown",
        operations: needing,
        from_ms: null,
        until_ms: null,
        source: { kind: "sheet", path: `gauges[${index}]`, cite: gauge.source?.page ?? null },
        evidence: [],
        remedy: { code: "level.read", clearance: "minute" },
        facts: { gauge: gauge.id },
      } satisfies Reason,
    ];
  });
}
