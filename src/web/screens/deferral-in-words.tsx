// How long a deferral would hold, in words: the last day with the rule that gives it, when it lapses, what it takes away and
// what has to be done first. By the same terms as the standing judges it.
import { deferralTerm } from "../../core/due/deferral-term.ts";
import type { FindingFacts } from "../../core/facts/craft.ts";
import { deferralRulesOf } from "../../core/rules/deferral-rules.ts";
import { dateLong, timeSeenFrom } from "../../present/words/formats.ts";
import type { CraftView } from "../device/model.ts";
import { useLocale } from "../parts/words.tsx";
import { useNames, useSnapshot } from "./app-context.tsx";
import { useOfficeWords } from "./use-office-words.ts";

type DeferralInWordsProps = {
  readonly craft: CraftView;
  readonly finding: FindingFacts;
  readonly deferral: string;
};

export function DeferralInWords({ craft, finding, deferral }: DeferralInWordsProps) {
  const { deferral: words } = useOfficeWords();
  const { now_ms, zone, operator } = useSnapshot();
  const locale = useLocale();
  const names = useNames(craft);
  const listed = craft.sheet?.deferrals.find(({ id }) => id === deferral);
  if (listed === undefined) return null;
  const record = {
    recorded_ms: finding.raised.at_ms,
    deferred_ms: now_ms,
    steps: finding.deferralSteps,
    flights: craft.state.flights,
  };
  const settings = { exchangeLimit_min: 1, ruleSet: operator.state.crew.rules[0]?.ruleSet ?? null };
  const term = deferralTerm(listed, record, { ...settings, zone });
  const inUtc = deferralTerm(listed, record, { ...settings, zone: "UTC" });
  const { language } = locale;
  const ruled = settings.ruleSet === null ? null : deferralRulesOf(settings.ruleSet).interval;
  const counted = { A: listed.interval_days ?? 0, B: 3, C: 10, D: 120 }[listed.category];
  return (
    <div className="stack" data-deferral={listed.id}>
      {term.lastDay === null ? (
        <p>{words.byFlying}</p>
      ) : (
        <p>
          <b>{words.lastDay(words.days(String(counted)), dateLong(term.lastDay, locale))}</b>{" "}
          {term.expires_ms !== null && words.ends(timeSeenFrom(now_ms, term.expires_ms, locale), zone)}
        </p>
      )}
      {inUtc.lastDay !== null && inUtc.lastDay !== term.lastDay && (
        <p>{words.differs(dateLong(inUtc.lastDay, locale))}</p>
      )}
      {ruled !== null && <p className="small quiet">{words.by(`${ruled.cite}, ${ruled.edition}`)}</p>}
      {listed.takesAway !== undefined && listed.takesAway.length > 0 && (
        <p>{words.takesAway(listed.takesAway.map((id) => names.of("operation", id)).join(", "))}</p>
      )}
      {listed.conditions !== undefined && <p>{listed.conditions[language]}</p>}
      {(listed.operational !== undefined || listed.maintenance !== undefined) && (
        <p>
          {words.procedures} {listed.operational?.[language]} {listed.maintenance?.[language]}
        </p>
      )}
    </div>
  );
}
