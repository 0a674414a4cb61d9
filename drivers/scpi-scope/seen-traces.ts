import { createHash } from 'node:crypto';
import type { Capture, Samples } from '../driver.js';

/** Noise and the mains never repeat a waveform of so many points and levels to the bit; a quiet trace may. */
const FEWEST_POINTS = 200;
const FEWEST_LEVELS = 8;

/**
 * Tells a new acquisition from the one before: a scope that has not triggered still sends its last trace when it is
 * asked, and some say at once that a single acquisition is done (common practice).
 */
export class SeenTraces {
  readonly #hashes = new Map<string, string>();

  /** Whether the samples aren't those of this channel's capture before. */
  isNew({ channel, samples }: Capture): boolean {
    const hash = createHash('sha256').update(samples).digest('base64');
    const isSame = this.#hashes.get(channel) === hash;
    this.#hashes.set(channel, hash);
    return !isSame || samples.length < FEWEST_POINTS || isQuiet(samples);
  }
}

function isQuiet(samples: Samples): boolean {
  return new Set(samples).size < FEWEST_LEVELS;
}
