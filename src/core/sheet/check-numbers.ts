// Cross rules of a sheet about numbers: polygons simple and closed, curves rising, limits the right way round, masses,
// places and counts that agree with each other.
//
// Tolerances here only tell typing mistakes (millimetres, pounds, a lost digit) from rounding; none is a limit of flight.

import type { Draft } from "./draft.ts";
import type { Say } from "./issue.ts";
import type { Envelope, Tank } from "./loading-blocks.ts";
import { outcomes } from "./finding-blocks.ts";
import { holds, openEnd, selfCrossing } from "./polygon.ts";
import type { Corner } from "./polygon.ts";

/** How far from the outline a stop, a seat, a tank may be: further is another unit. */
const nearAircraft_m = 4;
/** Rounding that a sheet's own numbers may show against each other. */
const agreement = 0.03;

function checkPolygon(path: string, corners: readonly Corner[], say: Say): void {
  const open = openEnd(corners);
  if (open !== null) {
    say(`${path}[${open}]`, "polygonOpen", [...(corners[open] as Corner)], [...(corners[0] as Corner)]);
    return;
  }
  const crossing = selfCrossing(corners);
  if (crossing !== null) say(`${path}[${crossing}]`, "polygonCrosses", [...(corners[crossing] as Corner)]);
}

export function checkPolygons(draft: Draft, say: Say): void {
  const outline = draft.outline;
  if (outline !== null) {
    for (const part of ["fuselage_m", "tailBoom_m", "fin_m", "stabiliser_m"] as const) {
      const corners = outline[part];
      if (corners !== undefined) checkPolygon(`outline.${part}`, corners, say);
    }
  }
  for (const { path, value } of draft.envelopes.elements) {
    if (value.axis === "coupled") checkPolygon(`${path}.points_m_m`, value.points_m_m, say);
    else checkPolygon(`${path}.points_m_kg`, value.points_m_kg, say);
  }
}

/** Each number more than the one before it. */
function checkRising(path: string, numbers: readonly number[], say: Say, field = ""): void {
  numbers.forEach((value, at) => {
    const before = numbers[at - 1];
    if (before !== undefined && value <= before) say(`${path}[${at}]${field}`, "notRising", value, before);
  });
}

export function checkGauges(draft: Draft, say: Say): void {
  for (const { path, value: gauge } of draft.gauges.elements) {
    const { low, high, band, plausible } = gauge;
    const outside = (value: number) => value < plausible.low || value > plausible.high;
    const range = [plausible.low, plausible.high];
    if (plausible.low >= plausible.high)
      say(`${path}.plausible.low`, "limitsCrossed", plausible.low, plausible.high);
    if (low !== undefined && outside(low.value))
      say(`${path}.low.value`, "limitImplausible", low.value, range);
    if (high !== undefined && outside(high.value))
      say(`${path}.high.value`, "limitImplausible", high.value, range);
    if (low !== undefined && high !== undefined && low.value >= high.value) {
      say(`${path}.low.value`, "limitsCrossed", low.value, high.value);
    }
    if (gauge.capacity !== undefined && outside(gauge.capacity)) {
      say(`${path}.capacity`, "limitImplausible", gauge.capacity, range);
    }
    if (band === undefined) {
      if (low === undefined && high === undefined && gauge.ifOutside !== "note")
        say(path, "limitNone", gauge.ifOutside);
    } else {
      if (low !== undefined || high !== undefined) say(`${path}.band`, "limitTwice", null);
      checkRising(
        `${path}.band.points`,
        band.points.map((point) => point.temperature_C),
        say,
        ".temperature_C",
      );
      band.points.forEach((point, at) => {
        if (point.low >= point.high)
          say(`${path}.band.points[${at}].low`, "limitsCrossed", point.low, point.high);
        for (const end of ["low", "high"] as const) {
          if (outside(point[end]))
            say(`${path}.band.points[${at}].${end}`, "limitImplausible", point[end], range);
        }
      });
    }
    const { afterShutdownMin_min: soonest, afterShutdownMax_min: latest } = gauge.conditions;
    if (soonest !== undefined && latest !== undefined && soonest >= latest) {
      say(`${path}.conditions.afterShutdownMin_min`, "limitsCrossed", soonest, latest);
    }
  }
  const read = new Set(draft.items.elements.map(({ value }) => value.reads));
  if (!draft.items.whole) return;
  for (const { path, value } of draft.operations.elements) {
    value.needs.gauges.forEach((name, at) => {
      if (draft.gauges.ids.has(name) && !read.has(name))
        say(`${path}.needs.gauges[${at}]`, "gaugeUnread", name);
    });
  }
}

