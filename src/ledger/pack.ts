// Plain data written small: each text, number, list and record that occurs more than once is written once and named by its
// place in one list. Lossless: what is read back equals what was written (property test).
//
// What a ledger says repeats itself: two hundred marks of one walk differ in nothing but the item. Such a state is a fifth
// of its canonical text as this, and read in a third of the time, without anybody here knowing what a walk is.
//
// Parts that were equal come back as one and the same object: who reads them must not change them in place.
import { canonicalText } from "./canonical.ts";

/**
 * A text, number, true, false or null stands for itself. A list: 0 and the places of its values. A record: 1 + the place of
 * its keys among the shapes, and the places of its values in the order of these keys.
 */
type Part = string | number | boolean | null | readonly number[];

/** The last part is the value itself. */
type Packed = { readonly shapes: readonly (readonly string[])[]; readonly parts: readonly Part[] };

/** Accepts what canonicalText accepts. */
export function packedText(value: unknown): string {
  const shapes: (readonly string[])[] = [];
  const shapePlaces = new Map<string, number>();
  const parts: Part[] = [];
  const places = new Map<string, number>();
  const seen = new Map<unknown, number>();
  const shapeOf = (keys: readonly string[]): number => {
    const name = JSON.stringify(keys);
    let place = shapePlaces.get(name);
    if (place === undefined) shapePlaces.set(name, (place = shapes.push(keys) - 1));
    return place;
  };
  const place = (of: unknown): number => {
    const known = seen.get(of);
    if (known !== undefined) return known;
    let part: Part;
    let name: string;
    if (typeof of !== "object" || of === null) {
      name = canonicalText(of);
      part = of as Part;
    } else {
      const keys = Array.isArray(of) ? null : Object.keys(of).sort();
      const values = keys === null ? (of as readonly unknown[]) : keys.map((key) => (of as never)[key]);
      part = [keys === null ? 0 : 1 + shapeOf(keys), ...values.map(place)];
      name = part.join();
      // Only lists have a comma in their name besides texts, which begin with a quotation mark.
      if (part.length === 1) name += ",";
    }
    let at = places.get(name);
    if (at === undefined) places.set(name, (at = parts.push(part) - 1));
    seen.set(of, at);
    return at;
  };
  place(value);
  return JSON.stringify({ shapes, parts });
}

/** Throws (SyntaxError, TypeError) on a text that packedText did not write. */
export function unpack(text: string): unknown {
  const { shapes, parts } = JSON.parse(text) as Packed;
  const made: unknown[] = [];
  // A part stands after all that it holds.
  for (const part of parts) {
    if (typeof part !== "object" || part === null) {
      made.push(part);
      continue;
    }
    const kind = part[0]!;
    if (kind === 0) {
      const list: unknown[] = [];
      for (let at = 1; at < part.length; at += 1) list.push(made[part[at]!]);
      made.push(list);
      continue;
    }
    const keys = shapes[kind - 1]!;
    const record: Record<string, unknown> = {};
    for (let at = 0; at < keys.length; at += 1) record[keys[at]!] = made[part[at + 1]!];
    made.push(record);
  }
  return made.at(-1);
}
