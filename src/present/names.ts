// The names that ids stand for: the sheet's own words for its parts, the directory's for people. An id without a name is
// shown as it is, never left out.
import type { Sheet } from "../core/sheet/schema.ts";
import { asTitle } from "./sentence-case.ts";
import type { Language } from "./words/language.ts";

export type Named =
  | "closure"
  | "compartment"
  | "component"
  | "deferral"
  | "equipment"
  | "event"
  | "gauge"
  | "item"
  | "kitList"
  | "operation"
  | "seat"
  | "stop"
  | "stretcher"
  | "task";
export type Names = {
  /** As the sheet writes it: as it stands inside a sentence. */
  readonly of: (what: Named, id: string) => string;
  /** The same at the beginning of a line. */
  readonly title: (what: Named, id: string) => string;
  readonly person: (id: string) => string;
};

const blockOf = {
  closure: "closures",
  compartment: "compartments",
  component: "components",
  deferral: "deferrals",
  equipment: "equipment",
  event: "events",
  gauge: "gauges",
  kitList: "kitLists",
  operation: "operations",
  seat: "seats",
  stop: "stops",
  stretcher: "stretchers",
  task: "programme",
} as const;

/** The names in one language; `people` maps person ids to names. */
export function namesIn(language: Language, sheet: Sheet | null, people: ReadonlyMap<string, string>): Names {
  const of: Names["of"] = (what, id) => {
    if (what === "item") return sheet?.items.find((item) => item.id === id)?.text[language] ?? id;
    const block: readonly { readonly id: string; readonly name: Readonly<Record<Language, string>> }[] =
      sheet?.[blockOf[what]] ?? [];
    return block.find((element) => element.id === id)?.name[language] ?? id;
  };
  return {
    of,
    title: (what, id) => asTitle(of(what, id), language),
    person: (id) => people.get(id) ?? id,
  };
}
