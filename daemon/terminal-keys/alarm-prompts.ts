import type { AlarmFacts } from '../watch/alarm.js';
import { alarmState } from '../watch/alarm-state.js';
import { longestShelvedMs } from '../watch/shelving.js';
import { alarmList } from '../watch/standing.js';
import { alarmWords } from '../watch/words.js';
import { ENTER, type Hands, type Prompt } from './prompt.js';

const MINUTES = [5, 10, 30, 60, 120, 240, 480];
const USUAL_MINUTES = 10;

/** Asks which alarm has been seen; the worst first. */
export function acknowledgePrompt(hands: Hands): Prompt | null {
  return alarmPrompt(hands, {
    none: 'No alarm waits to be acknowledged.',
    isWanted: (alarm) => alarmState(alarm).endsWith('unacknowledged') || isToReset(alarm),
    subject: (alarm) => (isToReset(alarm) ? 'Reset' : 'Acknowledge'),
    enter: (alarm) => (isToReset(alarm) ? 'reset it' : 'I have seen it'),
    more: '',
    answer(key, { id }) {
      if (key === ENTER) hands.act({ kind: 'acknowledge', alarm: id });
      return key === ENTER;
    },
  });
}

/** Acknowledged, over, and latched until somebody resets it. */
function isToReset(alarm: AlarmFacts): boolean {
  return alarmState(alarm) === 'latched-acknowledged';
}

/** Asks which alarm is to be put aside and for how long, or to be taken up again. */
export function shelvePrompt(hands: Hands): Prompt | null {
  let wanted = USUAL_MINUTES;
  const minutesFor = (alarm: AlarmFacts): number => Math.min(wanted, longestShelvedMs(alarm) / 60_000);
  return alarmPrompt(hands, {
    none: 'No alarm can be put aside.',
    isWanted: (alarm) => alarmState(alarm) !== 'suppressed',
    subject: (alarm) =>
      alarm.shelvedUntilMs === null ? `Put aside for ${minutesFor(alarm)} min` : 'Take up again',
    enter: (alarm) => (alarm.shelvedUntilMs === null ? 'put it aside' : 'take it up'),
    more: '+ -: longer, shorter   ',
    answer(key, alarm) {
      const minutes = minutesFor(alarm);
      if (key === '+') wanted = MINUTES.find((one) => one > minutes) ?? minutes;
      if (key === '-') wanted = MINUTES.findLast((one) => one < minutes) ?? minutes;
      if (key !== ENTER) return false;
      hands.act({ kind: 'shelve', alarm: alarm.id, minutes: alarm.shelvedUntilMs === null ? minutes : null });
      return true;
    },
  });
}

interface AlarmQuestion {
  /** What is said where no alarm is wanted. */
  readonly none: string;
  readonly isWanted: (alarm: AlarmFacts) => boolean;
  readonly subject: (alarm: AlarmFacts) => string;
  readonly enter: (alarm: AlarmFacts) => string;
  /** More keys than Enter, n and Esc. */
  readonly more: string;
  /** Whether the key ends it. */
  readonly answer: (key: string, alarm: AlarmFacts) => boolean;
}

/** About one alarm, by its id: another one that comes meanwhile never takes its place under the finger. */
function alarmPrompt(hands: Hands, question: AlarmQuestion): Prompt | null {
  const wanted = (): readonly AlarmFacts[] => alarmList(hands.state).filter(question.isWanted);
  let id = wanted()[0]?.id;
  if (id === undefined) {
    hands.say(question.none);
    return null;
  }
  const prompt: Prompt = {
    wantsWords: false,
    lines() {
      const alarms = wanted();
      const alarm = alarms.find((one) => one.id === id);
      if (alarm === undefined) return [`${id} is over.`, 'n: another   Esc: leave it'];
      const { sentence } = alarmWords(alarm.cause, hands.state.plan.prediction);
      const others = alarms.length > 1 ? `n: another (${alarms.length - 1})   ` : '';
      return [
        `${question.subject(alarm)}: ${sentence}`,
        `Enter: ${question.enter(alarm)}   ${question.more}${others}Esc: leave it`,
      ];
    },
    answer(key) {
      const alarms = wanted();
      const at = alarms.findIndex((one) => one.id === id);
      if (key === 'n') {
        const next = alarms[(at + 1) % alarms.length];
        if (next === undefined) return null;
        id = next.id;
        return prompt;
      }
      const alarm = alarms[at];
      return alarm !== undefined && question.answer(key, alarm) ? null : prompt;
    },
  };
  return prompt;
}
