import { describe, expect, test } from "vitest";
import { sampleOutline } from "../drawing/sample.ts";
import { plotEnvelope, roundSteps } from "./envelope-plot.ts";
import { planLoad } from "./load-plan.ts";

const places = [
  { id: "nose", x_m: 0.5, y_m: 0 },
  { id: "pilot", x_m: 1.75, y_m: 0.38 },
  { id: "left", x_m: 1.75, y_m: -0.38 },
  { id: "medic", x_m: 2.9, y_m: 0.4 },
  { id: "operator", x_m: 3.4, y_m: 0.6 },
  { id: "stretcher", x_m: 3.5, y_m: -0.35 },
  { id: "rack", x_m: 4.3, y_m: 0.3 },
  { id: "floor", x_m: 4.5, y_m: 0 },
];
const { fuselage_m, tailBoom_m } = sampleOutline;

describe.each(["up", "left"] as const)("places on the aircraft, nose %s", (heading) => {
  const width = heading === "up" ? 358 : 1_000;
  const plan = planLoad({
    places,
    fuselage_m,
    tailBoom_m,
    width,
    heading,
    size: heading === "up" ? 88 : 300,
  });

  test("each place has one field of a gloved finger's size, inside the picture, and no two overlap", () => {
    expect(plan.fields.map(({ id }) => id).toSorted()).toEqual(places.map(({ id }) => id).toSorted());
    for (const field of plan.fields) {
      expect(Math.min(field.width, field.height)).toBeGreaterThanOrEqual(80);
      expect(field.left).toBeGreaterThanOrEqual(0);
      expect(field.top).toBeGreaterThanOrEqual(0);
      expect(field.left + field.width).toBeLessThanOrEqual(plan.width);
      expect(field.top + field.height).toBeLessThanOrEqual(plan.height);
      for (const other of plan.fields) {
        if (other === field) continue;
        const apart =
          field.left + field.width <= other.left ||
          other.left + other.width <= field.left ||
          field.top + field.height <= other.top ||
          other.top + other.height <= field.top;
        expect(apart, `${field.id} and ${other.id}`).toBe(true);
      }
    }
  });

  test("what is further aft lies further from the nose, and right is on its side", () => {
    const along = (x_m: number) => plan.to([x_m, 0])[heading === "up" ? 1 : 0];
    for (let x_m = 0; x_m < 6; x_m += 0.1) expect(along(x_m + 0.1)).toBeGreaterThan(along(x_m));
    const [right, left] = [plan.to([2, 0.4]), plan.to([2, -0.4])];
    if (heading === "up") expect(right[0]).toBeGreaterThan(left[0]);
    else expect(right[1]).toBeLessThan(left[1]);
  });
});

describe("an envelope as a picture", () => {
  const limit = [
    [4.2, 2000],
    [4.2, 3300],
    [4.7, 3300],
    [4.7, 2000],
  ] as const;

  test("more mass is higher, more arm further right, all of it inside the drawn area", () => {
    const track = [
      [4.4, 3000],
      [4.3, 2700],
    ] as const;
    const plot = plotEnvelope({ limit, track, band: [], worst: track[1], width: 340, height: 300 });
    expect(plot.start![1]).toBeLessThan(plot.end![1]);
    expect(plot.start![0]).toBeGreaterThan(plot.end![0]);
    expect(plot.worst).toEqual(plot.end);
    for (const { at } of plot.arms) expect(at >= plot.left && at <= plot.right).toBe(true);
    for (const { at } of plot.masses) expect(at >= plot.top && at <= plot.bottom).toBe(true);
  });

  test("steps are round and within their range", () => {
    expect(roundSteps(1950, 3380)).toEqual([2000, 2500, 3000]);
    expect(roundSteps(-0.11, 0.11)).toEqual([-0.1, 0, 0.1]);
  });
});
