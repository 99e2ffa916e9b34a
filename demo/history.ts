// Fourteen invented days of three invented craft, told from a seed through the same append path as real entries.
//
// The telling is anchored to an instant: everything happens before it, the last day is the anchor's own calendar day at
// the base. Tinde waits for its full walk; Skjær has been walked and flies with a landing light deferred; Myr is with
// maintenance after a leak. Same sheet, same anchor, same seed: same entries, byte for byte.
import type { CraftState, FindingKind, Outcome, WalkFacts, WalkKind } from "../src/core/facts/craft.ts";
import { countersNow } from "../src/core/due/counters.ts";
import { dueItems, leftOf } from "../src/core/due/assess-due.ts";
import { dateAt, dateLater, startOfDate } from "../src/core/facts/calendar.ts";
import { hour_ms, minute_ms, msToInstant } from "../src/core/facts/instant.ts";
import { own } from "../src/core/facts/own.ts";
import type { Gauge } from "../src/core/sheet/gauge-blocks.ts";
import type { Sheet } from "../src/core/sheet/schema.ts";
import { planToHash, planWalk } from "../src/core/walk/plan.ts";
import type { PlannedStop, WalkPlan } from "../src/core/walk/plan.ts";
import { reopenedOnResume, standingInterruption } from "../src/core/walk/resume.ts";
import { freshBalance } from "../src/ledger/craft/fresh-balance.ts";
import { closureBody, emptyDraft, pageBody } from "../src/ledger/craft/recorder.ts";
import type { StopDraft } from "../src/ledger/craft/recorder.ts";
import { demoTank } from "./base-fuel.ts";
import { demoBase, demoCraft, demoKit } from "./cast.ts";
import type { DemoCraft } from "./cast.ts";
import { freshLoading, freshWeighing } from "../src/ledger/craft/fresh-load.ts";
import { needsBottle } from "../src/core/level/at-temperature.ts";
import { afterFlight, loggedMonths } from "./levels.ts";
import type { CraftGauges, Logged } from "./levels.ts";
import { leakAgain, tellLives } from "./finding-lives.ts";
import { randomFrom } from "./random.ts";
import type { Random } from "./random.ts";

/** Through whom the history is written: signs, appends, and folds what was written so far. */
export interface Scribe {
  /** The folded state of a craft, everything written so far included. */
  state(ledger: string): CraftState;
  write(entry: {
    readonly by: string;
    readonly ledger: string;
    readonly type: string;
    readonly at_ms: number;
    readonly body: unknown;
    readonly sheet: string;
  }): Promise<void>;
  /** SHA-256 of the canonical form, as hex. */
  hash(value: unknown): string;
}

export type Telling = {
  readonly scribe: Scribe;
  readonly sheet: Sheet;
  readonly sheetHash: string;
  /** Everything told happened before this. */
  readonly anchor_ms: number;
  readonly seed: number;
  readonly days: number;
};

/** A craft's own telling: its people, its chance, its airframe hours. */
export type Chapter = Telling & {
  readonly craft: DemoCraft;
  readonly random: Random;
  readonly hours: { flown_h: number };
  readonly gauges: CraftGauges;
};

export const madeId = (what: string, random: Random): string => `${what}-${random.hex(12)}`;

export async function write(
  chapter: Chapter,
  by: string,
  type: string,
  at_ms: number,
  body: unknown,
): Promise<void> {
  const { scribe, craft, sheetHash } = chapter;
  await scribe.write({ by, ledger: craft.ledger, type, at_ms, body, sheet: sheetHash });
}

export function stateOf({ scribe, craft }: Chapter): CraftState {
  return scribe.state(craft.ledger);
}

/** A believable value inside the gauge's limits at this temperature, on the gauge's own step. */
function believableValue(gauge: Gauge, oat_C: number, random: Random): number {
  const { low, high } = limitsAt(gauge, oat_C);
  const middle = low + (high - low) * 0.62;
  const scattered = middle + (high - low) * 0.06 * random.normal();
  const inside = Math.min(high - (high - low) * 0.08, Math.max(low + (high - low) * 0.12, scattered));
  const stepped = Math.round(inside / gauge.step) * gauge.step;
  return Number((stepped < low || stepped > high ? inside : stepped).toFixed(4));
}