export function checkFindings(draft: Draft, say: Say): void {
  for (const { path, value: damage } of draft.damage.elements) {
    damage.bands.forEach((band, at) => {
      const before = damage.bands[at - 1];
      const last = at === damage.bands.length - 1;
      const here = `${path}.bands[${at}]`;
      if (last && band.upTo !== undefined)
        say(`${here}.upTo`, "bandEnd", band.upTo, "no end in the last band");
      if (!last && band.upTo === undefined)
        say(`${here}.upTo`, "bandEnd", "missing", "an end in all bands but the last");
      if (before === undefined) return;
      if (band.upTo !== undefined && before.upTo !== undefined && band.upTo <= before.upTo) {
        say(`${here}.upTo`, "notRising", band.upTo, before.upTo);
      }
      if (outcomes.indexOf(band.outcome) < outcomes.indexOf(before.outcome)) {
        say(`${here}.outcome`, "milder", band.outcome, before.outcome);
      }
    });
    if (damage.measure === "any" && damage.bands.length > 1) {
      say(`${path}.bands`, "bandEnd", `${damage.bands.length} bands`, "one band for whatever its size");
    }
  }
  for (const { path, value: deferral } of draft.deferrals.elements) {
    const { installed, required, category } = deferral;
    const intervals = deferralIntervals.filter((key) => deferral[key] !== undefined);
    if (required >= installed)
      say(`${path}.required`, "moreThan", required, `${installed - 1}, fewer than installed`);
    if (category === "A" && intervals.length === 0)
      say(`${path}.interval_days`, "intervalNeeded", null, "an interval: in days, flights, cycles or hours");
    if (category !== "A")
      for (const key of intervals)
        say(`${path}.${key}`, "intervalUnwanted", deferral[key] ?? null, "category A");
  }
}

const deferralIntervals = [
  "interval_days",
  "interval_flightDays",
  "interval_flights",
  "interval_cycles",
  "interval_h",
] as const;

export function checkDue(draft: Draft, say: Say): void {
  for (const { path, value } of draft.programme.elements) {
    const kinds = Object.keys(value.interval);
    if (kinds.length === 0) say(`${path}.interval`, "intervalNeeded", null, "at least one interval");
    for (const [kind, tolerance] of Object.entries(value.tolerance ?? {})) {
      const whole = value.interval[kind as keyof typeof value.interval];
      if (whole === undefined)
        say(`${path}.tolerance.${kind}`, "intervalUnwanted", kind, "an interval that has it");
      else if (tolerance >= whole)
        say(`${path}.tolerance.${kind}`, "moreThan", tolerance, `less than ${whole}`);
    }
  }
  for (const { path, value } of draft.components.elements) {
    const spans = [value.life, value.overhaul].filter((span) => span !== undefined);
    if (spans.some((span) => Object.keys(span).length === 0) || (spans.length === 0 && !value.dated)) {
      say(path, "intervalNeeded", null, "a life, an overhaul or a date of its own");
    }
  }
}

