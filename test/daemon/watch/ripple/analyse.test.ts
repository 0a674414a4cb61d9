import { describe, expect, it } from 'vitest';
import { analyseRipple } from '../../../../daemon/watch/ripple/analyse.js';
import type { CaptureScale, RippleFound } from '../../../../daemon/watch/ripple/ripple.js';
import { normalNoise } from '../random.js';
import { mixedCapture, simulateCapture, type CaptureOptions } from './simulated-capture.js';

const SEEDS = Array.from({ length: 100 }, (_, at) => at + 1);

function analyse(samples: ArrayLike<number>, scale: CaptureScale): RippleFound {
  const found = analyseRipple(samples, scale);
  if (found.kind !== 'found') throw new Error(`found nothing: ${JSON.stringify(found)}`);
  return found;
}

describe('captures simulated in time steps', () => {
  it.each(SEEDS)('seed %i: frequency, ripple and missing half', (seed) => {
    const { counts, scale, truth } = mixedCapture(seed).capture;
    const found = analyse(counts, scale);
    expect(Math.abs(found.mainsHertz - truth.hertz)).toBeLessThan(0.1);
    const share = truth.stepsInRipple < 20 ? 0.1 : 0.05;
    expect(Math.abs(found.peakToPeak / truth.peakToPeak - 1)).toBeLessThan(share);
    expect(Math.abs(found.rms / truth.rms - 1)).toBeLessThan(share);
    expect(found.halves === 'one').toBe(truth.missingHalf);
    expect(found.strongest).toBe(truth.missingHalf ? 'mains' : 'twice-mains');
    if (scale.coupling === 'ac') return expect(found.valley).toBeNull();
    expect(Math.abs(found.valley! - truth.valley)).toBeLessThan(share * truth.peakToPeak);
    expect(Math.abs(found.mean! - truth.mean)).toBeLessThan(share * truth.peakToPeak);
  });
});

describe('captures with 6 to 19 steps of the converter in the ripple', () => {
  const finer = SEEDS.map((seed) => mixedCapture(200 + seed)).filter(({ options }) => options.bits === 12);

  it.each(finer.map(({ capture }) => [capture.seed, () => capture] as const))(
    'seed %i, taken coarser: frequency, ripple and missing half',
    (seed, made) => {
      const { counts, scale, truth } = made();
      const step = truth.peakToPeak / (6 + (seed % 14));
      const coarse = Int8Array.from(counts, (count) => Math.round((count * scale.scale) / step));
      const found = analyse(coarse, { ...scale, scale: step });
      expect(found.resolution.coarse).toBe(true);
      expect(Math.abs(found.mainsHertz - truth.hertz)).toBeLessThan(0.1);
      expect(Math.abs(found.peakToPeak / truth.peakToPeak - 1)).toBeLessThan(0.1);
      expect(found.halves === 'one').toBe(truth.missingHalf);
    },
  );
});

const PLAIN: CaptureOptions = {
  missingHalf: false,
  bits: 12,
  noise: 0.01,
  extra: 'none',
  points: 4000,
  periods: 6,
};
const plain = simulateCapture(1, PLAIN);