/** The tanks were filled after the flight before: their gauge stands there, a step off now and then. */
function seenValue(gauge: Gauge, oat_C: number, random: Random): number {
  const believable = believableValue(gauge, oat_C, random);
  if (gauge.id !== "fuelQuantity") return believable;
  return usualFuel_kg + gauge.step * ((Math.round(believable / gauge.step) % 3) - 1);
}

/** What a counter shows; null for a gauge that is not one. */
function countedValue(gauge: string, chapter: Chapter): number | null {
  if (gauge === "airframeHours") return Number(chapter.hours.flown_h.toFixed(1));
  // No flight of the history hoists: the meter stands where the balance was signed.
  return gauge === "hoistCycles" ? (stateOf(chapter).due.bases[0]?.counters.hoistCycles ?? 0) : null;
}

function limitsAt(gauge: Gauge, oat_C: number): { readonly low: number; readonly high: number } {
  const { band, gas, plausible, capacity } = gauge;
  if (band !== undefined) {
    const at = band.points.findIndex((point, index) => {
      const next = band.points[index + 1];
      return next !== undefined && point.temperature_C <= oat_C && oat_C <= next.temperature_C;
    });
    const [left, right] = [band.points[Math.max(0, at)]!, band.points[Math.max(0, at) + 1]!];
    const share = (oat_C - left.temperature_C) / (right.temperature_C - left.temperature_C);
    return {
      low: left.low + share * (right.low - left.low),
      high: left.high + share * (right.high - left.high),
    };
  }
  const low = gauge.low?.value ?? plausible.low;
  const high = gauge.high?.value ?? capacity ?? plausible.high;
  if (gas === undefined) return { low, high };
  const cooled = (oat_C + 273.15) / (gas.reference_C + 273.15);
  const at = (pressure_bar: number): number => (pressure_bar + 1.01325) * cooled - 1.01325;
  return { low: at(low), high: at(high) };
}

export function draftOf(
  chapter: Chapter,
  walk: string,
  stop: PlannedStop,
  arrived_ms: number,
  oat_C: number,
): StopDraft {
  const { sheet, random, hours, gauges } = chapter;
  const draft = emptyDraft(walk, stop.stop.id, arrived_ms);
  const marks: Record<string, StopDraft["marks"][string]> = {};
  const closures: Record<string, StopDraft["closures"][string]> = {};
  const readings: Record<string, StopDraft["readings"][string]> = {};
  for (const { item } of stop.rows) {
    marks[item.id] = { mark: "good", why: null, finding: null };
    for (const closure of item.opens ?? []) closures[closure] = "open";
    for (const closure of item.closes ?? []) closures[closure] = "closed";
    const gauge = sheet.gauges.find(({ id }) => id === item.reads);
    if (gauge === undefined) continue;
    const drawn = countedValue(gauge.id, chapter) ?? seenValue(gauge, oat_C, random);
    const value = Number((gauges.read(gauge, oat_C) ?? drawn).toFixed(4));
    const temperature = needsBottle(gauge) ? { oat_C, bottle_C: oat_C } : { oat_C };
    readings[gauge.id] = {
      value,
      unit: gauge.unit,
      typed: String(value),
      conditions: { ...temperature, level: true, hot: false },
      hours_h: Number(hours.flown_h.toFixed(1)),
    };
  }
  return { ...draft, marks, closures, readings };
}

/** What the person beginning a walk says of the day. */
export function conditionsAt(oat_C: number, random: Random) {
  return {
    frost: oat_C < 0 && random.chance(0.4),
    snow: false,
    rain: random.chance(0.3),
    dust: false,
    saltWater: false,
    coldSoak: oat_C < -5,
    hot: false,
    night: false,
    overWater: true,
    afterMaintenance: false,
    afterWash: false,
    afterUplift: false,
    parkedOutside: true,
  };
}

type WalkTold = { readonly walk: string; readonly finished_ms: number };

