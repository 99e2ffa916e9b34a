// What follows from a sheet and a record alone is worked out once and kept for as long as both are held: a standing is asked
// again and again while only the time goes on. Kept by identity, and a record that changes is another one, so that nothing
// kept can be of another record than the one that is asked about.
import type { CraftState } from "./craft.ts";

/**
 * The same function, but what it gave for a sheet and a record is given again. `key` tells apart what else it depends on;
 * whoever asks must not change what they get.
 */
export function keptByRecord<Sheet extends object, More, Value>(
  make: (sheet: Sheet, state: CraftState, more: More) => Value,
  key: (more: More) => string,
): (sheet: Sheet, state: CraftState, more: More) => Value {
  const held = new WeakMap<CraftState, WeakMap<Sheet, Map<string, Value>>>();
  return (sheet, state, more) => {
    let ofState = held.get(state);
    if (ofState === undefined) held.set(state, (ofState = new WeakMap<Sheet, Map<string, Value>>()));
    let ofSheet = ofState.get(sheet);
    if (ofSheet === undefined) ofState.set(sheet, (ofSheet = new Map<string, Value>()));
    const name = key(more);
    const before = ofSheet.get(name);
    if (before !== undefined) return before;
    const made = make(sheet, state, more);
    ofSheet.set(name, made);
    return made;
  };
}
