import type { ChannelSpec, Measurand } from '../driver.js';

/** A number that a board prints. */
export interface ProposedNumber extends ChannelSpec {
  /** False when neither a unit nor the board's own word says what it measures, so that a person must. */
  readonly isSure: boolean;
}

/** How text-lines could read a board: the options for the bench file, and the channels that they have. */
export interface LineProposal {
  readonly options: Readonly<Record<string, unknown>>;
  readonly numbers: readonly ProposedNumber[];
}

/** What stands for a number of which nothing is known. */
export const UNSURE: Measurand = 'dc-volts';
export const UNSURE_UNIT = 'V';

/** The word for a number without a label. */
export const PLAIN_NAMES: Readonly<Record<Measurand, string>> = {
  'dc-volts': 'volts',
  'ac-volts': 'ripple',
  'dc-amps': 'amps',
  'ac-amps': 'amps',
  ohms: 'ohms',
  temperature: 'temperature',
  frequency: 'frequency',
};
