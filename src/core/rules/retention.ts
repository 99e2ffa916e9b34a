// How long records are kept at least, by what they are. Shown beside the ledger and asked before anything is erased.
//
// Sources and status beside each row; checked in published/retention.test.ts. Nothing is deleted by these figures.
import type { Citation } from "./cited.ts";

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
