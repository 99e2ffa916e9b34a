// Comparing a value with a limit (law 6): a value within a relative 1e−9 of a limit counts as on it, and on a limit is
// met, so that every engine agrees whatever its last bit. Refuses nothing; a NaN meets no limit.

/** Relative distance within which two numbers count as the same. */
export const onLimit = 1e-9;

/** Whether the value counts as being on the limit. */
export function isOn(value: number, limit: number): boolean {
  return Math.abs(value - limit) <= onLimit * Math.max(Math.abs(value), Math.abs(limit));
}

/** value ≤ limit, or on it. */
export function atMost(value: number, limit: number): boolean {
  return value <= limit || isOn(value, limit);
}

/** value ≥ limit, or on it. */
export function atLeast(value: number, limit: number): boolean {
  return value >= limit || isOn(value, limit);
}

/** value < limit and not on it. */
export function below(value: number, limit: number): boolean {
  return value < limit && !isOn(value, limit);
}

/** value > limit and not on it. */
export function above(value: number, limit: number): boolean {
  return value > limit && !isOn(value, limit);
}
