// Where a quantity that depends on time crosses zero: the first whole millisecond on the other side.
//
// The caller gives an interval on which the quantity crosses at most once (the sun's altitude between its lowest and its
// highest of a day). Because the ends have different signs, a root always lies inside; the Illinois form of false
// position narrows it down, and every third step halves the interval, so that no shape of the curve can stall it.

/**
 * The first whole millisecond t in (from, to] at which `value(t) >= 0` differs from `value(from) >= 0`; null when both
 * ends are on the same side. `from_ms` and `to_ms` are whole numbers, from before to.
 */
export function firstCrossing(
  value: (at_ms: number) => number,
  from_ms: number,
  to_ms: number,
): number | null {
  let [low_ms, high_ms] = [from_ms, to_ms];
  let [low, high] = [value(low_ms), value(high_ms)];
  const isAbove = low >= 0;
  if (high >= 0 === isAbove) return null;
  let kept = 0;
  for (let step = 1; high_ms - low_ms > 1; step += 1) {
    const share = step % 3 === 0 ? 0.5 : low / (low - high);
    const guess_ms = low_ms + Math.round((high_ms - low_ms) * share);
    const at_ms = Math.min(high_ms - 1, Math.max(low_ms + 1, guess_ms));
    const found = value(at_ms);
    if (found >= 0 === isAbove) {
      [low_ms, low] = [at_ms, found];
      if (kept === 1) high /= 2;
      kept = 1;
    } else {
      [high_ms, high] = [at_ms, found];
      if (kept === -1) low /= 2;
      kept = -1;
    }
  }
  return high_ms;
}
