import { sensorAccuracy } from './sensor-accuracy.js';
import type { Accuracy, BenchInstrument } from '../design/bench.js';
import { checkFit } from '../design/check-bench.js';
import { shown, type Finding } from '../design/file-problems.js';
import type { Measurand } from '../../drivers/driver.js';
import { conversion, type Convert } from '../../drivers/sensors/conversion.js';
import { sensorKind, sensorProblems } from '../../drivers/sensors/sensor-rules.js';
import { sensorTolerance, type SensorTolerance } from '../../drivers/sensors/tolerance.js';

type BenchChannel = BenchInstrument['channels'][string];

/** What stands between a channel's instrument and its test point. */
export interface JoinedSensor {
  readonly convert: Convert;
  /** What the channel measures with it. */
  readonly measures: Measurand;
  /** How far the sensor itself may be off; null for one that measures no temperature. */
  readonly tolerance: SensorTolerance | null;
  /** What a captured sample is multiplied by; null for a sensor that isn't read by captures. */
  readonly captureFactor: number | null;
}

/** The sensor of a channel whose {@link sensorFindings} are empty; null where the instrument sees the test point itself. */
export function joinSensor({ sensor, measures }: BenchChannel): JoinedSensor | null {
  if (sensor === undefined || sensorProblems(sensor).length > 0) return null;
  const convert = conversion(sensor);
  const measured = convert.measures(measures);
  return measured === null
    ? null
    : {
        convert,
        measures: measured,
        tolerance: sensorTolerance(sensor),
        captureFactor: captureFactorOf(sensor, convert),
      };
}

/** The accuracy of what the sensor, with its own tolerance, and the instrument measure together. */
export function accuracyThrough(
  { accuracy, measures }: BenchChannel,
  sensor: JoinedSensor | null,
): Accuracy | undefined {
  return sensor === null ? accuracy : sensorAccuracy(accuracy, measures, sensor);
}

/** What is wrong with a channel's sensor. */
export function sensorFindings(path: readonly string[], channel: BenchChannel): Finding[] {
  const { sensor, measures, at } = channel;
  if (sensor === undefined) return [];
  const problems = sensorProblems(sensor);
  if (problems.length > 0) {
    return problems.map(({ key, found, allowed }) => ({
      path: [...path, 'sensor', ...(key === 'sensor' ? [] : key.split('.'))],
      found: shown(found),
      allowed,
      sentence: `found ${shown(found)}; allowed is ${allowed}`,
      missing: found === undefined,
    }));
  }
  const measured = conversion(sensor).measures(measures);
  if (measured === null) {
    const allowed =
      'what the instrument sees of the sensor (ohms for a resistor, dc-volts for a thermocouple)';
    const sentence = `found ${shown(measures)}, which can't be read with ${sensorKind(sensor) ?? ''}; ${allowed} is allowed`;
    return [{ path: [...path, 'measures'], found: shown(measures), allowed, sentence }];
  }
  return at === undefined ? [] : checkFit([...path, 'at'], at, measured);
}

/** Samples are only multiplied: a curve would need each of them converted. */
function captureFactorOf(sensor: unknown, convert: Convert): number | null {
  const isFactor = ['shunt_ohms', 'divider', 'probe'].includes(sensorKind(sensor) ?? '');
  return isFactor ? convert.value(1).value : null;
}
