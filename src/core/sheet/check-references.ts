// Cross rules of a sheet: ids are unique, every reference finds its element, equipment can be combined, expressions can
// come true, texts are in two languages.

import { termsOf } from "./applicability.ts";
import type { Applicability } from "./applicability-schema.ts";
import { carries, installable, satisfiable, termsMax } from "./configurations.ts";
import type { Catalogue } from "./configurations.ts";
import type { At, Draft } from "./draft.ts";
import type { Say } from "./issue.ts";
import { elementSchemas } from "./schema.ts";
import type { ListBlock, Sheet } from "./schema.ts";
import { chapters } from "./chapters.ts";

const lists = Object.keys(elementSchemas) as ListBlock[];

export function checkIds(draft: Draft, say: Say): void {
  for (const block of lists) {
    const { elements, ids } = draft[block];
    for (const { path, value } of elements) {
      const first = ids.get(value.id);
      if (first !== undefined && first !== path) say(`${path}.id`, "duplicateId", value.id, first);
    }
  }
  const numbers = new Map<string, string>();
  for (const { path, value } of draft.deferrals.elements) {
    const first = numbers.get(value.number);
    if (first === undefined) numbers.set(value.number, path);
    else say(`${path}.number`, "duplicateId", value.number, first);
  }
  const variants = new Set<string>();
  draft.type?.variants.forEach((variant, at) => {
    if (variants.has(variant.id))
      say(`type.variants[${at}].id`, "duplicateId", variant.id, "an earlier variant");
    variants.add(variant.id);
  });
}

/** The fields that name elements of another list, or of their own. */
type Target = ListBlock | "variant";
const referenceFields: { readonly [Block in ListBlock]?: Readonly<Record<string, Target>> } = {
  equipment: { excludes: "equipment", requires: "equipment", variants: "variant" },
  stops: { zone: "zones" },
  items: {
    stop: "stops",
    opens: "closures",
    closes: "closures",
    reads: "gauges",
    mirrored: "items",
    provision: "items",
    after: "items",
  },
  closures: { stop: "stops" },
  gauges: { fluid: "fluids" },
  damage: { stops: "stops" },
  deferrals: { equipment: "equipment", takesAway: "operations", notWith: "deferrals" },
  stretchers: { equipment: "equipment", takesSeats: "seats" },
  tanks: { fluid: "fluids", gauge: "gauges", equipment: "equipment" },
  envelopes: { variants: "variant" },
  windLimits: { operations: "operations" },
  programme: { equipment: "equipment", takesAway: "operations" },
  components: { equipment: "equipment", takesAway: "operations" },
};
/** Fields in which an element may not name itself. */
const ownKind = new Set(["excludes", "requires", "mirrored", "provision", "after", "notWith"]);

const targetNames: Readonly<Record<Target, string>> = {
  variant: "variant",
  zones: "zone",
  equipment: "equipment",
  stops: "stop",
  items: "item",
  closures: "closure",
  gauges: "gauge",
  fluids: "fluid",
  damage: "damage limit",
  deferrals: "deferral",
  events: "event",
  seats: "seat",
  stretchers: "stretcher",
  compartments: "compartment",
  kitLists: "kit list",
  tanks: "tank",
  envelopes: "envelope",
  operations: "operation",
  windLimits: "wind limit",
  programme: "inspection",
  components: "component",
};

/** Does a list hold this id? True as well where the list itself could not be read. */
function resolves(draft: Draft, target: Target, name: string): boolean {
  if (target === "variant")
    return draft.type === null || draft.type.variants.some((variant) => variant.id === name);
  const { ids, whole } = draft[target];
  return ids.has(name) || (!whole && ids.size === 0);
}

export function checkReferences(draft: Draft, say: Say): void {
  const one = (path: string, target: Target, name: string): void => {
    if (!resolves(draft, target, name)) say(path, "reference", name, targetNames[target]);
  };
  const many = (path: string, target: Target, names: readonly string[]): void => {
    names.forEach((name, at) => {
      one(`${path}[${at}]`, target, name);
      if (names.indexOf(name) !== at) say(`${path}[${at}]`, "repeated", name);
    });
  };
  for (const block of lists) {
    const fields = Object.entries(referenceFields[block] ?? {});
    for (const { path, value } of draft[block].elements) {
      const element: Readonly<Record<string, unknown>> = value;
      for (const [field, target] of fields) {
        const named = element[field];
        if (typeof named === "string" && named !== "all") one(`${path}.${field}`, target, named);
        else if (Array.isArray(named)) many(`${path}.${field}`, target, named as string[]);
        if (ownKind.has(field)) sayItself(`${path}.${field}`, value.id, named, say);
      }
      const applies = element["applies"] as Applicability | undefined;
      if (applies !== undefined) checkTerms(`${path}.applies`, applies, one);
    }
  }
  for (const { path, value } of draft.operations.elements) {
    many(`${path}.needs.equipment`, "equipment", value.needs.equipment);
    many(`${path}.needs.gauges`, "gauges", value.needs.gauges);
  }
  for (const { path, value } of draft.equipment.elements)
    if (value.breathing !== undefined) one(`${path}.breathing.gauge`, "gauges", value.breathing.gauge);
  for (const { path, value } of draft.charts.elements) {
    if (value.applies !== undefined) checkTerms(`${path}.applies`, value.applies, one);
    if (value.use?.for === "powerCheck") many(`${path}.use.gauges`, "gauges", value.use.gauges);
  }
  for (const { path, value } of draft.kitLists.elements) {
    value.kit.forEach(({ at }, index) => one(`${path}.kit[${index}].at`, "compartments", at));
    value.kit.forEach(({ kit }, index) => {
      const first = value.kit.findIndex((thing) => thing.kit === kit);
      if (first !== index) say(`${path}.kit[${index}].kit`, "duplicateId", kit, `${path}.kit[${first}]`);
    });
  }
  if (draft.hoist !== null) one("hoist.equipment", "equipment", draft.hoist.equipment);
  if (draft.ice?.protectedBy !== undefined) checkTerms("ice.protectedBy", draft.ice.protectedBy, one);
  draft.outline?.doors.forEach((door, at) => one(`outline.doors[${at}].closure`, "closures", door.closure));
  for (const walk of ["full", "launch", "parking"] as const) {
    many(`order.${walk}`, "stops", draft.order?.[walk] ?? []);
  }
}

