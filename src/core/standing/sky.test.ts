import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { emptyCraft } from "../facts/craft.ts";
import type { CraftState } from "../facts/craft.ts";
import { hour_ms, minute_ms } from "../facts/instant.ts";
import { emptyBase } from "../facts/sky.ts";
import type { BaseSky, ObservationFact, ReportFact, StationFact, WeatherSettings } from "../facts/sky.ts";
import type { Situation } from "../facts/situation.ts";
import type { Sheet } from "../sheet/schema.ts";
import { trackSun } from "../sky/sun.ts";
import { breakpoints, compareVerdicts, standingAt } from "./combine.ts";
import { keptUp } from "./keep-up.ts";
import type { Verdict } from "./combine.ts";
import { settingsTogether, skyJudge, stationsOf } from "./sky.ts";
import { rowOf, skyReasons } from "./sky-row.ts";
import type { SkyKnown } from "./sky-row.ts";

const judge = skyJudge(trackSun());
const noon_ms = Date.UTC(2026, 10, 25, 11);
const entry = (letter: string): string => letter.repeat(64);
const said = { entry: entry("a"), by: "p-one", at_ms: noon_ms - 400 * hour_ms };

const settings: WeatherSettings = {
  ...said,
  ruleSet: "eu",
  reportAge_min: 75,
  stationDistance_km: 30,
  ground_ft: 330,
  needs: [
    {
      operation: "dayVfr",
      light: "day",
      day: { ceiling_ft: 500, visibility_m: 1_500 },
      night: null,
      cite: "test",
    },
  ],
  moisture: null,
  forbidden: { phenomena: ["TS"], cite: "test" },
  ncd: null,
  planning: null,
  pad: null,
  cooling: null,
};

const station: StationFact = {
  ...said,
  station: "ZZSK",
  name: "Here",
  lat_deg: 70.2,
  lon_deg: 12.5,
  elevation_ft: 36,
  gives: null,
};

const fair = "METAR ZZSK 251050Z 23012KT 9999 FEW018 BKN032 02/M03 Q1005";
const forecast = "TAF ZZSK 250500Z 2506/2606 23014KT 9999 FEW018 BKN032 TEMPO 2512/2513 1200 SHSN BKN004";

function heard(text: string, at_ms = noon_ms - 5 * minute_ms, name = "b"): ReportFact {
  return { entry: entry(name), by: "p-one", at_ms, text, source: "typed" };
}

type Plot = {
  readonly reports?: readonly ReportFact[];
  readonly observations?: readonly ObservationFact[];
  readonly settings?: readonly WeatherSettings[];
  readonly stations?: readonly StationFact[];
};

function base({ reports = [heard(fair)], observations = [], ...plot }: Plot = {}): BaseSky {
  const state = {
    ...emptyBase,
    reports,
    observations,
    settings: plot.settings ?? [settings],
    stations: plot.stations ?? [station],
  };
  return { base: "base:here", name: "Here", lat_deg: 70.2, lon_deg: 12.5, elevation_m: 11, state };
}

function situation(now_ms = noon_ms): Situation {
  return {
    now_ms,
    horizon_ms: now_ms + 72 * hour_ms,
    settings: { zone: "UTC", exchangeLimit_min: 240 },
    record: { newest_ms: now_ms, aside: [], exchanged_ms: now_ms, unsent: 0 },
  };
}

function reasonsOf(plot: Plot = {}, now_ms = noon_ms) {
  return skyReasons(smallSheet, emptyCraft, situation(now_ms), { base: base(plot), judge });
}

function verdictAt(plot: Plot, at_ms = noon_ms, now_ms = noon_ms): Verdict {
  return standingAt(reasonsOf(plot, now_ms), "dayVfr", at_ms).verdict;
}

