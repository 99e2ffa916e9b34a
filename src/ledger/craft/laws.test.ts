// The laws of the program over generated records: bad news never helps, unknown is never ready, what was recorded apart
// is taken at its worse end. Each property compares whole standings, over every operation and 72 hours.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { betterThan } from "../../../sim/ledger/better.ts";
import { outcomes } from "../../core/facts/craft.ts";
import type { Outcome } from "../../core/facts/craft.ts";
import { hour_ms, msToInstant } from "../../core/facts/instant.ts";
import type { Situation } from "../../core/facts/situation.ts";
import { compareVerdicts, standingAt } from "../../core/standing/combine.ts";
import { Story, assessRecorded, good } from "./arbitrary-story.ts";
import type { DraftMark } from "./recorder.ts";

const walk = "walk-0001";
const operations = smallSheet.operations.map(({ id }) => id);
const finding = "finding-0001";
const items = smallSheet.items.filter(({ walks }) => walks.includes("full")).map(({ id }) => id);

type Plot = {
  readonly except: Readonly<Record<string, DraftMark | null>>;
  readonly finished: boolean;
  readonly judged: readonly { readonly outcome: Outcome; readonly apart: boolean }[] | null;
  readonly oil: number;
  readonly opened: boolean;
};

const mark: fc.Arbitrary<DraftMark | null> = fc.constantFrom(
  good,
  null,
  { mark: "notReached", why: "in the way", finding: null } as const,
  { mark: "finding", why: null, finding } as const,
);

const plot: fc.Arbitrary<Plot> = fc.record({
  except: fc.dictionary(fc.constantFrom(...items), mark, { maxKeys: 3, noNullPrototype: true }),
  finished: fc.boolean(),
  judged: fc.option(
    fc.array(fc.record({ outcome: fc.constantFrom(...outcomes), apart: fc.boolean() }), { maxLength: 3 }),
  ),
  oil: fc.constantFrom(1, 1.9, 2, 2.5, 3, 3.1),
  opened: fc.boolean(),
});

function tell({ except, finished, judged, oil, opened }: Plot): Story {
  const story = new Story(smallSheet, { floats: true, boards: false });
  story.begin(walk);
  if (judged !== null) {
    const raised = { finding, kind: "leak", stop: "left", item: null, walk, measure: null, words: "wet" };
    story.tell("finding.raised", { ...raised, at: story.at });
    for (const { outcome, apart } of judged) {
      const standing = story.state.findings[finding]!.judgements.map(({ entry }) => entry);
      const body = { finding, outcome, role: "engineer", words: "", deferral: null, at: story.at };
      story.tell("finding.judged", { ...body, replaces: apart ? [] : standing });
    }
  }
  story.walkAll(walk, except);
  const reading = { gauge: "oil", value: oil, unit: "L", typed: String(oil), conditions: {}, hours_h: null };
  story.pass(1);
  story.tell("reading.taken", { ...reading, at: story.at });
  if (opened) story.tell("closure.set", { closure: "cowl", state: "open", replaces: [], at: story.at });
  if (finished) story.finish(walk);
  return story;
}

/** Asserts that `after` is at no instant and for no operation better than `before`. */
function expectNoBetter(
  before: Story,
  after: Story,
  situation: Situation = before.situation(),
  then = situation,
): void {
  const [was, is] = [
    assessRecorded(before.sheet, before.state, situation),
    assessRecorded(after.sheet, after.state, then),
  ];
  expect(betterThan(was, is, operations, situation)).toEqual([]);
}

