import type { OptionProblem } from '../driver.js';
import { numberBetween, optionOf, optionProblems, type OptionRule } from '../options.js';
import { NTC_RANGE } from './thermistor.js';
import { PLATINUM_CLASSES, THERMOCOUPLE_CLASSES } from './tolerance-classes.js';
import { SHAPES } from './waveform-shape.js';

/** The key that says what kind of sensor it is; each sensor has exactly one. */
export const SENSOR_KINDS = [
  'thermocouple',
  'pt100',
  'pt1000',
  'ntc',
  'shunt_ohms',
  'divider',
  'probe',
  'average_responding',
] as const;
export type SensorKind = (typeof SENSOR_KINDS)[number];

interface SensorRules {
  readonly rules: Readonly<Record<string, OptionRule>>;
  readonly required: readonly string[];
}

const WIRES = oneOf('2-wire', '3-wire', '4-wire');
const LEAD_OHMS = numberBetween(0, 1000, 'ohm of both leads together, read with the far end shorted');
const PLATINUM_CLASS = classOf('IEC 60751', PLATINUM_CLASSES);
const RATIO = numberBetween(1, 100_000, 'times larger than what the instrument sees');

/** Where a thermocouple's wires may end. Common practice: terminals and connectors work from -40 to 125. */
const COLD_JUNCTION = numberBetween(-40, 125, 'degrees C where the wires end');

const COLD_JUNCTION_OR_CHANNEL: OptionRule = {
  allowed: `${COLD_JUNCTION.allowed}, or the name of the channel that measures it`,
  accepts: (value) => (typeof value === 'string' ? value.trim() !== '' : COLD_JUNCTION.accepts(value)),
};

const RULES: Readonly<Record<SensorKind, SensorRules>> = {
  thermocouple: {
    rules: {
      thermocouple: oneOf('K', 'J', 'T'),
      cold_junction: COLD_JUNCTION_OR_CHANNEL,
      class: classOf('IEC 60584-1', THERMOCOUPLE_CLASSES.K),
    },
    required: ['cold_junction'],
  },
  pt100: { rules: { pt100: WIRES, lead_ohms: LEAD_OHMS, class: PLATINUM_CLASS }, required: [] },
  pt1000: { rules: { pt1000: WIRES, lead_ohms: LEAD_OHMS, class: PLATINUM_CLASS }, required: [] },
  ntc: {
    rules: { ntc: { allowed: 'a group with beta and r25, or a, b, c', accepts: isGroup } },
    required: [],
  },
  shunt_ohms: { rules: { shunt_ohms: numberBetween(1e-6, 1e6, 'ohm') }, required: [] },
  divider: { rules: { divider: RATIO }, required: [] },
  probe: { rules: { probe: RATIO }, required: [] },
  average_responding: { rules: { average_responding: oneOf(...SHAPES) }, required: [] },
};

const NTC_LIMITS = {
  lowest: numberBetween(-100, 400, 'degrees C'),
  highest: numberBetween(-100, 400, 'degrees C'),
};
const PERCENT = numberBetween(0, 50, 'percent either way, as the label or the data sheet has it');
const R25 = numberBetween(1, 1e8, 'ohm at 25 degrees C');
const COEFFICIENT = numberBetween(-1, 1, '1/K');

const BETA_RULES: SensorRules = {
  rules: {
    beta: numberBetween(500, 10_000, 'K'),
    r25: R25,
    beta_percent: PERCENT,
    r25_percent: PERCENT,
    ...NTC_LIMITS,
  },
  required: ['beta', 'r25'],
};
const STEINHART_HART_RULES: SensorRules = {
  rules: {
    a: COEFFICIENT,
    b: COEFFICIENT,
    c: COEFFICIENT,
    d: COEFFICIENT,
    r25: R25,
    r25_percent: PERCENT,
    ...NTC_LIMITS,
  },
  required: ['a', 'b', 'c'],
};

/** Whether a thermocouple's wires can end at this temperature. */
export function isColdJunction(temperature: number): boolean {
  return COLD_JUNCTION.accepts(temperature);
}

/** The sensor's kind; undefined unless exactly one is named. */
export function sensorKind(spec: unknown): SensorKind | undefined {
  const named = SENSOR_KINDS.filter((kind) => optionOf(spec, kind) !== undefined);
  return named.length === 1 ? named[0] : undefined;
}

/**
 * Checks a sensor as a bench file says it, such as `{ thermocouple: K, cold_junction: 25 }`. Keys of problems are
 * within the sensor: `cold_junction`, `ntc.beta`.
 */
export function sensorProblems(spec: unknown): readonly OptionProblem[] {
  const kind = sensorKind(spec);
  if (kind === undefined) {
    return [{ key: 'sensor', found: spec, allowed: `a group with one of ${SENSOR_KINDS.join(', ')}` }];
  }
  return [...problemsBy(RULES[kind], spec), ...leadProblems(spec, kind), ...ntcProblems(spec)];
}

function problemsBy({ rules, required }: SensorRules, spec: unknown): readonly OptionProblem[] {
  const missing = required.filter((key) => optionOf(spec, key) === undefined);
  return [
    ...optionProblems(spec, rules),
    ...missing.map((key) => ({ key, found: undefined, allowed: rules[key]?.allowed ?? '' })),
  ];
}

/** Instruments for three and four wires take their leads off by themselves. */
function leadProblems(spec: unknown, kind: SensorKind): readonly OptionProblem[] {
  const found = optionOf(spec, 'lead_ohms');
  if (found === undefined || optionOf(spec, kind) === '2-wire') return [];
  return [{ key: 'lead_ohms', found, allowed: 'nothing, unless the sensor is joined by two wires (2-wire)' }];
}

function ntcProblems(spec: unknown): readonly OptionProblem[] {
  const ntc = optionOf(spec, 'ntc');
  if (!isGroup(ntc)) return [];
  const rules = optionOf(ntc, 'beta') === undefined ? STEINHART_HART_RULES : BETA_RULES;
  const problems = problemsBy(rules, ntc);
  if (problems.length > 0) return problems.map((problem) => ({ ...problem, key: `ntc.${problem.key}` }));
  const { lowest = NTC_RANGE.lowest, highest = NTC_RANGE.highest } = ntc as Partial<typeof NTC_RANGE>;
  return lowest < highest
    ? []
    : [{ key: 'ntc.highest', found: highest, allowed: `more than lowest, which is ${lowest}` }];
}

function oneOf(...words: readonly string[]): OptionRule {
  return {
    allowed: words.join(', '),
    accepts: (value) => typeof value === 'string' && words.includes(value),
  };
}

/** A tolerance class of the standard, in YAML a number or a word. */
function classOf(standard: string, classes: Readonly<Record<string, unknown>>): OptionRule {
  return {
    allowed: `${Object.keys(classes).join(', ')}, its tolerance class of ${standard}`,
    accepts: (value) =>
      (typeof value === 'string' || typeof value === 'number') && Object.hasOwn(classes, String(value)),
  };
}

function isGroup(value: unknown): boolean {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
