import { plural } from "../plural.ts";

export const ledger = {
  entries: (count: number) => plural("en", count, { one: "1 entry", other: `${count} entries` }),
  by: (person: string) => `by ${person}`,
  corrected: "corrected later",
  erased: "erased by order",
  notSent: "not sent",
  setAside: "set aside",
  none: "Nothing recorded yet",
  noneBody: "Each thing you record becomes one line here and is never rewritten.",
};
