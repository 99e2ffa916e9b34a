// A person's word on two records that look alike (core/facts/look-alikes.ts): one flight or uplift written twice, or two.
//
// Of one matter the record that `counts` stays where it was, the other is kept aside and counted nowhere. Words that
// disagree undo each other: both records count again, and it is asked anew. A record is only taken out for one that
// itself counts, so that no chain of words can lose the matter altogether.
import { z } from "zod";
import { agreed, wordsOn } from "../../core/facts/look-alikes.ts";
import type { CraftState, LookAlikeDecided } from "../../core/facts/craft.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { refuse } from "../entry-type.ts";
import { beside, craftEntry, instant, madeId, replaces, words } from "./shapes.ts";

const decided = z.strictObject({
  matter: z.enum(["flight", "uplift"]),
  one: madeId,
  other: madeId,
  says: z.enum(["same", "two"]),
  counts: madeId.nullable(),
  words,
  at: instant,
  replaces,
});

/** Ids that are a second record, by the words that stand. */
function secondRecords(state: CraftState, matter: LookAlikeDecided["matter"]): ReadonlySet<string> {
  const out = new Set<string>();
  for (const word of state.lookAlikesDecided) {
    if (word.matter !== matter || agreed(wordsOn(state, matter, word.one, word.other)) === null) continue;
    const { counts, one, other } = word;
    if (counts !== null && !out.has(counts)) out.add(counts === one ? other : one);
  }
  return out;
}

/** Those that count first, in their order, then those that count again. */
function sorted<Fact>(
  held: readonly Fact[],
  twice: readonly Fact[],
  isSecond: (fact: Fact) => boolean,
): readonly [counted: readonly Fact[], second: readonly Fact[]] {
  const all = [...held, ...twice];
  return [all.filter((fact) => !isSecond(fact)), all.filter(isSecond)];
}

function settled(state: CraftState): CraftState {
  const [flightsOut, upliftsOut] = [secondRecords(state, "flight"), secondRecords(state, "uplift")];
  const [flights, flightsTwice] = sorted(state.flights, state.flightsTwice, ({ flight }) =>
    flightsOut.has(flight),
  );
  const [uplifts, upliftsTwice] = sorted(state.uplifts, state.upliftsTwice, ({ uplift }) =>
    upliftsOut.has(uplift),
  );
  return { ...state, flights, flightsTwice, uplifts, upliftsTwice };
}

function holds(state: CraftState, matter: LookAlikeDecided["matter"], id: string): boolean {
  return matter === "flight"
    ? [...state.flights, ...state.flightsTwice].some(({ flight }) => flight === id)
    : [...state.uplifts, ...state.upliftsTwice].some(({ uplift }) => uplift === id);
}

/** Taking a record out of the sums is looser: not for everybody who may write one. */
export const lookAlikeEntries = [
  craftEntry(
    "lookAlike.decided",
    decided,
    (state, { at, replaces: replaced, ...body }, { id, by }) => {
      const { matter, one, other, says, counts } = body;
      if (one === other) return refuse("oneRecordOnly", "other", other, "another record than the first");
      for (const [path, named] of [
        ["one", one],
        ["other", other],
      ] as const)
        if (!holds(state, matter, named))
          return refuse("recordNotHeld", path, named, `a ${matter} of this ledger`);
      if (says === "same" ? counts !== one && counts !== other : counts !== null)
        return refuse(
          "countsWrong",
          "counts",
          String(counts),
          "one of the two exactly when they are the same",
        );
      const fact = { entry: id, by, at_ms: instantToMs(at), ...body };
      return settled({ ...state, lookAlikesDecided: beside(state.lookAlikesDecided, replaced, fact) });
    },
    ["pilot", "engineer", "airworthiness"],
  ),
] as const;
