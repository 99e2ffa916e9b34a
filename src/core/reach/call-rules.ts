// What a call is held to by rules that no standing can judge without one: the worksheet of risk before the first leg (US), the
// highest obstacle of the route written down (US), oxygen above 10,000 ft.
//
//   worksheet   14 CFR 135.617 (text): signed since the last landing and whole. Nobody signed, or not released above the
//               operator's level: not met. A factor or the other operator's refusal not answered: not known
//   obstacle    14 CFR 135.615 (text): before a flight by sight the highest obstacle of the route is written down, and it is
//               cleared by 300 ft by day, 500 ft by night; in flight it was before. Not written: not known. A height of
//               cruise that was stated is held to it; where none was, the least that clears it counts as flown
//   oxygen      CAT.OP.MPA.285, SPA.HEMS.110(d) (rules/oxygen.ts): minutes above 10,000 ft pressure altitude against those
//               that need none, or against what the bottles aboard give everybody. A leg counts as flown at the highest of its
//               two ends, the height of cruise and what clears the obstacle, from its first minute to its last
//   alternate   CAT.OP.MPA.181 (memory); 14 CFR 91.169, 135.223 (text): a flight by instruments starts with an alternate unless
//               none is required, which the commander says; neither said: the fuel is not known. In flight it was before
// A reference call and a map have no worksheet and no route of their own: `notAsked` of what is known says so.
import { latestWorksheet, worksheetLacks } from "../due/assess-flights.ts";
import { own } from "../facts/own.ts";
import { readingVerdict } from "../level/reading-verdict.ts";
import { latestReadings } from "../level/assess.ts";
import { above } from "../quantity/compare.ts";
import { minutesWithout, oxygenFrom_ft } from "../rules/oxygen.ts";
import { usObstacleClearance } from "../rules/us-minima.ts";
import type { Call, CallKnown, Margin } from "./call.ts";
import { isBroken, marginOf, notKnown } from "./call-margin.ts";
import type { Route } from "./call-route.ts";
import { type SiteAir, siteAir } from "./site-limits.ts";

type Asked = {
  readonly call: Call;
  readonly route: Route;
  /** At each place, the start first. */
  readonly airs: readonly (SiteAir | null)[];
  readonly isNight: boolean;
};

export function ruleMargins(known: CallKnown, asked: Asked): readonly Margin[] {
  const { call, route, airs, isNight } = asked;
  const oxygen = oxygenOf(known, call, airs, isNight);
  return [
    ...worksheetMargins(known, call),
    ...obstacleMargins(known, call, isNight),
    ...alternateMargins(call),
    ...oxygenMargins(
      oxygen,
      isNight,
      route.legs.map(({ hours }) => hours),
    ),
  ];
}

function worksheetMargins({ state, situation, notAsked = [] }: CallKnown, call: Call): readonly Margin[] {
  const { settings, now_ms } = situation;
  if (settings.ruleSet !== "us" || call.isAirborne || notAsked.includes("worksheet")) return [];
  const rules = (settings.flightRules ?? []).filter(({ worksheet }) => worksheet !== null);
  if (rules.length === 0) return [notKnown("worksheet", "rules")];
  const until_ms = Math.max(now_ms, call.depart_ms);
  const signed = latestWorksheet(state, until_ms);
  if (signed === null) return [{ ...isBroken("worksheet"), what: "signature" }];
  return worksheetLacks(state, signed, rules, until_ms).map((lack) =>
    lack === "factor" || lack === "refusal"
      ? notKnown("worksheet", lack)
      : { ...isBroken("worksheet"), what: lack },
  );
}

/** What clears the obstacle that was written down; null where none was, or where nobody has to. */
function clears_ft(
  { situation, notAsked = [] }: CallKnown,
  { heights }: Call,
  isNight: boolean,
): number | null {
  const obstacle_ft = heights?.highestObstacle_ft ?? null;
  if (obstacle_ft === null || notAsked.includes("obstacle") || situation.settings.ruleSet !== "us")
    return null;
  return obstacle_ft + usObstacleClearance[isNight ? "night_ft" : "day_ft"];
}

/** A thousand feet of room count as the whole of what is needed. */
const scale_ft = 1_000;

function obstacleMargins(known: CallKnown, call: Call, isNight: boolean): readonly Margin[] {
  const { situation, notAsked = [] } = known;
  const isAsked = call.flightRules === "vfr" && !call.isAirborne && !notAsked.includes("obstacle");
  if (situation.settings.ruleSet !== "us" || !isAsked) return [];
  const least_ft = clears_ft(known, call, isNight);
  if (least_ft === null) return [notKnown("obstacle", "notWritten")];
  const cruise_ft = call.heights?.cruise_ft ?? null;
  if (cruise_ft === null) return [{ ...isBroken("obstacle"), met: true, unit: "ft", limit: least_ft }];
  return [marginOf("obstacle", cruise_ft - least_ft, "ft", cruise_ft, least_ft, scale_ft)];
}

function alternateMargins(call: Call): readonly Margin[] {
  const isSaid = call.alternate !== null || call.isAlternateNotRequired === true;
  if (call.flightRules !== "ifr" || call.isAirborne || isSaid) return [];
  // It holds for the whole call, from its start.
  return [{ ...notKnown("fuel", "alternate"), stop: -1 }];
}

