// Until which day papers and checks hold: calendar months to the end of a month, or to the day of the same number.
//
// Checks (ORO.FC.230; AMC1 SPA.NVIS.130(f)): so many calendar months from the end of the month of the check; passed
// within the last three months of the old validity it counts from the old expiry. The rule is text for NVIS checks,
// from memory for ORO.FC.230(g).
// Medical class 1 (MED.A.045(a), text): 12 months; 6 from the age of 60, and of 40 in single-pilot commercial transport
// with passengers. The last day has the same number as the examination, or is the last of a shorter month (ICAO Annex 1,
// 1.2.5.2). Where the birthday comes between, the shorter validity holds from that day: the stricter reading.
// Checked in published/crew.test.ts.
import { dateLater, endOfMonth } from "../facts/calendar.ts";

/** The last day of a check by all of the days on which it was passed, in any order; null when it never was. */
export function checkLastDay(passedOn: readonly string[], months: number): string | null {
  const later = (day: string, by: number): string => endOfMonth(dateLater(endOfMonth(day), { months: by }));
  return passedOn.toSorted().reduce<string | null>((last, day) => {
    const isEarlyRenewal = last !== null && day <= last && day > later(last, -3);
    return later(isEarlyRenewal ? last : day, months);
  }, null);
}

export function medicalLastDay(examinedOn: string, bornOn: string, isSinglePilot: boolean): string {
  const birthday = dateLater(bornOn, { months: (isSinglePilot ? 40 : 60) * 12 });
  const [long, short] = [dateLater(examinedOn, { months: 12 }), dateLater(examinedOn, { months: 6 })];
  if (birthday > long) return long;
  const eve = dateLater(birthday, { days: -1 });
  return eve > short ? eve : short;
}
