// Water vapour in the air: its pressure from the dew point, and the virtual temperature, at which dry air of the same
// pressure would have the same density.
//
// Source: U.S. National Weather Service, density altitude computation (El Paso office): e = 6.11 hPa × 10^(7.5 Td /
// (237.7 + Td)), Td in °C, over water, as a reported dew point is; Tv = T / (1 − (e/p)(1 − 0.622)).
// Against the ASHRAE formulas: within 0.2 % of vapour pressure from −20 to +40 °C (published/atmosphere.test.ts).
// Refuses a dew point above the temperature, below −100 °C, or air that would be mostly vapour.

import { describe, refuse } from "../quantity/refusal.ts";
import { inUnit, type Kelvins, type Pascals } from "../quantity/units.ts";

/** Ratio of the molar masses of water and dry air, as the source rounds it. */
const vapourRatio = 0.622;

/** Vapour pressure at a dew point. */
export function vapourPressure(dewPoint: Kelvins, path = "dewPoint"): Pascals {
  const dewPointC = dewPoint - 273.15;
  if (!(dewPointC >= -100 && dewPointC <= 100)) {
    refuse(path, "outsideDomain", `${describe(dewPointC)} °C`, "a dew point of −100 … 100 °C");
  }
  return inUnit(611 * 10 ** ((7.5 * dewPointC) / (237.7 + dewPointC)), "Pa");
}

/** Virtual temperature of air at a temperature, dew point and pressure. */
export function virtualTemperature(
  temperature: Kelvins,
  dewPoint: Kelvins,
  pressure: Pascals,
  path = "dewPoint",
): Kelvins {
  // Both are reported rounded and converted, so a difference in the last bits is no contradiction.
  if (dewPoint > temperature * (1 + 1e-12)) {
    refuse(
      path,
      "contradiction",
      `${dewPoint - 273.15} °C`,
      `a dew point not above the temperature, ${temperature - 273.15} °C`,
    );
  }
  const share = vapourPressure(dewPoint, path) / pressure;
  if (!(share < 1))
    refuse(
      path,
      "impossible",
      `${dewPoint - 273.15} °C`,
      `a dew point whose vapour pressure is below ${pressure} Pa`,
    );
  return inUnit(temperature / (1 - share * (1 - vapourRatio)), "K");
}
