import { describe, expect, it } from 'vitest';
import { poweredCabin, probe, reading, type Watched } from './cabin.js';

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

  it('is seen off though the noise on a scope probe looks like a little ripple', () => {
    expect(rippleBesideFall(0.3, 0.4).told(UNDER)).toEqual([]);
  });

  it('but not where the reservoir stays up too', () => {
    expect(rippleBesideFall(0.3, 20).told(UNDER)).toEqual([[6600, 'raised']]);
  });

  it('is seen off while a rail that runs down more slowly was read a moment ago', () => {
    const watched = poweredCabin().feed(probe(100, 'probes t2', 'lamps.volts'));
    for (let atMs = 500; atMs < 5000; atMs += 500) {
      watched.feed(reading(atMs, 'board raw', 20), reading(atMs, 'meter volts', 5));
      watched.feed(reading(atMs, 'probes t2', 12));
    }
    watched.feed(
      reading(5000, 'board raw', 9),
      reading(5200, 'meter volts', 4.66),
      reading(5500, 'board raw', 3),
      reading(5600, 'probes t2', 3.2),
      reading(6000, 'board raw', 2.1),
      reading(6250, 'meter volts', 0.6),
    );
    expect(watched.told(UNDER)).toEqual([]);
  });

  /** The logic rail falls; so does the reservoir, or not, after a look at its ripple: a quarter of the predicted least is 0.2 V. */
  function rippleBesideFall(peakToPeak: number, reservoir: number): Watched {
    return poweredCabin().feed(
      probe(100, 'probes t2', 'reservoir.ripple'),
      reading(5000, 'board raw', reservoir),
      reading(5100, 'meter volts', 1.3),
      reading(5200, 'probes t2', peakToPeak, 'Vpp'),
      reading(5500, 'board raw', reservoir),
      reading(5600, 'meter volts', 0.1),
      reading(6100, 'board raw', reservoir),
      reading(6200, 'probes t2', peakToPeak, 'Vpp'),
      reading(6600, 'meter volts', 0),
    );
  }
});
