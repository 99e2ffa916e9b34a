// Is a closed polygon simple, and does it hold a point? Plain plane geometry on at most a few hundred corners.
//
// In: corners as [a, b], the last repeating the first. Orientation tests are signs of cross products in doubles: a
// sheet's corners are typed with a few decimals, far from where rounding could turn a sign.
// A polygon that touches itself counts as not simple: inside and outside would be a matter of taste there.

export type Corner = readonly [number, number];

const cross = (o: Corner, a: Corner, b: Corner): number =>
  (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);

const within = (a: number, b: number, value: number): boolean =>
  Math.min(a, b) <= value && value <= Math.max(a, b);

const onSegment = (a: Corner, b: Corner, point: Corner): boolean =>
  cross(a, b, point) === 0 && within(a[0], b[0], point[0]) && within(a[1], b[1], point[1]);

function touch(a: Corner, b: Corner, c: Corner, d: Corner): boolean {
  const [s1, s2] = [Math.sign(cross(a, b, c)), Math.sign(cross(a, b, d))];
  const [s3, s4] = [Math.sign(cross(c, d, a)), Math.sign(cross(c, d, b))];
  if (s1 * s2 < 0 && s3 * s4 < 0) return true;
  return onSegment(a, b, c) || onSegment(a, b, d) || onSegment(c, d, a) || onSegment(c, d, b);
}

/** Index of the last corner if it does not repeat the first. */
export function openEnd(corners: readonly Corner[]): number | null {
  const first = corners[0];
  const last = corners.at(-1);
  if (first === undefined || last === undefined) return null;
  return first[0] === last[0] && first[1] === last[1] ? null : corners.length - 1;
}

/** Index of the corner at which the first edge begins that crosses or touches an earlier one, or null. */
export function selfCrossing(corners: readonly Corner[]): number | null {
  const edges = corners.length - 1;
  for (let j = 1; j < edges; j += 1) {
    const [c, d] = [corners[j] as Corner, corners[j + 1] as Corner];
    if (c[0] === d[0] && c[1] === d[1]) return j;
    for (let i = 0; i < j; i += 1) {
      const [a, b] = [corners[i] as Corner, corners[i + 1] as Corner];
      const next = i === j - 1;
      const closing = i === 0 && j === edges - 1;
      // Neighbouring edges share a corner and may only meet there: no folding back onto each other.
      if (next ? foldsBack(a, b, d) : closing ? foldsBack(c, a, b) : touch(a, b, c, d)) return j;
    }
  }
  return null;
}

/** Does the way a → b → d run back over itself? */
const foldsBack = (a: Corner, b: Corner, d: Corner): boolean =>
  cross(a, b, d) === 0 && (b[0] - a[0]) * (d[0] - b[0]) + (b[1] - a[1]) * (d[1] - b[1]) <= 0;

/** Inside or on the edge. */
export function holds(corners: readonly Corner[], point: Corner): boolean {
  let inside = false;
  for (let i = 0; i + 1 < corners.length; i += 1) {
    const [a, b] = [corners[i] as Corner, corners[i + 1] as Corner];
    if (onSegment(a, b, point)) return true;
    if (a[1] > point[1] !== b[1] > point[1]) {
      const crossing = a[0] + ((point[1] - a[1]) / (b[1] - a[1])) * (b[0] - a[0]);
      if (point[0] < crossing) inside = !inside;
    }
  }
  return inside;
}
