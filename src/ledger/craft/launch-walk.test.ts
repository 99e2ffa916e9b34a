// The launch walk and the parking walk over told records: what the plan adds to the sheet's items, why, and for how long.
import fc from "fast-check";
import { recordedConditions } from "../../core/walk/since-last-look.ts";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import demoSheet from "../../../demo/sheet/quill.json" with { type: "json" };
import { checkSheet } from "../../core/sheet/check-sheet.ts";
import { itemsFor } from "../../core/sheet/applicability.ts";
import type { Sheet } from "../../core/sheet/schema.ts";
import { craftConfigOf } from "../../core/walk/craft-config.ts";
import { planOf, planWalk } from "../../core/walk/plan.ts";
import type { WalkPlan } from "../../core/walk/plan.ts";
import { finishHindrances, walkProgress } from "../../core/walk/progress.ts";
import { walkValidity } from "../../core/walk/validity.ts";
import { Story, good } from "./arbitrary-story.ts";
import { takenBackBody } from "./recorder.ts";

const checked = checkSheet(demoSheet);
if ("errors" in checked) throw new Error("the demo's sheet is refused");
const quill = checked.ok;
const fitted = { floats: true, boards: false };
const full = "walk-full-1";
const launch = "walk-launch-1";

/** A day that began with a full walk, half an hour ago. */
function walkedRound(sheet: Sheet = smallSheet): Story {
  const story = new Story(sheet, fitted);
  story.begin(full);
  story.walkAll(full);
  story.finish(full);
  story.pass(30);
  return story;
}

const planNow = (story: Story): WalkPlan => planWalk(story.sheet, story.state, "launch", {});
const idsOf = ({ rows }: WalkPlan): readonly string[] => rows.map(({ item }) => item.id);
const why = ({ rows }: WalkPlan, item: string): readonly string[] =>
  rows.find((row) => row.item.id === item)?.because.map(({ kind }) => kind) ?? [];
const touch = (story: Story, closure: string, state: "open" | "closed", by = "p-one") =>
  story.tell(
    "closure.set",
    {
      closure,
      state,
      at: story.at,
      replaces: (story.state.closures[closure] ?? []).map(({ entry }) => entry),
    },
    by,
  );
const raise = (story: Story, finding: string, outcome: string, item: string | null = null) => {
  const body = { finding, kind: "chafe", stop: "tail", item, walk: null, measure: null, words: "hose rubs" };
  story.tell("finding.raised", { ...body, at: story.at });
  const judged = { finding, outcome, role: "pilot", words: "", deferral: null, at: story.at, replaces: [] };
  story.tell("finding.judged", judged);
};
const fill = (story: Story, gauge: string | null) =>
  story.tell("uplift.added", {
    uplift: `uplift-${story.now_ms}`,
    fluid: "oil",
    gauge,
    amount: 0.3,
    unit: "L",
    typed: "0.3",
    grade: null,
    batch: null,
    hours_h: null,
    at: story.at,
  });