describe("law 2: bad news never helps", () => {
  test("a mark that turns from good into anything else improves no standing", () => {
    fc.assert(
      fc.property(plot, fc.constantFrom(...items), mark, (told, item, worse) => {
        const before = tell({ ...told, except: { ...told.except, [item]: good } });
        const after = tell({ ...told, except: { ...told.except, [item]: worse } });
        // The same instant for both: a walk with fewer pages is over sooner.
        const now_ms = Math.max(before.now_ms, after.now_ms);
        const situation = { ...before.situation(), now_ms, horizon_ms: now_ms + 72 * hour_ms };
        expectNoBetter(before, after, situation);
      }),
      { numRuns: 120 },
    );
  });

  test("a stricter judgement improves no standing, and one more judgement made apart neither", () => {
    fc.assert(
      fc.property(plot, fc.nat(3), fc.nat(3), (told, a, b) => {
        const judged = (outcome: Outcome): Plot => ({ ...told, judged: [{ outcome, apart: false }] });
        const [milder, stricter] = [outcomes[Math.min(a, b)]!, outcomes[Math.max(a, b)]!];
        expectNoBetter(tell(judged(milder)), tell(judged(stricter)));
        const both = {
          ...told,
          judged: [
            { outcome: milder, apart: false },
            { outcome: stricter, apart: true },
          ],
        };
        expectNoBetter(tell(judged(milder)), tell(both));
      }),
      { numRuns: 80 },
    );
  });

  test("something opened, an event, or a finding more improves no standing", () => {
    fc.assert(
      fc.property(plot, fc.constantFrom("closure", "event", "finding"), (told, what) => {
        const before = tell(told);
        const after = tell(told);
        if (what === "closure")
          after.tell("closure.set", { closure: "pitotCover", state: "open", replaces: [], at: after.at });
        if (what === "event") after.tell("event.noted", { event: "lightning", words: "", at: after.at });
        if (what === "finding") {
          const raised = {
            finding: "finding-0002",
            kind: "dent",
            stop: "nose",
            item: null,
            walk: null,
            measure: null,
            words: "",
          };
          after.tell("finding.raised", { ...raised, at: after.at });
        }
        expectNoBetter(before, after);
      }),
      { numRuns: 60 },
    );
  });

  test("a larger size, the finding opened again, and work on it that nobody released improve no standing", () => {
    const bad = ["larger", "reopened", "fixed", "another"] as const;
    fc.assert(
      fc.property(
        plot,
        fc.constantFrom(...bad),
        fc.integer({ min: 1, max: 9 }),
        fc.constantFrom(...outcomes),
        fc.constantFrom("pilot", "engineer"),
        (told, what, tenth, outcome, role) => {
          const dent = "finding-0009";
          const size = (value: number) => ({ value, unit: "mm", typed: `${value} mm` });
          const begin = (): Story => {
            const story = tell(told);
            const at = { item: null, walk: null, words: "" };
            const raised = { finding: dent, kind: "dent", stop: "tail", damage: "tailDent", ...at };
            story.tell("finding.raised", { ...raised, measure: size(tenth / 10), at: story.at });
            const judged = { finding: dent, outcome, role, words: "", deferral: null, replaces: [] };
            story.tell("finding.judged", { ...judged, at: story.at });
            return story;
          };
          const [before, after] = [begin(), begin()];
          const on = { finding: dent, at: after.at };
          if (what === "larger") {
            const measured = { measure: size(tenth / 10 + 0.2), hours_h: null, photos: [], words: "" };
            after.tell("finding.measured", { ...on, ...measured });
          }
          if (what === "reopened") after.tell("finding.reopened", { ...on, words: "there again" });
          if (what === "fixed") after.tell("finding.fixed", { ...on, words: "dressed", licence: null });
          if (what === "another")
            after.tell("finding.judged", {
              ...on,
              outcome: "ground",
              role: "crewMember",
              words: "",
              deferral: null,
              replaces: [],
            });
          expectNoBetter(before, after);
        },
      ),
      { numRuns: 80 },
    );
  });

  test("a later hour improves no standing while nobody records anything", () => {
    fc.assert(
      fc.property(plot, fc.integer({ min: 1, max: 40 }), (told, hours) => {
        const story = tell(told);
        const now = story.situation();
        const later = { ...now, now_ms: now.now_ms + hours * hour_ms };
        for (const operation of operations) {
          const verdictAt = (situation: Situation) =>
            standingAt(assessRecorded(story.sheet, story.state, situation), operation, situation.now_ms)
              .verdict;
          expect(compareVerdicts(verdictAt(later), verdictAt(now))).toBeGreaterThanOrEqual(0);
        }
      }),
      { numRuns: 60 },
    );
  });
});

/** What one person records without knowing of the other: nothing of it replaces anything. */
type Apart = (story: Story, by: string) => void;
const judged =
  (outcome: Outcome): Apart =>
  (story, by) => {
    const body = {
      finding,
      outcome,
      role: "engineer",
      words: by,
      deferral: null,
      at: story.at,
      replaces: [],
    };
    story.tell("finding.judged", body, by);
  };
const closed =
  (state: "open" | "closed"): Apart =>
  (story, by) => {
    story.tell("closure.set", { closure: "cowl", state, replaces: [], at: story.at }, by);
  };
const custody =
  (held: "crew" | "maintenance"): Apart =>
  (story, by) => {
    const body = {
      custody: held,
      people: [by],
      words: "said",
      expectedEnd: null,
      at: story.at,
      replaces: [],
    };
    story.tell("custody.taken", body, by);
  };
const flown =
  (from_min: number, landings: number): Apart =>
  (story, by) => {
    const [off_ms, on_ms] = [story.now_ms - from_min * 60_000, story.now_ms - 60_000];
    story.tell(
      "flight.logged",
      {
        flight: `flight-${by}-${from_min}`,
        offAt: msToInstant(off_ms),
        onAt: msToInstant(on_ms),
        flight_h: (on_ms - off_ms) / hour_ms,
        landings,
        hoistCycles: 0,
        starts: 1,
        nightLandings: 0,
        nvis: false,
        instrument_min: 0,
        operation: operations[0]!,
        crew: [by],
      },
      by,
    );
  };
