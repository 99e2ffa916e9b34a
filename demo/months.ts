// The twelve and a half months before the demo's two weeks, entry by entry: what flew, what was read and filled, walks
// (first on paper and typed in, later on tablets, some interrupted), findings judged and put right, work and releases.
//
// Same flights as the log that a short demo imports (levels.ts), so that both tell one story: the oil of Tinde's left
// engine begins to leak in month eleven. Nothing that was found here is open when the two weeks begin.
import type { FindingKind, Outcome, WalkKind } from "../src/core/facts/craft.ts";
import { countersNow } from "../src/core/due/counters.ts";
import { dueItems, leftOf } from "../src/core/due/assess-due.ts";
import { dateAt, dateLater } from "../src/core/facts/calendar.ts";
import { counterNames, positionKey } from "../src/core/facts/due.ts";
import type { Counters } from "../src/core/facts/due.ts";
import { own } from "../src/core/facts/own.ts";
import { hour_ms, minute_ms, msToInstant } from "../src/core/facts/instant.ts";
import { planToHash, planWalk } from "../src/core/walk/plan.ts";
import { paperPages } from "../src/ledger/craft/recorder.ts";
import { zeroCounters } from "../src/ledger/craft/fresh-balance.ts";
import { demoBase, demoCraft } from "./cast.ts";
import {
  conditionsAt,
  dayStart,
  draftOf,
  find,
  flownWhenOpened_h,
  load,
  logFlight,
  madeId,
  maintain,
  open,
  openedAt,
  stateOf,
  takeCustody,
  walkRound,
  write,
} from "./history.ts";
import type { Chapter, Telling, ToldBefore } from "./history.ts";
import { loggedDays, monthsAhead } from "./levels.ts";
import type { Flown } from "./levels.ts";
import { randomFrom } from "./random.ts";

/** Days before the end of the months from which walks are made on tablets, and no longer on paper. */
const fullOnTablet = 160;
const launchOnTablet = 40;
/** Of the walks on paper those of every so many days were typed in; the others lie in an invented binder. */
const typedEvery = 10;
/** Nothing is found in the last days of the months, so that all of it is put right before the two weeks. */
const quietDays = 12;

type Found = {
  readonly kind: FindingKind;
  readonly stop: string;
  readonly words: string;
  readonly outcome: Outcome;
  readonly deferral: string | null;
};

const whatIsFound: readonly Found[] = [
  { kind: "other", stop: "leftNose", words: "landing light dark", outcome: "defer", deferral: "d33-01" },
  { kind: "other", stop: "cockpit", words: "moving map freezes", outcome: "defer", deferral: "d34-02" },
  {
    kind: "other",
    stop: "leftCabin",
    words: "door stay does not hold",
    outcome: "defer",
    deferral: "d52-01",
  },
  { kind: "nick", stop: "leftFin", words: "stone nick, shallow", outcome: "watch", deferral: null },
  { kind: "chafe", stop: "rearBay", words: "loom touches an edge", outcome: "watch", deferral: null },
  { kind: "wear", stop: "rightSkid", words: "skid shoe thin at the heel", outcome: "watch", deferral: null },
  { kind: "scratch", stop: "leftCabin", words: "scratch in the paint", outcome: "accept", deferral: null },
  { kind: "corrosion", stop: "belly", words: "a spot of white bloom", outcome: "watch", deferral: null },
  { kind: "leak", stop: "rightEngine", words: "union wet, drips", outcome: "ground", deferral: null },
  { kind: "loose", stop: "leftEngine", words: "cowling latch loose", outcome: "ground", deferral: null },
];

type OpenFinding = { readonly finding: string; readonly found: Found; readonly dueBack: number };

