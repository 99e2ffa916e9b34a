// The shapes that topics of `preen calc` read: each field is at once a JSON Schema and a reader.
//
// A reader takes what JSON gave and its path, and returns the value or throws a Refusal that names the path. An object
// refuses keys that it does not know, missing ones, and a quantity given under two units. Values are not changed on
// the way: nothing is rounded, clamped or filled in. `describe` texts become the schema's descriptions.
//
//     const input = object({
//       name: optional(text()),
//       mass: quantity("mass", "kg", { min: 0 }),        // mass_kg or mass_lb; read in kg
//       legs: list(object({ track: quantity("angle", "deg") }), { min: 1 }),
//     });
//     type Input = Read<typeof input>;

import { readingIn, readNumber, readQuantity } from "../../core/quantity/read-quantity.ts";
import { atIndex, atKey, describe, refuse } from "../../core/quantity/refusal.ts";
import {
  convert,
  type Dimension,
  type DimensionOf,
  type InUnit,
  type Unit,
  writtenUnits,
} from "../../core/quantity/units.ts";

export type JsonSchema = { readonly [key: string]: unknown };

/** A value that stands under one key, or as one element of a list. */
export type Field<T> = {
  readonly kind: "field";
  readonly schema: JsonSchema;
  read(value: unknown, path: string): T;
};

/** A member of an object that may stand under one of several keys, or be left out. */
export type Member<T> = {
  readonly kind: "member";
  keys(name: string): readonly string[];
  properties(name: string): Record<string, JsonSchema>;
  /** The schema's demand on which keys are there; null when it may be left out and has one key. */
  presence(name: string): JsonSchema | null;
  read(from: Record<string, unknown>, name: string, path: string): T;
};

export type Read<F> = F extends { read(...rest: never[]): infer T } ? T : never;

/** Where a number may lie; both ends are inside. `above` excludes its own value. */
export type Domain = { readonly min?: number; readonly max?: number; readonly above?: number };

function domainSchema({ min, max, above }: Domain): JsonSchema {
  return {
    ...(min === undefined ? {} : { minimum: min }),
    ...(above === undefined ? {} : { exclusiveMinimum: above }),
    ...(max === undefined ? {} : { maximum: max }),
  };
}

/** "0 … 359 deg", "above 0 kt", "at most 3 h". */
function domainText({ min, max, above }: Domain, unit: string): string {
  const low = above === undefined ? (min === undefined ? "" : `at least ${min}`) : `above ${above}`;
  const high = max === undefined ? "" : `at most ${max}`;
  const both = min !== undefined && max !== undefined && above === undefined;
  const range = both ? `${min} … ${max}` : [low, high].filter((part) => part !== "").join(" and ");
  return unit === "" ? range : `${range} ${unit}`;
}

function isInside(value: number, { min, max, above }: Domain): boolean {
  return (
    (min === undefined || value >= min) &&
    (max === undefined || value <= max) &&
    (above === undefined || value > above)
  );
}

/** A number without a unit: a count, a ratio, a year, an index. */
export function number(
  domain: Domain & { readonly integer?: boolean } = {},
  description?: string,
): Field<number> {
  return {
    kind: "field",
    schema: {
      type: domain.integer === true ? "integer" : "number",
      ...domainSchema(domain),
      ...(description === undefined ? {} : { description }),
    },
    read(value, path) {
      const read = readNumber(value, path);
      if (domain.integer === true && !Number.isSafeInteger(read)) {
        refuse(path, "outsideDomain", describe(read), "a whole number");
      }
      if (!isInside(read, domain)) refuse(path, "outsideDomain", describe(read), domainText(domain, ""));
      return read;
    },
  };
}

/**
 * A quantity under any unit of its dimension, read in `unit`. The domain is in `unit`; on its ends is inside, so the
 * comparison is made in `unit` when that is how it was written, and allows the rounding of one conversion otherwise.
 */
export function quantity<U extends Unit>(
  dimension: DimensionOf<U>,
  unit: U,
  domain: Domain = {},
  description?: string,
): Member<InUnit[U]> {
  return {
    kind: "member",
    keys: (name) => writtenUnits[dimension].map((written) => `${name}_${written}`),
    properties: (name) => quantityProperties(name, dimension, unit, domain, description),
    presence: (name) => ({
      oneOf: writtenUnits[dimension].map((written) => ({ required: [`${name}_${written}`] })),
    }),
    read(from, name, path) {
      const reading = readQuantity(from, name, dimension, path);
      if (reading === null) {
        refuse(
          atKey(path, `${name}_${unit}`),
          "missing",
          "nothing",
          `${name} in ${writtenUnits[dimension].join(", ")}`,
        );
      }
      const value = readingIn(reading, unit as never) as InUnit[U];
      if (!isInside(value, domain) && !isInside(towardsInside(value, domain), domain)) {
        const found = isSameUnit(reading.unit, unit)
          ? `${value}`
          : `${reading.value} ${reading.unit} = ${value} ${unit}`;
        refuse(reading.path, "outsideDomain", found, domainText(domain, unit));
      }
      return value;
    },
  };
}

