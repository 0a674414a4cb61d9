import type { z } from 'zod';
import { benchSchema, type Bench } from './bench.js';
import { checkBench } from './check-bench.js';
import { checkDesign } from './check.js';
import { designSchema, type Design } from './design.js';
import { FileProblems, problemsAt, shown, type Finding } from './file-problems.js';
import { benchJsonSchema, designJsonSchema, type JsonSchema } from './schema-keys.js';
import { schemaFindings } from './schema-problems.js';
import type { Topology } from './test-points.js';
import { readYaml, type YamlText } from './yaml-text.js';

export { FileProblems };

/**
 * Reads a design file's text; `fileName` is only for messages. The design notes in `defaulted` which keys took
 * their default.
 * @throws {FileProblems} with everything that is wrong, each with its line, key and what is allowed.
 */
export function loadDesign(text: string, fileName: string): Design {
  const yaml = readYaml(text, fileName);
  refuseNoted(yaml, fileName);
  refuseOther(yaml, fileName, 'design');
  const design = valid(yaml, fileName, designSchema, designJsonSchema);
  refuse(yaml, fileName, checkDesign(design));
  return { ...design, defaulted: defaultedKeys(yaml.value, design, []) };
}

/**
 * Reads a bench file's text. With a design given, every `at` must be one of its test points.
 * @throws {FileProblems} as `loadDesign` does.
 */
export function loadBench(text: string, fileName: string, design?: Topology): Bench {
  const yaml = readYaml(text, fileName);
  refuseOther(yaml, fileName, 'bench');
  const bench = valid(yaml, fileName, benchSchema, benchJsonSchema);
  refuse(yaml, fileName, checkBench(bench, design));
  return bench;
}

function valid<T>(yaml: YamlText, fileName: string, schema: z.ZodType<T>, json: () => JsonSchema): T {
  if (yaml.value === null || yaml.value === undefined) {
    refuse(yaml, fileName, [
      { path: [], found: 'nothing', allowed: 'keys with values', sentence: 'the file is empty' },
    ]);
  }
  const result = schema.safeParse(yaml.value);
  if (result.success) return result.data;
  const findings = schemaFindings(result.error.issues, yaml.value, json());
  throw new FileProblems(problemsAt(fileName, findings, (path) => yaml.lineOf(path)));
}

function refuse(yaml: YamlText, fileName: string, findings: readonly Finding[]): void {
  if (findings.length > 0)
    throw new FileProblems(problemsAt(fileName, findings, (path) => yaml.lineOf(path)));
}

/** `defaulted` is ours to write; a file that has it would hide its assumptions. */
function refuseNoted(yaml: YamlText, fileName: string): void {
  const { value } = yaml;
  if (!isGroup(value) || !Object.hasOwn(value, 'defaulted')) return;
  const found = shown(value['defaulted']);
  const sentence = 'this key is noted on loading and may not be written; leave it out';
  refuse(yaml, fileName, [{ path: ['defaulted'], found, allowed: 'nothing', sentence }]);
}

/** Two files that were named the wrong way round are one mistake and no dozen. */
function refuseOther(yaml: YamlText, fileName: string, wanted: 'design' | 'bench'): void {
  const other = wanted === 'design' ? 'bench' : 'design';
  const { value } = yaml;
  if (!isGroup(value) || Object.hasOwn(value, wanted) || !Object.hasOwn(value, other)) return;
  const sentence = `this is a ${other} file; name a *.${wanted}.yaml file here`;
  refuse(yaml, fileName, [{ path: [other], found: other, allowed: wanted, sentence }]);
}

/** Dotted keys that the loaded value has and the written one doesn't. */
function defaultedKeys(written: unknown, loaded: unknown, path: readonly string[]): string[] {
  if (!isGroup(loaded) || !isGroup(written)) return [];
  return Object.entries(loaded).flatMap(([key, value]) => {
    if (value === undefined) return [];
    const inner = [...path, key];
    return Object.hasOwn(written, key) ? defaultedKeys(written[key], value, inner) : [inner.join('.')];
  });
}

function isGroup(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
