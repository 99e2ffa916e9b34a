// What would help: the smallest set of things to do after which an operation is ready (within its limits), and when.
//
// In: the reasons of a standing. Each that forbids has one or more ways to clear it; one way may clear several. Sought is
// the earliest instant at which no reason that only time clears stands in the way, and for that instant the fewest ways
// that clear all that then forbids: a minimum hitting set. Found exactly: what has one way only is settled first, ways of
// which another clears as much as soon are left out, and then every set of each size is looked at, smallest first, along
// the first reason that is not yet cleared. Among sets of one size the one whose slowest way is soonest
// wins, then the sooner altogether, then by name, so that every device says the same.
// Nothing is promised: whoever reads a level may find it low. Null where nothing before the horizon helps.
// Method: hitting set by bounded search (R. M. Karp 1972 for the problem; the search is common practice). Held against
// trying every subset by the tests beside this file.
import { clearances } from "../facts/reason.ts";
import type { Clearance, OperationId, Reason } from "../facts/reason.ts";
import type { RemedyCode } from "../facts/reason-codes.ts";
import type { Sheet } from "../sheet/schema.ts";
import { breakpoints, isActive, touches } from "./combine.ts";

/** One thing to do. `target`: the id of what it is done to, where it is done singly; the fact's name says of which kind. */
export type Remedy = {
  readonly code: RemedyCode;
  readonly clearance: Clearance;
  readonly target: { readonly fact: string; readonly id: string } | null;
};

export type Help = {
  /** When it can be ready: now, or the instant to wait for. */
  readonly at_ms: number;
  /** Soonest first. Empty where waiting is all. */
  readonly remedies: readonly Remedy[];
  /** What each of them clears, in the same order. */
  readonly clears: readonly (readonly Reason[])[];
};

/** Only time clears these. */
const waits: ReadonlySet<RemedyCode> = new Set<RemedyCode>([
  "light.wait",
  "weather.wait",
  "level.readComparable",
]);

/** Done once, for everything that asks for it. */
const onceForAll: ReadonlySet<RemedyCode> = new Set<RemedyCode>([
  "record.openCraft",
  "record.setClock",
  "record.exchangeOrConfirm",
  "sheet.fetch",
  "custody.takeOver",
  "custody.return",
  "custody.release",
  "walk.doFull",
  "walk.doLaunch",
  "walk.doParking",
  "crew.declare",
  "load.weigh",
  "load.say",
  "load.kit",
  "load.change",
  "power.check",
  "weather.fetch",
  "weather.observe",
  "weather.setLimits",
  "weather.loadAgain",
]);

/** Facts that say to what the rest is done; the first that a reason has counts, with its place where it has one. */
const targets = [
  "closure",
  "gauge",
  "finding",
  "event",
  "equipment",
  "task",
  "component",
  "obligation",
] as const;

function remedyOf(reason: Reason): Remedy {
  const { code, clearance } = reason.remedy;
  if (onceForAll.has(code)) return { code, clearance, target: null };
  for (const fact of targets) {
    const id = reason.facts[fact];
    if (typeof id !== "string") continue;
    const { position } = reason.facts;
    return { code, clearance, target: { fact, id: position === undefined ? id : `${id} ${position}` } };
  }
  // Not known to be the same as anything else: it counts for itself alone.
  return { code, clearance, target: { fact: reason.code, id: JSON.stringify(reason.facts) } };
}

function keyOf({ code, target }: Remedy): string {
  return target === null ? code : `${code} ${target.fact} ${target.id}`;
}

/** Ways to clear a reason beside its own: those that do more. */
function otherWays({ code, remedy, facts }: Reason, sheet: Sheet): readonly Remedy[] {
  const fullWalk: Remedy = { code: "walk.doFull", clearance: "ten", target: null };
  switch (remedy.code) {
    case "closure.close":
      // No walk is finished while anything stands open.
      return [fullWalk];
    case "level.read":
      return typeof facts["gauge"] === "string"
        ? [
            { code: "level.readAgain", clearance: "minute", target: { fact: "gauge", id: facts["gauge"] } },
            ...(isReadOnWalk(facts["gauge"], sheet) ? [fullWalk] : []),
          ]
        : typeof facts["gauges"] === "string" &&
            facts["gauges"].split(" ").every((gauge) => isReadOnWalk(gauge, sheet))
          ? [fullWalk]
          : [];
    case "load.say":
      return [{ code: "load.change", clearance: "ten", target: null }];
    case "weather.fetch":
      return code === "weather.notObserved"
        ? [{ code: "weather.observe", clearance: "minute", target: null }]
        : [];
    default:
      return [];
  }
}

/** Whether no full walk of any craft goes by without reading it. */
function isReadOnWalk(gauge: string, sheet: Sheet): boolean {
  return sheet.items.some(
    ({ reads, applies, walks }) => reads === gauge && applies === undefined && walks.includes("full"),
  );
}

