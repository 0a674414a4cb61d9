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
  | { readonly kind: 'not-recording'; readonly why: string };

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
