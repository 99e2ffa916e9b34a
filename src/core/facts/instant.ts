// Instants: text in the record (`YYYY-MM-DDTHH:MM:SS.mmmZ`), milliseconds since 1970-01-01T00:00Z in arithmetic.
// Calendar days are another notion and live in calendar.ts. Nothing here reads a clock.

const form = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z$/u;

export const minute_ms = 60_000;
export const hour_ms = 3_600_000;

/** True when the text has the one form that the record uses and names a real instant (no 30 February, no minute 61). */
export function isInstantText(text: string): boolean {
  if (!form.test(text)) return false;
  const at_ms = Date.parse(text);
  return Number.isFinite(at_ms) && new Date(at_ms).toISOString() === text;
}

/** Milliseconds of an instant in the record's form. Throws a RangeError naming the text when it has another form. */
export function instantToMs(text: string): number {
  if (!isInstantText(text)) {
    throw new RangeError(`not an instant of the form YYYY-MM-DDTHH:MM:SS.mmmZ: ${JSON.stringify(text)}`);
  }
  return Date.parse(text);
}

/** The record's form of an instant. Throws a RangeError outside the years 0000 to 9999. */
export function msToInstant(at_ms: number): string {
  const text = new Date(at_ms).toISOString();
  if (!form.test(text)) throw new RangeError(`instant outside the years 0000 to 9999: ${at_ms} ms`);
  return text;
}