/** A whole walk, stop by stop; `breakAt` interrupts it at that stop for a call that comes to nothing. */
export async function walkRound(
  chapter: Chapter,
  kind: WalkKind,
  by: string,
  begun_ms: number,
  oat_C: number,
  breakAt: number | null,
): Promise<WalkTold> {
  const { sheet, sheetHash, random, scribe } = chapter;
  const walk = madeId("walk", random);
  const conditions = conditionsAt(oat_C, random);
  const plan = planWalk(sheet, stateOf(chapter), kind, conditions);
  await write(chapter, by, "walk.begun", begun_ms, {
    walk,
    kind,
    sheet: sheetHash,
    plan: scribe.hash(planToHash(plan, conditions)),
    conditions,
    begunAt: msToInstant(begun_ms),
    paper: false,
  });
  let at_ms = begun_ms + 20_000;
  for (const [index, stop] of plan.stops.entries()) {
    if (index === breakAt) at_ms = await breakOff(chapter, plan, walk, by, stop.stop.id, at_ms, oat_C);
    const left_ms = at_ms + stop.rows.length * 9_000 + random.whole(5, 40) * 1_000;
    const draft = draftOf(chapter, walk, stop, at_ms, oat_C);
    const body = pageBody(draft, stateOf(chapter), walkOf(chapter, walk), left_ms, "left");
    await write(chapter, by, "walk.page", left_ms, body);
    await markAsSecond(chapter, walk, stop, by, left_ms, oat_C);
    at_ms = left_ms + random.whole(4, 15) * 1_000;
  }
  await closeWhatIsOpen(chapter, kind, by, at_ms);
  await write(chapter, by, "walk.finished", at_ms, { walk, at: msToInstant(at_ms) });
  return { walk, finished_ms: at_ms };
}

/** What two persons must mark at a stop, the other of the two marks as well. */
async function markAsSecond(
  chapter: Chapter,
  walk: string,
  { stop, rows }: PlannedStop,
  by: string,
  at_ms: number,
  oat_C: number,
): Promise<void> {
  const { craft } = chapter;
  const both = rows.filter(({ item }) => (item.marksNeeded ?? 1) > 1);
  if (both.length === 0) return;
  const draft = draftOf(chapter, walk, { stop, rows: both }, at_ms - 30_000, oat_C);
  const body = pageBody(draft, stateOf(chapter), walkOf(chapter, walk), at_ms, "left");
  await write(chapter, by === craft.pilot ? craft.crew : craft.pilot, "walk.page", at_ms, body);
}

/** A call that comes to nothing: the walk stands still, resumes, and what has to be looked at again is. */
async function breakOff(
  chapter: Chapter,
  plan: WalkPlan,
  walk: string,
  by: string,
  stop: string,
  at_ms: number,
  oat_C: number,
): Promise<number> {
  const { random } = chapter;
  await write(chapter, by, "walk.interrupted", at_ms, {
    walk,
    cause: "callOut",
    stop,
    words: "called, then cancelled",
    at: msToInstant(at_ms),
  });
  let back_ms = at_ms + random.whole(4, 12) * minute_ms;
  const facts = walkOf(chapter, walk);
  const interruption = standingInterruption(facts);
  if (interruption === null) throw new Error(`walk ${walk} was interrupted and does not say so`);
  const reopened = reopenedOnResume(plan, facts, stateOf(chapter), interruption);
  await write(chapter, by, "walk.resumed", back_ms, {
    walk,
    interruption: interruption.entry,
    reopened,
    at: msToInstant(back_ms),
  });
  for (const { stop: place, rows } of plan.stops) {
    const again = rows.filter(({ item }) => reopened.includes(item.id) && place.id !== stop);
    if (again.length === 0) continue;
    const left_ms = back_ms + again.length * 9_000;
    const draft = draftOf(chapter, walk, { stop: place, rows: again }, back_ms, oat_C);
    const body = pageBody(draft, stateOf(chapter), walkOf(chapter, walk), left_ms, "left");
    await write(chapter, by, "walk.page", left_ms, body);
    await markAsSecond(chapter, walk, { stop: place, rows: again }, by, left_ms, oat_C);
    back_ms = left_ms + 5_000;
  }
  return back_ms + 5_000;
}

