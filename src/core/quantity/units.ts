// Units: one opaque type per unit, exact factors, conversion at the boundary.
//
// A value in a unit is a plain number at run time; its type carries the unit, so that kilograms and pounds, or metres
// and feet, cannot be exchanged by accident. Inside the core quantities are SI (kg, m, m/s, Pa, K, m³, s); angles stay
// in degrees, as the trade writes them, and turn into radians only inside a formula.
//
// Factors are pairs of whole numbers, so that a conversion rounds at most twice. Sources:
//   lb 0.45359237 kg, in 0.0254 m, ft 0.3048 m: international yard and pound agreement, 1959 (NIST SP 811, appendix B.8), exact.
//   nmi 1852 m: BIPM SI brochure, table of non-SI units, exact; knot = nautical mile per hour.
//   inHg 3386.389 Pa: NIST SP 811 appendix B.8, conventional inch of mercury (0 °C, 32 °F).
//   psi = lbf/in² = 0.45359237 × 9.80665 / 0.0254² Pa, exact by those definitions (NIST SP 811).
//   US gallon = 231 in³ = 3.785411784 L, exact (NIST SP 811).
//   °C = K − 273.15 and °F = 9/5 K − 459.67, exact by definition (SI brochure; NIST SP 811).

declare const kilograms: unique symbol;
declare const pounds: unique symbol;
declare const metres: unique symbol;
declare const millimetres: unique symbol;
declare const inches: unique symbol;
declare const feet: unique symbol;
declare const kilometres: unique symbol;
declare const nauticalMiles: unique symbol;
declare const metresPerSecond: unique symbol;
declare const knots: unique symbol;
declare const kilometresPerHour: unique symbol;
declare const pascals: unique symbol;
declare const hectopascals: unique symbol;
declare const inchesOfMercury: unique symbol;
declare const bars: unique symbol;
declare const poundsPerSquareInch: unique symbol;
declare const kelvins: unique symbol;
declare const degreesCelsius: unique symbol;
declare const degreesFahrenheit: unique symbol;
declare const cubicMetres: unique symbol;
declare const litres: unique symbol;
declare const usGallons: unique symbol;
declare const degrees: unique symbol;
declare const seconds: unique symbol;
declare const minutes: unique symbol;
declare const hours: unique symbol;

export type Kilograms = number & { readonly [kilograms]: true };
export type Pounds = number & { readonly [pounds]: true };
export type Metres = number & { readonly [metres]: true };
export type Millimetres = number & { readonly [millimetres]: true };
export type Inches = number & { readonly [inches]: true };
export type Feet = number & { readonly [feet]: true };
export type Kilometres = number & { readonly [kilometres]: true };
export type NauticalMiles = number & { readonly [nauticalMiles]: true };
export type MetresPerSecond = number & { readonly [metresPerSecond]: true };
export type Knots = number & { readonly [knots]: true };
export type KilometresPerHour = number & { readonly [kilometresPerHour]: true };
export type Pascals = number & { readonly [pascals]: true };
export type Hectopascals = number & { readonly [hectopascals]: true };
export type InchesOfMercury = number & { readonly [inchesOfMercury]: true };
export type Bars = number & { readonly [bars]: true };
export type PoundsPerSquareInch = number & { readonly [poundsPerSquareInch]: true };
export type Kelvins = number & { readonly [kelvins]: true };
export type DegreesCelsius = number & { readonly [degreesCelsius]: true };
export type DegreesFahrenheit = number & { readonly [degreesFahrenheit]: true };
export type CubicMetres = number & { readonly [cubicMetres]: true };
export type Litres = number & { readonly [litres]: true };
export type UsGallons = number & { readonly [usGallons]: true };
export type Degrees = number & { readonly [degrees]: true };
export type Seconds = number & { readonly [seconds]: true };
export type Minutes = number & { readonly [minutes]: true };
export type Hours = number & { readonly [hours]: true };

/** The type of a value in each unit. */
export type InUnit = {
  kg: Kilograms;
  lb: Pounds;
  m: Metres;
  mm: Millimetres;
  in: Inches;
  ft: Feet;
  km: Kilometres;
  nm: NauticalMiles;
  ms: MetresPerSecond;
  kt: Knots;
  kmh: KilometresPerHour;
  Pa: Pascals;
  hPa: Hectopascals;
  inHg: InchesOfMercury;
  bar: Bars;
  psi: PoundsPerSquareInch;
  K: Kelvins;
  C: DegreesCelsius;
  F: DegreesFahrenheit;
  m3: CubicMetres;
  L: Litres;
  usgal: UsGallons;
  deg: Degrees;
  s: Seconds;
  min: Minutes;
  h: Hours;
};

