import type { PointView } from '../daemon/serve/messages.js';

const WORDS: Readonly<Record<string, string>> = {
  dissipation: 'heat',
  valley: 'lowest of each cycle',
  amps: 'current',
};

/** What is measured at a point, beside the name of its part: `ripple`. */
export function quantityWords({ id }: Pick<PointView, 'id'>): string {
  const quantity = id.slice(id.indexOf('.') + 1);
  return WORDS[quantity] ?? quantity;
}
