// What the operator's fuel schemes ask beyond the rule set, put together from all that were set.
import type { FuelScheme } from "../facts/sky.ts";
import type { FuelPolicy } from "../reach/call.ts";

const noScheme: FuelPolicy = {
  contingency_pct: 10,
  extra_kg: 0,
  landmarks: false,
  hems: null,
  refuelRunning: false,
};

/** Ten percent, no landmarks and no refuelling with engines running until the operator's scheme says otherwise; of several the stricter of each. */
export function fuelPolicyOf(schemes: readonly FuelScheme[]): FuelPolicy {
  if (schemes.length === 0) return noScheme;
  const hems = schemes.map((scheme) => scheme.hems);
  return {
    contingency_pct: Math.max(...schemes.map(({ contingency_pct }) => contingency_pct)),
    extra_kg: Math.max(...schemes.map(({ extra_kg }) => extra_kg)),
    landmarks: schemes.every(({ landmarks }) => landmarks),
    hems: hems.every((one) => one === hems[0]) ? hems[0]! : null,
    refuelRunning: schemes.every(({ refuelRunning }) => refuelRunning === true),
  };
}
