// What the operator's record takes of its people, and what it refuses: rest, hours in command, recency of its own.
import { describe, expect, test } from "vitest";
import { isRefusal } from "../entry-type.ts";
import type { Refusal } from "../entry-type.ts";
import { crewEntriesFor, nobodyKnown } from "./crew-entries.ts";

const at_ms = Date.UTC(2026, 10, 25, 8);
const at = "2026-11-25T08:00:00.000Z";
type State = Parameters<ReturnType<typeof crewEntriesFor>[number]["fold"]>[0];
const nothing: State = { crew: nobodyKnown, minima: [], minimaUses: [], flightRules: [] };

function tell(type: string, body: object): State | Refusal {
  const kind = crewEntriesFor<State>().find((one) => one.type === type)!;
  const meta = { id: "e".repeat(64), by: "p-office", at_ms, key: "k".repeat(64) };
  return kind.fold(nothing, { at, replaces: [], ...body }, meta as never);
}
const refused = (type: string, body: object) => {
  const told = tell(type, body);
  return isRefusal(told) ? told.refused.code : null;
};

describe("rest", () => {
  const rest = { person: "p-one", from: "2026-11-23T18:00:00.000Z", until: "2026-11-24T20:00:00.000Z" };

  test("is kept with its ends when it is over", () => {
    const told = tell("rest.recorded", rest) as State;
    expect(told.crew.rests).toMatchObject([{ person: "p-one", until_ms: Date.parse(rest.until) }]);
  });

  test("that ends before it begins, or is not over, is refused", () => {
    expect(refused("rest.recorded", { ...rest, until: rest.from })).toBe("endsBeforeItBegins");
    expect(refused("rest.recorded", { ...rest, until: "2026-11-25T09:00:00.000Z" })).toBe("restNotOver");
  });
});

describe("hours in command", () => {
  const hours = {
    person: "p-one",
    on: "2026-11-01",
    pic_h: 1000,
    helicopterPic_h: 500,
    similar_h: 500,
    nightPic_h: 20,
    asCoPilot: false,
  };

  test("are kept as stated", () => {
    expect((tell("command.stated", hours) as State).crew.commands).toMatchObject([{ pic_h: 1000 }]);
  });

  test("of a part that are more than the whole are refused", () => {
    expect(refused("command.stated", { ...hours, helicopterPic_h: 1001 })).toBe("moreThanAllHours");
    expect(refused("command.stated", { ...hours, nightPic_h: 1001 })).toBe("moreThanAllHours");
    expect(refused("command.stated", { ...hours, on: "2026-02-30" })).toBe("schema");
  });
});

test("crew rules without recency of the operator's own have none", () => {
  const body = { ruleSet: "eu", duty: null, singlePilotNight: null, asks: [] };
  expect((tell("crewRules.set", body) as State).crew.rules).toMatchObject([{ stricter: [], usDuty: "267" }]);
});
