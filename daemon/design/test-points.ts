import type { MEASURANDS } from './bench.js';
import { closest } from './closest.js';
import type { Design } from './design.js';

/** Part names that stand in test point ids, so no rail may have them. */
export const RESERVED_NAMES = [
  'mains',
  'transformer',
  'rectifier',
  'reservoir',
  'filter',
  'ambient',
] as const;

const PART_POINTS = [
  'reservoir.volts',
  'reservoir.ripple',
  'reservoir.valley',
  'transformer.amps',
  'ambient.air',
] as const;

/** The quantities of every rail, in the order in which a person reads them. */
export const RAIL_QUANTITIES = ['volts', 'ripple', 'dissipation', 'case', 'junction'] as const;
export type RailQuantity = (typeof RAIL_QUANTITIES)[number];

/** The ids of every test point that a design has. */
export function testPointsOf(design: Pick<Design, 'rails'>): string[] {
  const rails = Object.keys(design.rails);
  return [
    ...PART_POINTS,
    ...rails.flatMap((rail) => RAIL_QUANTITIES.map((quantity) => `${rail}.${quantity}`)),
  ];
}

/** Whether a text looks like a test point id: part or rail, a dot, a quantity. */
export function isTestPointId(text: string): boolean {
  return /^[a-z][a-z0-9-]*\.[a-z]+$/.test(text);
}

/** The test points that someone who typed `id` may have meant, closest first. */
export function closestTestPoints(id: string, design: Pick<Design, 'rails'>, most = 3): string[] {
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
};

/** What a channel may measure to sit on a test point; empty when nothing measures it directly. */
export function measurandsFor(id: string): readonly Measurand[] {
  const quantity = id.slice(id.indexOf('.') + 1);
  return Object.hasOwn(MEASURED_BY, quantity) ? (MEASURED_BY[quantity] ?? []) : [];
}
