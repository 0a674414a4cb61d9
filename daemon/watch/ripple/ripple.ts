/** What the counts of a capture are, as its event says. */
export interface CaptureScale {
  /** V a count. */
  readonly scale: number;
  /** V at count 0. */
  readonly offset: number;
  readonly stepSeconds: number;
  readonly coupling: 'dc' | 'ac' | 'ground' | 'unknown';
  /** What the design says; null: not known. Another mains frequency is still found where the capture shows it. */
  readonly expectedHertz: 50 | 60 | null;
}

/** The ripple of a rectified mains rail, and apart from it everything else on the capture. */
export interface RippleFound {
  readonly kind: 'found';
  /** Hz of the mains itself, not of the ripple. */
  readonly mainsHertz: number;
  /** One standard deviation, Hz, if what isn't ripple were white noise. */
  readonly mainsHertzDeviation: number;
  /** Mains periods in the capture. */
  readonly periods: number;
  /** Of the mains-locked waveform, V. At least this much where `clipped` isn't null. */
  readonly peakToPeak: number;
  /** AC RMS of the mains-locked waveform, V. */
  readonly rms: number;
  /** V; null where the coupling has lost it. */
  readonly mean: number | null;
  /** Where the mains-locked waveform is nearest to 0, V, of either sign; null where the coupling has lost it. */
  readonly valley: number | null;
  /** Amplitudes (half of peak-to-peak) of the sines at f, 2f and 4f, V. */
  readonly atMains: number;
  readonly atTwiceMains: number;
  readonly atFourTimesMains: number;
  /** The stronger of f and 2f. */
  readonly strongest: 'mains' | 'twice-mains';
  /**
   * What charges the reservoir: both halves of the mains alike, both but one more than the other (a weak diode, hum),
   * or one only, as after a half-wave rectifier or with a diode open.
   */
  readonly halves: 'both' | 'uneven' | 'one';
  readonly rest: Rest;
  readonly resolution: Resolution;
  /** Null: no sign of clipping. */
  readonly clipped: Clipping | null;
}

/** What isn't locked to the mains, or rings though it is: noise, switching bursts, an oscillation. */
export interface Rest {
  /** Of the samples, V. */
  readonly peakToPeak: number;
  readonly rms: number;
  readonly oscillation: Oscillation | null;
}

export interface Oscillation {
  /**
   * Hz; null: can't tell, because there are fewer than 2.5 samples a cycle or several strong frequencies that don't
   * belong together. A single one above half of the sampling rate shows up at a lower frequency and can't be known
   * for it: this is the frequency as sampled.
   */
  readonly hertz: number | null;
  /** Of the sine as it is on average over the capture, V; a burst is higher while it lasts. */
  readonly amplitude: number;
}

export interface Resolution {
  /** V; null: not quantised as far as one sees. */
  readonly stepVolts: number | null;
  /** Steps in the ripple's peak-to-peak; null: not quantised. */
  readonly stepsInRipple: number | null;
  /** Fewer than 20 steps: the peak-to-peak is good to about 10 % only. */
  readonly coarse: boolean;
}

/** Shares of the samples, 0 to 1, that lie at the end of the instrument's range. */
export interface Clipping {
  readonly low: number;
  readonly high: number;
}

/** Why there is no ripple to tell. */
export type RippleMissing =
  /** Two mains periods are needed to tell the ripple from a drift, and its halves apart. */
  | { readonly kind: 'too-short'; readonly periods: number; readonly periodsNeeded: number }
  /** Fewer samples a mains period than show its shape. */
  | { readonly kind: 'too-slow'; readonly samplesPerPeriod: number; readonly samplesNeeded: number }
  /** Nothing locked to the mains stands out of the rest, V RMS. */
  | { readonly kind: 'no-ripple'; readonly rms: number }
  /** The input is switched to ground. */
  | { readonly kind: 'grounded' }
  /** Sample `at` (from 0), or with `at` null the step or the scale, isn't a usable number. */
  | { readonly kind: 'not-numbers'; readonly at: number | null };
