// Assesses daylight: an operation of the day is barred in each night until the horizon, by the night of its rule set.
//
// In: the sun's track, the place, the rule that says what night is, the operations that need day. Out: one reason for
// each night, half open, so that the standing line changes exactly at dusk and at dawn.

import type { Position } from "../air/position.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import { lightSpans, type NightRule } from "./night.ts";
import type { Sun } from "./sun-altitude.ts";

export type LightQuestion = {
  readonly now_ms: number;
  readonly horizon_ms: number;
  readonly place: string;
  readonly position: Position;
  readonly night: NightRule & { readonly rule: string; readonly edition: string };
  /** Operations that need day there. */
  readonly dayOperations: readonly OperationId[];
};

export function assessLight(sun: Sun, question: LightQuestion): Reason[] {
  const { now_ms, horizon_ms, place, position, night, dayOperations } = question;
  if (dayOperations.length === 0) return [];
  return lightSpans(sun, position, night, now_ms, horizon_ms)
    .filter(({ light }) => light === "night")
    .map(({ from_ms, until_ms }): Reason => ({
      code: "light.night",
      effect: "blocks",
      operations: dayOperations,
      from_ms,
      until_ms,
      source: { kind: "rule", rule: night.rule, edition: night.edition, cite: night.cite },
      evidence: [],
      remedy: { code: "light.wait", clearance: "time" },
      facts: { place, from_ms, until_ms },
    }));
}
