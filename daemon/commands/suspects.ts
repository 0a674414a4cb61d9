import { EXIT, readArguments, type Command } from '../command-line.js';
import { joinInstruments } from '../channels.js';
import type { Design } from '../design/design.js';
import { FileProblems } from '../design/file-problems.js';
import { loadBench, loadDesign } from '../design/load.js';
import { testPointsOf } from '../design/test-points.js';
import { waysTo } from '../measurable.js';
import type { Prediction } from '../predict/prediction.js';
import type { RecordingHeader } from '../record/header.js';
import { readHistory } from '../record/session/history.js';
import { settledReadings, type SettledReadings } from '../settled-readings.js';
import { SuspectWeigher } from '../suspects/weigher.js';
import { HEALTHY } from '../watch/suspects/clouds.js';
import type { Judgement, Suspect } from '../watch/suspects/judgement.js';
import type { NextPoint, Ways } from '../watch/suspects/next-point.js';
import {
  alikeWords,
  evidenceWords,
  nextWords,
  oddWords,
  parameterWords,
  suspectName,
  type LabelOf,
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
      const design = loadDesign(history.header.design.text, history.header.design.file);
      const { load, seed } = history.header.plan.prediction;
      const ways = waysOn(history.header.bench, design);
      const weigher = new SuspectWeigher({ design, seed, ...(ways !== null && { ways }) });
      const readings = settledReadings(history);
      const judgement = weigher.judge({ settled: readings.settled, load, isLoadSure: true });
      if (values.json) console.log(JSON.stringify({ ...readings, ...judgement }));
      else for (const line of lines(judgement, readings, history.header.plan.prediction)) console.log(line);
      return judgement.suspects[0]?.fault === HEALTHY ? EXIT.fine : EXIT.outside;
    });
  },
};

/** How the recorded bench measures each test point; null where it has a driver that isn't ours. */
function waysOn({ file, text }: RecordingHeader['bench'], design: Design): Ways | null {
  try {
    return waysTo(
      joinInstruments({ file, text, value: loadBench(text, file, design) }),
      testPointsOf(design),
    );
  } catch (problem) {
    if (problem instanceof FileProblems) return null;
    throw problem;
  }
}

function lines(judgement: Judgement, { settled, moving }: SettledReadings, prediction: Prediction): string[] {
  const labelOf: LabelOf = (point) => prediction.points[point]?.label ?? point;
  const { suspects, other, next, odd, parameters } = judgement;
  const shown = suspects.filter(({ probability }) => probability >= LEAST_PROBABILITY).slice(0, MOST_SHOWN);
  return [
    `From ${settled.length} settled readings: ${settled.map(({ point }) => point).join(', ') || 'none'}.`,
    ...(moving.length === 0 ? [] : [`Left out, still moving: ${moving.join(', ')}.`]),
    '',
    ...shown.flatMap((suspect) => suspectLines(suspect, next, labelOf)),
    `${percent(other.probability)}  something that isn't listed`,
    ...(other.probability > 0.5 ? [`      ${other.action.words}`] : []),
    ...odd.map((point) => oddWords(point, labelOf)),
    '',
    nextLine(next, labelOf),
    ...parameters.map(parameterWords),
  ];
}

function suspectLines(suspect: Suspect, next: NextPoint | null, labelOf: LabelOf): string[] {
  const { title, about, probability, evidence, action } = suspect;
  const alike = alikeWords(suspect, next);
  return [
    `${percent(probability)}  ${suspectName({ title, about })}`,
    ...evidence.slice(0, MOST_EVIDENCE).map((one) => `      ${one.speaks}: ${evidenceWords(one, labelOf)}`),
    ...(alike === null ? [] : [`      ${alike}`]),
    `      ${action.words}`,
  ];
}

function nextLine(next: NextPoint | null, labelOf: LabelOf): string {
  if (next === null) return 'No other test point would tell much more.';
  const isHere = next.way !== null && next.load === undefined;
  return `${isHere ? 'Next:' : 'No other test point would tell much more as it stands.'} ${nextWords(next, labelOf)}`;
}

function percent(probability: number): string {
  return `${(100 * probability).toFixed(0)} %`.padStart(5);
}
