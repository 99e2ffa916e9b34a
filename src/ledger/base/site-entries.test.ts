import { describe, expect, test } from "vitest";
import sitesFile from "../../../demo/sites.json" with { type: "json" };
import { emptyBase } from "../../core/facts/sky.ts";
import type { BaseState } from "../../core/facts/sky.ts";
import { isRefusal } from "../entry-type.ts";
import type { Refusal } from "../entry-type.ts";
import { siteEntries } from "./site-entries.ts";

const at = "2026-11-25T08:00:00.000Z";
const later = "2026-11-25T09:00:00.000Z";
const meta = { id: "a".repeat(64), by: "p-one", at_ms: Date.parse(at) } as never;

function fold(state: BaseState, type: string, body: unknown): BaseState | Refusal {
  const kind = siteEntries.find((one) => one.type === type);
  if (kind === undefined) throw new Error(type);
  return kind.fold(state, body, meta);
}
const accepted = (result: BaseState | Refusal): BaseState => {
  if (isRefusal(result)) throw new Error(JSON.stringify(result));
  return result;
};
const notice = {
  notice: "notice-one",
  about: { site: "siteSchool" },
  kind: "closed",
  from: at,
  until: later,
  words: "works",
  lifted: false,
  at,
  replaces: [],
};

describe("sites in the ledger of a base", () => {
  test("are read when they are released; a file that cannot be read is refused with its place", () => {
    const state = accepted(
      fold(emptyBase, "sites.released", { edition: "1", geojson: sitesFile, replaces: [] }),
    );
    expect(state.sites[0]!.sites).toHaveLength(16);
    const broken = { ...sitesFile, features: [{ type: "Feature" }] };
    const refused = fold(emptyBase, "sites.released", { edition: "1", geojson: broken, replaces: [] });
    expect(refused).toMatchObject({
      refused: { code: "sitesUnreadable", path: "geojson.features[0].geometry" },
    });
  });

  test("have notices that a later one takes the place of", () => {
    const first = accepted(fold(emptyBase, "site.noticed", notice));
    expect(first.notices).toMatchObject([{ notice: "notice-one", from_ms: Date.parse(at), lifted: false }]);
    const lifted = { ...notice, lifted: true, replaces: [first.notices[0]!.entry] };
    expect(accepted(fold(first, "site.noticed", lifted)).notices).toMatchObject([{ lifted: true }]);
    expect(fold(emptyBase, "site.noticed", { ...notice, until: at })).toMatchObject({
      refused: { code: "endsBeforeItBegins" },
    });
  });

  test("and a fuel scheme", () => {
    const scheme = {
      contingency_pct: 10,
      extra_kg: 15,
      landmarks: false,
      hems: null,
      cite: "manual",
      replaces: [],
    };
    expect(accepted(fold(emptyBase, "fuel.schemeSet", scheme)).fuelSchemes).toMatchObject([{ extra_kg: 15 }]);
    expect(isRefusal(fold(emptyBase, "fuel.schemeSet", { ...scheme, extra_kg: -1 }))).toBe(true);
  });
});
