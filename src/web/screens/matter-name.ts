// What runs out, by the names of the sheet: a task, a part with its serial number, an obligation in its own words.
import type { Reason } from "../../core/facts/reason.ts";
import type { Names } from "../../present/names.ts";

export function matterName({ task, component, serial, words }: Reason["facts"], names: Names): string {
  if (typeof task === "string") return names.title("task", task);
  if (typeof component === "string") {
    const part = names.title("component", component);
    return typeof serial === "string" ? `${part} ${serial}` : part;
  }
  return typeof words === "string" ? words : "?";
}
