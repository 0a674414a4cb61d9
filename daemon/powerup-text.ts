import type { Action, Check, Feeding, Step } from './procedure/step.js';
import { clockWords } from './watch/clock-words.js';
import type { StepState } from './watch/procedure/procedure-state.js';
import { answerWords, bandWords, wantedOf } from './watch/procedure/words.js';
import { pointStanding } from './watch/standing.js';
import type { WatchState } from './watch/state.js';
import { valueWords } from './watch/value-words.js';

/** What an ordinary terminal shows of a line. */
const WIDTH = 80;

const FED: Readonly<Record<Feeding, string>> = {
  unplugged: 'plug out',
  'behind-lamp': 'behind the lamp',
  mains: 'on the mains',
};

/** How words are made to stand out; the words alone say it too. */
export type Mark = (text: string) => string;

/** A step as a person reads it before the hands move. */
export function stepLines(step: Step, place: number, count: number, red: Mark): string[] {
  return [
    '',
    `STEP ${place} OF ${count}: ${step.title} (${FED[step.feeding]})`,
    ...(step.notYet.length === 0
      ? []
      : wrapped(`${step.notYet.join('; ')}.`, '  DO NOT CONNECT YET: ').map(red)),
    ...step.actions.flatMap(actionLines),
    ...step.points.flatMap(({ point, unit }) => {
      const band = step.bands[point];
      return band === undefined ? [] : [`  reads  ${point.padEnd(26)} ${bandWords(band, unit)}`];
    }),
    ...step.checks.map((check) => `  check  ${check.id.padEnd(26)} ${wantedOf({ ...check, waiver: null })}`),
  ];
}

function actionLines({ words, caution }: Action, at: number): string[] {
  return [
    ...wrapped(words, `  ${at + 1}. `),
    ...(caution === null ? [] : wrapped(caution, '     CAUTION: ')),
  ];
}

/** The question of a check, with what its hand must mind. */
export function askLines(check: Check): string[] {
  return [
    ...(check.caution === null ? [] : wrapped(check.caution, '  CAUTION: ')),
    ...wrapped(`${check.ask} [${check.number === null ? 'y or n' : wantedOf(check)}]`, '  ? '),
  ];
}

/** What a check was answered with. */
export function answeredLine(check: Check, { answers }: StepState): string {
  const answered = answers[check.id];
  if (answered === undefined) return `  ${check.id}: open`;
  return `  ${check.id}: ${answerWords(check, answered.answer)}, ${answered.inside ? 'inside' : 'OUTSIDE'}`;
}

/** One line that is written anew again and again: what the step's test points read now. */
export function liveLine(step: Step, standing: StepState, state: WatchState): string {
  const points = step.points.map(({ point, unit }) => {
    const now = pointStanding(state, point);
    const kept = Object.hasOwn(standing.captured, point) ? ' kept' : '';
    if (now === undefined || now.value === null) return `${point} ?`;
    return `${point} ${valueWords(now.value, unit)}${now.stale ? ' (old)' : kept}`;
  });
  const text = [`${clockWords(state.nowMs)} ${standing.status}`, ...points].join('  ');
  return text.length < WIDTH ? text : `${text.slice(0, WIDTH - 2)}…`;
}

/** Words in lines of a terminal, the later ones indented as far as the first one's sign. */
export function wrapped(text: string, sign: string): string[] {
  if (sign.length + text.length < WIDTH) return [sign + text];
  const lines: string[] = [];
  let line = sign;
  for (const word of text.split(' ')) {
    if (line.length + word.length >= WIDTH && line.trim() !== sign.trim()) {
      lines.push(line.trimEnd());
      line = ' '.repeat(sign.length);
    }
    line += `${word} `;
  }
  return [...lines, line.trimEnd()];
}
