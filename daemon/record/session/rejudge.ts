import type { PointPrediction } from '../../predict/prediction.js';
import type { StepState } from '../../watch/procedure/procedure-state.js';
import { failureWords } from '../../watch/procedure/words.js';
import { rangeWords, valueWords } from '../../watch/value-words.js';
import { standingsOf, type Standing } from '../report/standing.js';
import type { SessionHistory } from './history.js';

/**
 * What another design makes of a session, a sentence for each test point of which it says something else.
 * @param then as it was judged live
 * @param now the same events judged by the other design
 * @param changed what the other design changes, `rails.logic.cooling.heatsink`; for the words
 */
export function rejudgedWords(
  then: SessionHistory,
  now: SessionHistory,
  changed: readonly string[],
): readonly string[] {
  const before = new Map(standingsOf(then).map((standing) => [standing.prediction.id, standing]));
  return standingsOf(now).flatMap((standing) => {
    const old = before.get(standing.prediction.id);
    if (old === undefined || standing.measured === null) return [];
    const words = pointWords(old, standing, changed);
    return words === null ? [] : [words];
  });
}

/**
 * Where another design's power-up would have stopped, or not: one sentence on the first step that came out otherwise,
 * for the ones behind it follow from that.
 */
export function rewalkedWords(then: SessionHistory, now: SessionHistory): readonly string[] {
  const judged = new Map(now.procedure?.steps.map((step) => [step.id, step]));
  for (const step of then.procedure?.steps ?? []) {
    const other = judged.get(step.id);
    if (other === undefined)
      return [`The power-up has no step ${step.id} by this design; it was ${step.status} then.`];
    if (other.status === step.status || (isInside(other) && isInside(step))) continue;
    const facts = {
      procedure: now.header.plan.procedure,
      prediction: now.header.plan.prediction,
      alarms: [],
    };
    const made = facts.procedure?.steps.find(({ id }) => id === step.id);
    const why =
      made === undefined ? [] : other.failures.map((failure) => failureWords(failure, made, other, facts));
    return [
      `The power-up, step ${step.id}: ${step.status} then, ${other.status} by this design.${why.map((words) => ` ${words}`).join('')}`,
    ];
  }
  return [];
}

function isInside({ status }: StepState): boolean {
  return status === 'ready' || status === 'done';
}

function pointWords(old: Standing, now: Standing, changed: readonly string[]): string | null {
  const { prediction, verdict } = now;
  const band = bandWords(prediction);
  const highest = Math.max(...(now.measured?.buckets.map(({ high }) => high) ?? []));
  const limit = highLimit(prediction);
  const reached = valueWords(highest, prediction.unit);
  if (old.verdict === 'outside' && limit !== null && prediction.high < limit && wasOver(old, highest)) {
    if (bandWords(old.prediction) === band) return stillWords(now);
    const with_ = changed.length === 0 ? 'this design' : `this design's ${changed.slice(0, 3).join(', ')}`;
    return `With ${with_} ${prediction.id} would have stayed inside: it predicts ${band}, its limit is ${valueWords(limit, prediction.unit)}. The session reached ${reached}.`;
  }
  if (old.verdict !== verdict) {
    return `${prediction.id}: ${old.verdict ?? 'not judged'} then (${bandWords(old.prediction)}), ${verdict ?? 'not judged'} by this design (${band}).`;
  }
  return verdict === 'outside' ? stillWords(now) : null;
}

function stillWords({ prediction, remark }: Standing): string {
  return `${prediction.id}: outside by this design too (${bandWords(prediction)}; ${remark}).`;
}

/** Whether what it did wrong was to be too high. */
function wasOver({ prediction }: Standing, highest: number): boolean {
  return highest > prediction.high;
}

function bandWords({ low, high, unit }: PointPrediction): string {
  return rangeWords(low, high, unit);
}

function highLimit({ limits }: PointPrediction): number | null {
  const values = limits.filter(({ side }) => side === 'high').map(({ value }) => value);
  return values.length === 0 ? null : Math.min(...values);
}
