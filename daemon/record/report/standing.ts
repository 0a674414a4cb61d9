import type { PointPrediction } from '../../predict/prediction.js';
import { conformanceProbability, halfWidth, verdictOf } from '../../watch/compare.js';
import type { Verdict } from '../../watch/effects.js';
import { rangeWords } from '../../watch/value-words.js';
import { verdictWords } from '../../watch/verdict-words.js';
import type { PointHistory, SessionHistory } from '../session/history.js';
import { spanWords } from '../session/time-of-day.js';

/** How a test point stands in the report. */
export interface Standing {
  readonly prediction: PointPrediction;
  readonly measured: PointHistory | null;
  /** Over the whole session: an alarm counts even if the value came back. Null: nothing to judge by. */
  readonly verdict: Verdict | null;
  /** Half-width of the meter's uncertainty (k = 2); null when its accuracy isn't stated. */
  readonly uncertainty: number | null;
  /** That the settled value lies in the band, the meter counted in; null when there is none or it is over a limit. */
  readonly probability: number | null;
  /** What needs saying beside the numbers. */
  readonly remark: string;
}

const STILL_MOVING_PER_MINUTE = 1;

/** Every test point of the design. */
export function standingsOf(history: SessionHistory): readonly Standing[] {
  const byId = new Map(history.points.map((point) => [point.id, point]));
  return Object.values(history.expected.points).map((prediction) =>
    standingOf(prediction, byId.get(prediction.id) ?? null, history),
  );
}

function standingOf(
  prediction: PointPrediction,
  measured: PointHistory | null,
  history: SessionHistory,
): Standing {
  const alarm = worstAlarm(prediction.id, history);
  const settled = measured?.settled ?? null;
  const uncertainty =
    settled === null || measured?.accuracy === undefined ? null : halfWidth(settled.mean, measured.accuracy);
  const atEnd = settled === null ? null : verdictOf(settled.mean, prediction, uncertainty ?? 0);
  const low = prediction.coldest ?? prediction.low;
  const probability =
    settled === null || uncertainty === null || alarm !== null
      ? null
      : conformanceProbability(settled.mean, low, prediction.high, uncertainty);
  const doubtOf = (): string | null => {
    if (alarm !== null || atEnd !== 'doubtful' || settled === null) return null;
    const { unit, high } = prediction;
    return verdictWords({ verdict: atEnd, value: settled.mean, unit, low, high, probability });
  };
  return {
    prediction,
    measured,
    verdict: alarm === null ? atEnd : 'outside',
    uncertainty,
    probability,
    remark: [alarm, doubtOf(), movement(prediction, measured)].filter((one) => one !== null).join('; '),
  };
}

/** The gravest alarm that this point raised, in a few words. */
function worstAlarm(id: string, { alarms }: SessionHistory): string | null {
  const raised = alarms.filter(
    ({ change, alarm: { cause } }) => change === 'raised' && 'point' in cause && cause.point === id,
  );
  const limit = raised.find(({ alarm }) => alarm.cause.kind === 'over-limit');
  if (limit !== undefined) return `over its limit at ${spanWords(limit.atMs)}`;
  const outside = raised.find(({ alarm }) => alarm.cause.kind === 'outside-prediction');
  return outside === undefined ? null : `outside its prediction at ${spanWords(outside.atMs)}`;
}

function movement(prediction: PointPrediction, measured: PointHistory | null): string | null {
  const { unit } = prediction;
  const settled = measured?.settled ?? null;
  if (unit !== 'degC' && settled !== null && settled.high - settled.low > prediction.high - prediction.low) {
    return `not steady: ${rangeWords(settled.low, settled.high, unit)} in that half minute`;
  }
  const perMinute = measured?.settled?.perMinute ?? null;
  if (unit !== 'degC' || perMinute === null || Math.abs(perMinute) < STILL_MOVING_PER_MINUTE) return null;
  const rate = `${Math.abs(perMinute).toFixed(1)} K a minute`;
  return perMinute > 0 ? `still rising ${rate}: not settled` : `falling ${rate}`;
}

/** Lowest and highest value of the session, `5.01 to 18.60 V`. */
export function extremesWords({ prediction: { unit }, measured }: Standing): string {
  if (measured === null || measured.buckets.length === 0) return '';
  const low = Math.min(...measured.buckets.map((bucket) => bucket.low));
  const high = Math.max(...measured.buckets.map((bucket) => bucket.high));
  return rangeWords(low, high, unit);
}
