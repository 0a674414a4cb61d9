import { readFileSync } from 'node:fs';
import { dirname, isAbsolute, resolve } from 'node:path';
import type { Bench } from './design/bench.js';
import type { Design } from './design/design.js';
import { loadBench, loadDesign } from './design/load.js';
import { BadUse } from './command-line.js';

/** A file of the user's with its text kept verbatim for the recording. */
export interface Written<T> {
  readonly file: string;
  readonly text: string;
  readonly value: T;
}

/** @throws {BadUse} when the file can't be read; {FileProblems} when it says something wrong. */
export function readDesign(file: string): Written<Design> {
  const text = readText(file, 'design');
  return { file, text, value: loadDesign(text, file) };
}

/**
 * Reads a bench for a design: every `at` must be one of the design's test points.
 * @throws {BadUse} when the file can't be read; {FileProblems} when it says something wrong.
 */
export function readBench(file: string, design: Design): Written<Bench> {
  const text = readText(file, 'bench');
  return { file, text, value: loadBench(text, file, design) };
}

/** Where recordings of a design go unless told otherwise: `recordings/` beside the design file. */
export function recordingsBeside(designFile: string): string {
  return resolve(dirname(isAbsolute(designFile) ? designFile : resolve(designFile)), 'recordings');
}

function readText(file: string, what: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    const why =
      code === 'ENOENT'
        ? 'there is no such file'
        : code === 'EISDIR'
          ? 'that is a folder'
          : `it can't be read (${code})`;
    throw new BadUse(`${file}: ${why}; name a *.${what}.yaml file`);
  }
}
