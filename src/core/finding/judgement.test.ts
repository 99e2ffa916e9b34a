// Who may judge what, which judgement counts, what is closed. Rule: M.A.403(b), Reg. (EU) 1321/2014; the rest are the
// program's own laws 1, 2, 3 and 8.
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { outcomes } from "../facts/craft.ts";
import type { FindingFacts, Outcome } from "../facts/craft.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { appliers } from "../sheet/finding-blocks.ts";
import { bandOf } from "./bands.ts";
import { findingWith, raised_ms, sheetWith as bandsOn, threeBands as threeBandsOn } from "./finding-cases.ts";
import {
  countingJudgement,
  hindrance,
  isClosed,
  type JudgingRole,
  judgementBy,
  mayClose,
  mayReplace,
  whyNotJudge,
} from "./judgement.ts";

const threeBands = threeBandsOn(smallSheet);
const sheetWith = (bands: Parameters<typeof bandsOn>[1]) => bandsOn(smallSheet, bands);

const dent = (value: number | null, judged: Parameters<typeof findingWith>[0]["judged"] = []) =>
  findingWith({ damage: "tailDent", value, judged });
const noBand = (...judged: readonly Outcome[]) =>
  findingWith({ judged: judged.map((outcome) => ["engineer", outcome] as const) });

const level = (outcome: Outcome): number => outcomes.indexOf(outcome);

describe("by the sheet's bands", () => {
  const allowed = (value: number | null, role: JudgingRole): readonly Outcome[] =>
    outcomes.filter((outcome) => hindrance(threeBands, dent(value), role, outcome) === null);

  test("a pilot applies the pilot's band, and in an engineer's may only keep it on the ground", () => {
    expect(allowed(0.3, "pilot")).toEqual(["accept", "watch", "defer", "ground"]);
    expect(allowed(0.31, "pilot")).toEqual(["ground"]);
    expect(hindrance(threeBands, dent(0.5), "pilot", "watch")).toBe("bandOfOthers");
    expect(hindrance(threeBands, dent(0.5), "pilot", "accept")).toBe("milderThanBand");
  });

  test("an engineer applies every band, and none milder than it", () => {
    expect(allowed(0.5, "engineer")).toEqual(["watch", "defer", "ground"]);
    expect(allowed(0.81, "engineer")).toEqual(["ground"]);
    expect(allowed(0.81, "airworthiness")).toEqual(["ground"]);
  });

  test("a crew member applies no band that asks for a pilot, and may always keep it on the ground", () => {
    expect(allowed(0.1, "crewMember")).toEqual(["ground"]);
  });

  test("nobody accepts, watches or defers what the band wants measured and nobody measured", () => {
    for (const role of ["pilot", "engineer", "airworthiness"] as const)
      expect(allowed(null, role)).toEqual(["ground"]);
    const litres = findingWith({ damage: "tailDent", value: 0.1, unit: "L" });
    expect(bandOf(threeBands, litres).kind).toBe("notMeasured");
  });

  test("where no band covers it, an engineer decides, and a pilot only by the operator's list", () => {
    expect(hindrance(threeBands, noBand(), "pilot", "accept")).toBe("noBand");
    expect(hindrance(threeBands, noBand(), "pilot", "watch")).toBe("noBand");
    expect(hindrance(threeBands, noBand(), "pilot", "defer")).toBeNull();
    expect(hindrance(threeBands, noBand(), "engineer", "accept")).toBeNull();
  });

  test("damage is not deferred to an entry of another chapter", () => {
    const of = (ata: string) => ({
      ...threeBands,
      deferrals: [{ ...threeBands.deferrals[0]!, id: "d1", ata }],
    });
    expect(hindrance(of("33"), dent(0.1), "pilot", "defer", "d1")).toBe("otherChapter");
    expect(hindrance(of("53"), dent(0.1), "pilot", "defer", "d1")).toBeNull();
  });

  test("a sheet that is not at hand covers nothing", () => {
    expect(hindrance(null, dent(0.1), "engineer", "accept")).toBe("notMeasured");
    expect(judgementBy(null, dent(0.1, [["pilot", "accept"]]))).toBeNull();
  });

  test("the largest measure that was ever taken is the one that counts", () => {
    const again = (value: number) => ({
      entry: "m1",
      by: "p-one",
      at_ms: raised_ms + 1,
      measure: { value, unit: "mm", typed: `${value} mm` },
      hours_h: null,
      photos: [],
      words: "",
    });
    const found = bandOf(threeBands, { ...dent(0.5), measured: [again(0.9), again(0.2)] });
    expect(found).toMatchObject({ kind: "band", value: 0.9, band: { outcome: "ground" } });
  });
});

