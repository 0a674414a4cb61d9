import { describe, expect, it } from 'vitest';
import { simulateSupply, waveAt } from '../../../drivers/simulated/supply.js';
import { CABIN } from './cabin.js';

const HOUR_MS = 3_600_000;

describe('switching on and off', () => {
  it('charges the reservoir from empty within a few cycles', () => {
    const supply = simulateSupply(CABIN);
    const seen: number[] = [supply.read('reservoir.volts')];
    for (const atMs of [20, 40, 100, 1000]) {
      supply.advanceTo(atMs);
      seen.push(supply.read('reservoir.volts'));
    }
    expect(seen[0]).toBe(0);
    expect(seen[1]).toBeLessThan(15);
    expect(seen[2]).toBeGreaterThan(seen[1] ?? NaN);
    expect(seen[4]).toBeGreaterThan(18);
  });

  it('stays at nothing while it is off', () => {
    const supply = simulateSupply(CABIN, { power: 'off' });
    supply.advanceTo(60_000);
    expect(supply.read('reservoir.volts')).toBe(0);
    expect(supply.read('logic.case')).toBeCloseTo(22, 6);
  });

  it('runs down when it is switched off, and is gone within a minute', () => {
    const supply = simulateSupply(CABIN);
    supply.advanceTo(1000);
    supply.power('off');
    supply.advanceTo(1100);
    expect(supply.read('reservoir.volts')).toBeLessThan(10);
    supply.advanceTo(60_000);
    expect(supply.read('reservoir.volts')).toBeLessThan(0.5);
    expect(supply.read('transformer.amps')).toBe(0);
  });
});

describe('a waveform that goes on over several cycles', () => {
  it('repeats itself while the supply runs steadily', () => {
    const supply = simulateSupply(CABIN);
    supply.advanceTo(10_000);
    const wave = supply.waveform('reservoir');
    expect(waveAt(wave, 3.3)).toBeCloseTo(waveAt(wave, 0.3), 1);
    expect(Math.max(...wave.volts) - Math.min(...wave.volts)).toBeGreaterThan(0.5);
  });

  it('falls on where the reservoir runs down, as the supply itself then does', () => {
    const supply = simulateSupply(CABIN);
    supply.advanceTo(1000);
    supply.power('off');
    supply.advanceTo(1040);
    const wave = supply.waveform('reservoir');
    const after = [0.5, 1.5].map((cycles) => waveAt(wave, cycles));
    for (const [cycle, volts] of after.entries()) {
      supply.advanceTo(1060 + 20 * cycle);
      expect(volts).toBeGreaterThan(0.9 * supply.read('reservoir.volts'));
      expect(volts).toBeLessThan(1.1 * supply.read('reservoir.volts'));
    }
    expect(after[1]).toBeLessThan(0.95 * after[0]!);
  });
});

describe('a healthy signal cabin', () => {
  it('has comfortable cases after an hour, and its rails inside their makers windows', () => {
    const supply = simulateSupply(CABIN);
    supply.advanceTo(HOUR_MS);
    for (const rail of ['lamps', 'logic']) {
      expect(supply.read(`${rail}.case`)).toBeGreaterThan(45);
      expect(supply.read(`${rail}.case`)).toBeLessThan(65);
    }
    // ST L78 datasheet DS0422 Rev 36: 4.75 to 5.25 V over the range; TI SLVS044Z: reference 1.2 to 1.3 V.
    expect(supply.read('logic.volts')).toBeGreaterThan(4.75);
    expect(supply.read('logic.volts')).toBeLessThan(5.25);
    expect(supply.failedShort).toEqual([]);
  });

  it('draws more and sags at full load, less and rises at idle', () => {
    const volts = (['idle', 'typical', 'full'] as const).map((load) => {
      const supply = simulateSupply(CABIN, { load, mainsWander_percent: 0 });
      supply.advanceTo(3000);
      return supply.read('reservoir.volts');
    });
    expect(volts[0]).toBeGreaterThan(volts[1] ?? NaN);
    expect(volts[1]).toBeGreaterThan(volts[2] ?? NaN);
  });

  it('follows a load switched while it runs', () => {
    const supply = simulateSupply(CABIN, { load: 'idle' });
    supply.advanceTo(1000);
    supply.setLoad('full');
    supply.advanceTo(2000);
    expect(supply.read('logic.amps')).toBeCloseTo(0.3, 3);
  });
});

describe('time', () => {
  it('many small steps give the same as one large one', () => {
    const small = simulateSupply(CABIN, { seed: 3 });
    const large = simulateSupply(CABIN, { seed: 3 });
    for (let atMs = 0; atMs <= 30_000; atMs += 37) small.advanceTo(atMs);
    small.advanceTo(30_000);
    large.advanceTo(30_000);
    for (const point of small.pointIds) expect(small.read(point), point).toBeCloseTo(large.read(point), 9);
  });

  it('never goes back', () => {
    const supply = simulateSupply(CABIN);
    supply.advanceTo(5000);
    const before = supply.read('logic.case');
    supply.advanceTo(1000);
    expect(supply.read('logic.case')).toBe(before);
  });
});

describe('seeds and wandering', () => {
  it('seed 0 is every part at its typical value, others differ within tolerance (seeds 1 to 20)', () => {
    const typical = simulateSupply(CABIN, { mainsWander_percent: 0 });
    typical.advanceTo(2000);
    const lamps = Array.from({ length: 20 }, (_, index) => {
      const supply = simulateSupply(CABIN, { seed: index + 1, mainsWander_percent: 0 });
      supply.advanceTo(2000);
      return supply.read('lamps.volts');
    });
    expect(typical.read('lamps.volts')).toBeCloseTo(12.03, 2);
    expect(new Set(lamps).size).toBe(20);
    // Reference 1.20 to 1.30 V and 1 % resistors at worst: 1.20 x (1 + 2029.5 / 242.4) to 1.30 x (1 + 2070.5 / 237.6).
    for (const volts of lamps) {
      expect(volts).toBeGreaterThan(11.3);
      expect(volts).toBeLessThan(12.9);
    }
  });

  it('the mains wanders slowly within about one percent (seed 5)', () => {
    const supply = simulateSupply(CABIN, { seed: 5 });
    const shares = new Set<number>();
    for (let atMs = 0; atMs < 600_000; atMs += 10_000) {
      supply.advanceTo(atMs);
      shares.add(supply.read('mains.share'));
    }
    expect(shares.size).toBeGreaterThan(50);
    expect(Math.max(...shares)).toBeLessThan(1.012);
    expect(Math.min(...shares)).toBeGreaterThan(0.988);
  });
});

describe('test points', () => {
  it('has those of the design', () => {
    const wanted = ['reservoir.volts', 'reservoir.ripple', 'transformer.amps', 'ambient.air'];
    const ofRails = ['lamps', 'logic'].flatMap((rail) => [`${rail}.volts`, `${rail}.ripple`, `${rail}.case`]);
    expect(simulateSupply(CABIN).pointIds).toEqual(expect.arrayContaining([...wanted, ...ofRails]));
  });

  it('says which there are when asked for another', () => {
    expect(() => simulateSupply(CABIN).read('bell.volts')).toThrow(
      /^test point: found "bell\.volts"; this supply has /,
    );
  });
});
