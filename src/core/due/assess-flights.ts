// Assesses the flight log: flights that were not logged, what nobody was asked, and the record against the hour meter.
//
//   underway           a flight that took off and is not logged: blocks (CAT.GEN.MPA.105; 14 CFR 135.65: written at its end)
//   exceedanceNotSaid  nobody answered whether a limit was exceeded: unknown. What was exceeded stands among the events
//   meterFell          a meter (hours, or counts where the sheet names one) shows less than it did: unknown, until a new base is signed with a reason
//   meterDiffers       meter and record differ by more than the tolerance of its kind: unknown, until the same
//   notReconciled      the day of the last flight is over and the meter was not read after it: advises (common practice)
//   worksheetDue       US: no worksheet of risk signed since the last landing: advises while the craft stands by, as a launch
//                      walk does; a call is not acceptable without it (reach/call-rules.ts)
//   worksheetLacks     US: a worksheet that is not whole: unknown for what was not answered, blocks for what was not released
// Flights before the latest signed base are the base's affair. Source of the worksheet: 14 CFR 135.617 (text).
import { endOfDayAt } from "../facts/calendar.ts";
import type { CraftState, Worksheet } from "../facts/craft.ts";
import { riskGroups } from "../facts/flight-rules.ts";
import type { FlightRules, RiskGroup } from "../facts/flight-rules.ts";
import { own } from "../facts/own.ts";
import type { ReasonCode } from "../facts/reason-codes.ts";
import type { Reason } from "../facts/reason.ts";
import type { OperatorSettings, Situation } from "../facts/situation.ts";
import { riskLacks } from "../rules/risk-worksheet.ts";
import type { RiskLack, RiskWorksheet } from "../rules/risk-worksheet.ts";
import type { Sheet } from "../sheet/schema.ts";
import { metersRead } from "./hour-meter.ts";
import type { MeterRead } from "./hour-meter.ts";

type Parts = Pick<Reason, "effect"> & Partial<Reason> & { readonly code: ReasonCode; readonly cite: string };

function reasonOf({ cite, ...parts }: Parts): Reason {
  return {
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: { kind: "rule", rule: cite, edition: "as stored 2025", cite },
    evidence: [],
    remedy: { code: "flight.log", clearance: "minute" },
    facts: {},
    ...parts,
  };
}

/** The least tolerance of all that were set; none set: nothing beyond what the meter can be read to. */
export function meterTolerance(rules: readonly FlightRules[] = []): number {
  const set = rules.flatMap(({ meter }) => (meter === null ? [] : [meter.tolerance_h]));
  return set.length === 0 ? 0 : Math.min(...set);
}

function meterReasons(sheet: Sheet, state: CraftState, { settings }: Situation): Reason[] {
  const meters = metersRead(sheet, state, meterTolerance(settings.flightRules));
  return meters.flatMap((meter) => reasonsOfMeter(meter, state, settings));
}

function reasonsOfMeter(
  { counter, fell, latest }: MeterRead,
  state: CraftState,
  settings: OperatorSettings,
): Reason[] {
  const remedy = { code: "flight.reconcile", clearance: "someone" } as const;
  const cite = "M.A.305; counters reconciled daily (common practice)";
  const fallen = fell.map(({ reading, from }) =>
    reasonOf({
      code: "flight.meterFell",
      effect: "unknown",
      cite,
      remedy,
      evidence: [from.entry, reading.entry],
      facts: { counter, read: reading.value, before: from.value },
    }),
  );
  const differing =
    latest?.differs === true
      ? [
          reasonOf({
            code: "flight.meterDiffers",
            effect: "unknown",
            cite,
            remedy,
            evidence: [latest.reading.entry],
            facts: { counter, read: latest.reading.value, counted: latest.counted },
          }),
        ]
      : [];
  // Hours grow with every flight; what is counted one by one is read again once a flight added to it.
  const adding = state.flights.filter((flight) => counter === "flightHours_h" || flight[counter] !== 0);
  const landed_ms = Math.max(...adding.map(({ on_ms }) => on_ms));
  const base_ms = Math.max(...state.due.bases.map(({ at_ms }) => at_ms));
  const isOpen = landed_ms > base_ms && (latest === null || latest.reading.at_ms < landed_ms);
  const late = isOpen
    ? [
        reasonOf({
          code: "flight.notReconciled",
          effect: "advises",
          cite,
          from_ms: endOfDayAt(landed_ms, settings.zone),
          remedy: { code: "flight.readMeter", clearance: "minute" },
          facts: { counter, landed_ms },
        }),
      ]
    : [];
  return [...fallen, ...differing, ...late];
}

