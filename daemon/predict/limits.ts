import type { Design } from '../design/design.js';
import { packageNamed } from '../design/parts/packages.js';
import { caseLimit } from './case-temperature.js';
import type { Limit } from './prediction.js';
import type { SupplyFacts } from './supply.js';
import type { SupplyState } from './work-out.js';

/** The limits of every test point that has one: part ratings, what loads survive, and the design's own. */
export function limitsOf(facts: SupplyFacts, typical: SupplyState): Record<string, Limit[]> {
  const rails = Object.keys(facts.design.rails);
  const limits: Record<string, Limit[]> = {
    'reservoir.volts': reservoirLimits(facts),
    'transformer.amps': [rating(facts.winding.ratedAmps, "the transformer's rated secondary amps")],
  };
  for (const rail of rails) {
    limits[`${rail}.volts`] = damageLimits(rail, facts.design);
    Object.assign(limits, temperatureLimits(rail, facts, typical));
  }
  for (const [id, { limit }] of Object.entries(facts.design.points)) {
    limits[id] = [...(limits[id] ?? []), ...ownLimits(id, limit)];
  }
  return limits;
}

function rating(value: number, why: string): Limit {
  return { kind: 'rating', side: 'high', value, why };
}

function reservoirLimits({ design, regulators }: SupplyFacts): Limit[] {
  const { working_volts } = design.reservoir;
  const inputs = Object.entries(regulators).flatMap(([rail, { name, highestInput, highestDifference }]) => {
    const most = highestInput ?? highestDifference;
    return most === undefined || design.rails[rail]?.from !== 'reservoir'
      ? []
      : [rating(most, `what the ${name} of ${rail} takes at its input`)];
  });
  const capacitor =
    working_volts === undefined ? [] : [rating(working_volts, "the reservoir's working volts")];
  return [...capacitor, ...inputs];
}

function damageLimits(rail: string, design: Design): Limit[] {
  const { low, high } = design.rails[rail]?.damage ?? {};
  const why = `what the ${rail} load survives`;
  return [
    ...(low === undefined ? [] : [{ kind: 'damage', side: 'low', value: low, why } as const]),
    ...(high === undefined ? [] : [{ kind: 'damage', side: 'high', value: high, why } as const]),
  ];
}

function temperatureLimits(rail: string, { design, regulators }: SupplyFacts, typical: SupplyState) {
  const regulator = regulators[rail];
  const cooling = design.rails[rail]?.cooling;
  const watts = typical.rails[rail]?.dissipation;
  if (regulator === undefined || cooling === undefined || watts === undefined) return {};
  const junction = regulator.junctionOperating;
  const atCase = caseLimit(watts, junction, packageNamed(cooling.package).junctionCase.typical);
  return {
    [`${rail}.junction`]: [rating(junction, `the junction of the ${regulator.name}`)],
    [`${rail}.case`]: [rating(atCase, `the junction of the ${regulator.name} is at ${junction} °C then`)],
  };
}

/** Volts that a person forbids protect the load; anything else is taken as a rating. */
function ownLimits(
  id: string,
  limit: { low?: number | undefined; high?: number | undefined } | undefined,
): Limit[] {
  const kind = id.endsWith('.volts') ? 'damage' : 'rating';
  const why = 'your own limit, from the design file';
  return [
    ...(limit?.low === undefined ? [] : [{ kind, side: 'low', value: limit.low, why } as const]),
    ...(limit?.high === undefined ? [] : [{ kind, side: 'high', value: limit.high, why } as const]),
  ];
}
