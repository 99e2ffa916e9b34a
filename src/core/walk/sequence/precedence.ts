// What must come before what, closed transitively; a contradiction is named by one of its circles.

export type Closed = { readonly ok: Uint8Array } | { readonly circle: readonly number[] };

/** The transitive closure of pairs over n nodes as an n × n table of 0 and 1, or the nodes of a circle in its order. */
export function closePrecedence(n: number, pairs: readonly (readonly [number, number])[]): Closed {
  const before = new Uint8Array(n * n);
  // The next step from a to b, so that a circle can be told.
  const step = new Int32Array(n * n).fill(-1);
  for (const [a, b] of pairs) {
    before[a * n + b] = 1;
    step[a * n + b] = b;
  }
  for (let middle = 0; middle < n; middle += 1) {
    for (let a = 0; a < n; a += 1) {
      if (before[a * n + middle] === 0) continue;
      for (let b = 0; b < n; b += 1) {
        if (before[middle * n + b] === 0 || before[a * n + b] === 1) continue;
        before[a * n + b] = 1;
        step[a * n + b] = step[a * n + middle]!;
      }
    }
  }
  for (let a = 0; a < n; a += 1) {
    if (before[a * n + a] === 0) continue;
    const circle = [a];
    for (let at = step[a * n + a]!; at !== a; at = step[at * n + a]!) circle.push(at);
    return { circle };
  }
  return { ok: before };
}