/** Tells the months; answers, by craft, with what the two weeks go on from. */
export async function tellMonths(telling: Telling): Promise<readonly ToldBefore[]> {
  const { anchor_ms, days, seed } = telling;
  const craft = demoCraft.map((one, index) => {
    const until_ms = openedAt(telling);
    const ahead = monthsAhead(
      telling.sheet,
      one,
      seed + 500 + 10 * index,
      until_ms,
      flownWhenOpened_h(index),
    );
    const hours = { flown_h: ahead.from_h };
    const random = randomFrom(seed + 900 + index);
    const chapter: Chapter = { ...telling, craft: one, random, hours, gauges: ahead.gauges };
    const byDay = Map.groupBy(ahead.flown, ({ on_ms }) => dateAt(on_ms, demoBase.zone));
    return { chapter, byDay, open: [] as OpenFinding[] };
  });
  for (let back = loggedDays; back > 0; back -= 1) {
    const day_ms = dayStart(anchor_ms, days - 1 + back);
    for (const one of craft) {
      const { chapter, byDay } = one;
      const work_ms = day_ms + 4 * hour_ms;
      if (back === loggedDays) await open(chapter, work_ms, []);
      else await maintain(chapter, work_ms);
      one.open = await putRight(chapter, one.open, back, work_ms + 5 * minute_ms);
      await renew(chapter, back, work_ms + 20 * minute_ms);
      const flown = byDay.get(dateAt(day_ms + 12 * hour_ms, demoBase.zone)) ?? [];
      if (flown.length > 0) await tellDay(chapter, back, flown);
      const found = findToday(chapter, back);
      if (found !== null) {
        const at_ms = day_ms + 19 * hour_ms;
        const isPilots = found.outcome === "defer";
        const judge = isPilots ? chapter.craft.pilot : "p-brekke";
        const role = isPilots ? "pilot" : "engineer";
        const finding = await find(chapter, chapter.craft.crew, at_ms, { ...found, judge, role });
        const soon = found.outcome === "ground" ? 1 : chapter.random.whole(2, 8);
        one.open.push({ finding, found, dueBack: back - soon });
      }
    }
  }
  return craft.map(({ chapter: { hours, gauges } }) => ({ hours, gauges }));
}

function findToday({ random }: Chapter, back: number): Found | null {
  return random.chance(0.04) && back > quietDays ? random.pick(whatIsFound) : null;
}

/** A day on which it flew: taken over in the morning, walked, loaded, and walked again before each flight. */
async function tellDay(chapter: Chapter, back: number, flown: readonly Flown[]): Promise<void> {
  const { craft, random } = chapter;
  const [first] = flown;
  const begun_ms = first!.on_ms - Math.round(first!.flight_h * hour_ms) - 130 * minute_ms;
  const custody = { custody: "crew", words: "day shift", expectedEnd_ms: null } as const;
  await takeCustody(chapter, craft.pilot, begun_ms, custody);
  await load(chapter, begun_ms + 3 * minute_ms);
  const { oat_C } = first!;
  const isTyped = back % typedEvery === 0;
  if (back > fullOnTablet) {
    if (isTyped) await typeWalk(chapter, "full", craft.pilot, begun_ms + 6 * minute_ms, oat_C);
  } else {
    const breakAt = random.chance(0.2) ? random.whole(5, chapter.sheet.order.full.length - 4) : null;
    await walkRound(chapter, "full", craft.pilot, begun_ms + 6 * minute_ms, oat_C, breakAt);
  }
  for (const flight of flown) {
    const off_ms = flight.on_ms - Math.round(flight.flight_h * hour_ms);
    const launch_ms = off_ms - 16 * minute_ms;
    if (back > launchOnTablet) {
      if (isTyped) await typeWalk(chapter, "launch", craft.crew, launch_ms, flight.oat_C);
    } else await walkRound(chapter, "launch", craft.crew, launch_ms, flight.oat_C, null);
    await logFlight(chapter, off_ms, flight.flight_h, flight.oat_C);
  }
}

/** A walk made on paper and typed in as one entry a few minutes later. */
async function typeWalk(
  chapter: Chapter,
  kind: WalkKind,
  by: string,
  begun_ms: number,
  oat_C: number,
): Promise<void> {
  const { sheet, sheetHash, random, scribe } = chapter;
  const conditions = conditionsAt(oat_C, random);
  const plan = planWalk(sheet, stateOf(chapter), kind, conditions);
  const walk = madeId("walk", random);
  const ended_ms = begun_ms + (kind === "full" ? 34 : 6) * minute_ms;
  const stops = plan.stops.map((stop) => draftOf(chapter, walk, stop, begun_ms, oat_C));
  const items = plan.rows.map(({ item }) => item);
  await write(chapter, by, "walk.typed", ended_ms + 3 * minute_ms, {
    walk,
    kind,
    sheet: sheetHash,
    plan: scribe.hash(planToHash(plan, conditions)),
    conditions,
    begunAt: msToInstant(begun_ms),
    endedAt: msToInstant(ended_ms),
    pages: paperPages(stops, items, stateOf(chapter)),
  });
}

