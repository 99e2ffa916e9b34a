// The real roots of k0 + k1·t + k2·t², in ascending order.
//
// Source: the root formula without cancellation, q = −(k1 + sign(k1)·√d)/2, roots q/k2 and k0/q; and the discriminant
// with the rounding errors of its two products put back where they nearly cancel (W. Kahan, On the Cost of
// Floating-Point Computation Without Extra-Precise Arithmetic, 2004). A track that only touches a limit has a double
// root, and there the plain discriminant loses half its digits.
// Answers: no root, one or two; none as well for a constant, the zero polynomial included (a track along a limit has
// nowhere in particular that it meets it). Roots beyond the range of doubles are left out. Never NaN for finite input.

import { productError } from "./orientation.ts";

/** k1² − 4·k0·k2, right to a few units in the last place. */
export function discriminant(k0: number, k1: number, k2: number): number {
  const square = k1 * k1;
  const product = 4 * k0 * k2;
  const rounded = square - product;
  // Written so that a cancellation is what falls through; the factor 3 is Kahan's.
  if (3 * Math.abs(rounded) >= square + Math.abs(product)) return rounded;
  return rounded + (productError(k1, k1, square) - productError(4 * k0, k2, product));
}

export function quadraticRoots(k0: number, k1: number, k2: number): number[] {
  if (k2 === 0) return k1 === 0 ? [] : finite([-k0 / k1]);
  const d = discriminant(k0, k1, k2);
  if (d < 0) return [];
  const q = -(k1 + (k1 < 0 ? -1 : 1) * Math.sqrt(d)) / 2;
  if (q === 0) return [0];
  const roots = finite([q / k2, k0 / q]);
  return roots.length === 2 && roots[0]! > roots[1]! ? [roots[1]!, roots[0]!] : roots;
}

/** −0 becomes 0, so that no answer prints a sign that means nothing. */
function finite(roots: readonly number[]): number[] {
  return roots.filter((root) => Number.isFinite(root)).map((root) => root + 0);
}
