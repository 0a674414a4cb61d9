import { z } from 'zod';
import { group, notNegative, positive } from './allowed.js';

export const LOAD_STATES = ['idle', 'typical', 'full'] as const;
export type LoadState = (typeof LOAD_STATES)[number];

const amps = notNegative('amps');

const ohms = positive('ohms').describe('a resistance');
const ampsAndMore = group('amps and ohms', {
  amps: amps.describe('drawn whatever the volts'),
  ohms: ohms.optional(),
});
const ohmsAlone = group('ohms', { ohms });

const state = z.union([amps, ampsAndMore, ohmsAlone], { error: 'zero or a positive number of amps' });

const states = group('a load with idle, typical and full amps', {
  idle: state,
  typical: state,
  full: state,
});

/** The same in every state, or one by one. */
export const loadSchema = z
  .union([states, amps, ampsAndMore, ohmsAlone], { error: 'a load with idle, typical and full amps' })
  .transform((load): LoadStates => {
    if (typeof load === 'object' && 'idle' in load) return load;
    return { idle: load, typical: load, full: load };
  })
  .describe('amps drawn in each state, or amps and ohms side by side');

/** What is drawn in one state: amps, or amps and ohms side by side. */
export type StateLoad = z.output<typeof state>;
export type LoadStates = Record<LoadState, StateLoad>;

/** One state's load as a constant current (A) and a resistance (ohm; Infinity for none) beside it. */
export function ampsAndOhms(load: StateLoad): { readonly amps: number; readonly ohms: number } {
  return typeof load === 'number'
    ? { amps: load, ohms: Infinity }
    : { amps: 'amps' in load ? load.amps : 0, ohms: load.ohms ?? Infinity };
}

/** What one state's load draws at these volts, A; NaN volts tell nothing of a resistance. */
export function ampsAt(load: StateLoad, volts: number): number {
  const parts = ampsAndOhms(load);
  return parts.ohms === Infinity ? parts.amps : parts.amps + volts / parts.ohms;
}
