import { raiseAlarm, returnAlarm } from './alarms.js';
import type { Draft } from './draft.js';
import type { ClockEvent } from './events.js';
import { supplyLookedOn } from './supply-off.js';

export const CLOCK_JUMPED = 'clock-jumped';
/** Under this nobody misses a reading that matters to what heats. */
export const UNWATCHED_MS = 2000;

/** The clock was set, or the computer slept: over as soon as it is told, and there until a person has seen it. */
export function takeClock(draft: Draft, { was, is, unwatchedMs }: ClockEvent): void {
  if (unwatchedMs === undefined) return;
  const isGrave = unwatchedMs >= UNWATCHED_MS && supplyLookedOn(draft);
  raiseAlarm(draft, {
    id: CLOCK_JUMPED,
    cause: { kind: 'clock-jumped', was, is, unwatchedMs },
    priority: isGrave ? 'medium' : 'low',
    latched: false,
    suppressedBy: [],
  });
  settleClock(draft);
}

/** Returns it; later when it has just come for the second time. */
export function settleClock(draft: Draft): void {
  if (draft.alarms.length === 0) return;
  const alarm = draft.alarms.find(({ id }) => id === CLOCK_JUMPED);
  if (alarm?.active === true) returnAlarm(draft, alarm);
}
