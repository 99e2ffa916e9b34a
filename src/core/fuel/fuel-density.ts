// Litres and kilograms of jet fuel: its density falls with its temperature.
//
// The density at 15 °C is the delivery note's or the sheet's; the change with temperature is taken as straight, 0.00072
// kg/L for each kelvin (a usual coefficient for kerosene near 15 °C; common practice, no published table is claimed).
// The band of the specification at 15 °C, 0.775 … 0.840 kg/L, is text (MIL-HDBK-1022A; ASTM D1655): outside it, refused.
// Valid −40 … 50 °C fuel temperature; outside, refused. Reading litres as kilograms overstates fuel by a quarter: whoever
// asks for an amount asks for its unit.
import { describe, refuse } from "../quantity/refusal.ts";

const perKelvin_kgL = 0.000_72;
const band_kgL = [0.775, 0.84] as const;
/** The fuel temperatures for which a density is given. */
export const fuelRange_C = [-40, 50] as const;

/** Density at a fuel temperature, from that at 15 °C. */
export function fuelDensity_kgL(at15_kgL: number, fuel_C: number): number {
  const [least, most] = band_kgL;
  if (!(at15_kgL >= least && at15_kgL <= most))
    refuse("density_kgL", "outsideDomain", describe(at15_kgL), `${least} … ${most} kg/L at 15 °C`);
  if (!(fuel_C >= fuelRange_C[0] && fuel_C <= fuelRange_C[1]))
    refuse("fuel_C", "outsideDomain", describe(fuel_C), `${fuelRange_C[0]} … ${fuelRange_C[1]} °C`);
  return at15_kgL - perKelvin_kgL * (fuel_C - 15);
}
