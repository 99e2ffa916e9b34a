// Which values of a list to keep so that it never falls, as many as possible: an hour meter does not go back, so where a
// list of its readings does, the fewest that can be wrong are left out.
//
// Source: longest non-decreasing subsequence by patience sorting (C. Schensted, Canad. J. Math. 13, 1961; M. L. Fredman,
// Discrete Math. 11, 1975), n log n. Of several as long, one whose values are the smaller.

/** True for each value that is kept. */
export function neverFalling(values: readonly number[]): readonly boolean[] {
  const ends: number[] = [];
  const before = Array.from(values, () => -1);
  values.forEach((value, index) => {
    let low = 0;
    let high = ends.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (values[ends[middle]!]! <= value) low = middle + 1;
      else high = middle;
    }
    before[index] = ends[low - 1] ?? -1;
    ends[low] = index;
  });
  const kept = values.map(() => false);
  for (let at = ends.at(-1) ?? -1; at >= 0; at = before[at]!) kept[at] = true;
  return kept;
}
