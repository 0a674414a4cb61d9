import { EXIT, type ExitCode } from '../command-line.js';
import { readDesign } from '../files.js';
import type { LoadState } from '../design/design.js';
import { readYaml } from '../design/yaml-text.js';
import { predict } from '../predict/predict.js';
import type { Prediction } from '../predict/prediction.js';
import { readHistory } from '../record/session/history.js';
import { rejudgedWords } from '../record/session/rejudge.js';

/**
 * Judges a session by another design and says what comes out otherwise.
 * @throws {NotARecording} or a problem with the design file or the one in the recording.
 */
export async function replayAgainst(recording: string, designFile: string): Promise<ExitCode> {
  const design = readDesign(designFile);
  const then = await readHistory(recording);
  const { load, seed } = then.header.plan.prediction;
  const prediction = predict(design.value, { load, seed });
  const others = new Map<LoadState, Prediction>();
  const now = await readHistory(recording, prediction, (other) => {
    const known = others.get(other) ?? predict(design.value, { load: other, seed });
    others.set(other, known);
    return known;
  });
  const was = readYaml(then.header.design.text, `the design in ${recording}`).value;
  const changes = changedKeys(was, readYaml(design.text, designFile).value);
  console.log(`${recording}, judged by ${designFile} (${load} load):`);
  if (changes.length === 0) console.log('  The design says the same as the one in the recording.');
  for (const { key, before, after } of changes.slice(0, 12))
    console.log(`  changed: ${key}: ${before} -> ${after}`);
  if (changes.length > 12) console.log(`  and ${changes.length - 12} more`);
  const sentences = rejudgedWords(
    then,
    now,
    changes.map(({ key }) => key),
  );
  console.log('');
  for (const sentence of sentences) console.log(`  ${sentence}`);
  if (sentences.length === 0) console.log('  Every measured test point is judged as it was.');
  console.log(
    '\nA session shows what one supply did; what another would have done is a prediction, not a measurement.',
  );
  return now.alarms.some(({ change }) => change === 'raised') ? EXIT.outside : EXIT.fine;
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
