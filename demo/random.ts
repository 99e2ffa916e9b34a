// Chance for the demo, from a seed: xoshiro128** (Blackman and Vigna, 2018), seeded by splitmix32. Same seed, same
// numbers, on every machine; nothing of it guards anything.
export type Random = {
  /** Uniform in [0, 1). */
  readonly unit: () => number;
  /** A whole number from `low` to `high`, both included. */
  readonly whole: (low: number, high: number) => number;
  readonly chance: (probability: number) => boolean;
  readonly pick: <Value>(values: readonly Value[]) => Value;
  /** About normal, mean 0, deviation 1 (sum of twelve uniforms less six). */
  readonly normal: () => number;
  /** `digits` lower-case hex digits. */
  readonly hex: (digits: number) => string;
};

function splitmix32(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad);
    mixed = Math.imul(mixed ^ (mixed >>> 15), 0x735a2d97);
    return (mixed ^ (mixed >>> 15)) >>> 0;
  };
}

const rotate = (value: number, by: number): number => (value << by) | (value >>> (32 - by));

export function randomFrom(seed: number): Random {
  const spread = splitmix32(seed);
  let [a, b, c, d] = [spread(), spread(), spread(), spread()];
  const next = (): number => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotate(d, 11);
    return result;
  };
  const unit = (): number => next() / 2 ** 32;
  const whole = (low: number, high: number): number => low + Math.floor(unit() * (high - low + 1));
  return {
    unit,
    whole,
    chance: (probability) => unit() < probability,
    pick(values) {
      const value = values[whole(0, values.length - 1)];
      if (value === undefined) throw new RangeError("nothing to pick from");
      return value;
    },
    normal: () => Array.from({ length: 12 }, unit).reduce((sum, part) => sum + part, -6),
    hex: (digits) => Array.from({ length: digits }, () => whole(0, 15).toString(16)).join(""),
  };
}
