import type { AlarmCause } from './alarm.js';

/** The test point that an alarm is about; null for one about an instrument, the recording, the clock or an output. */
export function alarmPoint(cause: AlarmCause): string | null {
  return 'point' in cause ? cause.point : null;
}

/** The test point whose readings would tell that the alarm has returned; null where something else tells. */
export function watchedPoint(cause: AlarmCause): string | null {
  return cause.kind === 'stale' ? null : alarmPoint(cause);
}

/**
 * What fails together: the supply is one circuit, an instrument with its channels is another matter. The first alarm
 * of a group is the one that began the trouble.
 */
export function alarmGroup(cause: AlarmCause): string {
  const isOfProbe = cause.kind === 'sensor-lifted' || cause.kind === 'stuck-reading';
  if ('instrument' in cause && !isOfProbe) return `instrument ${cause.instrument}`;
  if (cause.kind === 'cut-off-failed') return `output ${cause.output}`;
  if (cause.kind === 'service-down') return `service ${cause.service} ${cause.name}`;
  return 'point' in cause ? 'supply' : cause.kind;
}
