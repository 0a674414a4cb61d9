import { numberOption, optionOf } from '../options.js';
import { sensorKind } from './sensor-rules.js';
import type { ThermocoupleType } from './thermocouple-tables.js';
import { PLATINUM_CLASSES, THERMOCOUPLE_CLASSES } from './tolerance-classes.js';

/** How far a sensor itself may be off, and what that rests on. */
export type SensorTolerance = (ClassTolerance | ThermistorTolerance) & {
  /** Half width at a temperature in degrees C, in K. */
  at(temperature: number): number;
  /** Half width of what the instrument sees, in percent of it, to be added to `at`. */
  readonly ofRawPercent: number;
};

export interface ClassTolerance {
  readonly kind: 'class';
  readonly class: string;
  readonly standard: 'IEC 60584-1' | 'IEC 60751';
  /** True when the bench file names no class. */
  readonly isAssumed: boolean;
}

export interface ThermistorTolerance {
  readonly kind: 'thermistor';
  /** Of the ohms at 25 degrees C. */
  readonly r25Percent: number;
  /** 0 for a curve that isn't made of a beta. */
  readonly betaPercent: number;
  /** True when the bench file leaves one of them out. */
  readonly isAssumed: boolean;
}

/** What is sold without a class on its label; common practice. */
const USUAL_THERMOCOUPLE_CLASS = '2';
const USUAL_PLATINUM_CLASS = 'B';
/** Beads without a letter on their label: J of IEC 60062, and the 1 % of most data sheets; common practice. */
const USUAL_R25_PERCENT = 5;
const USUAL_BETA_PERCENT = 1;

const ZERO_K = 273.15;
const REFERENCE_K = 25 + ZERO_K;

/** The tolerance of a sensor as a bench file says it; null for one that measures no temperature. */
export function sensorTolerance(spec: unknown): SensorTolerance | null {
  const kind = sensorKind(spec);
  if (kind === 'thermocouple') return thermocoupleTolerance(spec, optionOf(spec, kind) as ThermocoupleType);
  if (kind === 'pt100' || kind === 'pt1000') return platinumTolerance(spec);
  return kind === 'ntc' ? thermistorTolerance(optionOf(spec, kind)) : null;
}

function thermocoupleTolerance(spec: unknown, type: ThermocoupleType): SensorTolerance {
  const said = classOf(spec, USUAL_THERMOCOUPLE_CLASS);
  const { kelvin, share } = classNamed(THERMOCOUPLE_CLASSES[type], said.class);
  const at = (temperature: number): number => Math.max(kelvin, share * Math.abs(temperature));
  return { kind: 'class', ...said, standard: 'IEC 60584-1', ofRawPercent: 0, at };
}

function platinumTolerance(spec: unknown): SensorTolerance {
  const said = classOf(spec, USUAL_PLATINUM_CLASS);
  const { kelvin, share } = classNamed(PLATINUM_CLASSES, said.class);
  const at = (temperature: number): number => kelvin + share * Math.abs(temperature);
  return { kind: 'class', ...said, standard: 'IEC 60751', ofRawPercent: 0, at };
}

function classOf(spec: unknown, usual: string): Pick<ClassTolerance, 'class' | 'isAssumed'> {
  const said = optionOf(spec, 'class') as string | number | undefined;
  return { class: said === undefined ? usual : String(said), isAssumed: said === undefined };
}

function classNamed<Class>(classes: Readonly<Record<string, Class>>, word: string): Class {
  const found = classes[word];
  if (found === undefined)
    throw new RangeError(`sensor class: allowed is ${Object.keys(classes).join(', ')}`);
  return found;
}

/**
 * The ohms are off by R25's percent at any temperature; beta adds T^2 |1/T - 1/T25| dbeta / beta to that, from
 * 1/T = 1/T25 + ln(R / R25) / beta.
 */
function thermistorTolerance(ntc: unknown): SensorTolerance {
  const isBeta = optionOf(ntc, 'beta') !== undefined;
  const r25Percent = numberOption(ntc, 'r25_percent', USUAL_R25_PERCENT);
  const betaPercent = isBeta ? numberOption(ntc, 'beta_percent', USUAL_BETA_PERCENT) : 0;
  const isSaid = (key: string): boolean => optionOf(ntc, key) !== undefined;
  return {
    kind: 'thermistor',
    r25Percent,
    betaPercent,
    isAssumed: !isSaid('r25_percent') || (isBeta && !isSaid('beta_percent')),
    ofRawPercent: r25Percent,
    at(temperature) {
      const kelvin = temperature + ZERO_K;
      return kelvin ** 2 * Math.abs(1 / kelvin - 1 / REFERENCE_K) * (betaPercent / 100);
    },
  };
}
