import { expect, it } from 'vitest';
import { scaleGeometry } from '../../web/scale-geometry.js';
import { POINTS } from './signal-cabin.js';

const logic = POINTS.find((point) => point.id === 'logic.volts')!;
const reservoir = POINTS.find((point) => point.id === 'reservoir.volts')!;

it('keeps the order of limit, band and value from left to right', () => {
  const { low, typical, high, limits, value, beyond } = scaleGeometry(logic);
  const [lower, upper] = limits;
  const order = [0, lower!.at, low, typical, value!, high, upper!.at, 100];
  expect([...order].sort((a, b) => a - b)).toEqual(order);
  expect(beyond).toBeNull();
});

it('puts a value that is far off at the edge and says so', () => {
  expect(scaleGeometry({ ...logic, value: 18.6 })).toMatchObject({ value: 93, beyond: 'above' });
  expect(scaleGeometry({ ...logic, value: 0 })).toMatchObject({ value: 7, beyond: 'below' });
});

it('keeps the marker of a far value clear of the limit that it has passed', () => {
  const { value, limits } = scaleGeometry({ ...logic, value: 18.6 });
  expect(value! - limits[1]!.at).toBeGreaterThan(8);
});

it('draws of several limits on one side the one that is reached first', () => {
  const more = { kind: 'rating', side: 'high', value: 5.3, why: 'nearer' } as const;
  expect(
    scaleGeometry({ ...logic, limits: [...logic.limits, more] }).limits.map((limit) => limit.side),
  ).toEqual(['low', 'high']);
});

it('leaves out a limit that would squeeze the band to nothing', () => {
  const far = { kind: 'rating', side: 'high', value: 63, why: 'a larger capacitor' } as const;
  expect(scaleGeometry({ ...reservoir, limits: [far] }).limits).toEqual([]);
});

it('survives a prediction of a single number', () => {
  const { low, high, value } = scaleGeometry({ ...logic, low: 5, typical: 5, high: 5, limits: [], value: 5 });
  for (const at of [low, high, value]) expect(at).toBeCloseTo(50);
});
