// Is this document a type sheet? All that is wrong, at once.
//
// In: any JSON value. Out: the sheet, or every error with its path, its code, what was found and what was wanted.
// A document with one error is refused whole. Never throws on JSON: what is too deep or too large to look at is refused
// before anything recursive sees it.
// The rules beyond the schema: check-references.ts, check-walks.ts, check-numbers.ts, check-charts.ts.

import { catalogueOf, checkIds, checkReachable, checkReferences, checkTexts } from "./check-references.ts";
import {
  checkDue,
  checkFindings,
  checkFlight,
  checkGauges,
  checkLoading,
  checkPlaces,
  checkPolygons,
  checkTanks,
} from "./check-numbers.ts";
import { checkCharts } from "./check-charts.ts";
import {
  checkClosures,
  checkItems,
  checkOpened,
  checkOrders,
  checkPrecedence,
  checkProvisions,
} from "./check-walks.ts";
import { draftOf } from "./draft.ts";
import { abbreviated, pathText } from "./issue.ts";
import type { Say, SheetIssue } from "./issue.ts";
import type { Sheet } from "./schema.ts";

export type CheckedSheet = { readonly ok: Sheet } | { readonly errors: readonly SheetIssue[] };

/** A sheet is about ten levels deep and a few ten thousand values large. */
const depthMax = 40;
const valuesMax = 400_000;
/** More errors than this help nobody; how many were left out is said. */
const issuesMax = 2000;

export function checkSheet(json: unknown): CheckedSheet {
  const first = lookOver(json);
  if (first.stop) return { errors: first.issues };
  const { draft, sheet, issues } = draftOf(json);
  const found: SheetIssue[] = [...first.issues, ...issues];
  const say: Say = (path, code, value, wanted = null) => found.push({ path, code, found: value, wanted });
  for (const rule of [
    checkIds,
    checkReferences,
    checkTexts,
    checkItems,
    checkOrders,
    checkPrecedence,
    checkProvisions,
    checkPolygons,
    checkPlaces,
    checkGauges,
    checkFindings,
    checkDue,
    checkTanks,
    checkLoading,
    checkFlight,
    checkCharts,
  ]) {
    rule(draft, say);
  }
  const catalogue = catalogueOf(draft);
  if (catalogue !== null) {
    checkReachable(draft, catalogue, say);
    checkOpened(draft, catalogue, say);
    checkClosures(draft, catalogue, say);
  }
  if (sheet !== null && found.length === 0) return { ok: sheet };
  return { errors: found.length <= issuesMax ? found : cutShort(found) };
}

const cutShort = (found: readonly SheetIssue[]): readonly SheetIssue[] => [
  ...found.slice(0, issuesMax),
  { path: "$", code: "moreIssues", found: found.length - issuesMax, wanted: null },
];

/** Depth, size and storable text, without recursion. Texts with U+0000 or half a character cannot be kept canonically. */
function lookOver(json: unknown): { stop: boolean; issues: readonly SheetIssue[] } {
  const issues: SheetIssue[] = [];
  const pending: { value: unknown; path: readonly PropertyKey[] }[] = [{ value: json, path: [] }];
  let values = 0;
  const checkText = (text: string, path: readonly PropertyKey[]) => {
    if (text.includes("\0") || !text.isWellFormed()) {
      issues.push({
        path: pathText(path),
        code: "badText",
        found: abbreviated(text.toWellFormed()),
        wanted: null,
      });
    }
  };
  for (let next = pending.pop(); next !== undefined; next = pending.pop()) {
    const { value, path } = next;
    values += 1;
    if (path.length > depthMax) {
      return refused({
        path: pathText(path.slice(0, 6)),
        code: "tooDeep",
        found: path.length,
        wanted: depthMax,
      });
    }
    if (values > valuesMax)
      return refused({ path: "$", code: "tooLarge", found: valuesMax, wanted: valuesMax });
    if (typeof value === "string") checkText(value, path);
    if (typeof value !== "object" || value === null) continue;
    for (const key of Object.keys(value)) {
      const step = Array.isArray(value) ? Number(key) : key;
      if (typeof step === "string") checkText(step, [...path, step.toWellFormed()]);
      pending.push({ value: (value as Record<string, unknown>)[key], path: [...path, step] });
    }
  }
  return { stop: false, issues };
}

const refused = (issue: SheetIssue) => ({ stop: true, issues: [issue] });
