// Our reader of weather reports against what the sources of weather-reports.json say of each text.
import { describe, expect, test } from "vitest";
import topic from "../src/cli/calc/weather.ts";
import data from "./weather-reports.json" with { type: "json" };

type Row = (typeof data.rows)[number];
type Result = Readonly<Record<string, unknown>>;

/** Rounding of the sources; stated with its reason in the data file. */
const tolerances: Readonly<Record<string, number>> = {
  qnh_hPa: data.tolerance.qnh_hPa,
  visibility_m: data.tolerance.visibility_m,
  speed_kt: data.tolerance.speed_kt,
  gust_kt: data.tolerance.speed_kt,
  mean_m: 0.001,
};

/** Every difference between what was read and what the source states; what the source does not state is not compared. */
function differences(expected: unknown, found: unknown, path: string): string[] {
  if (Array.isArray(expected)) {
    if (!Array.isArray(found) || found.length !== expected.length)
      return [`${path}: ${JSON.stringify(found)}, the source says ${JSON.stringify(expected)}`];
    return expected.flatMap((element, index) => differences(element, found[index], `${path}[${index}]`));
  }
  if (typeof expected === "object" && expected !== null) {
    if (typeof found !== "object" || found === null) return [`${path}: ${JSON.stringify(found)}`];
    return Object.entries(expected).flatMap(([key, value]) =>
      differences(value, (found as Result)[key], path === "" ? key : `${path}.${key}`),
    );
  }
  const key = path.slice(path.lastIndexOf(".") + 1);
  const isNear =
    typeof expected === "number" && typeof found === "number"
      ? Math.abs(expected - found) <= (tolerances[key] ?? 0)
      : Object.is(expected, found) || isSameInstant(expected, found);
  return isNear ? [] : [`${path}: ${JSON.stringify(found)}, the source says ${JSON.stringify(expected)}`];
}

function isSameInstant(expected: unknown, found: unknown): boolean {
  const form = /^\d{4}-\d\d-\d\dT/u;
  if (typeof expected !== "string" || typeof found !== "string" || !form.test(expected)) return false;
  return Date.parse(expected) === Date.parse(found);
}

function read(row: Row): Result {
  return topic.compute({ text: row.text, issuedNear: row.near }) as Result;
}

describe("weather reports", () => {
  test.each(data.rows.map((row) => [row.text, row] as const))("%s", (_, row) => {
    const { periodCount, ...expected } = row.expect;
    const found = read(row);
    const { periods, ...rest } = expected as Result & { periods?: readonly unknown[] };
    expect(differences(rest, found, "")).toEqual([]);
    expect(found["notRead"]).toEqual(row.notRead);
    // A source that tells only the first periods says how many there are.
    const periodsRead = (found["periods"] ?? []) as readonly unknown[];
    const told = periodCount === undefined ? periodsRead : periodsRead.slice(0, periods?.length ?? 0);
    if (periods !== undefined) expect(differences(periods, told, "periods")).toEqual([]);
    if (periodCount !== undefined) expect(periodsRead).toHaveLength(periodCount);
  });

  test("are compared on many facts each, so that an empty row cannot pass for a check", () => {
    expect(data.rows.length).toBe(62);
    for (const row of data.rows) expect(Object.keys(row.expect).length).toBeGreaterThanOrEqual(2);
    const count = (value: unknown): number =>
      typeof value === "object" && value !== null
        ? Object.values(value).reduce((sum: number, part) => sum + count(part), 0)
        : 1;
    expect(data.rows.reduce((sum, row) => sum + count(row.expect), 0)).toBeGreaterThan(1100);
  });

  test("a comparison sees a wrong figure, a missing one and a missing element", () => {
    const expected = { visibility_m: 5000, clouds: [{ base_ft: 400 }, { base_ft: 800 }] };
    expect(differences(expected, { visibility_m: 5000, clouds: [{ base_ft: 400 }] }, "")).toHaveLength(1);
    expect(differences(expected, { clouds: expected.clouds }, "")).toHaveLength(1);
    expect(differences(expected, { ...expected, visibility_m: 4990 }, "")).toHaveLength(1);
    expect(differences(expected, expected, "")).toEqual([]);
  });
});
