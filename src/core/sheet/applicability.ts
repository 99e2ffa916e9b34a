// Which items apply to this craft today, and why.
//
// An expression is true, false or unknown (three-valued logic after Kleene): a condition nobody has told is unknown,
// and what is unknown is treated as applying, so that not knowing never shortens a walk. Equipment whose state is not
// recorded counts as unknown too. `why` names the terms that decided, and only those.

import type { Applicability, Condition } from "./applicability-schema.ts";
import type { Sheet } from "./schema.ts";
import type { Item, WalkKind } from "./walk-blocks.ts";

export type Truth = true | false | "unknown";

/** What of a craft matters here. `installed`: equipment id to fitted or not; an id left out is not known. */
export type CraftConfig = {
  readonly variant: string | null;
  readonly installed: Readonly<Record<string, boolean>>;
};
/** A condition left out is not known. */
export type Conditions = Readonly<Partial<Record<Condition, boolean>>>;

export type Term = {
  readonly kind: "installed" | "variant" | "condition";
  readonly name: string;
  readonly state: Truth;
};
export type Verdict = { readonly value: Truth; readonly why: readonly Term[] };

/** How a term is read; `itemsFor` asks twice, once with whole kinds of term taken as not known. */
export type ReadTerm = (kind: Term["kind"], name: string) => Truth;

const always: Verdict = { value: true, why: [] };

/** Evaluates one expression; no expression applies always. */
export function evaluateApplicability(
  expression: Applicability | undefined,
  craft: CraftConfig,
  conditions: Conditions,
): Verdict {
  return expression === undefined ? always : evaluate(expression, termReader(craft, conditions));
}

export function termReader(craft: CraftConfig, conditions: Conditions): ReadTerm {
  return (kind, name) => {
    if (kind === "variant") return craft.variant === null ? "unknown" : craft.variant === name;
    const states: Readonly<Record<string, boolean | undefined>> =
      kind === "installed" ? craft.installed : conditions;
    return Object.hasOwn(states, name) ? (states[name] ?? "unknown") : "unknown";
  };
}

/** The bare truth of an expression under any reading; no expression applies always. */
export const evaluateIn = (expression: Applicability | undefined, read: ReadTerm): Truth =>
  expression === undefined ? true : evaluate(expression, read).value;

/** Evaluates with any reading of the terms; used for configurations that are only imagined, too. */
export function evaluate(expression: Applicability, read: ReadTerm): Verdict {
  if ("all" in expression) return combine(expression.all, read, false);
  if ("any" in expression) return combine(expression.any, read, true);
  if ("not" in expression) {
    const inner = evaluate(expression.not, read);
    return { value: inner.value === "unknown" ? "unknown" : !inner.value, why: inner.why };
  }
  if ("installed" in expression) return leaf("installed", expression.installed, read);
  if ("variant" in expression) return leaf("variant", expression.variant, read);
  return leaf("condition", expression.condition, read);
}

function leaf(kind: Term["kind"], name: string, read: ReadTerm): Verdict {
  const state = read(kind, name);
  return { value: state, why: [{ kind, name, state }] };
}

/** `all` is settled by its first false, `any` by its first true; else by what is unknown; else by everything. */
function combine(parts: readonly Applicability[], read: ReadTerm, settling: boolean): Verdict {
  const unknowns: Term[] = [];
  const others: Term[] = [];
  let unknown = false;
  for (const part of parts) {
    const verdict = evaluate(part, read);
    if (verdict.value === settling) return verdict;
    if (verdict.value === "unknown") {
      unknown = true;
      unknowns.push(...verdict.why);
    } else {
      others.push(...verdict.why);
    }
  }
  return unknown ? { value: "unknown", why: unknowns } : { value: !settling, why: others };
}

/** Every term of an expression, once each, in order of appearance. */
export function termsOf(expression: Applicability): readonly Pick<Term, "kind" | "name">[] {
  const terms = new Map<string, Pick<Term, "kind" | "name">>();
  evaluate(expression, (kind, name) => {
    terms.set(`${kind} ${name}`, { kind, name });
    // Unknown settles neither `all` nor `any`, so that no branch is skipped.
    return "unknown";
  });
  return [...terms.values()];
}

/**
 * - `applies`: walk it; `certain` is false where something unknown kept it in.
 * - `notInstalled`: the equipment is missing; `provision` is the item walked instead, if the sheet has one.
 * - `notVariant`, `notToday`: another variant, or a condition that does not hold.
 * - `fittedOtherwise`: applies only without equipment that is installed.
 * - `provisionUnused`: a provision item whose equipment is installed.
 */
export type ItemState =
  | "applies"
  | "notInstalled"
  | "notVariant"
  | "notToday"
  | "fittedOtherwise"
  | "provisionUnused";

