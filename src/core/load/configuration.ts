// What the cabin is loaded with for a kind of task, as a list of things with masses and places, and what of it was
// confirmed to be there: so that a bag left at a scene, or loaded twice on paper, is seen.
//
// A configuration lists each thing once, with its place. A confirmation lists what somebody saw on board, as often as it
// was counted. Compared are ids, places and masses; a mass within a relative 1e-9 of the listed one is the same.
// Also told: things that the empty mass already includes (counted twice in the total) and things that the list itself
// names twice. Units kg and m. Refuses bad numbers and masses that are not above 0 kg, all at once, each with its path.

import type { LoadedKit } from "../facts/load.ts";
import { isOn } from "../quantity/compare.ts";
import { atIndex, atKey, type Issue } from "../quantity/refusal.ts";
import type { KitList } from "../sheet/loading-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import { addItemIssues, addTotals, type Item, noMass, throwIssues, type Totals, totalsOf } from "./totals.ts";

export type KitItem = Item & { readonly id: string; readonly place: string };

export type ConfigurationCheck = {
  /** In the configuration, not confirmed. */
  readonly missing: readonly KitItem[];
  /** Confirmed, not in the configuration. */
  readonly extra: readonly KitItem[];
  /** Confirmed more than once. */
  readonly twice: readonly { readonly item: KitItem; readonly times: number }[];
  /** Confirmed at another place than listed. */
  readonly elsewhere: readonly { readonly listed: KitItem; readonly confirmed: KitItem }[];
  /** Confirmed with another mass than listed. */
  readonly otherMass: readonly { readonly listed: KitItem; readonly confirmed: KitItem }[];
  /** In the empty mass already, and confirmed as kit as well. */
  readonly inEmptyMass: readonly KitItem[];
  readonly listed: Totals;
  readonly confirmed: Totals;
  /** Confirmed less listed. */
  readonly difference: Totals;
  /** Nothing differs. */
  readonly isAsListed: boolean;
};

/** Mass and moments of a configuration. Refuses a thing that it lists twice. */
export function configurationTotals(items: readonly KitItem[], path = "configuration"): Totals {
  const issues: Issue[] = [];
  addKitIssues(items, path, issues);
  items.forEach(({ id }, index) => {
    if (items.findIndex((item) => item.id === id) === index) return;
    const where = atKey(atIndex(path, index), "id");
    issues.push({ path: where, code: "givenTwice", found: id, wanted: "each thing once" });
  });
  throwIssues(issues);
  return totalsOf(items, path);
}

function addKitIssues(items: readonly KitItem[], path: string, issues: Issue[]): void {
  items.forEach((item, index) => {
    const where = atIndex(path, index);
    addItemIssues(item, where, issues);
    if (item.mass_kg === 0) {
      issues.push({
        path: atKey(where, "mass_kg"),
        code: "impossible",
        found: "0 kg",
        wanted: "a mass above 0 kg",
      });
    }
  });
}

/** Compares what a configuration lists with what was confirmed; `inEmpty` are the ids that the empty mass includes. */
export function compareConfiguration(
  listed: readonly KitItem[],
  confirmed: readonly KitItem[],
  inEmpty: readonly string[],
): ConfigurationCheck {
  const issues: Issue[] = [];
  addKitIssues(confirmed, "confirmed", issues);
  throwIssues(issues);
  const listedTotals = configurationTotals(listed);
  const confirmedTotals = totalsOf(confirmed, "confirmed");
  const byId = new Map(listed.map((item) => [item.id, item]));
  const times = new Map<string, number>();
  for (const { id } of confirmed) times.set(id, (times.get(id) ?? 0) + 1);
  const pairs = confirmed.flatMap((item) => {
    const wanted = byId.get(item.id);
    return wanted === undefined ? [] : [{ listed: wanted, confirmed: item }];
  });
  const differences = {
    missing: listed.filter(({ id }) => !times.has(id)),
    extra: confirmed.filter(({ id }) => !byId.has(id)),
    twice: firstOfEach(confirmed).flatMap((item) => {
      const count = times.get(item.id)!;
      return count > 1 ? [{ item, times: count }] : [];
    }),
    elsewhere: pairs.filter((pair) => pair.listed.place !== pair.confirmed.place),
    otherMass: pairs.filter((pair) => !isOn(pair.confirmed.mass_kg, pair.listed.mass_kg)),
    inEmptyMass: firstOfEach(confirmed).filter(({ id }) => inEmpty.includes(id)),
  };
  return {
    ...differences,
    listed: listedTotals,
    confirmed: confirmedTotals,
    difference: addTotals(confirmedTotals, negative(listedTotals)),
    isAsListed: Object.values(differences).every((list) => list.length === 0),
  };
}

/**
 * Compares the kit of a load with a list of the sheet. A piece that was added by name counts as the listed thing of the same
 * name, in either language, so that a bag that is on the list and was typed in again is found twice. Refuses a place that
 * is no compartment of the sheet.
 */
export function checkKit(
  { compartments }: Pick<Sheet, "compartments">,
  list: KitList,
  loaded: readonly LoadedKit[],
): ConfigurationCheck {
  const issues: Issue[] = [];
  const stationOf = (at: string, path: string) => {
    const place = compartments.find(({ id }) => id === at);
    if (place === undefined) issues.push({ path, code: "unknownKey", found: at, wanted: "a compartment" });
    return { x_m: place?.x_m ?? 0, y_m: place?.y_m ?? 0 };
  };
  const listed = list.kit.map(({ kit, mass_kg, at }, index): KitItem => {
    return { id: kit, mass_kg, place: at, ...stationOf(at, `kit[${index}].at`) };
  });
  const confirmed = loaded.map(({ kit, name, mass_kg, at }, index): KitItem => {
    const id = list.kit.find((thing) => thing.kit === kit || isNamed(thing, name))?.kit ?? kit;
    return { id, mass_kg, place: at, ...stationOf(at, `loaded[${index}].at`) };
  });
  throwIssues(issues);
  return compareConfiguration(listed, confirmed, []);
}

function isNamed({ name }: KitList["kit"][number], said: string): boolean {
  const letters = (text: string) => text.normalize("NFKC").trim().toLowerCase();
  return Object.values(name).some((one) => letters(one) === letters(said));
}

function firstOfEach(items: readonly KitItem[]): KitItem[] {
  return items.filter(({ id }, index) => items.findIndex((item) => item.id === id) === index);
}

function negative({ mass_kg, x_kgm, y_kgm }: Totals): Totals {
  return { mass_kg: noMass.mass_kg - mass_kg, x_kgm: noMass.x_kgm - x_kgm, y_kgm: noMass.y_kgm - y_kgm };
}
