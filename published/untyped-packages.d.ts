// The peers that come without types, as far as the checks call them.

declare module "ml-regression-theil-sen" {
  export class TheilSenRegression {
    readonly slope: number;
    readonly intercept: number;
    constructor(x: readonly number[], y: readonly number[]);
  }
}
