// The second opinion on weather reports: where it differs, by exactly what is listed in weather-peer.json, with why.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { ourFacts, peerDifferences } from "./weather-peer.ts";
import peer from "./weather-peer.json" with { type: "json" };
import data from "./weather-reports.json" with { type: "json" };

const listed = new Map(peer.rows.map((row) => [row.text, row]));

describe("our reader and the second opinion", () => {
  test("agree on every fact of every published text that is not listed", () => {
    const unlisted = data.rows.filter(({ text }) => !listed.has(text));
    expect(unlisted.length).toBe(peer.agreeing);
    for (const { text, near } of unlisted) {
      expect(peerDifferences(text, Date.parse(near))).toEqual([]);
      expect(Object.keys(ourFacts(text, Date.parse(near))).length).toBeGreaterThanOrEqual(3);
    }
  });

  test.each(peer.rows.map((row) => [row.text, row] as const))("differ on %s as listed", (text, row) => {
    expect(peerDifferences(text, Date.parse(row.near))).toEqual(row.differences);
    expect(row.why.length).toBeGreaterThan(10);
  });

  test("the page beside shows every listed difference and its reason", () => {
    const page = readFileSync(join(import.meta.dirname, "weather-peer.md"), "utf8");
    for (const { text, differences, why } of peer.rows) {
      for (const part of [text, ...differences, why]) expect(page).toContain(part);
    }
  });
});
