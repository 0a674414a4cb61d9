import { describe, expect, it } from 'vitest';
import { poweredCabin, reading } from './cabin.js';

const UNDER = 'over-limit:logic.volts';

describe('a supply that is switched off', () => {
  it('raises nothing where an instrument has not read since the rail fell', () => {
    const watched = poweredCabin().feed(
      reading(5000, 'board raw', 20),
      reading(5100, 'meter volts', 1.3),
      reading(5600, 'board raw', 0.4),
      reading(6100, 'meter volts', 0.1),
      reading(6200, 'board raw', 0.2),
      reading(7100, 'meter volts', 0),
    );
    expect(watched.told(UNDER)).toEqual([]);
  });

  it('is another matter than a rail that falls while the reservoir stays up', () => {
    const watched = poweredCabin().feed(
      reading(5000, 'board raw', 20),
      reading(5100, 'meter volts', 1.3),
      reading(5600, 'board raw', 20),
      reading(6100, 'meter volts', 0.1),
    );
    expect(watched.told(UNDER)).toEqual([[6100, 'raised']]);
  });
});