describe('a capture without a ripple to tell', () => {
  it('is too short below two periods, and says how many it has', () => {
    const { counts, scale, truth } = simulateCapture(2, { ...PLAIN, periods: 1.9 });
    const told = analyseRipple(counts, { ...scale, expectedHertz: null });
    expect(told).toMatchObject({ kind: 'too-short', periodsNeeded: 2 });
    expect(told.kind === 'too-short' && told.periods).toBeCloseTo(1.9, 0);
    const shorter = analyseRipple(counts.subarray(0, 1000), scale);
    expect(shorter.kind).toBe('too-short');
    expect(truth.hertz * scale.stepSeconds * counts.length).toBeCloseTo(1.9, 6);
  });

  it('is enough at two periods', () => {
    const { counts, scale } = simulateCapture(2, { ...PLAIN, periods: 2 });
    expect(analyseRipple(counts, scale).kind).toBe('found');
  });

  it('is too slow below 24 samples a mains period', () => {
    const { counts, scale } = simulateCapture(3, { ...PLAIN, points: 300, periods: 20 });
    const told = analyseRipple(counts, { ...scale, expectedHertz: 50 });
    expect(told).toMatchObject({ kind: 'too-slow', samplesNeeded: 24 });
  });

  it.each([
    ['50 Hz', 7],
    ['60 Hz', 2],
  ])('is fast enough with 26 samples a period of mains that nobody expects, %s', (_, seed) => {
    const { counts, scale, truth } = simulateCapture(seed, { ...PLAIN, points: 520, periods: 20 });
    const found = analyse(counts, { ...scale, expectedHertz: null });
    expect(Math.abs(found.mainsHertz - truth.hertz)).toBeLessThan(0.1);
  });

  it('has none where there is only noise (seed 4), and where nothing moves', () => {
    const normal = normalNoise(4);
    const scale: CaptureScale = {
      scale: 0.01,
      offset: 5,
      stepSeconds: 1e-4,
      coupling: 'dc',
      expectedHertz: null,
    };
    const noise = Int16Array.from({ length: 2000 }, () => Math.round(20 * normal()));
    const told = analyseRipple(noise, scale);
    expect(told.kind).toBe('no-ripple');
    expect(told.kind === 'no-ripple' && told.rms).toBeCloseTo(0.2, 1);
    expect(analyseRipple(new Int16Array(2000), scale)).toEqual({ kind: 'no-ripple', rms: 0 });
  });

  it('has none where the volts only wander (seeds 1 to 100, noise that remembers 20 samples)', () => {
    const taken = Array.from({ length: 100 }, (_, at) => at + 1).filter((seed) => {
      const normal = normalNoise(seed);
      let walk = 0;
      const volts = Float64Array.from({ length: 1500 }, () => (walk = 0.95 * walk + normal()));
      const scale = { scale: 1, offset: 0, stepSeconds: 1e-4, coupling: 'ac', expectedHertz: null } as const;
      return analyseRipple(volts, scale).kind === 'found';
    });
    // Every noise looks like anything once in a while: 2 in 100 is what is asked of it.
    expect(taken.length).toBeLessThanOrEqual(2);
  });

  it('measures nothing with the input grounded', () => {
    expect(analyseRipple(plain.counts, { ...plain.scale, coupling: 'ground' })).toEqual({ kind: 'grounded' });
  });

  it('is no capture with a sample, a step or a scale that is not a number', () => {
    const volts = Float64Array.from(plain.counts);
    volts[17] = NaN;
    expect(analyseRipple(volts, plain.scale)).toEqual({ kind: 'not-numbers', at: 17 });
    expect(analyseRipple(plain.counts, { ...plain.scale, stepSeconds: 0 })).toEqual({
      kind: 'not-numbers',
      at: null,
    });
    expect(analyseRipple(plain.counts, { ...plain.scale, scale: Infinity }).kind).toBe('not-numbers');
    expect(analyseRipple([], plain.scale)).toMatchObject({ kind: 'too-short', periods: 0 });
  });
});

