import type { Measurand, Unit } from './driver.js';

/** The unit in which each measurand is reported. */
export const UNIT_OF: Readonly<Record<Measurand, Unit>> = {
  'dc-volts': 'V',
  'ac-volts': 'Vrms',
  'dc-amps': 'A',
  'ac-amps': 'Arms',
  ohms: 'ohm',
  temperature: 'degC',
  frequency: 'Hz',
};
