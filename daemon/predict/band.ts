import type { Spread } from '../design/parts/spread.js';
import { mapSupply, type Supply } from './supply.js';

/** Named results of one working-out. */
export type Values = Readonly<Record<string, number>>;

/**
 * Low, typical and high of every result. Each uncertain value is moved to its low and its high end alone, the
 * rest typical, and the shifts are combined as root of the sum of squares, downward and upward shifts apart.
 * Source: JCGM 100:2008 (GUM), 5.1.2 with sensitivities by difference (5.1.3); ends at 95 % give results at 95 %.
 */
export function bands(
  supply: Supply<Spread>,
  evaluate: (values: Supply<number>) => Values,
): Record<string, Spread> {
  const typical = evaluate(mapSupply(supply, (spread) => spread.typical));
  const down: Record<string, number> = {};
  const up: Record<string, number> = {};
  for (const shifted of shiftedSupplies(supply)) {
    const values = evaluate(shifted);
    for (const [key, value] of Object.entries(values)) {
      const shift = value - (typical[key] ?? 0);
      const sums = shift < 0 ? down : up;
      sums[key] = (sums[key] ?? 0) + shift * shift;
    }
  }
  return Object.fromEntries(
    Object.entries(typical).map(([key, value]) => [
      key,
      { low: value - Math.sqrt(down[key] ?? 0), typical: value, high: value + Math.sqrt(up[key] ?? 0) },
    ]),
  );
}

/** The supply with one value at an end, for every value and both ends that differ from the typical. */
function* shiftedSupplies(supply: Supply<Spread>): Generator<Supply<number>> {
  const names: string[] = [];
  mapSupply(supply, (spread, name) => {
    if (spread.low !== spread.typical || spread.high !== spread.typical) names.push(name);
  });
  for (const moved of names) {
    for (const end of ['low', 'high'] as const) {
      yield mapSupply(supply, (spread, name) => (name === moved ? spread[end] : spread.typical));
    }
  }
}
