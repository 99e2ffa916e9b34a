// Cross rules of a sheet about walking: orders are complete, what is opened is closed again in the same walk, each
// closure is seen closed in the full walk, mirrored and provision items fit each other, precedence is kept.
//
// What is missing can only be said when everything was readable; then `whole` is true for the lists it depends on.

import { evaluateIn, planRows } from "./applicability.ts";
import type { PlanRow, ReadTerm } from "./applicability.ts";
import { everyTermKnown } from "./check-references.ts";
import { configurations, termsMax } from "./configurations.ts";
import type { Catalogue } from "./configurations.ts";
import type { Draft } from "./draft.ts";
import type { Say } from "./issue.ts";
import { walkKinds } from "./walk-blocks.ts";
import type { Closure, Item, WalkKind } from "./walk-blocks.ts";

type Placed = { readonly item: Item; readonly path: string; readonly index: number };

/** The items of a walk as they are walked. */
function walked(draft: Draft, walk: WalkKind): readonly Placed[] {
  const place = new Map((draft.order?.[walk] ?? []).map((stop, at) => [stop, at]));
  const at = (placed: Placed) => place.get(placed.item.stop) ?? place.size;
  return draft.items.elements
    .map(({ path, value }, index) => ({ item: value, path, index }))
    .filter(({ item }) => item.walks.includes(walk))
    .toSorted((a, b) => at(a) - at(b) || a.index - b.index);
}

export function checkOrders(draft: Draft, say: Say): void {
  if (!draft.items.whole || draft.order === null) return;
  const used = new Set<string>();
  for (const walk of walkKinds) {
    const needed = new Set(walked(draft, walk).map(({ item }) => item.stop));
    if (needed.size === 0) say("items", "emptyWalk", walk);
    for (const stop of needed) {
      used.add(stop);
      if (!draft.order[walk].includes(stop)) say(`order.${walk}`, "orderMissing", stop, walk);
    }
    draft.order[walk].forEach((stop, at) => {
      if (!needed.has(stop) && draft.stops.ids.has(stop))
        say(`order.${walk}[${at}]`, "orderIdle", stop, walk);
    });
  }
  for (const { path, value } of draft.stops.elements)
    if (!used.has(value.id)) say(path, "stopUnused", value.id);
}

export function checkItems(draft: Draft, say: Say): void {
  for (const { path, value: item } of draft.items.elements) {
    const singly =
      item.reads !== undefined
        ? "reads a gauge"
        : (item.opens ?? item.closes) !== undefined
          ? "opens or closes something"
          : (item.marksNeeded ?? 1) > 1
            ? "needs two persons"
            : null;
    if (item.sweep && singly !== null) say(`${path}.sweep`, "sweepSingly", singly);
    if (item.reads !== undefined && item.action !== "read")
      say(`${path}.action`, "readAction", item.action, "read");
    checkMirror(draft, path, item, say);
  }
  const states: Readonly<Partial<Record<Closure["kind"], Closure["normal"]>>> = {
    door: "closed",
    cowling: "closed",
    cap: "closed",
    cover: "removed",
    plug: "removed",
    tieDown: "removed",
    pin: "removed",
    groundPower: "unplugged",
  };
  for (const { path, value } of draft.closures.elements) {
    const wanted = states[value.kind];
    if (wanted !== undefined && value.normal !== wanted)
      say(`${path}.normal`, "closureState", value.normal, wanted);
  }
}

function checkMirror(draft: Draft, path: string, item: Item, say: Say): void {
  if (item.mirrored === undefined || item.mirrored === item.id) return;
  const partner = draft.items.elements.find(({ value }) => value.id === item.mirrored)?.value;
  if (partner === undefined) return;
  if (partner.mirrored !== item.id)
    say(`${path}.mirrored`, "mirrorOneWay", partner.id, partner.mirrored ?? "nobody");
  const sideOf = (stop: string) => draft.stops.elements.find(({ value }) => value.id === stop)?.value.y_m;
  const [here, there] = [sideOf(item.stop), sideOf(partner.stop)];
  if (here !== undefined && there !== undefined && !(here * there < 0)) {
    say(`${path}.mirrored`, "mirrorSide", `y ${there} m`, `y ${here} m`);
  }
}

export function checkProvisions(draft: Draft, say: Say): void {
  const items = new Map(draft.items.elements.map(({ value }) => [value.id, value]));
  for (const { path, value: item } of draft.items.elements) {
    if (item.provision === undefined) continue;
    const dependsOnEquipment = JSON.stringify(item.applies ?? null).includes('"installed"');
    if (!dependsOnEquipment) say(`${path}.provision`, "provisionIdle", item.provision);
    const provision = items.get(item.provision);
    if (provision === undefined || provision === item) continue;
    if (provision.stop !== item.stop) say(`${path}.provision`, "provisionStop", provision.stop, item.stop);
    for (const walk of item.walks) {
      if (!provision.walks.includes(walk)) say(`${path}.provision`, "provisionWalk", provision.id, walk);
    }
    if (wayBack(item, (one) => (one.provision === undefined ? [] : [one.provision]), items) !== null) {
      say(`${path}.provision`, "provisionLoop", item.provision);
    }
  }
}

