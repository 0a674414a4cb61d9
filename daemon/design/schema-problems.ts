import type { z } from 'zod';
import { closest, didYouMean } from './closest.js';
import { MOST_TOLD, shown, shortened, type Finding } from './file-problems.js';
import { numberMeant } from './number-slips.js';
import { keysAt, wordsAt, type JsonSchema } from './schema-keys.js';

type Issue = z.core.$ZodIssue;

/** `{ typical: 0,4 }` */
const CUT_IN_TWO =
  'a comma inside { } ends a value, so this is read as a key; write decimals with a point, 0.5 for example';

/** Turns what the schema finds wrong into sentences; the schema's own texts are what is allowed at each key. */
export function schemaFindings(issues: readonly Issue[], value: unknown, schema: JsonSchema): Finding[] {
  const findings = issues.slice(0, MOST_TOLD + 1).flatMap((issue) => findingsOf(issue, [], value, schema));
  return withoutConsequences(findings);
}

function findingsOf(issue: Issue, above: readonly string[], value: unknown, schema: JsonSchema): Finding[] {
  const path = [...above, ...issue.path.map(String)];
  const found = at(value, path);
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.slice(0, MOST_TOLD + 1).map((key) => unknownKey(path, key, found, schema));
  }
  if (issue.code === 'invalid_key') return [badName(path, issue.issues[0]?.message ?? 'another name')];
  if (issue.code === 'invalid_union' && isGroup(found)) {
    const branch = likeliestBranch(issue.errors, found);
    if (branch) return branch.flatMap((inner) => findingsOf(inner, path, value, schema));
  }
  if (found === undefined) return [missing(path, issue.message)];
  if (issue.code === 'invalid_type' && (issue.expected === 'object' || issue.expected === 'record')) {
    return [notGroup(path, found, keysAt(schema, path), issue.message)];
  }
  return [notAllowed(path, found, issue.message, wordsAt(schema, path))];
}

function unknownKey(path: readonly string[], key: string, group: unknown, schema: JsonSchema): Finding {
  const known = keysAt(schema, path);
  const written = isGroup(group) ? Object.keys(group) : [];
  const keys = known.filter((candidate) => !written.includes(candidate));
  const allowed = keys.join(', ');
  const place = { path: [...path, key], found: shortened(key), allowed };
  if (known.includes(key)) return { ...place, sentence: "doesn't go with the keys beside it; leave it out" };
  if (isGroup(group) && group[key] === null && /^\d/.test(key)) return { ...place, sentence: CUT_IN_TWO };
  const guess = didYouMean(key, keys);
  const cure = guess === '' ? `; allowed are ${known.join(', ')}` : guess;
  return { ...place, sentence: `this key is unknown here${cure}` };
}

function badName(path: readonly string[], allowed: string): Finding {
  const typed = path.at(-1) ?? '';
  const plain = typed
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^[^a-z]+|-$/g, '');
  const guess = plain === '' ? '' : `; did you mean ${plain}?`;
  return {
    path,
    found: shown(typed),
    allowed,
    sentence: `found ${shown(typed)}; ${allowed} is allowed${guess}`,
  };
}

function missing(path: readonly string[], allowed: string): Finding {
  return { path, found: '', allowed, sentence: `missing; ${allowed} is needed`, missing: true };
}

function notAllowed(
  path: readonly string[],
  found: unknown,
  allowed: string,
  words: readonly string[],
): Finding {
  const sentence = `found ${shown(found)}; ${allowed} is allowed${guessAt(path, found, allowed, words)}`;
  return { path, found: shown(found), allowed, sentence };
}

function notGroup(path: readonly string[], found: unknown, keys: readonly string[], what: string): Finding {
  const allowed = keys.length > 0 ? `keys on lines of their own (${keys.join(', ')})` : what;
  const sentence = `found ${shown(found)}; ${allowed} ${keys.length > 0 ? 'are' : 'is'} allowed`;
  return { path, found: shown(found), allowed, sentence };
}

function guessAt(path: readonly string[], found: unknown, allowed: string, words: readonly string[]): string {
  if (typeof found !== 'string') return '';
  if (words.length > 0) {
    const guess = didYouMean(found, words);
    if (guess !== '') return guess;
  }
  const number = allowed.includes('number') ? numberMeant(found, path.at(-1) ?? '') : null;
  return number === null ? '' : `; write the number alone: ${number}`;
}

/** The branch of a choice between groups whose keys fit best what was written. */
function likeliestBranch(branches: readonly (readonly Issue[])[], found: Readonly<Record<string, unknown>>) {
  const groups = branches.filter(
    (issues) => !issues.some(({ path, code }) => path.length === 0 && code !== 'unrecognized_keys'),
  );
  const faults = (issues: readonly Issue[]) =>
    issues.reduce((sum, issue) => sum + (issue.code === 'unrecognized_keys' ? issue.keys.length : 1), 0);
  const [best] = [...groups]
    .filter((issues) => !missesAll(issues, found))
    .sort((a, b) => faults(a) - faults(b));
  return best;
}

/** Every key that was written is unknown to this branch. */
function missesAll(issues: readonly Issue[], found: Readonly<Record<string, unknown>>): boolean {
  const unknown = issues.flatMap((issue) => (issue.code === 'unrecognized_keys' ? issue.keys : []));
  const guessed = unknown.some((key) =>
    issues.some(({ path }) => closest(key, [String(path[0] ?? '')]).length > 0),
  );
  return !guessed && unknown.length === Object.keys(found).length;
}

/** A misspelt key also makes the right one missing: one message is enough. */
function withoutConsequences(findings: readonly Finding[]): Finding[] {
  const guessed = new Set(
    findings.flatMap(({ path, sentence }) => {
      const meant = /did you mean (\S+)\?$/.exec(sentence)?.[1];
      return meant === undefined ? [] : [JSON.stringify([...path.slice(0, -1), meant])];
    }),
  );
  return findings.filter(
    ({ path, missing: isMissing }) => !(isMissing === true && guessed.has(JSON.stringify(path))),
  );
}

function at(value: unknown, path: readonly string[]): unknown {
  return path.reduce<unknown>(
    (inner, key) => (isGroup(inner) && Object.hasOwn(inner, key) ? inner[key] : listItem(inner, key)),
    value,
  );
}

function listItem(value: unknown, key: string): unknown {
  return Array.isArray(value) ? (value as unknown[])[Number(key)] : undefined;
}

function isGroup(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
