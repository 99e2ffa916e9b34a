// Whatever single rule of the demo's whole sheet is broken, and wherever, the sheet is refused and the path is right.
// Each kind of breach lists every place in the sheet where it can be done; chance picks among them.

import { readFileSync } from "node:fs";
import fc from "fast-check";
import { expect, test } from "vitest";
import { gone, stepsOf, valueAt, withEdits } from "../../../demo/sheet/break-sheet.ts";
import { checkSheet } from "./check-sheet.ts";
import type { Sheet } from "./schema.ts";

const quill = JSON.parse(
  readFileSync(new URL("../../../demo/sheet/quill.json", import.meta.url), "utf8"),
) as Sheet;

type Breach = {
  readonly edits: Readonly<Record<string, unknown>>;
  readonly code: string;
  readonly path: string;
};
type Part = { readonly path: string; readonly key: string; readonly value: unknown };

const parts: readonly Part[] = partsOf(quill, "");
const numbers = parts.filter((part) => typeof part.value === "number");
const places = <T>(list: readonly T[], name: string) =>
  list.map((element, at) => ({ element, at, path: `${name}[${at}]` }));

const kinds: Readonly<Record<string, readonly Breach[]>> = {
  "a word for a number": numbers.map(({ path, value }) => ({
    edits: { [path]: String(value) },
    code: "type",
    path,
  })),
  "another unit": numbers
    .filter(({ key, value }) => /_(m|kg|L|kt|kgh|ft|nm|C)$/.test(key) && value !== 0)
    .map(({ path, value }) => ({ edits: { [path]: Number(value) * 1e6 }, code: "range", path })),
  "an unknown key": parts
    // Charts and what a chart says of each of its inputs are keyed by names of the sheet's own.
    .filter(({ value }) => typeof value === "object" && !Array.isArray(value))
    .filter(({ path }) => path !== "charts" && !/^charts\..*\.(monotone|inputs|at|readings)$/.test(path))
    .map(({ path }) => ({ edits: { [`${path}.zzz`]: 1 }, code: "unknownKey", path: `${path}.zzz` })),
  "no German": parts
    .filter(({ key }) => key === "de")
    .map(({ path }) => ({ edits: { [path]: gone }, code: "missing", path })),
  "a reference to nothing": parts
    .filter(
      ({ path, value }) =>
        typeof value === "string" &&
        (/^items\[\d+\]\.(stop|opens\[\d+\]|closes\[\d+\]|reads|mirrored|provision|after\[\d+\])$/.test(
          path,
        ) ||
          /\.applies.*\.(installed|variant)$/.test(path) ||
          /^(stops\[\d+\]\.zone|closures\[\d+\]\.stop|gauges\[\d+\]\.fluid|damage\[\d+\]\.stops\[\d+\])$/.test(
            path,
          ) ||
          /^operations\[\d+\]\.needs\.(equipment|gauges)\[\d+\]$/.test(path) ||
          /\.(takesAway|notWith|takesSeats|requires|excludes|variants)\[\d+\]$/.test(path) ||
          /^(deferrals|tanks|stretchers|programme|components)\[\d+\]\.equipment$/.test(path)),
    )
    .map(({ path }) => ({ edits: { [path]: "nowhere" }, code: "reference", path })),
  "the same id twice": (
    ["items", "stops", "closures", "gauges", "equipment", "damage", "operations"] as const
  ).flatMap((block) =>
    places(quill[block] as readonly { id: string }[], block)
      .slice(1)
      .map(({ at, path }) => ({
        edits: { [`${path}.id`]: quill[block][at - 1]?.id },
        code: "duplicateId",
        path: `${path}.id`,
      })),
  ),
  "what is opened stays open": places(quill.items, "items").flatMap(({ element, path }) =>
    !element.walks.includes("full")
      ? []
      : (element.opens ?? []).map((closure, position) => ({
          edits: Object.fromEntries(
            places(quill.items, "items")
              .filter(
                (other) => other.element.closes?.includes(closure) && other.element.walks.includes("full"),
              )
              .map((other) => [`${other.path}.closes`, gone]),
          ),
          code: "neverClosed",
          path: `${path}.opens[${position}]`,
        })),
  ),
  "a closure that the full walk does not see": places(quill.closures, "closures").map(
    ({ element, path }) => ({
      edits: Object.fromEntries(
        places(quill.items, "items")
          .filter((item) => item.element.closes?.includes(element.id))
          .map((item) => [`${item.path}.closes`, gone]),
      ),
      code: "closureNeverClosed",
      path,
    }),
  ),
  "a one-way mirror": places(quill.items, "items")
    .filter(({ element }) => element.mirrored !== undefined)
    .map(({ element, path }) => ({
      edits: { [`${path}.mirrored`]: gone },
      code: "mirrorOneWay",
      path: `items[${quill.items.findIndex((item) => item.id === element.mirrored)}].mirrored`,
    })),
  "a provision item elsewhere": places(quill.items, "items")
    .filter(({ element }) => element.provision !== undefined)
    .map(({ element, path }) => ({
      edits: { [`${path}.provision`]: quill.items.find((item) => item.stop !== element.stop)?.id },
      code: "provisionStop",
      path: `${path}.provision`,
    })),
  "a stop left out of the order": (["full", "launch", "parking"] as const).flatMap((walk) =>
    quill.order[walk].map((_, at) => ({
      edits: { [`order.${walk}[${at}]`]: gone },
      code: "orderMissing",
      path: `order.${walk}`,
    })),
  ),
  "a swept reading or closure": places(quill.items, "items")
    .filter(({ element }) => (element.reads ?? element.opens ?? element.closes) !== undefined)
    .map(({ path }) => ({ edits: { [`${path}.sweep`]: true }, code: "sweepSingly", path: `${path}.sweep` })),
  "an envelope that does not close": places(quill.envelopes, "envelopes").map(({ element, path }) => {
    const points = element.axis === "coupled" ? "points_m_m" : "points_m_kg";
    const last = (element.axis === "coupled" ? element.points_m_m : element.points_m_kg).length - 1;
    return {
      edits: { [`${path}.${points}[${last}]`]: gone },
      code: "polygonOpen",
      path: `${path}.${points}[${last - 1}]`,
    };
  }),
  "a tank curve that turns back": quill.tanks.flatMap((tank, at) =>
    tank.centre_kg_m_m.slice(1).map((_, before) => ({
      edits: { [`tanks[${at}].centre_kg_m_m[${before + 1}][0]`]: tank.centre_kg_m_m[before]?.[0] },
      code: "notRising",
      path: `tanks[${at}].centre_kg_m_m[${before + 1}][0]`,
    })),
  ),
};

test.each(Object.entries(kinds))(
  "%s is refused at the right path, wherever it is in the sheet",
  (_, breaches) => {
    expect(breaches.length).toBeGreaterThan(0);
    fc.assert(
      fc.property(fc.constantFrom(...breaches), ({ edits, code, path }) => {
        const checked = checkSheet(withEdits(quill, edits));
        const said = "errors" in checked ? checked.errors.map((issue) => `${issue.code} ${issue.path}`) : [];
        expect(said).toContain(`${code} ${path}`);
      }),
      { numRuns: Math.min(14, breaches.length) },
    );
  },
);

test("the places that chance picks from are places in the sheet", () => {
  for (const { path, value } of parts) expect(valueAt(quill, stepsOf(path))).toEqual(value);
});

function partsOf(json: unknown, above: string): readonly Part[] {
  if (typeof json !== "object" || json === null) return [];
  return Object.entries(json).flatMap(([key, value]: [string, unknown]): readonly Part[] => {
    const path = Array.isArray(json) ? `${above}[${key}]` : above === "" ? key : `${above}.${key}`;
    return [{ path, key, value }, ...partsOf(value, path)];
  });
}