describe("the plan of a launch walk", () => {
  test("right after a full walk is what the sheet lists, each item by the sheet", () => {
    const plan = planNow(walkedRound());
    expect(idsOf(plan)).toEqual(["pitot", "cowlShut"]);
    expect(plan.rows.map(({ because }) => because)).toEqual([[{ kind: "sheet" }], [{ kind: "sheet" }]]);
  });

  test("adds what closes a closure that was touched since somebody last looked, and says who touched it", () => {
    const sheet: Sheet = {
      ...smallSheet,
      items: smallSheet.items.map((item) => (item.id === "cowlShut" ? { ...item, walks: ["full"] } : item)),
      order: { ...smallSheet.order, launch: ["nose"] },
    };
    const story = walkedRound(sheet);
    expect(idsOf(planNow(story))).toEqual(["pitot"]);
    touch(story, "cowl", "open", "p-two");
    story.pass(1);
    touch(story, "cowl", "closed", "p-two");
    const row = planNow(story).rows.find(({ item }) => item.id === "cowlShut")!;
    expect(row.because).toEqual([{ kind: "closure", closure: "cowl", at_ms: story.now_ms, by: "p-two" }]);

    // It stays in the walk that it was added to, and is gone from the next one once it was looked at.
    story.begin(launch, "launch");
    story.walkAll(launch);
    expect(idsOf(planOf(sheet, story.state, story.state.walks[launch]!))).toEqual(["pitot", "cowlShut"]);
    story.finish(launch);
    expect(idsOf(planNow(story))).toEqual(["pitot"]);
  });

  test("adds each finding that is watched as an item of its own, and no other", () => {
    const story = walkedRound();
    raise(story, "finding-watched", "watch");
    raise(story, "finding-accepted", "accept");
    const plan = planNow(story);
    expect(idsOf(plan)).toEqual(["pitot", "cowlShut", "finding-watched"]);
    expect(plan.rows.at(-1)!.because).toEqual([{ kind: "finding", finding: "finding-watched" }]);
    expect(plan.rows.at(-1)!.item).toMatchObject({ stop: "tail", sweep: false, text: { en: "hose rubs" } });

    story.begin(launch, "launch");
    story.walkAll(launch);
    const facts = story.state.walks[launch]!;
    expect(facts.marks["finding-watched"]).toHaveLength(1);
    const closing = { finding: "finding-watched", role: "engineer", words: "clipped", at: story.at };
    story.tell("finding.closed", closing);
    expect(idsOf(planOf(story.sheet, story.state, facts))).not.toContain("finding-watched");
  });

  test.each(["oil", null])(
    "after a filling reads what was filled and looks at its caps (gauge %s)",
    (gauge) => {
      const story = walkedRound();
      fill(story, gauge);
      const plan = planNow(story);
      expect(idsOf(plan)).toEqual(["pitot", "oil", "cowlShut"]);
      expect(why(plan, "oil")).toEqual(["uplift"]);
      expect(why(plan, "cowlShut")).toEqual(["sheet", "uplift"]);
    },
  );

  test("after fuel was filled reads the gauges of the tanks, and knows that it is after an uplift", () => {
    const sheet: Sheet = {
      ...smallSheet,
      tanks: smallSheet.tanks.map((tank) => ({ ...tank, gauge: "oil" })),
    };
    const story = walkedRound(sheet);
    story.tell("fuel.filled", {
      before_kg: 20,
      amount: 25,
      unit: "L",
      typed: "25",
      density_kgL: 0.8,
      fuel_C: null,
      after_kg: 40,
      grade: "Jet A-1",
      baseTank: null,
      sample: "clear",
      at: story.at,
      replaces: [],
    });
    expect(why(planNow(story), "oil")).toEqual(["uplift"]);
    expect(recordedConditions(story.state, null)).toMatchObject({ afterUplift: true });
  });

  test("after equipment was put in or out looks at every item that speaks of it", () => {
    const story = walkedRound();
    const replaces = story.state.equipment["floats"]!.map(({ entry }) => entry);
    story.tell("equipment.set", { equipment: "floats", installed: true, at: story.at, replaces });
    expect(why(planNow(story), "leftFloat")).toEqual(["equipment"]);
    expect(why(planNow(story), "rightFloat")).toEqual(["equipment"]);
  });

  test("puts what it adds where the full walk comes by, so that it stays one circuit", () => {
    const story = walkedRound();
    raise(story, "finding-watched", "watch");
    fill(story, "oil");
    const stops = planNow(story).stops.map(({ stop }) => stop.id);
    expect(stops).toEqual(smallSheet.order.full.filter((stop) => stops.includes(stop)));
  });

  test("looks at a touched closure where the sheet's own launch item looks at it, and nowhere twice", () => {
    const story = walkedRound();
    touch(story, "pitotCover", "open", "p-two");
    const plan = planNow(story);
    expect(idsOf(plan)).toEqual(["pitot", "cowlShut"]);
    expect(why(plan, "pitot")).toEqual(["sheet", "closure"]);
  });

  test.each([
    ["the small sheet", smallSheet],
    ["the demo's sheet", quill],
  ])("stays what it was at the beginning while it is walked (%s)", (_, sheet) => {
    const story = new Story(sheet);
    story.pass(30);
    story.begin(launch, "launch");
    const now = () => planOf(sheet, story.state, story.state.walks[launch]!);
    const first = idsOf(now());
    for (const { stop, rows } of now().stops) {
      story.pass(1);
      story.page(launch, stop.id, Object.fromEntries(rows.map(({ item }) => [item.id, good])));
      expect(idsOf(now())).toEqual(first);
    }
    expect(first.length).toBeLessThan(25);
  });

  test("keeps what was added until the walk ends, though it is marked, taken back and marked again", () => {
    const sheet: Sheet = {
      ...smallSheet,
      items: smallSheet.items.map((item) => (item.id === "cowlShut" ? { ...item, walks: ["full"] } : item)),
      order: { ...smallSheet.order, launch: ["nose"] },
    };
    const story = walkedRound(sheet);
    touch(story, "cowl", "open", "p-two");
    story.begin(launch, "launch");
    const now = () => planOf(sheet, story.state, story.state.walks[launch]!);
    const stop = sheet.items.find(({ id }) => id === "cowlShut")!.stop;
    const page = story.page(launch, stop, { cowlShut: good });
    expect(idsOf(now())).toEqual(["pitot", "cowlShut"]);
    const closes = () => ["cowl"];
    const facts = story.state.walks[launch]!;
    const back = takenBackBody(story.state, facts, page, ["cowlShut"], closes, story.now_ms);
    story.tell("walk.takenBack", back);
    expect(idsOf(now())).toEqual(["pitot", "cowlShut"]);
    expect(walkProgress(sheet, now(), story.state.walks[launch]!, story.state).open).toEqual(["cowl"]);
    story.page(launch, stop, { cowlShut: good });
    expect(walkProgress(sheet, now(), story.state.walks[launch]!, story.state).open).toEqual([]);
  });

  test("never drops an item of the sheet, whatever the record holds, and gives every item a reason", () => {
    const act = fc.constantFrom("touch", "watch", "fill", "equip", "launch", "release", "pass");
    fc.assert(
      fc.property(fc.array(act, { maxLength: 8 }), fc.boolean(), (acts, frost) => {
        const story = walkedRound();
        for (const [index, each] of acts.entries()) {
          story.pass(7);
          if (each === "touch")
            touch(story, index % 2 === 0 ? "cowl" : "pitotCover", index % 3 === 0 ? "open" : "closed");
          if (each === "watch")
            raise(story, `finding-${index}0000`, "watch", index % 2 === 0 ? "tail" : null);
          if (each === "fill") fill(story, index % 2 === 0 ? "oil" : null);
          if (each === "equip")
            story.tell("equipment.set", {
              equipment: "floats",
              installed: index % 2 === 0,
              at: story.at,
              replaces: [],
            });
          if (each === "release") story.release({ worked: ["left", "tail"] });
          if (each === "launch") {
            story.begin(`walk-l-${index}00`, "launch", { frost });
            story.walkAll(`walk-l-${index}00`);
            story.finish(`walk-l-${index}00`);
          }
        }
        const { sheet, state } = story;
        const plan = planWalk(sheet, state, "launch", { frost });
        const needed = itemsFor(sheet, craftConfigOf(state), { frost }, "launch")
          .filter((row) => row.state === "applies")
          .map(({ item }) => item.id);
        expect(idsOf(plan)).toEqual(expect.arrayContaining(needed));
        expect(plan.rows.every(({ because }) => because.length > 0)).toBe(true);
        expect(new Set(idsOf(plan)).size).toBe(plan.rows.length);
        expect(plan.stops.flatMap(({ rows }) => rows)).toEqual(plan.rows);
      }),
      { numRuns: 120 },
    );
  });
});

