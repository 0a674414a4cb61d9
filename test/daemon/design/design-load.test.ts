import { describe, expect, it } from 'vitest';
import { ampsAndOhms, ampsAt, loadSchema } from '../../../daemon/design/design-load.js';
import { messages } from './topologies.js';

describe('a load', () => {
  it('is amps, ohms, or both side by side', () => {
    expect(ampsAndOhms(0.5)).toEqual({ amps: 0.5, ohms: Infinity });
    expect(ampsAndOhms({ ohms: 24 })).toEqual({ amps: 0, ohms: 24 });
    expect(ampsAndOhms({ amps: 0.1, ohms: 24 })).toEqual({ amps: 0.1, ohms: 24 });
  });

  // Ohm's law.
  it('draws 0.1 A + 12 V / 24 ohm', () => {
    expect(ampsAt({ amps: 0.1, ohms: 24 }, 12)).toBeCloseTo(0.6, 12);
    expect(ampsAt(0.1, 12)).toBe(0.1);
  });

  it('written once holds in every state', () => {
    expect(loadSchema.parse({ ohms: 24 })).toEqual({
      idle: { ohms: 24 },
      typical: { ohms: 24 },
      full: { ohms: 24 },
    });
    expect(loadSchema.parse(0.5)).toEqual({ idle: 0.5, typical: 0.5, full: 0.5 });
    expect(loadSchema.parse({ idle: 0, typical: 0.1, full: { ohms: 9 } })).toEqual({
      idle: 0,
      typical: 0.1,
      full: { ohms: 9 },
    });
  });

  it.each([
    [
      '{ idle: 0.2, typical: 1.2, ful: 3 }',
      'rails.crane.load.ful: this key is unknown here; did you mean full?',
    ],
    ['{ ohm: 24 }', 'rails.crane.load.ohm: this key is unknown here; did you mean ohms?'],
    ['{ ohms: -24 }', 'rails.crane.load.ohms: found -24; a positive number of ohms is allowed'],
    [
      '{ idle: 0.2, typical: 1.2, full: 3000 }',
      'rails.crane.load.full: found 3000; 0 to 20 amps are allowed; did you mean 3?',
    ],
  ])('%s is told', (load, message) => {
    expect(messages('goods-crane', ['{ idle: 0.2, typical: 1.2, full: 3 }', load])).toEqual([message]);
  });
});
