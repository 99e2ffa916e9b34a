import { describe, expect, test } from "vitest";
import { emptyBase } from "../../core/facts/sky.ts";
import type { BaseState } from "../../core/facts/sky.ts";
import { isRefusal } from "../entry-type.ts";
import { baseHeld } from "./base-held.ts";
import { baseLedger } from "./base-ledger.ts";

const at = "2026-11-25T11:00:00.000Z";
const at_ms = Date.parse(at);
const id = (letter: string): string => letter.repeat(64);

function fold(state: BaseState, type: string, body: unknown, entry = id("a")) {
  const kind = baseLedger.types.find((candidate) => candidate.type === type);
  if (kind === undefined) throw new Error(`no entry type ${type}`);
  const meta = { id: entry, ledger: "base:here", type, key: "k", by: "p-one", at, at_ms, seq: 0, basis: {} };
  return kind.fold(state, body, meta);
}

function accepted(folded: ReturnType<typeof fold>): BaseState {
  if (isRefusal(folded)) throw new Error(JSON.stringify(folded.refused));
  return folded;
}

const report = { text: "METAR ZZSK 251050Z 23012KT CAVOK 02/M03 Q1005", source: "typed", at, replaces: [] };
const look = {
  place: "Here",
  at,
  expires: "2026-11-25T12:00:00.000Z",
  ceiling_ft: 900,
  visibility_m: 4_000,
  weather: [],
  temperature_C: null,
  wind: null,
  replaces: [],
};

describe("reports of a base", () => {
  test("typed, pasted and fetched reports stand beside each other, with who and when", () => {
    const both = ["pasted", "fetched"].reduce<BaseState>(
      (state, source, index) =>
        accepted(fold(state, "weather.heard", { ...report, source }, id(String(index)))),
      emptyBase,
    );
    expect(both.reports.map(({ source, by, at_ms: heard_ms }) => [source, by, heard_ms])).toEqual([
      ["pasted", "p-one", at_ms],
      ["fetched", "p-one", at_ms],
    ]);
  });

  test("a typing error is mended by an entry that names the old one", () => {
    const first = accepted(fold(emptyBase, "weather.heard", report));
    const body = { ...report, text: report.text.replace("ZZSK", "ZZGR"), replaces: [id("a")] };
    const mended = accepted(fold(first, "weather.heard", body, id("b")));
    expect(mended.reports.map(({ entry }) => entry)).toEqual([id("b")]);
  });

  test("the state keeps the newest thousand", () => {
    let state = emptyBase;
    for (let count = 0; count < 1_003; count += 1)
      state = accepted(fold(state, "weather.heard", report, String(count).padStart(64, "0")));
    expect(state.reports).toHaveLength(1_000);
    expect(state.reports[0]?.entry).toBe("3".padStart(64, "0"));
  });
});

describe("a commander's own look", () => {
  test("it keeps its author, its place and its end", () => {
    const { observations } = accepted(fold(emptyBase, "weather.seen", look));
    expect(observations).toMatchObject([
      { by: "p-one", place: "Here", ceiling_ft: 900, expires_ms: at_ms + 3_600_000 },
    ]);
  });

  test("without an end, or with one that is past or beyond six hours, it is refused", () => {
    for (const expires of [at, "2026-11-25T10:59:00.000Z", "2026-11-25T17:00:00.001Z", null])
      expect(isRefusal(fold(emptyBase, "weather.seen", { ...look, expires })), String(expires)).toBe(true);
  });

  test("only a pilot may write it; the server may not", () => {
    const rolesOf = (type: string) => baseLedger.types.find((kind) => kind.type === type)?.roles;
    expect(rolesOf("weather.seen")).toEqual(["pilot"]);
    expect(rolesOf("weather.heard")).toContain("server");
    expect(rolesOf("weather.settingsSet")).not.toContain("pilot");
  });
});

test("with one base its ledger is held; with two, or one described in two places, none is", () => {
  const described = {
    entry: id("c"),
    by: "p",
    at_ms,
    name: "Here",
    lat_deg: 70,
    lon_deg: 12,
    elevation_m: 1,
  };
  const folded = { state: emptyBase } as never;
  const held = (places: readonly { base: string; lat_deg?: number }[]) =>
    baseHeld(
      places.map((place) => ({ ...described, ...place })),
      () => folded,
    );
  expect(held([])).toBeNull();
  expect(held([{ base: "base:a" }])?.described.base).toBe("base:a");
  expect(held([{ base: "base:a" }, { base: "base:b" }])).toBeNull();
  expect(held([{ base: "base:a" }, { base: "base:a", lat_deg: 71 }])).toBeNull();
});
