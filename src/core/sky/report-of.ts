// The report that a fact of the record says, read once: a fact never changes, and reading is the heaviest part of the sky.
import type { ReportFact } from "../facts/sky.ts";
import { readReport } from "./read-report.ts";
import type { WeatherReport } from "./report.ts";

const read = new WeakMap<ReportFact, WeatherReport>();

export function reportOf(fact: ReportFact): WeatherReport {
  let report = read.get(fact);
  if (report === undefined) read.set(fact, (report = readReport(fact.text, fact.at_ms)));
  return report;
}
