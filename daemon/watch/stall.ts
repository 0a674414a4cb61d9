import { raiseAlarm, returnAlarm } from './alarms.js';
import { CLOCK_JUMPED, UNWATCHED_MS } from './clock-jump.js';
import { dropUnwatched } from './cut-off.js';
import type { Draft } from './draft.js';
import type { StallEvent } from './events.js';
import { supplyLookedOn } from './supply-off.js';

const STALLED = 'stalled';
/** A computer that slept is told as such in the same look. */
const SAME_LOOK_MS = 1000;

/** The program was held: over as soon as it is told. After a long one nobody knows what power did meanwhile. */
export function takeStall(draft: Draft, { stalledMs }: StallEvent): void {
  if (stalledMs < UNWATCHED_MS) return;
  const slept = draft.alarms.find(({ id }) => id === CLOCK_JUMPED);
  if (slept === undefined || draft.atMs - slept.raisedAtMs > SAME_LOOK_MS) {
    raiseAlarm(draft, {
      id: STALLED,
      cause: { kind: 'stalled', stalledMs },
      priority: supplyLookedOn(draft) ? 'medium' : 'low',
      latched: false,
      suppressedBy: [],
    });
  }
  const why = draft.alarms.find(({ id }) => id === STALLED) ?? slept ?? null;
  dropUnwatched(draft, why);
  settleStall(draft);
}

/** Returns it; later when it has just come for the second time. */
export function settleStall(draft: Draft): void {
  if (draft.alarms.length === 0) return;
  const alarm = draft.alarms.find(({ id }) => id === STALLED);
  if (alarm?.active === true) returnAlarm(draft, alarm);
}
