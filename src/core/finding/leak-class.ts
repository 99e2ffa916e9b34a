// Published classes of fuel leaks: shown beside a finding with their source, to give it a name. They accept nothing: what
// a leak means for flight is the type's own manual's to say (the sheet's bands), and none of these is universal.
//
// By size: FAA-H-8083-31 (Aviation Maintenance Technician Handbook, Airframe), ch. 14: wetted area 30 minutes after
// wiping dry. By time to come back after wiping: NAVEDTRA 14315, integral cells. Read as text; a size on a boundary goes
// to the worse class (decided here: the sources do not say), but for 4 in, the printed end of the heavy seep. "Stain" is the smallest class there, not an old dry mark.
// Valid for fuel alone. Refuses negative and non-finite sizes. Check values: published/leak-classes.json.
import { above, atLeast } from "../quantity/compare.ts";
import { describe, refuse } from "../quantity/refusal.ts";

export const leakClasses = ["stain", "seep", "heavySeep", "runningLeak"] as const;
export type LeakClass = (typeof leakClasses)[number];
export const returnClasses = ["slowSeep", "seep", "heavySeep", "runningLeak"] as const;
export type ReturnClass = (typeof returnClasses)[number];

export const bySizeSource = { document: "FAA-H-8083-31", part: "ch. 14", after_min: 30 } as const;
export const byReturnSource = { document: "NAVEDTRA 14315", part: "integral cells" } as const;

/** Diameter of the wetted area from which a class begins, and at which it ends; inches as printed. */
export const sizeClasses: readonly {
  readonly name: LeakClass;
  readonly from_in: number;
  readonly to_in: number | null;
}[] = [
  { name: "stain", from_in: 0, to_in: 0.75 },
  { name: "seep", from_in: 0.75, to_in: 1.5 },
  { name: "heavySeep", from_in: 1.5, to_in: 4 },
  { name: "runningLeak", from_in: 4, to_in: null },
];

/** The class of a wetted area by its diameter; whatever pools or drips is a running leak. */
export function classBySize(diameter_in: number, dripping: boolean): LeakClass {
  if (!(Number.isFinite(diameter_in) && diameter_in >= 0))
    refuse("diameter_in", "outsideDomain", describe(diameter_in), "inches of 0 or more");
  if (dripping) return "runningLeak";
  // The running leak has no size of its own in the source: its pools and drips tell it, or more than the class before it.
  if (above(diameter_in, 4)) return "runningLeak";
  const reached = sizeClasses.filter(
    ({ name, from_in }) => name !== "runningLeak" && atLeast(diameter_in, from_in),
  );
  return reached.at(-1)!.name;
}

/** How a leak comes back after it was wiped dry. */
export const returns = ["notInShortTime", "withinHour", "atOnce", "flows"] as const;
export type Returns = (typeof returns)[number];

const classOf: Readonly<Record<Returns, ReturnClass>> = {
  notInShortTime: "slowSeep",
  withinHour: "seep",
  atOnce: "heavySeep",
  flows: "runningLeak",
};

/** The class by return, and whether its source calls it a hazard to flight wherever it is. */
export function classByReturn(how: Returns): { readonly name: ReturnClass; readonly hazard: boolean } {
  const name = classOf[how];
  return { name, hazard: name === "heavySeep" || name === "runningLeak" };
}
