// Mass and balance from the record: what is not known, what forbids, what limits; and the laws over generated loads of the
// demo's sheet: more mass that may come on board never improves, and what was said apart counts at its worse end.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { demoCraft, demoKit } from "../../../demo/cast.ts";
import { quill } from "../../../demo/sheet/quill/quill.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { hour_ms } from "../../core/facts/instant.ts";
import type { Reason } from "../../core/facts/reason.ts";
import { assessLoad } from "../../core/load/assess.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { compareVerdicts, isActive, standingAt } from "../../core/standing/combine.ts";
import { Story } from "./arbitrary-story.ts";
import { freshWeighing } from "./fresh-load.ts";
import type { LoadingShape } from "./load-entries.ts";

const [tinde] = demoCraft;
const equipment = Object.fromEntries(quill.equipment.map(({ id }) => [id, tinde!.equipment.includes(id)]));

const usual: LoadingShape = {
  persons: [
    { seat: "pilotRight", person: "p-one", mass_kg: 86 },
    { seat: "frontLeft", person: null, mass_kg: 78 },
  ],
  patients: [{ stretcher: "stretcherLeft", most_kg: 140 }],
  kit: [...demoKit],
  fuel_kg: 420,
  fuelAtEnd_kg: 70,
};

function storyWith(...loadings: readonly Partial<LoadingShape>[]): Story {
  const story = new Story(quill, equipment);
  const first = story.state.load.loadings.map(({ entry }) => entry);
  for (const loading of loadings) {
    story.tell("loading.said", { ...usual, ...loading, at: story.at, replaces: first });
  }
  return story;
}

const reasonsOf = (story: Story): readonly Reason[] =>
  assessLoad(story.sheet, story.state, story.situation()).filter((reason) => isActive(reason, story.now_ms));
const codesOf = (story: Story): readonly string[] => reasonsOf(story).map(({ code }) => code);

describe("mass and balance from the record", () => {
  test("a usual load of the demo gives no reason", () => {
    expect(codesOf(storyWith({}))).toEqual([]);
  });

  test("without a weighing, without a load, and with a load of another day nothing is known", () => {
    const story = storyWith({});
    const none = { ...story.state, load: { weighings: [], loadings: [], kit: {} } };
    const codes = assessLoad(quill, none, story.situation()).map(({ code, effect }) => [code, effect]);
    expect(codes).toEqual([
      ["load.noWeighing", "unknown"],
      ["load.notSaid", "unknown"],
    ]);
    story.now_ms += 24 * hour_ms;
    expect(codesOf(story)).toContain("load.ofAnotherDay");
  });

  test.each<[string, Partial<LoadingShape>]>([
    ["load.cannotBeComputed", { fuel_kg: 2_000 }],
    ["load.cannotBeComputed", { persons: [{ seat: "benchLeft", person: null, mass_kg: 80 }] }],
    ["load.cannotBeComputed", { kit: [...demoKit, demoKit[0]] }],
    ["load.noPilot", { persons: [] }],
    ["load.otherCrew", { persons: [{ seat: "pilotRight", person: "p-two", mass_kg: 80 }] }],
    ["load.placeOver", { kit: [{ kit: "lead", name: "lead", mass_kg: 95, at: "rearBay" }] }],
    ["load.massOutside", { kit: [{ kit: "lead", name: "lead", mass_kg: 900, at: "cabinFloor" }] }],
    ["load.balanceOutside", { persons: [{ seat: "pilotRight", person: null, mass_kg: 399 }] }],
    ["load.notAsListed", { kitList: "rescue", kit: demoKit.slice(1) }],
    ["load.listGone", { kitList: "picnic" }],
    ["load.hookUpTo", { persons: [...usual.persons, { seat: "medicRight", person: null, mass_kg: 74 }] }],
    ["load.patientUpTo", { patients: [{ stretcher: "stretcherLeft", most_kg: 300 }] }],
  ])("%s is said", (code, loading) => {
    expect(codesOf(storyWith(loading))).toContain(code);
  });

  test("kit that is as its list says gives no reason; a bag that is there twice makes the load not known", () => {
    expect(codesOf(storyWith({ kitList: "rescue" }))).not.toContain("load.notAsListed");
    const again = { ...demoKit[0], kit: "medicalbag" };
    const story = storyWith({ kitList: "rescue", kit: [...demoKit, again] });
    expect(reasonsOf(story).find(({ code }) => code === "load.notAsListed")).toMatchObject({
      effect: "unknown",
      facts: { missing: 0, twice: 1, different: 0 },
    });
  });

  test("a piece of kit left behind is asked about and weighs nothing; where people differ it is not known", () => {
    const story = storyWith({});
    story.tell("kit.moved", { kit: "ropes", aboard: false, words: "", at: story.at, replaces: [] });
    expect(codesOf(story)).toContain("load.kitLeft");
    story.tell("kit.moved", { kit: "ropes", aboard: true, words: "", at: story.at, replaces: [] });
    expect(reasonsOf(story).find(({ code }) => code === "load.kitDiffers")?.effect).toBe("unknown");
    const held = [...story.state.load.loadings, ...Object.values(story.state.load.kit).flat()];
    const replaces = held.map(({ entry }) => entry);
    story.tell("loading.said", { ...usual, at: story.at, replaces });
    expect(story.state.load.kit).toEqual({});
  });

  test("equipment that came since the weighing counts, and more than half a percent asks for a revision", () => {
    const story = storyWith({});
    expect(codesOf(story)).not.toContain("load.revisionDue");
    for (const id of ["stretcher", "medicalRack"]) {
      const standing = story.state.equipment[id]!.map(({ entry }) => entry);
      story.tell("equipment.set", { equipment: id, installed: false, at: story.at, replaces: standing });
    }
    expect(codesOf(story)).toContain("load.revisionDue");
    expect(codesOf(story)).toContain("load.cannotBeComputed");
  });

  test("a weighing is refused with equipment twice, a load with more fuel at the end than at the start", () => {
    const story = storyWith({});
    const weighing = freshWeighing(quill, "2", equipment, story.now_ms, "W-2");
    const twice = { ...weighing, included: ["hoist", "hoist"] };
    expect(() => story.tell("craft.weighed", twice)).toThrow(/equipmentTwice/u);
    const more = { ...usual, fuelAtEnd_kg: 421, at: story.at, replaces: [] };
    expect(() => story.tell("loading.said", more)).toThrow(/moreFuelAtEnd/u);
  });

  test("two weighings that know nothing of each other both count; one that names the other stands alone", () => {
    const story = storyWith({});
    const heavy = { ...freshWeighing(quill, "2", equipment, story.now_ms, "W-2"), mass_kg: 3_300 };
    story.tell("craft.weighed", heavy);
    expect(codesOf(story)).toContain("load.massOutside");
    const all = story.state.load.weighings.map(({ entry }) => entry);
    const last = freshWeighing(quill, "2", equipment, story.now_ms, "W-3");
    story.tell("craft.weighed", { ...last, replaces: all });
    expect(codesOf(story)).not.toContain("load.massOutside");
    expect(story.state.load.weighings).toHaveLength(3);
  });
});

