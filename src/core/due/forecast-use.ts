// When hours that are left will have been flown, from the craft's own use. In: hours flown on each of the last days
// (zeros included), hours left. Out: days until then, with an interval.
//
// Use is taken as days that are alike and independent, with the mean and spread seen; after d days the sum is about
// normal with mean m·d and standard deviation s·√d. The bounds solve m·d ± z·s·√d = left for z = 1.645, so that about
// nine in ten fall between (common practice; no published figure is claimed). Null below 14 days or without any use.
export type UseForecast = { readonly early_d: number; readonly expected_d: number; readonly late_d: number };

const daysNeeded = 14;
const z = 1.645;

/** Hours a day over the days given; null below 14 days or without any use. */
export function hoursPerDay(daily_h: readonly number[]): number | null {
  if (daily_h.length < daysNeeded) return null;
  const mean = daily_h.reduce((sum, hours) => sum + hours, 0) / daily_h.length;
  return mean > 0 ? mean : null;
}

export function forecastUse(daily_h: readonly number[], left_h: number): UseForecast | null {
  const n = daily_h.length;
  const mean = hoursPerDay(daily_h);
  if (mean === null) return null;
  if (!(left_h > 0)) return { early_d: 0, expected_d: 0, late_d: 0 };
  const spread = Math.sqrt(daily_h.reduce((sum, hours) => sum + (hours - mean) ** 2, 0) / (n - 1));
  // √d solves m·x² ± z·s·x − left = 0; both roots written so that nothing cancels.
  const half = (z * spread) / (2 * mean);
  const root = Math.sqrt(half * half + left_h / mean);
  return {
    early_d: (left_h / mean / (root + half)) ** 2,
    expected_d: left_h / mean,
    late_d: (root + half) ** 2,
  };
}
