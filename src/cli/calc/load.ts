// `preen calc load`: mass, centre of gravity, margins against the limits and the whole burn (core/load).
//
// Two forms. Every key ends in its unit, and bare arrays are kg and m. Or `units` names a unit of mass and one of
// length: then bare numbers (in the polygons and the tank, an item's `mass x y`, the burn's `from` and `to`) are in
// those; a key that still ends in a unit is in that unit. The answer is in kg and m either way.

import { trackBurn } from "../../core/load/burn-track.ts";
import { fuelLineOfTank, fuelTotals, type TankPoint } from "../../core/load/fuel-line.ts";
import { checkState, type Limits, noLimits } from "../../core/load/limits.ts";
import { type Outline, readOutline } from "../../core/load/outline.ts";
import { addTotals, centreOf, type Item, throwIssues, totalsOf } from "../../core/load/totals.ts";
import { atIndex, atKey, describe, type Issue, Refusal, refuse } from "../../core/quantity/refusal.ts";
import { convert } from "../../core/quantity/units.ts";
import {
  anything,
  type Field,
  flag,
  givenKey,
  list,
  type Member,
  number,
  object,
  optional,
  orNull,
  quantity,
  type Read,
  text,
  tuple,
  word,
} from "./fields.ts";
import type { Topic } from "./topic.ts";

const massUnits = ["kg", "lb"] as const;
const lengthUnits = ["m", "mm", "in"] as const;
/** The units of bare numbers. */
type Bare = { readonly mass: (typeof massUnits)[number]; readonly length: (typeof lengthUnits)[number] };

const largest = 1e9;
const massDomain = { min: 0, max: largest };
const armDomain = { min: -largest, max: largest };

const kgOf = (bare: Bare, value: number): number => convert(value as never, bare.mass, "kg");
const mOf = (bare: Bare, value: number): number => convert(value as never, bare.length, "m");

/** A quantity that may also stand under its bare name, in the unit that `units` gives; never under both. */
function quantityOrBare(member: Member<number>, bare: Bare, unit: "kg" | "m"): Member<number> {
  const given = unit === "kg" ? bare.mass : bare.length;
  return {
    kind: "member",
    keys: (name) => [...member.keys(name), name],
    properties: (name) => ({
      ...member.properties(name),
      [name]: {
        type: "number",
        ...(unit === "kg" ? { minimum: 0 } : {}),
        description: `in the unit of ${unit === "kg" ? "mass" : "length"} of units`,
      },
    }),
    presence: (name) => ({ oneOf: [...member.keys(name), name].map((key) => ({ required: [key] })) }),
    read(element, name, path) {
      if (!Object.hasOwn(element, name)) return member.read(element, name, path);
      const other = member.keys(name).find((key) => Object.hasOwn(element, key));
      if (other !== undefined) {
        refuse(atKey(path, name), "givenTwice", `${other} and ${name}`, `${name} in one unit only`);
      }
      // Read under its unit by the same member, so that domain and message are the same.
      try {
        return member.read({ [`${name}_${given}`]: element[name] }, name, path);
      } catch (error) {
        throw renamed(error, atKey(path, `${name}_${given}`), atKey(path, name));
      }
    },
  };
}

function renamed(error: unknown, from: string, to: string): unknown {
  if (!(error instanceof Refusal)) return error;
  const [first, ...rest] = error.issues.map((issue) =>
    issue.path === from ? { ...issue, path: to } : issue,
  );
  return new Refusal([first!, ...rest]);
}

const mass = quantity("mass", "kg", massDomain);
const x = quantity("length", "m", armDomain, "aft of the datum positive");
const y = quantity("length", "m", armDomain, "right positive; 0, on the centre line, if left out");
const name = optional(text());

const itemBySuffix = object({ name, mass, x, y: optional(y) });

/** An item as an object with bare keys, as the text "mass x y" or as [mass, x, y]; y is 0 if left out. */
function itemInUnits(bare: Bare): Field<Read<typeof itemBySuffix>> {
  const byKeys = object({
    name,
    mass: quantityOrBare(mass, bare, "kg"),
    x: quantityOrBare(x, bare, "m"),
    y: optional(quantityOrBare(y, bare, "m")),
  });
  const numeral = "[-+]?(\\d+\\.?\\d*|\\.\\d+)([eE][-+]?\\d+)?";
  const words = text({
    pattern: new RegExp(`^\\s*${numeral}\\s+${numeral}(\\s+${numeral})?\\s*$`),
    wanted: '"mass x y" or "mass x", numbers apart by spaces',
  });
  const numbers = list(number(), { min: 2, max: 3 });
  return {
    kind: "field",
    schema: {
      anyOf: [
        byKeys.schema,
        { ...words.schema, description: '"mass x y" in the units given; y is 0 if left out' },
        { ...numbers.schema, description: "[mass, x, y] in the units given; y is 0 if left out" },
      ],
    },
    read(value, path) {
      const isText = typeof value === "string";
      if (!isText && !Array.isArray(value)) return byKeys.read(value, path) as Read<typeof itemBySuffix>;
      const parts = isText
        ? words.read(value, path).trim().split(/\s+/).map(Number)
        : numbers.read(value, path);
      const [massGiven, xGiven, yGiven] = parts;
      const keyed = { mass: massGiven, x: xGiven, ...(yGiven === undefined ? {} : { y: yGiven }) };
      return byKeys.read(keyed, path) as Read<typeof itemBySuffix>;
    },
  };
}

