/** Shapes of the AC part that a meter may be asked to measure. */
export const SHAPES = ['sine', 'sawtooth', 'triangle', 'square'] as const;
export type Shape = (typeof SHAPES)[number];

/**
 * Form factors, RMS / average of the rectified wave, without DC. Textbook values: sine pi / (2 sqrt 2) = 1.11,
 * triangle and sawtooth 2 / sqrt 3 = 1.15, square 1 (T. R. Kuphaldt, Lessons in Electric Circuits, vol. II, ch. 1).
 */
const FORM_FACTORS: Readonly<Record<Shape, number>> = {
  sine: Math.PI / (2 * Math.SQRT2),
  sawtooth: 2 / Math.sqrt(3),
  triangle: 2 / Math.sqrt(3),
  square: 1,
};

/**
 * What to multiply a reading by to have the RMS value, when the meter averages the rectified wave and its scale is
 * right for a sine: a plain meter shows a reservoir's ripple 4 % too low.
 */
export function averageRespondingFactor(shape: Shape): number {
  return FORM_FACTORS[shape] / FORM_FACTORS.sine;
}
