import { describe, expect, it } from 'vitest';
import { poweredCabin, reading, SUPPLIED } from './cabin.js';

const LAMPS = 'no-headroom:lamps.volts';

describe('headroom', () => {
  // Least input of a three-terminal regulator = output + dropout at the ripple's valley: 12 V + 2 V (TI LM317
  // SLVS044Z; LM340 SNOSBT0L); the valley of 1.1 V of ripple lies about 0.55 V under the mean.
  it('is missing when the valley is under output and dropout, told not before the reservoir that explains it', () => {
    const watched = poweredCabin(SUPPLIED).hold(500, 8000, 'board raw', 14.3);
    expect(watched.told(LAMPS).map(([, change]) => change)).toEqual(['raised']);
    expect(watched.told(LAMPS)[0]?.[0]).toBe(watched.told('outside-prediction:reservoir.volts')[0]?.[0]);
    expect(watched.alarm(LAMPS)?.cause).toMatchObject({ inputVolts: 13.75, setVolts: 12, needsVolts: 2 });
    expect(watched.alarm('no-headroom:logic.volts')).toBeUndefined();
  });

  it('is there when the valley is above', () => {
    const watched = poweredCabin(SUPPLIED).hold(500, 6000, 'board raw', 14.7);
    expect(watched.alarm(LAMPS)).toBeUndefined();
  });

  it('is back when the input is', () => {
    const watched = poweredCabin(SUPPLIED).hold(500, 8000, 'board raw', 14.3);
    watched.hold(8500, 14_000, 'board raw', 19);
    expect(watched.told(LAMPS).map(([, change]) => change)).toContain('returned');
    expect(watched.alarm(LAMPS)?.active ?? false).toBe(false);
  });

  it('is no matter in a supply that is switched off', () => {
    const watched = poweredCabin(SUPPLIED).feed(reading(400, 'meter volts', 0.1));
    watched.hold(500, 6000, 'board raw', 0.4);
    expect(watched.alarm(LAMPS)).toBeUndefined();
  });

  it('is explained by a reservoir that is lower than predicted', () => {
    const watched = poweredCabin(SUPPLIED).hold(500, 6000, 'board raw', 14.3);
    expect(watched.alarm(LAMPS)?.suppressedBy).toEqual(['outside-prediction:reservoir.volts']);
  });
});