function walkOf(chapter: Chapter, walk: string): WalkFacts {
  const facts = own(stateOf(chapter).walks, walk);
  if (facts === undefined) throw new Error(`walk ${walk} was begun and is not in the record`);
  return facts;
}

async function closeWhatIsOpen(chapter: Chapter, kind: WalkKind, by: string, at_ms: number): Promise<void> {
  if (kind === "parking") return;
  for (const [closure, facts] of Object.entries(stateOf(chapter).closures)) {
    if (!facts.some(({ state }) => state === "open")) continue;
    const body = { ...closureBody(stateOf(chapter), closure, "closed"), at: msToInstant(at_ms) };
    await write(chapter, by, "closure.set", at_ms, body);
  }
}

async function fly(chapter: Chapter, off_ms: number, oat_C: number): Promise<number> {
  return logFlight(chapter, off_ms, chapter.random.whole(4, 12) / 10, oat_C);
}

/** A flight with what is read and filled after it; answers with its landing. */
export async function logFlight(
  chapter: Chapter,
  off_ms: number,
  flight_h: number,
  oat_C: number,
): Promise<number> {
  const { craft, random, hours, gauges } = chapter;
  const on_ms = off_ms + Math.round(flight_h * hour_ms);
  hours.flown_h += flight_h;
  await write(chapter, craft.pilot, "flight.logged", on_ms + 6 * minute_ms, {
    flight: madeId("flight", random),
    offAt: msToInstant(off_ms),
    onAt: msToInstant(on_ms),
    flight_h,
    landings: random.whole(2, 4),
    hoistCycles: 0,
    starts: 1,
    nightLandings: 0,
    nvis: false,
    instrument_min: random.chance(0.4) ? random.whole(5, 12) : 0,
    nightHoistCycles: 0,
    exceedance: "none",
    operation: "dayVfr",
    crew: [craft.pilot, craft.crew],
  });
  gauges.fly(flight_h, hours.flown_h);
  const read = afterFlight(gauges, craft, { on_ms, hours_h: Number(hours.flown_h.toFixed(1)), oat_C });
  for (const { type, at_ms, body } of read) await write(chapter, craft.crew, type, at_ms, body);
  return on_ms;
}

export async function takeCustody(
  chapter: Chapter,
  by: string,
  at_ms: number,
  body: { custody: "crew" | "maintenance"; words: string; expectedEnd_ms: number | null },
): Promise<void> {
  await write(chapter, by, "custody.taken", at_ms, {
    custody: body.custody,
    people: body.custody === "crew" ? [chapter.craft.pilot, chapter.craft.crew] : [by],
    words: body.words,
    expectedEnd: body.expectedEnd_ms === null ? null : msToInstant(body.expectedEnd_ms),
    at: msToInstant(at_ms),
    replaces: stateOf(chapter).custody.map(({ entry }) => entry),
  });
  if (body.custody === "crew") await declareShift(chapter, by, at_ms);
}

/** Twelve hours from the take-over, both rested since the evening before; a medic flies along. */
async function declareShift(chapter: Chapter, by: string, at_ms: number): Promise<void> {
  const { pilot, crew } = chapter.craft;
  const lastDutyEnd = msToInstant(at_ms - 12 * hour_ms);
  await write(chapter, by, "shift.declared", at_ms, {
    from: msToInstant(at_ms),
    until: msToInstant(at_ms + 12 * hour_ms),
    people: [
      { person: pilot, roles: ["pilot"], lastDutyEnd },
      { person: crew, roles: ["technicalCrew", "hoistOperator"], lastDutyEnd },
      { person: "p-moe", roles: ["medic"], lastDutyEnd },
    ],
    replaces: stateOf(chapter).shifts.map(({ entry }) => entry),
  });
}

