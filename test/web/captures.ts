import type { CaptureView } from '../../daemon/serve/messages.js';

type Found = Extract<NonNullable<CaptureView['ripple']>, { kind: 'found' }>;

/** What 1.16 V peak to peak of both halves on a 50 Hz mains is made of, by hand. */
export const BOTH_HALVES: Found = {
  kind: 'found',
  mainsHertz: 50.01,
  mainsHertzDeviation: 0.01,
  periods: 5,
  peakToPeak: 1.16,
  rms: 0.33,
  mean: 18.6,
  valley: 18,
  atMains: 0.004,
  atTwiceMains: 0.44,
  atFourTimesMains: 0.12,
  strongest: 'twice-mains',
  halves: 'both',
  rest: { peakToPeak: 0.012, rms: 0.002, oscillation: null },
  resolution: { stepVolts: 0.001, stepsInRipple: 1160, coarse: false },
  clipped: null,
};

/** A tenth of a second of a reservoir: charged in a fifth of the half period, discharged in the rest. */
export function reservoirCapture(ripple: CaptureView['ripple'] = BOTH_HALVES, hertz = 100): CaptureView {
  const highs = Array.from({ length: 800 }, (_, i) => {
    const phase = ((i / 800) * 0.1 * hertz) % 1;
    return 18.6 + 1.16 * ((phase < 0.2 ? phase / 0.2 : (1 - phase) / 0.8) - 0.5);
  });
  return {
    point: 'reservoir.ripple',
    atMs: 750_000,
    measuredBy: 'scope one',
    unit: 'V',
    coupling: 'dc',
    samples: 10_000,
    lengthSeconds: 0.1,
    lows: highs.map((value) => value - 0.008),
    highs,
    ripple,
  };
}
