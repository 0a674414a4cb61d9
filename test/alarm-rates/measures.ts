import type { AlarmEffect } from '../../daemon/watch/effects.js';

/** Three or more in a minute chatter (trade press on ISA-18.2). */
const CHATTERS = 3;
const CHATTER_MS = 60_000;

/** Whether this change asks for its person: what another alarm explains, and what was put aside, does not. */
export function asks({ change, alarm }: AlarmEffect): boolean {
  if (alarm.suppressedBy.length > 0 || alarm.shelvedUntilMs !== null) return false;
  return change === 'raised' || change === 'worse' || (change === 'unsuppressed' && !alarm.acknowledged);
}

export function asking(alarms: readonly AlarmEffect[], fromMs = 0, toMs = Infinity): readonly AlarmEffect[] {
  return alarms.filter((one) => asks(one) && one.atMs >= fromMs && one.atMs < toMs);
}

/** Ids of the alarms that asked for their person, or were raised, three times or more within a minute. */
export function chattering(alarms: readonly AlarmEffect[]): readonly string[] {
  const times = new Map<string, number[]>();
  for (const one of alarms.filter((each) => each.change === 'raised' || asks(each)))
    times.set(one.alarm.id, [...(times.get(one.alarm.id) ?? []), one.atMs]);
  return [...times]
    .filter(([, at]) => at.some((first, k) => (at[k + CHATTERS - 1] ?? Infinity) - first < CHATTER_MS))
    .map(([id]) => id);
}

/** The most that asked within any ten minutes (EEMUA 191, as HSE Chemicals Sheet 6 has it). */
export function mostInTenMinutes(alarms: readonly AlarmEffect[]): number {
  const at = asking(alarms).map(({ atMs }) => atMs);
  return at.reduce((most, last, k) => {
    const within = at.slice(0, k + 1).filter((first) => last - first < 600_000).length;
    return Math.max(most, within);
  }, 0);
}
