// How exact the fuel on board is read, by the accuracy that the sheet states of the gauges of the tanks that are installed.
//
// Null where a tank has no gauge in the sheet or a gauge no stated accuracy: then no difference can be called none. Of
// several gauges the errors of each add up. Kilograms.
import type { CraftState } from "../facts/craft.ts";
import { own } from "../facts/own.ts";
import type { Tank } from "../sheet/loading-blocks.ts";
import type { Sheet } from "../sheet/schema.ts";
import type { FuelTolerance } from "./fuel-balance.ts";

/** Tanks that are there: those of equipment only where everybody who said so says that it is installed. */
export function tanksAboard({ tanks }: Pick<Sheet, "tanks">, { equipment }: CraftState): readonly Tank[] {
  return tanks.filter((tank) => {
    if (tank.equipment === undefined) return true;
    const said = own(equipment, tank.equipment) ?? [];
    return said.length > 0 && said.every(({ installed }) => installed);
  });
}

export function fuelToleranceOf(
  { gauges }: Pick<Sheet, "gauges">,
  tanks: readonly Tank[],
): FuelTolerance | null {
  const read = [...new Set(tanks.map(({ gauge }) => gauge))];
  const stated = read.map((id) => {
    const gauge = gauges.find((one) => one.id === id);
    return gauge?.unit === "kg" ? gauge.accuracy : undefined;
  });
  const known = stated.filter((accuracy) => accuracy !== undefined);
  if (known.length === 0 || known.length < stated.length) return null;
  return {
    least_kg: known.reduce((sum, { within }) => sum + within, 0),
    share_pct: Math.max(...known.map(({ share_pct = 0 }) => share_pct)),
  };
}
