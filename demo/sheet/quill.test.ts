// What the demo's sheet must offer to everything that is shown with it, and that its numbers hang together.

import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { conditions } from "../../src/core/sheet/applicability-schema.ts";
import { itemsFor, termsOf } from "../../src/core/sheet/applicability.ts";
import { checkSheet } from "../../src/core/sheet/check-sheet.ts";
import { describeIssue } from "../../src/core/sheet/issue.ts";
import { holds } from "../../src/core/sheet/polygon.ts";
import type { Sheet } from "../../src/core/sheet/schema.ts";

const read = (): Sheet => {
  const checked = checkSheet(JSON.parse(readFileSync(new URL("quill.json", import.meta.url), "utf8")));
  if ("errors" in checked) throw new Error(checked.errors.map(describeIssue).join("\n"));
  return checked.ok;
};
const quill = read();
const usual = Object.fromEntries(
  quill.equipment.map(({ id }) => [
    id,
    !["incubator", "benchSeats", "cargoHook", "weatherRadar", "auxTank", "snowBoards"].includes(id),
  ]),
);
const fair = Object.fromEntries(conditions.map((name) => [name, false]));

describe("the Quill", () => {
  test("has enough to walk, open, read and fit for the demonstration", () => {
    expect(quill.stops.length).toBeGreaterThanOrEqual(24);
    expect(quill.items.length).toBeGreaterThanOrEqual(150);
    expect(new Set(quill.items.map((item) => item.ata.slice(0, 2))).size).toBeGreaterThanOrEqual(18);
    expect(quill.closures.length).toBeGreaterThanOrEqual(30);
    expect(quill.gauges.length).toBeGreaterThanOrEqual(20);
    expect(quill.equipment.length).toBeGreaterThanOrEqual(8);
    expect(quill.deferrals.length).toBeGreaterThanOrEqual(15);
    expect(quill.programme.length).toBeGreaterThanOrEqual(10);
    expect(new Set(quill.damage.map((limit) => limit.part.en)).size).toBeGreaterThanOrEqual(6);
  });

  test("says in both languages that it is invented", () => {
    expect(quill.note?.en).toMatch(/invented/);
    expect(quill.note?.de).toMatch(/erfunden/);
    for (const source of Object.values(quill.sources)) expect(source.document).toMatch(/invented/);
  });

  test("is walked in full in some 250 items, and before a launch in some 16", () => {
    const applying = (walk: "full" | "launch" | "parking") =>
      itemsFor(quill, { variant: "2", installed: usual }, fair, walk).filter((row) => row.state === "applies")
        .length;
    expect(applying("full")).toBeGreaterThan(150);
    expect(applying("launch")).toBeGreaterThanOrEqual(10);
    expect(applying("launch")).toBeLessThanOrEqual(18);
    expect(applying("parking")).toBeGreaterThanOrEqual(10);
  });

  test("uses every kind of condition of a winter, of dust, of salt and of work done on it", () => {
    const used = new Set(
      quill.items.flatMap((item) =>
        item.applies === undefined ? [] : termsOf(item.applies).map((term) => term.name),
      ),
    );
    for (const name of [
      "frost",
      "snow",
      "dust",
      "saltWater",
      "coldSoak",
      "afterMaintenance",
      "night",
      "2H",
    ]) {
      expect(used.has(name), name).toBe(true);
    }
  });

  test("reads every gauge in the full walk, but for what is measured in flight", () => {
    const readings = new Set(
      quill.items.filter((item) => item.walks.includes("full")).map((item) => item.reads),
    );
    expect(quill.gauges.filter((gauge) => !readings.has(gauge.id)).map((gauge) => gauge.id)).toEqual([
      "powerMarginLeft",
      "powerMarginRight",
    ]);
  });

  test("is walked round once: the full order goes down the left and comes up the right", () => {
    const sides = quill.order.full
      .map((id) => quill.stops.find((stop) => stop.id === id))
      .filter((stop) => stop !== undefined && stop.zone !== "inside" && Math.abs(stop.y_m) > 0.4)
      .map((stop) => Math.sign(stop?.y_m ?? 0));
    const changes = sides.filter((side, at) => at > 0 && side !== sides[at - 1]).length;
    expect(changes).toBe(1);
  });

  test("writes German as German: no sentence is the same in both, umlauts are there", () => {
    const texts = quill.items.map((item) => item.text);
    expect(texts.filter(({ en, de }) => en === de)).toEqual([]);
    expect(texts.filter(({ de }) => /[äöüß]/i.test(de)).length).toBeGreaterThan(100);
    expect(texts.filter(({ de }) => /\b(ae|oe|ue)\w|\b(Oel|Tuer|pruef)/.test(de))).toEqual([]);
  });
});

