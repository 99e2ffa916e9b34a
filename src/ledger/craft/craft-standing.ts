// The standing of a craft from its folded ledger: finds the sheet that holds, says how whole the record is, and asks the
// core. The one way by which server, app and command line come to a standing.
import { hour_ms } from "../../core/facts/instant.ts";
import type { CraftState } from "../../core/facts/craft.ts";
import type { OperatorSettings, Situation } from "../../core/facts/situation.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { standingOf } from "../../core/standing/assess.ts";
import type { CraftStanding } from "../../core/standing/assess.ts";
import { sheetInForce } from "../../core/walk/craft-config.ts";
import type { Folded } from "../fold.ts";

/** How far the standing line looks ahead. */
export const horizon_h = 72;

export type Known = {
  readonly now_ms: number;
  /** Null where the operator's settings are missing or contradict each other. */
  readonly settings: OperatorSettings | null;
  readonly exchanged_ms: number | null;
  readonly unsent: number;
  readonly sheetOf: (hash: string) => Sheet | null;
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
  const { now_ms, settings, exchanged_ms, unsent } = known;
  const sheetHash = sheetInForce(folded.state, now_ms);
  const situation: Situation = {
    now_ms,
    horizon_ms: now_ms + horizon_h * hour_ms,
    settings: settings ?? unsettled,
    record: {
      newest_ms: folded.newest_ms,
      aside: folded.aside,
      exchanged_ms: settings === null ? null : exchanged_ms,
      unsent,
    },
  };
  const sheet = sheetHash === null ? null : known.sheetOf(sheetHash);
  return { sheetHash, sheet, situation, standing: standingOf(sheet, folded.state, situation) };
}
