// Bad news never helps: what is lowered or damaged in a text never makes the reading of it better.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import data from "../../../published/weather-reports.json" with { type: "json" };
import { ceilingOf } from "./ceiling.ts";
import { readReport } from "./read-report.ts";
import type { Conditions, WeatherReport } from "./report.ts";
import { worstVisibilityOf } from "./visibility.ts";

const rows = data.rows.filter(({ text }) => !text.includes("NIL") && !text.includes("CNL"));

/** How good a ceiling is to have: not known counts as the worst. */
function ceilingRank(conditions: Conditions): number {
  const { bound, ceiling_ft } = ceilingOf(conditions);
  return bound === "unknown" ? -1 : (ceiling_ft ?? Infinity);
}

function visibilityRank(conditions: Conditions): number {
  if (conditions.unsure.includes("visibility")) return -1;
  return worstVisibilityOf(conditions)?.value_m ?? -1;
}

/** The wind that has to be reckoned with; not known counts as the worst. */
function windRank(conditions: Conditions): number {
  const { wind, unsure } = conditions;
  if (wind === null || unsure.includes("wind") || wind.speed_kt === null) return -Infinity;
  return -Math.max(wind.speed_kt, wind.gust_kt ?? 0);
}

const ranks = { ceiling: ceilingRank, visibility: visibilityRank, wind: windRank };

function ranksOf(report: WeatherReport): Record<keyof typeof ranks, number>[] {
  return [report.conditions, ...report.periods.map(({ conditions }) => conditions)].map((conditions) => ({
    ceiling: ceilingRank(conditions),
    visibility: visibilityRank(conditions),
    wind: windRank(conditions),
  }));
}

function expectNotBetter(before: WeatherReport, after: WeatherReport): void {
  const [first, second] = [ranksOf(before)[0], ranksOf(after)[0]];
  for (const name of Object.keys(ranks) as (keyof typeof ranks)[]) {
    expect(second?.[name]).toBeLessThanOrEqual(first?.[name] as number);
  }
}

const aRow = fc.constantFrom(...rows);

describe("reading a report", () => {
  test("with one group made unreadable makes no quantity of the observation better", () => {
    const rubbish = fc.constantFrom("XYZZY", "////?", "B", "0", "123456789", "QQ", "TEMP0", "FMO41800");
    fc.assert(
      fc.property(aRow, fc.nat(), rubbish, ({ text, near }, pick, word) => {
        const words = text.split(" ");
        const before = readReport(text, Date.parse(near));
        // The words that say where the observation or the base ends stay; inside it any group may be damaged.
        const firstChange = before.groups.findIndex(({ as }) => as === "change" || as === "remark");
        const inside = (firstChange < 0 ? words.length : firstChange) - 4;
        fc.pre(inside > 0 && !text.includes(" 1/") && !text.includes("WS "));
        const at = 4 + (pick % inside);
        expectNotBetter(before, readReport(words.with(at, word).join(" "), Date.parse(near)));
      }),
      { numRuns: 3000, seed: 7 },
    );
  });

  test("with a lower layer makes no ceiling better, in any part", () => {
    let lowered = 0;
    fc.assert(
      fc.property(aRow, fc.nat(), fc.nat(), ({ text, near }, pick, fall) => {
        const layers = [...text.matchAll(/(?<=(?:FEW|SCT|BKN|OVC|VV))\d{3}/gu)];
        fc.pre(layers.length > 0);
        const layer = layers[pick % layers.length] as RegExpExecArray;
        const height = Number(layer[0]) - (fall % (Number(layer[0]) + 1));
        const lower =
          text.slice(0, layer.index) + String(height).padStart(3, "0") + text.slice(layer.index + 3);
        const [before, after] = [text, lower].map((each) => ranksOf(readReport(each, Date.parse(near))));
        after?.forEach(({ ceiling }, part) => {
          expect(ceiling).toBeLessThanOrEqual(before?.[part]?.ceiling as number);
        });
        lowered += 1;
      }),
      { numRuns: 2000, seed: 8 },
    );
    expect(lowered).toBe(2000);
  });

  test("with a lower visibility makes none better, in any part", () => {
    fc.assert(
      fc.property(aRow, fc.nat(), fc.nat({ max: 9999 }), ({ text, near }, pick, metres) => {
        const figures = [...text.matchAll(/(?<= )\d{4}(?=(?:N|NE|E|SE|S|SW|W|NW|NDV)? )/gu)];
        fc.pre(figures.length > 0);
        const found = figures[pick % figures.length] as RegExpExecArray;
        const lower = String(Math.min(metres, Number(found[0]))).padStart(4, "0");
        const changed = text.slice(0, found.index) + lower + text.slice(found.index + 4);
        const [before, after] = [text, changed].map((each) => ranksOf(readReport(each, Date.parse(near))));
        after?.forEach(({ visibility }, part) => {
          expect(visibility).toBeLessThanOrEqual(before?.[part]?.visibility as number);
        });
      }),
      { numRuns: 2000, seed: 9 },
    );
  });

  test.each([
    [["cloud", "skyClear", "verticalVisibility", "cavok"], ceilingRank],
    [["visibility", "directionalVisibility", "cavok"], visibilityRank],
    [["wind"], windRank],
  ] as const)("without any of its groups %j it is not known", (about, rank) => {
    for (const { text, near } of rows) {
      const { groups } = readReport(text, Date.parse(near));
      const rest = groups.filter(({ as }) => !(about as readonly string[]).includes(as));
      const { conditions } = readReport(rest.map((group) => group.text).join(" "), Date.parse(near));
      expect(rank(conditions)).toBeLessThan(0);
    }
  });
});
