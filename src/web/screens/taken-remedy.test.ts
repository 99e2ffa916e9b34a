import { expect, test } from "vitest";
import { air, callTo, craftOf, knownOf, placeAt } from "../../core/reach/arbitrary-call.ts";
import { assessCall } from "../../core/reach/assess-call.ts";
import { remediesFor } from "../../core/reach/call-remedies.ts";
import type { CallRemedyKind } from "../../core/reach/call-remedies.ts";
import type { Call } from "../../core/reach/call.ts";
import { emptyCall } from "./call-view.ts";
import type { CallDraft } from "./call-view.ts";
import { takenRemedy } from "./taken-remedy.ts";

const known = knownOf(craftOf());
const said: CallDraft = { ...emptyCall, typed: { elevation_ft: "100", stay_min: "12" } };

function taken(call: Call, kind: CallRemedyKind) {
  const remedy = remediesFor(known, call).find(
    ({ changes }) => changes.length === 1 && changes[0]!.kind === kind,
  );
  if (remedy === undefined) throw new Error(`no ${kind}`);
  return { remedy, part: takenRemedy(said, remedy, "en") };
}

test("fuel to be added is said in whole kilograms on the side on which it is enough, and all else stays said", () => {
  const call = callTo(placeAt(70.25, 12.4, 100), { fuel_kg: 40 });
  const { remedy, part } = taken(call, "addFuel");
  expect(part.typed).toMatchObject(said.typed);
  const fuel_kg = Number(part.typed!.fuel_kg);
  expect(Number.isInteger(fuel_kg)).toBe(true);
  expect(fuel_kg - remedy.call.fuel_kg).toBeGreaterThanOrEqual(-1e-6);
  expect(fuel_kg - remedy.call.fuel_kg).toBeLessThan(1);
  expect(assessCall(known, { ...call, fuel_kg }).isAcceptable).toBe(true);
  expect(part).not.toHaveProperty("depart_ms");
  expect(part).not.toHaveProperty("without");
});

test("fuel and patient to be less are rounded down", () => {
  const hot = { ...air, temperature: { value_C: 24, elevation_ft: 36 } };
  const call = callTo(placeAt(70.3, 12.3, 3_600), { air: hot, fuel_kg: 450 });
  const less = taken(call, "lessFuel");
  const fuel_kg = Number(less.part.typed!.fuel_kg);
  expect(less.remedy.call.fuel_kg - fuel_kg).toBeGreaterThanOrEqual(0);
  expect(assessCall(known, { ...call, fuel_kg }).isAcceptable).toBe(true);
  expect(less.part.typed).not.toHaveProperty("patient_kg");
  const lighter = taken(call, "lighterPatient");
  const { most_kg } = lighter.remedy.call.stops[0]!.boards[0]!;
  expect(most_kg - Number(lighter.part.typed!.patient_kg)).toBeGreaterThanOrEqual(0);
  expect(lighter.part.typed).not.toHaveProperty("fuel_kg");
});
