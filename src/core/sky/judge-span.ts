// What the weather of one span of time says against needs and limits: reasons without their times.
//
// Every part that speaks counts and the worst is named; where something is certainly not met, that is the reason, and
// otherwise whatever is not known. A quantity that no part speaks of is not known.

import type { OperationId, Reason, Source } from "../facts/reason.ts";
import type { WeatherLimits, WeatherNeed, WindLimitNeed } from "./weather-question.ts";
import { ceilingAboveGround, type Measured, meetsCeiling } from "./ceiling-above-ground.ts";
import { freezingCodes, listedCodes, meetsMoisture, missingSenses, moistureCodes } from "./hazards.ts";
import type { Say, WeatherPart } from "./weather-line.ts";
import { meetsVisibility } from "./visibility.ts";
import { meetsSector, meetsTailwind, strongest, tailwind_kt } from "./wind-limits.ts";

/** One part of a report, with what is known of its station. */
export type JudgedPart = {
  readonly part: WeatherPart;
  readonly entry: string;
  readonly station: string;
  readonly station_ft: number | null;
  readonly temperature_C: number | null;
  readonly remarks: string | null;
  readonly recent: readonly string[];
  readonly isForecast: boolean;
};

export type SpanQuestion = {
  readonly place: string;
  readonly ground_ft: number;
  readonly needs: readonly WeatherNeed[];
  readonly limits: WeatherLimits;
};

export type Timeless = Omit<Reason, "from_ms" | "until_ms">;

/** Freezing rain is not met in warmer air at the ground; a generous bound on a station that cannot sense it. */
const noFreezingRainAbove_C = 5;

export function judgeSpan(question: SpanQuestion, parts: readonly JudgedPart[]): Timeless[] {
  return [
    ...question.needs.flatMap((need) => judgeNeed(question, need, parts)),
    ...question.limits.wind.flatMap((limit) => judgeWind(question, limit, parts)),
    ...judgeTailwind(question, parts),
    ...judgeHazards(question, parts),
    ...judgeDoubts(question, parts),
  ];
}

// ---- one way to judge anything -----------------------------------------------------------------------------------------

/** What one part says to one demand; `rank` orders the bad ones, lower is worse. */
type Finding = {
  readonly from: JudgedPart;
  readonly measured: Measured;
  readonly rank: number;
  readonly facts: Reason["facts"];
};

type Codes = { readonly bad: Reason["code"]; readonly unknown: Reason["code"] };

const notKnown: Source = { kind: "law", law: "unknownIsNeverReady" };

/** The worst finding as a reason: not met first, then not known, then that nothing speaks of it at all. */
function judged(
  findings: readonly Finding[],
  codes: Codes,
  operations: "all" | readonly OperationId[],
  source: Source,
  demand: Reason["facts"],
): Timeless[] {
  const bad = findings.filter(({ measured }) => measured === "notMet").toSorted((a, b) => a.rank - b.rank)[0];
  if (bad !== undefined) {
    return [
      {
        code: codes.bad,
        effect: "blocks",
        operations,
        source,
        evidence: [bad.from.entry],
        remedy: { code: "weather.wait", clearance: "time" },
        facts: { ...demand, ...saidBy(bad.from), ...bad.facts },
      },
    ];
  }
  const doubt = findings.find(({ measured }) => measured === "unknown");
  if (doubt === undefined && findings.length > 0) return [];
  return [
    {
      code: codes.unknown,
      effect: "unknown",
      operations,
      source: notKnown,
      evidence: doubt === undefined ? [] : [doubt.from.entry],
      remedy: { code: "weather.fetch", clearance: "minute" },
      facts: { ...demand, ...(doubt === undefined ? { station: null, by: null } : saidBy(doubt.from)) },
    },
  ];
}

function saidBy({ station, part }: JudgedPart): Reason["facts"] {
  return { station, by: part.by.text };
}

/** A finding of a statement: what is not sure may be worse, so that it is at best not known. */
function finding<Value>(
  from: JudgedPart,
  say: Say<Value> | null,
  judge: (value: Value) => {
    readonly measured: Measured;
    readonly rank: number;
    readonly facts: Reason["facts"];
  },
): Finding[] {
  if (say === null) return [];
  const { measured, rank, facts } = judge(say.value);
  return [{ from, rank, facts, measured: measured === "met" && !say.isSure ? "unknown" : measured }];
}

