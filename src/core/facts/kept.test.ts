// What is kept with a record is that record's alone.
import { expect, test } from "vitest";
import { emptyCraft } from "./craft.ts";
import { keptByRecord } from "./kept.ts";

test("is worked out once for a sheet, a record and what else it depends on, and anew for any other", () => {
  let made = 0;
  const kept = keptByRecord<object, string, string>(
    (_sheet, state, more) => {
      made += 1;
      return `${state.flights.length} ${more}`;
    },
    (more) => more,
  );
  const [sheet, other] = [{}, {}];
  const state = { ...emptyCraft };
  expect(kept(sheet, state, "UTC")).toBe("0 UTC");
  expect(kept(sheet, state, "UTC")).toBe("0 UTC");
  expect(made).toBe(1);
  kept(sheet, state, "Europe/Oslo");
  kept(other, state, "UTC");
  kept(sheet, { ...state }, "UTC");
  expect(made).toBe(4);
});
