// The colours of the four lights, read from lights.css as it is shipped.
//
// Contrast: WCAG 2.2, definitions of relative luminance and contrast ratio (https://www.w3.org/TR/WCAG22/).
// Text wants 4.5:1 (1.4.3), borders of what can be pressed and typed into 3:1 (1.4.11).
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { lights } from "./light.ts";
import type { Light } from "./light.ts";

const here = import.meta.dirname;
const css = readFileSync(join(here, "lights.css"), "utf8");

type Colours = Readonly<Record<string, string>>;

function coloursOf(light: Light): Colours {
  const block = new RegExp(`data-light="${light}"\\][^{]*\\{([^}]*)\\}`, "u").exec(css)?.[1] ?? "";
  const named = [...block.matchAll(/--([a-z]+):\s*(#[0-9a-f]{6})/gu)];
  return Object.fromEntries(named.map(([, name = "", hex = ""]) => [name, hex]));
}

function channels(hex: string): readonly [number, number, number] {
  const at = (start: number) => Number.parseInt(hex.slice(start, start + 2), 16);
  return [at(1), at(3), at(5)];
}

function luminance(hex: string): number {
  const [red, green, blue] = channels(hex)
    .map((value) => value / 255)
    .map((value) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4)) as [
    number,
    number,
    number,
  ];
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function contrast(a: string, b: string): number {
  const [dark, bright] = [luminance(a), luminance(b)].toSorted((x, y) => x - y) as [number, number];
  return (bright + 0.05) / (dark + 0.05);
}

test("the contrast formula gives the ratios that its source names: 21 for black on white, 1 for a colour on itself", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 10);
  expect(contrast("#777777", "#777777")).toBe(1);
});

describe.each(lights)("the %s light", (light) => {
  const colours = coloursOf(light);
  const paper = colours["paper"]!;

  test("names every colour", () => {
    expect(Object.keys(colours).toSorted()).toEqual(["edge", "ink", "now", "paper", "quiet", "rule", "tint"]);
  });

  test("text is read at 4.5:1 or more on paper, and ink on a pressed button too", () => {
    for (const name of ["ink", "quiet", "now"])
      expect(contrast(colours[name]!, paper)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(colours["ink"]!, colours["tint"]!)).toBeGreaterThanOrEqual(4.5);
  });

  test("what can be pressed or typed into has an edge of 3:1 or more", () => {
    expect(contrast(colours["edge"]!, paper)).toBeGreaterThanOrEqual(3);
  });
});

test("red uses the red channel alone, goggles all but the red one", () => {
  for (const colour of Object.values(coloursOf("red"))) expect(channels(colour).slice(1)).toEqual([0, 0]);
  for (const colour of Object.values(coloursOf("goggles"))) expect(channels(colour)[0]).toBe(0);
});

test("the script before the first paint frames the app in the same paper", () => {
  const script = readFileSync(join(here, "..", "public", "light.js"), "utf8");
  for (const light of ["day", "dark"] as const)
    expect(script).toContain(`["${light}", "${coloursOf(light)["paper"]}"]`);
  for (const light of ["red", "goggles"] as const) expect(coloursOf(light)["paper"]).toBe("#000000");
});
