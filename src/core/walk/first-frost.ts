// When the air around a parked machine went through zero after it had been looked at: water freezes on it then, whatever
// the walk has seen. At zero counts as freezing. Common practice; the sheet says whether it ends a walk.

/** `entry`: what said it. */
export type AirTemperature = { readonly entry: string; readonly at_ms: number; readonly oat_C: number };

/**
 * The first temperature at or below zero after an instant that follows one above zero, known at or before it or since.
 * Null where the air was below zero all along, above all along, or where nothing is known. `known`: oldest first.
 */
export function firstFrost(known: readonly AirTemperature[], after_ms: number): AirTemperature | null {
  let thawed = false;
  for (const air of known) {
    if (air.at_ms > after_ms && air.oat_C <= 0 && thawed) return air;
    thawed = air.oat_C > 0;
  }
  return null;
}