// ---- needs of an operation ---------------------------------------------------------------------------------------------

/** Of several pairs that would do, the one that is met, or else the one that fails least. */
function judgeNeed(question: SpanQuestion, need: WeatherNeed, parts: readonly JudgedPart[]): Timeless[] {
  const each = [need, ...(need.or ?? []).map((pair) => ({ ...need, ...pair }))].map((one) =>
    judgePair(question, one, parts),
  );
  // Of two that fail alike the one whose ceiling is met is told: it is the step that the sky at hand falls into.
  const badness = (reasons: readonly Timeless[]): number =>
    reasons.reduce(
      (sum, { effect, code }) =>
        sum + (effect === "blocks" ? 10 : 1) + (code.startsWith("weather.ceiling") ? 0.1 : 0),
      0,
    );
  return each.reduce((mildest, one) => (badness(one) < badness(mildest) ? one : mildest));
}

function judgePair(question: SpanQuestion, need: WeatherNeed, parts: readonly JudgedPart[]): Timeless[] {
  const { place, ground_ft } = question;
  const { ceiling_ft: needed_ft, visibility_m: needed_m, source } = need;
  const operations = [need.operation];
  const reasons: Timeless[] = [];
  if (needed_ft !== null) {
    const findings = parts.flatMap((from) =>
      finding(from, from.part.sky, (sky) => {
        const above = ceilingAboveGround(sky.ceiling, from.station_ft, ground_ft);
        const height_ft = above.ceiling_ft ?? above.atMost_ft;
        return {
          measured: meetsCeiling(above, needed_ft),
          rank: height_ft ?? Infinity,
          facts: { ceiling_ft: height_ft },
        };
      }),
    );
    const codes = { bad: "weather.ceilingBelow", unknown: "weather.ceilingNotKnown" } as const;
    reasons.push(...judged(findings, codes, operations, source, { place, ground_ft, needed_ft }));
  }
  if (needed_m !== null) {
    const findings = parts.flatMap((from) =>
      finding(from, from.part.visibility, (visibility) => ({
        measured: meetsVisibility(visibility, needed_m),
        rank: visibility?.value_m ?? Infinity,
        facts: { visibility_m: visibility?.value_m ?? null },
      })),
    );
    const codes = { bad: "weather.visibilityBelow", unknown: "weather.visibilityNotKnown" } as const;
    reasons.push(...judged(findings, codes, operations, source, { place, needed_m }));
  }
  return reasons;
}

// ---- wind --------------------------------------------------------------------------------------------------------------

const windCodes = { bad: "weather.windAbove", unknown: "weather.windNotKnown" } as const;
const groundWindCodes = { bad: "weather.windAboveOnGround", unknown: "weather.windNotKnown" } as const;

function judgeWind(question: SpanQuestion, limit: WindLimitNeed, parts: readonly JudgedPart[]): Timeless[] {
  const heading_deg = limit.turns === true ? null : question.limits.heading_deg;
  const findings = parts.flatMap((from) =>
    finding(from, from.part.wind, (wind) => {
      if (wind === null) return { measured: "unknown", rank: 0, facts: {} };
      const { speed_kt } = strongest(wind);
      return {
        measured: meetsSector(wind, limit, heading_deg),
        rank: -(speed_kt ?? 0),
        facts: { wind_kt: wind.speed_kt, gust_kt: wind.gust_kt },
      };
    }),
  );
  const { operations, source, id, wind_kt, gust_kt } = limit;
  const demand = { place: question.place, limit: id, limit_kt: wind_kt, gustLimit_kt: gust_kt ?? wind_kt };
  const { advises } = limit;
  if (advises === undefined) return judged(findings, windCodes, operations, source, demand);
  return judged(findings, groundWindCodes, operations, source, { ...demand, what: advises })
    .filter(({ effect }) => effect === "blocks")
    .map((reason) => ({ ...reason, effect: "advises" }));
}

function judgeTailwind(question: SpanQuestion, parts: readonly JudgedPart[]): Timeless[] {
  const { tailwind } = question.limits;
  if (tailwind === null) return [];
  const { limit_kt, heading_deg, source } = tailwind;
  const findings = parts.flatMap((from) =>
    finding(from, from.part.wind, (wind) => {
      if (wind === null) return { measured: "unknown", rank: 0, facts: {} };
      const component_kt = tailwind_kt(wind, heading_deg);
      return {
        measured: meetsTailwind(wind, heading_deg, limit_kt),
        rank: -(component_kt ?? 0),
        facts: { tailwind_kt: component_kt },
      };
    }),
  );
  const codes = { bad: "weather.tailwindAbove", unknown: "weather.windNotKnown" } as const;
  return judged(findings, codes, "all", source, { place: question.place, limit_kt, heading_deg });
}