export async function find(
  chapter: Chapter,
  by: string,
  at_ms: number,
  what: {
    kind: FindingKind;
    stop: string;
    words: string;
    outcome: Outcome;
    judge: string;
    role: string;
    deferral: string | null;
  },
): Promise<string> {
  const finding = madeId("finding", chapter.random);
  await write(chapter, by, "finding.raised", at_ms, {
    finding,
    kind: what.kind,
    stop: what.stop,
    item: null,
    walk: null,
    measure: null,
    words: what.words,
    at: msToInstant(at_ms),
  });
  const judged_ms = at_ms + 7 * minute_ms;
  await write(chapter, what.judge, "finding.judged", judged_ms, {
    finding,
    outcome: what.outcome,
    role: what.role,
    words: what.words,
    deferral: what.deferral,
    at: msToInstant(judged_ms),
    replaces: [],
  });
  return finding;
}

export async function open(chapter: Chapter, at_ms: number, imports: Logged["imports"]): Promise<void> {
  const { craft, sheet, sheetHash } = chapter;
  const equipment = Object.fromEntries(sheet.equipment.map(({ id }) => [id, craft.equipment.includes(id)]));
  await write(chapter, "p-sund", "craft.opened", at_ms, {
    name: craft.name,
    variant: craft.variant,
    sheet: sheetHash,
    equipment,
    openedAt: msToInstant(at_ms),
  });
  const weighed_ms = at_ms - 200 * 24 * hour_ms;
  const weighing = freshWeighing(sheet, craft.variant, equipment, weighed_ms, `report W-${craft.variant}`);
  await write(chapter, "p-brekke", "craft.weighed", at_ms + minute_ms / 2, weighing);
  const { flown_h } = chapter.hours;
  const counters = {
    flightHours_h: flown_h,
    landings: Math.round(flown_h * 2.6),
    starts: Math.round(flown_h * 1.3),
    hoistCycles: Math.floor(flown_h / 3),
  };
  const spread = (index: number): number => ((index * 7) % 10) * 0.07;
  await write(chapter, "p-sund", "balance.signed", at_ms + minute_ms, {
    ...freshBalance(sheet, at_ms, counters, spread),
    obligations: obligationsOf(at_ms),
    at: msToInstant(at_ms + minute_ms),
  });
  for (const [index, month] of imports.entries()) {
    const id = `import-${craft.ledger.replace("craft:", "")}-${index}`;
    await write(chapter, "p-sund", "readings.imported", at_ms + 2 * minute_ms + index * 1_000, {
      import: id,
      ...month,
    });
  }
}

/** What a shift begins with: the crew, the usual kit, a patient of any mass to come. */
export async function load(chapter: Chapter, at_ms: number): Promise<void> {
  const { craft, sheet } = chapter;
  const { loadings, kit } = stateOf(chapter).load;
  const persons = [
    { seat: "pilotRight", person: craft.pilot, mass_kg: craft.pilot_kg },
    { seat: "frontLeft", person: craft.crew, mass_kg: 78 },
    { seat: "medicRight", person: null, mass_kg: 74 },
  ];
  const patients = [{ stretcher: "stretcherLeft", most_kg: sheet.masses.heavyPatient_kg }];
  const held = [...loadings, ...Object.values(kit).flat()].map(({ entry }) => entry);
  const given = {
    persons,
    patients,
    kit: [...demoKit],
    kitList: "rescue",
    fuel_kg: usualFuel_kg,
    fuelAtEnd_kg: 70,
  };
  await write(chapter, craft.pilot, "loading.said", at_ms, freshLoading(sheet, at_ms, given, held));
}

/** What runs out beside the programme. */
function obligationsOf(at_ms: number) {
  const today = msToInstant(at_ms).slice(0, 10);
  const held = { dueAt: {}, takesAway: "all", settled: false } as const;
  return [
    { ...held, obligation: "review", kind: "review", words: "airworthiness review", days: 210 },
    { ...held, obligation: "weighing", kind: "weighing", words: "weighing", days: 900 },
    { ...held, obligation: "firstAid", kind: "equipment", words: "first-aid kit", days: 120 },
  ].map(({ days, ...rest }) => ({ ...rest, lastDay: dateLater(today, { days }) }));
}

