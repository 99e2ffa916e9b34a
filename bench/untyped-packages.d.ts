// The peers that come without types, as far as the benchmarks call them.

declare module "ndarray" {
  type NdArray = { readonly data: Float64Array; readonly shape: readonly number[] };
  export default function ndarray(data: Float64Array, shape: readonly number[]): NdArray;
}

declare module "ndarray-linear-interpolate" {
  const interpolate: {
    readonly d3: (array: { readonly data: Float64Array }, x: number, y: number, z: number) => number;
  };
  export default interpolate;
}

declare module "cubic-hermite-spline" {
  export default function cubicHermiteSpline(
    t: number,
    points: readonly (readonly number[])[],
    tangents: readonly (readonly number[])[],
    knots: readonly number[],
    derivative: boolean,
    result: number[],
  ): readonly number[];
}
