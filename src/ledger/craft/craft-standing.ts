// The standing of a craft from its folded ledger: finds the sheet that holds, says how whole the record is, and asks the
// core. The one way by which server, app and command line come to a standing.
import { noTanks, type TankFacts } from "../../core/facts/base-tank.ts";
import { hour_ms } from "../../core/facts/instant.ts";
import type { CraftState } from "../../core/facts/craft.ts";
import { horizon_h } from "../../core/facts/situation.ts";
import type { OperatorSettings, Situation } from "../../core/facts/situation.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { standingOf } from "../../core/standing/assess.ts";
import type { CraftStanding } from "../../core/standing/assess.ts";
import type { SkyJudge } from "../../core/standing/sky-row.ts";
import { sheetInForce } from "../../core/walk/craft-config.ts";
import { baseOfCraft, skyOf } from "../base/base-held.ts";
import type { BasePlace } from "../base/base-held.ts";
import type { Folded } from "../fold.ts";

export type Known = {
  readonly now_ms: number;
  /** Null where the operator's settings are missing or contradict each other. */
  readonly settings: OperatorSettings | null;
  readonly exchanged_ms: number | null;
  readonly unsent: number;
  readonly sheetOf: (hash: string) => Sheet | null;
  /** The operator's bases; at which of them a craft stands, its own record says. */
  readonly bases: readonly BasePlace[];
  /** The operator's craft as they are known here, this one among them or not: whose people and flights they share. */
  readonly fleet: readonly CraftState[];
  /** Null while it is not at hand: then nothing of the sky is known. */
  readonly judge: SkyJudge | null;
};

export type StandingOfCraft = {
  readonly sheetHash: string | null;
  readonly sheet: Sheet | null;
  readonly situation: Situation;
  readonly standing: CraftStanding;
};

/** Settings to show times by when the operator's own are not known; nothing is called known on them. */
const unsettled: OperatorSettings = { zone: "UTC", exchangeLimit_min: 1 };

export function standingOfCraft(folded: Folded<CraftState>, known: Known): StandingOfCraft {
  const { now_ms, settings, exchanged_ms, unsent, judge, fleet } = known;
  const base = baseOfCraft(known.bases, folded.state.based);
  const sheetHash = sheetInForce(folded.state, now_ms);
  const situation: Situation = {
    now_ms,
    horizon_ms: now_ms + horizon_h * hour_ms,
    settings: settings ?? unsettled,
    record: {
      newest_ms: later(folded.newest_ms, base?.folded.newest_ms ?? null),
      // What the base's record had to set aside may be the bad news of its weather.
      aside: [...folded.aside, ...(base?.folded.aside ?? [])],
      exchanged_ms: settings === null ? null : exchanged_ms,
      unsent,
    },
    others: fleet.flatMap((other) =>
      other === folded.state || other.opened === null || other.opened.entry === folded.state.opened?.entry
        ? []
        : [
            {
              name: other.opened.name,
              shifts: other.shifts,
              flights: other.flights,
              fuelFilled: other.fuelFilled,
            },
          ],
    ),
    tanks: tanksOf(known.bases),
  };
  const sheet = sheetHash === null ? null : known.sheetOf(sheetHash);
  const sky = { base: base === null ? null : skyOf(base), judge };
  return { sheetHash, sheet, situation, standing: standingOf(sheet, folded.state, situation, sky) };
}

/** The tanks of every base: a craft may have filled at another one. */
function tanksOf(bases: readonly BasePlace[]): TankFacts {
  const all = bases.flatMap(({ held }) => (held === null ? [] : [held.folded.state.tanks]));
  const [first, ...others] = all;
  if (first === undefined) return noTanks;
  if (others.length === 0) return first;
  return {
    described: all.flatMap(({ described }) => described),
    delivered: all.flatMap(({ delivered }) => delivered),
    checked: all.flatMap(({ checked }) => checked),
    filters: all.flatMap(({ filters }) => filters),
    shut: all.flatMap(({ shut }) => shut),
    opened: all.flatMap(({ opened }) => opened),
    drawn: all.flatMap(({ drawn }) => drawn),
  };
}

function later(a_ms: number | null, b_ms: number | null): number | null {
  return a_ms === null ? b_ms : b_ms === null ? a_ms : Math.max(a_ms, b_ms);
}
