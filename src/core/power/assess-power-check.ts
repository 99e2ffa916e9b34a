// Assesses the engines' power checks: whose recorded margin is below zero does not give full power, and forbids what
// needs it.
//
// The sheet's power check names the gauges under which margins are recorded, one for each engine; an operation needs full
// power when it needs anything of the charts but the operating limits, since those charts are for an engine that gives
// it. The latest margin counts; of two that people recorded apart at one instant, the lower. Without any: not known.
// A margin of zero is met (law 6). What the trend of margins says is core/level's to say.
// Source: common practice; the chart is the type's own.

import type { CraftState, ReadingFact } from "../facts/craft.ts";
import { own } from "../facts/own.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import { below } from "../quantity/compare.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";
import { sheetSource } from "../sheet/source-of.ts";
import { craftConfigOf } from "../walk/craft-config.ts";

export function assessPowerCheck(sheet: Sheet, state: CraftState, { now_ms }: { now_ms: number }): Reason[] {
  const operations = needingFullPower(sheet);
  if (operations.length === 0) return [];
  const craft = craftConfigOf(state);
  return Object.entries(sheet.charts).flatMap(([id, { use, applies }]) => {
    if (use?.for !== "powerCheck" || evaluateApplicability(applies, craft, {}).value === false) return [];
    const source = sheetSource(sheet, "charts", undefined, id);
    return use.gauges.flatMap((gauge) =>
      aboutEngine(gauge, latest(state, gauge, now_ms), { operations, source }),
    );
  });
}

function needingFullPower({ operations }: Sheet): readonly OperationId[] {
  return operations
    .filter(({ needs }) => needs.power.some((use) => use !== "operatingLimit"))
    .map(({ id }) => id);
}

/** The lowest of those read at the latest instant; what is claimed of the future counts as well. */
function latest(state: CraftState, gauge: string, now_ms: number): ReadingFact | null {
  // A margin that was taken back as mistyped is none.
  const held = (own(state.readings, gauge) ?? []).filter(({ withdrawn }) => withdrawn === undefined);
  const past = held.filter(({ at_ms }) => at_ms <= now_ms);
  const newest_ms = Math.max(...past.map(({ at_ms }) => at_ms));
  const counting = held.filter(({ at_ms }) => at_ms === newest_ms || at_ms > now_ms);
  return counting.reduce<ReadingFact | null>(
    (lowest, reading) => (lowest === null || !(reading.value >= lowest.value) ? reading : lowest),
    null,
  );
}

function aboutEngine(
  gauge: string,
  reading: ReadingFact | null,
  shared: Pick<Reason, "operations" | "source">,
): Reason[] {
  const always = { ...shared, from_ms: null, until_ms: null };
  if (reading === null || !Number.isFinite(reading.value)) {
    return [
      {
        ...always,
        code: "power.checkMissing",
        effect: "unknown",
        evidence: [],
        remedy: { code: "power.check", clearance: "ten" },
        facts: { gauge },
      },
    ];
  }
  if (!below(reading.value, 0)) return [];
  return [
    {
      ...always,
      code: "power.checkBelow",
      effect: "blocks",
      evidence: [reading.entry],
      remedy: { code: "power.toEngineer", clearance: "someone" },
      facts: { gauge, margin: reading.value, unit: reading.unit, typed: reading.typed },
    },
  ];
}
