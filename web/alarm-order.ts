import type { AlarmView } from '../daemon/serve/messages.js';

type AlarmState = AlarmView['state'];
type Priority = AlarmView['priority'];

/** The states of IEC 62682 in words, with what they mean for the person. */
export const ALARM_STATE_WORDS: Readonly<Record<AlarmState, string>> = {
  normal: 'normal',
  unacknowledged: 'unacknowledged',
  acknowledged: 'acknowledged, still so',
  'returned-unacknowledged': 'over, unacknowledged',
  'latched-unacknowledged': 'over, latched until it is reset, unacknowledged',
  'latched-acknowledged': 'over, latched until it is reset',
  shelved: 'shelved',
  suppressed: 'explained by another alarm',
};

const PRIORITIES: readonly Priority[] = ['high', 'medium', 'low'];
const STATES: readonly AlarmState[] = [
  'unacknowledged',
  'latched-unacknowledged',
  'acknowledged',
  'latched-acknowledged',
  'returned-unacknowledged',
  'suppressed',
  'shelved',
  'normal',
];

/** Whether a person has still to say that they have seen it. */
export function awaitsAcknowledge(alarm: AlarmView): boolean {
  return alarm.state.endsWith('unacknowledged');
}

/** Whether it is put aside: by a person for a while, or because another alarm explains it. */
export function isAside(alarm: AlarmView): boolean {
  return alarm.state === 'shelved' || alarm.state === 'suppressed';
}

/** Whether what it tells has gone by, though it still waits for a person. */
export function isOver({ state }: AlarmView): boolean {
  return /^(returned|latched)/.test(state);
}

/** Worst first: what is put aside last, then by priority, by state, newest first. */
export function worstFirst(alarms: readonly AlarmView[]): readonly AlarmView[] {
  return alarms
    .filter((alarm) => alarm.state !== 'normal')
    .sort(
      (a, b) =>
        Number(isAside(a)) - Number(isAside(b)) ||
        PRIORITIES.indexOf(a.priority) - PRIORITIES.indexOf(b.priority) ||
        STATES.indexOf(a.state) - STATES.indexOf(b.state) ||
        b.raisedAtMs - a.raisedAtMs,
    );
}

/** The alarm that the acknowledge key means: the worst that awaits it. */
export function topUnacknowledged(alarms: readonly AlarmView[]): AlarmView | null {
  return worstFirst(alarms).find(awaitsAcknowledge) ?? null;
}