function sayItself(path: string, id: string, named: unknown, say: Say): void {
  if (named === id) say(path, "itself", id);
  else if (Array.isArray(named) && named.includes(id)) say(`${path}[${named.indexOf(id)}]`, "itself", id);
}

function checkTerms(
  path: string,
  expression: Applicability,
  one: (path: string, target: Target, name: string) => void,
): void {
  if ("all" in expression) expression.all.forEach((part, at) => checkTerms(`${path}.all[${at}]`, part, one));
  else if ("any" in expression)
    expression.any.forEach((part, at) => checkTerms(`${path}.any[${at}]`, part, one));
  else if ("not" in expression) checkTerms(`${path}.not`, expression.not, one);
  else if ("installed" in expression) one(`${path}.installed`, "equipment", expression.installed);
  else if ("variant" in expression) one(`${path}.variant`, "variant", expression.variant);
}

/** What can be built: known only when the type and the whole catalogue could be read. */
export function catalogueOf(draft: Draft): Catalogue | null {
  if (draft.type === null || !draft.equipment.whole) return null;
  const variants = draft.type.variants.map((variant) => variant.id);
  // A variant that is not there is reported as a reference; here it must not make everything impossible as well.
  const readable = ({ value }: At<Sheet["equipment"][number]>) => {
    const { variants: named, ...rest } = value;
    return named === undefined || named.some((name) => !variants.includes(name)) ? rest : value;
  };
  return {
    variants,
    equipment: new Map(draft.equipment.elements.map((one) => [one.value.id, readable(one)])),
  };
}

/** No expression that can never be true; no equipment that can never be fitted; no operation that can never be flown. */
export function checkReachable(draft: Draft, catalogue: Catalogue, say: Say): void {
  const fits = (names: readonly string[]): boolean => {
    const fitted = installable(names, catalogue);
    return fitted !== null && catalogue.variants.some((variant) => carries(variant, fitted, catalogue));
  };
  for (const { path, value } of draft.equipment.elements) {
    if (!fits([value.id])) say(path, "equipmentConflict", value.id);
  }
  for (const { path, value } of draft.operations.elements) {
    if (!fits(value.needs.equipment))
      say(`${path}.needs.equipment`, "equipmentConflict", value.needs.equipment);
  }
  const blocks = ["items", "closures", "gauges", "damage", "seats", "windLimits"] as const;
  const conditional: readonly At<{ readonly applies?: Applicability }>[] = [
    ...blocks.flatMap((block): readonly At<{ readonly applies?: Applicability }>[] => draft[block].elements),
    ...draft.charts.elements,
  ];
  for (const { path, value } of conditional) {
    if (value.applies === undefined || !everyTermKnown(draft, value.applies)) continue;
    const possible = satisfiable(value.applies, catalogue);
    const terms = termsOf(value.applies);
    if (possible === null) say(`${path}.applies`, "tooWide", terms.length, termsMax);
    else if (!possible) say(`${path}.applies`, "unreachable", JSON.stringify(value.applies));
  }
}

/** A term that does not resolve is reported once, as a reference. */
export function everyTermKnown(draft: Draft, expression: Applicability | undefined): boolean {
  if (expression === undefined) return true;
  return termsOf(expression).every(
    (term) =>
      term.kind === "condition" ||
      resolves(draft, term.kind === "variant" ? "variant" : "equipment", term.name),
  );
}

export function checkTexts(draft: Draft, say: Say): void {
  for (const { path, value } of draft.items.elements) {
    for (const field of ["text", "detail"] as const) {
      const text = value[field];
      // One word may be the same in both; a sentence is not.
      if (text !== undefined && text.en === text.de && /\s/.test(text.en.trim())) {
        say(`${path}.${field}.de`, "sameText", text.en);
      }
    }
  }
  for (const block of ["items", "damage", "deferrals", "events", "programme", "components"] as const) {
    for (const { path, value } of draft[block].elements) {
      if (!chapters.has(value.ata.slice(0, 2))) say(`${path}.ata`, "chapter", value.ata);
    }
  }
}
