// Which values of a list to keep so that it never falls, as many as possible: an hour meter does not go back, so where a
// list of its readings does, the fewest that can be wrong are left out.
//
// Source: longest non-decreasing subsequence by patience sorting (C. Schensted, Canad. J. Math. 13, 1961; M. L. Fredman,
// Discrete Math. 11, 1975), n log n, from both ends. Of several as long, the one that keeps the earlier values.

/** True for each value that is kept. */
export function neverFalling(values: readonly number[]): readonly boolean[] {
  const ending = longestEndings(values);
  const starting = longestEndings(values.toReversed().map((value) => -value)).toReversed();
  const longest = ending.reduce((most, length) => Math.max(most, length), 0);
  let wanted = 1;
  let last = Number.NEGATIVE_INFINITY;
  return values.map((value, index) => {
    const isOnOne = ending[index]! + starting[index]! - 1 === longest;
    if (!isOnOne || ending[index] !== wanted || value < last) return false;
    wanted += 1;
    last = value;
    return true;
  });
}

/** For each value, how long a never falling part can be that ends with it. */
function longestEndings(values: readonly number[]): readonly number[] {
  /** The smallest value with which a part of each length ends, so far. */
  const ends: number[] = [];
  return values.map((value) => {
    let low = 0;
    let high = ends.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (ends[middle]! <= value) low = middle + 1;
      else high = middle;
    }
    ends[low] = value;
    return low + 1;
  });
}