const seenGood =
  (item: string, told: DraftMark): Apart =>
  (story, by) => {
    const { stop } = smallSheet.items.find(({ id }) => id === item)!;
    story.page(walk, stop, { [item]: told }, { by, replaceNothing: true });
  };

const apart: fc.Arbitrary<Apart> = fc.oneof(
  fc.constantFrom(...outcomes).map(judged),
  fc.constantFrom("open" as const, "closed" as const).map(closed),
  fc.constantFrom("crew" as const, "maintenance" as const).map(custody),
  fc.tuple(fc.integer({ min: 10, max: 40 }), fc.integer({ min: 1, max: 3 })).map(([a, b]) => flown(a, b)),
  fc
    .tuple(fc.constantFrom(...items), fc.constantFrom(good, { mark: "finding", why: null, finding } as const))
    .map(([item, told]) => seenGood(item, told)),
);

describe("law 3: merging is pessimistic", () => {
  test("what two people recorded apart is no better than what either recorded alone, in both orders", () => {
    let worse = 0;
    fc.assert(
      fc.property(plot, apart, apart, (told, one, other) => {
        const begun = { ...told, judged: told.judged ?? [], finished: false };
        const stories = [
          [[one, "p-one"] as const],
          [[other, "p-two"] as const],
          [[one, "p-one"] as const, [other, "p-two"] as const],
          [[other, "p-two"] as const, [one, "p-one"] as const],
        ].map((facts) => {
          const story = tell(begun);
          for (const [fact, by] of facts) fact(story, by);
          return story;
        });
        const [first, second, ...both] = stories as [Story, Story, Story, Story];
        const now_ms = Math.max(...stories.map((story) => story.now_ms));
        const situation = { ...first.situation(), now_ms, horizon_ms: now_ms + 72 * hour_ms };
        for (const merged of both) {
          expectNoBetter(first, merged, situation);
          expectNoBetter(second, merged, situation);
        }
        worse += 1;
      }),
      { numRuns: 100 },
    );
    expect(worse).toBeGreaterThan(50);
  });
});

describe("law 1: unknown is never ready", () => {
  test("an entry set aside makes not known, or worse, of every operation", () => {
    fc.assert(
      fc.property(plot, (told) => {
        const story = tell(told);
        const aside = [
          { id: "f".repeat(64), type: "walk.page", code: "schema", by: "p-one", at_ms: story.now_ms },
        ];
        const { record, ...situation } = story.situation();
        const reasons = assessRecorded(story.sheet, story.state, {
          ...situation,
          record: { ...record, aside },
        });
        for (const operation of operations) {
          const { verdict } = standingAt(reasons, operation, story.now_ms);
          expect(compareVerdicts(verdict, "notKnown")).toBeGreaterThanOrEqual(0);
        }
      }),
      { numRuns: 40 },
    );
  });

  test("no exchange ever, an exchange too old, a clock behind the newest entry, a sheet not at hand: none is ready", () => {
    const story = tell({ except: {}, finished: true, judged: null, oil: 2.5, opened: false });
    const situation = story.situation();
    const { record } = situation;
    const verdict = (sheet: typeof smallSheet | null, with_: Partial<Situation>) => {
      const reasons = assessRecorded(sheet, story.state, { ...situation, ...with_ });
      return standingAt(reasons, operations[0]!, situation.now_ms).verdict;
    };
    expect(verdict(story.sheet, {})).toBe("ready");
    expect(verdict(story.sheet, { record: { ...record, exchanged_ms: null } })).toBe("notKnown");
    expect(
      verdict(story.sheet, { record: { ...record, exchanged_ms: situation.now_ms - 5 * hour_ms } }),
    ).toBe("notKnown");
    expect(verdict(story.sheet, { record: { ...record, newest_ms: situation.now_ms + 1 } })).toBe("notKnown");
    expect(verdict(null, {})).toBe("notKnown");
  });

  test("a pilot's word that no other device was used stands in for an exchange, for as long as one", () => {
    const story = tell({ except: {}, finished: true, judged: null, oil: 2.5, opened: false });
    const { record, ...situation } = story.situation();
    const alone = { ...situation, record: { ...record, exchanged_ms: null } };
    story.tell("exchange.confirmed", { words: "only this tablet", at: story.at });
    const verdictAt = (at: number) =>
      standingAt(assessRecorded(story.sheet, story.state, alone), operations[0]!, at).verdict;
    expect(verdictAt(story.now_ms)).toBe("ready");
    expect(verdictAt(story.now_ms + 4 * hour_ms)).toBe("notKnown");
  });
});
