import type { SensorChoice } from '../serve/instrument-messages.js';
import type { SensorKind } from '../../drivers/sensors/sensor-rules.js';

/**
 * Each sensor with values to begin with, to be put right by a person. The thermistor is a common 10 kohm one (from
 * memory: B 25/85 of 3977 K); the others are usual values.
 */
const EXAMPLES: Readonly<Record<SensorKind, SensorChoice['example']>> = {
  thermocouple: { thermocouple: 'K', cold_junction: 25 },
  pt100: { pt100: '2-wire', lead_ohms: 0.4 },
  pt1000: { pt1000: '2-wire', lead_ohms: 0.4 },
  ntc: { ntc: { beta: 3977, r25: 10_000 } },
  shunt_ohms: { shunt_ohms: 0.1 },
  divider: { divider: 11 },
  probe: { probe: 10 },
  average_responding: { average_responding: 'sawtooth' },
};

export const SENSOR_EXAMPLES: readonly SensorChoice[] = Object.entries(EXAMPLES).map(([kind, example]) => ({
  kind,
  example,
}));
