import { EXIT, type ExitCode } from '../command-line.js';
import { readDesign } from '../files.js';
import type { Design, LoadState } from '../design/design.js';
import { readYaml } from '../design/yaml-text.js';
import { predict } from '../predict/predict.js';
import type { Prediction } from '../predict/prediction.js';
import { procedureFor } from '../procedure/procedure-for.js';
import type { OtherDesign } from '../record/other-design.js';
import { readHistory } from '../record/session/history.js';
import { rejudgedWords, rewalkedWords } from '../record/session/rejudge.js';
import type { WatchPlan } from '../watch/plan.js';
import { supplyPlan } from '../watch/supply-plan.js';

/**
 * Judges a session by another design and says what comes out otherwise.
 * @throws {NotARecording} or a problem with the design file or the one in the recording.
 */
export async function replayAgainst(recording: string, designFile: string): Promise<ExitCode> {
  const design = readDesign(designFile);
  const then = await readHistory(recording);
  const { plan } = then.header;
  const { load } = plan.prediction;
  const now = await readHistory(recording, otherDesign(design.value, plan));
  const was = readYaml(then.header.design.text, `the design in ${recording}`).value;
  const changes = changedKeys(was, readYaml(design.text, designFile).value);
  console.log(`${recording}, judged by ${designFile} (${load} load):`);
  if (changes.length === 0) console.log('  The design says the same as the one in the recording.');
  for (const { key, before, after } of changes.slice(0, 12))
    console.log(`  changed: ${key}: ${before} -> ${after}`);
  if (changes.length > 12) console.log(`  and ${changes.length - 12} more`);
  const sentences = [
    ...rejudgedWords(
      then,
      now,
      changes.map(({ key }) => key),
    ),
    ...rewalkedWords(then, now),
  ];
  console.log('');
  for (const sentence of sentences) console.log(`  ${sentence}`);
  if (sentences.length === 0) console.log('  Every measured test point is judged as it was.');
  console.log(
    '\nA session shows what one supply did; what another would have done is a prediction, not a measurement.',
  );
  return now.alarms.some(({ change }) => change === 'raised') ? EXIT.outside : EXIT.fine;
}

/** What a design says of a session that was planned by another one. */
function otherDesign(design: Design, { prediction: { load, seed }, procedure }: WatchPlan): OtherDesign {
  const known = new Map<LoadState, Prediction>();
  const predictionFor = (state: LoadState): Prediction => {
    const prediction = known.get(state) ?? predict(design, { load: state, seed });
    known.set(state, prediction);
    return prediction;
  };
  const prediction = predictionFor(load);
  return {
    prediction,
    supply: supplyPlan(design, prediction),
    procedure: procedure === undefined ? null : procedureFor(design, procedure, load),
    predictionFor,
  };
}

interface Change {
  readonly key: string;
  readonly before: string;
  readonly after: string;
}

/** Every value that stands otherwise in the second file, by its dotted key. */
export function changedKeys(before: unknown, after: unknown, key = ''): Change[] {
  if (isNode(before) && isNode(after)) {
    const names = new Set([...Object.keys(before), ...Object.keys(after)]);
    return [...names].flatMap((name) =>
      changedKeys(before[name], after[name], key === '' ? name : `${key}.${name}`),
    );
  }
  const [was, is] = [shown(before), shown(after)];
  return was === is ? [] : [{ key, before: was, after: is }];
}

function isNode(found: unknown): found is Readonly<Record<string, unknown>> {
  return typeof found === 'object' && found !== null && !Array.isArray(found);
}

function shown(found: unknown): string {
  return found === undefined ? 'nothing' : typeof found === 'string' ? found : JSON.stringify(found);
}