describe("what is not known of the sky", () => {
  test("no base, no settings, no minima for an operation and nobody who judges are each not known", () => {
    const verdict = (known: SkyKnown): Verdict =>
      standingAt(skyReasons(smallSheet, emptyCraft, situation(), known), "dayVfr", noon_ms).verdict;
    expect(verdict({ base: base(), judge })).toBe("ready");
    expect(verdict({ base: null, judge })).toBe("notKnown");
    expect(verdict({ base: base(), judge: null })).toBe("notKnown");
    expect(verdictAt({ settings: [] })).toBe("notKnown");
    expect(verdictAt({ settings: [{ ...settings, needs: [] }] })).toBe("notKnown");
    const [need] = settings.needs;
    expect(verdictAt({ settings: [{ ...settings, needs: [{ ...need!, day: null }] }] })).toBe("notKnown");
  });

  test("a report that is too old is not known, and so is a place without any", () => {
    expect(verdictAt({}, noon_ms + 64 * minute_ms, noon_ms + 64 * minute_ms)).toBe("ready");
    expect(verdictAt({}, noon_ms + 65 * minute_ms, noon_ms + 65 * minute_ms)).toBe("notKnown");
    expect(verdictAt({ reports: [] })).toBe("notKnown");
  });

  test("settings by two rule sets at once are none", () => {
    expect(settingsTogether([settings, { ...settings, ruleSet: "us" }])).toBeNull();
    expect(verdictAt({ settings: [settings, { ...settings, ruleSet: "us" }] })).toBe("notKnown");
  });

  test("NCD of an automatic station counts only by the operator's citation", () => {
    const reports = [heard("METAR ZZSK 251050Z AUTO 23012KT 9999 NCD 02/M03 Q1005")];
    expect(verdictAt({ reports })).toBe("notKnown");
    const ncd = { countsAs: "NSC", cite: "test" } as const;
    expect(verdictAt({ reports, settings: [{ ...settings, ncd }] })).toBe("ready");
  });
});

describe("light", () => {
  test("an operation of the day ends at civil dusk and begins again at dawn", () => {
    const plot = { reports: [heard(fair), heard(forecast, noon_ms - 6 * hour_ms, "c")] };
    const times = breakpoints(reasonsOf(plot), "dayVfr", noon_ms, noon_ms + 20 * hour_ms);
    const nights = reasonsOf(plot).filter(({ code }) => code === "light.night");
    const dark_ms = nights[0]!.from_ms!;
    expect(nights.length).toBeGreaterThanOrEqual(3);
    expect(times).toContain(nights[0]!.from_ms);
    // By then the last report is too old, unless another has come.
    const kept = (at_ms: number) => standingAt(keptUp(reasonsOf(plot), noon_ms), "dayVfr", at_ms).verdict;
    expect(kept(dark_ms - 1)).toBe("ready");
    expect(verdictAt(plot, dark_ms - 1)).toBe("notKnown");
    expect(verdictAt(plot, dark_ms)).toBe("notReady");
  });

  test("an operation of any light has its own minima by night", () => {
    const [need] = settings.needs;
    const night = { ceiling_ft: 3_000, visibility_m: 3_000 };
    const any = { ...settings, needs: [{ ...need!, light: "any" as const, night }] };
    const plot = {
      reports: [heard(fair), heard(forecast, noon_ms - 6 * hour_ms, "c")],
      settings: [any],
    };
    expect(verdictAt(plot)).toBe("ready");
    // 3,200 ft above the aerodrome is 2,906 ft above the ground that has to be cleared.
    expect(verdictAt(plot, noon_ms + 6 * hour_ms)).toBe("notReady");
  });
});

