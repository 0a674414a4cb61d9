import { describe, expect, it } from 'vitest';
import { acknowledge, poweredCabin, probe, reading, SUPPLIED, Watched } from './cabin.js';

const PASSING = 'passing-input:logic.volts';

describe('a rail that follows the reservoir', () => {
  // LM7805: a pass transistor that has failed short drops next to nothing; fully driven it drops about 2 V (TI SNOSBT0L).
  it.each([19.8, 18, 16])('is told at %s V of 20 V, on that one reading', (volts) => {
    const watched = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', volts));
    expect(watched.told(PASSING)).toEqual([[600, 'raised']]);
    expect(watched.alarm(PASSING)).toMatchObject({
      priority: 'high',
      latched: true,
      firstUp: true,
      cause: { input: 'reservoir.volts', inputVolts: 20, inputMeasured: true, expected: 5.1 },
    });
  });

  it.each([5.3, 7.2, 10])('is not what %s V says: that is less than its input leaves', (volts) => {
    const watched = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', volts));
    expect(watched.alarm(PASSING)).toBeUndefined();
  });

  it('nor is a reading far above everything that feeds it: that is no regulator', () => {
    const watched = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', 230));
    expect(watched.alarm(PASSING)).toBeUndefined();
  });

  it('is told by what is predicted where nobody measures the input', () => {
    const watched = new Watched(SUPPLIED).feed(
      probe(0, 'meter volts', 'logic.volts'),
      reading(100, 'meter volts', 19),
    );
    expect(watched.alarm(PASSING)?.cause).toMatchObject({ inputVolts: 20, inputMeasured: false });
  });

  it('a negative rail follows its negative reservoir', () => {
    const { points } = SUPPLIED.prediction;
    const negative = (id: string, low: number, high: number) => {
      const typical = (low + high) / 2;
      return { ...points['lamps.volts']!, id, low, typical, high, nominal: typical, limits: [] };
    };
    const plan = {
      ...SUPPLIED,
      prediction: {
        ...SUPPLIED.prediction,
        points: {
          'negative-reservoir.volts': negative('negative-reservoir.volts', -23, -17),
          'bias.volts': negative('bias.volts', -12.4, -11.6),
        },
      },
      supply: {
        rippleRate: 'twice-mains' as const,
        rails: [
          {
            name: 'bias',
            from: 'negative-reservoir',
            polarity: 'negative' as const,
            dropoutVolts: 2,
            switches: false,
          },
        ],
      },
    };
    const watched = new Watched(plan).feed(probe(0, 'meter volts', 'bias.volts'));
    watched.feed(reading(100, 'meter volts', 19));
    expect(watched.alarm('passing-input:bias.volts')).toBeUndefined();
    watched.feed(reading(200, 'meter volts', -19));
    expect(watched.alarm('passing-input:bias.volts')?.active).toBe(true);
  });

  it('explains the damage on the same rail, and asks alone for its person', () => {
    const watched = poweredCabin(SUPPLIED).hold(600, 9000, 'meter volts', 18);
    expect(watched.alarm('over-limit:logic.volts')?.suppressedBy).toEqual([PASSING]);
    expect(watched.alarm('outside-prediction:logic.volts')?.suppressedBy).toContain(PASSING);
  });

  it('returns with the rail, and stays until a person has reset it', () => {
    const watched = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', 18));
    watched.hold(1000, 5000, 'meter volts', 5);
    expect(watched.told(PASSING)).toEqual([
      [600, 'raised'],
      [4000, 'returned'],
    ]);
    expect(watched.alarm('over-limit:logic.volts')).toBeUndefined();
    watched.feed(acknowledge(6000, PASSING));
    expect(watched.alarm(PASSING)).toBeUndefined();
  });

  it('silence doesn’t return it', () => {
    const watched = poweredCabin(SUPPLIED).feed(reading(600, 'meter volts', 18));
    watched.feed({ kind: 'tick', atMs: 600_000 });
    expect(watched.alarm(PASSING)?.active).toBe(true);
  });
});