const pairs = (of: string): Field<unknown> =>
  anything({
    type: "array",
    items: { type: "array", items: { type: "number" }, minItems: 2, maxItems: 2 },
    minItems: 3,
    description: `corners of a simple polygon, [${of}, mass]; the first may be repeated at the end`,
  });

const tank = list(
  tuple([number(massDomain), number(armDomain), number(armDomain)]),
  { min: 1 },
  "[fuel, x, y] in ascending fuel: the centre of the whole quantity, straight between the points",
);
const from = quantity("mass", "kg", massDomain, "fuel at the start");
const to = quantity("mass", "kg", massDomain, "fuel at the end, at most that at the start");

const burnBySuffix = object({ tank, from, to });
type BurnGiven = Read<typeof burnBySuffix>;
const burnInUnits = (bare: Bare): Field<BurnGiven> =>
  object({
    tank,
    from: quantityOrBare(from, bare, "kg"),
    to: quantityOrBare(to, bare, "kg"),
  }) as Field<BurnGiven>;

const unitsField = object({ mass: word(massUnits), length: word(lengthUnits) });

/** The readers of one form; `units` null for the form in which every key ends in its unit. */
function formOf(bare: Bare | null) {
  return {
    item: bare === null ? itemBySuffix : itemInUnits(bare),
    burn: bare === null ? burnBySuffix : burnInUnits(bare),
  };
}

function inputShape(bare: Bare | null) {
  const { item, burn } = formOf(bare);
  return object({
    ...(bare === null ? {} : { units: unitsField }),
    items: anything(list(item).schema),
    longitudinal: optional(pairs("x")),
    lateral: optional(pairs("y")),
    burn: optional(anything(burn.schema)),
  });
}

const si: Bare = { mass: "kg", length: "m" };

const state = object({ fuel_kg: number(), mass_kg: number(), x_m: number(), y_m: number() });
const margin = (description: string): Field<number | null> => orNull(number({}, description));
const axis = word(["longitudinal", "lateral"]);
const massMargins = {
  heavier_kg: margin("mass to the upper limit at this arm; null where no mass is inside at this arm"),
  lighter_kg: margin("mass to the lower limit at this arm"),
};

const output = object({
  mass_kg: number({}, "with the fuel at the start of the burn"),
  x_m: number(),
  y_m: number(),
  moments: object({ x_kgm: number(), y_kgm: number() }),
  inside: object(
    { longitudinal: orNull(flag()), lateral: orNull(flag()) },
    "over the whole burn; null where no such limit was given",
  ),
  margins: object(
    {
      longitudinal: orNull(
        object({
          ...massMargins,
          forward_m: margin("to the forward limit at this mass; null where no arm is inside at this mass"),
          aft_m: margin("to the aft limit at this mass"),
        }),
      ),
      lateral: orNull(
        object({ ...massMargins, left_m: margin("to the left"), right_m: margin("to the right") }),
      ),
    },
    "at the state above; negative outside, against the nearest part of the limit",
  ),
  track: optional(
    object({
      start: state,
      end: state,
      crossings: list(
        object({ fuel_kg: number(), axis }),
        {},
        "where the track goes from inside to outside or back, in the order of burning",
      ),
    }),
  ),
  worst: optional(
    orNull(
      object(
        {
          fuel_kg: number(),
          axis,
          margin_m: margin("the smaller arm margin there; null where no arm is inside at that mass"),
        },
        "where on the burn the arm margin is smallest, of both limits; null where no limit was given",
      ),
    ),
  ),
});

const summary = "mass, centre of gravity, margins against the limits, and the whole burn";

const topic: Topic = {
  topic: "load",
  summary,
  inputSchema: { anyOf: [inputShape(null).schema, inputShape(si).schema] },
  outputSchema: output.schema,
  compute(element) {
    const bare = bareUnits(element);
    const given = inputShape(bare).read(element, "");
    return computeLoad(readParts(given, bare), element);
  },
};