/** A unit by its suffix in a key: `mass_kg` ends in `kg`. */
export type Unit = keyof InUnit;

type UnitFacts = {
  readonly dimension: string;
  /** SI value = (value + offset) × factor[0] / factor[1]. */
  readonly factor: readonly [number, number];
  readonly offset?: number;
};

export const units = {
  kg: { dimension: "mass", factor: [1, 1] },
  lb: { dimension: "mass", factor: [45_359_237, 100_000_000] },
  m: { dimension: "length", factor: [1, 1] },
  mm: { dimension: "length", factor: [1, 1000] },
  in: { dimension: "length", factor: [254, 10_000] },
  ft: { dimension: "length", factor: [3048, 10_000] },
  km: { dimension: "length", factor: [1000, 1] },
  nm: { dimension: "length", factor: [1852, 1] },
  ms: { dimension: "speed", factor: [1, 1] },
  kt: { dimension: "speed", factor: [463, 900] },
  kmh: { dimension: "speed", factor: [5, 18] },
  Pa: { dimension: "pressure", factor: [1, 1] },
  hPa: { dimension: "pressure", factor: [100, 1] },
  inHg: { dimension: "pressure", factor: [3_386_389, 1000] },
  bar: { dimension: "pressure", factor: [100_000, 1] },
  psi: { dimension: "pressure", factor: [44_482_216_152_605, 6_451_600_000] },
  K: { dimension: "temperature", factor: [1, 1] },
  C: { dimension: "temperature", factor: [1, 1], offset: 273.15 },
  F: { dimension: "temperature", factor: [5, 9], offset: 459.67 },
  m3: { dimension: "volume", factor: [1, 1] },
  L: { dimension: "volume", factor: [1, 1000] },
  usgal: { dimension: "volume", factor: [3_785_411_784, 1_000_000_000_000] },
  deg: { dimension: "angle", factor: [1, 1] },
  s: { dimension: "time", factor: [1, 1] },
  min: { dimension: "time", factor: [60, 1] },
  h: { dimension: "time", factor: [3600, 1] },
} as const satisfies Record<Unit, UnitFacts>;

export type DimensionOf<U extends Unit> = (typeof units)[U]["dimension"];
export type Dimension = DimensionOf<Unit>;
export type UnitsOf<D extends Dimension> = {
  [U in Unit]: DimensionOf<U> extends D ? U : never;
}[Unit];

/** The suffixes that people may write, per dimension, the SI or most usual one first. */
export const writtenUnits = {
  mass: ["kg", "lb"],
  length: ["m", "mm", "in", "ft", "km", "nm"],
  speed: ["kt", "ms", "kmh"],
  pressure: ["hPa", "inHg", "bar", "psi"],
  temperature: ["C", "F", "K"],
  volume: ["L", "usgal"],
  angle: ["deg"],
  time: ["h", "min", "s"],
} as const satisfies { [D in Dimension]: readonly UnitsOf<D>[] };

/** Says that a plain number is in this unit. The only way from a number to a value with a unit. */
export function inUnit<U extends Unit>(value: number, unit: U): InUnit[U] {
  void unit;
  return value as InUnit[U];
}

/**
 * The same quantity in another unit of its dimension. Exact when both units are the same; otherwise rounded at most
 * four times. Finite in, finite out, except beyond 1e304.
 */
export function convert<F extends Unit, T extends UnitsOf<DimensionOf<F>>>(
  value: InUnit[F],
  from: F,
  to: T,
): InUnit[T] {
  if (isSame(from, to)) return value as number as InUnit[T];
  const source: UnitFacts = units[from];
  const target: UnitFacts = units[to];
  const si = ((value + (source.offset ?? 0)) * source.factor[0]) / source.factor[1];
  return ((si * target.factor[1]) / target.factor[0] - (target.offset ?? 0)) as InUnit[T];
}

function isSame(a: Unit, b: Unit): boolean {
  return a === b;
}
