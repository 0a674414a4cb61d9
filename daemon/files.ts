import { closeSync, openSync, readSync } from 'node:fs';
import { dirname, isAbsolute, resolve } from 'node:path';
import type { Bench } from './design/bench.js';
import type { Design } from './design/design.js';
import { loadBench, loadDesign } from './design/load.js';
import { LARGEST_BYTES } from './design/yaml-text.js';
import { unreadableWords } from './record/trouble.js';
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
    return beginningOf(file, LARGEST_BYTES + 1);
  } catch (error) {
    throw new BadUse(`${file}: ${unreadableWords(error)}; name a *.${what}.yaml file`);
  }
}

/** So much of a file that no more of a device or a pipe without end is held; what is too large is told as a problem. */
function beginningOf(file: string, mostBytes: number): string {
  const buffer = Buffer.alloc(mostBytes);
  const descriptor = openSync(file, 'r');
  try {
    let length = 0;
    for (let read = -1; read !== 0; length += read)
      read = readSync(descriptor, buffer, length, mostBytes - length, null);
    return buffer.toString('utf8', 0, length);
  } finally {
    closeSync(descriptor);
  }
}
