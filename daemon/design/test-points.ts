import type { MEASURANDS } from './bench.js';
import { closest } from './closest.js';
import type { Design } from './design.js';

/** Part names that stand in test point ids, so no rail may have them. */
export const RESERVED_NAMES = [
  'mains',
  'transformer',
  'rectifier',
  'reservoir',
  'negative-reservoir',
  'filter',
  'ambient',
] as const;

/** The quantities of a reservoir. */
const RESERVOIR_QUANTITIES = ['volts', 'ripple', 'valley'] as const;
/** Of a capacitance multiplier; a resistor with a capacitor has no case and no headroom. */
const MULTIPLIER_QUANTITIES = [
  'volts',
  'ripple',
  'valley',
  'dissipation',
  'headroom',
  'case',
  'junction',
] as const;
const RC_QUANTITIES = ['volts', 'ripple', 'valley', 'dissipation'] as const;

/** The quantities of every rail, in the order in which a person reads them. */
export const RAIL_QUANTITIES = ['volts', 'ripple', 'dissipation', 'case', 'junction'] as const;
export type RailQuantity = (typeof RAIL_QUANTITIES)[number];
/** Of given volts no heat is known. */
const GIVEN_QUANTITIES: readonly RailQuantity[] = ['volts', 'ripple'];

/** What decides which test points a supply has. */
export type Topology = Pick<Design, 'rails' | 'rectifier' | 'filter'>;

/** The ids of every test point that a design has. */
export function testPointsOf({ rails, rectifier, filter }: Topology): string[] {
  return [
    ...points('reservoir', RESERVOIR_QUANTITIES),
    ...(rectifier.kind === 'split-bridge' ? points('negative-reservoir', RESERVOIR_QUANTITIES) : []),
    ...(filter === undefined
      ? []
      : points('filter', filter.kind === 'rc' ? RC_QUANTITIES : MULTIPLIER_QUANTITIES)),
    'transformer.amps',
    'ambient.air',
    ...Object.entries(rails).flatMap(([name, { regulator }]) =>
      points(
        name,
        typeof regulator === 'object' && regulator.kind === 'given' ? GIVEN_QUANTITIES : RAIL_QUANTITIES,
      ),
    ),
  ];
}

function points(place: string, quantities: readonly string[]): string[] {
  return quantities.map((quantity) => `${place}.${quantity}`);
}

/** Whether a text looks like a test point id: part or rail, a dot, a quantity. */
export function isTestPointId(text: string): boolean {
  return /^[a-z][a-z0-9-]*\.[a-z]+$/.test(text);
}

/** The test points that someone who typed `id` may have meant, closest first. */
export function closestTestPoints(id: string, design: Topology, most = 3): string[] {
  const ids = testPointsOf(design);
  const near = closest(id, ids, most);
  if (near.length > 0) return near;
  const [part = ''] = id.split('.');
  return ids.filter((candidate) => candidate.startsWith(`${part}.`)).slice(0, most);
}

type Measurand = (typeof MEASURANDS)[number];

const MEASURED_BY: Readonly<Record<string, readonly Measurand[]>> = {
  volts: ['dc-volts'],
  valley: ['dc-volts'],
  ripple: ['ac-volts'],
  case: ['temperature'],
  junction: ['temperature'],
  air: ['temperature'],
  amps: ['ac-amps'],
  dissipation: [],
  headroom: [],
};

/** What a channel may measure to sit on a test point; empty when nothing measures it directly. */
export function measurandsFor(id: string): readonly Measurand[] {
  const quantity = id.slice(id.indexOf('.') + 1);
  return Object.hasOwn(MEASURED_BY, quantity) ? (MEASURED_BY[quantity] ?? []) : [];
}