const loadings: fc.Arbitrary<Partial<LoadingShape>> = fc.record({
  persons: fc
    .subarray(["frontLeft", "medicRight", "medicAft", "operator"])
    .chain((seats) =>
      fc.tuple(
        fc.constant(seats),
        fc.array(fc.integer({ min: 50, max: 129 }), { minLength: 4, maxLength: 4 }),
      ),
    )
    .map(([seats, masses]) =>
      ["pilotRight", ...seats].map((seat, index) => ({ seat, person: null, mass_kg: masses[index] ?? 80 })),
    ),
  patients: fc
    .option(fc.integer({ min: 1, max: 300 }))
    .map((most_kg) => (most_kg === null ? [] : [{ stretcher: "stretcherLeft", most_kg }])),
  fuel_kg: fc.integer({ min: 80, max: 555 }),
  fuelAtEnd_kg: fc.integer({ min: 0, max: 80 }),
});

/** Asserts for every operation that the second load is not better than the first. */
function expectNoBetter(sheet: Sheet, before: Story, after: Story): void {
  for (const { id } of sheet.operations) {
    const [was, is] = [before, after].map((story) => standingAt(reasonsOf(story), id, story.now_ms));
    expect(compareVerdicts(is!.verdict, was!.verdict), id).toBeGreaterThanOrEqual(0);
    for (const quantity of ["patientMass_kg", "hookLoad_kg"]) {
      const limit = (reasons: readonly Reason[]) =>
        Math.min(
          ...reasons.flatMap((reason) => (reason.limit?.quantity === quantity ? [reason.limit.value] : [])),
        );
      const blocked = is!.verdict === "notReady" || is!.verdict === "notKnown";
      if (!blocked) expect(limit(is!.reasons)).toBeLessThanOrEqual(limit(was!.reasons) + 1e-6);
    }
  }
}

describe("laws over generated loads", () => {
  test("a heavier patient to expect, more fuel at the start, or less at the end improves nothing", () => {
    fc.assert(
      fc.property(loadings, fc.integer({ min: 1, max: 100 }), fc.nat(2), (told, more, what) => {
        const worse = { ...told };
        if (what === 0) {
          const [patient] = told.patients ?? [];
          worse.patients = [{ stretcher: "stretcherLeft", most_kg: (patient?.most_kg ?? 0) + more }];
        }
        if (what === 1) worse.fuel_kg = Math.min(555, (told.fuel_kg ?? 0) + more);
        if (what === 2) worse.fuelAtEnd_kg = Math.max(0, (told.fuelAtEnd_kg ?? 0) - more);
        expectNoBetter(quill, storyWith(told), storyWith(worse));
      }),
      { numRuns: 60 },
    );
  });

  test("a load said apart from another improves nothing on either", () => {
    fc.assert(
      fc.property(loadings, loadings, (one, other) => {
        const both = storyWith(one, other);
        expectNoBetter(quill, storyWith(one), both);
        expectNoBetter(quill, storyWith(other), both);
      }),
      { numRuns: 40 },
    );
  });

  test("of a load that limits the patient, the limit itself is inside and a kilogram more is not", () => {
    let limited = 0;
    fc.assert(
      fc.property(loadings, (told) => {
        const story = storyWith({ ...told, patients: [{ stretcher: "stretcherLeft", most_kg: 180 }] });
        const [limit] = reasonsOf(story).filter(
          ({ code, operations }) => code === "load.patientUpTo" && operations.includes("dayVfr"),
        );
        if (limit?.limit === undefined || limit.limit.value < 1) return;
        limited += 1;
        const upTo = (most_kg: number) =>
          reasonsOf(storyWith({ ...told, patients: [{ stretcher: "stretcherLeft", most_kg }] })).some(
            ({ code, operations }) => code === "load.patientUpTo" && operations.includes("dayVfr"),
          );
        expect(upTo(limit.limit.value)).toBe(false);
        expect(upTo(limit.limit.value + 1)).toBe(true);
      }),
      { numRuns: 150 },
    );
    expect(limited).toBeGreaterThan(3);
  });
});

test("a sheet without a stretcher and a hoist is judged as well", () => {
  const story = new Story(smallSheet, { floats: true, boards: false });
  expect(codesOf(story)).toEqual([]);
});