/** An engineer puts right what was found some days ago, and releases the craft. */
async function putRight(
  chapter: Chapter,
  held: readonly OpenFinding[],
  back: number,
  at_ms: number,
): Promise<OpenFinding[]> {
  const due = held.filter(({ dueBack }) => dueBack >= back);
  if (due.length === 0) return [...held];
  for (const [index, { finding, found }] of due.entries()) {
    await write(chapter, "p-brekke", "finding.closed", at_ms + index * minute_ms, {
      finding,
      role: "engineer",
      words: `put right: ${found.words}`,
      at: msToInstant(at_ms + index * minute_ms),
    });
  }
  const released_ms = at_ms + due.length * minute_ms;
  await write(chapter, "p-brekke", "release.signed", released_ms, {
    licence: "invented 66-1",
    dataRevision: "Maintenance manual (invented), revision 14",
    limitations: "",
    takesAway: [],
    lifts: [],
    worked: [...new Set(due.map(({ found }) => found.stop))],
    closures: [],
    words: due.map(({ found }) => found.words).join(", "),
    at: msToInstant(released_ms),
  });
  return held.filter(({ dueBack }) => dueBack < back);
}

/** What runs out beside the programme is renewed some weeks before its last day: a part exchanged, an obligation met. */
async function renew(chapter: Chapter, back: number, at_ms: number): Promise<void> {
  if (back % 7 !== 0) return;
  const near = dateLater(dateAt(at_ms, demoBase.zone), { days: 40 });
  await renewParts(chapter, near, at_ms);
  await renewObligations(chapter, near, at_ms + hour_ms);
}

async function renewParts(chapter: Chapter, near: string, from_ms: number): Promise<void> {
  const { sheet, random } = chapter;
  const state = stateOf(chapter);
  const now = countersNow(state);
  if (now === null) return;
  const craftCounters = Object.fromEntries(
    counterNames.map((name) => [name, Number((now[name] ?? 0).toFixed(1))]),
  ) as Counters;
  const exchanged = new Set<string>();
  let at_ms = from_ms;
  for (const item of dueItems(sheet, state)) {
    const { component, position } = item.facts;
    if (!item.known || typeof component !== "string" || typeof position !== "number") continue;
    const { lastDay } = item.planned;
    const isNear = leftOf(item.planned, now).some(({ left }) => left !== null && left < 25);
    const place = positionKey(component, position);
    if ((!isNear && (lastDay === null || lastDay > near)) || exchanged.has(place)) continue;
    exchanged.add(place);
    const today = dateAt(at_ms, demoBase.zone);
    const dated = sheet.components.find(({ id }) => id === component)!.dated;
    await write(chapter, "p-brekke", "component.fitted", at_ms, {
      component,
      position,
      serial: `Q-${random.whole(1_000, 9_999)}`,
      sinceNew: zeroCounters,
      sinceOverhaul: zeroCounters,
      craftCounters,
      newOn: today,
      overhauledOn: null,
      expiresOn: dated ? dateLater(today, { days: 900 }) : null,
      at: msToInstant(at_ms),
      replaces: (own(state.due.components, place) ?? []).map(({ entry }) => entry),
    });
    at_ms += minute_ms;
  }
}

async function renewObligations(chapter: Chapter, near: string, at_ms: number): Promise<void> {
  const today = dateAt(at_ms, demoBase.zone);
  for (const [obligation, facts] of Object.entries(stateOf(chapter).due.obligations)) {
    const fact = facts.at(-1);
    if (fact === undefined || fact.lastDay === null || fact.lastDay > near) continue;
    const { kind, words, dueAt, takesAway } = fact;
    await write(chapter, "p-sund", "obligation.set", at_ms, {
      obligation,
      kind,
      words,
      lastDay: dateLater(today, { days: obligation === "firstAid" ? 180 : 360 }),
      dueAt,
      takesAway,
      settled: false,
      at: msToInstant(at_ms),
      replaces: facts.map(({ entry }) => entry),
    });
  }
}
