import { readdirSync, readFileSync, statSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import Ajv from 'ajv';
import { describe, expect, it } from 'vitest';
import { replay } from '../../../daemon/record/replay.js';
import { recordingSchemaText } from '../../../daemon/record/write-schema.js';
import { alarmLog } from './alarm-log.js';

const FOLDER = fileURLToPath(new URL('../../../recordings/', import.meta.url));
const SAMPLES = readdirSync(FOLDER).filter((name) => /\.ndjson(\.gz)?$/.test(name));

function linesOf(name: string): string[] {
  const bytes = readFileSync(`${FOLDER}${name}`);
  return (name.endsWith('.gz') ? gunzipSync(bytes) : bytes).toString('utf8').trimEnd().split('\n');
}

describe('the sample recordings', () => {
  it('are under 3 MB together, and the README tells of each', () => {
    const total = SAMPLES.reduce((sum, name) => sum + statSync(`${FOLDER}${name}`).size, 0);
    expect(total).toBeLessThan(3e6);
    expect(SAMPLES.length).toBeGreaterThanOrEqual(9);
    const readme = readFileSync(`${FOLDER}README.md`, 'utf8');
    for (const name of SAMPLES) {
      const [, words = ''] = readme.split(`\`${name}\` (`);
      expect(words.split('\n\n')[0]?.trimEnd().split('\n'), name).toHaveLength(3);
    }
  });

  it.each(SAMPLES)('%s replays to the alarms that stand beside it', async (name) => {
    const log = await alarmLog(`${FOLDER}${name}`);
    expect(log.text).toBe(readFileSync(`${FOLDER}${name.replace(/\.ndjson(\.gz)?$/, '')}.txt`, 'utf8'));
    expect(log.problems).toEqual([]);
    expect(await replay(`${FOLDER}${name}`, { speed: 'fast' })).toMatchObject({
      mismatches: 0,
      closed: true,
    });
  });

  it('the JSON Schema in the folder is current, and takes every line of the short ones', () => {
    const text = readFileSync(`${FOLDER}recording.schema.json`, 'utf8');
    expect(text).toBe(recordingSchemaText());
    const takes = new Ajv().compile(JSON.parse(text) as object);
    for (const name of SAMPLES.filter((one) => !one.endsWith('.gz'))) {
      for (const line of linesOf(name))
        expect(takes(JSON.parse(line)), `${name}: ${line.slice(0, 80)}`).toBe(true);
    }
    expect(takes({ kind: 'note', atMs: 'later', text: 'x' })).toBe(false);
    expect(takes([1, 0, '5'])).toBe(false);
  });
});
