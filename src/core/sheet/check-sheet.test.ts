// Every rule is broken once, on the smallest sheet that holds, and must be named by its code at its path. Expected
// values are by hand from the rules in check-sheet.ts and its neighbours; nothing here comes from a published source.

import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { gone, withEdits } from "../../../demo/sheet/break-sheet.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { checkSheet } from "./check-sheet.ts";
import { describeIssue, issueLines } from "./issue.ts";
import type { SheetIssue } from "./issue.ts";

const small = (edits: Readonly<Record<string, unknown>> = {}): unknown => withEdits(smallSheet, edits);
const fileOf = (name: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../../demo/sheet/${name}.json`, import.meta.url), "utf8"));
const errorsOf = (json: unknown): readonly SheetIssue[] => {
  const checked = checkSheet(json);
  return "errors" in checked ? checked.errors : [];
};
const brief = (issues: readonly SheetIssue[]) => issues.map((issue) => `${issue.code} ${issue.path}`);

/** More terms than one expression may have. */
const many = Array.from({ length: 13 }, (_, i) => `e${i}`);

/** A grid, a family and guide lines that hold, for breaches of their own. */
const hoverGrid = {
  kind: "grid",
  axes: [
    { input: "pressureAltitude_ft", at: [0, 4000] },
    { input: "temperature_C", at: [-20, 40] },
  ],
  values: [
    [1500, 1400],
    [1350, 1200],
  ],
  output: "mass_kg",
  use: { for: "hoverOutOfGroundEffect" },
} as const;
const windGuides = {
  kind: "guides",
  enter: "calm_kg",
  along: "headwind_kt",
  from: 0,
  between: "linear",
  lines: [
    [
      [0, 1200],
      [20, 1280],
    ],
    [
      [0, 1500],
      [20, 1500],
    ],
  ],
  output: "mass_kg",
} as const;
const { use: _use, ...plainGrid } = hoverGrid;
const calmGrid = { ...plainGrid, output: "calm_kg" } as const;
const chain = (...steps: readonly unknown[]) => ({ kind: "chain", steps });
/** One breach, and everything that must be said about it. */
const breaches: readonly [
  breach: string,
  edits: Readonly<Record<string, unknown>>,
  said: readonly string[],
][] = [
  ["a word where a number belongs", { "seats[0].x_m": "1.4" }, ["type seats[0].x_m"]],
  ["a missing number", { "seats[0].y_m": gone }, ["missing seats[0].y_m"]],
  ["a missing block", { speeds: gone }, ["missing speeds"]],
  ["a missing list", { damage: gone }, ["missing damage"]],
  ["null for a block that may be left out", { hoist: null }, ["type hoist"]],
  ["no German", { "items[7].text.de": gone }, ["missing items[7].text.de"]],
  ["a source without its revision", { "sources.items.revision": gone }, ["missing sources.items.revision"]],
  ["an unknown key", { "items[0].colour": 1 }, ["unknownKey items[0].colour"]],
  ["an unknown block", { extras: [] }, ["unknownKey extras"]],
  ["an unknown action", { "items[7].action": "lick" }, ["oneOf items[7].action"]],
  ["an unknown axis", { "envelopes[0].axis": "vertical" }, ["oneOf envelopes[0].axis"]],
  [
    "an unknown condition",
    { "items[7].applies": { condition: "frosty" } },
    ["oneOf items[7].applies.condition"],
  ],
  ["a misspelt term", { "items[7].applies": { instaled: "floats" } }, ["form items[7].applies"]],
  ["a term that is no object", { "items[7].applies": "floats" }, ["form items[7].applies"]],
  [
    "a fault inside an expression",
    { "items[7].applies": { all: [{ installed: "floats" }, { not: { installed: 7 } }] } },
    ["type items[7].applies.all[1].not.installed"],
  ],
  ["a union that is neither", { "programme[0].takesAway": "some" }, ["form programme[0].takesAway"]],
  ["millimetres under metres", { "stops[1].x_m": 2000 }, ["range stops[1].x_m"]],
  ["an infinite number", { "seats[0].maxMass_kg": Infinity }, ["type seats[0].maxMass_kg"]],
  ["an empty list of walks", { "items[7].walks": [] }, ["length items[7].walks"]],
  ["an empty text", { "items[7].text.en": "" }, ["pattern items[7].text.en"]],
  ["an id with a blank", { "events[0].id": "hard landing" }, ["pattern events[0].id"]],
  ["a text with U+0000", { "items[7].text.en": "Tail\0whole" }, ["badText items[7].text.en"]],
  ["half a character", { "items[7].text.en": "Tail \ud800 whole" }, ["badText items[7].text.en"]],

  ["a closure that is not there", { "items[1].opens": ["pitotCap"] }, ["reference items[1].opens[0]"]],
  ["a stop that is not there", { "damage[0].stops": ["tale"] }, ["reference damage[0].stops[0]"]],
  ["a zone that is not there", { "stops[2].zone": "aft" }, ["reference stops[2].zone"]],
  ["a variant that is not there", { "equipment[0].variants": ["9"] }, ["reference equipment[0].variants[0]"]],
  [
    "equipment of an expression that is not there",
    { "items[7].applies": { any: [{ installed: "flotas" }, { variant: "1" }] } },
    ["reference items[7].applies.any[0].installed"],
  ],
  [
    "an operation that is not there",
    { "deferrals[0].takesAway": ["ifr"] },
    ["reference deferrals[0].takesAway[0]"],
  ],
  [
    "equipment that an operation needs and nobody has",
    { "operations[0].needs.equipment": ["hoist"] },
    ["reference operations[0].needs.equipment[0]"],
  ],
  [
    "a door in the outline that is not there",
    { "outline.doors[0].closure": "hood" },
    ["reference outline.doors[0].closure"],
  ],
  [
    "hoist masses without a hoist",
    { "operations[0].needs.masses": "hoist" },
    ["reference operations[0].needs.masses", "envelopeMissing", "envelopeMissing"],
  ],
  ["the same id twice", { "items[7].id": "pitot" }, ["duplicateId items[7].id"]],
  [
    "a thing twice on a list of kit, and at a place that is none",
    {
      kitLists: [
        {
          id: "rescue",
          name: { en: "rescue", de: "Rettung" },
          kit: ["bag", "bag"].map((kit) => ({
            kit,
            name: { en: "bag", de: "Tasche" },
            mass_kg: 3,
            at: "roof",
          })),
        },
      ],
    },
    [
      "reference kitLists[0].kit[0].at",
      "reference kitLists[0].kit[1].at",
      "duplicateId kitLists[0].kit[1].kit",
    ],
  ],
  [
    "the same number twice",
    { "deferrals[1]": { ...smallSheet.deferrals[0], id: "other" } },
    ["duplicateId deferrals[1].number"],
  ],
  [
    "the same variant twice",
    { "type.variants[1]": smallSheet.type.variants[0] },
    ["duplicateId type.variants[1].id"],
  ],
  [
    "the same closure listed twice",
    { "items[1].opens": ["pitotCover", "pitotCover"] },
    ["repeated items[1].opens[1]"],
  ],
  [
    "equipment that requires itself",
    { "equipment[0].requires": ["floats"] },
    ["itself equipment[0].requires[0]"],
  ],
  [
    "an item mirrored by itself",
    { "items[5].mirrored": "leftFloat" },
    ["itself items[5].mirrored", "mirrorOneWay items[8].mirrored"],
  ],
  ["a chapter that is not there", { "items[7].ata": "99" }, ["chapter items[7].ata"]],
  ["an untranslated sentence", { "items[7].text.de": "Tail whole" }, ["sameText items[7].text.de"]],

  [
    "a variant that is excluded",
    { "items[7].applies": { not: { variant: "1" } } },
    ["unreachable items[7].applies"],
  ],
  [
    "equipment that excludes each other",
    { "items[7].applies": { all: [{ installed: "floats" }, { installed: "boards" }] } },
    ["unreachable items[7].applies"],
  ],
  [
    "equipment without what it requires",
    {
      "equipment[0].requires": ["boards"],
      "equipment[1].excludes": [],
      "items[7].applies": { all: [{ installed: "floats" }, { not: { installed: "boards" } }] },
    },
    ["unreachable items[7].applies"],
  ],
  [
    "an expression of too many terms",
    {
      ...Object.fromEntries(many.map((id, i) => [`equipment[${i + 2}]`, { ...smallSheet.equipment[0], id }])),
      "items[7].applies": { any: many.map((installed) => ({ installed })) },
    },
    ["tooWide items[7].applies"],
  ],
  [
    "a closure whose items depend on too many terms together",
    {
      ...Object.fromEntries(many.map((id, i) => [`equipment[${i + 2}]`, { ...smallSheet.equipment[0], id }])),
      "items[2].applies": { any: many.slice(0, 7).map((installed) => ({ installed })) },
      "items[4].applies": { any: many.slice(5).map((installed) => ({ installed })) },
    },
    ["tooWide items[2].opens[0]", "closureNeverClosed closures[1]"],
  ],
  [
    "equipment that excludes what it requires",
    { "equipment[1].requires": ["floats"] },
    ["equipmentConflict equipment[1]"],
  ],
  [
    "an operation that needs what excludes each other",
    { "operations[0].needs.equipment": ["floats", "boards"] },
    ["equipmentConflict operations[0].needs.equipment"],
  ],

  [
    "an opened cowling that nobody closes",
    { "items[4].closes": gone },
    ["neverClosed items[2].opens[0]", "closureNeverClosed closures[1]"],
  ],
  [
    "a cowling that is closed before it is opened",
    {
      "items[2]": smallSheet.items[4],
      "items[3]": smallSheet.items[2],
      "items[4]": smallSheet.items[3],
      "items[2].after": gone,
    },
    ["neverClosed items[3].opens[0]"],
  ],
  [
    "a cowling that only some machines close",
    { "items[4].applies": { installed: "floats" } },
    ["neverClosed items[2].opens[0]", "closureNeverClosed closures[1]"],
  ],
  [
    "a cover that no full walk takes off",
    { "items[0].walks": ["launch"] },
    ["closureNeverClosed closures[0]", "orderIdle order.full[0]"],
  ],
  [
    "a door left open by the parking walk",
    { "items[9]": { ...smallSheet.items[2], id: "cowlLeft", stop: "nose", walks: ["parking"] } },
    ["neverClosed items[9].opens[0]"],
  ],
  [
    "a walk without items",
    { "items[1].walks": ["full"] },
    ["emptyWalk items", "orderIdle order.parking[0]", "neverClosed items[1].opens[0]"],
  ],
  ["a stop that the order leaves out", { "order.full[3]": gone }, ["orderMissing order.full"]],
  ["a stop that a walk visits for nothing", { "order.launch[2]": "tail" }, ["orderIdle order.launch[2]"]],
  ["a stop without items", { "stops[4]": { ...smallSheet.stops[2], id: "tail2" } }, ["stopUnused stops[4]"]],
  ["an item after one that comes later", { "items[0].after": ["tail"] }, ["afterLater items[0].after[0]"]],
  [
    "an item after one of another walk",
    { "items[0].after": ["pitotOn"] },
    ["afterElsewhere items[0].after[0]"],
  ],
  [
    "items that wait for each other",
    { "items[2].after": ["cowlShut"] },
    ["afterLoop items[2].after", "afterLoop items[3].after", "afterLoop items[4].after"],
  ],
  ["a swept reading", { "items[3].sweep": true }, ["sweepSingly items[3].sweep"]],
  ["a swept closure", { "items[0].sweep": true }, ["sweepSingly items[0].sweep"]],
  ["a swept item for two", { "items[7].marksNeeded": 2 }, ["sweepSingly items[7].sweep"]],
  ["a reading by feel", { "items[3].action": "feel" }, ["readAction items[3].action"]],
  ["a one-way mirror", { "items[5].mirrored": gone }, ["mirrorOneWay items[8].mirrored"]],
  [
    "a mirror on the same side",
    { "stops[3].y_m": -1.4 },
    ["mirrorSide items[5].mirrored", "mirrorSide items[8].mirrored"],
  ],
  [
    "a provision item at another stop",
    { "items[5].provision": "tail" },
    ["provisionStop items[5].provision"],
  ],
  [
    "a provision item of another walk",
    { "items[5].walks[1]": "launch" },
    ["provisionWalk items[5].provision"],
  ],
  ["a provision item without equipment", { "items[5].applies": gone }, ["provisionIdle items[5].provision"]],
  [
    "provision items in a ring",
    {
      "items[6].applies": { installed: "boards" },
      "items[6].provision": "leftFloat",
    },
    ["provisionLoop items[5].provision", "provisionLoop items[6].provision"],
  ],
  ["a cover that is on in flight", { "closures[0].normal": "closed" }, ["closureState closures[0].normal"]],

  ["an open polygon", { "envelopes[0].points_m_kg[4]": gone }, ["polygonOpen envelopes[0].points_m_kg[3]"]],
  ["an open outline", { "outline.fuselage_m[6]": [0.1, 0] }, ["polygonOpen outline.fuselage_m[6]"]],
  [
    "a crossed polygon",
    {
      "envelopes[0].points_m_kg": [
        [1.9, 800],
        [2.3, 1500],
        [1.9, 1500],
        [2.3, 800],
        [1.9, 800],
      ],
    },
    ["polygonCrosses envelopes[0].points_m_kg[2]"],
  ],
  [
    "a polygon without width",
    {
      "envelopes[0].points_m_kg": [
        [1.9, 800],
        [1.9, 1100],
        [1.9, 1500],
        [1.9, 800],
      ],
    },
    ["polygonCrosses envelopes[0].points_m_kg[2]"],
  ],
  ["a stop inside the fuselage", { "stops[1].y_m": -0.3 }, ["stopInside stops[1]"]],
  ["a seat far from the aircraft", { "seats[0].x_m": 14 }, ["farAway seats[0]"]],
  ["a rotor of another size", { "outline.mainRotor.radius_m": 5 }, ["disagrees outline.mainRotor.radius_m"]],
  [
    "a source for a hoist that is not there",
    { "sources.hoist": smallSheet.sources.items },
    ["disagrees sources.hoist"],
  ],

  ["a curve that falls back", { "fuelFlow.cruise[1].tas_kt": 60 }, ["notRising fuelFlow.cruise[1].tas_kt"]],
  [
    "a tank whose quantity does not rise",
    {
      "tanks[0].centre_kg_m_m": [
        [0, 2.2, 0],
        [90, 2.2, 0],
        [80, 2.2, 0],
        [156, 2.3, 0],
      ],
    },
    ["notRising tanks[0].centre_kg_m_m[2][0]"],
  ],
  [
    "a tank that does not begin at zero",
    { "tanks[0].centre_kg_m_m[0][0]": 5 },
    ["tankCurve tanks[0].centre_kg_m_m[0][0]"],
  ],
  [
    "a tank that does not end full",
    { "tanks[0].centre_kg_m_m[1][0]": 150 },
    ["tankCurve tanks[0].centre_kg_m_m[1][0]"],
  ],
  ["litres under kilograms", { "tanks[0].capacity_L": 160 }, ["disagrees tanks[0].capacity_L"]],
  ["limits the wrong way round", { "gauges[0].low.value": 3.5 }, ["limitsCrossed gauges[0].low.value"]],
  [
    "a limit outside what is plausible",
    { "gauges[0].high.value": 5 },
    ["limitImplausible gauges[0].high.value"],
  ],
  [
    "a band beside fixed limits",
    {
      "gauges[0].band": {
        temperature: "air",
        points: [
          { temperature_C: 0, low: 2, high: 3 },
          { temperature_C: 20, low: 2.2, high: 3.2 },
        ],
      },
    },
    ["limitTwice gauges[0].band"],
  ],
  [
    "a band whose temperature does not rise",
    {
      "gauges[0].low": gone,
      "gauges[0].high": gone,
      "gauges[0].band": {
        temperature: "air",
        points: [
          { temperature_C: 20, low: 2, high: 3 },
          { temperature_C: 20, low: 2.2, high: 3.2 },
        ],
      },
    },
    ["notRising gauges[0].band.points[1].temperature_C"],
  ],
  [
    "a gauge without limits that stops the flight",
    {
      "gauges[0].low": gone,
      "gauges[0].high": gone,
    },
    ["limitNone gauges[0]"],
  ],
  [
    "a needed gauge that nobody reads",
    { "items[3].reads": gone },
    ["gaugeUnread operations[0].needs.gauges[0]"],
  ],
  ["damage bands that end", { "damage[0].bands[1].upTo": 2 }, ["bandEnd damage[0].bands[1].upTo"]],
  [
    "damage bands that get milder",
    { "damage[0].bands[0].outcome": "ground", "damage[0].bands[1].outcome": "watch" },
    ["milder damage[0].bands[1].outcome"],
  ],
  [
    "damage bands that do not rise",
    {
      "damage[0].bands[1]": { upTo: 0.5, outcome: "watch", by: "pilot" },
      "damage[0].bands[2]": { outcome: "ground", by: "pilot" },
    },
    ["notRising damage[0].bands[1].upTo"],
  ],
  ["a deferral that requires all", { "deferrals[0].required": 2 }, ["moreThan deferrals[0].required"]],
  [
    "category A without an interval",
    { "deferrals[0].category": "A" },
    ["intervalNeeded deferrals[0].interval_days"],
  ],
  [
    "category C with an interval in flights and hours",
    { "deferrals[0].interval_flights": 5, "deferrals[0].interval_h": 5 },
    ["intervalUnwanted deferrals[0].interval_flights", "intervalUnwanted deferrals[0].interval_h"],
  ],
  [
    "category C with an interval",
    { "deferrals[0].interval_days": 5 },
    ["intervalUnwanted deferrals[0].interval_days"],
  ],
  [
    "an inspection without an interval",
    { "programme[0].interval": {} },
    ["intervalNeeded programme[0].interval", "intervalUnwanted programme[0].tolerance.flightHours_h"],
  ],
  [
    "a tolerance as long as the interval",
    { "programme[0].tolerance.flightHours_h": 100 },
    ["moreThan programme[0].tolerance.flightHours_h"],
  ],
  ["a component without a life", { "components[0].life": gone }, ["intervalNeeded components[0]"]],
  [
    "an envelope above the greatest mass",
    { "envelopes[1].points_m_kg[1][1]": 1501 },
    ["moreThan envelopes[1].points_m_kg[1][1]"],
  ],
  ["no lateral envelope", { "envelopes[1]": gone }, ["envelopeMissing envelopes"]],
  [
    "a wind limit for a kind of flying that is not there",
    { "windLimits[0].operations": ["nowhere"] },
    ["reference windLimits[0].operations[0]"],
  ],
  ["a gust below the mean wind", { "windLimits[0].gust_kt": 20 }, ["lessThan windLimits[0].gust_kt"]],
  ["a chart of no known kind", { "charts.hover": { kind: "picture" } }, ["oneOf charts.hover.kind"]],
  [
    "a hole in a grid",
    {
      "charts.hover": {
        ...hoverGrid,
        values: [
          [1500, null],
          [1350, 1200],
        ],
      },
    },
    ["type charts.hover.values[0][1]"],
  ],
  [
    "a family with one curve",
    {
      "charts.hover": {
        kind: "curves",
        across: "pressureAltitude_ft",
        along: "temperature_C",
        between: "linear",
        curves: [
          {
            at: 0,
            points: [
              [0, 1500],
              [40, 1400],
            ],
          },
        ],
        output: "mass_kg",
      },
    },
    ["length charts.hover.curves"],
  ],
  [
    "a chart that does not rise, beside one of no shape",
    {
      "charts.a": { kind: "grid" },
      "charts.b": { ...hoverGrid, axes: [hoverGrid.axes[0], { input: "temperature_C", at: [40, 40] }] },
    },
    [
      "missing charts.a.axes",
      "missing charts.a.values",
      "missing charts.a.output",
      "notRising charts.b.axes[1].at[1]",
    ],
  ],
  [
    "a row that is too short",
    { "charts.hover": { ...hoverGrid, values: [[1500, 1400], [1350]] } },
    ["gridShape charts.hover.values[1]"],
  ],
  ["more values than a map can hold", { "charts.hover": manyNodes() }, ["tooManyNodes charts.hover.values"]],
  [
    "an output named as an input",
    { "charts.hover": { ...hoverGrid, output: "temperature_C" } },
    [
      "nameTwice charts.hover.output",
      "range charts.hover.values[0][0]",
      "range charts.hover.values[0][1]",
      "range charts.hover.values[1][0]",
      "range charts.hover.values[1][1]",
    ],
  ],
  [
    "a direction of no input",
    { "charts.hover": { ...hoverGrid, monotone: { mass_kg: "falling" } } },
    ["notAnInput charts.hover.monotone.mass_kg"],
  ],
  [
    "curves beside each other",
    {
      "charts.hover": curvesOf(
        [
          [0, 1500],
          [10, 1400],
        ],
        [
          [20, 1300],
          [40, 1200],
        ],
      ),
    },
    ["noCommonRange charts.hover.curves[1].points"],
  ],
  [
    "curves that cross",
    {
      "charts.hover": curvesOf(
        [
          [0, 1400],
          [40, 1300],
        ],
        [
          [0, 1300],
          [40, 1301],
        ],
      ),
    },
    ["curvesCross charts.hover.curves[1].points[1][1]"],
  ],
  [
    "a point that breaks the declared direction",
    {
      "charts.hover": {
        ...hoverGrid,
        values: [
          [1500, 1400],
          [1350, 1351],
        ],
        monotone: { temperature_C: "falling" },
      },
    },
    ["notMonotone charts.hover.values[1][1]"],
  ],
  [
    "a guide line off the reference line",
    { "charts.wind": { ...windGuides, from: -1 } },
    ["referenceOutside charts.wind.lines[0]", "referenceOutside charts.wind.lines[1]"],
  ],
  [
    "a step that nobody reads",
    { "charts.hover": chain(calmGrid, { ...windGuides, enter: "other_kg" }) },
    ["stepUnused charts.hover.steps[0].output"],
  ],
  [
    "a step that reads what comes later",
    {
      "charts.hover": chain(windGuides, {
        ...calmGrid,
        axes: [{ input: "mass_kg", at: [1200, 1500] }, calmGrid.axes[1]],
      }),
    },
    ["stepLate charts.hover.steps[0].enter"],
  ],
  [
    "steps that never meet",
    {
      "charts.hover": chain(
        {
          ...calmGrid,
          values: [
            [15, 14],
            [13, 12],
          ],
        },
        windGuides,
      ),
    },
    ["stepsApart charts.hover.steps[1].enter"],
  ],
  [
    "a control point off the chart",
    {
      "charts.hover": {
        ...hoverGrid,
        controls: [{ at: { pressureAltitude_ft: 4001, temperature_C: 0 }, value: 1300, within: 5 }],
      },
    },
    ["controlOutside charts.hover.controls[0].at.pressureAltitude_ft"],
  ],
  [
    "a control point missed",
    {
      "charts.hover": {
        ...hoverGrid,
        controls: [{ at: { pressureAltitude_ft: 0, temperature_C: 10 }, value: 1460, within: 5 }],
      },
    },
    ["controlMissed charts.hover.controls[0].value"],
  ],
  [
    "a quantity in no known unit",
    { "charts.hover": { ...plainGrid, output: "mass_stone" } },
    ["unitUnknown charts.hover.output"],
  ],
  [
    "metres under feet in a chart",
    {
      "charts.hover": {
        ...plainGrid,
        axes: [{ input: "pressureAltitude_ft", at: [0, 4e6] }, plainGrid.axes[1]],
      },
    },
    ["range charts.hover.axes[0].at[1]"],
  ],
  [
    "an input that no flight has",
    { "charts.hover": { ...hoverGrid, axes: [hoverGrid.axes[0], { input: "torque_pct", at: [50, 100] }] } },
    ["notGiven charts.hover"],
  ],
  [
    "an output that is no limit by itself",
    {
      "charts.hover": {
        ...hoverGrid,
        output: "torque_pct",
        values: [
          [80, 85],
          [90, 95],
        ],
      },
    },
    ["limitUnsaid charts.hover.use.limit"],
  ],
  [
    "a limit beside one that is one",
    { "charts.hover": { ...hoverGrid, use: { for: "climb", limit: { atLeast: 1 } } } },
    ["limitUnused charts.hover.use.limit"],
  ],
  [
    "a flow that nobody says rises with the mass",
    {
      "charts.flow": {
        ...hoverGrid,
        use: { for: "fuelFlow" },
        axes: [
          { input: "mass_kg", at: [2000, 3000] },
          { input: "tas_kt", at: [60, 140] },
        ],
        output: "flow_kgh",
      },
    },
    ["flowFalls charts.flow.monotone.mass_kg"],
  ],
  [
    "a flow that nobody says goes one way with the height",
    {
      "charts.flow": {
        ...hoverGrid,
        use: { for: "fuelFlow" },
        axes: [
          { input: "pressureAltitude_ft", at: [0, 10_000] },
          { input: "tas_kt", at: [60, 140] },
        ],
        output: "flow_kgh",
      },
    },
    ["flowTurns charts.flow.monotone.pressureAltitude_ft"],
  ],
  [
    "factored wind without a wind axis",
    { "charts.hover": { ...hoverGrid, use: { for: "climb", windFactored: true } } },
    ["limitUnused charts.hover.use.windFactored"],
  ],
  [
    "a power check in another unit than its gauge",
    { "charts.check": { ...plainGrid, use: { for: "powerCheck", worse: "higher", gauges: ["oil"] } } },
    ["limitUnsaid charts.check.use.gauges[0]"],
  ],
  [
    "a power check under no gauge",
    { "charts.check": { ...plainGrid, use: { for: "powerCheck", worse: "higher", gauges: ["margin"] } } },
    ["reference charts.check.use.gauges[0]"],
  ],
  [
    "power needed of no chart",
    { "operations[0].needs.power": ["climb"], "charts.hover": hoverGrid },
    ["powerUnsaid operations[0].needs.power[0]"],
  ],
  [
    "a flow chart that gives no flow",
    { "charts.flow": { ...plainGrid, use: { for: "fuelFlow" } } },
    ["limitUnsaid charts.flow"],
  ],
  [
    "a chart that can never apply",
    {
      "charts.hover": {
        ...hoverGrid,
        applies: { not: { any: [{ installed: "floats" }, { not: { installed: "floats" } }] } },
      },
    },
    ["unreachable charts.hover.applies"],
  ],
];

type Points = readonly (readonly [number, number])[];
function curvesOf(...lines: readonly Points[]) {
  return {
    kind: "curves",
    across: "pressureAltitude_ft",
    along: "temperature_C",
    between: "linear",
    curves: lines.map((points, i) => ({ at: 4000 * i, points })),
    output: "mass_kg",
  };
}

function manyNodes() {
  const at = Array.from({ length: 40 }, (_, i) => i);
  const nested = at.map(() => at.map(() => at.map(() => 1000)));
  return {
    kind: "grid",
    axes: ["headwind_kt", "temperature_C", "pressureAltitude_ft"].map((input) => ({ input, at })),
    values: nested,
    output: "mass_kg",
  };
}

describe("a sheet that holds", () => {
  test("the smallest sheet and the demo's sheet are accepted as they stand", () => {
    for (const json of [small(), fileOf("quill")]) {
      const checked = checkSheet(json);
      expect("errors" in checked ? checked.errors.map(describeIssue) : []).toEqual([]);
      expect("ok" in checked && checked.ok).toEqual(json);
    }
  });
});

describe("a sheet with one breach", () => {
  test.each(breaches)("%s is refused at its path and nowhere else", (_, edits, said) => {
    const found = brief(errorsOf(small(edits)));
    const wanted = said.map((line) => (line.includes(" ") ? line : `${line} envelopes`));
    expect(found.toSorted()).toEqual(wanted.toSorted());
  });

  test("the table above breaks every rule that there is, but for the limits on size", () => {
    const named = new Set(breaches.flatMap(([, , said]) => said.map((line) => line.replace(/ .*/, ""))));
    const elsewhere = ["tooDeep", "tooLarge", "moreIssues"];
    expect([...named, ...elsewhere].toSorted()).toEqual(Object.keys(issueLines).toSorted());
  });

  test("each error makes one line of English that begins with its path", () => {
    for (const [, edits] of breaches) {
      for (const issue of errorsOf(small(edits))) {
        const line = describeIssue(issue);
        expect(line.startsWith(`${issue.path} `)).toBe(true);
        expect(line).not.toMatch(/undefined|\[object|\n/);
      }
    }
  });
});

describe("a sheet whose precedence contradicts itself", () => {
  test("is told the circle by name", () => {
    const loops = errorsOf(small({ "items[2].after": ["cowlShut"] })).filter(
      ({ code }) => code === "afterLoop",
    );
    const [first] = loops;
    const named = typeof first?.found === "string" ? first.found.split(" after ") : [];
    expect(named.length).toBeGreaterThan(2);
    expect(named[0]).toBe(named.at(-1));
    const items = new Map(smallSheet.items.map((item) => [item.id, item]));
    for (const [index, name] of named.slice(0, -1).entries()) {
      const after = name === smallSheet.items[2]!.id ? ["cowlShut"] : items.get(name)!.after;
      expect(after).toContain(named[index + 1]);
    }
    expect(describeIssue(first!)).toContain(named.join(" after "));
  });
});

describe("a sheet with several faults", () => {
  test("what contradicts itself is all said at once", () => {
    expect(brief(errorsOf(fileOf("broken/open-cowling")))).toEqual([
      "reference items[3].reads",
      "polygonCrosses envelopes[0].points_m_kg[2]",
      "gaugeUnread operations[0].needs.gauges[0]",
      "neverClosed items[2].opens[0]",
      "closureNeverClosed closures[1]",
    ]);
  });

  test("slips of the pen are all said at once", () => {
    expect(brief(errorsOf(fileOf("broken/slips")))).toEqual([
      "range stops[1].x_m",
      "unknownKey items[0].mirrorred",
      "missing items[7].text.de",
      "oneOf items[8].applies.condition",
      "oneOf gauges[0].unit",
    ]);
  });

  test("a broken element hides nothing elsewhere, and is not missed by those who name it", () => {
    const sheet = small({ "gauges[0].unit": "litres", "items[1].opens": ["pitotCap"] });
    expect(brief(errorsOf(sheet))).toEqual(["oneOf gauges[0].unit", "reference items[1].opens[0]"]);
  });
});

describe("anything else", () => {
  test("no JSON value makes it throw, and none but a sheet is accepted", () => {
    fc.assert(
      fc.property(fc.jsonValue({ maxDepth: 6 }), (json) => {
        expect(errorsOf(json).length).toBeGreaterThan(0);
      }),
      { numRuns: 400 },
    );
  });

  test("a sheet in which any part was replaced by any JSON value never makes it throw", () => {
    const paths = pathsOf(small());
    fc.assert(
      fc.property(fc.constantFrom(...paths), fc.jsonValue({ maxDepth: 3 }), (path, value) => {
        const checked = checkSheet(small({ [path]: value }));
        expect("ok" in checked || checked.errors.length > 0).toBe(true);
      }),
      { numRuns: 600 },
    );
  });

  test("nesting and size have an end, and both are said", () => {
    const deep = JSON.parse(`${"[".repeat(50_000)}1${"]".repeat(50_000)}`) as unknown;
    expect(brief(errorsOf(deep))).toEqual(["tooDeep [0][0][0][0][0][0]"]);
    let expression: unknown = { variant: "1" };
    for (let i = 0; i < 60; i += 1) expression = { not: expression };
    expect(errorsOf(small({ "items[7].applies": expression })).map((issue) => issue.code)).toEqual([
      "tooDeep",
    ]);
    expect(brief(errorsOf(Array.from({ length: 400_001 }, () => 0)))).toEqual(["tooLarge $"]);
  });

  test("of very many errors the first are listed and the rest counted", () => {
    const errors = errorsOf(
      small({ items: Array.from({ length: 1500 }, (_, i) => ({ id: `i${i}`, junk: i })) }),
    );
    expect(errors.length).toBe(2001);
    expect(errors.at(-1)?.code).toBe("moreIssues");
  });

  test("keys with a meaning in JavaScript are only unknown keys", () => {
    const sheet = JSON.parse(
      JSON.stringify(small()).replace('"format"', '"__proto__":{"ok":1},"format"'),
    ) as unknown;
    expect(brief(errorsOf(sheet))).toEqual(["unknownKey __proto__"]);
    const named = small({ "items[7].applies": { installed: "constructor" } });
    expect(brief(errorsOf(named))).toEqual(["reference items[7].applies.installed"]);
  });
});

/** The path of every part of a document. */
function pathsOf(json: unknown, above = ""): readonly string[] {
  if (typeof json !== "object" || json === null) return [above];
  const below = Object.entries(json).flatMap(([key, value]) =>
    pathsOf(value, Array.isArray(json) ? `${above}[${key}]` : `${above}.${key}`),
  );
  return above === "" ? below : [above, ...below];
}
