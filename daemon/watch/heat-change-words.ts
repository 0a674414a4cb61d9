import type { ForecastEffect } from './effects.js';
import type { Change } from './forecast/change.js';
import { pointLabel } from './point-words.js';
import { predictionOf } from './sample.js';
import type { WatchState } from './state.js';

/** A change is told so long after it at most: what has stood since before that is no cause of it. */
const TOLD_WITHIN_MS = 60_000;

type HeatChange = Extract<Change, 'heats-more' | 'heats-less' | 'switched-off'>;

const WORDS: Readonly<Record<HeatChange, readonly [sameCurrent: string, otherwise: string]>> = {
  'heats-more': [
    'is cooled worse than before, at the same current (lid closed, fan stopped, heatsink loose?)',
    'heats more than before (more load, or cooled worse)',
  ],
  'heats-less': [
    'is cooled better than before, at the same current (lid opened, fan started?)',
    'heats less than before (less load, or cooled better)',
  ],
  'switched-off': ['is no longer heated', 'is no longer heated'],
};

/**
 * What made a temperature leave its curve. More heat and worse cooling look alike on a probe; a current that is measured
 * and stood all the while tells them apart (heat is what the current makes, common practice). Null: nothing to tell.
 */
export function heatChangeWords(
  { atMs, point, change }: Pick<ForecastEffect, 'atMs' | 'point' | 'change'>,
  state: Pick<WatchState, 'plan' | 'points' | 'load'>,
): string | null {
  if (change === null || !(change in WORDS)) return null;
  const [sameCurrent, otherwise] = WORDS[change as HeatChange];
  return `${pointLabel(state.plan.prediction, point)} ${hasCurrentStood(state, atMs) ? sameCurrent : otherwise}`;
}

function hasCurrentStood({ plan, points, load }: Pick<WatchState, 'plan' | 'points' | 'load'>, atMs: number) {
  const before = atMs - TOLD_WITHIN_MS;
  if (load.sinceMs > before) return false;
  return points.some(({ id, settling }) => {
    const unit = predictionOf(plan.prediction, id)?.unit;
    return (unit === 'A' || unit === 'Arms') && settling?.kind === 'standing' && settling.sinceMs <= before;
  });
}
