import type { Measurand } from '../driver.js';
import { numberOption, optionOf } from '../options.js';
import { convertedTo, OUT_OF_RANGE, type Converted } from './converted.js';
import { platinumTemperature } from './platinum.js';
import { isColdJunction, sensorKind, sensorProblems, type SensorKind } from './sensor-rules.js';
import { betaTemperature, NTC_RANGE, steinhartHartTemperature } from './thermistor.js';
import { hotEndTemperature } from './thermocouple.js';
import type { ThermocoupleType } from './thermocouple-tables.js';
import { averageRespondingFactor, type Shape } from './waveform-shape.js';

/** What stands between an instrument's number and the quantity at the test point. */
export interface Convert {
  /** What comes out when the instrument measures `raw`; null when this sensor can't be read that way. */
  measures(raw: Measurand): Measurand | null;
  /** The channel whose temperature is the cold junction's; null when none is needed. */
  readonly coldJunctionChannel: string | null;
  /**
   * Converts one value in the raw measurand's unit (V, A or ohm). `coldJunction` is the latest temperature of
   * {@link Convert.coldJunctionChannel}, null while there is none; ignored when none is needed. A value that the
   * sensor can't have sent comes back as the mark `out-of-range`, never as a number.
   */
  value(raw: number, coldJunction?: number | null): Converted;
}

type Measures = Readonly<Partial<Record<Measurand, Measurand>>>;

const FROM_OHMS: Measures = { ohms: 'temperature' };
const VOLTS_AS_AMPS: Measures = { 'dc-volts': 'dc-amps', 'ac-volts': 'ac-amps' };
const VOLTS: Measures = { 'dc-volts': 'dc-volts', 'ac-volts': 'ac-volts' };
const AC: Measures = { 'ac-volts': 'ac-volts', 'ac-amps': 'ac-amps' };

/**
 * The conversion for a sensor as a bench file says it: `{ thermocouple: K, cold_junction: 25 }`,
 * `{ pt100: 2-wire, lead_ohms: 0.4 }`, `{ ntc: { beta: 3977, r25: 10000 } }`, `{ shunt_ohms: 0.1 }`,
 * `{ divider: 11 }`, `{ probe: 10 }` or `{ average_responding: sawtooth }`.
 * @throws RangeError naming the first of its {@link sensorProblems}.
 */
export function conversion(spec: unknown): Convert {
  const problem = sensorProblems(spec)[0];
  const kind = sensorKind(spec);
  if (problem !== undefined || kind === undefined) {
    throw new RangeError(`sensor ${problem?.key ?? ''}: allowed is ${problem?.allowed ?? ''}`);
  }
  return kind === 'thermocouple' ? thermocouple(spec) : single(kind, spec);
}

function thermocouple(spec: unknown): Convert {
  const type = optionOf(spec, 'thermocouple') as ThermocoupleType;
  const where = optionOf(spec, 'cold_junction') as number | string;
  return {
    measures: (raw) => (raw === 'dc-volts' ? 'temperature' : null),
    coldJunctionChannel: typeof where === 'string' ? where : null,
    value(raw, coldJunction = null) {
      const cold = typeof where === 'number' ? where : coldJunction;
      if (cold === null || Number.isNaN(raw)) return { value: null, mark: 'not-a-number' };
      if (!isColdJunction(cold)) return OUT_OF_RANGE;
      return convertedTo(hotEndTemperature(type, 1000 * raw, cold));
    },
  };
}

/** A conversion of one value that needs no other. */
function single(kind: Exclude<SensorKind, 'thermocouple'>, spec: unknown): Convert {
  const { measures, convert } = equationOf(kind, spec);
  return {
    measures: (raw) => measures[raw] ?? null,
    coldJunctionChannel: null,
    value: (raw) => (Number.isNaN(raw) ? { value: null, mark: 'not-a-number' } : convert(raw)),
  };
}

interface Equation {
  readonly measures: Measures;
  readonly convert: (raw: number) => Converted;
}

function equationOf(kind: Exclude<SensorKind, 'thermocouple'>, spec: unknown): Equation {
  switch (kind) {
    case 'pt100':
    case 'pt1000': {
      const leadOhms = numberOption(spec, 'lead_ohms', 0);
      const zeroOhms = kind === 'pt100' ? 100 : 1000;
      return {
        measures: FROM_OHMS,
        convert: (ohms) => convertedTo(platinumTemperature(zeroOhms, ohms, leadOhms)),
      };
    }
    case 'ntc':
      return { measures: FROM_OHMS, convert: thermistor(optionOf(spec, 'ntc')) };
    case 'shunt_ohms':
      return { measures: VOLTS_AS_AMPS, convert: through(numberOption(spec, kind, 1)) };
    case 'divider':
    case 'probe':
      return { measures: VOLTS, convert: times(numberOption(spec, kind, 1)) };
    case 'average_responding':
      return { measures: AC, convert: times(averageRespondingFactor(optionOf(spec, kind) as Shape)) };
  }
}

function times(factor: number): (raw: number) => Converted {
  return (raw) => convertedTo(raw * factor);
}

function through(ohms: number): (volts: number) => Converted {
  return (volts) => convertedTo(volts / ohms);
}

function thermistor(ntc: unknown): (ohms: number) => Converted {
  const lowest = numberOption(ntc, 'lowest', NTC_RANGE.lowest);
  const highest = numberOption(ntc, 'highest', NTC_RANGE.highest);
  const temperatureAt = thermistorCurve(ntc);
  return (ohms) => {
    const temperature = temperatureAt(ohms);
    const isInside = temperature !== null && temperature >= lowest && temperature <= highest;
    return isInside ? convertedTo(temperature) : OUT_OF_RANGE;
  };
}

function thermistorCurve(ntc: unknown): (ohms: number) => number | null {
  const beta = optionOf(ntc, 'beta');
  if (typeof beta === 'number') {
    const curve = { beta, r25: numberOption(ntc, 'r25', 1) };
    return (ohms) => betaTemperature(curve, ohms);
  }
  const curve = {
    a: numberOption(ntc, 'a', 0),
    b: numberOption(ntc, 'b', 0),
    c: numberOption(ntc, 'c', 0),
    d: numberOption(ntc, 'd', 0),
    ohmsUnit: numberOption(ntc, 'r25', 1),
  };
  return (ohms) => steinhartHartTemperature(curve, ohms);
}
