// Every assessor, in one list, and the standing of a craft that follows from all of them.
//
// In: the sheet in force (null when it is not at hand), the folded record, the situation. Out: all reasons, and per
// operation of the sheet the standing now, its line and what ends it first. Without the sheet nothing is known.
import { assessCrew } from "../crew/assess-crew.ts";
import { assessWater } from "../crew/assess-water.ts";
import { assessDue } from "../due/assess-due.ts";
import { assessFlights } from "../due/assess-flights.ts";
import { assessPlannedUse } from "../due/planned-use.ts";
import type { CraftState } from "../facts/craft.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import { assessEvents } from "../finding/assess-events.ts";
import { assessFindings } from "../finding/assess.ts";
import { assessLevels } from "../level/assess.ts";
import { assessPowerCheck } from "../power/assess-power-check.ts";
import { assessRules } from "../rules/assess-rules.ts";
import type { Sheet } from "../sheet/schema.ts";
import { assessClosures, assessWalks } from "../walk/assess.ts";
import { assessWatched } from "../watched/assess-watched.ts";
import { changesAlong, compareVerdicts, nextAlong, standingAt, standingLine, touches } from "./combine.ts";
import type { Change, Span, Standing } from "./combine.ts";
import { assessCustody } from "./custody.ts";
import { keptUp } from "./keep-up.ts";
import { assessLookAlikes } from "./look-alikes.ts";
import { assessNeeds } from "./needs.ts";
import { assessRecord } from "./record.ts";
import { whatHelps } from "./remedies.ts";
import type { Help } from "./remedies.ts";
import { rowOf, skyReasons } from "./sky-row.ts";
import type { SkyKnown, StandingRow } from "./sky-row.ts";

type Assessor = (sheet: Sheet, state: CraftState, situation: Situation) => Reason[];

const assessors: readonly Assessor[] = [
  (_sheet, state, situation) => assessRecord(state, situation),
  (_sheet, state) => assessLookAlikes(state),
  assessCustody,
  assessWalks,
  assessClosures,
  assessFindings,
  assessWatched,
  assessEvents,
  assessDue,
  assessPlannedUse,
  assessFlights,
  assessCrew,
  (_sheet, state, situation) => assessWater(state, situation),
  (_sheet, _state, { settings }) => assessRules(settings),
  assessLevels,
  assessPowerCheck,
  assessNeeds,
];

export type OperationStanding = Standing & {
  readonly line: readonly Span[];
  /** The same line by what makes it: machine and crew, and the sky. */
  readonly rows: Readonly<Record<StandingRow, readonly Span[]>>;
  /** Every change on the line, in time, and the first of them. */
  readonly changes: readonly Change[];
  readonly next: Change | null;
  /** The line, and what ends the present state, as long as the crew renews in time what falls due for renewal. */
  readonly kept: { readonly line: readonly Span[]; readonly next: Change | null };
  /** What would make it ready, where it may not fly now; null where nothing helps before the horizon, or nothing has to. */
  readonly help: Help | null;
};

export type CraftStanding = {
  readonly at_ms: number;
  readonly reasons: readonly Reason[];
  readonly operations: readonly OperationStanding[];
};

/** All reasons that follow from the craft's record in this situation, now and until the horizon. The sky is apart. */
export function assessCraft(sheet: Sheet | null, state: CraftState, situation: Situation): readonly Reason[] {
  if (sheet !== null) return assessors.flatMap((assess) => assess(sheet, state, situation));
  return [
    ...assessRecord(state, situation),
    {
      code: "sheet.notHeld",
      effect: "unknown",
      operations: "all",
      from_ms: null,
      until_ms: null,
      source: { kind: "law", law: "unknownIsNeverReady" },
      evidence: [],
      remedy: { code: "sheet.fetch", clearance: "someone" },
      facts: {},
    },
  ];
}

/** The operation under which a craft is shown when its sheet is not at hand. */
export const anyOperation: OperationId = "any";

/** The standing of a craft per operation, with its line to the horizon. */
export function standingOf(
  sheet: Sheet | null,
  state: CraftState,
  situation: Situation,
  sky: SkyKnown,
): CraftStanding {
  const { now_ms, horizon_ms } = situation;
  const machine = assessCraft(sheet, state, situation);
  const overhead = sheet === null ? [] : skyReasons(sheet, state, situation, sky);
  const reasons = [...machine, ...overhead];
  const operations = sheet === null ? [anyOperation] : sheet.operations.map(({ id }) => id);
  const rows = {
    machine: reasons.filter((reason) => rowOf(reason) === "machine"),
    sky: reasons.filter((reason) => rowOf(reason) === "sky"),
  };
  const kept = keptUp(reasons, now_ms);
  return {
    at_ms: now_ms,
    reasons,
    operations: operations.map((operation) => {
      // What does not touch the operation is sorted out once: each line below looks at its reasons again and again.
      const touching = (which: readonly Reason[]): readonly Reason[] =>
        which.filter((reason) => touches(reason, operation));
      const lineOf = (which: readonly Reason[]): readonly Span[] =>
        standingLine(which, operation, now_ms, horizon_ms);
      const [mine, keeping] = [touching(reasons), touching(kept)];
      const now = standingAt(mine, operation, now_ms);
      const [line, keptLine] = [lineOf(mine), lineOf(keeping)];
      const changes = changesAlong(line, mine);
      const mayFly = compareVerdicts(now.verdict, "withinLimits") <= 0;
      return {
        ...now,
        line,
        rows: { machine: lineOf(touching(rows.machine)), sky: lineOf(touching(rows.sky)) },
        changes,
        next: changes[0] ?? null,
        kept: { line: keptLine, next: nextAlong(keptLine, keeping) },
        help: mayFly || sheet === null ? null : whatHelps(mine, operation, sheet, now_ms, horizon_ms),
      };
    }),
  };
}
