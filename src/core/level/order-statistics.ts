// Order statistics of a list: the k-th smallest and the median, without sorting all of it.
//
// Source: C. A. R. Hoare's selection (Algorithm 65: FIND, Comm. ACM 4, 1961), with the middle of three as pivot.

/** The k-th smallest value, counted from 0. Reorders `values`, which must be finite and not empty. */
export function selectKth(values: Float64Array, k: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = middleOf(values[low]!, values[(low + high) >> 1]!, values[high]!);
    let left = low;
    let right = high;
    while (left <= right) {
      while (values[left]! < pivot) left += 1;
      while (values[right]! > pivot) right -= 1;
      if (left > right) break;
      const kept = values[left]!;
      values[left] = values[right]!;
      values[right] = kept;
      left += 1;
      right -= 1;
    }
    if (k <= right) high = right;
    else if (k >= left) low = left;
    else return values[k]!;
  }
  return values[k]!;
}

function middleOf(a: number, b: number, c: number): number {
  return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
}

/** The median: the middle value, or the mean of the two in the middle. Refuses nothing; an empty list has none (NaN). */
export function median(values: Float64Array): number {
  const { length } = values;
  if (length === 0) return Number.NaN;
  const upper = selectKth(values, length >> 1);
  if (length % 2 === 1) return upper;
  // What was not chosen below the middle is left of it: the greatest of it is the lower middle.
  let lower = values[0]!;
  for (let at = 1; at < length >> 1; at += 1) lower = Math.max(lower, values[at]!);
  return (lower + upper) / 2;
}