describe("which judgement counts", () => {
  test("the worst of those made apart, in whatever order they came", () => {
    expect(judgementBy(threeBands, noBand("ground", "accept"))?.outcome).toBe("ground");
    expect(judgementBy(threeBands, noBand("accept", "ground"))?.outcome).toBe("ground");
    expect(judgementBy(threeBands, noBand())).toBeNull();
  });

  test("none that its writer might not give: it is kept, and counts for nothing", () => {
    const tooMild = dent(0.5, [["pilot", "accept"]]);
    expect(countingJudgement(tooMild)?.outcome).toBe("accept");
    expect(judgementBy(threeBands, tooMild)).toBeNull();
    expect(
      judgementBy(
        threeBands,
        dent(0.5, [
          ["pilot", "accept"],
          ["engineer", "watch"],
        ]),
      )?.outcome,
    ).toBe("watch");
    expect(judgementBy(threeBands, dent(0.5, [["somebody", "watch"]]))).toBeNull();
  });

  test("none any more when it was measured again and has grown out of its band, or when the sheet got stricter", () => {
    const watched = dent(0.5, [["engineer", "watch"]]);
    expect(judgementBy(threeBands, watched)?.outcome).toBe("watch");
    const grown: FindingFacts = {
      ...watched,
      measured: [
        {
          entry: "m1",
          by: "p-one",
          at_ms: raised_ms + 1,
          measure: { value: 0.9, unit: "mm", typed: "0,9 mm" },
          hours_h: null,
          photos: [],
          words: "",
        },
      ],
    };
    expect(judgementBy(threeBands, grown)).toBeNull();
    const stricter = sheetWith([
      { upTo: 0.3, closed: true, outcome: "accept", by: "pilot" },
      { outcome: "ground", by: "pilot" },
    ]);
    expect(judgementBy(stricter, watched)).toBeNull();
  });

  test("a pilot may be stricter than what stands, never looser", () => {
    expect(whyNotJudge(threeBands, dent(0.1, [["pilot", "watch"]]), "pilot", "ground")).toBeNull();
    expect(whyNotJudge(threeBands, dent(0.1, [["pilot", "watch"]]), "pilot", "accept")).toBe(
      "looserThanStands",
    );
    expect(whyNotJudge(threeBands, noBand("ground"), "pilot", "defer")).toBe("looserThanStands");
    expect(whyNotJudge(threeBands, noBand("ground"), "engineer", "accept")).toBeNull();
    expect(mayReplace({ outcome: "ground" }, { outcome: "watch", role: "pilot" })).toBe(false);
    expect(mayReplace({ outcome: "ground" }, { outcome: "watch", role: "engineer" })).toBe(true);
    expect(mayReplace({ outcome: "watch" }, { outcome: "ground", role: "crewMember" })).toBe(true);
  });
});

describe("closing and opening again", () => {
  const said = (entry: string, at_ms: number) => ({ entry, by: "p-two", at_ms, words: "done" });
  const closedBy = (finding: FindingFacts, ...roles: readonly string[]): FindingFacts => ({
    ...finding,
    closed: roles.map((role, index) => ({ ...said(`c${index}`, 99), role, replaces: [] })),
  });

  test("what grounds is closed only by an engineer's word, and what nobody judged likewise", () => {
    expect(mayClose(threeBands, noBand("ground"), "pilot")).toBe(false);
    expect(isClosed(threeBands, closedBy(noBand("ground"), "pilot"))).toBe(false);
    expect(isClosed(threeBands, closedBy(noBand("ground"), "pilot", "engineer"))).toBe(true);
    expect(isClosed(threeBands, closedBy(noBand(), "pilot"))).toBe(false);
    expect(isClosed(threeBands, closedBy(noBand("watch"), "pilot"))).toBe(true);
    expect(isClosed(threeBands, closedBy(noBand("watch"), "somebodyElse"))).toBe(false);
  });

  test("a pilot closes nothing by a judgement that does not count", () => {
    expect(isClosed(threeBands, closedBy(dent(0.9, [["pilot", "accept"]]), "pilot"))).toBe(false);
  });

  test("opened again it is open until a closing that saw it, and wants a judgement that saw it", () => {
    const closed = closedBy(noBand("watch"), "engineer");
    const open: FindingFacts = { ...closed, reopened: [said("r1", 120)] };
    expect(isClosed(threeBands, open)).toBe(false);
    expect(judgementBy(threeBands, open)).toBeNull();
    const judged: FindingFacts = {
      ...open,
      judgements: [
        { ...open.judgements[0]!, entry: "j9", outcome: "accept", role: "engineer", seen: ["r1"] },
      ],
    };
    expect(judgementBy(threeBands, judged)?.outcome).toBe("accept");
    const apart = { ...said("c8", 130), role: "engineer", replaces: [] };
    expect(isClosed(threeBands, { ...judged, closed: [...judged.closed, apart] })).toBe(false);
    const saw = { ...apart, entry: "c9", replaces: ["r1"] };
    expect(isClosed(threeBands, { ...judged, closed: [...judged.closed, saw] })).toBe(true);
    expect(isClosed(threeBands, { ...judged, closed: [...judged.closed, { ...saw, role: "pilot" }] })).toBe(
      false,
    );
  });

  test("what was worked on is not closed until it is released", () => {
    const step = { ...said("s1", 50), step: "fixed", licence: null } as const;
    const fixed: FindingFacts = { ...noBand("ground"), steps: [step] };
    expect(mayClose(threeBands, fixed, "engineer")).toBe(false);
    const released = { ...step, entry: "s2", step: "released", licence: "66-1", at_ms: 60 } as const;
    expect(mayClose(threeBands, { ...fixed, steps: [step, released] }, "engineer")).toBe(true);
    expect(mayClose(threeBands, { ...fixed, steps: [{ ...released, at_ms: 40 }, step] }, "engineer")).toBe(
      false,
    );
  });
});

