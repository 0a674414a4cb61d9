import type { PeriodicWaveform } from '../follower/periodic-waveform.js';

/** The volts at a place that feeds others, over one period; magnitudes. */
export interface Feed {
  /** V. */
  readonly mean: number;
  readonly valley: number;
  readonly peak: number;
  /** The same sampled, worked out when first asked for after a solve. The buffers are reused by the next one. */
  wave(): PeriodicWaveform;
}
