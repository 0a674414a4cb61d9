import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { analyseRipple } from '../../../../daemon/watch/ripple/analyse.js';
import type { RippleFound } from '../../../../daemon/watch/ripple/ripple.js';

// Waveforms computed outside with known truth: test/data/reference-cases/README.md says how.
interface Case {
  readonly id: string;
  readonly kind: string;
  readonly inputs: {
    readonly sample_rate_Hz: number;
    readonly nominal_mains_Hz: 50 | 60;
    readonly lsb_V: number;
    readonly coupling: 'AC' | 'DC';
  };
  readonly truth: {
    readonly mains_frequency_Hz: number;
    readonly mains_related_pp_V: number;
    readonly mains_related_ac_rms_V: number;
    readonly mean_V: number;
    readonly amplitude_at_f_V: number;
    readonly amplitude_at_2f_V: number;
    readonly amplitude_at_4f_V: number;
    readonly half_wave_fault: boolean;
    readonly hf_noise_pp_V: number;
    readonly hf_description: { readonly type: string; readonly frequency_Hz?: number } | null;
  };
  readonly delta_counts: readonly number[];
}

const file = new URL('../../../data/reference-cases/waveform_cases.json.gz', import.meta.url);
const { cases } = JSON.parse(gunzipSync(readFileSync(file)).toString()) as { cases: Case[] };

function analyse({ inputs, delta_counts }: Case, expectedHertz: 50 | 60 | null): RippleFound {
  let count = 0;
  const counts = Int16Array.from(delta_counts, (delta) => (count += delta));
  const found = analyseRipple(counts, {
    scale: inputs.lsb_V,
    offset: 0,
    stepSeconds: 1 / inputs.sample_rate_Hz,
    coupling: inputs.coupling === 'AC' ? 'ac' : 'dc',
    expectedHertz,
  });
  if (found.kind !== 'found') throw new Error(`found nothing: ${JSON.stringify(found)}`);
  return found;
}

describe.each(cases.map((one) => [`${one.id}, ${one.kind}`, one] as const))('waveform %s', (_, one) => {
  const { inputs, truth } = one;
  const found = analyse(one, null);
  const peakToPeak = truth.mains_related_pp_V;

  it('gives the mains frequency, whether or not it is known beforehand', () => {
    expect(Math.abs(found.mainsHertz - truth.mains_frequency_Hz)).toBeLessThan(0.05);
    const expected = analyse(one, inputs.nominal_mains_Hz);
    expect(Math.abs(expected.mainsHertz - truth.mains_frequency_Hz)).toBeLessThan(0.05);
  });

  it('gives the peak-to-peak and the RMS of the mains part alone', () => {
    const share = peakToPeak / inputs.lsb_V < 20 ? 0.1 : 0.05;
    expect(Math.abs(found.peakToPeak / peakToPeak - 1)).toBeLessThan(share);
    expect(Math.abs(found.rms / truth.mains_related_ac_rms_V - 1)).toBeLessThan(share / 2);
  });

  it('gives the shares at f, 2f and 4f', () => {
    expect(Math.abs(found.atMains - truth.amplitude_at_f_V)).toBeLessThan(0.02 * peakToPeak);
    expect(Math.abs(found.atTwiceMains - truth.amplitude_at_2f_V)).toBeLessThan(0.02 * peakToPeak);
    expect(Math.abs(found.atFourTimesMains - truth.amplitude_at_4f_V)).toBeLessThan(0.02 * peakToPeak);
  });

  it('tells a missing half from a weak one and from both', () => {
    expect(found.halves === 'one').toBe(truth.half_wave_fault);
  });

  it('knows the mean with DC coupling only', () => {
    if (inputs.coupling === 'AC') expect([found.mean, found.valley]).toEqual([null, null]);
    else expect(Math.abs(found.mean! - truth.mean_V)).toBeLessThan(0.02 * peakToPeak);
  });

  it('gives the peak-to-peak of the rest', () => {
    // Rounding adds up to a step on either side, and the ripple's own fit has a small share of it.
    const slack = 0.05 * truth.hf_noise_pp_V + 2 * inputs.lsb_V + 0.02 * peakToPeak;
    expect(Math.abs(found.rest.peakToPeak - truth.hf_noise_pp_V)).toBeLessThan(slack);
  });
});

describe('the stronger of f and 2f', () => {
  const ratio = ({ truth }: Case): number => truth.amplitude_at_f_V / truth.amplitude_at_2f_V;
  const unalike = cases.filter((one) => ratio(one) < 0.9 || ratio(one) > 1 / 0.9);

  it.each(unalike.map((one) => [one.id, one] as const))('of waveform %s is told', (_, one) => {
    expect(analyse(one, null).strongest).toBe(ratio(one) > 1 ? 'mains' : 'twice-mains');
  });
});

describe('oscillation', () => {
  it.each(
    cases.filter(({ truth }) => truth.hf_description?.type === 'oscillation').map((one) => [one.id, one]),
  )('of waveform %s is found at its frequency', (_, one) => {
    const hertz = one.truth.hf_description!.frequency_Hz!;
    expect(Math.abs(analyse(one, null).rest.oscillation!.hertz! / hertz - 1)).toBeLessThan(0.01);
  });

  it.each(cases.filter(({ truth }) => truth.hf_description === null).map((one) => [one.id, one]))(
    'is not seen on waveform %s, which has none',
    (_, one) => {
      expect(analyse(one, null).rest.oscillation).toBeNull();
    },
  );
});
