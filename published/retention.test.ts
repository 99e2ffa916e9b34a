// Every row of retention.json against the figures that the program carries.
import { expect, test } from "vitest";
import { retention } from "../src/core/rules/retention.ts";
import data from "./retention.json" with { type: "json" };

test("records are kept as long as published, and every row has its source and status", () => {
  const carried = retention.map(({ record, keep, cite, status }) => {
    const [[unit, amount] = []] = Object.entries(keep);
    const source = data.rows.find(([name]) => name === record)?.[3];
    expect(cite.startsWith(String(source))).toBe(true);
    return [record, amount, unit, source, status];
  });
  expect(carried).toEqual(data.rows);
});
