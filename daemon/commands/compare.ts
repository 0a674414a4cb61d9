import { EXIT, readArguments, type Command } from '../command-line.js';
import type { AlarmEffect } from '../watch/effects.js';
import { compareSessions, differenceWords } from '../record/session/compare-sessions.js';
import { readHistory, type SessionHistory } from '../record/session/history.js';
import { spanWords, TimeOfDay } from '../record/session/time-of-day.js';
import { withRecording } from './recording-problems.js';

const USAGE = 'railminder compare BEFORE AFTER';

/** What changed between two sessions. */
export const compareCommand: Command = {
  name: 'compare',
  does: 'says what changed from one recorded session to another',
  help: `${USAGE}

Lays two recordings over each other at the first sign of volts and says for each test point what changed. A difference
within the meters' uncertainty, or smaller than the values wandered by themselves, counts as unchanged. A temperature
that hadn't settled is compared at the same time after power-on.`,
  async run(args) {
    const { positionals } = readArguments(args, USAGE, {}, { atLeast: 2, atMost: 2 });
    const [before = '', after = ''] = positionals;
    return withRecording(async () => {
      const sessions = [await readHistory(before), await readHistory(after)] as const;
      for (const line of comparisonLines(...sessions)) console.log(line);
      const problems = sessions.flatMap((session) => session.problems);
      for (const { why } of problems) console.error(why);
      return problems.length > 0 ? EXIT.outside : EXIT.fine;
    });
  },
};

function comparisonLines(before: SessionHistory, after: SessionHistory): string[] {
  const { differences, onlyBefore, onlyAfter } = compareSessions(before, after);
  return [
    `Before: ${sessionWords(before)}`,
    `After:  ${sessionWords(after)}`,
    ...(before.header.design.text === after.header.design.text
      ? []
      : ['The design file differs between them.']),
    '',
    ...differences.map((difference) => `  ${differenceWords(difference)}`),
    ...(differences.length === 0 ? ['  No test point was measured in both with the supply on.'] : []),
    ...(onlyBefore.length > 0 ? [`  measured before only: ${onlyBefore.join(', ')}`] : []),
    ...(onlyAfter.length > 0 ? [`  measured after only: ${onlyAfter.join(', ')}`] : []),
    '',
    `  alarms before: ${alarmWords(before.alarms)}`,
    `  alarms after:  ${alarmWords(after.alarms)}`,
  ];
}

function sessionWords({ file, header, lengthMs, powerOnAtMs }: SessionHistory): string {
  const on =
    powerOnAtMs === null
      ? 'no volts seen, so aligned at its start'
      : `first volts at ${spanWords(powerOnAtMs)}`;
  return `${file}, ${new TimeOfDay(header.startedAt).words(0)}, ${spanWords(lengthMs)} long, ${on}`;
}

function alarmWords(alarms: readonly AlarmEffect[]): string {
  const ids = new Set(alarms.flatMap(({ change, alarm }) => (change === 'raised' ? [alarm.id] : [])));
  return ids.size === 0 ? 'none' : [...ids].join(', ');
}
