import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { compareVerdicts, verdicts } from "../core/standing/combine.ts";
import { ribbonOf, stretchesOf } from "./ribbon.ts";
import type { RibbonSpan } from "./ribbon.ts";
import { ribbonTicks } from "./ribbon-ticks.ts";
import { ribbonSentence } from "./ribbon-words.ts";
import { localeOf } from "./words/language.ts";

const hour = 3_600_000;
const window = { from_ms: 0, until_ms: 1000, width: 240 };

const someSpans: fc.Arbitrary<RibbonSpan[]> = fc.array(
  fc
    .record({
      from: fc.integer({ min: -100, max: 1100 }),
      length: fc.integer({ min: 1, max: 500 }),
      verdict: fc.constantFrom(...verdicts),
    })
    .map(({ from, length, verdict }) => ({ from_ms: from, until_ms: from + length, verdict })),
  { maxLength: 8 },
);

describe("the stretches of a ribbon", () => {
  test("reach from end to end without gap or overlap, and neighbours differ", () => {
    fc.assert(
      fc.property(someSpans, (spans) => {
        const stretches = stretchesOf(spans, window);
        expect(stretches[0]!.x0).toBe(0);
        expect(stretches.at(-1)!.x1).toBe(window.width);
        stretches.slice(1).forEach((stretch, index) => {
          expect(stretch.x0).toBe(stretches[index]!.x1);
          expect(stretch.verdict).not.toBe(stretches[index]!.verdict);
        });
      }),
      { numRuns: 200 },
    );
  });

  test("are at no pixel better than the standing there, and not known where nothing is said", () => {
    fc.assert(
      fc.property(someSpans, fc.integer({ min: 0, max: 999 }), (spans, at) => {
        const x = (at * window.width) / 1000;
        const drawn = stretchesOf(spans, window).find(({ x0, x1 }) => x0 <= x && x < x1)!;
        const said = spans.filter(({ from_ms, until_ms }) => from_ms <= at && at < until_ms);
        const verdict = said
          .map((span) => span.verdict)
          .reduce((a, b) => (compareVerdicts(a, b) > 0 ? a : b), said[0]?.verdict ?? "notKnown");
        expect(compareVerdicts(drawn.verdict, verdict)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 400 },
    );
  });

  test("a minute of not ready in three days is still wide enough to carry its cross", () => {
    const day = 24 * hour;
    const spans = [
      { from_ms: 0, until_ms: day, verdict: "ready" },
      { from_ms: day, until_ms: day + 60_000, verdict: "notReady" },
      { from_ms: day + 60_000, until_ms: 3 * day, verdict: "ready" },
    ] as const;
    const ribbon = ribbonOf(spans, { from_ms: 0, until_ms: 3 * day, width: 220 }, 0);
    const bad = ribbon.stretches.find(({ verdict }) => verdict === "notReady")!;
    expect(bad.x1 - bad.x0).toBeGreaterThanOrEqual(11);
    expect(ribbon.crosses).toMatch(/^M/u);
  });

  test("a window that never ends or runs backwards is refused", () => {
    expect(() => stretchesOf([], { from_ms: 5, until_ms: 5, width: 100 })).toThrow(RangeError);
    expect(() => stretchesOf([], { from_ms: 0, until_ms: Infinity, width: 100 })).toThrow(RangeError);
  });
});

describe("the shapes", () => {
  test("each verdict has a shape of its own, and path data holds numbers only", () => {
    const shapes = verdicts.map((verdict) => {
      const { fill, crosses } = ribbonOf([{ from_ms: 0, until_ms: 1000, verdict }], window, -1);
      expect(fill + crosses).not.toMatch(/NaN|undefined/u);
      return fill + crosses;
    });
    expect(new Set(shapes).size).toBe(verdicts.length);
  });

  test("now stands only inside the window", () => {
    expect(ribbonOf([], window, 500).nowX).toBe(120);
    expect(ribbonOf([], window, 1001).nowX).toBeNull();
  });
});

describe("the ticks", () => {
  test("stand on full hours of the local clock, also across a change of clocks and in a zone of half hours", () => {
    const change = Date.parse("2026-03-28T18:00:00Z");
    for (const zone of ["Europe/Oslo", "Asia/Kolkata", "Australia/Lord_Howe"]) {
      const ticks = ribbonTicks({ from_ms: change, until_ms: change + 24 * hour, width: 360 }, zone, 44);
      expect(ticks.length).toBeGreaterThan(4);
      const time = new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit" });
      for (const { at_ms } of ticks) expect(time.format(at_ms)).toMatch(/:00$/u);
    }
  });

  test("keep their distance at any width", () => {
    for (const width of [120, 220, 360, 900]) {
      const ticks = ribbonTicks({ from_ms: 0, until_ms: 72 * hour, width }, "UTC", 44);
      ticks.slice(1).forEach((tick, index) => expect(tick.x - ticks[index]!.x).toBeGreaterThan(35));
    }
  });
});

describe("the sentence", () => {
  const locale = localeOf("en", "UTC");
  const at = (text: string) => Date.parse(`2025-12-05T${text}Z`);

  test("says the spans from now on, with the end of the better rounded down and its beginning rounded up", () => {
    const spans = [
      { from_ms: at("05:00:00"), until_ms: at("15:12:40"), verdict: "withinLimits" },
      { from_ms: at("15:12:40"), until_ms: at("19:10:20"), verdict: "notReady" },
      { from_ms: at("19:10:20"), until_ms: at("23:00:00"), verdict: "ready" },
    ] as const;
    expect(ribbonSentence("Day VFR", spans, at("06:52:00"), locale)).toBe(
      "Day VFR: now ready within limits, not ready from 15:12, ready from 19:11, as far as 23:00.",
    );
    expect(ribbonSentence("Tag", spans, at("16:00:00"), localeOf("de", "UTC"))).toBe(
      "Tag: jetzt nicht einsatzklar, einsatzklar ab 19:11, überblickt bis 23:00.",
    );
  });

  test("no spans are not known", () => {
    expect(ribbonSentence("Hoist", [], at("06:52:00"), locale)).toBe("Hoist: now not known.");
  });
});