function isSameUnit(a: Unit, b: Unit): boolean {
  return a === b;
}

/** The value moved by the rounding that a conversion can leave, so that 11,000 m is not above 36,089.24 ft by one bit. */
function towardsInside(value: number, { min, max }: Domain): number {
  const slack = Math.abs(value) * 1e-12;
  if (max !== undefined && value > max) return value - slack;
  return min !== undefined && value < min ? value + slack : value;
}

function quantityProperties(
  name: string,
  dimension: Dimension,
  unit: Unit,
  domain: Domain,
  description: string | undefined,
): Record<string, JsonSchema> {
  const properties: Record<string, JsonSchema> = {};
  for (const written of writtenUnits[dimension]) {
    const inWritten = (limit: number | undefined): number | undefined =>
      limit === undefined ? undefined : convert(limit as never, unit as never, written as never);
    const limits: Record<string, number> = {};
    for (const [key, limit] of Object.entries(domain)) limits[key] = inWritten(limit) as number;
    properties[`${name}_${written}`] = {
      type: "number",
      ...domainSchema(limits),
      ...(description === undefined ? {} : { description }),
    };
  }
  return properties;
}

/** A text, in a given form where one is demanded. */
export function text(
  form?: { readonly pattern: RegExp; readonly wanted: string },
  description?: string,
): Field<string> {
  return {
    kind: "field",
    schema: {
      type: "string",
      ...(form === undefined ? {} : { pattern: form.pattern.source }),
      ...(description === undefined ? {} : { description }),
    },
    read(value, path) {
      if (typeof value !== "string") refuse(path, "wrongKind", describe(value), form?.wanted ?? "a text");
      if (form !== undefined && !form.pattern.test(value))
        refuse(path, "wrongKind", describe(value), form.wanted);
      return value;
    },
  };
}

/** One of a few words. */
export function word<const W extends string>(words: readonly W[], description?: string): Field<W> {
  return {
    kind: "field",
    schema: { enum: words, ...(description === undefined ? {} : { description }) },
    read(value, path) {
      const found = words.find((known) => known === value);
      if (found === undefined) refuse(path, "outsideDomain", describe(value), `one of ${words.join(", ")}`);
      return found;
    },
  };
}

/** True or false. */
export function flag(description?: string): Field<boolean> {
  return {
    kind: "field",
    schema: { type: "boolean", ...(description === undefined ? {} : { description }) },
    read(value, path) {
      if (typeof value !== "boolean") refuse(path, "wrongKind", describe(value), "true or false");
      return value;
    },
  };
}

/** A list of like fields; `min` and `max` bound its length. */
export function list<T>(
  of: Field<T>,
  length: { readonly min?: number; readonly max?: number } = {},
  description?: string,
): Field<T[]> {
  const { min = 0, max = Number.POSITIVE_INFINITY } = length;
  return {
    kind: "field",
    schema: {
      type: "array",
      items: of.schema,
      ...(length.min === undefined ? {} : { minItems: length.min }),
      ...(length.max === undefined ? {} : { maxItems: length.max }),
      ...(description === undefined ? {} : { description }),
    },
    read(value, path) {
      if (!Array.isArray(value)) refuse(path, "wrongKind", describe(value), "a list");
      if (value.length < min || value.length > max) {
        refuse(path, "outsideDomain", describe(value), `a list of ${lengthText(min, max)}`);
      }
      return value.map((element, index) => of.read(element, atIndex(path, index)));
    },
  };
}

function lengthText(min: number, max: number): string {
  if (max === Number.POSITIVE_INFINITY) return `at least ${min}`;
  return min === max ? `${min}` : `${min} … ${max}`;
}

/** A list of a fixed length, each place with its own field: `[lat, lon]`. */
export function tuple<const F extends readonly Field<unknown>[]>(
  fields: F,
  description?: string,
): Field<{ -readonly [K in keyof F]: Read<F[K]> }> {
  return {
    kind: "field",
    schema: {
      type: "array",
      prefixItems: fields.map((field) => field.schema),
      minItems: fields.length,
      maxItems: fields.length,
      ...(description === undefined ? {} : { description }),
    },
    read(value, path) {
      if (!Array.isArray(value) || value.length !== fields.length) {
        refuse(path, "wrongKind", describe(value), `a list of ${fields.length}`);
      }
      return fields.map((field, index) => field.read(value[index], atIndex(path, index))) as never;
    },
  };
}

