import type { OptionProblem } from '../driver.js';
import type { DecimalMark } from '../lines/number-reader.js';
import { numberBetween, optionOf, optionProblems, type OptionRule } from '../options.js';
import { SEPARATORS, type SeparatorWord } from './csv-form.js';
import { MOST_FIELDS, parseFields, type Field } from './fields.js';
import { parsePattern, PatternProblem, type Pattern } from './pattern.js';

const MOST_PATTERNS = 16;
const FORMATS = ['pattern', 'csv', 'json'] as const;
type Format = (typeof FORMATS)[number];

/** What a text-lines instrument's options come to. */
export interface TextLineSettings {
  readonly format: Format;
  readonly decimal: DecimalMark;
  readonly separator: SeparatorWord;
  readonly header: string | null;
  readonly patterns: readonly Pattern[];
  readonly fields: readonly Field[];
}

const RULES = {
  format: oneOf(FORMATS),
  pattern: {
    allowed: 'a line in plain words, such as T1: {lamps.case} C',
    accepts: (value: unknown) => typeof value === 'string',
  },
  patterns: {
    allowed: `a list of 1 to ${MOST_PATTERNS} lines in plain words, such as T1: {lamps.case} C`,
    accepts: (value: unknown) => isTextList(value) && value.length > 0 && value.length <= MOST_PATTERNS,
  },
  fields: {
    allowed: `1 to ${MOST_FIELDS} of the device's own words, each with what it is, such as T1: '{lamps.case} C'`,
    accepts: (value: unknown) => isTexts(value) && isBetween(Object.keys(value).length, 1, MOST_FIELDS),
  },
  separator: oneOf(Object.keys(SEPARATORS)),
  decimal: oneOf(['point', 'comma']),
  header: {
    allowed: 'the header line as the device prints it, when it prints it only at power-up',
    accepts: (value: unknown) => typeof value === 'string' && isBetween(value.length, 1, 1000),
  },
  interval_ms: numberBetween(1, 3_600_000, 'ms'),
};

/** Which keys say what the lines look like, for each format. */
const DESCRIBED_BY: Readonly<Record<Format, readonly string[]>> = {
  pattern: ['pattern', 'patterns'],
  csv: ['fields'],
  json: ['fields'],
};
const CSV_ONLY = ['separator', 'header'];

/** The problems of the options in words. */
export function textLineProblems(options: unknown): readonly OptionProblem[] {
  const problems = [...optionProblems(options, RULES), ...readSettings(options).problems];
  return problems.length > 0 ? problems : combinationProblems(options, formatOf(options));
}

/** The settings of options that have been checked. */
export function settingsOf(options: unknown): TextLineSettings {
  return readSettings(options).settings;
}

function combinationProblems(options: unknown, format: Format): readonly OptionProblem[] {
  const wanted = DESCRIBED_BY[format];
  const given = wanted.filter((key) => optionOf(options, key) !== undefined);
  const key = wanted[0] ?? '';
  const strange = Object.values(DESCRIBED_BY)
    .flat()
    .concat(CSV_ONLY)
    .filter((each) => !wanted.includes(each) && !(format === 'csv' && CSV_ONLY.includes(each)))
    .filter((each, at, all) => all.indexOf(each) === at && optionOf(options, each) !== undefined);
  const { decimal, separator } = readSettings(options).settings;
  return [
    ...(given.length === 0 ? [{ key, found: undefined, allowed: wanted.join(' or ') }] : []),
    ...(given.length > 1 ? [{ key, found: given.join(' and '), allowed: 'one of the two' }] : []),
    ...strange.map((each) => ({
      key: each,
      found: optionOf(options, each),
      allowed: `nothing with format ${format}`,
    })),
    ...(format === 'csv' && decimal === 'comma' && separator === 'comma'
      ? [{ key: 'separator', found: 'comma', allowed: 'semicolon or tab when numbers have a decimal comma' }]
      : []),
  ];
}

interface Read {
  readonly settings: TextLineSettings;
  readonly problems: readonly OptionProblem[];
}

function readSettings(options: unknown): Read {
  const problems: OptionProblem[] = [];
  const decimal = optionOf(options, 'decimal') === 'comma' ? 'comma' : 'point';
  function orProblem<T>(key: string, found: unknown, read: () => readonly T[]): readonly T[] {
    try {
      return read();
    } catch (problem) {
      if (!(problem instanceof PatternProblem)) throw problem;
      const allowed = `a pattern that can be read; this one ${problem.message}`;
      problems.push({ key, found, allowed });
      return [];
    }
  }
  const [key, sources] = patternSources(options);
  const fields = optionOf(options, 'fields');
  const separator = optionOf(options, 'separator');
  const header = optionOf(options, 'header');
  return {
    settings: {
      format: formatOf(options),
      decimal,
      separator: isSeparator(separator) ? separator : decimal === 'comma' ? 'semicolon' : 'comma',
      header: typeof header === 'string' ? header : null,
      patterns: sources.flatMap((source) => orProblem(key, source, () => [parsePattern(source, decimal)])),
      fields: isTexts(fields)
        ? Object.entries(fields)
            .slice(0, MOST_FIELDS)
            .flatMap(([title, source]) =>
              orProblem(`fields.${title}`, source, () => parseFields({ [title]: source })),
            )
        : [],
    },
    problems,
  };
}

function patternSources(options: unknown): readonly [key: string, sources: readonly string[]] {
  const several = optionOf(options, 'patterns');
  if (isTextList(several)) return ['patterns', several.slice(0, MOST_PATTERNS)];
  const single = optionOf(options, 'pattern');
  return ['pattern', typeof single === 'string' ? [single] : []];
}

function formatOf(options: unknown): Format {
  const found = optionOf(options, 'format');
  return FORMATS.find((format) => format === found) ?? 'pattern';
}

function isSeparator(value: unknown): value is SeparatorWord {
  return typeof value === 'string' && Object.hasOwn(SEPARATORS, value);
}

function isTextList(value: unknown): value is readonly string[] {
  return Array.isArray(value) && value.every((entry) => typeof entry === 'string');
}

function isTexts(value: unknown): value is Readonly<Record<string, string>> {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return false;
  return Object.values(value).every((entry) => typeof entry === 'string');
}

function isBetween(value: number, low: number, high: number): boolean {
  return value >= low && value <= high;
}

function oneOf(words: readonly string[]): OptionRule {
  return {
    allowed: words.join(', '),
    accepts: (value) => typeof value === 'string' && words.includes(value),
  };
}
