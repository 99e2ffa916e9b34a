// On which side of a line a point lies, exactly, for any three points given as doubles.
//
// Plain double arithmetic gets the sign wrong for points within rounding of the line; a limit polygon is then taken for
// crossed when it is sound, or sound when it is crossed. Here a rounded determinant is kept when it is larger than its
// own error bound, and otherwise the determinant is summed without rounding as a sum of doubles.
//
// Source: J. R. Shewchuk, Adaptive Precision Floating-Point Arithmetic and Fast Robust Geometric Predicates, Discrete
// and Computational Geometry 18 (1997), section 2 (two-sum, split, two-product, grow-expansion) and section 4.3 (error
// bound A of the two-dimensional orientation test).
// Valid for finite coordinates of magnitude 0 or 1e-140 … 1e140, so that no product over- or underflows.
// Written here rather than taken from a package because the rest of the core imports none for it; the package
// robust-predicates 3.0.3 is the oracle of its test.

const splitter = 2 ** 27 + 1;
const roundingUnit = 2 ** -53;
const filterBound = (3 + 16 * roundingUnit) * roundingUnit;

/** The rounding error of `a * b`, exactly: a·b = product + error. */
export function productError(a: number, b: number, product: number): number {
  const aWide = splitter * a;
  const aHigh = aWide - (aWide - a);
  const aLow = a - aHigh;
  const bWide = splitter * b;
  const bHigh = bWide - (bWide - b);
  const bLow = b - bHigh;
  return aLow * bLow - (product - aHigh * bHigh - aLow * bHigh - aHigh * bLow);
}

/** Adds one double to an expansion (doubles that do not overlap, smallest first) without rounding. */
function growExpansion(expansion: readonly number[], addend: number): number[] {
  const grown: number[] = [];
  let carry = addend;
  for (const part of expansion) {
    const sum = carry + part;
    const virtual = sum - carry;
    const error = carry - (sum - virtual) + (part - virtual);
    if (error !== 0) grown.push(error);
    carry = sum;
  }
  if (carry !== 0) grown.push(carry);
  return grown;
}

/** The sign of a sum of products a·b, without rounding. */
export function signOfProductSum(products: readonly (readonly [number, number])[]): -1 | 0 | 1 {
  let sum: number[] = [];
  for (const [a, b] of products) {
    const product = a * b;
    sum = growExpansion(sum, productError(a, b, product));
    sum = growExpansion(sum, product);
  }
  const leading = sum.at(-1) ?? 0;
  return leading > 0 ? 1 : leading < 0 ? -1 : 0;
}

/**
 * 1 when a, b, c turn anticlockwise (c lies left of the line from a to b), −1 when they turn clockwise, 0 when the three
 * points are on one line. Exact.
 */
export function orientation(
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
): -1 | 0 | 1 {
  const left = (ax - cx) * (by - cy);
  const right = (ay - cy) * (bx - cx);
  const determinant = left - right;
  if (Math.abs(determinant) >= filterBound * (Math.abs(left) + Math.abs(right))) {
    return determinant > 0 ? 1 : determinant < 0 ? -1 : 0;
  }
  // The determinant multiplied out; the two cx·cy terms cancel.
  return signOfProductSum([
    [ax, by],
    [-ax, cy],
    [-cx, by],
    [-ay, bx],
    [ay, cx],
    [cy, bx],
  ]);
}
