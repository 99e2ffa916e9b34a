// Which base a craft stands at, and what is held of its ledger. The craft's own record says at which; where it does not,
// an operator with one base has its craft there. With several and no word, or with two words, none is known, and so
// neither is the sky over the craft.
import type { BasedFact } from "../../core/facts/craft.ts";
import type { BaseSky, BaseState } from "../../core/facts/sky.ts";
import type { Folded } from "../fold.ts";
import type { BaseDescribed } from "../operator/operator-ledger.ts";

export type BaseHeld = { readonly described: BaseDescribed; readonly folded: Folded<BaseState> };

/** A base of the operator; `held` is null where it was described in two ways. */
export type BasePlace = { readonly base: string; readonly held: BaseHeld | null };

/** Every base that is described. `foldOf` folds an empty ledger too. */
export function basesHeld(
  described: readonly BaseDescribed[],
  foldOf: (ledger: string) => Folded<BaseState>,
): readonly BasePlace[] {
  const byBase = Map.groupBy(described, ({ base }) => base);
  return [...byBase].map(([base, all]) => {
    const [first] = all as [BaseDescribed, ...BaseDescribed[]];
    const isSame = all.every(
      ({ lat_deg, lon_deg, elevation_m }) =>
        lat_deg === first.lat_deg && lon_deg === first.lon_deg && elevation_m === first.elevation_m,
    );
    return { base, held: isSame ? { described: first, folded: foldOf(base) } : null };
  });
}

/** The base that a craft stands at; null where that is not known. */
export function baseOfCraft(bases: readonly BasePlace[], based: readonly BasedFact[]): BaseHeld | null {
  const [said, ...others] = [...new Set(based.map(({ base }) => base))];
  if (said !== undefined)
    return others.length > 0 ? null : (bases.find(({ base }) => base === said)?.held ?? null);
  const [only, ...more] = bases;
  return only === undefined || more.length > 0 ? null : only.held;
}

export function skyOf({ described, folded }: BaseHeld): BaseSky {
  const { base, name, lat_deg, lon_deg, elevation_m } = described;
  return { base, name, lat_deg, lon_deg, elevation_m, state: folded.state };
}
