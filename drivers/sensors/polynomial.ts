/** The sum of `coefficients[i]` times `x` to the power `i`, by Horner's rule. */
export function polynomial(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (let power = coefficients.length - 1; power >= 0; power -= 1)
    sum = sum * x + (coefficients[power] ?? 0);
  return sum;
}

/** The slope of {@link polynomial} at `x`. */
export function polynomialSlope(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (let power = coefficients.length - 1; power > 0; power -= 1) {
    sum = sum * x + power * (coefficients[power] ?? 0);
  }
  return sum;
}
