// Assesses custody: a machine that nobody has taken over, or that maintenance holds, launches for nobody; and one that
// came back from maintenance launches only when the work is released, inspected where the sheet asks for it, and for
// nothing that a release takes away.
//
// Custody recorded apart stands side by side; the worse counts: out of service, maintenance, then crew. That the crew has
// it again can always be recorded: what is missing then is a release (M.A.801, 145.A.50). A limitation stands until a
// later release lifts it by name.
import type { CraftState, CustodyFact, ReleaseFact } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import type { Sheet } from "../sheet/schema.ts";

const worseLast = ["crew", "maintenance", "outOfService"] as const;

export function countingCustody(state: CraftState): CustodyFact | null {
  let worst: CustodyFact | null = null;
  for (const fact of state.custody) {
    if (worst === null || worseLast.indexOf(fact.custody) >= worseLast.indexOf(worst.custody)) worst = fact;
  }
  return worst;
}

const shared = {
  operations: "all",
  from_ms: null,
  until_ms: null,
  source: { kind: "law", law: "custody" },
} as const;

const released = {
  kind: "rule",
  rule: "M.A.801",
  edition: "Reg. (EU) 1321/2014",
  cite: "M.A.801; 145.A.50",
} as const;

function assessHolder(custody: CustodyFact | null): readonly Reason[] {
  if (custody?.custody === "crew") return [];
  if (custody === null) {
    return [
      {
        ...shared,
        code: "custody.nobody",
        effect: "unknown",
        evidence: [],
        remedy: { code: "custody.takeOver", clearance: "minute" },
        facts: {},
      },
    ];
  }
  return [
    {
      ...shared,
      code: custody.custody === "maintenance" ? "custody.maintenance" : "custody.outOfService",
      effect: "blocks",
      evidence: [custody.entry],
      // The expected end is somebody's hope: nothing becomes ready by it.
      remedy: { code: "custody.return", clearance: "someone" },
      facts: { words: custody.words, expectedEnd_ms: custody.expectedEnd_ms, since_ms: custody.at_ms },
    },
  ];
}

/** The last time that maintenance had the craft, where no release was signed at or after it. */
export function unreleasedWork({ handovers, releases }: CraftState): CustodyFact | null {
  let last: CustodyFact | null = null;
  for (const fact of handovers)
    if (fact.custody === "maintenance" && (last === null || fact.at_ms >= last.at_ms)) last = fact;
  return last === null || releases.some(({ at_ms }) => at_ms >= last.at_ms) ? null : last;
}

/** Stops of a release at which the sheet asks for an inspection by a second person. */
export function stopsToInspect(sheet: Sheet, { worked }: ReleaseFact): readonly string[] {
  return sheet.stops
    .filter(({ id, independentInspection }) => independentInspection === true && worked.includes(id))
    .map(({ id }) => id);
}

/** Releases whose independent inspection nobody has signed. */
export function uninspected(sheet: Sheet, { releases, inspections }: CraftState): readonly ReleaseFact[] {
  return releases.filter(
    (release) =>
      stopsToInspect(sheet, release).length > 0 &&
      !inspections.some((inspection) => inspection.release === release.entry && inspection.by !== release.by),
  );
}

/** Releases whose limitations stand. */
export function standingLimitations({ releases }: CraftState): readonly ReleaseFact[] {
  const lifted = new Set(releases.flatMap(({ lifts }) => lifts));
  return releases.filter(({ entry, limitations }) => limitations.trim() !== "" && !lifted.has(entry));
}

export function assessCustody(sheet: Sheet, state: CraftState): Reason[] {
  const custody = countingCustody(state);
  const work = custody?.custody === "maintenance" ? null : unreleasedWork(state);
  const notReleased: readonly Reason[] =
    work === null
      ? []
      : [
          {
            ...shared,
            source: released,
            code: "custody.notReleased",
            effect: "blocks",
            evidence: [work.entry],
            remedy: { code: "custody.release", clearance: "someone" },
            facts: { words: work.words, since_ms: work.at_ms },
          },
        ];
  const inspections = uninspected(sheet, state).map((release): Reason => {
    const [stop] = stopsToInspect(sheet, release);
    const index = sheet.stops.findIndex(({ id }) => id === stop);
    return {
      ...shared,
      source: { kind: "sheet", path: `stops[${index}].independentInspection`, cite: null },
      code: "custody.notInspected",
      effect: "blocks",
      evidence: [release.entry],
      remedy: { code: "custody.inspect", clearance: "someone" },
      facts: { stop: stop ?? "", by: release.by, at_ms: release.at_ms },
    };
  });
  const limits = standingLimitations(state).map((release): Reason => ({
    ...shared,
    operations: release.takesAway.length === 0 ? "all" : release.takesAway,
    source: released,
    code: release.takesAway.length === 0 ? "custody.limitation" : "custody.takenAway",
    effect: release.takesAway.length === 0 ? "advises" : "blocks",
    evidence: [release.entry],
    remedy: { code: "custody.lift", clearance: "someone" },
    facts: { words: release.limitations, at_ms: release.at_ms },
  }));
  return [...assessHolder(custody), ...notReleased, ...inspections, ...limits];
}
