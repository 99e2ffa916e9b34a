// Finds keys that stand twice in one object of a JSON text. JSON.parse keeps the last and says nothing, so a mass given
// twice would be answered with one of the two.
//
// Takes a text that JSON.parse accepts (nothing is checked again here). Returns, for each top-level element (path "" for
// a single value, "[3]" for the fourth of an array), the path of its first duplicate, relative to that element.

import { atIndex, atKey } from "../../core/quantity/refusal.ts";

type Frame = {
  readonly path: string;
  readonly seen: Set<string> | null;
  key: string;
  index: number;
};

const tokens = /"[^"\\]*(?:\\.[^"\\]*)*"|[[\]{},:]/g;

export function duplicateKeys(text: string): Map<string, string> {
  const found = new Map<string, string>();
  const stack: Frame[] = [];
  let isTopArray = false;
  let pending: string | null = null;
  for (const [token] of text.matchAll(tokens)) {
    const top = stack.at(-1);
    if (token === "{" || token === "[") {
      if (top === undefined) isTopArray = token === "[";
      stack.push({
        path: top === undefined ? "" : pathIn(top),
        seen: token === "{" ? new Set() : null,
        key: "",
        index: 0,
      });
    } else if (token === "}" || token === "]") {
      stack.pop();
    } else if (token === ",") {
      if (top !== undefined) top.index += 1;
    } else if (token === ":") {
      if (top !== undefined && pending !== null)
        noteKey(top, JSON.parse(pending) as string, isTopArray, found);
    }
    pending = token.startsWith('"') ? token : null;
  }
  return found;
}

function pathIn(frame: Frame): string {
  return frame.seen === null ? atIndex(frame.path, frame.index) : atKey(frame.path, frame.key);
}

function noteKey(frame: Frame, key: string, isTopArray: boolean, found: Map<string, string>): void {
  frame.key = key;
  if (frame.seen?.has(key) !== true) {
    frame.seen?.add(key);
    return;
  }
  const path = atKey(frame.path, key);
  const end = isTopArray ? path.indexOf("]") + 1 : 0;
  const element = path.slice(0, end);
  if (!found.has(element)) found.set(element, path.slice(path[end] === "." ? end + 1 : end));
}