describe('what the capture is', () => {
  it('does not matter: counts with a scale, or volts', () => {
    const { counts, scale } = simulateCapture(1, { ...PLAIN, bits: 8 });
    const volts = Float64Array.from(counts, (count) => count * scale.scale + scale.offset);
    const fromVolts = analyse(volts, { ...scale, scale: 1, offset: 0 });
    const fromCounts = analyse(counts, scale);
    expect(fromVolts.peakToPeak).toBeCloseTo(fromCounts.peakToPeak, 6);
    expect(fromVolts.mainsHertz).toBeCloseTo(fromCounts.mainsHertz, 6);
    expect(fromVolts.resolution.stepVolts).toBeCloseTo(scale.scale, 9);
  });

  it.each([true, false])(
    'may be a negative rail (a half missing: %s): its valley is nearest to 0',
    (missing) => {
      const { counts, scale, truth } = simulateCapture(1, { ...PLAIN, missingHalf: missing });
      const upright = analyse(counts, { ...scale, coupling: 'dc', offset: 20 });
      const turned = analyse(counts, { ...scale, coupling: 'dc', scale: -scale.scale, offset: -20 });
      expect(turned.peakToPeak).toBeCloseTo(upright.peakToPeak, 6);
      expect(turned.mean).toBeCloseTo(-upright.mean!, 6);
      expect(turned.valley).toBeCloseTo(-upright.valley!, 6);
      expect(turned.halves).toBe(missing ? 'one' : 'both');
      const lostSign = analyse(counts, { ...scale, coupling: 'ac', scale: -scale.scale });
      expect(Math.abs(lostSign.peakToPeak / truth.peakToPeak - 1)).toBeLessThan(0.05);
      expect(lostSign.halves).toBe(turned.halves);
    },
  );

  it('loses mean and valley when the coupling is not known', () => {
    expect(analyse(plain.counts, { ...plain.scale, coupling: 'unknown' })).toMatchObject({
      mean: null,
      valley: null,
    });
  });

  it('may show another mains frequency than the design expects', () => {
    const { counts, scale, truth } = plain;
    const wrong = truth.hertz > 55 ? 50 : 60;
    expect(
      Math.abs(analyse(counts, { ...scale, expectedHertz: wrong }).mainsHertz - truth.hertz),
    ).toBeLessThan(0.1);
  });

  it('may drift: the drift is not ripple', () => {
    const { counts, scale, truth } = plain;
    const length = counts.length;
    const drifting = Float64Array.from(
      counts,
      (count, i) => count * scale.scale + (3 * truth.peakToPeak * i) / length,
    );
    const found = analyse(drifting, { ...scale, scale: 1 });
    expect(Math.abs(found.peakToPeak / truth.peakToPeak - 1)).toBeLessThan(0.02);
    expect(found.halves).toBe('both');
  });

  it('is told when it has fewer than 20 steps of the converter in the ripple', () => {
    const coarse = Int8Array.from(plain.counts, (count) =>
      Math.round((count * plain.scale.scale) / (plain.truth.peakToPeak / 12)),
    );
    const { resolution } = analyse(coarse, { ...plain.scale, scale: plain.truth.peakToPeak / 12 });
    expect(resolution.coarse).toBe(true);
    expect(resolution.stepsInRipple).toBeGreaterThan(10.8);
    expect(resolution.stepsInRipple).toBeLessThan(13.2);
    expect(analyse(plain.counts, plain.scale).resolution.coarse).toBe(false);
  });

  it('is told when it is clipped at the converter’s end, on the side where it is', () => {
    const { peakToPeak } = plain.truth;
    const scale = peakToPeak / 200;
    const shifted = Int8Array.from(plain.counts, (count) =>
      Math.max(-128, Math.min(127, Math.round((count * plain.scale.scale) / scale) + 60)),
    );
    const { clipped } = analyse(shifted, { ...plain.scale, scale });
    expect(clipped!.high).toBeGreaterThan(0.05);
    expect(clipped!.low).toBe(0);
    expect(analyse(plain.counts, plain.scale).clipped).toBeNull();
  });
});

describe('a rail in dropout', () => {
  it('has the dips as its ripple: flat, then down with the reservoir’s valley', () => {
    const stepSeconds = 1e-4;
    // 12 V held, but for a straight dip of 0.8 V over a third of each half period and a quick way back.
    const volts = Float64Array.from({ length: 1500 }, (_, i) => {
      const phase = (i * stepSeconds * 100 + 0.13) % 1;
      if (phase < 0.5) return 12;
      return phase < 0.83 ? 12 - (0.8 * (phase - 0.5)) / 0.33 : 11.2 + (0.8 * (phase - 0.83)) / 0.17;
    });
    const normal = normalNoise(5);
    const found = analyse(
      volts.map((v) => v + 0.005 * normal()),
      { scale: 1, offset: 0, stepSeconds, coupling: 'dc', expectedHertz: 50 },
    );
    expect(Math.abs(found.peakToPeak / 0.8 - 1)).toBeLessThan(0.05);
    expect(Math.abs(found.valley! - 11.2)).toBeLessThan(0.04);
    expect(found.halves).toBe('both');
  });
});

describe('an oscillation', () => {
  const { counts, scale, truth } = plain;
  const add = (hertz: number, volts: number) =>
    analyse(
      Float64Array.from(
        counts,
        (count, i) => count * scale.scale + volts * Math.sin(2 * Math.PI * hertz * scale.stepSeconds * i),
      ),
      { ...scale, scale: 1 },
    ).rest.oscillation;
  const rate = 1 / scale.stepSeconds;

  it('is found with its frequency and amplitude', () => {
    const found = add(rate / 8.3, 0.1 * truth.peakToPeak);
    expect(Math.abs(found!.hertz! / (rate / 8.3) - 1)).toBeLessThan(0.01);
    expect(Math.abs(found!.amplitude / (0.1 * truth.peakToPeak) - 1)).toBeLessThan(0.1);
  });

  it('has a frequency that can’t be told below 2.5 samples a cycle', () => {
    expect(add(rate / 2.2, 0.1 * truth.peakToPeak)!.hertz).toBeNull();
  });

  it('is not worth a word below 1 % of the ripple', () => {
    expect(add(rate / 8.3, 0.005 * truth.peakToPeak)).toBeNull();
  });
});
