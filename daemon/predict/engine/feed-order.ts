import { SupplyError } from './supply-error.js';
import type { RailDescription, SupplyDescription } from './supply.js';

/** The rails, each after the one that feeds it. @throws {SupplyError} naming the rails that nothing feeds. */
export function feedOrder(supply: SupplyDescription): RailDescription[] {
  const fed = new Set(['reservoir']);
  if (supply.negativeReservoir !== undefined) fed.add('negative-reservoir');
  if (supply.filter !== undefined) fed.add('filter');
  const order: RailDescription[] = [];
  let rest = [...supply.rails];
  while (rest.length > 0) {
    const ready = rest.filter(({ from }) => fed.has(from));
    if (ready.length === 0) {
      const names = rest.map(({ name, from }) => `${name} from ${from}`).join(', ');
      const what = `nothing feeds ${names}; rails must come from ${[...fed].join(', ')}`;
      throw new SupplyError('supply-contradictory', supply.name, what);
    }
    for (const { name } of ready) fed.add(name);
    order.push(...ready);
    rest = rest.filter((rail) => !ready.includes(rail));
  }
  return order;
}
