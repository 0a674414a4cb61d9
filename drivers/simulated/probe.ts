import type { Measurand } from '../driver.js';
import type { SimulatedSupply } from './supply.js';

/** A simulated probe: which test point it touches, and what the instrument behind it asks for. */
export interface Probe {
  readonly measures: Measurand;
  /** A test point's id; undefined while the probe hangs in the air. */
  readonly at: string | undefined;
}

/** Where a temperature bead hangs when it touches nothing. */
const OPEN_AIR = 'ambient.air';

/**
 * What an ideal instrument would show at this probe, in the unit of its measurand; null where there is nothing of
 * that kind, as with ohms on a live circuit. A meter on AC at `logic.volts` sees the rail's ripple, as on the bench:
 * the test point says where the probe is, the measurand what is made of it.
 * Frequency is the ripple's.
 * @throws RangeError when the test point isn't on this supply.
 */
export function probeValue(supply: SimulatedSupply, probe: Probe): number | null {
  const { at, measures } = probe;
  if (at === undefined) return measures === 'temperature' ? supply.read(OPEN_AIR) : 0;
  const node = at.slice(0, at.indexOf('.'));
  switch (measures) {
    case 'dc-volts':
      return supply.read(`${node}.volts`);
    case 'ac-volts':
      return supply.read(`${node}.ripple-rms`);
    case 'dc-amps':
    case 'ac-amps':
      return supply.read(`${node}.amps`);
    case 'temperature':
      return supply.read(isTemperature(at) ? at : `${node}.case`);
    case 'frequency':
      return supply.read('reservoir.hertz');
    case 'ohms':
      return null;
  }
}

function isTemperature(pointId: string): boolean {
  return /\.(case|junction|air)$/.test(pointId);
}
