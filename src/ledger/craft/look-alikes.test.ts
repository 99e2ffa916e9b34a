// Two records of one flight or one filling: asked about, never doubled and never dropped by themselves.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { countersNow } from "../../core/due/counters.ts";
import { lookAlikes } from "../../core/facts/look-alikes.ts";
import { minute_ms, msToInstant } from "../../core/facts/instant.ts";
import { gaugeSeries, seriesFrame } from "../../core/level/gauge-series.ts";
import { Story, assessRecorded, dawn_ms } from "./arbitrary-story.ts";

const oil = smallSheet.gauges.find(({ id }) => id === "oil")!;

function story(): Story {
  const told = new Story(smallSheet, { floats: true, boards: false });
  told.pass(300);
  return told;
}

/** A flight from so many minutes after dawn to so many. */
function fly(told: Story, flight: string, off_min: number, on_min: number, by = "p-one"): string {
  return told.tell(
    "flight.logged",
    {
      flight,
      offAt: msToInstant(dawn_ms + off_min * minute_ms),
      onAt: msToInstant(dawn_ms + on_min * minute_ms),
      flight_h: (on_min - off_min) / 60,
      landings: 1,
      hoistCycles: 0,
      starts: 1,
      nightLandings: 0,
      nvis: false,
      instrument_min: 0,
      operation: smallSheet.operations[0]!.id,
      crew: ["p-one"],
    },
    by,
  );
}

function fill(told: Story, uplift: string, at_min: number, amount: number): string {
  const at = msToInstant(dawn_ms + at_min * minute_ms);
  const filled = { uplift, fluid: "oil", gauge: "oil", amount, unit: "L", typed: String(amount) };
  return told.tell("uplift.added", { ...filled, grade: null, batch: null, hours_h: null, at });
}

function read(told: Story, value: number, at_min: number): void {
  const reading = { gauge: "oil", value, unit: "L", typed: String(value), conditions: {}, hours_h: null };
  told.tell("reading.taken", { ...reading, at: msToInstant(dawn_ms + at_min * minute_ms) });
}

type Word = {
  matter: "flight" | "uplift";
  one: string;
  other: string;
  counts: string | null;
  replaces?: readonly string[];
};

function say(told: Story, { replaces = [], counts, ...word }: Word): string {
  const says = counts === null ? "two" : "same";
  return told.tell("lookAlike.decided", { ...word, says, counts, words: "", at: told.at, replaces });
}

const codes = (told: Story): readonly string[] =>
  assessRecorded(told.sheet, told.state, told.situation()).map(({ code }) => code);
const hours = (told: Story): number | null => countersNow(told.state)!.flightHours_h;
const flights = { matter: "flight", one: "flight-one", other: "flight-two" } as const;
const uplifts = { matter: "uplift", one: "uplift-one", other: "uplift-two" } as const;

describe("Two flights that overlap in time", () => {
  function both(): Story {
    const told = story();
    fly(told, "flight-one", 60, 120);
    fly(told, "flight-two", 62, 118, "p-two");
    return told;
  }

  test("count both and make not known until somebody decides", () => {
    const told = both();
    expect(hours(told)).toBeCloseTo(1 + 56 / 60, 9);
    expect(lookAlikes(told.state)).toMatchObject([{ matter: "flight" }]);
    expect(codes(told)).toContain("due.flightsOverlap");
  });

  test("count once when they are the same, and the other record is kept", () => {
    const told = both();
    say(told, { ...flights, counts: "flight-one" });
    expect(hours(told)).toBe(1);
    expect(told.state.flightsTwice.map(({ flight }) => flight)).toEqual(["flight-two"]);
    expect(codes(told)).not.toContain("due.flightsOverlap");
    expect(() => fly(told, "flight-two", 200, 220)).toThrow(/flightAlreadyLogged/u);
  });

  test("count twice when they are two, and are not asked about again", () => {
    const told = both();
    say(told, { ...flights, counts: null });
    expect(hours(told)).toBeCloseTo(1 + 56 / 60, 9);
    expect(codes(told)).not.toContain("due.flightsOverlap");
  });

  test("are asked about again where two people said different things apart, until one sees both words", () => {
    const told = both();
    const one = say(told, { ...flights, counts: "flight-one" });
    const other = say(told, { ...flights, counts: "flight-two" });
    expect(told.state.flights).toHaveLength(2);
    expect(codes(told)).toContain("due.flightsOverlap");
    say(told, { ...flights, counts: "flight-one", replaces: [one, other] });
    expect(told.state.flights.map(({ flight }) => flight)).toEqual(["flight-one"]);
  });

  test("refuse a word on a record that is not held, on one record, and one that does not say which counts", () => {
    const told = both();
    expect(() => say(told, { ...flights, other: "flight-six", counts: null })).toThrow(/recordNotHeld/u);
    expect(() => say(told, { ...flights, other: "flight-one", counts: null })).toThrow(/oneRecordOnly/u);
    expect(() => say(told, { ...flights, counts: "flight-six" })).toThrow(/countsWrong/u);
  });
});

