// Experience of a commander of HEMS flights, as it was stated last: 1000 h as pilot in command, 500 of them on helicopters (or
// the way by co-pilot of HEMS flights), 500 h in an environment like this one, and by night 20 h in command by sight.
//
// Source: SPA.HEMS.130(b), from memory (no text was seen): the figures are shown with that paragraph, and the operator's
// own may be stricter. One pilot of a shift who has it all is the commander; a pilot of whom nothing was stated may be. The
// operations are those that the operator's table of minima binds, since that is what flies as HEMS. Published check:
// published/crew.test.ts.
import type { CommandStated } from "../facts/crew.ts";
import { atLeast } from "../quantity/compare.ts";

export const commandCite = "SPA.HEMS.130(b)";
export const commandFigures = { pic_h: 1000, helicopterPic_h: 500, similar_h: 500, nightPic_h: 20 } as const;
export type CommandFigure = keyof typeof commandFigures;

/** What a pilot has too little of for a HEMS flight by day or by night. */
export function commandLacks(stated: CommandStated, byNight: boolean): readonly CommandFigure[] {
  const asked: readonly CommandFigure[] = [
    ...(stated.asCoPilot ? [] : (["pic_h", "helicopterPic_h"] as const)),
    "similar_h",
    ...(byNight ? (["nightPic_h"] as const) : []),
  ];
  return asked.filter((figure) => !atLeast(stated[figure], commandFigures[figure]));
}
