// Instants at the border of `preen calc`: read as ISO 8601 with a zone offset, printed in UTC.
//
// A text that names no real instant (30 February, minute 61, no offset) is refused, never moved to the next one.

import { describe, refuse } from "../../core/quantity/refusal.ts";
import type { Field } from "./fields.ts";

const form = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d)(?::(\d\d)(?:\.(\d{1,3})\d*)?)?(?:Z|([+-])(\d\d):(\d\d))$/u;
const wanted = "an instant such as 2026-02-04T06:40:00Z";

/** An instant, in milliseconds since 1970-01-01T00:00Z. Parts of a millisecond are dropped. */
export function instant(description?: string): Field<number> {
  return {
    kind: "field",
    schema: {
      type: "string",
      format: "date-time",
      ...(description === undefined ? {} : { description }),
    },
    read(value, path) {
      const at_ms = typeof value === "string" ? millisecondsOf(value) : null;
      if (at_ms === null) refuse(path, "wrongKind", describe(value), wanted);
      return at_ms;
    },
  };
}

function millisecondsOf(written: string): number | null {
  const found = form.exec(written);
  if (found === null) return null;
  const [, year, month, day, hour, minute, second = "0", fraction = "0", sign, zoneHour, zoneMinute] = found;
  const parts = [year, month, day, hour, minute, second].map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const local = new Date(0);
  local.setUTCFullYear(parts[0], parts[1] - 1, parts[2]);
  local.setUTCHours(parts[3], parts[4], parts[5], Number(fraction.padEnd(3, "0")));
  const isReal =
    local.getUTCMonth() === parts[1] - 1 &&
    local.getUTCDate() === parts[2] &&
    local.getUTCHours() === parts[3] &&
    local.getUTCMinutes() === parts[4] &&
    local.getUTCSeconds() === parts[5];
  if (!isReal || Number(zoneHour ?? 0) > 23 || Number(zoneMinute ?? 0) > 59) return null;
  const offset_min = Number(zoneHour ?? 0) * 60 + Number(zoneMinute ?? 0);
  return local.getTime() - (sign === "-" ? -offset_min : offset_min) * 60_000;
}

/** An instant in UTC, with a fraction of a second only where there is one. */
export function instantText(at_ms: number): string {
  return new Date(at_ms).toISOString().replace(".000Z", "Z");
}
