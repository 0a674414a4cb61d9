import type { Design } from '../design/design.js';
import { polarityOf } from '../design/feeds.js';
import type { Prediction } from '../predict/prediction.js';
import type { SupplyPlan } from './plan.js';

/** What the alarms want to know of a design beside its test points. */
export function supplyPlan(design: Design, { parts }: Pick<Prediction, 'parts'>): SupplyPlan {
  return {
    rippleRate: design.rectifier.kind === 'half-wave' ? 'mains' : 'twice-mains',
    rails: Object.entries(design.rails).map(([name, rail]) => ({
      name,
      from: rail.from,
      polarity: polarityOf(rail, design),
      dropoutVolts: parts[name]?.['dropout_V'] ?? null,
      switches: typeof rail.regulator === 'object' && rail.regulator.kind === 'switching',
    })),
  };
}

/** The rail whose volts or ripple a test point is; undefined for any other. */
export function railOf(
  supply: SupplyPlan | undefined,
  point: string,
  quantity: 'volts' | 'ripple',
): SupplyPlan['rails'][number] | undefined {
  return supply?.rails.find(({ name }) => point === `${name}.${quantity}`);
}
