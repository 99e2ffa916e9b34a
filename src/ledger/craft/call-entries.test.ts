import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { msToInstant } from "../../core/facts/instant.ts";
import { Story } from "./arbitrary-story.ts";

const at = (story: Story): string => msToInstant(story.now_ms);
const place = { name: "moor", lat_deg: 70.5, lon_deg: 11.6, elevation_ft: 410, site: null };
const kept = (story: Story, more: object = {}) => ({
  call: "call-0001",
  operation: "dayVfr",
  typed: "70 30 11 36",
  scene: place,
  hospital: null,
  departAt: at(story),
  inputs: { fuel_kg: 420, tas_kt: 132 },
  verdict: "ready",
  binding: { kind: "fuel", room: 12.5, unit: "kg" },
  fuelRequired_kg: 407.5,
  decision: "accepted",
  words: "",
  at: at(story),
  replaces: [],
  ...more,
});
const story = (): Story => new Story(smallSheet, { floats: true, boards: false });

describe("a call in the record", () => {
  test("is kept with its inputs as given; a new answer stands beside the old one", () => {
    const told = story();
    told.tell("call.kept", kept(told));
    told.tell("call.kept", kept(told, { verdict: "notReady", decision: "declined" }));
    expect(told.state.calls.map(({ verdict, inputs }) => [verdict, inputs["fuel_kg"]])).toEqual([
      ["ready", 420],
      ["notReady", 420],
    ]);
  });

  test("has fuel checks, and fuel that was filled in; a correction names what it replaces", () => {
    const told = story();
    told.tell("fuel.checked", {
      call: "call-0001",
      planned_kg: 300,
      actual_kg: 288,
      typed: "288",
      at: at(told),
    });
    expect(told.state.fuelChecks).toMatchObject([{ planned_kg: 300, actual_kg: 288 }]);
    const filled = {
      before_kg: 100,
      amount: 200,
      unit: "L",
      typed: "200",
      density_kgL: 0.8,
      fuel_C: null,
      after_kg: 260,
      grade: "Jet A-1",
      baseTank: null,
      sample: null,
      at: at(told),
      replaces: [],
    };
    told.tell("fuel.filled", filled);
    const [first] = told.state.fuelFilled;
    told.tell("fuel.filled", { ...filled, sample: "clear", replaces: [first!.entry] });
    expect(told.state.fuelFilled).toMatchObject([{ sample: "clear" }]);
    expect(() => told.tell("fuel.filled", { ...filled, unit: "gallon" })).toThrow(/schema/u);
  });
});
