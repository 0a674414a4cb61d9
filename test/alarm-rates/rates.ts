import type { FaultedSession } from './faulted.js';
import type { HealthyHour } from './healthy.js';
import { asking, chattering, mostInTenMinutes } from './measures.js';

/** One measure of the alarms, what is wanted of it, and whether that is so. */
export interface Measure {
  readonly measure: string;
  readonly wanted: string;
  readonly found: string;
  readonly met: boolean;
}

/** What is counted of an hour; its alarms are many. */
export interface HourCount {
  readonly seed: number;
  readonly design: string;
  readonly equipment: string;
  readonly asked: readonly string[];
  readonly mostInTenMinutes: number;
  readonly chattering: readonly string[];
}

export function countHour({ seed, design, equipment, alarms }: HealthyHour): HourCount {
  return {
    seed,
    design,
    equipment,
    asked: asking(alarms).map(({ atMs, alarm }) => `${alarm.id} at ${Math.round(atMs / 1000)} s`),
    mostInTenMinutes: mostInTenMinutes(alarms),
    chattering: chattering(alarms),
  };
}

/** EEMUA 191 as HSE Chemicals Sheet 6 quotes it: at most ten in the ten minutes after an upset. */
const MOST_AFTER_A_FAULT = 10;
/** Stricter than the sheet's one in ten minutes: at a bench nothing is normal about an alarm. */
const MOST_AN_HOUR = 1;
const LEAST_NAMED = 0.9;

/** The table of `npm run alarm-rates`. */
export function measuresOf(
  hours: readonly HourCount[],
  sessions: readonly Omit<FaultedSession, 'alarms'>[],
): readonly Measure[] {
  const anHour = hours.reduce((sum, { asked }) => sum + asked.length, 0) / hours.length;
  const chatters = [...hours, ...sessions].flatMap((one) => one.chattering);
  const named = sessions.filter(({ namesCause }) => namesCause).length / sessions.length;
  const most = Math.max(...sessions.map(({ inTenMinutes }) => inTenMinutes));
  const mean = sessions.reduce((sum, { inTenMinutes }) => sum + inTenMinutes, 0) / sessions.length;
  const unseen = sessions.filter(({ first }) => first === null).length;
  const grouped = sessions.filter(({ oneFirstUp }) => oneFirstUp).length;
  const further = sessions.reduce((sum, one) => sum + one.further, 0);
  const explained = sessions.reduce((sum, one) => sum + one.explained, 0);
  return [
    {
      measure: 'alarms an hour in healthy running',
      wanted: `at most ${MOST_AN_HOUR}`,
      found: `${anHour.toFixed(3)} in ${hours.length} h; most in ten minutes ${Math.max(...hours.map((one) => one.mostInTenMinutes))}`,
      met: anHour <= MOST_AN_HOUR,
    },
    {
      measure: 'alarms in the ten minutes after a fault',
      wanted: `at most ${MOST_AFTER_A_FAULT}`,
      found: `most ${most}, mean ${mean.toFixed(1)} in ${sessions.length} sessions`,
      met: most <= MOST_AFTER_A_FAULT,
    },
    {
      measure: 'the first one names the cause',
      wanted: 'at least nine of ten',
      found: `${(100 * named).toFixed(1)} %`,
      met: named >= LEAST_NAMED,
    },
    {
      measure: 'chattering alarms (three in a minute)',
      wanted: 'none',
      found: String(chatters.length),
      met: chatters.length === 0,
    },
    { measure: 'faults without an alarm', wanted: 'none', found: String(unseen), met: unseen === 0 },
    {
      measure: 'one first-up alarm in each group',
      wanted: 'every session',
      found: `${grouped} of ${sessions.length}; of ${further} further alarms ${explained} explained by another`,
      met: grouped === sessions.length,
    },
  ];
}

/** What a person who mends the rules wants to see of a session: the first alarm, and what came with it. */
export function sessionLine(one: Omit<FaultedSession, 'alarms'>): string {
  const first = one.first === null ? 'no alarm' : `${one.first} after ${one.firstAfterS} s`;
  return `${one.seed} ${one.fault} of ${one.about}, ${one.design}, ${one.equipment}: ${first}, ${one.inTenMinutes} in ten minutes`;
}