/** Before the shift: whatever the programme plans for the next days is done, by whom it names. */
export async function maintain(chapter: Chapter, at_ms: number): Promise<void> {
  const { sheet } = chapter;
  const state = stateOf(chapter);
  const now = countersNow(state);
  if (now === null) return;
  const soon = dateLater(dateAt(at_ms, demoBase.zone), { days: 3 });
  const tasks = dueItems(sheet, state).flatMap((item) => {
    const { task } = item.facts;
    if (!item.known || typeof task !== "string") return [];
    const { lastDay } = item.planned;
    const isNear = leftOf(item.planned, now).some(({ left }) => left !== null && left < 8);
    return isNear || (lastDay !== null && lastDay <= soon) ? [task] : [];
  });
  for (const task of tasks) {
    const by =
      sheet.programme.find(({ id }) => id === task)?.by === "engineer" ? "p-brekke" : chapter.craft.crew;
    await write(chapter, by, "task.done", at_ms, {
      task,
      counters: { ...now, flightHours_h: Number(now.flightHours_h?.toFixed(1)) },
      on: dateAt(at_ms, demoBase.zone),
      licence: by === "p-brekke" ? "invented 66-1" : "authorised by the operator",
      at: msToInstant(at_ms),
    });
  }
  if (tasks.length > 0)
    await write(chapter, "p-brekke", "release.signed", at_ms + minute_ms, {
      licence: "invented 66-1",
      dataRevision: "Maintenance manual (invented), revision 14",
      limitations: "",
      takesAway: [],
      lifts: [],
      worked: [],
      closures: [],
      words: tasks.join(", "),
      at: msToInstant(at_ms + minute_ms),
    });
}

async function tellDay(chapter: Chapter, day_ms: number): Promise<void> {
  const { craft, random } = chapter;
  const oat_C = random.whole(-6, 7);
  const taken_ms = day_ms + 6 * hour_ms + random.whole(20, 40) * minute_ms;
  await takeCustody(chapter, craft.pilot, taken_ms, {
    custody: "crew",
    words: "day shift",
    expectedEnd_ms: null,
  });
  await load(chapter, taken_ms + 3 * minute_ms);
  const stops = chapter.sheet.order.full.length;
  const breakAt = random.chance(0.2) ? random.whole(5, stops - 4) : null;
  const { finished_ms } = await walkRound(
    chapter,
    "full",
    craft.pilot,
    taken_ms + 8 * minute_ms,
    oat_C,
    breakAt,
  );
  let at_ms = finished_ms + random.whole(30, 150) * minute_ms;
  const flights = random.whole(0, 3);
  for (let flown = 0; flown < flights; flown += 1) {
    const launched = await walkRound(chapter, "launch", craft.crew, at_ms, oat_C, null);
    const before_h = chapter.hours.flown_h;
    const on_ms = await fly(chapter, launched.finished_ms + 3 * minute_ms, oat_C);
    await refuel(chapter, on_ms + 15 * minute_ms, chapter.hours.flown_h - before_h);
    at_ms = on_ms + random.whole(40, 100) * minute_ms;
  }
}

const usualFuel_kg = 420;
const flow_kgh = 235;

/** What was burnt is filled again from the base's tank, and sampled. */
async function refuel(chapter: Chapter, at_ms: number, flown_h: number): Promise<void> {
  const before_kg = usualFuel_kg - Math.round(flown_h * flow_kgh);
  const amount = Math.round((usualFuel_kg - before_kg) / demoTank.density_kgL);
  await write(chapter, chapter.craft.crew, "fuel.filled", at_ms, {
    before_kg,
    amount,
    unit: "L",
    typed: String(amount),
    density_kgL: demoTank.density_kgL,
    fuel_C: null,
    after_kg: usualFuel_kg,
    grade: demoTank.grade,
    baseTank: demoTank.tank,
    sample: "clear",
    at: msToInstant(at_ms),
    replaces: [],
  });
}

