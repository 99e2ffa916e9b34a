// All who judge a craft, in a part of the app that is loaded beside the first: the assessors, the sky with the sun, mass and
// balance. Whoever only asks who is there does not wait for them.
import type { CraftState } from "../../core/facts/craft.ts";
import { trackSun } from "../../core/sky/sun.ts";
import { judgeBeside } from "../../core/standing/judge-beside.ts";
import type { SkyJudge } from "../../core/standing/sky-row.ts";
import { standingOfCraft } from "../../ledger/craft/craft-standing.ts";
import type { Known, StandingOfCraft } from "../../ledger/craft/craft-standing.ts";
import type { Folded } from "../../ledger/fold.ts";

export type Judging = {
  readonly judge: SkyJudge;
  readonly standingOf: (folded: Folded<CraftState>, known: Known) => StandingOfCraft;
};

/** The sun as everybody here follows it. */
export const sun = trackSun();

export const judging: Judging = {
  judge: judgeBeside(sun),
  standingOf: standingOfCraft,
};
