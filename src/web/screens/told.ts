// How screens say a standing: what ends first, who can clear a reason, what operations are called.
import type { Reason } from "../../core/facts/reason.ts";
import type { OperationStanding } from "../../core/standing/assess.ts";
import { compareVerdicts } from "../../core/standing/combine.ts";
import type { Change } from "../../core/standing/combine.ts";
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

/**
 * Until when the present standing holds and what then; null when nothing changes within sight. Where it ends first by
 * something that its crew renews every day, that is said as what it is: to be done by then.
 */
export function endsFirst(
  { next, kept, verdict }: Pick<OperationStanding, "next" | "kept" | "verdict">,
  teller: Teller,
): string | null {
  if (next === null) return null;
  const renewal = compareVerdicts(verdict, "withinLimits") <= 0 ? renewalOf(next, kept.next) : null;
  if (renewal === null) return untilThen(next, teller);
  const { standing } = wordsIn(teller.locale.language);
  const time = timeSeenFrom(teller.now_ms, next.at_ms, teller.locale);
  const renew = standing.renewBy(time, reasonWords({ reason: renewal, ...teller }).remedy);
  return kept.next === null ? renew : `${untilThen(kept.next, teller)}; ${renew}`;
}

/** What makes the first change, where that change does not come as long as the crew keeps up its renewals. */
function renewalOf(next: Change, kept: Change | null): Reason | null {
  return kept !== null && kept.at_ms <= next.at_ms ? null : (next.begins[0] ?? null);
}

function untilThen(change: Change, teller: Teller): string {
  const { standing } = wordsIn(teller.locale.language);
  const time = timeSeenFrom(teller.now_ms, change.at_ms, teller.locale);
  return standing.untilThen(time, causeOf(change, teller));
}

/** What makes a change, in one line inside a sentence. */
export function causeOf({ begins, lapses, to }: Change, teller: Teller): string {
  const [cause] = [...begins, ...lapses];
  return cause === undefined
    ? wordsIn(teller.locale.language).standing.verdictLow[to]
    : insideSentence(reasonLine(cause, teller), teller.locale.language);
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
  "finding.release",
  "event.clear",
  "level.toEngineer",
  "custody.return",
  "needs.install",
];

/** The right edge of a reason: how soon it can be cleared, or by whom. */
export function clearsBy({ remedy }: Pick<Reason, "remedy">, { language }: Locale): string {
  const { clearance, clearanceWho } = wordsIn(language).standing;
  if (remedy.clearance !== "someone") return clearance[remedy.clearance];
  return engineers.includes(remedy.code) ? clearanceWho.engineer : clearanceWho.office;
}