/** A field that may also be null. */
export function orNull<T>(of: Field<T>): Field<T | null> {
  return {
    kind: "field",
    schema: { anyOf: [of.schema, { type: "null" }] },
    read: (value, path) => (value === null ? null : of.read(value, path)),
  };
}

/** Any JSON value, for what another part of the program checks by its own schema. */
export function anything(schema: JsonSchema = {}): Field<unknown> {
  return { kind: "field", schema, read: (value) => value };
}

/** A field or quantity that may be left out; undefined then. A null is not left out, it is a wrong value. */
export function optional<T>(of: Field<T> | Member<T>): Member<T | undefined> {
  const member = asMember(of);
  return {
    kind: "member",
    keys: member.keys,
    properties: member.properties,
    presence(name) {
      const keys = member.keys(name);
      if (keys.length < 2) return null;
      const none = { not: { anyOf: keys.map((key) => ({ required: [key] })) } };
      return { oneOf: [none, ...keys.map((key) => ({ required: [key] }))] };
    },
    read(from, name, path) {
      const isGiven = member.keys(name).some((key) => Object.hasOwn(from, key));
      return isGiven ? member.read(from, name, path) : undefined;
    },
  };
}

function asMember<T>(of: Field<T> | Member<T>): Member<T> {
  if (of.kind === "member") return of;
  return {
    kind: "member",
    keys: (name) => [name],
    properties: (name) => ({ [name]: of.schema }),
    presence: (name) => ({ required: [name] }),
    read(from, name, path) {
      const where = atKey(path, name);
      if (!Object.hasOwn(from, name)) refuse(where, "missing", "nothing", name);
      return of.read(from[name], where);
    },
  };
}

type Members = { readonly [name: string]: Field<unknown> | Member<unknown> };

/** An object with exactly these members. */
export function object<M extends Members>(
  members: M,
  description?: string,
): Field<{ -readonly [K in keyof M]: Read<M[K]> }> {
  const entries = Object.entries(members).map(([name, of]) => ({ name, member: asMember(of) }));
  const known = new Set(entries.flatMap(({ name, member }) => member.keys(name)));
  return {
    kind: "field",
    schema: objectSchema(entries, description),
    read(value, path) {
      if (typeof value !== "object" || value === null || Array.isArray(value)) {
        refuse(path, "wrongKind", describe(value), "an object");
      }
      const given = value as Record<string, unknown>;
      for (const key of Object.keys(given)) {
        if (!known.has(key))
          refuse(atKey(path, key), "unknownKey", `the key ${describe(key)}`, wantedKeys(entries, key));
      }
      const read: Record<string, unknown> = {};
      for (const { name, member } of entries) read[name] = member.read(given, name, path);
      return read as never;
    },
  };
}

type Entry = { readonly name: string; readonly member: Member<unknown> };

/** What to say about an unknown key: the units of the quantity that it seems to mean, or what there is at all. */
function wantedKeys(entries: readonly Entry[], key: string): string {
  const meant = entries.find(({ name }) => key === name || key.startsWith(`${name}_`));
  if (meant !== undefined) return meant.member.keys(meant.name).join(", ");
  const names = entries.map(({ name, member }) =>
    member.keys(name).length > 1 ? `${name}_…` : member.keys(name)[0],
  );
  return `only ${names.join(", ")}`;
}

function objectSchema(entries: readonly Entry[], description: string | undefined): JsonSchema {
  const properties: Record<string, JsonSchema> = {};
  const required: string[] = [];
  const demands: JsonSchema[] = [];
  for (const { name, member } of entries) {
    Object.assign(properties, member.properties(name));
    const presence = member.presence(name);
    if (presence === null) continue;
    if (Array.isArray(presence["required"])) required.push(...(presence["required"] as string[]));
    else demands.push(presence);
  }
  return {
    type: "object",
    ...(description === undefined ? {} : { description }),
    properties,
    ...(required.length === 0 ? {} : { required }),
    ...(demands.length === 0 ? {} : { allOf: demands }),
    additionalProperties: false,
  };
}

/** The key under which a quantity was given, for an issue found later; its usual key when it was left out. */
export function givenKey(element: unknown, name: string, dimension: Dimension, unit: Unit): string {
  const keys = writtenUnits[dimension].map((written) => `${name}_${written}`);
  return keys.find((key) => Object.hasOwn(element as object, key)) ?? `${name}_${unit}`;
}
