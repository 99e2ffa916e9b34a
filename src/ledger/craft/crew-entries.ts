// Who is on duty with the craft: declared by whoever takes the shift, judged in core/crew.
import { z } from "zod";
import { crewRoles } from "../../core/facts/crew.ts";
import { instantToMs } from "../../core/facts/instant.ts";
import { refuse } from "../entry-type.ts";
import { beside, craftEntry, instant, personId, replaces } from "./shapes.ts";

const shiftDeclared = craftEntry(
  "shift.declared",
  z.strictObject({
    from: instant,
    until: instant,
    people: z
      .array(
        z.strictObject({ person: personId, roles: z.array(z.enum(crewRoles)).min(1), lastDutyEnd: instant }),
      )
      .min(1)
      .max(12),
    replaces,
  }),
  (state, body, { id, by, at_ms }) => {
    const [from_ms, until_ms] = [instantToMs(body.from), instantToMs(body.until)];
    if (until_ms <= from_ms)
      return refuse("endsBeforeItBegins", "until", body.until, `later than ${body.from}`);
    const late = body.people.find(({ lastDutyEnd }) => instantToMs(lastDutyEnd) > from_ms);
    if (late !== undefined)
      return refuse("restEndsAfterDutyBegins", "people", late.lastDutyEnd, `at most ${body.from}`);
    const people = body.people.map(({ person, roles, lastDutyEnd }) => ({
      person,
      roles,
      lastDutyEnd_ms: instantToMs(lastDutyEnd),
    }));
    return {
      ...state,
      shifts: beside(state.shifts, body.replaces, { entry: id, by, at_ms, from_ms, until_ms, people }),
    };
  },
);

export const crewEntries = [shiftDeclared] as const;
