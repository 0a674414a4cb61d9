import type { Service } from './events.js';
import type { Limit, PointUnit } from '../predict/prediction.js';
import type { Range } from './forecast/forecast.js';

/** `high`: something is about to be destroyed. `medium`: act soon. `low`: know it. */
export type Priority = 'high' | 'medium' | 'low';

/** What an alarm is about, with the numbers that raised it. */
export type AlarmCause =
  | {
      readonly kind: 'over-limit';
      readonly point: string;
      readonly value: number;
      readonly unit: PointUnit;
      readonly limit: Limit;
    }
  | {
      readonly kind: 'outside-prediction';
      readonly point: string;
      readonly value: number;
      readonly unit: PointUnit;
      readonly low: number;
      readonly high: number;
    }
  /** Not there yet, but going to be. */
  | {
      readonly kind: 'heading-over-limit';
      readonly point: string;
      readonly value: number;
      readonly unit: PointUnit;
      readonly limit: Limit;
      /** Where it would settle, 90 %. */
      readonly settled: Range;
      /** Seconds until it is there, 90 %; null when that can't be told. */
      readonly inS: Range | null;
    }
  /** It cools faster than the part can. */
  | {
      readonly kind: 'sensor-lifted';
      readonly point: string;
      readonly instrument: string;
      readonly channel: string;
    }
  /** It reads exactly the same, though its noise or the part's course should move it. */
  | {
      readonly kind: 'stuck-reading';
      readonly point: string;
      readonly value: number;
      readonly unit: PointUnit;
      readonly instrument: string;
      readonly channel: string;
    }
  /** No reading for three of the channel's intervals. */
  | {
      readonly kind: 'stale';
      readonly instrument: string;
      readonly channel: string;
      readonly point: string | null;
      readonly silentMs: number;
    }
  | {
      readonly kind: 'overload';
      readonly instrument: string;
      readonly channel: string;
      readonly point: string | null;
    }
  | { readonly kind: 'instrument-lost'; readonly instrument: string; readonly why: string }
  | { readonly kind: 'not-recording'; readonly why: string }
  /** The rail follows what feeds its regulator. */
  | {
      readonly kind: 'passing-input';
      readonly point: string;
      readonly value: number;
      readonly unit: 'V';
      /** The most that was expected here. */
      readonly expected: number;
      /** Where the regulator is fed, and what is there: measured, or as predicted. */
      readonly input: string;
      readonly inputVolts: number;
      readonly inputMeasured: boolean;
    }
  /** The regulator has too little above its output, at the lowest of each cycle. */
  | {
      readonly kind: 'no-headroom';
      readonly point: string;
      readonly input: string;
      /** At the valley; magnitudes. */
      readonly inputVolts: number;
      readonly setVolts: number;
      /** What the regulator needs above its output. */
      readonly needsVolts: number;
    }
  /** The ripple repeats once a mains cycle where twice is expected, or the reverse. */
  | {
      readonly kind: 'ripple-frequency';
      readonly point: string;
      readonly mainsHertz: number;
      readonly expected: RippleRate;
    }
  | {
      readonly kind: 'oscillating';
      readonly point: string;
      /** Null: the instrument can't tell. */
      readonly hertz: number | null;
      /** V. */
      readonly peakToPeak: number;
      /** The most ripple that was expected here, V peak to peak; null: nothing was. */
      readonly expected: number | null;
    }
  /** The computer's clock was set, or the computer slept. */
  | {
      readonly kind: 'clock-jumped';
      /** ISO 8601: what the clock would have shown, and what it showed. */
      readonly was: string;
      readonly is: string;
      readonly unwatchedMs: number;
    }
  /** The program could do nothing for so long. */
  | { readonly kind: 'stalled'; readonly stalledMs: number }
  /** Something that works beside the watching has stopped. */
  | { readonly kind: 'service-down'; readonly service: Service; readonly name: string; readonly why: string }
  /** Power was to be taken away and was not, as far as one can tell. */
  | { readonly kind: 'cut-off-failed'; readonly output: string; readonly why: string };

export type AlarmKind = AlarmCause['kind'];

/** How often the ripple of a rectifier repeats: once a mains cycle (half wave), or twice. */
export type RippleRate = 'mains' | 'twice-mains';

/**
 * The independent facts of one alarm (OPC 10000-9, AlarmConditionType); the state of IEC 62682 is derived
 * from them by `alarmState`.
 */
export interface AlarmFacts {
  /** Stable: cause kind and subject, `over-limit:logic.case`. */
  readonly id: string;
  readonly cause: AlarmCause;
  readonly priority: Priority;
  readonly active: boolean;
  readonly acknowledged: boolean;
  readonly latched: boolean;
  readonly shelvedUntilMs: number | null;
  /** Ids of the alarms that explain this one. */
  readonly suppressedBy: readonly string[];
  /** It was raised while no other alarm of its group stood: what began the trouble (the trade's first-up alarm). */
  readonly firstUp: boolean;
  readonly raisedAtMs: number;
  readonly returnedAtMs: number | null;
}

/** State names of ISA-18.2 / IEC 62682. */
export type AlarmState =
  | 'normal'
  | 'unacknowledged'
  | 'acknowledged'
  | 'returned-unacknowledged'
  | 'latched-unacknowledged'
  | 'latched-acknowledged'
  | 'shelved'
  | 'suppressed';
