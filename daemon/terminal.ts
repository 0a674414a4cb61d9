import { alarmWords } from './watch/words.js';
import type { Effect } from './watch/effects.js';
import type { Prediction } from './predict/prediction.js';
import type { StepListener } from './session.js';

const BELL = '\u0007';

/**
 * What a person at the terminal hears of a session: one line an alarm, a bell with the ones that matter, quiet
 * otherwise.
 * @param print writes one line
 */
export function alarmLines(prediction: Prediction, print: (line: string) => void): StepListener {
  return (event, _state, effects) => {
    if (event.kind === 'recorder' && event.writing && event.why !== '')
      print(`${clockWords(event.atMs)}  recording: ${event.why}`);
    for (const effect of effects) {
      const line = alarmLine(effect, prediction);
      if (line !== null) print(line);
    }
  };
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

/** `12:05` for 12 minutes 5 seconds. */
export function clockWords(atMs: number): string {
  const seconds = Math.floor(atMs / 1000);
  const minutes = Math.floor(seconds / 60);
  return `${String(minutes).padStart(2, '0')}:${String(seconds % 60).padStart(2, '0')}`;
}
