import { clockWords } from './watch/clock-words.js';
import { alarmWords } from './watch/words.js';
import { HEALTHY } from './watch/suspects/clouds.js';
import { evidenceWords, suspectName } from './watch/suspects/suspect-words.js';
import { stallWords } from './watch/fault-words.js';
import { cutOffWords } from './watch/cut-off-words.js';
import type { CutOffEffect, Effect, SuspectEffect } from './watch/effects.js';
import type { WatchState } from './watch/state.js';
import type { Prediction } from './predict/prediction.js';
import type { StepListener } from './session.js';

const BELL = '\u0007';

/**
 * What a person at the terminal hears of a session: one line an alarm or suspect, a bell with the ones that matter,
 * quiet otherwise.
 * @param print writes one line
 */
export function alarmLines(prediction: Prediction, print: (line: string) => void): StepListener {
  return (event, state, effects) => {
    if (event.kind === 'recorder' && event.writing && event.why !== '')
      print(`${clockWords(event.atMs)}  recording: ${event.why}`);
    if (event.kind === 'hook' && event.failed !== null)
      print(`${clockWords(event.atMs)}  hook ${event.hook} came to nothing: ${event.failed}`);
    if (event.kind === 'stall') print(`${clockWords(event.atMs)}  ${stallWords(event)}`);
    for (const effect of effects) {
      const line = effectLine(effect, state, prediction);
      if (line !== null) print(line);
    }
  };
}

function effectLine(effect: Effect, state: WatchState, prediction: Prediction): string | null {
  if (effect.kind === 'suspect') return suspectLine(effect, prediction);
  if (effect.kind === 'cut-off') return cutOffLine(effect, state, prediction);
  return alarmLine(effect, prediction);
}

/** What the readings speak for now; nothing while that is a supply without a fault. */
function suspectLine({ atMs, leading }: SuspectEffect, prediction: Prediction): string | null {
  if (leading === null || leading.fault === HEALTHY) return null;
  const { probability, evidence, action } = leading;
  const labelOf = (point: string): string => prediction.points[point]?.label ?? point;
  const why = evidence[0] === undefined ? '' : ` ${evidenceWords(evidence[0], labelOf)}`;
  const percent = (100 * probability).toFixed(0);
  return `${clockWords(atMs)}  likely (${percent} %): ${suspectName(leading)}.${why} ${action.words}`;
}

/** One effect a line, as JSON. */
export function effectLines(print: (line: string) => void): StepListener {
  return (_event, _state, effects) => {
    for (const effect of effects) print(JSON.stringify(effect));
  };
}

/** Every change is told: whoever sits here must know whether power is on. */
function cutOffLine(effect: CutOffEffect, { alarms }: WatchState, prediction: Prediction): string {
  const alarm = alarms.find(({ id }) => id === effect.alarm);
  const spoken = alarm === undefined ? null : alarmWords(alarm.cause, prediction).spoken;
  const isLoud = effect.change === 'dropped' || effect.change === 'failed';
  return `${isLoud ? BELL : ''}${clockWords(effect.atMs)}  ${cutOffWords(effect, spoken)}`;
}

function alarmLine(effect: Effect, prediction: Prediction): string | null {
  if (effect.kind !== 'alarm' || effect.alarm.suppressedBy.length > 0) return null;
  const { alarm, change, atMs } = effect;
  const time = clockWords(atMs);
  const { sentence, cure } = alarmWords(alarm.cause, prediction);
  switch (change) {
    case 'raised':
    case 'worse':
    case 'unsuppressed':
      return `${alarm.priority === 'low' ? '' : BELL}${time}  ALARM (${alarm.priority}${alarm.firstUp ? ', first' : ''}) ${sentence} ${cure}`;
    case 'returned':
      return `${time}  back within: ${alarm.id}`;
    case 'acknowledged':
      return `${time}  acknowledged: ${alarm.id}`;
    case 'shelved':
      return `${time}  put aside until ${clockWords(alarm.shelvedUntilMs ?? atMs)}: ${alarm.id}`;
    case 'unshelved':
      return `${time}  no longer put aside: ${alarm.id}. ${sentence} ${cure}`;
    case 'suppressed':
    case 'removed':
      return null;
  }
}
