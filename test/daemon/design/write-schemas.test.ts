import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Ajv from 'ajv';
import { afterAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { schemaFiles, writeSchemas } from '../../../daemon/design/write-schemas.js';
import { BENCH_TEXT, changed, DESIGN_TEXT } from './signal-cabin.js';

const sources = new URL('../../../daemon/design/', import.meta.url);
const folder = mkdtempSync(join(tmpdir(), 'schemas-'));
afterAll(() => rmSync(folder, { recursive: true }));

function validator(name: string) {
  return new Ajv().compile(JSON.parse(schemaFiles()[name] ?? '') as object);
}

describe('the JSON Schemas for editors', () => {
  it.each(['design.schema.json', 'bench.schema.json'])('%s in the sources is current', (name) => {
    expect(readFileSync(new URL(name, sources), 'utf8')).toBe(schemaFiles()[name]);
  });

  it('are written as files', () => {
    const paths = writeSchemas(folder);
    expect(paths.map((path) => readFileSync(path, 'utf8'))).toEqual(Object.values(schemaFiles()));
  });

  it('take the examples', () => {
    expect(validator('design.schema.json')(parse(DESIGN_TEXT))).toBe(true);
    expect(validator('bench.schema.json')(parse(BENCH_TEXT))).toBe(true);
  });

  it.each([
    ['a misspelt key', 'r1: 240', 'r9: 240'],
    ['a negative resistor', 'r1: 240', 'r1: -240'],
    ['what only loading may note', 'design: signal cabin', 'design: signal cabin\ndefaulted: []'],
  ])('refuse %s', (_title, from, to) => {
    expect(validator('design.schema.json')(parse(changed(DESIGN_TEXT, from, to)))).toBe(false);
  });

  it('explain keys', () => {
    expect(schemaFiles()['design.schema.json']).toContain(
      'heatsink to air in K/W, or none for a bare package',
    );
  });
});