describe("Two uplifts of one amount within the hour", () => {
  test("are pointed out, and are one after a word that says so", () => {
    const told = story();
    fill(told, "uplift-one", 100, 0.5);
    fill(told, "uplift-two", 104, 0.5);
    expect(codes(told)).toContain("record.upliftsAlike");
    say(told, { ...uplifts, counts: "uplift-two" });
    expect(codes(told)).not.toContain("record.upliftsAlike");
    expect(told.state.uplifts.map(({ uplift }) => uplift)).toEqual(["uplift-two"]);
    expect(told.state.upliftsTwice.map(({ uplift }) => uplift)).toEqual(["uplift-one"]);
  });

  test("are not asked about with a reading between, another amount, or an hour and more apart", () => {
    const between = story();
    fill(between, "uplift-one", 100, 0.5);
    read(between, 2.5, 102);
    fill(between, "uplift-two", 104, 0.5);
    const another = story();
    fill(another, "uplift-one", 100, 0.5);
    fill(another, "uplift-two", 104, 0.6);
    const later = story();
    fill(later, "uplift-one", 100, 0.5);
    fill(later, "uplift-two", 161, 0.5);
    for (const told of [between, another, later]) expect(lookAlikes(told.state)).toEqual([]);
  });

  test("count at the worse end meanwhile: one of them for what is there now, both for what was used", () => {
    const told = story();
    read(told, 2.5, 90);
    fill(told, "uplift-one", 100, 0.5);
    fill(told, "uplift-two", 104, 0.5);
    const series = () => gaugeSeries(oil, seriesFrame(told.sheet, told.state, told.now_ms));
    expect(series().addedNow).toBe(0.5);
    read(told, 2.9, 130);
    expect(series().points.at(-1)!.added).toBe(1);
    expect(series().addedNow).toBe(1);
  });
});

test("Whatever is said about whichever records, none is lost, and of what overlaps something always counts", () => {
  const word = fc.record({
    a: fc.nat(3),
    b: fc.nat(3),
    says: fc.constantFrom("one", "other", "two"),
    seen: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(word, { maxLength: 8 }), (said) => {
      const told = story();
      const ids = ["flight-aa", "flight-bb", "flight-cc", "flight-dd"];
      ids.forEach((id, index) => fly(told, id, 60 + index, 120 + index));
      for (const { a, b, says, seen } of said) {
        if (a === b) continue;
        const [one, other] = [ids[a]!, ids[b]!];
        const counts = says === "two" ? null : says === "one" ? one : other;
        const replaces = seen ? told.state.lookAlikesDecided.map(({ entry }) => entry) : [];
        say(told, { matter: "flight", one, other, counts, replaces });
        const { flights: counted, flightsTwice } = told.state;
        expect(counted.length).toBeGreaterThan(0);
        expect([...counted, ...flightsTwice].map(({ flight }) => flight).toSorted()).toEqual(ids);
        // Pessimism: what counts is never less than the longest record of those that are one.
        expect(countersNow(told.state)!.flightHours_h).toBeGreaterThanOrEqual(1 - 1e-9);
      }
    }),
    { numRuns: 150 },
  );
});