describe("what is told", () => {
  test("a report that was followed by a later one is not mentioned, one heard after a later one is", () => {
    const older = "METAR ZZSK 251020Z 23012KT 9999 FEW018 BKN032 02/M03 Q1005";
    const codes = (reports: readonly ReportFact[]): readonly string[] =>
      reasonsOf({ reports }).map(({ code }) => code);
    expect(codes([heard(older, noon_ms - 35 * minute_ms, "c"), heard(fair)])).not.toContain(
      "weather.setAside",
    );
    expect(codes([heard(fair), heard(older, noon_ms - minute_ms, "c")])).toContain("weather.setAside");
  });

  test("where nothing speaks, that is one reason for every kind of flying that asks", () => {
    const after = reasonsOf().filter(({ code }) => code === "weather.nothingSpeaks");
    expect(after.map(({ operations }) => operations)).toEqual(["all"]);
  });

  test("every reason of the sky stands on its own row", () => {
    const reasons = reasonsOf({ reports: [heard(forecast)] });
    expect(reasons.length).toBeGreaterThan(0);
    expect(reasons.every((reason) => rowOf(reason) === "sky")).toBe(true);
  });

  test("stations described apart count at their worse: farther, and of an unknown height", () => {
    const other = { ...station, entry: entry("d"), lon_deg: 12.6, elevation_ft: 90 };
    const [one] = stationsOf(base({ stations: [station, other] }));
    expect(one?.elevation_ft).toBeNull();
    expect(one?.distance_km).toBeCloseTo(3.78, 1);
    expect(verdictAt({ stations: [station, other] })).toBe("notKnown");
  });
});

describe("bad news never helps", () => {
  /** Every instant at which either could change. */
  function expectNoBetter(before: Plot, after: Plot): void {
    const [was, is] = [reasonsOf(before), reasonsOf(after)];
    const end_ms = noon_ms + 72 * hour_ms;
    const times = new Set([
      noon_ms,
      ...breakpoints(was, "dayVfr", noon_ms, end_ms),
      ...breakpoints(is, "dayVfr", noon_ms, end_ms),
    ]);
    for (const at_ms of times) {
      const [a, b] = [was, is].map((reasons) => standingAt(reasons, "dayVfr", at_ms).verdict) as [
        Verdict,
        Verdict,
      ];
      expect(compareVerdicts(b, a), `at ${at_ms}: ${a} became ${b}`).toBeGreaterThanOrEqual(0);
    }
  }

  const hundreds = fc.integer({ min: 1, max: 60 });
  const three = (value: number): string => String(value).padStart(3, "0");
  const report = (ceiling: number, visibility: number): string =>
    `METAR ZZSK 251050Z 23012KT ${String(visibility).padStart(4, "0")} BKN${three(ceiling)} 02/M03 Q1005`;

  test("a lower ceiling, a shorter view and a stricter setting improve nothing at any time", () => {
    fc.assert(
      fc.property(
        hundreds,
        hundreds,
        fc.integer({ min: 1, max: 99 }),
        fc.boolean(),
        (a, b, view, withTaf) => {
          const rest = withTaf ? [heard(forecast, noon_ms - 6 * hour_ms, "c")] : [];
          const plot = (ceiling: number, visibility: number): Plot => ({
            reports: [heard(report(ceiling, visibility)), ...rest],
          });
          const [low, high] = [Math.min(a, b), Math.max(a, b)];
          expectNoBetter(plot(high, 8_000), plot(low, 8_000));
          expectNoBetter(plot(high, 9_900), plot(high, view * 100));
          const strict = { ...settings, entry: entry("e"), ground_ft: 330 + low * 10 };
          expectNoBetter(plot(high, 8_000), { ...plot(high, 8_000), settings: [settings, strict] });
        },
      ),
      { numRuns: 60 },
    );
  });

  test("a bad report that more people heard stays bad, and one more forecast improves nothing observed", () => {
    const bad = heard(report(4, 8_000));
    expect(verdictAt({ reports: [bad] })).toBe("notReady");
    expect(verdictAt({ reports: [bad, heard(fair, noon_ms - 4 * minute_ms, "c")] })).toBe("notReady");
    expect(verdictAt({ reports: [bad, heard(forecast, noon_ms - 6 * hour_ms, "d")] })).toBe("notReady");
  });
});

