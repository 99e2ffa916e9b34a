// Assesses what happened to the craft: each event of the sheet's register blocks, or is not known, until somebody in the
// role that the register names has written what was found. An event that the sheet does not list waits for an engineer.
import type { CraftState, EventFact } from "../facts/craft.ts";
import type { Reason } from "../facts/reason.ts";
import type { Sheet } from "../sheet/schema.ts";

/** Roles whose word is enough, by what the register asks for. Work on an event is an engineer's; the office is none. */
const enough = {
  technicalCrew: ["crewMember", "pilot", "engineer"],
  pilot: ["pilot", "engineer"],
  engineer: ["engineer"],
} as const satisfies Record<Sheet["events"][number]["clearedBy"], readonly string[]>;

/** Whether a person of this role may clear the event. */
export function mayClear(sheet: Sheet | null, { event }: Pick<EventFact, "event">, role: string): boolean {
  const listed = sheet?.events.find(({ id }) => id === event);
  return (enough[listed?.clearedBy ?? "engineer"] as readonly string[]).includes(role);
}

/** Cleared by somebody whose word is enough; another's is kept, and counts for nothing. */
export function isCleared(sheet: Sheet | null, event: EventFact): boolean {
  return event.cleared.some(({ role }) => mayClear(sheet, event, role));
}

function eventReason(sheet: Sheet, event: EventFact): Reason {
  const index = sheet.events.findIndex(({ id }) => id === event.event);
  const listed = sheet.events[index];
  return {
    code:
      listed === undefined ? "event.notListed" : listed.effect === "grounds" ? "event.grounds" : "event.asks",
    effect: listed?.effect === "grounds" ? "blocks" : "unknown",
    operations: "all",
    from_ms: null,
    until_ms: null,
    source: {
      kind: "sheet",
      path: listed === undefined ? "events" : `events[${index}]`,
      cite: listed?.source?.page ?? null,
    },
    evidence: [event.entry],
    remedy: { code: "event.clear", clearance: "someone" },
    facts: { event: event.event, words: event.words, at_ms: event.at_ms },
  };
}

/** Reasons from every event that nobody has cleared who may. */
export function assessEvents(sheet: Sheet, state: CraftState): Reason[] {
  return state.events.filter((event) => !isCleared(sheet, event)).map((event) => eventReason(sheet, event));
}
