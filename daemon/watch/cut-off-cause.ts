import type { AlarmFacts } from './alarm.js';
import { alarmPoint } from './alarm-subject.js';
import type { Draft } from './draft.js';
import type { CutOffPlan } from './plan.js';

/** The first active alarm that is to drop this cut-off, put aside and explained ones too. */
export function droppingAlarm(
  { alarms, plan }: Pick<Draft, 'alarms' | 'plan'>,
  output: string,
): AlarmFacts | undefined {
  const cutOff = plan.cutOffs?.find((one) => one.output === output);
  return cutOff && alarms.find((alarm) => alarm.active && drops(cutOff, alarm));
}

function drops({ on, at }: CutOffPlan, { cause, priority }: AlarmFacts): boolean {
  if (!on.some((word) => word === cause.kind || word === priority)) return false;
  const point = alarmPoint(cause);
  return at === null || point === null || at.includes(point);
}
