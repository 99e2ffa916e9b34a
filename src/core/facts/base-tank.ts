// What the record of a base keeps of the fuel it stores: tanks as the operator describes them, what was delivered, what the
// samples showed and how much was there, filters, what is shut and opened again, and what was drawn for no craft of ours.
// Plain data, nothing judged. Fuel that a craft of the operator took stands in that craft's own record.
type Said = { readonly entry: string; readonly by: string; readonly at_ms: number };

export const fuelUnits = ["kg", "L", "lb", "usgal"] as const;
export type FuelUnit = (typeof fuelUnits)[number];

export const samplesSeen = ["clear", "water", "particles"] as const;
export type SampleSeen = (typeof samplesSeen)[number];

export type TankDescribed = Said & {
  readonly tank: string;
  readonly name: string;
  readonly grade: string;
  readonly capacity_L: number;
  /** From here down it is told that the stock is low. */
  readonly low_L: number;
  /** How exact a dip of this tank is, each way. */
  readonly dipWithin_L: number;
  /** A sample with its check for water counts so long. */
  readonly sampleEvery_h: number;
  /** After a delivery nothing is taken for so long. */
  readonly settle_h: number;
  /** The filter is changed at least so often; null where the operator sets no time. */
  readonly filterEvery_days: number | null;
  readonly inUse: boolean;
  readonly cite: string;
};

/** A quantity as somebody wrote it, with what makes a volume of it. The density is that at 15 °C. */
export type FuelAmount = {
  readonly amount: number;
  readonly unit: FuelUnit;
  readonly typed: string;
  readonly density_kgL: number;
  /** The fuel's own temperature; null where it was not measured. */
  readonly fuel_C: number | null;
};

export type TankDelivered = Said &
  FuelAmount & {
    readonly tank: string;
    readonly docket: string;
    readonly batch: string;
    readonly grade: string;
  };

export type TankChecked = Said & {
  readonly tank: string;
  readonly sample: SampleSeen;
  /** By paste, capsule or paper. */
  readonly waterFound: boolean;
  /** Dipped; null where nobody did. */
  readonly stock_L: number | null;
  readonly typed: string;
};

export type TankFilter = Said & { readonly tank: string; readonly words: string };

/** Nobody takes fuel from it until somebody who may has opened it again. */
export type TankShut = Said & { readonly tank: string; readonly words: string };
/** `ends`: what was shut and is open from then on. */
export type TankOpened = Said & {
  readonly tank: string;
  readonly words: string;
  readonly ends: readonly string[];
};

/** Drained, given away, or sold: for no craft of the operator. */
export type TankDrawn = Said & FuelAmount & { readonly tank: string; readonly words: string };

export type TankFacts = {
  /** More than one of a tank where it was described apart; the stricter of each counts. */
  readonly described: readonly TankDescribed[];
  readonly delivered: readonly TankDelivered[];
  readonly checked: readonly TankChecked[];
  readonly filters: readonly TankFilter[];
  readonly shut: readonly TankShut[];
  readonly opened: readonly TankOpened[];
  readonly drawn: readonly TankDrawn[];
};

export const noTanks: TankFacts = {
  described: [],
  delivered: [],
  checked: [],
  filters: [],
  shut: [],
  opened: [],
  drawn: [],
};
