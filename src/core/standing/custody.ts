// Assesses custody: a machine that nobody has taken over, or that maintenance holds, launches for nobody.
// Custody recorded apart stands side by side; the worse counts: out of service, maintenance, then crew.
import type { CraftState, CustodyFact } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";

const worseLast = ["crew", "maintenance", "outOfService"] as const;

/** The custody that counts: the worst that stands, of equals the latest; null while nobody has taken it. */
export function countingCustody(state: CraftState): CustodyFact | null {
  let worst: CustodyFact | null = null;
  for (const fact of state.custody) {
    if (worst === null || worseLast.indexOf(fact.custody) >= worseLast.indexOf(worst.custody)) worst = fact;
  }
  return worst;
}

export function assessCustody(state: CraftState): Reason[] {
  const custody = countingCustody(state);
  if (custody?.custody === "crew") return [];
  const shared = {
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "law", law: "custody" },
  } as const;
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