describe("bands, as a law", () => {
  const role = fc.constantFrom<JudgingRole>("pilot", "crewMember", "engineer", "airworthiness");
  /** Rising ends, outcomes that never get milder, as a checked sheet has them. */
  const bands = fc
    .record({
      ends: fc.uniqueArray(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 4 }),
      levels: fc.array(fc.nat(3), { minLength: 5, maxLength: 5 }),
      by: fc.array(fc.constantFrom(...appliers), { minLength: 5, maxLength: 5 }),
    })
    .map(({ ends, levels, by }) => {
      const rising = ends.toSorted((a, b) => a - b);
      const sorted = levels.toSorted((a, b) => a - b);
      return [...rising, null].map((end, at) => ({
        ...(end === null ? {} : { upTo: end / 10, closed: true }),
        outcome: outcomes[sorted[at]!]!,
        by: by[at]!,
      }));
    });
  const counts = (sheet: ReturnType<typeof sheetWith>, finding: FindingFacts): number => {
    const judgement = judgementBy(sheet, finding);
    // Unjudged blocks as "ground" does.
    return judgement === null ? level("ground") : level(judgement.outcome);
  };

  test("a larger measure never lets anybody judge milder, and never helps what was judged", () => {
    fc.assert(
      fc.property(bands, fc.nat(60), fc.nat(60), role, fc.nat(3), (list, a, b, who, at) => {
        const sheet = sheetWith(list);
        const [small, large] = [Math.min(a, b) / 10, Math.max(a, b) / 10];
        const outcome = outcomes[at]!;
        const found = (value: number) => bandOf(sheet, dent(value));
        const [lower, upper] = [found(small), found(large)];
        if (lower.kind !== "band" || upper.kind !== "band") throw new Error("no band");
        expect(level(upper.band.outcome)).toBeGreaterThanOrEqual(level(lower.band.outcome));
        expect(counts(sheet, dent(large, [[who, outcome]]))).toBeGreaterThanOrEqual(
          upper.band.by === lower.band.by
            ? counts(sheet, dent(small, [[who, outcome]]))
            : level(upper.band.outcome),
        );
      }),
      { numRuns: 400 },
    );
  });

  test("a stricter band never loosens: neither what may be judged nor what stands", () => {
    fc.assert(
      fc.property(bands, fc.nat(4), fc.nat(60), role, fc.nat(3), (list, at, tenth, who, which) => {
        const index = at % list.length;
        // One band and all after it made stricter by one step.
        const stricter = list.map((band, place) =>
          place < index ? band : { ...band, outcome: outcomes[Math.min(3, level(band.outcome) + 1)]! },
        );
        const finding = dent(tenth / 10, [[who, outcomes[which]!]]);
        expect(counts(sheetWith(stricter), finding)).toBeGreaterThanOrEqual(counts(sheetWith(list), finding));
        for (const outcome of outcomes) {
          if (hindrance(sheetWith(list), finding, who, outcome) !== null)
            expect(hindrance(sheetWith(stricter), finding, who, outcome)).not.toBeNull();
        }
      }),
      { numRuns: 400 },
    );
  });

  test("one more judgement made apart never makes it milder, once one of those that stand counts", () => {
    fc.assert(
      fc.property(bands, fc.nat(60), role, fc.nat(3), role, fc.nat(3), (list, tenth, who, a, other, b) => {
        const sheet = sheetWith(list);
        const one = dent(tenth / 10, [[who, outcomes[a]!]]);
        fc.pre(judgementBy(sheet, one) !== null);
        const both = dent(tenth / 10, [
          [who, outcomes[a]!],
          [other, outcomes[b]!],
        ]);
        expect(counts(sheet, both)).toBeGreaterThanOrEqual(counts(sheet, one));
      }),
      { numRuns: 300 },
    );
  });
});
