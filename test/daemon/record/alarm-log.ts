import { replay } from '../../../daemon/record/replay.js';
import { spanWords } from '../../../daemon/record/session/time-of-day.js';

export interface AlarmLog {
  readonly text: string;
  readonly problems: readonly string[];
}

/** What alarms did in a recording, one change a line: `0:52 raised high over-limit:logic.case`. */
export async function alarmLog(file: string): Promise<AlarmLog> {
  const lines: string[] = [];
  const problems: string[] = [];
  await replay(file, {
    speed: 'fast',
    onProblem: ({ why }) => problems.push(why),
    onEffect: (effect) => {
      if (effect.kind !== 'alarm') return;
      const { change, alarm, atMs } = effect;
      lines.push(`${spanWords(atMs)} (${atMs} ms) ${change} ${alarm.priority} ${alarm.id}`);
    },
  });
  return { text: lines.length === 0 ? 'no alarm\n' : `${lines.join('\n')}\n`, problems };
}