describe("a launch walk that holds", () => {
  const held = () => {
    const story = walkedRound();
    story.begin(launch, "launch");
    story.walkAll(launch);
    story.finish(launch);
    story.pass(5);
    return story;
  };
  const statusOf = (story: Story) =>
    walkValidity(story.sheet, story.state, story.state.walks[launch]!, story.situation());

  test("no longer does once something is opened or shut after it", () => {
    const story = held();
    expect(statusOf(story).status).toBe("valid");
    touch(story, "cowl", "open");
    touch(story, "cowl", "closed");
    expect(statusOf(story)).toMatchObject({ status: "void", voided: { by: "closure" } });
  });

  test("no longer does after a flight, as its sheet says", () => {
    const story = held();
    story.now_ms += 3_600_000;
    const body = { flight: "flight-0001", offAt: story.at, operation: "dayVfr", crew: ["p-one"] };
    story.pass(20);
    const counts = { flight_h: 0.3, landings: 1, hoistCycles: 0, starts: 1, nightLandings: 0 };
    story.tell("flight.logged", { ...body, ...counts, nvis: false, instrument_min: 0, onAt: story.at });
    expect(statusOf(story)).toMatchObject({ status: "void", voided: { by: "flight" } });
  });

  test("dies after its hours, and says so beforehand", () => {
    const story = held();
    const { lapses_ms, lapsesBy, finished_ms } = statusOf(story);
    expect([lapsesBy, lapses_ms! - finished_ms!]).toEqual(["hours", 4 * 3_600_000]);
    story.now_ms = lapses_ms! - 1;
    expect(statusOf(story).status).toBe("valid");
    story.now_ms = lapses_ms!;
    expect(statusOf(story).status).toBe("lapsed");
  });
});

describe("a parking walk", () => {
  const parked = () => {
    const story = walkedRound();
    story.begin("walk-park-1", "parking");
    story.walkAll("walk-park-1");
    return story;
  };
  const hindrances = (story: Story) => {
    const facts = story.state.walks["walk-park-1"]!;
    const plan = planOf(story.sheet, story.state, facts);
    return finishHindrances(plan, walkProgress(story.sheet, plan, facts, story.state));
  };

  test("may leave fitted what the sheet says stays so on a parked machine", () => {
    const story = parked();
    expect(story.state.closures["pitotCover"]!.map(({ state }) => state)).toEqual(["open"]);
    expect(hindrances(story)).toEqual({ blank: [], open: [] });
  });

  test("may not be finished with a cowling open", () => {
    const story = parked();
    touch(story, "cowl", "open");
    expect(hindrances(story).open).toEqual(["cowl"]);
  });
});

test("a mark of a watched finding as no worse is a mark like any other", () => {
  const story = walkedRound();
  raise(story, "finding-watched", "watch");
  story.begin(launch, "launch");
  story.page(launch, "tail", { "finding-watched": good });
  const facts = story.state.walks[launch]!;
  const plan = planOf(story.sheet, story.state, facts);
  const { blank } = walkProgress(story.sheet, plan, facts, story.state);
  expect(blank.map(({ row }) => row.item.id)).toEqual(["pitot", "cowlShut"]);
});
