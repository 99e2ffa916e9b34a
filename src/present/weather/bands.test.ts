import { expect, test } from "vitest";
import { bandOf, bandY } from "./bands.ts";

const scale = { top: 5_000, worse: "lower" } as const;
const window = { from_ms: 0, until_ms: 100, width: 200, height: 46 };
const span = (from_ms: number, until_ms: number, value: number | null, isForecast = false) => ({
  from_ms,
  until_ms,
  value,
  isSure: value !== null,
  isForecast,
});

test("a value stands the higher the more it is, and beyond the top at the top", () => {
  const heights = [0, 100, 1_000, 5_000, Number.POSITIVE_INFINITY].map((value) => bandY(value, scale, 46));
  expect(heights).toEqual([43, 37.3, 25.1, 3, 3]);
});

test("observed and forecast are two lines that break where the other or nothing speaks", () => {
  const band = bandOf(
    [span(0, 10, 5_000), span(10, 50, 5_000, true), span(50, 100, null)],
    [],
    scale,
    window,
  );
  expect(band.observed).toBe("M0 3H20");
  expect(band.forecast).toBe("M20 3H100");
  expect(band.dots.match(/M/gu)).toHaveLength(14);
  expect(band.dots.startsWith("M105 43h0")).toBe(true);
});

test("what breaks a demand is an area, only while the demand holds, and on it is met", () => {
  const demand = { from_ms: 20, until_ms: 40, value: 1_000 };
  const broken = bandOf([span(0, 100, 0)], [demand], scale, window);
  expect(broken.broken).toBe("M40 43H80V25.1H40Z");
  expect(bandOf([span(0, 100, 1_000)], [demand], scale, window).broken).toBe("");
  const wind = bandOf([span(0, 100, 40)], [{ ...demand, value: 32 }], { top: 60, worse: "higher" }, window);
  expect(wind.broken).not.toBe("");
});

test("what may be worse than it says has dots below its line", () => {
  const band = bandOf([{ ...span(0, 100, 3_000), isSure: false }], [], scale, window);
  expect(band.observed).not.toBe("");
  expect(band.dots).not.toBe("");
});