export type PlanRow = {
  readonly item: Item;
  /** Place in the sheet's `items`. */
  readonly index: number;
  readonly state: ItemState;
  readonly certain: boolean;
  readonly why: readonly Term[];
  /** The provision item that takes its place; only with `notInstalled`. */
  readonly provision: string | null;
  /** The items whose place it takes; empty for all but provision items that are walked. */
  readonly insteadOf: readonly string[];
};

/**
 * Every item of a walk with its state, in the published order: stops as `order` has them, items as the sheet lists
 * them. To walk are the rows that say `applies`.
 */
export function itemsFor(
  sheet: Sheet,
  craft: CraftConfig,
  conditions: Conditions,
  walk: WalkKind,
): readonly PlanRow[] {
  const read = termReader(craft, conditions);
  const indexed = sheet.items
    .map((item, index) => ({ item, index }))
    .filter(({ item }) => item.walks.includes(walk));
  return inOrder(sheet.order[walk], planRows(indexed, read));
}

type Indexed = { readonly item: Item; readonly index: number };

/** The rows of the given items of one walk, in their given order, under any reading of the terms. */
export function planRows(indexed: readonly Indexed[], read: ReadTerm): readonly PlanRow[] {
  const rows = new Map<string, PlanRow>();
  const provisions = new Set<string>();
  for (const { item, index } of indexed) {
    if (item.provision !== undefined) provisions.add(item.provision);
    rows.set(item.id, { item, index, ...judge(item, read) });
  }
  settleProvisions(rows, provisions);
  return [...rows.values()];
}

function judge(item: Item, read: ReadTerm): Omit<PlanRow, "item" | "index"> {
  const plain = { provision: null, insteadOf: [] };
  if (item.applies === undefined) return { ...plain, state: "applies", certain: true, why: [] };
  const { value, why } = evaluate(item.applies, read);
  if (value !== false) return { ...plain, state: "applies", certain: value === true, why };
  return { ...plain, state: whyNot(item.applies, why, read), certain: true, why };
}

/** The first kind of term which, if it were open, would no longer rule the item out. */
function whyNot(expression: Applicability, why: readonly Term[], read: ReadTerm): ItemState {
  const without = (open: readonly Term["kind"][]) =>
    evaluate(expression, (kind, name) => (open.includes(kind) ? "unknown" : read(kind, name))).value;
  if (without(["installed"]) !== false) {
    return why.some((term) => term.kind === "installed" && term.state === false)
      ? "notInstalled"
      : "fittedOtherwise";
  }
  return without(["installed", "variant"]) !== false ? "notVariant" : "notToday";
}

/**
 * Follows each item that is not, or perhaps not, installed along its chain of provision items. One of these is walked
 * only in somebody's place, and only where its own expression allows it. Where the equipment is not known, both the
 * item and its provision are walked: whatever turns out to be there, nothing was left out.
 */
function settleProvisions(rows: Map<string, PlanRow>, provisions: ReadonlySet<string>): void {
  const replacedBy = new Map<string, PlanRow[]>();
  for (const row of rows.values()) {
    if (provisions.has(row.item.id) || !perhapsAbsent(row)) continue;
    const stands = provisionChain(rows, row);
    if (row.state === "notInstalled") rows.set(row.item.id, { ...row, provision: stands[0] ?? null });
    for (const name of stands) replacedBy.set(name, [...(replacedBy.get(name) ?? []), row]);
  }
  for (const name of provisions) {
    const row = rows.get(name);
    if (row === undefined || row.state !== "applies") continue;
    const replaced = replacedBy.get(name);
    if (replaced === undefined) rows.set(name, { ...row, state: "provisionUnused" });
    else {
      const certain = row.certain && replaced.some((absent) => absent.state === "notInstalled");
      rows.set(name, { ...row, certain, insteadOf: replaced.map((absent) => absent.item.id) });
    }
  }
}

const perhapsAbsent = (row: PlanRow): boolean =>
  row.state === "notInstalled" ||
  row.why.some((term) => term.kind === "installed" && term.state === "unknown");

/** The provision items to walk for a row: the first that surely applies ends the chain. */
function provisionChain(rows: ReadonlyMap<string, PlanRow>, from: PlanRow): readonly string[] {
  const found: string[] = [];
  const seen = new Set<string>([from.item.id]);
  for (let next = from.item.provision; next !== undefined && !seen.has(next);) {
    seen.add(next);
    const row = rows.get(next);
    if (row === undefined) break;
    if (row.state === "applies") found.push(next);
    if (!perhapsAbsent(row)) break;
    next = row.item.provision;
  }
  return found;
}

function inOrder(stops: readonly string[], rows: readonly PlanRow[]): readonly PlanRow[] {
  const place = new Map(stops.map((stop, at) => [stop, at]));
  const placeOf = (row: PlanRow) => place.get(row.item.stop) ?? place.size;
  return rows.toSorted((a, b) => placeOf(a) - placeOf(b) || a.index - b.index);
}
