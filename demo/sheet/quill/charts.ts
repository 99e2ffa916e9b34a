// The Quill's performance charts: hover, one engine out, temperature limit, fuel flow, power check. All numbers invented.

import type { ChartUse, SheetChart } from "../../../src/core/sheet/chart-blocks.ts";
import type { Applicability } from "../../../src/core/sheet/applicability-schema.ts";
import type { Sheet } from "../../../src/core/sheet/schema.ts";
import type { Text } from "../../../src/core/sheet/parts.ts";
import { t } from "./author.ts";

const handbook = (page: string) => ({ document: "Quill flight manual (invented)", revision: "4", page });
const only = (variant: "2" | "2H"): Applicability => ({ variant });

type Head = {
  readonly name: Text;
  readonly use: ChartUse;
  readonly source: ReturnType<typeof handbook>;
  readonly applies?: Applicability;
};
type Points = readonly (readonly [number, number])[];
const curve = (at: number, points: Points) => ({ at, points: points.map(([x, y]) => [x, y] as const) });

/** Hover in ground effect: a curve for each pressure altitude, ending at the highest temperature there. */
const inGroundEffect = (
  head: Head,
  curves: readonly ReturnType<typeof curve>[],
  control: number,
): SheetChart => ({
  ...head,
  kind: "curves",
  across: "pressureAltitude_ft",
  along: "temperature_C",
  between: "pchip",
  curves,
  output: "mass_kg",
  monotone: { pressureAltitude_ft: "falling", temperature_C: "falling" },
  controls: [{ at: { pressureAltitude_ft: 5000, temperature_C: 25 }, value: control, within: 20 }],
});

const altitudes_ft = [0, 2000, 4000, 6000, 8000, 10000];
const temperatures_C = [-40, -20, 0, 10, 20, 30, 40];

/** Hover out of ground effect: the calm mass first, then along guide lines to the wind over the nose. */
const outOfGroundEffect = (
  head: Head,
  calm: readonly (readonly number[])[],
  most_kg: number,
  control: number,
): SheetChart => ({
  ...head,
  kind: "chain",
  steps: [
    {
      kind: "grid",
      axes: [
        { input: "pressureAltitude_ft", at: altitudes_ft },
        { input: "temperature_C", at: temperatures_C },
      ],
      values: calm,
      output: "calmMass_kg",
      monotone: { pressureAltitude_ft: "falling", temperature_C: "falling" },
    },
    {
      kind: "guides",
      enter: "calmMass_kg",
      along: "headwind_kt",
      from: 0,
      between: "linear",
      lines: [
        windLine(1300, 35, 65, 85),
        windLine(1900, 35, 60, 80),
        windLine(2300, 30, 55, 75),
        windLine(2700, 30, 55, 70),
        windLine(3100, 30, 50, 65),
        windLine(most_kg, 0, 0, 0),
      ],
      output: "mass_kg",
      monotone: { headwind_kt: "rising" },
    },
  ],
  controls: [
    { at: { pressureAltitude_ft: 5000, temperature_C: 15, headwind_kt: 0 }, value: control, within: 15 },
  ],
});

function windLine(calm_kg: number, at10: number, at20: number, at30: number): [number, number][] {
  return [
    [0, calm_kg],
    [10, calm_kg + at10],
    [20, calm_kg + at20],
    [30, calm_kg + at30],
  ];
}

const hover = {
  inside: t("hover in ground effect", "Schweben im Bodeneffekt"),
  outside: t("hover out of ground effect", "Schweben außerhalb des Bodeneffekts"),
};

