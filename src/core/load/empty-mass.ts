// Empty mass and centre of gravity of one craft: from its weighing, and from every change of equipment since.
//
// Weighing: the sum of the scales, each less its tare, at the arms of their points; less what was on board and is no part
// of the empty craft (fuel above the unusable, a ladder), plus what is part of it and was not on board.
// History: one row for each weighing and each change, with the totals after it and the net change since the last
// weighing. Rule: mass and centre are to be revised whenever the cumulative changes to the dry operating mass exceed
// ±0.5 % of the maximum landing mass, AMC1 CAT.POL.MAB.100(b)(b), Annex to ED Decision 2012/018/R. On 0.5 % is not yet
// beyond it; once it was beyond, a revision stays due until the next weighing, even if a later change nets it out.
// Units kg, m, kg·m; instants in milliseconds.
//
// Refuses, all at once and each with its path: no weighing; bad numbers; a weighing that comes out at 0 kg or less;
// installing what is installed, removing what is not (a kit counted twice, a hoist taken off whose arm still counts);
// removing more mass than there is. Changes before the first weighing are in it and are passed over.

import { above } from "../quantity/compare.ts";
import { atIndex, atKey, type Issue } from "../quantity/refusal.ts";
import {
  addItemIssues,
  addNumberIssue,
  addStationIssues,
  addTotals,
  centreOf,
  type Item,
  noMass,
  type Station,
  throwIssues,
  type Totals,
  totalsAt,
} from "./totals.ts";

export type ScaleReading = Station & {
  readonly point: string;
  readonly reading_kg: number;
  readonly tare_kg: number;
};

export type Weighing = {
  readonly at_ms: number;
  readonly scales: readonly ScaleReading[];
  /** On board while weighed, no part of the empty craft. */
  readonly less: readonly Item[];
  /** Part of the empty craft, not on board while weighed. */
  readonly plus: readonly Item[];
  /** Ids of the equipment that the result includes. */
  readonly included: readonly string[];
};

export type EquipmentChange = Item & {
  readonly at_ms: number;
  readonly equipment: string;
  /** False: taken off. */
  readonly installed: boolean;
};

export type HistoryRow = {
  readonly at_ms: number;
  /** Null for a weighing. */
  readonly change: EquipmentChange | null;
  readonly totals: Totals;
  readonly centre: Station;
  /** Sum of the changes since the last weighing, with their signs. */
  readonly net_kg: number;
  /** The net change at this row is beyond ±0.5 % of the maximum landing mass. */
  readonly isBeyond: boolean;
};

export type EmptyMass = {
  readonly rows: readonly HistoryRow[];
  /** After the last row. */
  readonly totals: Totals;
  readonly centre: Station;
  /** Equipment that the totals include. */
  readonly included: readonly string[];
  /** Since when mass and centre are to be revised; null while they need not be. */
  readonly revisionDue_ms: number | null;
};

const revisionPart = 0.005;
const largest = 1e6;

/** Totals of one weighing. */
export function weighed(weighing: Weighing, path = "weighing"): Totals {
  const issues: Issue[] = [];
  addWeighingIssues(weighing, path, issues);
  throwIssues(issues);
  return sumWeighing(weighing);
}

function sumWeighing({ scales, less, plus }: Weighing): Totals {
  let totals = noMass;
  for (const scale of scales) totals = addTotals(totals, totalsAt(scale, scale.reading_kg - scale.tare_kg));
  for (const item of less) totals = addTotals(totals, totalsAt(item, -item.mass_kg));
  for (const item of plus) totals = addTotals(totals, totalsAt(item, item.mass_kg));
  return totals;
}