// ---- what the weather is -----------------------------------------------------------------------------------------------

function judgeHazards(question: SpanQuestion, parts: readonly JudgedPart[]): Timeless[] {
  const { place, limits } = question;
  const { icing, forbidden } = limits;
  const present = (pick: (codes: readonly string[]) => string[]): Finding[] =>
    parts.flatMap((from) =>
      finding(from, from.part.weather, (codes) => {
        const found = pick(codes);
        return {
          measured: found.length === 0 ? "met" : "notMet",
          rank: 0,
          facts: { code: found[0] ?? null },
        };
      }),
    );
  const codes = (bad: Reason["code"]): Codes => ({ bad, unknown: "weather.notKnown" });
  const freezing = icing.isProtected
    ? []
    : judged(present(freezingCodes), codes("weather.freezing"), "all", icing.source, { place });
  const listed = judged(
    present((all) => listedCodes(all, forbidden.phenomena)),
    codes("weather.listed"),
    "all",
    forbidden.source,
    { place },
  );
  return uniqueByCode([...freezing, ...listed, ...judgeMoisture(question, parts)]);
}

function judgeMoisture(question: SpanQuestion, parts: readonly JudgedPart[]): Timeless[] {
  const { place, limits } = question;
  const { moistureBelow_C: limit_C, source, moistureSource = source } = limits.icing;
  if (limit_C === null) return [];
  const findings = parts.flatMap((from) =>
    finding(from, from.part.weather, (all) => {
      const { temperature_C } = from;
      const isObscured = from.part.sky?.value.isObscured ?? false;
      return {
        measured: meetsMoisture(all, isObscured, temperature_C, limit_C),
        rank: temperature_C ?? 0,
        facts: { code: moistureCodes(all)[0] ?? null, temperature_C },
      };
    }),
  );
  const codes = { bad: "weather.moisture", unknown: "weather.moistureNotKnown" } as const;
  return judged(findings, codes, "all", moistureSource, { place, limit_C });
}

/** The same thing not known is said once, whatever asked for it. */
function uniqueByCode(reasons: readonly Timeless[]): Timeless[] {
  const seen = new Set<string>();
  return reasons.filter(({ code, effect }) => {
    if (effect !== "unknown") return true;
    if (seen.has(code)) return false;
    seen.add(code);
    return true;
  });
}

// ---- doubts and advice -------------------------------------------------------------------------------------------------

function judgeDoubts(question: SpanQuestion, parts: readonly JudgedPart[]): Timeless[] {
  const { place, limits } = question;
  const reasons: Timeless[] = [];
  const say = (
    code: Reason["code"],
    effect: "unknown" | "advises",
    from: JudgedPart,
    facts: Reason["facts"],
  ): void => {
    const isSaid = reasons.some((each) => each.code === code && each.evidence[0] === from.entry);
    if (isSaid) return;
    reasons.push({
      code,
      effect,
      operations: "all",
      source: notKnown,
      evidence: [from.entry],
      remedy: { code: effect === "unknown" ? "weather.fetch" : "weather.observe", clearance: "minute" },
      facts: { place, ...saidBy(from), ...facts },
    });
  };
  for (const from of parts) {
    const { part, temperature_C } = from;
    const [what] = part.contradictions;
    if (what !== undefined) say("weather.contradicts", "unknown", from, { what });
    for (const sense of missingSenses(from.remarks)) {
      const isAsked = {
        thunderstorm: limits.forbidden.phenomena.includes("TS"),
        freezingRain: !limits.icing.isProtected && (temperature_C ?? 0) <= noFreezingRainAbove_C,
        presentWeather: true,
      }[sense];
      if (isAsked) say("weather.notSensed", "unknown", from, { sense });
    }
    const [recent] = freezingCodes(from.recent);
    if (recent !== undefined) say("weather.recentFreezing", "advises", from, { code: recent });
    const tower = part.sky?.value.clouds.find(({ kind }) => kind === "CB");
    if (tower !== undefined) say("weather.cumulonimbus", "advises", from, { base_ft: tower.base_ft });
  }
  return reasons;
}