describe("the rule set's minima in the standing", () => {
  const use = {
    ruleSet: "eu",
    operation: "dayVfr",
    cite: "A 8.1",
    performanceClass: 2,
    airspaceVisibility_m: 1500,
  } as const;
  const easy: WeatherSettings = {
    ...settings,
    needs: [{ ...settings.needs[0]!, day: { ceiling_ft: 300, visibility_m: 800 } }],
  };
  // 300 ft of ground round the base and a station at 36 ft: BKN007 is about 406 ft above the ground that counts.
  const low = "METAR ZZSK 251050Z 23012KT 2500 BR FEW002 BKN007 02/M03 Q1005";
  const shift = (pilots: number) => ({
    ...said,
    from_ms: noon_ms - hour_ms,
    until_ms: noon_ms + hour_ms,
    people: Array.from({ length: pilots }, (_, index) => ({
      person: `p-${index}`,
      roles: ["pilot" as const],
      lastDutyEnd_ms: noon_ms - 20 * hour_ms,
    })),
  });
  const asked = (report: string, pilots: number, more: Partial<Situation["settings"]> = {}) => {
    const at = situation();
    const state = { ...emptyCraft, shifts: pilots === 0 ? [] : [shift(pilots)] };
    const known = { ...at, settings: { ...at.settings, ruleSet: "eu" as const, ...more } };
    const plot = { settings: [easy], reports: [heard(report)] };
    return skyReasons(smallSheet, state, known, { base: base(plot), judge }).filter(
      ({ code, effect, from_ms }) =>
        effect === "blocks" &&
        (from_ms ?? noon_ms) <= noon_ms &&
        (code === "weather.ceilingBelow" || code === "weather.visibilityBelow"),
    );
  };

  test("bind the operation that the operator names, by the step under the ceiling at hand", () => {
    expect(asked(low, 1)).toEqual([]);
    // 406 ft, one pilot: 2000 m; 2500 m is enough, 1900 m is not, and the reason names the table.
    expect(asked(low, 1, { minimaUses: [use] })).toEqual([]);
    const hazy = low.replace("2500", "1900");
    const [reason, ...others] = asked(hazy, 1, { minimaUses: [use] });
    expect(others).toEqual([]);
    expect(reason).toMatchObject({ code: "weather.visibilityBelow", facts: { needed_m: 2000 } });
    expect(JSON.stringify(reason?.source)).toContain("SPA.HEMS.120");
  });

  test("follow the crew: two pilots may where one may not, and nobody on duty counts as one", () => {
    const hazy = low.replace("2500", "1900");
    expect(asked(hazy, 2, { minimaUses: [use] })).toEqual([]);
    expect(asked(hazy, 0, { minimaUses: [use] })).toHaveLength(1);
  });

  test("give way to what the operator put in their place", () => {
    const minima = [
      {
        how: "replaced" as const,
        cite: "A 8.1",
        edition: "7",
        tables: [
          {
            kind: "instead" as const,
            operations: "all" as const,
            light: "day" as const,
            pilots: null,
            steps: [{ ceilingFrom_ft: 400, visibility_m: 3000 }],
          },
        ],
      },
    ];
    expect(asked(low, 2, { minimaUses: [use], minima })).toMatchObject([
      { code: "weather.visibilityBelow", source: { cite: "A 8.1", edition: "7" } },
    ]);
  });
});

