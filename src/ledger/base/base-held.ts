// Which base a craft stands at, and what is held of its ledger. An operator with one base has its craft there; with
// several, none is known until the record says which, and so neither is the sky over the craft.
import type { BaseSky, BaseState } from "../../core/facts/sky.ts";
import type { Folded } from "../fold.ts";
import type { BaseDescribed } from "../operator/operator-ledger.ts";

export type BaseHeld = { readonly described: BaseDescribed; readonly folded: Folded<BaseState> };

/** The only base that is described, where all say the same of it; null otherwise. `foldOf` folds an empty ledger too. */
export function baseHeld(
  bases: readonly BaseDescribed[],
  foldOf: (ledger: string) => Folded<BaseState>,
): BaseHeld | null {
  const [first, ...others] = bases;
  if (first === undefined) return null;
  const isSame = ({ base, lat_deg, lon_deg }: BaseDescribed): boolean =>
    base === first.base && lat_deg === first.lat_deg && lon_deg === first.lon_deg;
  return others.every(isSame) ? { described: first, folded: foldOf(first.base) } : null;
}

export function skyOf({ described, folded }: BaseHeld): BaseSky {
  const { base, name, lat_deg, lon_deg } = described;
  return { base, name, lat_deg, lon_deg, state: folded.state };
}