// ---- oxygen ------------------------------------------------------------------------------------------------------------

/** What of the question does not depend on how long the legs last. */
export type OxygenAsked = {
  /** Per leg: whether it is flown above 10,000 ft. */
  readonly legsAbove: readonly boolean[];
  readonly staysAbove_min: number;
  /** Minutes above that need no oxygen, by day and by night. */
  readonly without_min: { readonly day: number; readonly night: number };
  /** What is carried, in minutes for everybody aboard; NaN where it is not known. */
  readonly carried_min: number;
};

/** Null where nothing is above 10,000 ft. */
export function oxygenOf(
  known: CallKnown,
  call: Call,
  airs: readonly (SiteAir | null)[],
  isNight: boolean,
): OxygenAsked | "notKnown" | null {
  const { situation } = known;
  const cruise_ft = call.heights?.cruise_ft ?? clears_ft(known, call, isNight);
  const cruise = cruise_ft === null ? undefined : siteAir(cruise_ft, call.air);
  // Where a craft in flight is now, no site is.
  const at = airs.map((air, place) =>
    air === null ? (place === 0 && call.isAirborne ? -Infinity : Number.NaN) : air.pressureAltitude_ft,
  );
  if (cruise === null || at.some(Number.isNaN)) return "notKnown";
  const heights = call.stops.map((_, leg) =>
    Math.max(at[leg]!, at[leg + 1]!, cruise?.pressureAltitude_ft ?? Number.NEGATIVE_INFINITY),
  );
  const highest_ft = Math.max(...heights);
  if (!above(highest_ft, oxygenFrom_ft)) return null;
  const { ruleSet, minimaUses = [] } = situation.settings;
  const isHems = minimaUses.some((use) => use.ruleSet === "eu" && use.operation === call.operation);
  const question = { ruleSet: ruleSet ?? "eu", isHems, highest_ft } as const;
  return {
    legsAbove: heights.map((height_ft) => above(height_ft, oxygenFrom_ft)),
    staysAbove_min: call.stops
      .slice(0, -1)
      .reduce((sum, { stay_min }, stop) => sum + (above(at[stop + 1]!, oxygenFrom_ft) ? stay_min : 0), 0),
    without_min: {
      day: minutesWithout({ ...question, light: "day" }),
      night: minutesWithout({ ...question, light: "night" }),
    },
    carried_min: carriedPersonMinutes(known) / mostAboard(known, call),
  };
}

/** How long one person could breathe from what is installed; NaN where nobody recorded whether it is, or what it reads. */
function carriedPersonMinutes({ sheet, state, situation }: CallKnown): number {
  return sheet.equipment.reduce((sum, { id, breathing }) => {
    if (breathing === undefined) return sum;
    const facts = own(state.equipment, id) ?? [];
    if (facts.some(({ installed }) => !installed)) return sum;
    const gauge = sheet.gauges.find((one) => one.id === breathing.gauge);
    const read = latestReadings(state, breathing.gauge, situation.now_ms);
    const isKnown =
      facts.length > 0 &&
      gauge !== undefined &&
      read.length > 0 &&
      read.every((one) => one.withdrawn === undefined && readingVerdict(gauge, one).is === "inside");
    return isKnown ? sum + breathing.person_min : Number.NaN;
  }, 0);
}

/** Everybody who is aboard at the same time, at the most: as loaded, or every seat where nobody loaded. */
function mostAboard({ sheet, state }: CallKnown, call: Call): number {
  const { loadings } = state.load;
  const crew =
    loadings.length === 0 ? sheet.seats.length : Math.max(...loadings.map(({ persons }) => persons.length));
  let boarded = call.aboard.length;
  let most = boarded;
  for (const { leaves, boards } of call.stops) {
    boarded += boards.length - leaves.length;
    most = Math.max(most, boarded);
  }
  return Math.max(1, crew + most);
}

/** What is above 10,000 ft of a call with such legs, and what it may be: the one a map takes cell by cell. */
export function oxygenRoom(
  { legsAbove, staysAbove_min, without_min, carried_min }: OxygenAsked,
  isNight: boolean,
  hours: readonly number[],
): { readonly minutes: number; readonly allowed_min: number } {
  let minutes = staysAbove_min;
  for (let leg = 0; leg < legsAbove.length; leg += 1) if (legsAbove[leg]) minutes += hours[leg]! * 60;
  const without = without_min[isNight ? "night" : "day"];
  // Enough without any: then what is carried need not be known.
  const allowed_min =
    Number.isNaN(carried_min) && !above(minutes, without) ? without : Math.max(without, carried_min);
  return { minutes, allowed_min };
}

function oxygenMargins(
  asked: OxygenAsked | "notKnown" | null,
  isNight: boolean,
  hours: readonly number[],
): readonly Margin[] {
  if (asked === null) return [];
  if (asked === "notKnown") return [notKnown("oxygen", "height")];
  const { minutes, allowed_min } = oxygenRoom(asked, isNight, hours);
  const scale = Math.max(minutes, 1);
  return [marginOf("oxygen", allowed_min - minutes, "min", minutes, allowed_min, scale)];
}
