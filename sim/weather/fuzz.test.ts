// Twenty thousand damaged reports; a million are read by `npm run fuzz:weather`.
import { describe, expect, test } from "vitest";
import { randomFrom } from "../../demo/random.ts";
import { readReport } from "../../src/core/sky/read-report.ts";
import { unreadGroups, type WeatherReport } from "../../src/core/sky/report.ts";
import { faultsOf, faultsOfReading } from "./check-report.ts";
import { mutatedReport, seedReports } from "./mutate-report.ts";

describe("damaged weather reports", () => {
  test("seed 4: none of twenty thousand is lost, misread into nonsense, or thrown at", () => {
    const random = randomFrom(4);
    let whole = 0;
    let damaged = 0;
    for (let number = 0; number < 20_000; number += 1) {
      const { text, near_ms } = mutatedReport(random);
      const faults = faultsOf(text, near_ms);
      if (faults.length > 0) expect.fail(`report ${number}, ${JSON.stringify(text)}: ${faults.join("; ")}`);
      if (unreadGroups(readReport(text, near_ms)).length === 0) whole += 1;
      else damaged += 1;
    }
    // Both kinds must really occur, or half of the checks have not run.
    expect(whole).toBeGreaterThan(2000);
    expect(damaged).toBeGreaterThan(8000);
  });

  test("the undamaged seed reports hold all of it too", () => {
    for (const { text, near_ms } of seedReports) expect(faultsOf(text, near_ms)).toEqual([]);
  });

  test("a long text is read in a moment", () => {
    const text = `METAR ENXX 041150Z ${"24010KT 1 1/2SM R04/0600V1000FT/U +FZRASN //////CB WS ALL RWY ".repeat(500)}`;
    const start_ms = performance.now();
    readReport(text, 0);
    // Generous for a busy machine; a reader that backtracks or rescans would take minutes.
    expect(performance.now() - start_ms).toBeLessThan(2000);
  });

  test("a reading that lost a group, made one better or invented a number is noticed", () => {
    const text = "METAR ENXX 041150Z 24010KT 9999 BKN010 10/05 Q1013";
    const report = readReport(text, Date.UTC(2026, 1, 4));
    const spoil = (more: Partial<WeatherReport>): string[] => faultsOfReading({ ...report, ...more }, text);
    expect(spoil({})).toEqual([]);
    expect(spoil({ groups: report.groups.slice(1) })).not.toEqual([]);
    expect(spoil({ conditions: { ...report.conditions, dewpoint_C: Number.NaN } })).not.toEqual([]);
    expect(spoil({ conditions: { ...report.conditions, qnh_hPa: 99 } })).not.toEqual([]);
    expect(spoil({ conditions: { ...report.conditions, temperature_C: 11.5 } })).not.toEqual([]);
  });
});
