// What the record of a craft says of its mass: weighings, today's loading, and kit that went or came since.
//
// Plain data, not judged. `replaces` keeps a weighing in the history that a later one took the place of. Units kg and m;
// x aft positive, y right positive. Masses are as stated; nothing is assumed for what nobody said.

type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

/** The craft as it was weighed; `at_ms` is when. */
export type WeighingFact = Said & {
  readonly mass_kg: number;
  readonly x_m: number;
  readonly y_m: number;
  /** Equipment that was on while weighed, and so is in the mass. */
  readonly included: readonly string[];
  readonly role: string;
  /** The weighing report, by its number or name. */
  readonly report: string;
  readonly replaces: readonly string[];
};

export type LoadedPerson = {
  readonly seat: string;
  readonly person: string | null;
  readonly mass_kg: number;
};

/** A patient who may come on board: from none to this mass. */
export type ExpectedPatient = { readonly stretcher: string; readonly most_kg: number };

export type LoadedKit = {
  readonly kit: string;
  readonly name: string;
  readonly mass_kg: number;
  /** A compartment of the sheet. */
  readonly at: string;
};

export type LoadingFact = Said & {
  readonly persons: readonly LoadedPerson[];
  readonly patients: readonly ExpectedPatient[];
  readonly kit: readonly LoadedKit[];
  /** The sheet's list that the kit was loaded by; left out where nobody named one. */
  readonly kitList?: string;
  /** Usable fuel at the start, and the least at a landing. */
  readonly fuel_kg: number;
  readonly fuelAtEnd_kg: number;
};

/** A piece of the loading's kit that was left behind, or came back. */
export type KitFact = Said & { readonly kit: string; readonly aboard: boolean; readonly words: string };

export type LoadFacts = {
  /** All, as folded. */
  readonly weighings: readonly WeighingFact[];
  /** Those that stand; more than one where people loaded apart. */
  readonly loadings: readonly LoadingFact[];
  readonly kit: Readonly<Record<string, readonly KitFact[]>>;
};

export const nothingLoaded: LoadFacts = { weighings: [], loadings: [], kit: {} };
