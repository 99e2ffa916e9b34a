// Sets of numbers as closed intervals: the answers of the solver. Ascending, apart from each other; none is "no value
// at all", and an interval can be one value.

export type Interval = { readonly low: number; readonly high: number };
export type IntervalSet = readonly Interval[];

/** The intervals in order, those that meet or overlap joined. */
export function joinIntervals(intervals: readonly Interval[]): IntervalSet {
  const joined: Interval[] = [];
  for (const interval of intervals.toSorted((one, other) => one.low - other.low)) {
    const last = joined.at(-1);
    if (last === undefined || interval.low > last.high) joined.push(interval);
    else if (interval.high > last.high) joined[joined.length - 1] = { low: last.low, high: interval.high };
  }
  return joined;
}

export function intersectIntervals(one: IntervalSet, other: IntervalSet): IntervalSet {
  const common: Interval[] = [];
  for (const a of one) {
    for (const b of other) {
      const low = Math.max(a.low, b.low);
      const high = Math.min(a.high, b.high);
      if (low <= high) common.push({ low, high });
    }
  }
  return joinIntervals(common);
}

/** The interval that a value is in, or null. */
export function intervalWith(set: IntervalSet, value: number): Interval | null {
  return set.find(({ low, high }) => value >= low && value <= high) ?? null;
}

/**
 * The values from `low` to `high` for which `holds`, when that can change only at `changes` (any order, others ignored).
 * Tested in the middle of each part between them, and at each of them, where it can hold for one value alone. Where it
 * holds in a part but not at its end, the interval ends just inside: less than a millionth of the part before it where
 * that suffices.
 */
export function intervalsWhere(
  low: number,
  high: number,
  changes: readonly number[],
  holds: (value: number) => boolean,
): IntervalSet {
  const inner = changes.filter((value) => value > low && value < high);
  const cuts = [...new Set([low, ...inner, high])].sort((a, b) => a - b);
  const holdsAt = cuts.map((value) => holds(value));
  const found: Interval[] = cuts
    .filter((_, index) => holdsAt[index])
    .map((value) => ({ low: value, high: value }));
  for (let i = 1; i < cuts.length; i += 1) {
    const [from, to] = [cuts[i - 1]!, cuts[i]!];
    const middle = from + (to - from) / 2;
    if (!holds(middle)) continue;
    found.push({
      low: holdsAt[i - 1]! ? from : justInside(from, middle, holds),
      high: holdsAt[i]! ? to : justInside(to, middle, holds),
    });
  }
  return joinIntervals(found);
}

/** The first value found to hold on the way from an end to the middle, in steps that grow tenfold. */
function justInside(end: number, middle: number, holds: (value: number) => boolean): number {
  for (let part = 1e-12; part < 1; part *= 10) {
    const value = end + (middle - end) * part;
    if (holds(value)) return value;
  }
  return middle;
}
