import type { AlarmFacts } from './alarm.js';
import { shelveAlarm, unshelveAlarm } from './alarms.js';
import type { Draft } from './draft.js';
import type { ShelveEvent } from './events.js';

/** What destroys something may be put aside for this long at most; everything else for a working day. */
const MOST_MS = { high: 10 * 60_000, other: 8 * 3_600_000 } as const;

/** The longest that an alarm may be put aside, ms (OPC 10000-9, 5.8.17: timed shelving has a maximum). */
export function longestShelvedMs({ priority }: Pick<AlarmFacts, 'priority'>): number {
  return priority === 'high' ? MOST_MS.high : MOST_MS.other;
}

/** A person puts an alarm aside, or takes it up again. It goes on being followed and stays in the list. */
export function takeShelve(draft: Draft, { alarm: id, untilMs }: ShelveEvent): void {
  const alarm = draft.alarms.find((one) => one.id === id);
  if (alarm === undefined) return;
  if (untilMs === null || untilMs <= draft.atMs) return endShelving(draft, alarm);
  shelveAlarm(draft, alarm, Math.min(untilMs, draft.atMs + longestShelvedMs(alarm)));
}

/** What was put aside for long enough asks for its person again. */
export function expireShelving(draft: Draft): void {
  for (const alarm of draft.alarms) {
    if (alarm.shelvedUntilMs !== null && alarm.shelvedUntilMs <= draft.atMs) unshelveAlarm(draft, alarm);
  }
}

function endShelving(draft: Draft, alarm: AlarmFacts): void {
  if (alarm.shelvedUntilMs !== null) unshelveAlarm(draft, alarm);
}
