import { EXIT, readArguments, type Command } from '../command-line.js';
import { loadDesign } from '../design/load.js';
import type { Prediction } from '../predict/prediction.js';
import { readHistory } from '../record/session/history.js';
import { settledReadings, type SettledReadings } from '../settled-readings.js';
import { HEALTHY, suspectClouds } from '../watch/suspects/clouds.js';
import { judge } from '../watch/suspects/judge.js';
import type { Judgement, Suspect } from '../watch/suspects/judgement.js';
import { beginSuspects } from '../watch/suspects/model.js';
import {
  alikeWords,
  evidenceWords,
  nextWords,
  oddWords,
  parameterWords,
  suspectName,
} from '../watch/suspects/suspect-words.js';
import { withRecording } from './recording-problems.js';

const USAGE = 'railminder suspects RECORDING [--json]';
/** Less probable ones are noise. */
const LEAST_PROBABILITY = 0.02;
const MOST_SHOWN = 5;
const MOST_EVIDENCE = 3;

/** What a recorded session's readings say is wrong with the supply. */
export const suspectsCommand: Command = {
  name: 'suspects',
  does: 'says which known faults the readings of a recording speak for',
  help: `${USAGE}

Weighs the last settled readings of RECORDING against the design without a fault and with each known one: how
probable each is, what speaks for and against it, what to do, and what to measure next. Something that nobody has
thought of always keeps a share.

  --json   everything as one JSON document

Exit code 1 when a fault is more probable than none.`,
  async run(args) {
    const { values, positionals } = readArguments(
      args,
      USAGE,
      { json: { type: 'boolean', default: false } },
      { atLeast: 1, atMost: 1 },
    );
    return withRecording(async () => {
      const history = await readHistory(positionals[0] ?? '');
      const { design, plan } = history.header;
      const { load, seed } = plan.prediction;
      const model = beginSuspects([...suspectClouds(loadDesign(design.text, design.file), { load, seed })]);
      const readings = settledReadings(history);
      const judgement = judge(model, readings.settled);
      if (values.json) console.log(JSON.stringify({ ...readings, ...judgement }));
      else for (const line of lines(judgement, readings, plan.prediction)) console.log(line);
      return judgement.suspects[0]?.fault === HEALTHY ? EXIT.fine : EXIT.outside;
    });
  },
};

function lines(judgement: Judgement, { settled, moving }: SettledReadings, prediction: Prediction): string[] {
  const labelOf = (point: string): string => prediction.points[point]?.label ?? point;
  const { suspects, other, next, odd, parameters } = judgement;
  const shown = suspects.filter(({ probability }) => probability >= LEAST_PROBABILITY).slice(0, MOST_SHOWN);
  return [
    `From ${settled.length} settled readings: ${settled.map(({ point }) => point).join(', ') || 'none'}.`,
    ...(moving.length === 0 ? [] : [`Left out, still moving: ${moving.join(', ')}.`]),
    '',
    ...shown.flatMap((suspect) => suspectLines(suspect, labelOf)),
    `${percent(other.probability)}  something that isn't listed`,
    ...(other.probability > 0.5 ? [`      ${other.action.words}`] : []),
    ...odd.map((point) => oddWords(point, labelOf)),
    '',
    ...(next === null
      ? ['No other test point would tell much more.']
      : [`Next: ${nextWords(next, labelOf)}`]),
    ...parameters.map(parameterWords),
  ];
}

function suspectLines(suspect: Suspect, labelOf: (point: string) => string): string[] {
  const { title, about, probability, evidence, action } = suspect;
  const alike = alikeWords(suspect);
  return [
    `${percent(probability)}  ${suspectName({ title, about })}`,
    ...evidence.slice(0, MOST_EVIDENCE).map((one) => `      ${one.speaks}: ${evidenceWords(one, labelOf)}`),
    ...(alike === null ? [] : [`      ${alike}`]),
    `      ${action.words}`,
  ];
}

function percent(probability: number): string {
  return `${(100 * probability).toFixed(0)} %`.padStart(5);
}
