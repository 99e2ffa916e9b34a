import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { smallSheet } from "../../../../demo/sheet/small-sheet.ts";
import { walkKinds } from "../../facts/craft.ts";
import type { Sheet } from "../../sheet/schema.ts";
import { checkSheet } from "../../sheet/check-sheet.ts";
import { measureOrder, proposeOrder } from "./walk-order.ts";

const demo = checkSheet(
  JSON.parse(readFileSync(new URL("../../../../demo/sheet/quill.json", import.meta.url), "utf8")),
);
if ("errors" in demo) throw new Error("the demo's sheet is refused");
const quill = demo.ok;

/** The sheet with another published order; items keep theirs within a stop. */
const ordered = (sheet: Sheet, full: readonly string[]): Sheet => ({
  ...sheet,
  order: { ...sheet.order, full: [...full] },
});

describe("an order measured", () => {
  test("counts metres, ladder moves and seconds by the stated model", () => {
    const stop = (id: string, x_m: number, access: "floor" | "ladder" | "top" | "step") => ({
      ...smallSheet.stops[0]!,
      id,
      x_m,
      y_m: -3,
      access,
    });
    const sheet: Sheet = {
      ...smallSheet,
      stops: [stop("a", 0, "floor"), stop("b", 3, "ladder"), stop("c", 4, "ladder"), stop("d", 8, "step")],
      order: { ...smallSheet.order, full: ["a", "b", "c", "d"] },
      items: [],
    };
    // 3 m, one ladder for both (1 m apart), 4 m; 1 m/s, ladder 15 s, step 5 s.
    expect(measureOrder(sheet, "full")).toMatchObject({
      way_m: 8,
      ladderMoves: 1,
      moving_s: 8 + 15 + 5,
      actions_s: 0,
    });
    const apart = ordered(sheet, ["a", "b", "d", "c"]);
    expect(measureOrder(apart, "full")).toMatchObject({ way_m: 3 + 5 + 4, ladderMoves: 2 });
  });

  test("never leads through the aircraft: from side to side it is longer than straight", () => {
    const across = ordered(smallSheet, ["left", "right"]);
    expect(measureOrder(across, "full").way_m).toBeGreaterThan(2.8 * 1.5);
  });
});

describe("an order proposed", () => {
  test.each(walkKinds)(
    "for the demo's %s walk is lawful, never slower than the published one, and proved",
    (kind) => {
      const { published, proposed, bound_s, proven } = proposeOrder(quill, kind);
      expect(published.order).toEqual(quill.order[kind]);
      expect(proposed.order.toSorted()).toEqual(published.order.toSorted());
      expect([proposed.order[0], proposed.order.at(-1)]).toEqual([
        published.order[0],
        published.order.at(-1),
      ]);
      expect(proposed.moving_s).toBeLessThanOrEqual(published.moving_s);
      expect([proven, bound_s]).toEqual([true, expect.closeTo(proposed.moving_s, 6)]);
      expect(proposed.actions_s).toBe(published.actions_s);
    },
  );

  test("is a sheet's order that the sheet's own check accepts", () => {
    const { proposed } = proposeOrder(quill, "full");
    expect(checkSheet(ordered(quill, proposed.order))).not.toHaveProperty("errors");
  });

  test("mends a published order that runs to and fro", () => {
    const [first, ...rest] = quill.order.full;
    const last = rest.pop()!;
    const muddled = [
      first!,
      ...rest.filter((_, at) => at % 2 === 0),
      ...rest.filter((_, at) => at % 2 === 1),
      last,
    ];
    const { published, proposed } = proposeOrder(ordered(quill, muddled), "full");
    expect(proposed.way_m).toBeLessThan(published.way_m * 0.75);
    expect(proposed.moving_s).toBeCloseTo(proposeOrder(quill, "full").proposed.moving_s, 6);
  });

  test("keeps what must come first before it, though another way were shorter", () => {
    const items = smallSheet.items.map((item) =>
      item.id === "tail" ? { ...item, after: ["rightFloat"] } : item,
    );
    const { proposed } = proposeOrder(
      { ...ordered(smallSheet, ["nose", "right", "tail", "left"]), items },
      "full",
    );
    expect(proposed.order.indexOf("right")).toBeLessThan(proposed.order.indexOf("tail"));
  });
});