function addWeighingIssues(weighing: Weighing, path: string, issues: Issue[]): void {
  const before = issues.length;
  if (weighing.scales.length === 0) {
    issues.push({ path: atKey(path, "scales"), code: "missing", found: "no scale", wanted: "at least one" });
  }
  for (const [index, scale] of weighing.scales.entries()) {
    const where = atIndex(atKey(path, "scales"), index);
    addNumberIssue(scale.reading_kg, atKey(where, "reading_kg"), 0, largest, "kg", issues);
    addNumberIssue(scale.tare_kg, atKey(where, "tare_kg"), 0, largest, "kg", issues);
    addStationIssues(scale, where, issues);
  }
  for (const list of ["less", "plus"] as const) {
    weighing[list].forEach((item, index) => addItemIssues(item, atIndex(atKey(path, list), index), issues));
  }
  if (issues.length > before) return;
  const { mass_kg } = sumWeighing(weighing);
  if (!(mass_kg > 0)) {
    issues.push({ path, code: "impossible", found: `${mass_kg} kg`, wanted: "an empty mass above 0 kg" });
  }
}

/** The history of one craft, oldest first. Weighings and changes in any order; of the same instant, the weighing first. */
export function emptyMass(
  weighings: readonly Weighing[],
  changes: readonly EquipmentChange[],
  maxLandingMass_kg: number,
): EmptyMass {
  const issues: Issue[] = [];
  addNumberIssue(maxLandingMass_kg, "maxLandingMass_kg", Number.MIN_VALUE, largest, "kg", issues);
  if (weighings.length === 0) {
    issues.push({ path: "weighings", code: "missing", found: "no weighing", wanted: "at least one" });
  }
  weighings.forEach((weighing, index) => addWeighingIssues(weighing, atIndex("weighings", index), issues));
  changes.forEach((change, index) => addItemIssues(change, atIndex("changes", index), issues));
  throwIssues(issues);

  const events = [
    ...weighings.map((weighing) => ({ at_ms: weighing.at_ms, weighing, change: null, index: 0 })),
    ...changes.map((change, index) => ({ at_ms: change.at_ms, weighing: null, change, index })),
  ].sort((one, other) => one.at_ms - other.at_ms);
  const rows: HistoryRow[] = [];
  let included = new Set<string>();
  let revisionDue_ms: number | null = null;
  for (const { weighing, change, index } of events) {
    const last = rows.at(-1);
    if (weighing !== null) {
      included = new Set(weighing.included);
      revisionDue_ms = null;
      rows.push(historyRow(weighing.at_ms, null, sumWeighing(weighing), 0, maxLandingMass_kg));
    } else if (last !== undefined) {
      addChangeIssues(change, included, last.totals, atIndex("changes", index), issues);
      if (change.installed) included.add(change.equipment);
      else included.delete(change.equipment);
      const signed = change.installed ? change.mass_kg : -change.mass_kg;
      const totals = addTotals(last.totals, totalsAt(change, signed));
      // Goes on after an issue, so that the later ones are told as well; nothing of it is answered then.
      const row = historyRow(change.at_ms, change, totals, last.net_kg + signed, maxLandingMass_kg);
      rows.push(row);
      if (row.isBeyond) revisionDue_ms ??= row.at_ms;
    }
  }
  throwIssues(issues);
  const { totals, centre } = rows.at(-1)!;
  return { rows, totals, centre, included: [...included].sort(), revisionDue_ms };
}

function historyRow(
  at_ms: number,
  change: EquipmentChange | null,
  totals: Totals,
  net_kg: number,
  maxLandingMass_kg: number,
): HistoryRow {
  const centre = totals.mass_kg > 0 ? centreOf(totals) : { x_m: 0, y_m: 0 };
  const isBeyond = above(Math.abs(net_kg), revisionPart * maxLandingMass_kg);
  return { at_ms, change, totals, centre, net_kg, isBeyond };
}

function addChangeIssues(
  { equipment, installed, mass_kg }: EquipmentChange,
  included: ReadonlySet<string>,
  totals: Totals,
  path: string,
  issues: Issue[],
): void {
  if (included.has(equipment) === installed) {
    const found = installed ? `${equipment} installed twice` : `${equipment} removed while not installed`;
    const wanted = installed ? "to be off before it is installed" : "to be installed before it is removed";
    issues.push({ path: atKey(path, "equipment"), code: "contradiction", found, wanted });
  }
  if (!installed && !(mass_kg < totals.mass_kg)) {
    const wanted = `less than the ${totals.mass_kg} kg that there are`;
    issues.push({ path: atKey(path, "mass_kg"), code: "impossible", found: `${mass_kg} kg`, wanted });
  }
}
