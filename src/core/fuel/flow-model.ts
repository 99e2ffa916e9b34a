// The fuel flow of a craft in level flight: by the sheet's charts where it has any, otherwise by its table over airspeed.
//
// A chart may ask for true airspeed, mass, pressure altitude and temperature. Of several that apply the largest flow
// counts. Outside a chart or table the flow is not known (NaN here, never more), as where a chart asks for something else.
// That a heavier machine never burns less is demanded of a chart when its sheet is checked, so the mass at a leg's start
// is the pessimistic one. How a chart goes with the height and the temperature it has to declare there as well: a leg is
// then read at the corners between its two ends, and the largest flow counts. A height flown above both ends is not in it.
// kg/h, knots, kg, feet, °C. Not for two threads at once.
import { type Chart, chartOf } from "../chart/chart.ts";
import { compileChart, type Lookup } from "../chart/compile-chart.ts";
import { inRange } from "../chart/chart.ts";
import { valueOnCurve } from "../chart/monotone-cubic.ts";
import { evaluateApplicability, type CraftConfig } from "../sheet/applicability.ts";
import type { Sheet } from "../sheet/schema.ts";

export type FlowModel = {
  /** NaN where it is not known. */
  readonly flow_kgh: (
    tas_kt: number,
    mass_kg: number,
    pressureAltitude_ft: number,
    temperature_C: number,
  ) => number;
  /** Whether a chart asks for the air, so that where it is read makes a difference. */
  readonly readsAir: boolean;
  /**
   * The flow against mass at one airspeed as nodes of mass, flow and slope to the next, for maps; null where it is no such
   * line: the chart asks for more, or there are several.
   */
  readonly tableByMass: (tas_kt: number) => Float64Array | null;
};

const flowInputs = ["tas_kt", "mass_kg", "pressureAltitude_ft", "temperature_C"] as const;

/** A single family of curves over airspeed, one for each mass, is straight between them at one airspeed. */
function familyByMass(charts: readonly Chart[], tas_kt: number): Float64Array | null {
  const [only, ...more] = charts;
  if (only?.kind !== "family" || more.length > 0) return null;
  if (only.along !== "tas_kt" || only.across?.input !== "mass_kg") return null;
  const masses = only.across.at;
  const flows = only.curves.map((curve) => {
    const [low, high] = [curve.x[0]!, curve.x.at(-1)!];
    return tas_kt >= low && tas_kt <= high ? valueOnCurve(curve, tas_kt) : Number.NaN;
  });
  if (!flows.every((value) => Number.isFinite(value))) return null;
  return Float64Array.from(
    masses.flatMap((mass, i) => {
      const next = masses[i + 1];
      const slope = next === undefined ? 0 : (flows[i + 1]! - flows[i]!) / (next - mass);
      return [mass, flows[i]!, slope];
    }),
  );
}

type Reader = {
  readonly chart: Chart;
  readonly lookup: Lookup;
  readonly places: readonly number[];
  readonly asked: Float64Array;
};

export function flowModelOf(
  { charts, fuelFlow }: Pick<Sheet, "charts" | "fuelFlow">,
  craft: CraftConfig,
): FlowModel {
  const readers = Object.values(charts).flatMap((block): (Reader | null)[] => {
    if (block.use?.for !== "fuelFlow" || evaluateApplicability(block.applies, craft, {}).value === false)
      return [];
    const { chart, inputs, lookup } = compileChart(chartOf(block));
    const places = inputs.map((input) => (flowInputs as readonly string[]).indexOf(input));
    return [places.includes(-1) ? null : { chart, lookup, places, asked: new Float64Array(places.length) }];
  });
  if (readers.length === 0)
    return {
      flow_kgh: (tas_kt) => inTable(fuelFlow.cruise, tas_kt),
      readsAir: false,
      tableByMass: () => null,
    };
  const known = readers.filter((reader) => reader !== null);
  const isWhole = known.length === readers.length;
  const compiled = known.map(({ chart }) => chart);
  const out = new Float64Array(1);
  return {
    flow_kgh(tas_kt, mass_kg, pressureAltitude_ft, temperature_C) {
      if (!isWhole) return Number.NaN;
      let most = 0;
      for (const { lookup, places, asked } of known) {
        for (let i = 0; i < places.length; i += 1) {
          const place = places[i];
          asked[i] =
            place === 0 ? tas_kt : place === 1 ? mass_kg : place === 2 ? pressureAltitude_ft : temperature_C;
        }
        if (!lookup(asked, 0, out, 0)) return Number.NaN;
        if (out[0]! > most) most = out[0]!;
      }
      return most;
    },
    readsAir: known.some(({ places }) => places.some((place) => place > 1)),
    tableByMass: (tas_kt) => (isWhole ? familyByMass(compiled, tas_kt) : null),
  };
}

export type LegAir = { readonly pressureAltitude_ft: number; readonly temperature_C: number };

/**
 * The largest flow between the heights and temperatures of a leg's two ends; NaN where the chart ends before one of them,
 * or asks for one that is not known.
 */
export function flowBetween_kgh(
  { flow_kgh, readsAir }: FlowModel,
  tas_kt: number,
  mass_kg: number,
  one: LegAir | null,
  other: LegAir | null,
): number {
  if (!readsAir) return flow_kgh(tas_kt, mass_kg, Number.NaN, Number.NaN);
  if (one === null || other === null) return Number.NaN;
  return Math.max(
    flow_kgh(tas_kt, mass_kg, one.pressureAltitude_ft, one.temperature_C),
    flow_kgh(tas_kt, mass_kg, one.pressureAltitude_ft, other.temperature_C),
    flow_kgh(tas_kt, mass_kg, other.pressureAltitude_ft, one.temperature_C),
    flow_kgh(tas_kt, mass_kg, other.pressureAltitude_ft, other.temperature_C),
  );
}

function inTable(cruise: Sheet["fuelFlow"]["cruise"], tas_kt: number): number {
  const [first, last] = [cruise[0], cruise.at(-1)];
  if (first === undefined || last === undefined) return Number.NaN;
  const tas = inRange(tas_kt, first.tas_kt, last.tas_kt);
  if (tas === null) return Number.NaN;
  const at = cruise.findIndex((point) => point.tas_kt >= tas);
  const [low, high] = [cruise[Math.max(0, at - 1)]!, cruise[at]!];
  if (low.tas_kt === high.tas_kt) return high.flow_kgh;
  return low.flow_kgh + ((tas - low.tas_kt) / (high.tas_kt - low.tas_kt)) * (high.flow_kgh - low.flow_kgh);
}
