import type { Forecast } from './forecast.js';

/** Nearer than this to where it settles nobody sees it move, K. */
const ARRIVED_K = 1.5;

/** Whether a temperature is where it was going, degrees C. */
export function hasArrived({ settled }: Pick<Forecast, 'settled'>, value: number): boolean {
  return Math.abs(settled.typical - value) < ARRIVED_K;
}
