// Where something begins or ceases to hold, to the last bit of a number: halving until two neighbours are left.
//
// For conditions that hold on one side of a threshold; of others, one of their thresholds is found.

/** The smallest number from `low` to `high` at which something holds that holds from some number on; null for none. */
export function firstWhere(holds: (value: number) => boolean, low: number, high: number): number | null {
  if (!holds(high)) return null;
  if (holds(low)) return low;
  let [no, yes] = [low, high];
  for (;;) {
    const middle = no + (yes - no) / 2;
    if (middle <= no || middle >= yes) return yes;
    if (holds(middle)) yes = middle;
    else no = middle;
  }
}

/** The largest at which something holds that holds up to some number. */
export function lastWhere(holds: (value: number) => boolean, low: number, high: number): number | null {
  const found = firstWhere((value) => holds(-value), -high, -low);
  return found === null ? null : -found;
}
