import { describe, expect, test } from "vitest";
import sitesFile from "../../../demo/sites.json" with { type: "json" };
import { emptyBase } from "../../core/facts/sky.ts";
import type { BaseState } from "../../core/facts/sky.ts";
import { isRefusal } from "../entry-type.ts";
import type { EntryMeta, Refusal } from "../entry-type.ts";
import { siteEntries } from "./site-entries.ts";

const at = "2026-11-25T08:00:00.000Z";
const later = "2026-11-25T09:00:00.000Z";
const meta = { id: "a".repeat(64), at_ms: Date.parse(at) } as EntryMeta;

function fold(state: BaseState, type: string, body: unknown, by = "p-one"): BaseState | Refusal {
  const kind = siteEntries.find((one) => one.type === type);
  if (kind === undefined) throw new Error(type);
  return kind.fold(state, body, { ...meta, by });
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
  const proposal = { edition: "1", geojson: sitesFile, words: "first", at, replaces: [] };
  const proposed = accepted(fold(emptyBase, "sites.proposed", proposal));
  const release = { proposal: "a".repeat(64), at, replaces: [] };

  test("are proposed whole, read or not; a file that cannot be read is refused with its place", () => {
    expect(proposed.sitesProposed).toMatchObject([{ edition: "1", geojson: sitesFile, ended: null }]);
    expect(proposed.sites).toEqual([]);
    const broken = { ...sitesFile, features: [{ type: "Feature" }] };
    expect(fold(emptyBase, "sites.proposed", { ...proposal, geojson: broken })).toMatchObject({
      refused: { code: "sitesUnreadable", path: "geojson.features[0].geometry" },
    });
  });

  test("are released by another person than the one who proposed them", () => {
    expect(fold(proposed, "sites.released", release)).toMatchObject({
      refused: { code: "releasedByItsAuthor" },
    });
    const released = accepted(fold(proposed, "sites.released", release, "p-two"));
    expect(released.sites[0]).toMatchObject({ proposedBy: "p-one", by: "p-two", geojson: sitesFile });
    expect(released.sites[0]!.sites).toHaveLength(16);
    expect(released.sitesProposed).toMatchObject([{ ended: "released" }]);
    expect(fold(emptyBase, "sites.released", release, "p-two")).toMatchObject({
      refused: { code: "noProposal" },
    });
  });

  test("may be declined; a release stands whichever came first", () => {
    const decline = { proposal: "a".repeat(64), words: "wrong pad", at };
    const declined = accepted(fold(proposed, "sites.declined", decline, "p-two"));
    expect(declined.sitesProposed).toMatchObject([{ ended: "declined" }]);
    const both = accepted(fold(declined, "sites.released", release, "p-two"));
    const released = accepted(fold(proposed, "sites.released", release, "p-two"));
    const others = accepted(fold(released, "sites.declined", decline, "p-two"));
    expect(both.sitesProposed).toEqual(others.sitesProposed);
    expect(both.sites).toHaveLength(1);
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