/** The items by which following `next` leads from an item back to it, the item at both ends; null where it does not. */
function wayBack(
  from: Item,
  next: (item: Item) => readonly string[],
  items: ReadonlyMap<string, Item>,
): readonly string[] | null {
  const ways = new Map<string, readonly string[]>();
  const pending: (readonly string[])[] = next(from).map((name) => [from.id, name]);
  for (let way = pending.shift(); way !== undefined; way = pending.shift()) {
    const name = way.at(-1)!;
    if (name === from.id) return way;
    const item = items.get(name);
    if (ways.has(name) || item === undefined) continue;
    ways.set(name, way);
    for (const onward of next(item)) pending.push([...way, onward]);
  }
  return null;
}

export function checkPrecedence(draft: Draft, say: Say): void {
  const items = new Map(draft.items.elements.map(({ value }) => [value.id, value]));
  const places = new Map(
    walkKinds.map((walk) => [walk, new Map(walked(draft, walk).map(({ item }, at) => [item.id, at]))]),
  );
  for (const { path, value: item } of draft.items.elements) {
    if (item.after === undefined || item.after.includes(item.id)) continue;
    const circle = wayBack(item, (one) => one.after ?? [], items);
    if (circle !== null) {
      say(`${path}.after`, "afterLoop", circle.join(" after "));
      continue;
    }
    item.after.forEach((name, at) => {
      const before = items.get(name);
      if (before === undefined) return;
      if (!before.walks.some((walk) => item.walks.includes(walk)))
        say(`${path}.after[${at}]`, "afterElsewhere", name);
      if (draft.order === null) return;
      for (const walk of walkKinds) {
        const [here, there] = [places.get(walk)?.get(item.id), places.get(walk)?.get(name)];
        if (here !== undefined && there !== undefined && there > here) {
          say(`${path}.after[${at}]`, "afterLater", name, walk);
          break;
        }
      }
    });
  }
}

/** Items that decide whether these are walked: themselves and all that they may stand in for. */
function withReplaced(placed: readonly Placed[], all: readonly Placed[]): readonly Placed[] {
  const wanted = new Set(placed.map(({ item }) => item.id));
  for (let grown = true; grown;) {
    grown = false;
    for (const { item } of all) {
      if (item.provision !== undefined && wanted.has(item.provision) && !wanted.has(item.id)) {
        wanted.add(item.id);
        grown = true;
      }
    }
  }
  return all.filter(({ item }) => wanted.has(item.id));
}

const appliesIn = (rows: readonly PlanRow[]): ReadonlySet<string> =>
  new Set(rows.filter((row) => row.state === "applies").map((row) => row.item.id));

/**
 * What an item opens, an item of the same walk closes, at it or after it, on every machine and day on which the first
 * is walked. Only the parking walk may leave open what the sheet says stays so on a parked machine.
 */
export function checkOpened(draft: Draft, catalogue: Catalogue, say: Say): void {
  if (!draft.items.whole || draft.order === null || !draft.closures.whole) return;
  const closures = new Map(draft.closures.elements.map(({ value }) => [value.id, value]));
  for (const walk of walkKinds) {
    const items = walked(draft, walk);
    items.forEach((opener, at) => {
      (opener.item.opens ?? []).forEach((name, position) => {
        const closure = closures.get(name);
        if (closure === undefined || (walk === "parking" && closure.parked === "open")) return;
        const closers = items.slice(at).filter(({ item }) => item.closes?.includes(name));
        const here = `${opener.path}.opens[${position}]`;
        const covered = coveredWhere(draft, catalogue, items, closers, { kind: "item", placed: opener });
        if (covered === "tooWide") say(here, "tooWide", "too many", termsMax);
        else if (!covered) say(here, "neverClosed", name, walk);
      });
    });
  }
}

/** Every closure that a machine has is closed, or seen closed, by an item of the full walk. */
export function checkClosures(draft: Draft, catalogue: Catalogue, say: Say): void {
  if (!draft.items.whole || draft.order === null) return;
  const items = walked(draft, "full");
  for (const { path, value: closure } of draft.closures.elements) {
    const closers = items.filter(({ item }) => item.closes?.includes(closure.id));
    const covered = coveredWhere(draft, catalogue, items, closers, { kind: "closure", closure });
    if (covered === "tooWide") say(path, "tooWide", "too many", termsMax);
    else if (!covered) say(path, "closureNeverClosed", closure.id);
  }
}

type Where =
  | { readonly kind: "item"; readonly placed: Placed }
  | { readonly kind: "closure"; readonly closure: Closure };

/**
 * Is one of these items walked wherever the first thing is there? True where a term does not resolve, which is reported
 * as a reference; what cannot be listed cannot be vouched for.
 */
function coveredWhere(
  draft: Draft,
  catalogue: Catalogue,
  all: readonly Placed[],
  closers: readonly Placed[],
  where: Where,
): boolean | "tooWide" {
  const asked = where.kind === "item" ? [...closers, where.placed] : closers;
  const involved = withReplaced(asked, all);
  const expressions = involved.map(({ item }) => item.applies);
  if (where.kind === "closure") expressions.push(where.closure.applies);
  if (!expressions.every((expression) => everyTermKnown(draft, expression))) return true;
  const reads = configurations(expressions, catalogue);
  if (reads === null) return "tooWide";
  return reads.every((read: ReadTerm) => {
    const applied = appliesIn(planRows(involved, read));
    const there =
      where.kind === "item"
        ? applied.has(where.placed.item.id)
        : evaluateIn(where.closure.applies, read) === true;
    return !there || closers.some(({ item }) => applied.has(item.id));
  });
}
