import { expect, test } from "vitest";
import { amountsIn, readIn, saidIn, scaleOf, typedIn } from "./call-units.ts";
import { usualUnits } from "./chosen-units.ts";

const other = { mass: "lb", height: "m", distance: "km" } as const;

test("what is typed is read in the unit that was chosen", () => {
  expect(readIn("fuel_kg", "420", usualUnits, "en")).toBe(420);
  expect(readIn("fuel_kg", "926", other, "en")).toBeCloseTo(420.03, 2);
  expect(readIn("elevation_ft", "1500", other, "en")).toBeCloseTo(4921.26, 2);
  expect(readIn("distance_nm", "18,5", other, "de")).toBeCloseTo(9.989, 3);
  expect(readIn("stay_min", "15", other, "en")).toBe(15);
  expect(readIn("patient_kg", "", other, "en")).toBeNull();
  expect(readIn("patient_kg", "900", other, "en")).toBeNull();
});

test("a quantity is shown rounded against the reader, in every unit", () => {
  expect(typedIn("fuel_kg", 420, other, "en")).toBe("925");
  expect(typedIn("patient_kg", 90, other, "en")).toBe("199");
  expect(typedIn("elevation_ft", 2_900, other, "en")).toBe("884");
  const { mass, height, distance } = amountsIn(other, "en", { lb: "lb", m: "m", km: "km" });
  expect([mass(100, "lower"), mass(100, "higher"), height(100, "higher"), distance(10, "higher")]).toEqual([
    "220 lb",
    "221 lb",
    "31 m",
    "19 km",
  ]);
});

test("other units say the same, and never more fuel or a lighter patient", () => {
  const typed = { fuel_kg: "421", patient_kg: "91", stay_min: "15", elevation_ft: "abc" };
  const there = saidIn(typed, usualUnits, other, "en");
  expect(there).toEqual({ fuel_kg: "928", patient_kg: "201", stay_min: "15", elevation_ft: "abc" });
  const back = saidIn(there, other, usualUnits, "en");
  expect(Number(back.fuel_kg)).toBeLessThanOrEqual(421);
  expect(Number(back.patient_kg)).toBeGreaterThanOrEqual(91);
});

test("a scale lies inside that of the unit behind it", () => {
  expect(scaleOf("patient_kg", other)).toMatchObject({ lowest: 0, highest: 881 });
});