export function checkTanks(draft: Draft, say: Say): void {
  for (const { path, value: tank } of draft.tanks.elements) {
    const curve = tank.centre_kg_m_m;
    checkRising(
      `${path}.centre_kg_m_m`,
      curve.map(([fuel_kg]) => fuel_kg),
      say,
      "[0]",
    );
    const last = curve.length - 1;
    if (curve[0]?.[0] !== 0) say(`${path}.centre_kg_m_m[0][0]`, "tankCurve", curve[0]?.[0] ?? null, 0);
    if (curve[last]?.[0] !== tank.usable_kg) {
      say(`${path}.centre_kg_m_m[${last}][0]`, "tankCurve", curve[last]?.[0] ?? null, tank.usable_kg);
    }
    checkTankVolume(path, tank, say);
  }
}

/** Capacity times density is what it holds: a quarter off means litres under a key in kilograms. */
function checkTankVolume(path: string, tank: Tank, say: Say): void {
  const held_kg = tank.usable_kg + tank.unusable_kg;
  const full_kg = tank.capacity_L * tank.density_kgL;
  if (Math.abs(full_kg - held_kg) > agreement * Math.max(full_kg, held_kg)) {
    say(
      `${path}.capacity_L`,
      "disagrees",
      tank.capacity_L,
      `usable and unusable ${held_kg} kg at ${tank.density_kgL} kg/L`,
    );
  }
}

export function checkLoading(draft: Draft, say: Say): void {
  const type = draft.type;
  if (type === null) return;
  type.variants.forEach((variant, at) => {
    if (variant.minMass_kg >= variant.maxTakeoffMass_kg) {
      say(
        `type.variants[${at}].minMass_kg`,
        "moreThan",
        variant.minMass_kg,
        `less than ${variant.maxTakeoffMass_kg}`,
      );
    }
    if (variant.referenceEmpty.mass_kg >= variant.maxTakeoffMass_kg) {
      say(
        `type.variants[${at}].referenceEmpty.mass_kg`,
        "moreThan",
        variant.referenceEmpty.mass_kg,
        variant.maxTakeoffMass_kg,
      );
    }
    if (!draft.envelopes.whole) return;
    const flights = draft.operations.elements.some(({ value }) => value.needs.masses === "hoist")
      ? (["normal", "hoist"] as const)
      : (["normal"] as const);
    for (const flight of flights) {
      for (const axis of ["longitudinal", "lateral"] as const) {
        const there = draft.envelopes.elements.some(
          ({ value }) => value.axis === axis && value.flight === flight && coversVariant(value, variant.id),
        );
        if (!there) say("envelopes", "envelopeMissing", `${flight} ${axis}`, variant.id);
      }
    }
  });
  for (const { path, value } of draft.envelopes.elements) checkEnvelopeMasses(draft, path, value, say);
}

const coversVariant = (envelope: Envelope, variant: string): boolean =>
  envelope.variants?.includes(variant) ?? true;

function checkEnvelopeMasses(draft: Draft, path: string, envelope: Envelope, say: Say): void {
  const variants = draft.type?.variants.filter((variant) => coversVariant(envelope, variant.id)) ?? [];
  if (variants.length === 0) return;
  const heaviest_kg = Math.max(...variants.map((variant) => variant.maxTakeoffMass_kg));
  if (envelope.axis === "coupled") {
    if (envelope.above_kg >= envelope.upTo_kg)
      say(`${path}.above_kg`, "moreThan", envelope.above_kg, `less than ${envelope.upTo_kg}`);
    if (envelope.upTo_kg > heaviest_kg) say(`${path}.upTo_kg`, "moreThan", envelope.upTo_kg, heaviest_kg);
    return;
  }
  envelope.points_m_kg.forEach(([, mass_kg], at) => {
    if (mass_kg > heaviest_kg) say(`${path}.points_m_kg[${at}][1]`, "moreThan", mass_kg, heaviest_kg);
  });
}

