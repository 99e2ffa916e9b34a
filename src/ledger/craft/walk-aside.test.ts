// Entries of a walk that do not count, through the whole fold with its certificates: signed by a role that may not, or of a
// walk that this machine never had. They are kept, set aside with why, and make every kind of flying not known.
import { describe, expect, test } from "vitest";
import { Device, begun_ms, keys, trust } from "../../../sim/ledger/world.ts";
import type { Person } from "../../../sim/ledger/world.ts";
import { smallSheet } from "../../../demo/sheet/small-sheet.ts";
import { minute_ms, msToInstant } from "../../core/facts/instant.ts";
import { assessCraft } from "../../core/standing/assess.ts";
import { standingAt } from "../../core/standing/combine.ts";
import { foldLedger } from "../fold.ts";
import type { Opened } from "../open.ts";
import { Story } from "./arbitrary-story.ts";
import { craftLedger } from "./craft-ledger.ts";

const pilot = (): Device => new Device(keys["p-one"], "p-one");
const device = (person: Person): Device => new Device(keys[person], person);
const at = (minutes: number): number => begun_ms + minutes * minute_ms;

const begin = (who: Device, walk: string): Promise<Opened> => {
  const body = {
    walk,
    kind: "full",
    sheet: "a".repeat(64),
    plan: "b".repeat(64),
    conditions: {},
    paper: false,
  };
  return who.write("walk.begun", { ...body, begunAt: msToInstant(at(0)) }, at(0));
};
const page = (who: Device, walk: string, after: readonly Opened[]): Promise<Opened> => {
  const [arrivedAt, leftAt] = [msToInstant(at(1)), msToInstant(at(2))];
  const marks = [{ item: "pitot", mark: "good", why: null, finding: null }];
  const body = { walk, stop: "nose", arrivedAt, leftAt, sealedBy: "left", marks, closures: [], readings: [] };
  const ids = after.map(({ id }) => id);
  return who.write("walk.page", { ...body, replaces: [] }, at(2), { after: ids });
};

describe("a page that does not count", () => {
  test("is set aside when its writer's role walks round no machine, and marks nothing", async () => {
    const begun = await begin(pilot(), "walk-0001");
    const signed = await page(device("p-three"), "walk-0001", [begun]);
    const { statuses, aside, state } = foldLedger(craftLedger, [begun, signed], trust);
    expect(statuses.get(signed.id)).toBe("roleMissing");
    expect(aside.map(({ id, code }) => [id, code])).toEqual([[signed.id, "roleMissing"]]);
    expect(state.walks["walk-0001"]).toMatchObject({ marks: {}, visits: [] });

    const allowed = await page(device("p-two"), "walk-0001", [begun]);
    expect(
      Object.keys(foldLedger(craftLedger, [begun, allowed], trust).state.walks["walk-0001"]!.marks),
    ).toEqual(["pitot"]);
  });

  test("is set aside when it is of another machine's walk, or of one that nobody began", async () => {
    const begun = await begin(pilot(), "walk-0001");
    const stray = await page(device("p-two"), "walk-of-another", [begun]);
    const { statuses, aside, state } = foldLedger(craftLedger, [begun, stray], trust);
    expect(statuses.get(stray.id)).toBe("senseless");
    expect(aside).toMatchObject([{ id: stray.id, code: "senseless" }]);
    expect(aside[0]?.detail).toContain("walkNotBegun");
    expect(aside[0]?.detail).toContain("walk-of-another");
    expect(Object.keys(state.walks)).toEqual(["walk-0001"]);
  });

  test("makes every kind of flying not known until somebody has dealt with it", () => {
    const story = new Story(smallSheet, { floats: true, boards: false });
    story.begin("walk-0001");
    story.walkAll("walk-0001");
    story.finish("walk-0001");
    const one = {
      id: "c".repeat(64),
      code: "roleMissing",
      type: "walk.page",
      by: "p-three",
      at_ms: begun_ms,
    };
    const aside = [one];
    const record = { ...story.situation().record, aside };
    for (const { id } of smallSheet.operations) {
      const reasons = assessCraft(smallSheet, story.state, story.situation({ record }));
      expect(["notKnown", "notReady"]).toContain(standingAt(reasons, id, story.now_ms).verdict);
      expect(reasons.some(({ code }) => code.startsWith("record."))).toBe(true);
    }
  });
});
