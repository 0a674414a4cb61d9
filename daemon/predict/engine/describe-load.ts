import { ampsAndOhms, type LoadStates, type StateLoad } from '../../design/design-load.js';
import { LOAD_DOUBT } from '../doubts.js';
import { certain } from './parameters.js';
import { named, within } from './spreads.js';
import type { Load, LoadDescription } from './supply.js';

/** A place's load in every state; `parameter` is the name by which its amps are drawn. */
export function describeLoad(parameter: string, load: LoadStates): LoadDescription {
  const state = (written: StateLoad): Load => {
    const { amps, ohms } = ampsAndOhms(written);
    return { amps: named(parameter, within(amps, LOAD_DOUBT)), ohms };
  };
  return { idle: state(load.idle), typical: state(load.typical), full: state(load.full) };
}

/** What a node of the supply draws by itself; nothing where the design doesn't say. */
export function describeNodeLoad(node: string, load: LoadStates | undefined): LoadDescription {
  if (load !== undefined) return describeLoad(`${node}.loadAmps`, load);
  const nothing = { amps: certain(`${node}.loadAmps`, 0), ohms: Infinity };
  return { idle: nothing, typical: nothing, full: nothing };
}