export const charts: Sheet["charts"] = {
  hoverInGroundEffect2: inGroundEffect(
    {
      name: hover.inside,
      use: { for: "hoverInGroundEffect" },
      source: handbook("5-3"),
      applies: only("2"),
    },
    [
      curve(0, [
        [-40, 3310],
        [-20, 3310],
        [0, 3310],
        [10, 3310],
        [20, 3310],
        [30, 3310],
        [40, 3310],
        [50, 3190],
      ]),
      curve(2000, [
        [-40, 3310],
        [-20, 3310],
        [0, 3310],
        [10, 3310],
        [20, 3290],
        [30, 3155],
        [40, 3020],
        [46, 2940],
      ]),
      curve(4000, [
        [-40, 3310],
        [-20, 3310],
        [0, 3280],
        [10, 3130],
        [20, 2985],
        [30, 2845],
        [42, 2670],
      ]),
      curve(6000, [
        [-40, 3310],
        [-20, 3280],
        [0, 2970],
        [10, 2815],
        [20, 2660],
        [30, 2505],
        [38, 2385],
      ]),
      curve(8000, [
        [-40, 3310],
        [-20, 2970],
        [0, 2635],
        [10, 2470],
        [20, 2305],
        [34, 2080],
      ]),
      curve(10000, [
        [-40, 2990],
        [-20, 2630],
        [0, 2275],
        [10, 2100],
        [20, 1930],
        [30, 1760],
      ]),
      curve(12000, [
        [-40, 2650],
        [-20, 2265],
        [0, 1890],
        [10, 1705],
        [26, 1420],
      ]),
    ],
    2750,
  ),
  hoverInGroundEffect2H: inGroundEffect(
    {
      name: hover.inside,
      use: { for: "hoverInGroundEffect" },
      source: handbook("5-4"),
      applies: only("2H"),
    },
    [
      curve(0, [
        [-40, 3460],
        [-20, 3460],
        [0, 3460],
        [10, 3460],
        [20, 3460],
        [30, 3460],
        [40, 3460],
        [50, 3445],
      ]),
      curve(2000, [
        [-40, 3460],
        [-20, 3460],
        [0, 3460],
        [10, 3460],
        [20, 3460],
        [30, 3405],
        [40, 3270],
        [46, 3190],
      ]),
      curve(4000, [
        [-40, 3460],
        [-20, 3460],
        [0, 3460],
        [10, 3385],
        [20, 3235],
        [30, 3090],
        [42, 2915],
      ]),
      curve(6000, [
        [-40, 3460],
        [-20, 3460],
        [0, 3220],
        [10, 3060],
        [20, 2905],
        [30, 2745],
        [38, 2625],
      ]),
      curve(8000, [
        [-40, 3460],
        [-20, 3220],
        [0, 2880],
        [10, 2710],
        [20, 2545],
        [34, 2315],
      ]),
      curve(10000, [
        [-40, 3240],
        [-20, 2875],
        [0, 2515],
        [10, 2335],
        [20, 2160],
        [30, 1990],
      ]),
      curve(12000, [
        [-40, 2895],
        [-20, 2505],
        [0, 2125],
        [10, 1940],
        [26, 1645],
      ]),
    ],
    2995,
  ),
  hoverOutOfGroundEffect2: outOfGroundEffect(
    {
      name: hover.outside,
      use: { for: "hoverOutOfGroundEffect" },
      source: handbook("5-5"),
      applies: only("2"),
    },
    [
      [3310, 3310, 3310, 3310, 3310, 3190, 3065],
      [3310, 3310, 3305, 3170, 3035, 2900, 2765],
      [3310, 3310, 3025, 2880, 2730, 2585, 2440],
      [3310, 3030, 2715, 2555, 2400, 2245, 2090],
      [3055, 2715, 2375, 2205, 2040, 1875, 1710],
      [2735, 2370, 2010, 1830, 1655, 1480, 1305],
    ],
    3310,
    2640,
  ),
  hoverOutOfGroundEffect2H: outOfGroundEffect(
    {
      name: hover.outside,
      use: { for: "hoverOutOfGroundEffect" },
      source: handbook("5-6"),
      applies: only("2H"),
    },
    [
      [3460, 3460, 3460, 3460, 3460, 3435, 3310],
      [3460, 3460, 3460, 3420, 3280, 3140, 3005],
      [3460, 3460, 3270, 3120, 2970, 2820, 2675],
      [3460, 3270, 2950, 2795, 2635, 2475, 2320],
      [3300, 2955, 2610, 2440, 2270, 2100, 1935],
      [2975, 2605, 2235, 2055, 1875, 1700, 1525],
    ],
    3460,
    2880,
  ),
  climbOneEngine: {
    name: t("climb with one engine inoperative", "Steigen mit einem Triebwerk"),
    source: handbook("5-9"),
    use: { for: "oneEngineInoperative", limit: { atLeast: 150 } },
    kind: "grid",
    axes: [
      { input: "mass_kg", at: [1900, 2200, 2600, 3000, 3460] },
      { input: "pressureAltitude_ft", at: [0, 4000, 8000, 12000] },
      { input: "temperature_C", at: [-40, 0, 20, 40] },
    ],
    values: [
      [
        [940, 940, 915, 815],
        [940, 805, 695, 605],
        [815, 585, 475, 385],
        [585, 355, 265, 175],
      ],
      [
        [820, 820, 790, 690],
        [820, 680, 570, 480],
        [690, 460, 350, 260],
        [460, 230, 140, 50],
      ],
      [
        [650, 650, 630, 530],
        [650, 510, 400, 310],
        [520, 290, 190, 90],
        [290, 70, -30, -120],
      ],
      [
        [480, 480, 460, 360],
        [480, 340, 240, 140],
        [350, 120, 20, -80],
        [120, -100, -200, -290],
      ],
      [
        [290, 290, 260, 160],
        [290, 150, 40, -50],
        [160, -70, -180, -270],
        [-70, -300, -390, -480],
      ],
    ],
    output: "climb_ftmin",
    monotone: { mass_kg: "falling", pressureAltitude_ft: "falling", temperature_C: "falling" },
  },
  hottest: {
    name: t("highest temperature", "Höchste Temperatur"),
    source: handbook("2-4"),
    use: { for: "operatingLimit" },
    kind: "curve",
    along: "pressureAltitude_ft",
    between: "linear",
    points: [
      [-1000, 50],
      [0, 50],
      [15_000, 20],
    ],
    output: "temperature_C",
    monotone: { pressureAltitude_ft: "falling" },
  },
  fuelFlow: {
    name: t("fuel flow in level flight", "Verbrauch im Reiseflug"),
    source: handbook("5-20"),
    use: { for: "fuelFlow" },
    kind: "curves",
    across: "mass_kg",
    along: "tas_kt",
    between: "pchip",
    curves: [
      curve(2200, [
        [40, 148],
        [60, 141],
        [80, 152],
        [100, 171],
        [120, 199],
        [135, 228],
        [142, 247],
      ]),
      curve(2600, [
        [40, 162],
        [60, 152],
        [80, 162],
        [100, 180],
        [120, 209],
        [135, 238],
        [142, 257],
      ]),
      curve(3000, [
        [40, 176],
        [60, 163],
        [80, 172],
        [100, 190],
        [120, 218],
        [135, 247],
        [142, 266],
      ]),
      curve(3460, [
        [40, 196],
        [60, 178],
        [80, 186],
        [100, 203],
        [120, 231],
        [135, 260],
        [142, 279],
      ]),
    ],
    output: "flow_kgh",
    monotone: { mass_kg: "rising" },
  },
  powerCheck: {
    name: t("engine power check", "Leistungsprüfung der Triebwerke"),
    source: handbook("5-14"),
    use: { for: "powerCheck", worse: "higher", gauges: ["powerMarginLeft", "powerMarginRight"] },
    kind: "curves",
    across: "temperature_C",
    along: "torque_pct",
    between: "pchip",
    curves: [
      curve(-40, [
        [40, 412],
        [50, 444],
        [60, 479],
        [70, 516],
        [80, 555],
        [90, 597],
        [100, 641],
      ]),
      curve(-20, [
        [40, 441],
        [50, 473],
        [60, 508],
        [70, 545],
        [80, 584],
        [90, 626],
        [100, 670],
      ]),
      curve(0, [
        [40, 470],
        [50, 502],
        [60, 537],
        [70, 574],
        [80, 613],
        [90, 655],
        [100, 699],
      ]),
      curve(20, [
        [40, 499],
        [50, 531],
        [60, 566],
        [70, 603],
        [80, 642],
        [90, 684],
        [100, 728],
      ]),
      curve(40, [
        [40, 528],
        [50, 560],
        [60, 595],
        [70, 632],
        [80, 671],
        [90, 713],
        [100, 757],
      ]),
    ],
    output: "gasTemperature_C",
    monotone: { torque_pct: "rising", temperature_C: "rising" },
  },
};
