// Assesses the walks and the closures: what must be walked before flight, and what stands open now.
//
// A full walk that is due blocks every operation that needs one, from the instant at which the last one lapses. The
// launch walk is made when the call comes, within a minute or two; while the machine stands by it is an advice, not a
// bar (decisions/0005). What is open blocks at once, whoever opened it.
import type { CraftState, WalkKind } from "../facts/craft.ts";
import type { OperationId, Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";
import { evaluateApplicability } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";
import { craftConfigOf } from "./craft-config.ts";
import { walkValidity, walksOfKind } from "./validity.ts";
import type { WalkValidity } from "./validity.ts";

/**
 * How each walk of the kind stands, latest begun first, down to the first after whose end no older one can hold: it has
 * lapsed, or what ended it would have ended an older one too.
 */
export function recentWalks(
  sheet: Sheet,
  state: CraftState,
  kind: WalkKind,
  situation: Pick<Situation, "now_ms" | "settings">,
): readonly WalkValidity[] {
  const recent: WalkValidity[] = [];
  for (const facts of walksOfKind(state, kind)) {
    const validity = walkValidity(sheet, state, facts, situation);
    recent.push(validity);
    const { lapses_ms, voided } = validity;
    const isOver = lapses_ms !== null && lapses_ms <= situation.now_ms;
    if (isOver || (voided !== null && !facts.voided.some(({ entry }) => entry === voided.entry))) break;
  }
  return recent;
}

/** The valid walk that holds longest; null when none is valid. */
export function holdingWalk(recent: readonly WalkValidity[]): WalkValidity | null {
  let holding: WalkValidity | null = null;
  for (const validity of recent) {
    if (validity.status !== "valid") continue;
    if (holding === null || (validity.lapses_ms ?? Infinity) > (holding.lapses_ms ?? Infinity))
      holding = validity;
  }
  return holding;
}

/** What clears a walk of each kind that is missing. */
export const remedyOf = { full: "walk.doFull", launch: "walk.doLaunch", parking: "walk.doParking" } as const;

function due(
  kind: WalkKind,
  operations: readonly OperationId[],
  more: Pick<Reason, "code" | "facts" | "evidence" | "from_ms">,
): Reason {
  return {
    effect: kind === "full" ? "blocks" : "advises",
    operations,
    until_ms: null,
    source: { kind: "sheet", path: `walkValidity.${kind}`, cite: "AMC M.A.301(a)" },
    remedy: { code: remedyOf[kind], clearance: kind === "full" ? "ten" : "minute" },
    ...more,
    facts: { kind, ...more.facts },
  };
}

/** Why no walk of the kind holds: the latest one says it; with none at all, it is simply due. */
function whyNone(latest: WalkValidity | undefined): Pick<Reason, "code" | "facts" | "evidence"> {
  if (latest === undefined) return { code: "walk.due", facts: {}, evidence: [] };
  const { walk, progress, voided, lapses_ms, lapsesBy, status, unjudged, finished_ms, sheetChanged } = latest;
  const evidence = [walk.begun.entry, ...walk.finished.map(({ entry }) => entry)];
  switch (status) {
    case "running":
      return {
        code: walk.interruptions.some(({ resumed }) => resumed === null)
          ? "walk.interrupted"
          : "walk.running",
        facts: { left: progress.blank.length, open: progress.open.length, left_s: progress.left_s },
        evidence,
      };
    case "void":
      return {
        code: "walk.void",
        facts: { by: voided?.by ?? null, at_ms: voided?.at_ms ?? null },
        evidence: voided === null ? evidence : [...evidence, voided.entry],
      };
    case "lapsed":
      return { code: "walk.lapsed", facts: { lapsed_ms: lapses_ms, by: lapsesBy }, evidence };
    case "incomplete":
      return {
        code: "walk.incomplete",
        facts: {
          blank: progress.blank.length,
          notReached: progress.notReached.length,
          unjudged: unjudged.length,
          finished_ms,
          sheetChanged,
        },
        evidence,
      };
    case "valid":
      return { code: "walk.due", facts: {}, evidence };
    default:
      return status satisfies never;
  }
}

function assessKind(sheet: Sheet, state: CraftState, situation: Situation, kind: WalkKind): Reason[] {
  const operations = sheet.operations.filter(({ needs }) => needs.walks.includes(kind)).map(({ id }) => id);
  if (operations.length === 0) return [];
  const recent = recentWalks(sheet, state, kind, situation);
  const holding = holdingWalk(recent);
  if (holding === null) return [due(kind, operations, { from_ms: null, ...whyNone(recent[0]) })];
  if (holding.lapses_ms === null) return [];
  const kindDue = due(kind, operations, {
    code: "walk.lapses",
    from_ms: holding.lapses_ms,
    facts: { lapsed_ms: holding.lapses_ms, by: holding.lapsesBy },
    evidence: holding.walk.finished.map(({ entry }) => entry),
  });
  return [kindDue];
}

/** Reasons from walks: what is due now, and what falls due when the one that holds lapses. */
export function assessWalks(sheet: Sheet, state: CraftState, situation: Situation): Reason[] {
  return (["full", "launch"] as const).flatMap((kind) => assessKind(sheet, state, situation, kind));
}

/** Reasons from closures: each that stands open blocks, as long as any standing fact says so. */
export function assessClosures(sheet: Sheet, state: CraftState): Reason[] {
  const craft = craftConfigOf(state);
  return Object.entries(state.closures).flatMap(([id, standing]) => {
    const open = standing.filter((fact) => fact.state === "open");
    const newest = open.at(-1);
    if (newest === undefined) return [];
    const index = sheet.closures.findIndex((closure) => closure.id === id);
    const closure = sheet.closures[index];
    if (closure !== undefined && evaluateApplicability(closure.applies, craft, {}).value === false) return [];
    return [
      {
        code: "closure.open",
        effect: "blocks",
        operations: "all",
        from_ms: null,
        until_ms: null,
        source: {
          kind: "sheet",
          path: closure === undefined ? "closures" : `closures[${index}]`,
          cite: "AMC M.A.301(a) 1(d)(e)",
        },
        evidence: open.map(({ entry }) => entry),
        remedy: { code: "closure.close", clearance: "minute" },
        facts: { closure: id, opened_ms: newest.at_ms, by: newest.by },
      } satisfies Reason,
    ];
  });
}
