import type { Forecast } from './forecast.js';

/** Nearer than this to where it settles nobody sees it move, K. */
const ARRIVED_K = 1.5;
/** A forecast wider than this helps nobody, K. */
const TOO_WIDE_K = 60;

/** What a forecast is worth telling: where it goes, that it is there, or that nothing can be told yet. */
export type Going = 'on-its-way' | 'arrived' | 'unsure';

/** How a temperature stands to where it settles, degrees C. */
export function goingOf({ settled }: Pick<Forecast, 'settled'>, value: number): Going {
  if (settled.high - settled.low > TOO_WIDE_K) return 'unsure';
  return Math.abs(settled.typical - value) < ARRIVED_K ? 'arrived' : 'on-its-way';
}
