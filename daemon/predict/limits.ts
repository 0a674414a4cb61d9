import type { Design } from '../design/design.js';
import { polarityOf } from '../design/feeds.js';
import { windingOf } from '../design/parts/transformers.js';
import { coolingNamed, junctionLimitOf, reservoirNamed } from './described-parts.js';
import type { SupplyDescription } from './engine/supply.js';
import { partWords, regulatorOf } from './part-words.js';
import type { Limit } from './prediction.js';
import type { SupplyState } from './supply-state.js';
import { caseLimit } from './thermal/junction.js';

/** The limits of every test point that has one: part ratings, what loads survive, and the design's own. */
export function limitsOf(
  design: Design,
  description: SupplyDescription,
  typical: SupplyState,
): Record<string, Limit[]> {
  const { ratedAmps } = windingOf(design.transformer, design.rectifier.kind);
  const limits: Record<string, Limit[]> = {
    'transformer.amps': [rating(ratedAmps, "the transformer's rated secondary amps")],
  };
  for (const reservoir of typical.reservoirs.keys()) {
    limits[`${reservoir}.volts`] = reservoirLimits(reservoir, design);
  }
  for (const rail of Object.keys(design.rails)) limits[`${rail}.volts`] = damageLimits(rail, design);
  for (const part of typical.heated.keys()) {
    Object.assign(limits, temperatureLimits(part, design, description, typical));
  }
  for (const [id, { limit }] of Object.entries(design.points)) {
    limits[id] = [...(limits[id] ?? []), ...ownLimits(id, limit)];
  }
  return limits;
}

function rating(value: number, why: string): Limit {
  return { kind: 'rating', side: 'high', value, why };
}

/** A limit of a magnitude as a limit of volts that carry their sign. */
function negative({ side, value, ...limit }: Limit): Limit {
  return { ...limit, side: side === 'high' ? 'low' : 'high', value: -value };
}

function reservoirLimits(reservoir: string, design: Design): Limit[] {
  const { working_volts } = reservoirNamed(reservoir, design);
  const inputs = Object.entries(design.rails).flatMap(([rail, { from }]) => {
    const regulator = regulatorOf(rail, design);
    const most = regulator?.highestInput ?? regulator?.highestDifference;
    return most === undefined || from !== reservoir
      ? []
      : [rating(most, `what the ${partWords(rail, design)} of ${rail} takes at its input`)];
  });
  const capacitor =
    working_volts === undefined ? [] : [rating(working_volts, "the reservoir's working volts")];
  const limits = [...capacitor, ...inputs];
  return reservoir === 'reservoir' ? limits : limits.map(negative);
}

function damageLimits(name: string, design: Design): Limit[] {
  const rail = design.rails[name];
  if (rail === undefined) return [];
  const { low, high } = rail.damage;
  const why = `what the ${name} load survives`;
  const limits: Limit[] = [
    ...(low === undefined ? [] : [{ kind: 'damage', side: 'low', value: low, why } as const]),
    ...(high === undefined ? [] : [{ kind: 'damage', side: 'high', value: high, why } as const]),
  ];
  return polarityOf(rail, design) === 'negative' ? limits.map(negative) : limits;
}

function temperatureLimits(
  name: string,
  design: Design,
  description: SupplyDescription,
  typical: SupplyState,
): Record<string, Limit[]> {
  const junction = junctionLimitOf(name, description);
  const watts = typical.heated.get(name)?.watts;
  if (watts === undefined || !Number.isFinite(junction)) return {};
  const { junctionToCase } = coolingNamed(name, description).package;
  const part = partWords(name, design);
  return {
    [`${name}.junction`]: [rating(junction, `the junction of the ${part}`)],
    [`${name}.case`]: [
      rating(
        caseLimit(junction, watts, junctionToCase.typical),
        `the junction of the ${part} is at ${junction} °C then`,
      ),
    ],
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
