// How screens say a standing: what ends first, who can clear a reason, what operations are called.
import type { Reason } from "../../core/facts/reason.ts";
import type { OperationStanding } from "../../core/standing/assess.ts";
import type { Names } from "../../present/names.ts";
import { reasonWords } from "../../present/reasons.ts";
import { insideSentence } from "../../present/sentence-case.ts";
import { timeSeenFrom } from "../../present/words/formats.ts";
import type { Locale } from "../../present/words/language.ts";
import { phraseText } from "../../present/words/phrase.ts";
import { wordsIn } from "../../present/words/words.ts";

export type Teller = { readonly names: Names; readonly locale: Locale; readonly now_ms: number };

/** The reason in one plain line. */
export function reasonLine(reason: Reason, teller: Teller): string {
  return phraseText(reasonWords({ reason, ...teller }).title);
}

/** Until when the present standing holds and what then; null when nothing changes within sight. */
export function endsFirst({ next }: OperationStanding, teller: Teller): string | null {
  if (next === null) return null;
  const { standing } = wordsIn(teller.locale.language);
  const time = timeSeenFrom(teller.now_ms, next.at_ms, teller.locale);
  const [cause] = [...next.begins, ...next.lapses];
  const what =
    cause === undefined
      ? standing.verdictLow[next.to]
      : insideSentence(reasonLine(cause, teller), teller.locale.language);
  return standing.untilThen(time, what);
}

const effectOf = { notReady: "blocks", notKnown: "unknown", withinLimits: "limits", ready: null } as const;

/** What makes the verdict what it is: of its reasons of the worst effect the soonest to clear; null when it is ready. */
export function decidingReason({ verdict, reasons }: OperationStanding): Reason | null {
  return reasons.find(({ effect }) => effect === effectOf[verdict]) ?? null;
}

/** What would clear a reason, and how soon or by whom. */
export function clearedBy(reason: Reason, teller: Teller): string {
  const { remedy } = reasonWords({ reason, ...teller });
  return `${clearsBy(reason, teller.locale)}: ${remedy}`;
}

const engineers: readonly string[] = [
  "finding.toEngineer",
  "event.clear",
  "level.toEngineer",
  "custody.return",
  "needs.install",
];

/** The right edge of a reason: how soon it can be cleared, or by whom. */
export function clearsBy({ remedy }: Reason, { language }: Locale): string {
  const { clearance, clearanceWho } = wordsIn(language).standing;
  if (remedy.clearance !== "someone") return clearance[remedy.clearance];
  return engineers.includes(remedy.code) ? clearanceWho.engineer : clearanceWho.office;
}