type Way = { readonly key: string; readonly remedy: Remedy };
type Matter = { readonly reason: Reason; readonly ways: readonly Way[] };

function matterOf(reason: Reason, sheet: Sheet): Matter {
  const ways = [remedyOf(reason), ...otherWays(reason, sheet)].map((remedy) => ({
    key: keyOf(remedy),
    remedy,
  }));
  return { reason, ways };
}

function forbids({ effect }: Reason): boolean {
  return effect === "blocks" || effect === "unknown";
}

const rankOf = ({ clearance }: Remedy): number => clearances.indexOf(clearance);

/** Ordered so that the first of several smallest sets is the one to say. */
function compareSets(a: readonly Way[], b: readonly Way[]): number {
  const slowest = (ways: readonly Way[]) => Math.max(-1, ...ways.map(({ remedy }) => rankOf(remedy)));
  const altogether = (ways: readonly Way[]) => ways.reduce((sum, { remedy }) => sum + rankOf(remedy), 0);
  const named = (ways: readonly Way[]) =>
    ways
      .map(({ key }) => key)
      .toSorted()
      .join("\n");
  return (
    slowest(a) - slowest(b) ||
    altogether(a) - altogether(b) ||
    (named(a) < named(b) ? -1 : named(a) > named(b) ? 1 : 0)
  );
}

/** Ways that must be gone, since something has no other; and the matters that they leave. */
function forcedFirst(matters: readonly Matter[]): { forced: readonly Way[]; left: readonly Matter[] } {
  const forced = new Map<string, Way>();
  for (const { ways } of matters) if (ways.length === 1) forced.set(ways[0]!.key, ways[0]!);
  const left = matters.filter(({ ways }) => !ways.some(({ key }) => forced.has(key)));
  return { forced: [...forced.values()], left };
}

/** Without the ways of which another clears as much, as soon: some smallest set is among the others. */
function withoutDominated(matters: readonly Matter[]): readonly Matter[] {
  const all = new Map(matters.flatMap(({ ways }) => ways.map((way) => [way.key, way] as const)));
  const clearedBy = new Map(
    [...all.keys()].map((key) => [
      key,
      new Set(matters.filter(({ ways }) => ways.some((way) => way.key === key))),
    ]),
  );
  const isDominated = (way: Way): boolean =>
    [...all.values()].some((other) => {
      if (other.key === way.key || rankOf(other.remedy) > rankOf(way.remedy)) return false;
      const [mine, theirs] = [clearedBy.get(way.key)!, clearedBy.get(other.key)!];
      if (!mine.isSubsetOf(theirs)) return false;
      const isEqual = mine.size === theirs.size && rankOf(other.remedy) === rankOf(way.remedy);
      return !isEqual || other.key < way.key;
    });
  return matters.map(({ reason, ways }) => ({ reason, ways: ways.filter((way) => !isDominated(way)) }));
}

/** The smallest set of ways of which every matter has one. */
function smallestSet(matters: readonly Matter[]): readonly Way[] {
  const { forced, left } = forcedFirst(matters);
  const rest = withoutDominated(left);
  for (let size = 0; size <= rest.length; size += 1) {
    const found: (readonly Way[])[] = [];
    const look = (chosen: readonly Way[]): void => {
      const open = rest.find(({ ways }) => !ways.some(({ key }) => chosen.some((one) => one.key === key)));
      if (open === undefined) found.push(chosen);
      else if (chosen.length < size) for (const way of open.ways) look([...chosen, way]);
    };
    look([]);
    const [best] = found.toSorted(compareSets);
    if (best !== undefined) return [...forced, ...best];
  }
  return forced;
}

/** What would make an operation ready that is not; null where nothing that is known of does before `until_ms`. */
export function whatHelps(
  reasons: readonly Reason[],
  operation: OperationId,
  sheet: Sheet,
  now_ms: number,
  until_ms: number,
): Help | null {
  const forbidding = reasons.filter((reason) => forbids(reason) && touches(reason, operation));
  for (const at_ms of [now_ms, ...breakpoints(forbidding, operation, now_ms, until_ms)]) {
    const active = forbidding.filter((reason) => isActive(reason, at_ms));
    if (active.some(({ remedy }) => waits.has(remedy.code))) continue;
    const matters = active.map((reason) => matterOf(reason, sheet));
    const ways = smallestSet(matters).toSorted(
      (a, b) => rankOf(a.remedy) - rankOf(b.remedy) || (a.key < b.key ? -1 : 1),
    );
    return {
      at_ms,
      remedies: ways.map(({ remedy }) => remedy),
      clears: ways.map(({ key }) =>
        matters.filter((matter) => matter.ways.some((way) => way.key === key)).map(({ reason }) => reason),
      ),
    };
  }
  return null;
}
