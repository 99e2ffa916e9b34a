import { expect, test } from "vitest";
import { quill } from "../reach/arbitrary-call.ts";
import type { SheetChart } from "../sheet/chart-blocks.ts";
import { flowBetween_kgh, flowModelOf } from "./flow-model.ts";

const craft = { variant: "2H", installed: {} };
const low = { pressureAltitude_ft: 0, temperature_C: 0 };
const high = { pressureAltitude_ft: 6_000, temperature_C: 30 };

/** Invented: 300 kg/h low and cold, 20 less for each 1,000 ft, 1 more for each degree. */
const thinning = {
  ...quill.charts["fuelFlow"]!,
  kind: "grid",
  between: "straight",
  axes: [
    { input: "pressureAltitude_ft", at: [0, 10_000] },
    { input: "temperature_C", at: [-40, 40] },
  ],
  values: [
    [260, 340],
    [60, 140],
  ],
  output: "flow_kgh",
  monotone: { pressureAltitude_ft: "falling", temperature_C: "rising" },
} as unknown as SheetChart;

test("a leg burns what it would at the thirstiest height and temperature between its ends, whichever way it goes", () => {
  const flow = flowModelOf({ charts: { fuelFlow: thinning }, fuelFlow: quill.fuelFlow }, craft);
  expect(flow.readsAir).toBe(true);
  expect(flow.flow_kgh(130, 3_000, 6_000, 30)).toBeCloseTo(210, 9);
  expect(flowBetween_kgh(flow, 130, 3_000, low, high)).toBeCloseTo(330, 9);
  expect(flowBetween_kgh(flow, 130, 3_000, high, low)).toBeCloseTo(330, 9);
  expect(flowBetween_kgh(flow, 130, 3_000, low, null)).toBeNaN();
  expect(flowBetween_kgh(flow, 130, 3_000, low, { ...high, pressureAltitude_ft: 12_000 })).toBeNaN();
});

test("a chart that does not ask for the air needs none", () => {
  const flow = flowModelOf(quill, craft);
  expect(flow.readsAir).toBe(false);
  expect(flowBetween_kgh(flow, 120, 3_000, null, null)).toBeCloseTo(218, 9);
});
