// Whether what was in the tanks, what was filled in and what is in them now agree; a difference is asked about, never
// averaged.
//
// before + uplift − after against the tolerance: the accuracy of the gauge as the sheet states it, once, at the greater
// quantity; never twice, though it was read twice, since that asks sooner. A sheet that states none leaves only what agrees
// exactly. An amount whose unit is not certain is tried in each of the others, so that a litre typed as a kilogram is
// recognised: the units under which the balance would fit are told.
// Refuses (Refusal with its path) what is negative or no number.
import { type FuelUnit, fuelUnits } from "../facts/base-tank.ts";
import { atMost } from "../quantity/compare.ts";
import { convert, inUnit } from "../quantity/units.ts";
import { requireAtLeast0 } from "./fuel-leg.ts";

export type FuelBalanceQuestion = {
  readonly before_kg: number;
  readonly uplift: { readonly amount: number; readonly unit: FuelUnit };
  readonly after_kg: number;
  /** At the fuel's own temperature. */
  readonly density_kgL: number;
  /** Of the gauge; null where the sheet states none, so that nobody knows whether a difference is one. */
  readonly tolerance: FuelTolerance | null;
  /** What the tanks take; more than fits is asked about. */
  readonly capacity_kg: number;
};

/** How exact the quantity is read: the greater of both. */
export type FuelTolerance = { readonly least_kg: number; readonly share_pct: number };

export type FuelBalance = {
  readonly uplift_kg: number;
  /** Positive: more in the tanks than there should be. */
  readonly difference_kg: number;
  readonly tolerance_kg: number;
  readonly agrees: boolean;
  readonly fits: boolean;
  /** Units of the amount under which it would agree, other than the one that was said. */
  readonly perhaps: readonly FuelUnit[];
};

const inKg: Readonly<Record<FuelUnit, (amount: number, density_kgL: number) => number>> = {
  kg: (amount) => amount,
  L: (amount, density_kgL) => amount * density_kgL,
  lb: (amount) => convert(inUnit(amount, "lb"), "lb", "kg"),
  usgal: (amount, density_kgL) => convert(inUnit(amount, "usgal"), "usgal", "L") * density_kgL,
};

export function massOf(amount: number, unit: FuelUnit, density_kgL: number): number {
  return inKg[unit](amount, density_kgL);
}

export function balanceFuel(question: FuelBalanceQuestion): FuelBalance {
  const { before_kg, uplift, after_kg, density_kgL, capacity_kg } = question;
  requireAtLeast0(before_kg, "before_kg", "kg");
  requireAtLeast0(uplift.amount, "uplift.amount", uplift.unit);
  requireAtLeast0(after_kg, "after_kg", "kg");
  requireAtLeast0(density_kgL, "density_kgL", "kg/L");
  requireAtLeast0(capacity_kg, "capacity_kg", "kg");
  const judge = (unit: FuelUnit) => {
    const uplift_kg = massOf(uplift.amount, unit, density_kgL);
    const should_kg = before_kg + uplift_kg;
    const { least_kg, share_pct } = question.tolerance ?? { least_kg: 0, share_pct: 0 };
    const tolerance_kg = Math.max(least_kg, (share_pct / 100) * Math.max(should_kg, after_kg));
    const difference_kg = after_kg - should_kg;
    const agrees = atMost(Math.abs(difference_kg), tolerance_kg);
    return {
      uplift_kg,
      difference_kg,
      tolerance_kg,
      agrees,
      fits: atMost(should_kg, capacity_kg + tolerance_kg),
    };
  };
  const said = judge(uplift.unit);
  const others = fuelUnits.filter((unit) => unit !== uplift.unit);
  const perhaps = said.agrees && said.fits ? [] : others.filter((unit) => judge(unit).agrees);
  return { ...said, perhaps };
}