describe("ice", () => {
  const snow = "METAR ZZSK 251050Z 23012KT 9999 -SN FEW018 BKN032 02/M03 Q1005";
  const freezing = "METAR ZZSK 251050Z 23012KT 9999 -FZRA FEW018 BKN032 02/M03 Q1005";
  const iceCodes = (text: string, sheet: Sheet, state: CraftState = emptyCraft) =>
    skyReasons(sheet, state, situation(), { base: base({ reports: [heard(text)] }), judge })
      .filter(({ code, effect }) => effect === "blocks" && /moisture|freezing/u.test(code))
      .map(({ code, source }) => [code, source.kind]);
  const source = smallSheet.sources.windLimits;
  const sheetWith = (ice: NonNullable<Sheet["ice"]>): Sheet => ({
    ...smallSheet,
    sources: { ...smallSheet.sources, ice: source },
    ice,
  });
  const installed = (is: boolean): CraftState => ({
    ...emptyCraft,
    equipment: { deicing: [{ ...said, installed: is }] },
  });

  test("moisture near freezing forbids by the sheet's figure, on it too, and not above it", () => {
    expect(iceCodes(snow, smallSheet)).toEqual([]);
    expect(iceCodes(snow, sheetWith({ moistureBelow_C: 5 }))).toEqual([["weather.moisture", "sheet"]]);
    expect(iceCodes(snow, sheetWith({ moistureBelow_C: 2 }))).toHaveLength(1);
    expect(iceCodes(snow, sheetWith({ moistureBelow_C: 1 }))).toEqual([]);
    expect(iceCodes(fair, sheetWith({ moistureBelow_C: 5 }))).toEqual([]);
  });

  test("freezing rain forbids an unprotected craft, and one whose protection nobody knows of", () => {
    const ice = { moistureBelow_C: 5, protectedBy: { installed: "deicing" } } as const;
    expect(iceCodes(freezing, smallSheet)).toEqual([["weather.freezing", "setting"]]);
    expect(iceCodes(freezing, sheetWith(ice), installed(false)).map(([code]) => code)).toContain(
      "weather.freezing",
    );
    expect(iceCodes(freezing, sheetWith(ice)).map(([code]) => code)).toContain("weather.freezing");
    expect(iceCodes(freezing, sheetWith(ice), installed(true))).toEqual([]);
  });

  test("the operator's own figure counts where it is the higher one, and only there", () => {
    const own = (below_C: number) =>
      skyReasons(sheetWith({ moistureBelow_C: 1 }), emptyCraft, situation(), {
        base: base({
          reports: [heard(snow)],
          settings: [{ ...settings, moisture: { below_C, cite: "test" } }],
        }),
        judge,
      }).filter(({ code }) => code === "weather.moisture");
    expect(own(0)).toEqual([]);
    expect(own(3).map(({ source: from }) => from.kind)).toEqual(["setting"]);
  });

  test("moisture that is forecast is reckoned by how far it may get colder, and not known without a word on that", () => {
    const showers = "TAF ZZSK 250500Z 2506/2606 23014KT 9999 FEW018 BKN032 TEMPO 2512/2513 -SHSN";
    const later = (cooling: WeatherSettings["cooling"], observed = fair) =>
      skyReasons(sheetWith({ moistureBelow_C: 5 }), emptyCraft, situation(), {
        base: base({
          reports: [heard(observed), heard(showers, noon_ms, "c")],
          settings: [{ ...settings, cooling }],
        }),
        judge,
      })
        .filter(({ code }) => code.startsWith("weather.moisture"))
        .map(({ code }) => code);
    const warm = "METAR ZZSK 251050Z 23012KT 9999 FEW018 BKN032 22/M03 Q1005";
    expect(later(null)).toEqual(["weather.moistureNotKnown"]);
    expect(later({ atMost_C: 8, cite: "test" })).toEqual(["weather.moisture"]);
    expect(later({ atMost_C: 8, cite: "test" }, warm)).toEqual([]);
    expect(later({ atMost_C: 18, cite: "test" }, warm)).toEqual(["weather.moisture"]);
  });
});

