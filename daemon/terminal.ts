import { clockWords } from './watch/clock-words.js';
import { alarmWords } from './watch/words.js';
import type { Effect, SuspectEffect } from './watch/effects.js';
import { HEALTHY } from './watch/suspects/clouds.js';
import { evidenceWords } from './watch/suspects/suspect-words.js';
import type { Prediction } from './predict/prediction.js';
import type { StepListener } from './session.js';

const BELL = '\u0007';

/**
 * What a person at the terminal hears of a session: one line an alarm or suspect, a bell with the ones that matter,
 * quiet otherwise.
 * @param print writes one line
 */
export function alarmLines(prediction: Prediction, print: (line: string) => void): StepListener {
  return (event, _state, effects) => {
    if (event.kind === 'recorder' && event.writing && event.why !== '')
      print(`${clockWords(event.atMs)}  recording: ${event.why}`);
    for (const effect of effects) {
      const line =
        effect.kind === 'suspect' ? suspectLine(effect, prediction) : alarmLine(effect, prediction);
      if (line !== null) print(line);
    }
  };
}

/** What the readings speak for now; nothing while that is a supply without a fault. */
function suspectLine({ atMs, leading }: SuspectEffect, prediction: Prediction): string | null {
  if (leading === null || leading.fault === HEALTHY) return null;
  const { title, about, probability, evidence, action } = leading;
  const labelOf = (point: string): string => prediction.points[point]?.label ?? point;
  const where = about === '' || title.includes(about) ? '' : ` (${about})`;
  const why = evidence[0] === undefined ? '' : ` ${evidenceWords(evidence[0], labelOf)}`;
  const percent = (100 * probability).toFixed(0);
  return `${clockWords(atMs)}  likely (${percent} %): ${title}${where}.${why} ${action.words}`;
}

/** One effect a line, as JSON. */
export function effectLines(print: (line: string) => void): StepListener {
  return (_event, _state, effects) => {
    for (const effect of effects) print(JSON.stringify(effect));
  };
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
      return `${alarm.priority === 'low' ? '' : BELL}${time}  ALARM (${alarm.priority}) ${sentence} ${cure}`;
    case 'returned':
      return `${time}  back within: ${alarm.id}`;
    case 'acknowledged':
      return `${time}  acknowledged: ${alarm.id}`;
    case 'suppressed':
    case 'removed':
      return null;
  }
}
