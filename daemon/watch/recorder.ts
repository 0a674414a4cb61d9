import { raiseAlarm, returnAlarm } from './alarms.js';
import type { Draft } from './draft.js';
import type { RecorderEvent } from './events.js';

const NOT_RECORDING = 'not-recording';

/** The recording is being written, or not any more. */
export function takeRecorder(draft: Draft, event: RecorderEvent): void {
  draft.recorder = { writing: event.writing, why: event.why };
  settleRecorder(draft);
}

/** Raises or returns the alarm of the recorder. */
export function settleRecorder(draft: Draft): void {
  const { writing, why } = draft.recorder;
  if (writing === null) return;
  const alarm = draft.alarms.find(({ id }) => id === NOT_RECORDING);
  if (writing) {
    if (alarm?.active === true) returnAlarm(draft, alarm);
  } else if (alarm?.active !== true) {
    raiseAlarm(draft, {
      id: NOT_RECORDING,
      cause: { kind: 'not-recording', why },
      priority: 'medium',
      latched: false,
      suppressedBy: [],
    });
  }
}