export function checkFlight(draft: Draft, say: Say): void {
  const { fuelFlow, speeds, hoist, ice, tanks } = draft;
  if (fuelFlow !== null)
    checkRising(
      "fuelFlow.cruise",
      fuelFlow.cruise.map((point) => point.tas_kt),
      say,
      ".tas_kt",
    );
  if (speeds !== null) {
    for (const name of ["cruise_kt", "bestRange_kt", "bestEndurance_kt", "doorOpen_kt"] as const) {
      if (speeds[name] > speeds.neverExceed_kt)
        say(`speeds.${name}`, "moreThan", speeds[name], speeds.neverExceed_kt);
    }
  }
  const usable_kg = tanks.elements.reduce((sum, { value }) => sum + value.usable_kg, 0);
  for (const { path, value: operation } of draft.operations.elements) {
    const call = operation.referenceCall;
    if (operation.needs.masses === "hoist" && hoist === null) {
      say(`${path}.needs.masses`, "reference", "hoist", "hoist block");
    }
    if (call === undefined) continue;
    if (tanks.whole && call.fuelAtStart_kg > usable_kg) {
      say(`${path}.referenceCall.fuelAtStart_kg`, "moreThan", call.fuelAtStart_kg, usable_kg);
    }
    if (hoist !== null && call.hoistLoad_kg !== undefined && call.hoistLoad_kg > hoist.maxLoad_kg) {
      say(`${path}.referenceCall.hoistLoad_kg`, "moreThan", call.hoistLoad_kg, hoist.maxLoad_kg);
    }
  }
  for (const { path, value } of draft.windLimits.elements) {
    if (value.from_deg === value.to_deg) say(`${path}.to_deg`, "disagrees", value.to_deg, "an open sector");
    if (value.gust_kt !== undefined && value.gust_kt < value.wind_kt)
      say(`${path}.gust_kt`, "lessThan", value.gust_kt, value.wind_kt);
  }
  if ((hoist === null) !== (draft.sources?.hoist === undefined) && draft.sources !== null) {
    say("sources.hoist", "disagrees", hoist === null ? "a source" : "no source", "the hoist block");
  }
  if ((ice === null) !== (draft.sources?.ice === undefined) && draft.sources !== null) {
    say("sources.ice", "disagrees", ice === null ? "a source" : "no source", "the ice block");
  }
}

export function checkPlaces(draft: Draft, say: Say): void {
  const outline = draft.outline;
  if (outline === null) return;
  const corners = [...outline.fuselage_m, ...outline.tailBoom_m, ...outline.fin_m];
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  const bounds = {
    fromX: Math.min(...xs) - nearAircraft_m,
    toX: Math.max(...xs) + nearAircraft_m,
    fromY: Math.min(...ys) - nearAircraft_m,
    toY: Math.max(...ys) + nearAircraft_m,
  };
  const wanted = { "x m": [bounds.fromX, bounds.toX], "y m": [bounds.fromY, bounds.toY] };
  const near = (path: string, x_m: number, y_m: number): void => {
    if (x_m < bounds.fromX || x_m > bounds.toX || y_m < bounds.fromY || y_m > bounds.toY) {
      say(path, "farAway", [x_m, y_m], wanted);
    }
  };
  for (const block of ["stops", "equipment", "seats", "stretchers", "compartments"] as const) {
    for (const { path, value } of draft[block].elements) near(path, value.x_m, value.y_m);
  }
  for (const { path, value } of draft.tanks.elements) {
    value.centre_kg_m_m.forEach(([, x_m, y_m], at) => near(`${path}.centre_kg_m_m[${at}]`, x_m, y_m));
  }
  if (draft.hoist !== null) near("hoist", draft.hoist.x_m, draft.hoist.y_m);
  for (const { path, value } of draft.stops.elements) {
    const inside = [outline.fuselage_m, outline.tailBoom_m].some((part) =>
      holds(part, [value.x_m, value.y_m]),
    );
    if (value.access === "floor" && inside) say(path, "stopInside", [value.x_m, value.y_m]);
  }
  const diameter_m = draft.type?.mainRotorDiameter_m;
  if (
    diameter_m !== undefined &&
    Math.abs(2 * outline.mainRotor.radius_m - diameter_m) > agreement * diameter_m
  ) {
    say(
      "outline.mainRotor.radius_m",
      "disagrees",
      outline.mainRotor.radius_m,
      `a diameter of ${diameter_m} m`,
    );
  }
}
