// Whether frost has ended a walk that holds by the record alone, and when it may, by the weather as it is recorded for the
// base: observed temperatures of its reports and of people who looked, and the lowest that a forecast names.
//
// Apart from validity.ts, since reading reports is heavy and comes to an app beside its first part (standing/judge-beside).
// Temperatures that were read at the craft itself are in validity.ts. Only walks whose sheet names `frostAfterFreezing`,
// and only where nobody has said that the machine stands inside.
import type { CraftState, WalkKind } from "../facts/craft.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import type { BaseSky } from "../facts/sky.ts";
import type { Sheet } from "../sheet/schema.ts";
import { reportOf } from "../sky/report-of.ts";
import { holdingWalk, recentWalks, remedyOf } from "./assess.ts";
import { firstFrost } from "./first-frost.ts";
import type { AirTemperature } from "./first-frost.ts";
import { weatherSaid } from "./since-last-look.ts";

type Air = AirTemperature & { readonly station: string };
type Forecast = {
  readonly entry: string;
  readonly at_ms: number;
  readonly oat_C: number;
  readonly station: string;
};

function airOver({ state, name }: BaseSky): {
  readonly observed: readonly Air[];
  readonly forecast: readonly Forecast[];
} {
  const observed: Air[] = [];
  const forecast: Forecast[] = [];
  for (const fact of state.reports) {
    const { entry, at_ms } = fact;
    const report = reportOf(fact);
    const station = report.station ?? name;
    if (report.isNil || report.isCancelled) continue;
    if (report.kind === "TAF") {
      for (const { conditions } of [{ conditions: report.conditions }, ...report.periods])
        for (const { extreme, value_C, at_ms: lowest_ms } of conditions.forecastTemperatures)
          if (extreme === "lowest") forecast.push({ entry, at_ms: lowest_ms, oat_C: value_C, station });
      continue;
    }
    const { temperature_C } = report.conditions;
    if (temperature_C !== null)
      observed.push({ entry, at_ms: report.issued_ms ?? at_ms, oat_C: temperature_C, station });
  }
  for (const { entry, at_ms, temperature_C, place } of state.observations)
    if (temperature_C !== null) observed.push({ entry, at_ms, oat_C: temperature_C, station: place });
  return { observed: observed.toSorted((a, b) => a.at_ms - b.at_ms), forecast };
}

function stationOf(air: AirTemperature, observed: readonly Air[]): string {
  return observed.find(({ entry }) => entry === air.entry)?.station ?? "";
}

function frostReason(
  kind: WalkKind,
  operations: readonly OperationId[],
  more: Pick<Reason, "code" | "effect" | "evidence" | "facts"> & Partial<Pick<Reason, "from_ms">>,
): Reason {
  return {
    operations,
    from_ms: null,
    until_ms: null,
    source: { kind: "sheet", path: `walkValidity.${kind}.voidedBy`, cite: "AMC M.A.301(a)" },
    remedy: { code: remedyOf[kind], clearance: kind === "full" ? "ten" : "minute" },
    ...more,
  };
}

/** Reasons from frost over each walk that would hold without it. */
export function assessFrost(
  sheet: Sheet,
  state: CraftState,
  situation: Situation,
  base: BaseSky | null,
): Reason[] {
  if (base === null) return [];
  const { observed, forecast } = airOver(base);
  return (["full", "launch"] as const).flatMap((kind): readonly Reason[] => {
    const operations = sheet.operations.filter(({ needs }) => needs.walks.includes(kind)).map(({ id }) => id);
    if (operations.length === 0 || !sheet.walkValidity[kind].voidedBy.includes("frostAfterFreezing"))
      return [];
    const holding = holdingWalk(recentWalks(sheet, state, kind, situation));
    if (holding === null || holding.finished_ms === null) return [];
    if (weatherSaid(holding.walk)["parkedOutside"] === false) return [];
    // A report may be sent some minutes ahead of its time; it ends the walk at that time.
    const froze = firstFrost(observed, holding.finished_ms);
    if (froze !== null) {
      const facts = { kind, oat_C: froze.oat_C, at_ms: froze.at_ms, station: stationOf(froze, observed) };
      const effect = kind === "full" ? "blocks" : "advises";
      const from_ms = froze.at_ms > situation.now_ms ? froze.at_ms : null;
      const said = { code: "walk.froze", effect, evidence: [froze.entry], facts, from_ms } as const;
      return [frostReason(kind, operations, said)];
    }
    const until_ms = holding.lapses_ms ?? Infinity;
    const coming = forecast
      .filter(({ at_ms, oat_C }) => oat_C <= 0 && at_ms > situation.now_ms && at_ms < until_ms)
      .toSorted((a, b) => a.at_ms - b.at_ms)[0];
    if (coming === undefined || kind !== "full") return [];
    const facts = { kind, oat_C: coming.oat_C, at_ms: coming.at_ms, station: coming.station };
    return [
      frostReason(kind, operations, {
        code: "walk.mayFreeze",
        effect: "advises",
        evidence: [coming.entry],
        facts,
      }),
    ];
  });
}