describe("wind on the ground and afloat", () => {
  const withLimits = (...limits: Sheet["windLimits"]): Sheet => ({ ...smallSheet, windLimits: limits });
  const [like] = smallSheet.windLimits;
  const limit = {
    ...(like as Sheet["windLimits"][number]),
    from_deg: 0,
    to_deg: 360,
    wind_kt: 40,
    gust_kt: 48,
  };
  const told = (wind: string, sheet: Sheet) =>
    skyReasons(sheet, emptyCraft, situation(), {
      base: base({ reports: [heard(`METAR ZZSK 251050Z ${wind} 9999 FEW018 BKN032 12/M03 Q1005`)] }),
      judge,
    })
      .filter(({ code, source }) => /wind/iu.test(code) && source.kind === "sheet")
      .map(({ code, effect, operations }) => [code, effect, operations]);

  test("above the limit of an open door or of parking is told and forbids nothing; at the limit nothing is told", () => {
    for (const phase of ["doorOpen", "parked"] as const) {
      const sheet = withLimits({ ...limit, phase });
      expect(told("24041KT", sheet)).toEqual([["weather.windAboveOnGround", "advises", "all"]]);
      expect(told("24040G48KT", sheet)).toEqual([]);
      expect(told("/////KT", sheet)).toEqual([]);
    }
  });

  test("above the limit of the floats forbids what the sheet names, whatever the heading", () => {
    const sheet = withLimits({ ...limit, phase: "floats", operations: ["dayVfr"] });
    expect(told("24041KT", sheet)).toEqual([["weather.windAbove", "blocks", ["dayVfr"]]]);
    expect(told("24040KT", sheet)).toEqual([]);
  });
});

describe("the wind at the pad", () => {
  const windCodes = (wind: string, pads: readonly WeatherSettings["pad"][]) =>
    reasonsOf({
      reports: [heard(`METAR ZZSK 251050Z ${wind} 9999 FEW018 BKN032 12/M03 Q1005`)],
      settings: pads.map((pad) => ({ ...settings, pad })),
    })
      .filter(({ code, effect }) => effect === "blocks" && code.startsWith("weather.") && /wind/u.test(code))
      .map(({ code }) => code);
  const pad = { heading_deg: 240, tailwind_kt: 10, cite: "test" };

  test("from behind is held to the operator's limit by the machine's heading there", () => {
    expect(windCodes("24012KT", [pad])).toEqual([]);
    expect(windCodes("06010KT", [pad])).toEqual([]);
    expect(windCodes("06011KT", [pad])).toEqual(["weather.tailwindAbove"]);
    expect(windCodes("06008G11KT", [pad])).toEqual(["weather.tailwindAbove"]);
    expect(windCodes("VRB11KT", [pad])).toEqual(["weather.tailwindAbove"]);
  });

  test("headings stated in two ways are none, and the least limit holds", () => {
    const other = { ...pad, heading_deg: 90, tailwind_kt: 15 };
    expect(windCodes("24012KT", [pad, other])).toEqual(["weather.tailwindAbove"]);
    expect(windCodes("24012KT", [pad, null])).toEqual(["weather.tailwindAbove"]);
    expect(windCodes("24009KT", [pad, other])).toEqual([]);
  });
});

describe("the operator's reliefs", () => {
  const relief = { cite: "test" };

  test("hold only where everybody who set something states them", () => {
    const one = { ...settings, planning: relief, cooling: { atMost_C: 3, cite: "a" } };
    const other = { ...settings, planning: relief, cooling: { atMost_C: 9, cite: "b" } };
    expect(settingsTogether([one, other])).toMatchObject({ planning: relief, cooling: { atMost_C: 9 } });
    expect(settingsTogether([one, settings])).toMatchObject({ planning: null, cooling: null });
  });

  test("forecasts count group by group, unless the operator plans by its rule set", () => {
    const at_ms = noon_ms + 90 * minute_ms;
    const reports = [heard(fair), heard(forecast, noon_ms, "c")];
    const by = (planning: WeatherSettings["planning"]) =>
      reasonsOf({ reports, settings: [{ ...settings, planning }] })
        .filter(
          ({ effect, from_ms, until_ms }) =>
            effect === "blocks" && (from_ms ?? 0) <= at_ms && at_ms < (until_ms ?? Infinity),
        )
        .map(({ code }) => code);
    expect(by(null)).toContain("weather.visibilityBelow");
    expect(by(relief)).not.toContain("weather.visibilityBelow");
  });
});
