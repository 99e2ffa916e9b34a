// What must hold of every text that the report reader is given, sense or nonsense.

import { weatherResult } from "../../src/cli/calc/weather.ts";
import { ceilingOf } from "../../src/core/sky/ceiling.ts";
import { printReport } from "../../src/core/sky/print-report.ts";
import { readReport } from "../../src/core/sky/read-report.ts";
import { type Conditions, unreadGroups, type WeatherReport } from "../../src/core/sky/report.ts";

/** Everything that is wrong with the reading of a text; empty when all holds. Throws what the reader throws. */
export function faultsOf(text: string, near_ms: number): string[] {
  return faultsOfReading(readReport(text, near_ms), text);
}

/** The same for a reading at hand, so that a test can show that a wrong one is noticed. */
export function faultsOfReading(report: WeatherReport, text: string): string[] {
  return [
    ...lossFaults(report, text),
    ...valueFaults(report),
    ...ceilingFaults(report),
    ...printFaults(report),
  ];
}

/** Groups give back every word, in order; what was not read stands in the result, verbatim. */
function lossFaults(report: WeatherReport, text: string): string[] {
  const words = text.split(/[\s=]+/u).filter((word) => word !== "");
  const given = report.groups.map((group) => group.text).join(" ");
  const faults = given === words.join(" ") ? [] : [`groups give ${JSON.stringify(given)}`];
  const notRead = weatherResult(report)["notRead"] as readonly string[];
  for (const group of unreadGroups(report)) {
    if (!notRead.includes(group)) faults.push(`${group} is neither read nor in notRead`);
  }
  return faults;
}

/** No number that is not finite, no minus zero, nothing outside what a report can say. */
function valueFaults(report: WeatherReport): string[] {
  const faults: string[] = [];
  const look = (value: unknown, path: string): void => {
    if (typeof value === "number" && (!Number.isFinite(value) || Object.is(value, -0)))
      faults.push(`${path} is ${Object.is(value, -0) ? "-0" : value}`);
    else if (typeof value === "object" && value !== null)
      for (const [key, part] of Object.entries(value)) look(part, `${path}.${key}`);
  };
  look(report, "report");
  const { wind, temperature_C, qnh_hPa } = report.conditions;
  if (wind !== null && (wind.from_deg ?? 0) > 360) faults.push("wind from beyond 360");
  if (temperature_C !== null && Math.abs(temperature_C) > 80) faults.push("temperature beyond reason");
  if (qnh_hPa !== null && (qnh_hPa < 850 || qnh_hPa > 1100)) faults.push("pressure beyond reason");
  return faults;
}

/** Never better than the lowest layer that was read, and unknown wherever something could have been lower. */
function ceilingFaults(report: WeatherReport): string[] {
  return [report.conditions, ...report.periods.map(({ conditions }) => conditions)].flatMap((conditions) => {
    const { bound, ceiling_ft } = ceilingOf(conditions);
    const lowest = lowestCover(conditions);
    const faults: string[] = [];
    if (conditions.unsure.includes("sky") && bound !== "unknown")
      faults.push(`ceiling ${bound} of an unsure sky`);
    if (lowest < Infinity && bound !== "unknown" && (ceiling_ft === null || ceiling_ft > lowest))
      faults.push(`ceiling ${bound} ${ceiling_ft} above a layer at ${lowest}`);
    if ((ceiling_ft === null) !== (bound === "none" || bound === "unknown"))
      faults.push("ceiling and bound disagree");
    return faults;
  });
}

function lowestCover({ clouds, verticalVisibility }: Conditions): number {
  const heights = clouds
    .filter(({ cover }) => cover === "BKN" || cover === "OVC")
    .map(({ base_ft }) => base_ft ?? Infinity);
  return Math.min(Infinity, ...heights, verticalVisibility?.height_ft ?? Infinity);
}

/** A report without unread groups reads the same again from its own printed text. */
function printFaults(report: WeatherReport): string[] {
  if (report.issued_ms === null || unreadGroups(report).length > 0) return [];
  const printed = printReport(report);
  const again = readReport(printed, report.issued_ms);
  const [first, second] = [comparable(report), comparable(again)];
  return first === second ? [] : [`printed as ${printed}: ${first} became ${second}`];
}

/** The decode without the text, with the order in which quantities happened to be named taken out. */
function comparable(report: WeatherReport): string {
  const { text: _text, groups: _groups, ...decode } = report;
  return JSON.stringify(decode, (key, value: unknown) =>
    key === "stated" ? [...(value as readonly string[])].toSorted((a, b) => (a < b ? -1 : 1)) : value,
  );
}
