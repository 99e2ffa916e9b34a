// How long records are kept at least, by what they are. Shown beside the ledger and asked before anything is erased.
//
// Sources and status beside each row; checked in published/retention.test.ts. Nothing is deleted by these figures.
import type { Citation, RuleSetId } from "./cited.ts";

export type Retention = Citation & {
  readonly record: string;
  readonly keep: { readonly months?: number; readonly days?: number };
  readonly from: "record" | "lastEntry" | "release" | "operation";
};

const row = (
  record: string,
  keep: Retention["keep"],
  cite: string,
  status: Citation["status"],
  from: Retention["from"] = "record",
): Retention => ({ record, keep, cite, status, from, edition: "as stored 2025" });

export const retention: readonly Retention[] = [
  row("flightPapers", { months: 3 }, "ORO.MLR.115(b)", "text"),
  row("technicalLog", { months: 36 }, "M.A.305 (M.A.306(c) in the old numbering)", "text", "lastEntry"),
  row("maintenanceRecords", { months: 36 }, "M.A.305", "memory", "release"),
  row("riskWorksheet", { days: 90 }, "14 CFR 135.617(d)", "text", "operation"),
  row("pilotRecord", { months: 12 }, "14 CFR 135.63(b)", "text"),
  row("loadManifest", { days: 30 }, "14 CFR 135.63(d)", "text"),
  row("trainingAndChecking", { months: 36 }, "ORO.MLR.115", "memory"),
  row("recentExperience", { months: 15 }, "ORO.MLR.115", "memory"),
  row("flightDutyRest", { months: 24 }, "ORO.FTL.245 (aeroplanes; national for helicopters)", "memory"),
];

/** By the beginning of an entry's type: which of the records above it belongs to. */
const recordsOf: readonly (readonly [begins: string, records: readonly string[]])[] = [
  ["flight.", ["technicalLog", "flightPapers", "recentExperience"]],
  ["shift.", ["flightDutyRest"]],
  ["loading.", ["flightPapers", "loadManifest"]],
  ["kit.", ["flightPapers", "loadManifest"]],
  ["paper.", ["trainingAndChecking", "pilotRecord"]],
  ["experience.", ["recentExperience", "pilotRecord"]],
  ["release.", ["maintenanceRecords"]],
  ["inspection.", ["maintenanceRecords"]],
  ["task.", ["maintenanceRecords"]],
  ["component.", ["maintenanceRecords"]],
  ["balance.", ["maintenanceRecords"]],
  ["counters.", ["maintenanceRecords"]],
  ["obligation.", ["maintenanceRecords"]],
  ["craft.weighed", ["maintenanceRecords"]],
  ["walk.", ["technicalLog"]],
  ["closure.", ["technicalLog"]],
  ["finding.", ["technicalLog"]],
  ["deferral.", ["technicalLog"]],
  ["event.", ["technicalLog"]],
  ["reading", ["technicalLog"]],
  ["uplift.", ["technicalLog"]],
  ["level.", ["technicalLog"]],
  ["lookAlike.", ["technicalLog"]],
  ["custody.", ["technicalLog"]],
];

/** The figures of a rule set; of both where the operator's is not known. */
export function retentionIn(ruleSet: RuleSetId | null): readonly Retention[] {
  return retention.filter(({ cite }) => ruleSet === null || cite.startsWith("14 CFR") === (ruleSet === "us"));
}

/** How long entries of this type are to be kept at least; empty where no rule here says so. */
export function retentionOf(type: string, ruleSet: RuleSetId | null): readonly Retention[] {
  const records = recordsOf.find(([begins]) => type.startsWith(begins))?.[1] ?? [];
  return retentionIn(ruleSet).filter(({ record }) => records.includes(record));
}
