// Double-double numbers: a pair (high, low) whose exact sum carries about 31 decimal digits. For sums in which two large
// parts cancel, such as n Σx² − (Σx)² over hours or years that all lie far from zero.
//
// Source: D. E. Knuth, The Art of Computer Programming 2, 4.2.2 (error of a sum); T. J. Dekker, A floating-point
// technique for extending the available precision, Numer. Math. 18 (1971) (split, product, quotient).
// Valid while no product over- or underflows: keep magnitudes within about 1e±140.

export type DoubleDouble = readonly [high: number, low: number];

export const zero: DoubleDouble = [0, 0];

export function dd(value: number): DoubleDouble {
  return [value, 0];
}

export function toNumber([high, low]: DoubleDouble): number {
  return high + low;
}

export function add(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const [sum, error] = twoSum(a[0], b[0]);
  const [low, lowError] = twoSum(a[1], b[1]);
  const [high, rest] = quickTwoSum(sum, error + low);
  return quickTwoSum(high, rest + lowError);
}

export function negate([high, low]: DoubleDouble): DoubleDouble {
  return [-high, -low];
}

export function subtract(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  return add(a, negate(b));
}

export function multiply(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const [product, error] = twoProduct(a[0], b[0]);
  return quickTwoSum(product, error + (a[0] * b[1] + a[1] * b[0]));
}

/** The quotient; the divisor must not be zero. */
export function divide(a: DoubleDouble, b: DoubleDouble): DoubleDouble {
  const first = a[0] / b[0];
  const rest = subtract(a, multiply(b, dd(first)));
  const second = rest[0] / b[0];
  const last = subtract(rest, multiply(b, dd(second)));
  return add(quickTwoSum(first, second), dd(last[0] / b[0]));
}

function twoSum(a: number, b: number): DoubleDouble {
  const sum = a + b;
  const partOfB = sum - a;
  return [sum, a - (sum - partOfB) + (b - partOfB)];
}

/** As twoSum, where a is known to be the larger. */
function quickTwoSum(a: number, b: number): DoubleDouble {
  const sum = a + b;
  return [sum, b - (sum - a)];
}

/** 2^27 + 1 cuts a double into two halves of 26 bits. */
const splitter = 134_217_729;

function twoProduct(a: number, b: number): DoubleDouble {
  const value = a * b;
  const [aHigh, aLow] = split(a);
  const [bHigh, bLow] = split(b);
  return [value, aLow * bLow - (value - aHigh * bHigh - aLow * bHigh - aHigh * bLow)];
}

function split(a: number): DoubleDouble {
  const scaled = splitter * a;
  const high = scaled - (scaled - a);
  return [high, a - high];
}