/** Scores by group, as the rule groups them; a group with a factor that nobody scored has none. */
export function scoresByGroup(
  { scores }: Pick<Worksheet, "scores">,
  factors: NonNullable<FlightRules["worksheet"]>["factors"],
): RiskWorksheet["scores"] {
  const sumOf = (group: RiskGroup): number | undefined => {
    const each = factors.filter((factor) => factor.group === group).map(({ id }) => own(scores, id));
    return each.length === 0 || each.includes(undefined)
      ? undefined
      : each.reduce<number>((sum, score) => sum + (score ?? 0), 0);
  };
  return Object.fromEntries(
    riskGroups.flatMap((group) => {
      const sum = sumOf(group);
      return sum === undefined ? [] : [[group, sum] as const];
    }),
  );
}

/** The worksheet for the flight to come, as each of the operator's rules asks it; null where none was signed for it. */
export function worksheetNow(state: CraftState, { at_ms, entry, ...sheet }: Worksheet, rules: FlightRules) {
  const { worksheet } = rules;
  return {
    scores: worksheet === null ? {} : scoresByGroup(sheet, worksheet.factors),
    refusedElsewhere: sheet.refusedElsewhere,
    releaseAbove: worksheet?.releaseAbove ?? Number.NEGATIVE_INFINITY,
    released: sheet.released !== null,
    signed_ms: at_ms,
    entry,
    landed_ms: Math.max(...state.flights.map(({ on_ms }) => on_ms)),
  };
}

/** The newest worksheet that was signed since the last landing; null where none was. */
export function latestWorksheet(state: CraftState, until_ms: number): Worksheet | null {
  const landed_ms = Math.max(...state.flights.map(({ on_ms }) => on_ms));
  const signed = state.worksheets.filter(({ at_ms }) => at_ms >= landed_ms && at_ms <= until_ms);
  return signed.toSorted((a, b) => b.at_ms - a.at_ms || (a.entry < b.entry ? 1 : -1))[0] ?? null;
}

/** What each of the operator's rules finds missing on it, for a flight at that time. */
export function worksheetLacks(
  state: CraftState,
  signed: Worksheet,
  rules: readonly FlightRules[],
  off_ms: number,
): readonly RiskLack[] {
  const lacks = rules.flatMap((one) =>
    riskLacks(worksheetNow(state, signed, one), Math.max(off_ms, signed.at_ms)),
  );
  return [...new Set(lacks)];
}

function worksheetReasons(state: CraftState, { settings, now_ms }: Situation): Reason[] {
  const cite = "14 CFR 135.617";
  if (settings.ruleSet !== "us") return [];
  const rules = (settings.flightRules ?? []).filter(({ worksheet }) => worksheet !== null);
  const remedy = { code: "flight.worksheet", clearance: "minute" } as const;
  const lacking = (lack: string, effect: "unknown" | "blocks", evidence: readonly string[]): Reason =>
    reasonOf({ code: "flight.worksheetLacks", effect, cite, remedy, evidence, facts: { lack } });
  if (rules.length === 0) return [lacking("rules", "unknown", [])];
  const latest = latestWorksheet(state, now_ms);
  if (latest === null) return [reasonOf({ code: "flight.worksheetDue", effect: "advises", cite, remedy })];
  const lacks = worksheetLacks(state, latest, rules, now_ms);
  return lacks.map((lack) => lacking(lack, lack === "release" ? "blocks" : "unknown", [latest.entry]));
}

export function assessFlights(sheet: Sheet, state: CraftState, situation: Situation): Reason[] {
  const { settings, horizon_ms }: { settings: OperatorSettings; horizon_ms: number } = situation;
  const base_ms = Math.max(...state.due.bases.map(({ at_ms }) => at_ms));
  const underway = state.underway.map(({ entry, off_ms, flight }) =>
    reasonOf({
      code: "flight.underway",
      effect: "blocks",
      cite: settings.ruleSet === "us" ? "14 CFR 135.65" : "CAT.GEN.MPA.105",
      evidence: [entry],
      facts: { flight, off_ms },
    }),
  );
  const unasked = state.flights.filter(({ exceedance, on_ms }) => exceedance === null && on_ms > base_ms);
  const notSaid =
    unasked.length === 0
      ? []
      : [
          reasonOf({
            code: "flight.exceedanceNotSaid",
            effect: "unknown",
            cite: "M.A.403(b); AMC M.A.301(a)",
            remedy: { code: "flight.answer", clearance: "minute" },
            evidence: unasked.map(({ entry }) => entry).toSorted(),
            facts: {
              count: unasked.length,
              off_ms: unasked.reduce((min, { off_ms }) => Math.min(min, off_ms), Infinity),
            },
          }),
        ];
  return [
    ...underway,
    ...notSaid,
    ...meterReasons(sheet, state, situation),
    ...worksheetReasons(state, situation),
  ].filter(({ from_ms }) => from_ms === null || from_ms < horizon_ms);
}