describe("the Quill's numbers hang together", () => {
  /** Mass and centre of a usual load: everything `usual`, crew of three, patient, kit, some fuel. */
  const loaded = (variant: Sheet["type"]["variants"][number], fuelTotal_kg: number) => {
    const place = (list: readonly { id: string; x_m: number; y_m: number }[], id: string) => {
      const found = list.find((one) => one.id === id);
      if (found === undefined) throw new Error(id);
      return found;
    };
    const loads = [
      variant.referenceEmpty,
      ...quill.equipment.filter(({ id }) => usual[id]),
      { ...place(quill.seats, "pilotRight"), mass_kg: quill.masses.pilot_kg },
      { ...place(quill.seats, "frontLeft"), mass_kg: quill.masses.technicalCrew_kg },
      { ...place(quill.seats, "medicRight"), mass_kg: quill.masses.medic_kg },
      { ...place(quill.stretchers, "stretcherLeft"), mass_kg: quill.masses.patient_kg },
      { ...place(quill.compartments, "cabinFloor"), mass_kg: 60 },
      ...fuel(fuelTotal_kg),
    ];
    const mass_kg = loads.reduce((sum, load) => sum + load.mass_kg, 0);
    const centre = (axis: "x_m" | "y_m") =>
      loads.reduce((sum, load) => sum + load.mass_kg * load[axis], 0) / mass_kg;
    return { mass_kg, x_m: centre("x_m"), y_m: centre("y_m") };
  };
  const fuel = (total_kg: number) => {
    const supply_kg = Math.min(92, total_kg);
    return [
      { tank: "main", quantity_kg: total_kg - supply_kg },
      { tank: "supply", quantity_kg: supply_kg },
    ].map(({ tank, quantity_kg }) => {
      const curve = quill.tanks.find(({ id }) => id === tank)?.centre_kg_m_m ?? [];
      const above = Math.max(
        1,
        curve.findIndex(([point_kg]) => point_kg >= quantity_kg),
      );
      const [from, to] = [curve[above - 1], curve[above]];
      if (from === undefined || to === undefined) throw new Error(tank);
      const part = (quantity_kg - from[0]) / (to[0] - from[0]);
      return {
        mass_kg: quantity_kg,
        x_m: from[1] + part * (to[1] - from[1]),
        y_m: from[2] + part * (to[2] - from[2]),
      };
    });
  };

  test("a crew, a patient and any fuel up to full lie inside every envelope of normal flight", () => {
    for (const variant of quill.type.variants) {
      for (const fuelTotal_kg of [60, 200, 350, 420, 500, 555]) {
        const { mass_kg, x_m, y_m } = loaded(variant, fuelTotal_kg);
        for (const envelope of quill.envelopes) {
          if (envelope.flight !== "normal" || !envelope.variants?.includes(variant.id)) continue;
          const where = `${envelope.id} at ${mass_kg} kg, ${x_m} m, ${y_m} m`;
          if (envelope.axis === "longitudinal")
            expect(holds(envelope.points_m_kg, [x_m, mass_kg]), where).toBe(true);
          else if (envelope.axis === "lateral")
            expect(holds(envelope.points_m_kg, [y_m, mass_kg]), where).toBe(true);
          else if (mass_kg >= envelope.above_kg && mass_kg <= envelope.upTo_kg) {
            expect(holds(envelope.points_m_m, [x_m, y_m]), where).toBe(true);
          }
        }
      }
    }
  });

  test("each operation can be equipped, and its reference call has the fuel for its legs and half an hour", () => {
    for (const { id, referenceCall: call } of quill.operations) {
      if (call === undefined) throw new Error(`${id} has no reference call`);
      const flow_kgh = 247;
      const hours = (call.toScene_nm + call.toHospital_nm + call.toBase_nm) / 118;
      const needed_kg = hours * flow_kgh + quill.fuelFlow.reserve_kgh / 2 + quill.fuelFlow.start_kg;
      expect(call.fuelAtStart_kg, id).toBeGreaterThan(needed_kg);
    }
  });

  test("the outline's rotors give the length that the type states", () => {
    const { mainRotor, tailRotor } = quill.outline;
    if (tailRotor === undefined) throw new Error("no tail rotor");
    const length_m = tailRotor.x_m + tailRotor.radius_m - (mainRotor.x_m - mainRotor.radius_m);
    expect(length_m).toBeCloseTo(quill.type.overallLength_m, 2);
  });
});
