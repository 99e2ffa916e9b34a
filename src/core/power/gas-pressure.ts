// The pressure of a closed bottle of pure gas at another temperature.
//
// At constant volume the absolute pressure of a gas goes with its absolute temperature (Gay-Lussac's law). In and out are
// gauge pressures, as instruments show them, so the standard atmosphere is added and taken off again. The temperature is
// that of the *bottle*: the air's is not it, in the sun, after a flight or in a heated hangar.
// Valid for a gas far from liquefying (nitrogen, oxygen at an aircraft's pressures). Not for a bottle in which an agent is
// liquid: there the manual's chart holds. A temperature at or below absolute zero, or what is no number, gives null.
// Constants: standard atmosphere 1.01325 bar, 0 °C = 273.15 K, both exact. Check values: published/power.test.ts.

const standardPressure_bar = 1.01325;
const zeroCelsius_K = 273.15;

/** The gauge pressure in bar that a gas read at one bottle temperature has at another; null where there is none. */
export function gasPressureAt(pressure_bar: number, at_C: number, wanted_C: number): number | null {
  const [at_K, wanted_K] = [at_C + zeroCelsius_K, wanted_C + zeroCelsius_K];
  const isPossible = [pressure_bar, at_K, wanted_K].every((value) => Number.isFinite(value));
  if (!isPossible || at_K <= 0 || wanted_K <= 0) return null;
  return ((pressure_bar + standardPressure_bar) * wanted_K) / at_K - standardPressure_bar;
}
