import * as fc from "fast-check";
import { expect, test } from "vitest";
import { arbitraryCall, callTo, craftOf, knownOf, placeAt } from "./arbitrary-call.ts";
import { assessCall } from "./assess-call.ts";
import { keptCall } from "./kept-call.ts";

const asKept = (value: unknown): Record<string, unknown> =>
  JSON.parse(JSON.stringify(value)) as Record<string, unknown>;

test("what was kept, asked again of the same facts, gives the same answer", () => {
  const known = knownOf(craftOf());
  fc.assert(
    fc.property(arbitraryCall, (call) => {
      const again = keptCall(asKept(call))!;
      expect(assessCall(known, again).margins).toEqual(assessCall(known, call).margins);
    }),
    { numRuns: 20 },
  );
});

test("a call that lacks a part is none, whichever it is", () => {
  const whole = asKept(callTo(placeAt(70.5, 11.6, null)));
  expect(keptCall(whole)).not.toBeNull();
  for (const key of Object.keys(whole)) {
    const { [key]: _gone, ...rest } = whole;
    expect([key, keptCall(rest)]).toEqual([key, null]);
  }
  expect(keptCall({ ...whole, stops: [] })).toBeNull();
  expect(keptCall({ ...whole, fuel_kg: "420" })).toBeNull();
  expect(keptCall({ ...whole, air: { wind: { speed_kt: 3 }, qnh_hPa: null, temperature: null } })).toBeNull();
  expect(keptCall({ ...whole, heights: { cruise_ft: 1_200 } })).toBeNull();
});
