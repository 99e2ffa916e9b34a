// Assesses the record itself: is it whole, is it fresh, does the clock make sense? (law 1: unknown is never ready)
//
// In: the craft's folded state and how whole the record is on this device. Out: reasons, all of them `unknown` or
// `advises`: a doubtful record never grounds by itself, but nothing may be called ready on it. Recording goes on.
import type { CraftState } from "../facts/craft.ts";
import { minute_ms } from "../facts/instant.ts";
import type { Reason } from "../facts/reason.ts";
import type { Situation } from "../facts/situation.ts";

const law = { kind: "law", law: "unknownIsNeverReady" } as const;

type Doubt = Pick<Reason, "code" | "evidence" | "remedy" | "facts"> & { readonly from_ms?: number | null };

function doubt({ from_ms = null, ...rest }: Doubt): Reason {
  return { effect: "unknown", operations: "all", from_ms, until_ms: null, source: law, ...rest };
}

function assessAside({ record }: Situation): Reason[] {
  const byCode = Map.groupBy(record.aside, ({ code }) => code);
  return [...byCode].map(([code, entries]) =>
    doubt({
      code: "record.aside",
      evidence: entries.map(({ id }) => id),
      remedy: { code: "record.settleAside", clearance: "someone" },
      facts: {
        why: code,
        count: entries.length,
        types: [...new Set(entries.map(({ type }) => type))].join(", "),
      },
    }),
  );
}

function assessClock({ now_ms, record }: Situation): Reason[] {
  if (record.newest_ms === null || now_ms >= record.newest_ms) return [];
  return [
    doubt({
      code: "record.clockBack",
      evidence: [],
      remedy: { code: "record.setClock", clearance: "minute" },
      facts: { now_ms, newest_ms: record.newest_ms },
    }),
  ];
}

function latest_ms(instants: readonly number[]): number | null {
  return instants.length === 0 ? null : Math.max(...instants);
}

function assessExchange(state: CraftState, { record, settings }: Situation): Reason[] {
  const confirmed = state.exchangeConfirmed;
  const vouched_ms = latest_ms([
    ...(record.exchanged_ms === null ? [] : [record.exchanged_ms]),
    ...confirmed.map(({ at_ms }) => at_ms),
  ]);
  const evidence = confirmed.map(({ entry }) => entry);
  const remedy = { code: "record.exchangeOrConfirm", clearance: "minute" } as const;
  if (vouched_ms === null) {
    return [doubt({ code: "record.neverExchanged", evidence, remedy, facts: {} })];
  }
  const takenOver_ms = latest_ms(
    state.custody.filter(({ custody }) => custody === "crew").map(({ at_ms }) => at_ms),
  );
  const stale_ms = vouched_ms + settings.exchangeLimit_min * minute_ms;
  const reasons = [
    doubt({
      code: "record.exchangeOld",
      from_ms: stale_ms,
      evidence,
      remedy,
      facts: { vouched_ms, limit_min: settings.exchangeLimit_min },
    }),
  ];
  if (takenOver_ms !== null && vouched_ms < takenOver_ms) {
    reasons.push(
      doubt({
        code: "record.notExchangedSinceTakeover",
        evidence,
        remedy,
        facts: { vouched_ms, takenOver_ms },
      }),
    );
  }
  return reasons;
}

/** Reasons that follow from the state of the record on this device. */
export function assessRecord(state: CraftState, situation: Situation): Reason[] {
  const opened =
    state.opened === null
      ? [
          doubt({
            code: "record.notOpened",
            evidence: [],
            remedy: { code: "record.openCraft", clearance: "someone" },
            facts: {},
          }),
        ]
      : [];
  return [
    ...opened,
    ...assessAside(situation),
    ...assessClock(situation),
    ...assessExchange(state, situation),
  ];
}
