import type { PointUnit } from '../prediction.js';
import type { FilterModel } from './filter-model.js';
import type { RailModel } from './rail-model.js';
import type { ReservoirModel } from './reservoir-model.js';

/** One result of the model: a test point, its unit, and how it is read off a solved supply. */
export interface ModelPoint {
  /** `reservoir.volts`, `lamps.case`: the same ids as a design's test points. */
  readonly id: string;
  readonly unit: PointUnit;
  readonly read: () => number;
}

/** Points of a reservoir; a negative one's volts carry their sign. */
export function reservoirPoints(name: string, reservoir: ReservoirModel, sign: 1 | -1): ModelPoint[] {
  return [
    { id: `${name}.volts`, unit: 'V', read: () => sign * reservoir.mean },
    { id: `${name}.ripple`, unit: 'Vpp', read: () => reservoir.solved('ripplePeakToPeak') },
    { id: `${name}.valley`, unit: 'V', read: () => sign * reservoir.valley },
    { id: `${name}.peak`, unit: 'V', read: () => sign * reservoir.peak },
  ];
}

export function filterPoints(filter: FilterModel, air: () => number): ModelPoint[] {
  const points: ModelPoint[] = [
    { id: 'filter.volts', unit: 'V', read: () => filter.mean },
    { id: 'filter.ripple', unit: 'Vpp', read: () => filter.ripple },
    { id: 'filter.valley', unit: 'V', read: () => filter.valley },
    { id: 'filter.dissipation', unit: 'W', read: () => filter.watts },
  ];
  const { cooling } = filter;
  if (cooling === null) return points;
  return [
    ...points,
    { id: 'filter.headroom', unit: 'V', read: () => filter.headroom },
    { id: 'filter.case', unit: 'degC', read: () => cooling.probe(air()) },
    { id: 'filter.junction', unit: 'degC', read: () => cooling.junction },
  ];
}

/** Points of a rail; of a `given` one no heat is known. */
export function railPoints(rail: RailModel, air: () => number): ModelPoint[] {
  const { name, polarity } = rail.description;
  const sign = polarity === 'negative' ? -1 : 1;
  const volts: ModelPoint[] = [
    { id: `${name}.volts`, unit: 'V', read: () => sign * rail.mean },
    { id: `${name}.ripple`, unit: 'Vpp', read: () => rail.ripple },
    { id: `${name}.headroom`, unit: 'V', read: () => rail.headroom },
  ];
  const { cooling } = rail;
  if (cooling === null) return volts;
  return [
    ...volts,
    { id: `${name}.dissipation`, unit: 'W', read: () => rail.watts },
    { id: `${name}.case`, unit: 'degC', read: () => cooling.probe(air()) },
    { id: `${name}.junction`, unit: 'degC', read: () => cooling.junction },
  ];
}
