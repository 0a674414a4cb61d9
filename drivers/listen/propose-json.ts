import type { Measurand } from '../driver.js';
import { measurandOfUnit } from '../lines/unit-words.js';
import { guessFromLabel, isBookkeeping, Namer } from './label-words.js';
import { tokensOf } from './line-tokens.js';
import { UNSURE, UNSURE_UNIT, type LineProposal, type ProposedNumber } from './proposal.js';

const MOST_FIELDS = 32;
const DEEPEST = 4;

interface Leaf {
  readonly title: string;
  /** The unit in a text such as `12.06 V`; empty for a bare number. */
  readonly unit: string;
}

/** For lines that are JSON objects; null when they aren't, or hold no number. */
export function proposeJson(lines: readonly string[]): LineProposal | null {
  const objects = lines.map(objectIn).filter((object) => object !== null);
  if (objects.length === 0 || objects.length < lines.length / 2) return null;
  const leaves = new Map(
    objects.flatMap((object) => leavesOf(object, '', 0)).map((leaf) => [leaf.title, leaf]),
  );
  const wanted = [...leaves.values()]
    .filter(({ title }) => !isBookkeeping(title.split('.').at(-1) ?? ''))
    .slice(0, MOST_FIELDS);
  if (wanted.length === 0) return null;
  const namer = new Namer();
  const fields: Record<string, string> = {};
  const numbers = wanted.map(({ title, unit }): ProposedNumber => {
    const guess = guessFromLabel(title.split('.').at(-1) ?? '') ?? guessFromLabel(title.replaceAll('.', '_'));
    const measures: Measurand = measurandOfUnit(unit) ?? guess?.measures ?? UNSURE;
    const name = namer.name(title, 'value');
    fields[title] = `{${name}} ${unit || guess?.unit || UNSURE_UNIT}`;
    return { name, measures, isSure: unit !== '' || guess !== undefined };
  });
  return { options: { format: 'json', fields }, numbers };
}

function objectIn(line: string): object | null {
  const text = line.trim();
  if (!text.startsWith('{') || !text.endsWith('}')) return null;
  try {
    return JSON.parse(text) as object;
  } catch (problem) {
    if (problem instanceof SyntaxError) return null;
    throw problem;
  }
}

function leavesOf(object: object, path: string, depth: number): readonly Leaf[] {
  if (depth > DEEPEST || Array.isArray(object)) return [];
  return Object.entries(object).flatMap(([key, value]: [string, unknown]) => {
    const title = path === '' ? key : `${path}.${key}`;
    if (typeof value === 'number') return [{ title, unit: '' }];
    if (typeof value === 'object' && value !== null) return leavesOf(value, title, depth + 1);
    if (typeof value !== 'string') return [];
    const [number, ...others] = tokensOf(value.trim());
    return number?.kind === 'number' && others.length === 0 ? [{ title, unit: number.unit }] : [];
  });
}
