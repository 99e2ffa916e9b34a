// Zones at the border of `preen calc`: an IANA name or UTC.

import { isZone } from "../../core/facts/calendar.ts";
import { describe, refuse } from "../../core/quantity/refusal.ts";
import type { Field } from "./fields.ts";

/** An IANA zone; an offset such as +01:00 is none. */
export function zoneName(): Field<string> {
  return {
    kind: "field",
    schema: { type: "string", description: "IANA zone, or UTC" },
    read(value, path) {
      if (typeof value !== "string" || !/^[A-Za-z]/u.test(value) || !isZone(value)) {
        refuse(path, "outsideDomain", describe(value), "an IANA zone such as Europe/Oslo, or UTC");
      }
      return value;
    },
  };
}