export default topic;

function bareUnits(element: unknown): Bare | null {
  const isGiven = typeof element === "object" && element !== null && Object.hasOwn(element, "units");
  return isGiven ? unitsField.read((element as { readonly units: unknown }).units, "units") : null;
}

type Given = { items: unknown; longitudinal: unknown; lateral: unknown; burn: unknown };
type Parts = {
  readonly items: readonly Item[];
  readonly longitudinal: Outline | null;
  readonly lateral: Outline | null;
  readonly burn: { readonly tank: readonly TankPoint[]; readonly from: number; readonly to: number } | null;
};

/** Reads every part before it refuses any, so that all that is wrong is told at once. */
function readParts(given: Given, units: Bare | null): Parts {
  const form = formOf(units);
  const bare = units ?? si;
  const issues: Issue[] = [];
  const items = readItems(given.items, form.item, issues);
  const longitudinal = readPolygon(given.longitudinal, "longitudinal", bare, issues);
  const lateral = readPolygon(given.lateral, "lateral", bare, issues);
  const burn = collect(issues, () => (given.burn === undefined ? null : form.burn.read(given.burn, "burn")));
  throwIssues(issues);
  return {
    items,
    longitudinal,
    lateral,
    burn: burn && {
      tank: burn.tank.map(([f, xHere, yHere]) => [kgOf(bare, f), mOf(bare, xHere), mOf(bare, yHere)]),
      from: burn.from,
      to: burn.to,
    },
  };
}

function readItems(items: unknown, item: Field<Read<typeof itemBySuffix>>, issues: Issue[]): Item[] {
  if (!Array.isArray(items)) {
    issues.push({ path: "items", code: "wrongKind", found: describe(items), wanted: "a list" });
    return [];
  }
  return (items as readonly unknown[]).flatMap((element, index) => {
    const read = collect(issues, () => item.read(element, atIndex("items", index)));
    return read === null ? [] : [{ mass_kg: read.mass, x_m: read.x, y_m: read.y ?? 0 }];
  });
}

function readPolygon(points: unknown, path: string, bare: Bare, issues: Issue[]): Outline | null {
  if (points === undefined) return null;
  const isPair = (point: unknown): point is readonly [number, number] =>
    Array.isArray(point) && point.length === 2 && point.every((value) => typeof value === "number");
  // What is no pair of numbers goes on as it is, for the reader of outlines to say so.
  const inSi = Array.isArray(points)
    ? (points as readonly unknown[]).map((point) =>
        isPair(point) ? [mOf(bare, point[0]), kgOf(bare, point[1])] : point,
      )
    : points;
  return readOutline(inSi, path, issues);
}

function collect<T>(issues: Issue[], read: () => T): T | null {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    issues.push(...error.issues);
    return null;
  }
}

function computeLoad({ items, longitudinal, lateral, burn }: Parts, element: unknown): unknown {
  const limits: Limits = { ...noLimits, longitudinal, lateral };
  const base = totalsOf(items);
  if (burn === null) return stateResult(base, limits);
  const line = fuelLineOfTank(burn.tank, "burn.tank");
  const burnElement = (element as { readonly burn: Readonly<Record<string, unknown>> }).burn;
  const pathOf = (key: "from" | "to"): string =>
    atKey("burn", Object.hasOwn(burnElement, key) ? key : givenKey(burnElement, key, "mass", "kg"));
  const range = { from_kg: burn.from, to_kg: burn.to };
  const track = trackBurn(base, { line, ...range }, limits, { low: pathOf("to"), high: pathOf("from") });
  const { worst } = track;
  return {
    ...stateResult(addTotals(base, fuelTotals(line, burn.from)), limits),
    inside: { longitudinal: track.inside.longitudinal, lateral: track.inside.lateral },
    track: {
      start: track.start,
      end: track.end,
      crossings: track.crossings.map(({ fuel_kg, limit }) => ({ fuel_kg, axis: limit })),
    },
    worst: worst && { fuel_kg: worst.fuel_kg, axis: worst.axis, margin_m: worst.margin_m },
  };
}

function stateResult(totals: ReturnType<typeof totalsOf>, limits: Limits) {
  const { x_m, y_m } = centreOf(totals, "items");
  const { inside, margins } = checkState(limits, totals);
  return {
    mass_kg: totals.mass_kg,
    x_m,
    y_m,
    moments: { x_kgm: totals.x_kgm, y_kgm: totals.y_kgm },
    inside: { longitudinal: inside.longitudinal, lateral: inside.lateral },
    margins: { longitudinal: margins.longitudinal, lateral: margins.lateral },
  };
}
