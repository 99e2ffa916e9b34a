import { describe, expect, test } from "vitest";
import { emptyBase } from "../../core/facts/sky.ts";
import type { BaseState } from "../../core/facts/sky.ts";
import { isRefusal } from "../entry-type.ts";
import type { EntryMeta } from "../entry-type.ts";
import { tankEntries } from "./tank-entries.ts";

const at = "2026-11-25T08:00:00.000Z";
const id = (letter: string): string => letter.repeat(64);

function fold(state: BaseState, type: string, body: object, entry = id("a")): BaseState {
  const kind = tankEntries.find((one) => one.type === type);
  if (kind === undefined) throw new Error(type);
  const meta = { id: entry, by: "p-one", at_ms: Date.parse(at) } as EntryMeta;
  const folded = kind.fold(state, { tank: "north", at, ...body }, meta);
  if (isRefusal(folded)) throw new Error(JSON.stringify(folded.refused));
  return folded;
}

const checked = { sample: "clear", waterFound: false, stock_L: 4_000, typed: "4000", replaces: [] };

describe("the fuel that a base stores", () => {
  test("what was seen stands beside what was seen before; a correction names the old one", () => {
    const one = fold(emptyBase, "tank.checked", checked);
    const two = fold(one, "tank.checked", { ...checked, sample: "water" }, id("b"));
    expect(two.tanks.checked.map(({ sample }) => sample)).toEqual(["clear", "water"]);
    const mended = fold(one, "tank.checked", { ...checked, stock_L: 4_100, replaces: [id("a")] }, id("c"));
    expect(mended.tanks.checked).toMatchObject([{ stock_L: 4_100, at_ms: Date.parse(at), by: "p-one" }]);
  });

  test("a tank is shut by anybody at it with why, and opened by who may, naming what ends", () => {
    const shut = fold(emptyBase, "tank.shut", { words: "smells", replaces: [] });
    const opened = fold(shut, "tank.opened", { words: "cleaned", ends: [id("a")] }, id("b"));
    expect(opened.tanks.shut).toHaveLength(1);
    expect(opened.tanks.opened).toMatchObject([{ ends: [id("a")] }]);
    expect(() => fold(emptyBase, "tank.shut", { words: "", replaces: [] })).toThrow(/schema/u);
    expect(tankEntries.find(({ type }) => type === "tank.opened")?.roles).not.toContain("pilot");
    expect(tankEntries.find(({ type }) => type === "tank.described")?.roles).not.toContain("pilot");
  });

  test("a delivery has its docket, batch, grade and density, and no amount of nothing", () => {
    const delivery = {
      amount: 4_000,
      unit: "L",
      typed: "4000",
      density_kgL: 0.801,
      fuel_C: null,
      docket: "17",
      batch: "b",
      grade: "Jet A-1",
      replaces: [],
    };
    expect(fold(emptyBase, "tank.delivered", delivery).tanks.delivered).toHaveLength(1);
    expect(() => fold(emptyBase, "tank.delivered", { ...delivery, amount: 0 })).toThrow(/amount/u);
    expect(() => fold(emptyBase, "tank.delivered", { ...delivery, docket: "" })).toThrow(/docket/u);
  });
});
