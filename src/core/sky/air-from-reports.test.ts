import { describe, expect, test } from "vitest";
import { airFromReports } from "./air-from-reports.ts";
import { readReport } from "./read-report.ts";
import type { UsableReport } from "./usable-reports.ts";

const now_ms = Date.UTC(2026, 6, 4, 12);

function usable(groups: string, entry = "a", time = "041150Z"): UsableReport {
  const report = readReport(`METAR ENXX ${time} ${groups}`, now_ms);
  return { entry, report, station: { station: "ENXX", elevation_ft: 100, distance_km: 5 } };
}

const air = (reports: readonly UsableReport[], elevation_m = 0) =>
  airFromReports(reports, elevation_m, 60, now_ms);

describe("the air at a site by the reports that count", () => {
  test("is the standard's own on a standard day", () => {
    const found = air([usable("24010KT 9999 FEW030 15/M40 Q1013")]);
    expect(found?.pressureAltitude_ft).toBeCloseTo(7, 0);
    expect(found?.densityAltitude_ft).toBeCloseTo(7, -1);
  });

  test("rises by about 120 ft a degree and 27 ft a hectopascal, the pilot's rule of thumb (common practice)", () => {
    const at = (groups: string) =>
      air([usable(groups)]) ?? { pressureAltitude_ft: NaN, densityAltitude_ft: NaN };
    const standard = at("24010KT 9999 FEW030 15/M40 Q1013");
    const hot = at("24010KT 9999 FEW030 25/M40 Q1013");
    const low = at("24010KT 9999 FEW030 15/M40 Q1003");
    expect((hot.densityAltitude_ft - standard.densityAltitude_ft) / 10).toBeCloseTo(118, -1);
    expect((low.pressureAltitude_ft - standard.pressureAltitude_ft) / 10).toBeCloseTo(27.5, 0);
  });

  test("of several reports is the one that burdens the engines most; moist air more than dry", () => {
    const cold = usable("24010KT 9999 FEW030 05/M10 Q1020", "cold");
    const warm = usable("24010KT 9999 FEW030 18/M10 Q1008", "warm");
    expect(air([cold, warm])?.entry).toBe("warm");
    expect(air([warm, cold])?.entry).toBe("warm");
    const moist = usable("24010KT 9999 FEW030 18/18 Q1008", "moist");
    expect(air([warm, moist])?.entry).toBe("moist");
  });

  test("is not sure while a report that counts was not wholly read, and the figures that it shows still count", () => {
    const whole = usable("24010KT 9999 FEW030 05/M10 Q1020", "whole");
    const stray = usable("24010KT 9999 WHATEVER FEW030 18/M10 Q1008", "stray");
    expect(air([whole])?.isSure).toBe(true);
    expect(air([whole, stray])).toMatchObject({ entry: "stray", isSure: false });
    expect(air([whole, usable("24010KT 9999 FEW030 18/M10", "half")])).toMatchObject({
      entry: "whole",
      isSure: false,
    });
  });

  test("is not known without pressure or temperature, from an old report, or from one not wholly read", () => {
    for (const groups of [
      "24010KT 9999 FEW030 15/10",
      "24010KT 9999 FEW030 Q1013",
      "24010KT 9999 FEW030 ///// Q1013",
      "24010KT 9999 FEW030 1/5/10 Q1013",
      "24010KT 9999 FEW030 15/10 QXXXX",
    ])
      expect(air([usable(groups)]), groups).toBeNull();
    expect(air([usable("24010KT 9999 FEW030 15/10 Q1013", "a", "041100Z")])).toBeNull();
    expect(air([])).toBeNull();
    expect(air([usable("24010KT 9999 FEW030 15/10 Q1013")], 12_000)).toBeNull();
  });
});
