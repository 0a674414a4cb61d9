import type { AlarmView } from '../daemon/serve/messages.js';

/** One beep of a pattern. */
export interface Pulse {
  readonly atS: number;
  readonly lengthS: number;
  readonly hertz: number;
}

export interface TonePattern {
  readonly pulses: readonly Pulse[];
  /** From the start of one burst to the start of the next. */
  readonly repeatEveryS: number;
  /** Bursts after which it's quiet; until acknowledged when absent. */
  readonly mostBursts?: number;
}

/** What can be heard: an alarm's priority, or that the page lost the bench. */
export type ToneName = AlarmView['priority'] | 'not-live';

/**
 * More pulses and less pause the more urgent, so that the priority is known without looking. Pitches between
 * 400 Hz and 1.1 kHz carry over a bench (common practice).
 */
export const TONE_PATTERNS: Readonly<Record<ToneName, TonePattern>> = {
  high: {
    pulses: [0, 0.16, 0.32, 0.64, 0.8].map((atS) => ({ atS, lengthS: 0.11, hertz: 980 })),
    repeatEveryS: 2.2,
  },
  medium: {
    pulses: [0, 0.3, 0.6].map((atS) => ({ atS, lengthS: 0.2, hertz: 700 })),
    repeatEveryS: 6,
  },
  low: { pulses: [{ atS: 0, lengthS: 0.3, hertz: 480 }], repeatEveryS: 20 },
  'not-live': {
    pulses: [
      { atS: 0, lengthS: 0.28, hertz: 620 },
      { atS: 0.34, lengthS: 0.45, hertz: 410 },
    ],
    repeatEveryS: 8,
    mostBursts: 5,
  },
};

/** A verdict for ears where no voice exists: one high pulse is inside, two are doubtful, three falling ones outside. */
export const VERDICT_TONES: Readonly<Record<'inside' | 'doubtful' | 'outside', readonly Pulse[]>> = {
  inside: [{ atS: 0, lengthS: 0.12, hertz: 880 }],
  doubtful: [0, 0.2].map((atS) => ({ atS, lengthS: 0.12, hertz: 660 })),
  outside: [560, 460, 360].map((hertz, i) => ({ atS: 0.22 * i, lengthS: 0.16, hertz })),
};