/** What the anchor's own day holds, before the anchor. */
async function tellToday(chapter: Chapter, day_ms: number): Promise<void> {
  const { craft, anchor_ms } = chapter;
  const ago = (minutes: number): number => Math.max(day_ms + minute_ms, anchor_ms - minutes * minute_ms);
  if (craft.name === "Skjær") {
    await takeCustody(chapter, craft.pilot, ago(95), {
      custody: "crew",
      words: "day shift",
      expectedEnd_ms: null,
    });
    await load(chapter, ago(91));
    await walkRound(chapter, "full", craft.pilot, ago(85), -1, null);
    await write(chapter, craft.pilot, "water.said", ago(40), {
      seaState: 3,
      water_C: 5,
      suits: 4,
      at: msToInstant(ago(40)),
    });
  } else if (craft.name === "Myr") {
    await leakAgain(chapter, ago(70));
    const words = "hydraulic line, left pump";
    await takeCustody(chapter, "p-brekke", ago(60), {
      custody: "maintenance",
      words,
      expectedEnd_ms: anchor_ms + 4 * hour_ms,
    });
  } else {
    await takeCustody(chapter, craft.pilot, ago(12), {
      custody: "crew",
      words: "day shift",
      expectedEnd_ms: null,
    });
    await load(chapter, ago(10));
  }
}

type Days = Pick<Telling, "sheet" | "anchor_ms" | "seed" | "days">;

/** When a day of the telling starts at the base, so many days back. */
export function dayStart(anchor_ms: number, back: number): number {
  const { zone } = demoBase;
  const today_ms = startOfDate(dateAt(anchor_ms, zone), zone);
  // The middle of the day, so that a day of 23 or 25 hours is still found.
  return startOfDate(dateAt(today_ms + 12 * hour_ms - back * 24 * hour_ms, zone), zone);
}

export function openedAt({ anchor_ms, days }: Days): number {
  return dayStart(anchor_ms, days - 1) + 5 * hour_ms - 10 * minute_ms;
}

export const flownWhenOpened_h = (index: number): number => 1_180 + 211 * index;

/** What the log told of a craft's gauges before the record. A chance of its own: it changes nothing else of the story. */
export function loggedBefore(telling: Days, index: number): Logged {
  const craft = demoCraft[index]!;
  const seed = telling.seed + 500 + 10 * index;
  return loggedMonths(telling.sheet, craft, seed, openedAt(telling), flownWhenOpened_h(index));
}

/** What is there when the two weeks begin, where the months before them were told as well. */
export type ToldBefore = { readonly hours: Chapter["hours"]; readonly gauges: CraftGauges };

/** Writes the two weeks. `before`: by craft, where its record began earlier; otherwise it begins with them. */
export async function tellHistory(
  telling: Telling,
  before: readonly ToldBefore[] | null = null,
): Promise<void> {
  const { anchor_ms, days, seed } = telling;
  const chapters = demoCraft.map((craft, index) => {
    const logged = before === null ? loggedBefore(telling, index) : null;
    const hours = before?.[index]?.hours ?? { flown_h: flownWhenOpened_h(index) };
    const gauges = before?.[index]?.gauges ?? logged!.gauges;
    const chapter = { ...telling, craft, random: randomFrom(seed + index), hours, gauges };
    return { chapter, logged };
  });
  for (let back = days - 1; back >= 0; back -= 1) {
    const day_ms = dayStart(anchor_ms, back);
    for (const { chapter, logged } of chapters) {
      if (back === days - 1 && logged !== null) await open(chapter, openedAt(telling), logged.imports);
      else if (day_ms + 4 * hour_ms < anchor_ms) await maintain(chapter, day_ms + 4 * hour_ms);
      if (back === 0) {
        await tellToday(chapter, day_ms);
        continue;
      }
      await tellDay(chapter, day_ms);
      if (chapter.craft.name === "Skjær" && back === 5) {
        await find(chapter, chapter.craft.pilot, day_ms + 15 * hour_ms, {
          kind: "other",
          stop: "leftNose",
          words: "landing light dark",
          outcome: "defer",
          judge: chapter.craft.pilot,
          role: "pilot",
          deferral: "d33-01",
        });
      }
      await tellLives(chapter, back, day_ms);
    }
  }
}
