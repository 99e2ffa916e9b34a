import { describe, expect, test } from "vitest";
import { emptyBase } from "../../core/facts/sky.ts";
import type { BaseState } from "../../core/facts/sky.ts";
import { isRefusal } from "../entry-type.ts";
import { baseOfCraft, basesHeld } from "./base-held.ts";
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

describe("taking back", () => {
  const back = (entry: string) => ({ withdrawn: entry, why: "wrong station", at });

  test("what was typed no longer stands, and that it was said does, with who took it back and why", () => {
    const held = accepted(fold(emptyBase, "weather.heard", report));
    const state = accepted(fold(held, "weather.withdrawn", back(id("a")), id("b")));
    expect(state.reports).toEqual([]);
    expect(state.withdrawn).toMatchObject([
      { entry: id("b"), by: "p-one", withdrawn: id("a"), what: report.text, why: "wrong station" },
    ]);
  });

  test("a fetched report stays, a look of another person too, and a reason is asked for", () => {
    const fetched = accepted(fold(emptyBase, "weather.heard", { ...report, source: "fetched" }));
    expect(isRefusal(fold(fetched, "weather.withdrawn", back(id("a")), id("b")))).toBe(true);
    const seen = accepted(fold(emptyBase, "weather.seen", look));
    const others = { ...seen, observations: seen.observations.map((each) => ({ ...each, by: "p-two" })) };
    expect(isRefusal(fold(others, "weather.withdrawn", back(id("a")), id("b")))).toBe(true);
    expect(accepted(fold(seen, "weather.withdrawn", back(id("a")), id("b"))).observations).toEqual([]);
    expect(isRefusal(fold(seen, "weather.withdrawn", { ...back(id("a")), why: "" }, id("b")))).toBe(true);
  });

  test("of what is not held changes nothing", () => {
    const held = accepted(fold(emptyBase, "weather.heard", report));
    expect(accepted(fold(held, "weather.withdrawn", back(id("c")), id("b")))).toBe(held);
  });
});

test("limits written before a setting existed fold to the stricter way", () => {
  const settings = {
    ruleSet: "eu",
    reportAge_min: 75,
    stationDistance_km: 30,
    ground_ft: 330,
    needs: [],
    moisture: null,
    forbidden: { phenomena: ["TS"], cite: "m" },
    ncd: null,
    replaces: [],
  };
  const [set] = accepted(fold(emptyBase, "weather.settingsSet", settings)).settings;
  expect(set).toMatchObject({ planning: null, pad: null, cooling: null });
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

test("a craft stands at the only base, or at the one that its record names; else at none that is known", () => {
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
  const held = (places: readonly { base: string; lat_deg?: number }[], ...said: readonly string[]) =>
    baseOfCraft(
      basesHeld(
        places.map((place) => ({ ...described, ...place })),
        () => folded,
      ),
      said.map((base) => ({ entry: id("d"), by: "p", at_ms, base })),
    )?.described.base ?? null;
  const both = [{ base: "base:a" }, { base: "base:b" }];
  expect(held([])).toBeNull();
  expect(held([{ base: "base:a" }])).toBe("base:a");
  expect(held([{ base: "base:a" }], "base:elsewhere")).toBeNull();
  expect(held(both)).toBeNull();
  expect(held(both, "base:b")).toBe("base:b");
  expect(held(both, "base:b", "base:b")).toBe("base:b");
  expect(held(both, "base:b", "base:a")).toBeNull();
  // Described in two ways: not known, and no word on where the craft stands makes it so.
  expect(held([{ base: "base:a" }, { base: "base:a", lat_deg: 71 }], "base:a")).toBeNull();
  expect(held([{ base: "base:a" }, { base: "base:a", lat_deg: 71 }, { base: "base:b" }])).toBeNull();
});
